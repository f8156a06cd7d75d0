"""How four skippers write down what happened to the net.

``{part}`` and ``{other}`` are parts of the net, ``{hours}`` the mending hours, ``{clock}``
the time of day. Boats after the fourth borrow these voices in turn.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Voice:
    """One skipper's phrases: damage told, a clean net, and near things without damage."""

    parts: tuple[str, ...]
    damaged: tuple[str, ...]
    clean: tuple[str, ...]
    near: tuple[str, ...]
    old_hole: str
    half: str


VOICES = (
    Voice(
        parts=("port wing", "stbd wing", "belly", "port bunt", "stbd bunt", "cod end", "square"),
        damaged=(
            "came fast {clock}, {part} + {other} out of her, {hours} hr mend",
            "{part} torn, {hours} hrs mending",
            "fast {clock}. ripped {part}. mended {hours} hrs",
            "holed {part}, laced up in {hours} hr",
            "{part} ripped on a stone, {hours} hrs mending",
            "tore {part} on the edge, {hours} hr mend",
            "two holes in {part}, mend {hours} hr",
            "{part} burst hauling, {hours} hrs to mend",
            "heavy fast. {part} and {other} torn out. {hours} hrs",
            "{part} chafed through, patched {hours} hr",
            "{part} all torn, changed to spare net",
        ),
        clean=("ok", "net ok", "clean", "no damage", "all well"),
        near=(
            "hung up, got off clean",
            "came fast {clock}, came away, no damage",
            "fast tow with the tide, no rip",
            "big stone in the bag, net not torn",
        ),
        old_hole="mended old hole from yesterday 1 hr",
        half=".5",
    ),
    Voice(
        parts=("stbd bunt", "port bunt", "bellies", "top wing", "lower wing", "codend", "bosom"),
        damaged=(
            "{part} chafed thro, patched {hours} hrs",
            "picked up boulder, {part} burst - lost the lot, {hours} hrs",
            "Came fast. {part} torn from end to end, {hours} hrs mending",
            "Hard fast {clock}, hauled back, {part} gone, {hours} hrs to mend",
            "{part} split, sewn up again {hours} hrs",
            "Rent in {part}, {hours} hrs with the needles",
            "Net holed, {part} and {other}; mended {hours} hrs",
            "Big stone tore the {part}, {hours} hrs to put right",
            "{part} parted from the rope, {hours} hrs to set on again",
            "{part} badly ripped, {other} also, {hours} hrs",
            "Torn {part}. Mended while steaming",
        ),
        clean=("nil", "Net clean", "Nil damage", "-", "No damage to net", "Gear came up well"),
        near=(
            "Came fast {clock}, backed off, net whole",
            "Heavy bag of stones, no damage",
            "Slack wire on the turn, nothing torn",
            "Hung a while on old wreckage, came clear, net sound",
        ),
        old_hole="Mended an old hole from yesterday, 1 hr. No new damage",
        half="½",
    ),
    Voice(
        parts=("P wing", "S wing", "belly", "baitings", "P bunt", "S bunt", "c/end"),
        damaged=(
            "FAST {clock} - {part} RIPPED {hours}H MEND",
            "{part} TORN {hours}H",
            "{part}+{other} TORN {hours}H MENDING",
            "HOLE IN {part}, {hours}H",
            "{part} CHAFED THROUGH, {hours}H",
            "BOULDER. {part} BURST. {hours}H MEND",
            "{part} HOLED, {hours}H, REPAIRED OK",
            "HEADED INTO A FASTENER {clock}, LOST {part}, {hours}H",
            "MESHES GONE IN {part}, {hours}H",
            "RIPPED {part} + {other}, {hours}H, LOST A TOW",
        ),
        clean=("OK", "NET OK", "CLEAN", "NO DAMAGE"),
        near=(
            "FAST {clock}, OFF CLEAN, NET OK",
            "MUD IN BAG, NET OK",
            "NO RIPS THO HARD GROUND",
            "NOT TORN, HEAVY STONES",
        ),
        old_hole="OLD HOLE FROM YESTERDAY MENDED 1H, NO NEW DAMAGE",
        half=".5",
    ),
    Voice(
        parts=("port wing", "starboard wing", "belly", "bunt port side", "quarter", "cod-end"),
        damaged=(
            "she came fast about {clock} and tore the {part}, took us {hours} hours to mend",
            "bad rip in {part}, {hours} hours",
            "a hole you could walk through in the {part}, {hours} hours mending",
            "{part} was ripped when we got her up, mended in {hours} hours",
            "stone went through the {part}, burst it, {hours} hours",
            "chafed right through along the {part}, patched it, {hours} hours",
            "lost the {part} and torn {other}, {hours} hours on it",
            "few broken meshes in {part}, mended {hours} hours",
            "fastened {clock}, {part} torn away, {hours} hours mending",
            "wire parted and {part} torn to bits, {hours} hours",
            "{part} ripped again, mended it in harbour",
        ),
        clean=("net fine", "nothing to mend", "no damage", "ok", "net clean", "all good"),
        near=(
            "thought she was fast but she came clear, no harm done",
            "fast ground but no tears in her",
            "some chafe on the bobbins only, net fine",
            "hauled early for stones, net not damaged",
        ),
        old_hole="mended the old hole from yesterday, 1 hour, nothing new",
        half=".5",
    ),
)

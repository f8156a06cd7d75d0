"""What is said of a rig's fishing line: where it hangs, its gap, and what that rests on."""

from __future__ import annotations

from math import degrees, pi
from typing import TYPE_CHECKING

from pipeline.rigs.line.geometry import ASSUMPTIONS, TURN_RAD
from reports.language import say
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Iterable

    from reports.parts import Row

CLEAR_GAP = saying("clear gap between the top of the gear and the line")

TOO_SHORT = ("forward", "drawn tight")
TAKES_UP_SLACK = ("aft", "above")
"""Where more slack lets the line further aft."""

NOT_WORKED_OUT = (None, "on the gear")
"""Where nothing was worked out from toggles, and so nothing taken for granted."""

SAME_M = 0.005

USUAL_END_DEG = degrees((pi - TURN_RAD) / 2)
"""How far a wing end points off the way of the tow where a gear turns as one usually does."""

IN_SHORT = {
    "toggles from the core": saying("toggles measured from the gear's middle"),
    "on the seabed": saying("gear flat on the ground"),
    "largest diameter": saying("as thick as its thickest part"),
    "even curve": saying("line and gear as far apart all along"),
    "no sag": saying("no sag between toggles"),
    "usual turn": saying("wing ends taken to be {spread} apart, as nobody measured"),
    "catenary": saying("the gear hangs in the curve of a slack chain between the wing ends"),
    "spread too wide": saying(
        "the spread recorded is wider than the gear is long, so that wing ends {spread} apart are "
        "taken"
    ),
    "spread without a length": saying(
        "the gear taken to turn as one usually does, as its length is not recorded"
    ),
}
"""What the line's place rests on, by the keys of `ASSUMPTIONS`."""

IN_FULL = ASSUMPTIONS | {
    "usual turn": saying(
        "Where nobody measured how far apart the wing ends are, the gear is taken to turn as one "
        "usually does, with wing ends that point some {degrees:z.0f}° off the way of the tow "
        "(common practice, no source)."
    ),
    "catenary": saying(
        "Seen from above the gear hangs in the curve of a slack chain between the wing ends."
    ),
    "spread too wide": saying(
        "Where the spread recorded is wider than the gear is long, the gear is taken to turn as "
        "one usually does, with wing ends that point some {degrees:z.0f}° off the way of the tow "
        "(common practice, no source)."
    ),
    "spread without a length": saying(
        "Where a spread is recorded, but not the gear's length, the gear is taken to turn as one "
        "usually does, with wing ends that point some {degrees:z.0f}° off the way of the tow "
        "(common practice, no source)."
    ),
}
"""The same in full, with a place for the degrees of a usual turn."""


def line_sentences(rig: Row) -> list[str]:
    """Where the fishing line hangs, its clear gap, and what more or less slack would do."""
    where = rig["geometry"]
    if where is None:
        return []
    said = []
    if where["slack_m"] is not None:
        said.append(_longer(where["slack_m"]))
    if where["lies"] is not None:
        said.append(_lies(where))
    return [*said, *_gap(where), *_let_out(where), *_at_other_slack(where)]


def _longer(slack_m: float) -> str:
    if abs(slack_m) < SAME_M:
        return say("The fishing line is as long as the ground gear.")
    return say(LONGER if slack_m > 0 else SHORTER, metres=abs(slack_m))


LONGER = saying("The fishing line is {metres:z.2f} m longer than the ground gear.")
SHORTER = saying("The fishing line is {metres:z.2f} m shorter than the ground gear.")


def _lies(where: Row) -> str:
    height = where["height_mm"]
    words = LIES if height is None else LIES | LIES_AT_A_HEIGHT
    back = abs(where["drop_back_mm"])
    return say(words[where["lies"]], back=back, height=height)


LIES = {
    "aft": saying("It hangs {back:z.0f} mm aft of the gear's middle."),
    "above": saying("It hangs straight above the gear's middle."),
    "forward": saying(
        "It is too short: it lies {back:.0f} mm forward of the gear's middle, where it chafes and "
        "the gear picks up the netting."
    ),
    "slack hangs": saying(
        "It is longer than the toggles can use: they lie straight aft and the rest hangs slack."
    ),
    "drawn tight": saying(
        "It is shorter than the toggles allow: drawn tight forward of the gear, it carries the "
        "pull, chafes, and the gear picks up the netting."
    ),
    "on the gear": saying("It lies on the gear."),
}
LIES_AT_A_HEIGHT = {
    "aft": saying(
        "It hangs {back:z.0f} mm aft of the gear's middle, {height:z.0f} mm off the ground."
    ),
    "above": saying("It hangs straight above the gear's middle, {height:z.0f} mm off the ground."),
}


def _gap(where: Row) -> list[str]:
    """The gap as measured, with the worked-out one beside it; measured goes first."""
    if where["gap_mm"] is None:
        return []
    worked_out = where["gap_by_geometry_mm"]
    if where["gap_from"] == "measured":
        told = MEASURED if worked_out is None else MEASURED_AND_WORKED_OUT
        return [say(told, measured=where["gap_mm"], worked_out=worked_out)]
    if worked_out:
        return [
            say(
                "The clear gap is {worked_out:z.0f} mm by its lengths; nobody measured it.",
                worked_out=worked_out,
            )
        ]
    if where["lies"] == "on the gear":
        return []
    return [say("By its lengths there is no clear gap: it is no higher than the top of the gear.")]


MEASURED = saying("The clear gap is {measured:z.0f} mm as measured.")
MEASURED_AND_WORKED_OUT = saying(
    "The clear gap is {measured:z.0f} mm as measured, {worked_out:z.0f} mm by its lengths."
)


def _let_out(where: Row) -> list[str]:
    """By how much a line that is too short has to be longer."""
    if where["lies"] not in TOO_SHORT or where["slack_m"] is None:
        return []
    return [say("Let out {metres:z.2f} m and it comes over the gear.", metres=-where["slack_m"])]


def _at_other_slack(where: Row) -> list[str]:
    """At how much more slack the gap closes and the line lies straight aft, while it does not."""
    slack, closes, aft = (
        where[name] for name in ("slack_m", "gap_closed_at_slack_m", "straight_aft_m")
    )
    if where["lies"] not in TAKES_UP_SLACK or slack is None or aft is None or slack >= aft:
        return []
    is_open = bool(where["gap_by_geometry_mm"]) and where["gap_mm"] > 0
    if is_open and closes is not None and slack < closes:
        # Of a thin gear both come to the same.
        told = CLOSES if aft - closes < SAME_M else CLOSES_AND_LIES_AFT
        return [say(told, closes=closes, aft=aft)]
    return [say("With {aft:z.2f} m of slack it would lie straight aft.", aft=aft)]


CLOSES = saying("{closes:z.2f} m of slack would close it.")
CLOSES_AND_LIES_AFT = saying(
    "{closes:z.2f} m of slack would close it, {aft:z.2f} m lay the line straight aft."
)


def taken_for_granted(rig: Row) -> list[str]:
    """What the line's place rests on, in one short sentence."""
    keys = [key for key in IN_SHORT if key in _assumed(rig)]
    if not keys:
        return []
    spread_m = rig["geometry"].get("spread_m")
    spread = say("as far") if spread_m is None else say("{spread_m:z.0f} m", spread_m=spread_m)
    assumed = "; ".join(say(IN_SHORT[key], spread=spread) for key in keys)
    return [say("Taken for granted: {assumed}.", assumed=assumed)]


def assumption_sentences(rigs: Iterable[Row]) -> list[str]:
    """What the worked-out lines of these rigs rest on, each sentence once."""
    rows = list(rigs)
    used = {key for rig in rows for key in _assumed(rig)}
    if any(row["tip_deg"] is not None for rig in rows for row in rig["stretch"]):
        used.add("traveller holes")
    return [
        say(sentence, degrees=USUAL_END_DEG) for key, sentence in IN_FULL.items() if key in used
    ]


def _assumed(rig: Row) -> list[str]:
    where = rig["geometry"]
    if where is None or where["lies"] in NOT_WORKED_OUT:
        return []
    return where["assumes"] or []

"""How far the hauls that nobody knows of could move what is told of damage."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import interval_columns, limit_cell, over_all_grounds, ratio_cell
from reports.language import say, say_many
from reports.parts import Row, table_of
from reports.sentences import in_part, listed
from schemas.codes import CLEAR
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Table


def supposed_effects(findings: Findings) -> list[Row]:
    """Each rig's effect on damage as recorded, and at both ends of what unknown hauls allow."""
    supposed = {
        (row["rig"], row["part"], row["supposed"]): row for row in findings["notes"]["supposed"]
    }
    return [
        {
            "rig": effect["rig"],
            "part": effect["part"],
            "recorded": effect,
            **{
                end: supposed.get((effect["rig"], effect["part"], end)) for end in ("least", "most")
            },
        }
        for effect in over_all_grounds(findings["effects"], "damage_events")
        if supposed and effect["low"] is not None
    ]


def supposed_words(told: Row, moved: list[Row]) -> list[str]:
    """Which findings stand whatever the unknown hauls were, and which do not."""
    if not moved:
        return []
    clear = [row for row in moved if row["recorded"]["verdict"] in CLEAR]
    stand = [row["rig"] for row in clear if _stands(row)]
    fall = rigs_undone(moved)
    rise = [row["rig"] for row in moved if row not in clear and _turns_clear(row)]
    said = [
        say_many(
            "Of {number:,} haul nobody knows if the net was damaged; it is left out above.",
            "Of {number:,} hauls nobody knows if the net was damaged; they are left out above.",
            told["unknown_hauls"],
        ),
        say(
            "The table first counts such hauls in favour of each rig, its own all sound and "
            "{reference}'s all damaged, then against it, the other way about: the ratio, had "
            "all been known, lies between.",
            reference=moved[0]["recorded"]["reference"],
        ),
    ]
    each = ((STANDS, stand), (FALLS, fall), (WOULD_RISE, rise))
    said += [say(words, rigs=listed(rigs)) for words, rigs in each if rigs]
    return [" ".join(said)]


STANDS = saying("What is clear on damage stays so at both ends for {rigs}.")
FALLS = saying(
    "What is clear on damage would fall at one of the ends for {rigs}: there the interval that "
    "verdicts go by holds 1."
)
WOULD_RISE = saying("At one of the ends, and not as recorded, damage would be clear for {rigs}.")


def rigs_undone(moved: list[Row]) -> list[str]:
    """The rigs of which what is clear on damage falls at one of the ends."""
    clear = [row for row in moved if row["recorded"]["verdict"] in CLEAR]
    return [row["rig"] for row in clear if not _stands(row)]


def _verdicts(row: Row) -> set[str]:
    return {row[end]["verdict"] for end in ("least", "most") if row[end] is not None}


def _stands(row: Row) -> bool:
    """Whether the verdict is the same at both ends."""
    return _verdicts(row) == {row["recorded"]["verdict"]}


def _turns_clear(row: Row) -> bool:
    return bool(_verdicts(row) & CLEAR)


def supposed_table(moved: list[Row], looks: Row) -> Table:
    """The ratio of each rig as recorded and at both ends, with the interval verdicts go by."""
    header, interval_of = interval_columns(looks)[-1]

    def ratio(effect: Row | None) -> str:
        """The ratio and its interval; the ratio alone where that has no end."""
        if effect is None:
            return "–"
        ratio, interval = ratio_cell(effect["ratio"]), interval_of(effect)
        return ratio if limit_cell(None) in interval else f"{ratio} ({interval})"

    return table_of(
        say(CAPTION, reference=moved[0]["recorded"]["reference"], interval=header),
        moved,
        [
            (say("rig"), lambda row: f"{row['rig']}{in_part(row)}"),
            (say("as recorded"), lambda row: ratio(row["recorded"])),
            (say("at least"), lambda row: ratio(row["least"])),
            (say("at most"), lambda row: ratio(row["most"])),
        ],
    )


CAPTION = saying(
    "Damage per hour, as a multiple of {reference}'s; in brackets the interval that verdicts go "
    "by, at {interval}"
)

"""The section "Boat by boat": what each boat sees by itself, and what a further one might."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.boats.alone import of_one_or_none
from reports.boats.sentences import claim, of_mean, of_two, why_none, with_a_ratio
from reports.cells import outcomes_of, ratio_cell
from reports.language import number, say
from reports.parts import Figure, Section, Table
from reports.sentences import is_clear_verdict
from schemas.words import WHOLE_RECORD, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

ABOUT = saying(
    "Here each boat is held to itself alone: its own hauls with a rig against its own hauls with "
    "{reference}, like for like."
)
ABOUT_MEANS = saying(
    "The mean over boats says what a boat like these may look for, "
    "each boat counting by how sure it is; a further boat may lie as far from it as these do. A "
    "difference can be clear for the boats of this season, and with few of them still be too "
    "little to tell for boats at large."
)
HOW = saying(
    "A boat counts where it fished both rigs side by side by the bounds of the whole report; few "
    "tears do not bar it, but make it count little. The mean's interval goes by how the boats "
    "scatter and is never narrower than their own errors allow; with three or four boats it is "
    "wide, and rightly so. Where a further boat might lie is less sure, as few boats tell little "
    "of how boats differ: in invented seasons of boats that did, it held in 8 or 9 of 10."
)
CAPTION = saying(
    "The mark is the boat's own ratio, the bar its 95 % interval; the grey tick is where the boat "
    "is thought to lie when the others are heard too. Below them the mean over boats: the diamond, "
    "and its 95 % interval as the thick bar. The dashed line at 1 is no difference. A bar with an "
    "arrow at the edge is wider than shown."
)
A_FURTHER_BOAT = saying("The thin line is where a further boat might lie.")

MEAN_OF_RIG, FURTHER_OF_RIG = saying("{rig}, mean over boats"), saying("{rig}, a further boat")


def boat_by_boat(findings: Findings) -> Section | None:
    """The section; None where one boat fished, or one rig."""
    rows: list[Row] = findings["boats"]
    if not rows:
        return None
    reference = findings["season"]["reference_rig"]
    said: list[str] = []
    figures: list[Figure] = []
    for outcome in outcomes_of(findings).values():
        of_outcome = [row for row in rows if row["outcome"] == outcome["name"]]
        pooled = [row for row in of_outcome if row["mean"] is not None]
        two = [row for row in of_outcome if row["mean"] is None and len(with_a_ratio(row)) > 1]
        said += [*(of_mean(row, outcome) for row in pooled), of_two(two, outcome)]
        if pooled or two:
            figures.append(_figure(pooled, two, outcome, reference))
    about = say(ABOUT, reference=reference)
    if any(row["mean"] for row in rows):
        about = f"{about} {say(ABOUT_MEANS)}"
    return Section(
        "boat-by-boat",
        say("Boat by boat"),
        paragraphs=[
            about,
            *filter(None, said),
            *of_one_or_none(findings),
        ],
        figures=figures,
        points=[say(HOW)] if figures else [],
    )


def _figure(pooled: list[Row], two: list[Row], outcome: Row, reference: str) -> Figure:
    clear = [row for row in pooled if is_clear_verdict(row["mean"]["verdict"])]
    title = say(outcome["title"])
    if clear:
        finding = claim(clear[0], outcome)
    else:
        finding = say(
            "{outcome}, boat by boat, against {reference}", outcome=title, reference=reference
        )
    return Figure(
        name=f"boats-{outcome['name'].replace('_', '-')}",
        kind="boats" if pooled else "numbers",
        outcome=outcome["name"],
        title=finding,
        caption=_caption(pooled),
        table=Table(
            say(
                "{outcome}: each boat's own, times {reference}'s",
                outcome=title,
                reference=reference,
            ),
            [
                say("rig and boat"),
                say("ratio"),
                say("from"),
                say("to"),
                say("drawn to the others"),
                say("mean without it"),
                say("trips / {reference}'s", reference=reference),
                say("not in the mean"),
            ],
            [cells for row in (*pooled, *two) for cells in _cells(row)],
        ),
    )


def _caption(pooled: list[Row]) -> str:
    """What is drawn; where nothing is, nothing."""
    if not pooled:
        return ""
    further = any(row["mean"]["further_low"] is not None for row in pooled)
    return " ".join(map(say, [CAPTION, *([A_FURTHER_BOAT] if further else [])]))


def _cells(row: Row) -> list[list[str]]:
    """A line a boat, then the mean and where a further boat might lie."""
    lines = [
        [
            _rig_and_boat(row["rig"], boat),
            *(
                ratio_cell(boat[name])
                for name in ("ratio", "low", "high", "shrunken_ratio", "mean_without")
            ),
            f"{number(boat['rig_trips'], ',')} / {number(boat['reference_trips'], ',')}",
            why_none(boat, row) or ("" if row["mean"] else say("two boats are too few")),
        ]
        for boat in row["boats"]
    ]
    mean = row["mean"]
    if mean is None:
        return lines
    blank = [""] * 4
    return [
        *lines,
        [
            say(MEAN_OF_RIG, rig=row["rig"]),
            *(ratio_cell(mean[n]) for n in ("ratio", "low", "high")),
            *blank,
        ],
        [
            say(FURTHER_OF_RIG, rig=row["rig"]),
            "",
            *(ratio_cell(mean[name]) for name in ("further_low", "further_high")),
            *blank,
        ],
    ]


def _rig_and_boat(rig: str, boat: Row) -> str:
    """The two, with the part of the boat's record in which it fished both, where not the whole."""
    if boat["part"] in {None, WHOLE_RECORD}:
        return f"{rig}, {boat['vessel']}"
    return say("{rig}, {boat} in {part}", rig=rig, boat=boat["vessel"], part=boat["part"])

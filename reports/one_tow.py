"""The section "Two rigs in one tow": what the nets of a twin rig had, each tow held to itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import count_of, outcomes_of, ratio_of
from reports.counts import trip_count
from reports.language import say, say_many
from reports.parts import Figure, Section, table_of
from reports.sentences import claim, is_clear_verdict, title_of, verdict_among_all
from schemas.codes import InTurn, NetSides, TowsWithout
from schemas.words import ALL_GROUNDS, WHOLE_RECORD, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

ABOUT = saying(
    "Nets that a boat shot at one time are taken for one tow of a twin rig. Ground, weather, hour "
    "and speed are the same for both, so each tow is held to itself and nothing else needs to be "
    "held alike."
)
NEARER_PORT = saying(
    "{rig} was the net nearer port, of the two, in {nearer_port:,} of {tows:,} tows with "
    "{reference}: {sides}."
)
SIDES = {
    NetSides.HELD: saying("sides are held alike, and what a side does is out of the figure"),
    NetSides.ONE_SIDE: saying(
        "that is too seldom changed to part the side from the rig, and what the side does is in "
        "the figure"
    ),
    NetSides.CHANGED: saying(
        "as so few tows had any, sides are not held alike, and what a side does is in the figure "
        "as far as they were not shared evenly"
    ),
}
NOT_WRITTEN = saying(
    "On which side a net was towed is not written of all tows (net_side): a rig that was always on "
    "one has that side in its figure. Changing sides half-way, and writing them, takes it out."
)
IN_TURN = {
    InTurn.TOWS: saying(
        "Fewer than six trips tell of it, so the range is found by leaving out one tow at a time: "
        "it is of these trips, and how far the two differ from trip to trip is not in it."
    ),
    InTurn.TRIPS: saying(
        "The range is found by leaving out one trip at a time, or one tow where that gives more."
    ),
}
BY_NUMBER = saying(
    "Where fewer than five tows had any with one of the two, the range is that of the numbers "
    "alone (Clopper and Pearson), which is wider than it need be."
)
WHY_NONE = {
    TowsWithout.FEW_TOWS: saying("fewer than six tows"),
    TowsWithout.NONE_SEEN: saying("none recorded with either of them"),
    TowsWithout.FEW_WITH_SOME: saying("fewer than five tows with any"),
}


def two_rigs_in_one_tow(findings: Findings) -> Section | None:
    """The section; None where no boat is known to have towed two rigs at once."""
    rows = findings["twin_tows"]
    if not rows:
        return None
    turns = {row["left_out"] for row in rows if row["why_none"] is None}
    by_number = [say(BY_NUMBER)] if None in turns else []
    return Section(
        "one-tow",
        say("Two rigs in one tow"),
        [say(ABOUT), *(in_one_tow(row, findings) for row in rows)],
        figures=[
            _figure(outcome, of_outcome, findings)
            for name, outcome in outcomes_of(findings).items()
            if (of_outcome := [row for row in rows if row["outcome"] == name])
        ],
        points=[
            *(say(IN_TURN[turn]) for turn in InTurn if turn in turns),
            *by_number,
            *dict.fromkeys(_of_sides(row) for row in rows if row["why_none"] is None),
        ],
    )


def _of_sides(row: Row) -> str:
    """What was made of the sides on which the two nets were towed."""
    if row["sides"] == NetSides.NOT_WRITTEN:
        return say(NOT_WRITTEN)
    return say(NEARER_PORT, **{**row, "sides": say(SIDES[row["sides"]])})


def clear_in_one_tow(findings: Findings) -> list[str]:
    """What is clear from tows that fished two rigs at once, a sentence each."""
    return [
        in_one_tow(row, findings)
        for row in findings["twin_tows"]
        if is_clear_verdict(row["verdict"])
    ]


def in_one_tow(row: Row, findings: Findings) -> str:
    """From how many tows, how much and how sure, in a sentence."""
    outcome = outcomes_of(findings)[row["outcome"]]
    tows = say_many(
        "{number:,} tow that fished both {rig} and {reference} at once, in {trips}",
        "{number:,} tows that fished both {rig} and {reference} at once, in {trips}",
        row["tows"],
        rig=row["rig"],
        reference=row["reference"],
        trips=trip_count(row["trips"]),
    )
    if row["why_none"] is not None:
        why = say(WHY_NONE[row["why_none"]])
        return say(
            "From {tows}: no figure for {outcome}, {why}.",
            tows=tows,
            outcome=title_of(outcome),
            why=why,
        )
    said = say("From {tows}: {claim}", tows=tows, claim=claim(as_effect(row), outcome))
    verdict = "" if is_clear_verdict(row["verdict"]) else f"; {verdict_among_all(row)}"
    of_a_side = say(OF_A_SIDE, rig=row["rig"]) if row["sides"] == NetSides.ONE_SIDE else ""
    return f"{said}{verdict}{of_a_side}."


OF_A_SIDE = saying(", but {rig} was always on one side, or nearly: it may be the side")


def as_effect(row: Row) -> Row:
    """What two rigs had in one tow in the form of an effect over all grounds."""
    none = 0.0 if row["ratio"] == 0 else None
    whole: Row = {"ground": ALL_GROUNDS, "part": WHOLE_RECORD, "cautions": [], "raw_ratio": None}
    return {**row, **whole, "rig_total": none}


def _figure(outcome: Row, rows: list[Row], findings: Findings) -> Figure:
    """The ratios to the season's reference, drawn where there are any, above all of them."""
    reference = findings["season"]["reference_rig"]
    drawn = any(row["high"] is not None for row in rows if row["reference"] == reference)
    title = say("{outcome} in one tow", outcome=say(outcome["title"]))
    return Figure(
        name=f"one-tow-{outcome['name'].replace('_', '-')}",
        kind="one-tow" if drawn else "numbers",
        outcome=outcome["name"],
        title=title,
        caption=say(CAPTION) if drawn else "",
        table=table_of(
            say("{figure}: tows with any of it, and the ratio to the rig held to", figure=title),
            rows,
            [
                (say("rig"), lambda row: row["rig"]),
                (say("held to"), lambda row: row["reference"]),
                (say("trips"), count_of("trips")),
                (say("tows"), count_of("tows")),
                (say("with the rig alone"), count_of("alone")),
                (say("with the other alone"), count_of("reference_alone")),
                (say("with both"), count_of("both")),
                (say("ratio"), ratio_of("ratio")),
                (say("low"), ratio_of("low")),
                (say("high"), ratio_of("high")),
            ],
        ),
    )


CAPTION = saying(
    "The mark is the ratio to the season's reference in the tows that fished both at once, the bar "
    "its 95 % interval; the dashed line at 1 is no difference."
)

"""The section "Two rigs in one tow": what the nets of a twin rig had, each tow held to itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of, ratio_cell
from reports.counts import trip_count
from reports.language import say, say_many
from reports.parts import Section, Table
from reports.sentences import claim, is_clear_verdict, title_of, verdict_among_all
from schemas.codes import InTurn, TowsWithout
from schemas.words import ALL_GROUNDS, WHOLE_RECORD, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

ABOUT = saying(
    "Nets that a boat shot at one time are taken for one tow of a twin rig. Ground, weather, hour "
    "and speed are the same for both, so each tow is held to itself and nothing else needs to be "
    "held alike."
)
SIDES = saying(
    "On which side a net was towed is not in the record: a rig that was always on one has that "
    "side in its figure. Changing sides half-way takes it out."
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
        tables=[_table(rows, findings)],
        points=[*(say(IN_TURN[turn]) for turn in InTurn if turn in turns), *by_number, say(SIDES)],
    )


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
    effect = {**row, "ground": ALL_GROUNDS, "part": WHOLE_RECORD, "cautions": []}
    said = say("From {tows}: {claim}", tows=tows, claim=claim(effect, outcome))
    verdict = "" if is_clear_verdict(row["verdict"]) else f"; {_verdict(row)}"
    return f"{said}{verdict}."


def _verdict(row: Row) -> str:
    return verdict_among_all(row["verdict"], row["verdict_alone"])


def _table(rows: list[Row], findings: Findings) -> Table:
    outcomes = outcomes_of(findings)
    return Table(
        say("Tows with any of it, and the ratio of the rig to the one that it was held to"),
        [
            say("outcome"),
            say("rig"),
            say("held to"),
            say("trips"),
            say("tows"),
            say("with the rig alone"),
            say("with the other alone"),
            say("with both"),
            say("ratio"),
            say("low"),
            say("high"),
        ],
        [
            [
                say(outcomes[row["outcome"]]["title"]),
                row["rig"],
                row["reference"],
                *(
                    f"{row[name]:,}"
                    for name in ("trips", "tows", "alone", "reference_alone", "both")
                ),
                *(ratio_cell(row[name]) for name in ("ratio", "low", "high")),
            ]
            for row in rows
        ],
    )

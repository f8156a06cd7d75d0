"""A boat's own page: itself beside all boats, only it named, for it alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.boats.sentences import WHY_NONE, times
from reports.cells import outcomes_of, rate_cell
from reports.coop.sections import HIDDEN, PER_100_HOURS, cell_words, ground_words
from reports.coop.words import months
from reports.parts import Screen, Section, Table
from reports.ratio_words import amount, span
from reports.sentences import said_of

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

FOR_IT_ALONE = (
    "This page is for this boat alone. Of the others it has what the co-op's report has; handed "
    "on, it tells another boat what is yours."
)


def boat_screen(findings: Findings) -> Screen:
    """What a boat sees first: whether it would gain, rig by rig."""
    season, outcomes = findings["season"], outcomes_of(findings)
    told = [row for row in findings["ratios"] if row["gains"] is not None]
    reference = season["reference_rig"]
    lead = (
        f"What {findings['boat']} sees by its own hauls, against {reference}."
        if told
        else f"{findings['boat']} fished no rig enough beside {reference} to be held to itself."
    )
    return Screen(
        title=f"{findings['boat']} beside the other boats",
        period=f"{season['title']}, {months(season)}".removesuffix(", "),
        facts=[],
        lead=lead,
        cards=[],
        untold=[*(_own_words(row, outcomes[row["outcome"]]) for row in told), FOR_IT_ALONE],
    )


def _own_words(row: Row, outcome: Row) -> str:
    """The boat's own ratio in words, whether it gains by it, and the mean over boats."""
    said = said_of(row, outcome)
    unclear = row["low"] is None or row["high"] is None or row["low"] <= 1 <= row["high"]
    gain = "what a skipper would want" if row["gains"] else "not what a skipper would want"
    doubt = ", but by itself too little to tell" if unclear else ""
    mean = row["mean"]
    others = f" Mean over boats: {amount(mean['ratio'], outcome)}." if mean else ""
    return f"{said} ({span(row['low'], row['high'], outcome)}): {gain}{doubt}.{others}"


def own_ratios(findings: Findings) -> Section | None:
    """Each rig on this boat, beside the mean over boats with it and without it."""
    outcomes = outcomes_of(findings)
    rows = [_ratio_cells(row, outcomes[row["outcome"]]) for row in findings["ratios"]]
    if not rows:
        return None
    headers = ["rig", "of", "ratio", "from", "to", "mean over boats", "mean without it", "why none"]
    caption = f"Times {findings['season']['reference_rig']}'s, on this boat and over boats"
    return Section(
        "own-ratios",
        "Which rigs would pay this boat",
        ["Below 1 is less, above 1 is more. The mean is as the co-op's report has it."],
        tables=[Table(caption, headers, rows)],
    )


def _ratio_cells(row: Row, outcome: Row) -> list[str]:
    mean = row["mean"]
    why = WHY_NONE[row["why_none"]] if row["why_none"] else ""
    return [
        row["rig"],
        outcome["title"].lower(),
        *(times(row[name]) for name in ("ratio", "low", "high")),
        times(mean["ratio"]) if mean else HIDDEN,
        times(row["mean_without"]) if row["mean_without"] else HIDDEN,
        why.format(rig=row["rig"], reference=row["reference"]),
    ]


def beside_all(findings: Findings) -> Section:
    """The boat's rates with each rig and ground, beside those of all boats as they are shared."""
    kinds = [
        ("damage_events_per_hour", "Net damage, times per 100 hours", PER_100_HOURS),
        ("bottom_living_kg_per_hour", "Bottom-living fish, kg an hour", 1),
    ]
    outcomes = outcomes_of(findings)
    return Section(
        "beside-all",
        "This boat beside all boats",
        ["All boats are with this one; hidden is what the co-op's report hides."],
        tables=[
            _beside(findings, *kind)
            for kind in kinds
            if kind[0].removesuffix("_per_hour") in outcomes
        ],
    )


def _beside(findings: Findings, name: str, caption: str, times_: int) -> Table:
    shared = {(cell["rig"], cell["ground"]): cell for cell in findings["cells"]}
    rows = [
        [
            f"{own['rig']}, {ground_words(own['ground'])}",
            f"{own['tow_hours']:,.0f}",
            rate_cell(None if own[name] is None else own[name] * times_),
            cell_words(shared[own["rig"], own["ground"]], name, times_),
        ]
        for own in findings["own"]
    ]
    return Table(caption, ["rig and ground", "own hours", "this boat", "all boats"], rows)

"""A boat's own page: itself beside all boats, only it named, for it alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.sharing.contributions import AMOUNTS, DAMAGE_HOURS
from reports.boats.sentences import why_none
from reports.cells import outcomes_of, plain_ratio_columns, rate_cell, ratio_cell
from reports.coop.sections import HIDDEN, PER_100_HOURS, cell_words, damage_rates, ground_words
from reports.language import number, say
from reports.outcome_sections import MOSTLY_WHEN_SOMETHING
from reports.parts import Screen, Section, table_of
from reports.ratio_words import amount, is_hardly_other, span
from reports.season_words import months, season_title
from reports.sentences import said_of, title_of
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Column, Row, Table

FOR_IT_ALONE = saying(
    "This page is for this boat alone. Of the others it has what the co-op's report has; handed "
    "on, it tells another boat what is yours."
)

BY_OWN_HAULS = saying("Each rig is held to {reference} here, on the hauls of {boat} alone.")
TOO_LITTLE_BESIDE = saying("{boat} fished no rig enough beside {reference} to be held to itself.")
MONEY_ELSEWHERE = saying(
    "What would pay is not told here; a report of this boat's own season tells it, where it can be "
    "told."
)
WANTED = {
    True: saying("{said} ({span}): what a skipper would want."),
    False: saying("{said} ({span}): not what a skipper would want."),
}
"""By whether the boat gains."""
IN_DOUBT = saying("{said} ({span}): by itself too little to tell.")
NOT_JUDGED = saying("{said} ({span}).")


def boat_screen(findings: Findings) -> Screen:
    """What a boat sees first: that the page is its own, and its ratios, rig by rig."""
    season, outcomes = findings["season"], outcomes_of(findings)
    told = [row for row in findings["ratios"] if row["gains"] is not None]
    about = say(
        BY_OWN_HAULS if told else TOO_LITTLE_BESIDE,
        boat=findings["boat"],
        reference=season["reference_rig"],
    )
    return Screen(
        title=say("{boat} beside the other boats", boat=findings["boat"]),
        period=f"{season_title(season)}, {months(season)}".removesuffix(", "),
        facts=[],
        lead=f"{say(FOR_IT_ALONE)} {about}",
        cards=[],
        untold=[_own_words(row, outcomes[row["outcome"]]) for row in told],
    )


def _own_words(row: Row, outcome: Row) -> str:
    """The boat's own ratio in words, whether it gains by it, and the mean over boats."""
    said = say(
        _judged(row),
        said=said_of(row, outcome),
        span=span(row["low"], row["high"], outcome),
    )
    if not row["mean"]:
        return said
    mean = say("Mean over boats: {amount}.", amount=amount(row["mean"]["ratio"], outcome))
    return f"{said} {mean}"


def _judged(row: Row) -> str:
    """Whether the boat gains, where its own hauls tell that."""
    if row["low"] is None or row["high"] is None or row["low"] <= 1 <= row["high"]:
        return IN_DOUBT
    return NOT_JUDGED if is_hardly_other(row["ratio"]) else WANTED[bool(row["gains"])]


def own_ratios(findings: Findings) -> Section | None:
    """Each rig on this boat, beside the mean over boats with it and without it."""
    outcomes = outcomes_of(findings)
    if not findings["ratios"]:
        return None
    any_lacks = any(row["why_none"] for row in findings["ratios"])
    columns: list[Column] = [
        (say("rig"), lambda row: row["rig"]),
        (say("of"), lambda row: title_of(outcomes[row["outcome"]])),
        *plain_ratio_columns(),
        (say("mean over boats"), _mean),
        (say("mean without it"), _mean_without),
        *([(say("why none"), lambda row: why_none(row, row))] if any_lacks else []),
    ]
    caption = say(
        "Times {reference}'s, on this boat and over boats",
        reference=findings["season"]["reference_rig"],
    )
    return Section(
        "own-ratios",
        say("How each rig did on this boat"),
        [
            say("Below 1 is less, above 1 is more. The mean is as the co-op's report has it."),
            say(MONEY_ELSEWHERE),
        ],
        tables=[table_of(caption, findings["ratios"], columns)],
    )


def _mean(row: Row) -> str:
    return ratio_cell(row["mean"]["ratio"]) if row["mean"] else say(HIDDEN)


def _mean_without(row: Row) -> str:
    return ratio_cell(row["mean_without"]) if row["mean_without"] else say(HIDDEN)


def beside_all(findings: Findings) -> Section:
    """The boat's rates with each rig and ground, beside those of all boats as they are shared."""
    kinds = [
        ("damage_events_per_hour", damage_rates(findings), PER_100_HOURS),
        ("bottom_living_kg_per_hour", say("Bottom-living fish, kg an hour"), 1),
    ]
    outcomes = outcomes_of(findings)
    return Section(
        "beside-all",
        say("This boat beside all boats"),
        [
            say("All boats are with this one; hidden is what the co-op's report hides."),
            *_own_unknown(findings["own"]),
        ],
        tables=[
            _beside(findings, *kind)
            for kind in kinds
            if kind[0].removesuffix("_per_hour") in outcomes
        ],
    )


def _hours_known(hours: float, known: float) -> str:
    """The hours that a rate is of, and of how many where that is not of all."""
    if hours - known < LEAST_HOURS:
        return number(hours, ",.0f")
    return say("{known:,.0f} of {hours:,.0f}", known=known, hours=hours)


def _own_unknown(own: list[Row]) -> list[str]:
    """How many of the boat's hours do not tell of damage, and what that does to its rates."""
    over_all = [cell for cell in own if cell["ground"] is None]
    hours = sum(cell["tow_hours"] for cell in over_all)
    unknown = hours - sum(cell[DAMAGE_HOURS] for cell in over_all)
    if unknown < LEAST_HOURS:
        return []
    return [f"{say(OWN_UNKNOWN, hours=hours, unknown=unknown)} {say(MOSTLY_WHEN_SOMETHING)}"]


OWN_UNKNOWN = saying(
    "Of this boat's {hours:,.0f} hours, {unknown:,.0f} are of hauls that do not tell whether the "
    "net was damaged; they are left out, not counted as none."
)
LEAST_HOURS = 0.5
"""Fewer are none, as hours are told."""


def _beside(findings: Findings, name: str, caption: str, times_: int) -> Table:
    shared = {(cell["rig"], cell["ground"]): cell for cell in findings["cells"]}
    known = AMOUNTS[name.removesuffix("_per_hour")]

    def rate(own: Row) -> str:
        return rate_cell(None if own[name] is None else own[name] * times_)

    def of_all(own: Row) -> str:
        return cell_words(shared[own["rig"], own["ground"]], name, times_)

    columns: list[Column] = [
        (say("rig and ground"), lambda own: f"{own['rig']}, {ground_words(own['ground'])}"),
        (say("own hours known"), lambda own: _hours_known(own["tow_hours"], own[known])),
        (say("this boat"), rate),
        (say("all boats"), of_all),
    ]
    return table_of(caption, findings["own"], columns)

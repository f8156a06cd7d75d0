"""Year by year: how often the net was damaged and what fish came up, and what each rig did."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from reports.cells import (
    count_of,
    from_to,
    limit_cell,
    outcomes_of,
    rate_of,
    ratio_of,
    unit_of_rates,
)
from reports.language import say
from reports.parts import Section, table_of
from reports.ratio_words import amount
from reports.sentences import capital, is_clear, is_clear_alone, is_headline, listed, title_of
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row, Table

FEWEST_YEARS = 2
MOST_SAID = 4
"""Of more years than these the tables tell alone."""

ABOUT = saying(
    "As recorded, all hauls of a year together: grounds, depths, boats and rigs differ between "
    "years as well, so that a better year proves nothing by itself."
)
OF_A_RIG = saying(
    "Each rig is held against {reference} by the year's hauls alone, like for like as over the "
    "whole record, each judged by itself. A year has few hauls, so the ranges are wide: a rig did "
    "otherwise in another year only where they hardly meet."
)
WENT = saying("{outcome}, {unit}: {years}.")
OF_ONE_RIG = saying("{rig} in {outcome}: {years}.")


def year_by_year(findings: Findings) -> Section | None:
    """The section; None where the record is of one year."""
    rows = [row for row in findings["by_year"] if row["outcome"] in outcomes_of(findings)]
    if len({row["year"] for row in rows}) < FEWEST_YEARS:
        return None
    reference = findings["season"]["reference_rig"]
    ratios = [row for row in rows if row["ratio"] is not None]
    return Section(
        "year-by-year",
        say("Year by year"),
        [
            say(ABOUT),
            *_how_years_went(rows, findings),
            *([say(OF_A_RIG, reference=reference)] if ratios else []),
            *_of_headlines(ratios, findings),
        ],
        tables=[*_of_all(rows, findings), *_of_rigs(ratios, findings)],
    )


def _how_years_went(rows: list[Row], findings: Findings) -> list[str]:
    """Each outcome by year in one sentence, where years are few."""
    said = []
    for name, outcome in outcomes_of(findings).items():
        of_all = [row for row in rows if row["outcome"] == name and row["rig"] is None]
        if FEWEST_YEARS <= len(of_all) <= MOST_SAID:
            years = [
                say("{rate} in {year}", rate=rate_of("rate", outcome)(row), year=row["year"])
                for row in of_all
            ]
            unit = unit_of_rates(outcome)
            said.append(say(WENT, outcome=say(outcome["title"]), unit=unit, years=listed(years)))
    return said


def _of_headlines(ratios: list[Row], findings: Findings) -> list[str]:
    """What each year says of the headlines that are clear, at least by themselves."""
    outcomes, said = outcomes_of(findings), []
    for effect in findings["effects"]:
        if not is_headline(effect) or not (is_clear(effect) or is_clear_alone(effect)):
            continue
        outcome = outcomes[effect["outcome"]]
        years = [
            say("{amount} in {year}", amount=amount(row["ratio"], outcome), year=row["year"])
            for row in ratios
            if (row["outcome"], row["rig"]) == (effect["outcome"], effect["rig"]) and row["ratio"]
        ]
        if FEWEST_YEARS <= len(years) <= MOST_SAID:
            of_rig = say(
                OF_ONE_RIG, rig=effect["rig"], outcome=title_of(outcome), years=listed(years)
            )
            said.append(capital(of_rig))
    return said


def _of_all(rows: list[Row], findings: Findings) -> list[Table]:
    """All hauls of each year, an outcome a table."""
    tables = []
    for name, outcome in outcomes_of(findings).items():
        of_all = [row for row in rows if row["outcome"] == name and row["rig"] is None]
        if of_all:
            tables.append(_by_year(of_all, outcome))
    return tables


def _by_year(of_all: list[Row], outcome: Row) -> Table:
    rate, low, high = (rate_of(name, outcome) for name in ("rate", "low", "high"))
    return table_of(
        say("{outcome}, year by year", outcome=say(outcome["title"])),
        of_all,
        [
            (say("year"), lambda row: row["year"]),
            (say("hauls"), count_of("hauls")),
            (say("hours"), count_of("tow_hours")),
            (unit_of_rates(outcome), rate),
            ("95 %", lambda row: from_to(low(row), high(row))),
        ],
    )


def _of_rigs(ratios: list[Row], findings: Findings) -> list[Table]:
    """The rigs against the reference in each year, an outcome a table."""
    outcomes = outcomes_of(findings)
    reference = findings["season"]["reference_rig"]
    return [
        table_of(
            say(
                "{outcome}: rigs against {reference}, year by year",
                outcome=say(outcomes[name]["title"]),
                reference=reference,
            ),
            sorted(of_outcome, key=lambda row: (row["rig"], row["year"])),
            [
                (say("rig"), lambda row: row["rig"]),
                (say("year"), lambda row: row["year"]),
                (say("hauls"), count_of("hauls")),
                (say("ratio"), ratio_of("ratio")),
                ("95 %", _interval),
            ],
        )
        for name, of_outcome in groupby(ratios, key=lambda row: row["outcome"])
    ]


def _interval(row: Row) -> str:
    return from_to(limit_cell(row["ratio_low"]), limit_cell(row["ratio_high"]))

"""What the report says to one reader, in the order of the page, before anything is drawn.

All of it comes from the contents of `findings.json`, so that a program can read whatever a
person can. Which sections a reader is told stands in `editions.py`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.advice.opening import opening
from reports.advice.words import range_words
from reports.first_screen import by_ground, cards, facts, untold
from reports.lead import lead
from reports.marks import marks
from reports.parts import Contents
from reports.season_words import period, season_title
from reports.study.opening import headline_table, what_was_compared

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.editions import Edition


def report_contents(findings: Findings, edition: Edition) -> Contents:
    """The contents of the season report, as one reader is told them."""
    season = findings["season"]
    told = edition.units(findings)
    marked = marks([rig["rig_version"] for rig in findings["rigs"]], season["reference_rig"])
    sections = [section for make in edition.sections if (section := make(told)) is not None]
    invented = "(invented)" in season["title"]
    if edition.screen is not None:
        return Contents(
            reader=edition.reader,
            **vars(edition.screen(findings)),
            invented=invented,
            sections=sections,
            folded=edition.folded,
            marks=marked,
        )
    return Contents(
        reader=edition.reader,
        title=season_title(season),
        period=period(season),
        invented=invented,
        facts=facts(findings),
        opening=opening(findings),
        in_brackets=range_words(findings),
        compared=what_was_compared(findings),
        headlines=headline_table(findings),
        lead=lead(findings),
        cards=cards(findings),
        untold=untold(findings),
        by_ground=by_ground(findings),
        sections=sections,
        folded=edition.folded,
        marks=marked,
    )

"""Why a row was set aside, or something is not in a model, in the language that is spoken.

What found it wrote its sentence with the values in their places (`{}`), as it goes into
`set-aside.csv` or `findings.json`. Here the sentence is known again, and told with the same values.
One that is not known is told as it was written.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

from pipeline.checking import (
    across,
    corrections,
    damage_remarks,
    day_or_month,
    hauls_of_reviews,
    keys,
    names_alike,
    nearly_alike,
    past_midnight,
    remarks,
    shape_reasons,
    slips,
    unlisted,
)
from pipeline.checking.check_season import ALSO, NO_HAUL, PLACE, THE_ROW
from pipeline.checking.only_kept import LEFT_BLANK
from pipeline.checking.shape_reasons import WORKED_OUT
from pipeline.intake import (
    folder_of_seasons,
    headers,
    moments,
    needed_columns,
    not_read,
    read_season,
    text_tables,
    values,
    whole_settings,
)
from pipeline.intake.folder_of_seasons import AND_MORE, LEFT_OUT
from pipeline.intake.season_folder import SHEET
from pipeline.nearest import DID_YOU_MEAN
from pipeline.rates import model_table
from pipeline.rigs.line import remarks as of_lines
from pipeline.rigs.stretching import length_remarks
from pipeline.rigs.wearing import versions
from pipeline.rigs.weight import against_one_another, weights
from pipeline.rigs.weight import remarks as of_parts
from pipeline.seasons import boats, hauls, money, repeats, rigs_alike
from reports.language import say

if TYPE_CHECKING:
    from collections.abc import Callable

REASONS = (
    *across.REASONS,
    *against_one_another.REASONS,
    *boats.REASONS,
    *corrections.REASONS,
    *damage_remarks.REASONS,
    *day_or_month.REASONS,
    *hauls.REASONS,
    *hauls_of_reviews.REASONS,
    *headers.REASONS,
    *keys.REASONS,
    *length_remarks.REASONS,
    *model_table.REASONS,
    *moments.REASONS,
    *money.REASONS,
    *names_alike.REASONS,
    *nearly_alike.REASONS,
    *needed_columns.REASONS,
    *not_read.REASONS,
    *past_midnight.REASONS,
    *of_lines.REASONS,
    *of_parts.REASONS,
    *read_season.REASONS,
    *remarks.REASONS,
    *repeats.REASONS,
    *rigs_alike.REASONS,
    *shape_reasons.REASONS,
    *slips.REASONS,
    *text_tables.REASONS,
    *unlisted.REASONS,
    *values.REASONS,
    *versions.REASONS,
    NO_HAUL,
    *folder_of_seasons.REASONS,
    *whole_settings.REASONS,
)
"""The sentences that have places for values."""

IN_ITS_OWN_UNIT = re.compile(r"([^ ]+ \(-?[\d.]+ [^ ]+\)) (.*)", re.DOTALL)
"""A reason behind the unit that the cell is in, and what that is in ours: min (400.0 h) …"""

OF_A_COLUMN = re.compile(rf"({THE_ROW}|\w+,?) ((?:'.*?' )?)(.*)", re.DOTALL)
"""A further reason behind its column and cell: ground 'gravelly' …"""


def reason_said(reason: str) -> str:
    """The reason in the language that is spoken, its values as they are."""
    if several := _places_of(ALSO).fullmatch(reason):
        first, others = several.groups()
        return say(ALSO).format(reason_said(first), _of_a_column(others))
    for about in (LEFT_BLANK, WORKED_OUT, keys.BOTH_ON_THE_RIG):
        if known := _places_of(about).fullmatch(reason):
            return say(about).format(reason_said(*known.groups()))
    if left_out := _places_of(LEFT_OUT).fullmatch(reason):
        name, why = left_out.groups()
        return say(LEFT_OUT).format(name, _problem(why))
    if converted := IN_ITS_OWN_UNIT.fullmatch(reason):
        cell, rest = converted.groups()
        return f"{cell} {reason_said(rest)}"
    for sentence in REASONS:
        if known := _places_of(sentence).fullmatch(reason):
            return say(sentence).format(*map(VALUES.get(sentence, value_said), known.groups()))
    return say(reason)


def without_its_cell(reason: str) -> str:
    """The reason without what stands in the cell in its own unit, where that cell is not told."""
    converted = IN_ITS_OWN_UNIT.fullmatch(reason)
    return converted.group(2) if converted else reason


def _of_a_column(reasons: str) -> str:
    """What else is wrong with a row: each reason behind the column that it is of."""
    if several := _places_of(ALSO).fullmatch(reasons):
        return say(ALSO).format(*map(_of_a_column, several.groups()))
    if found := OF_A_COLUMN.fullmatch(reasons):
        column, cell, reason = found.groups()
        place = say(THE_ROW) if column == THE_ROW else column
        return f"{place} {cell}{reason_said(reason)}"
    return reasons


def value_said(value: str) -> str:
    """A value of a reason; a name that may be meant behind it is told so, or a sheet."""
    if guessed := _places_of(f"{{}}{DID_YOU_MEAN}").fullmatch(value):
        name, near = guessed.groups()
        return f"{name}{say(DID_YOU_MEAN).format(near)}"
    if of_workbook := _places_of(SHEET).fullmatch(value):
        return say(SHEET).format(*of_workbook.groups())
    return value


def _problem(why: str) -> str:
    """Why a season can't be used: its first problem, without the stop, and how many more."""
    if several := _places_of(AND_MORE).fullmatch(why):
        first, more, name = several.groups()
        return say(AND_MORE).format(_problem(first), more, name)
    return reason_said(f"{why}.").removesuffix(".")


def _way(value: str) -> str:
    """The way round from a rig to itself, step by step; any other value as it is."""
    steps = value.split(versions.FROM)
    return say(versions.FROM).join(steps) if steps[0] == steps[-1] else value


def _place(value: str) -> str:
    """Where a row stands, if that is what the value tells."""
    found = re.fullmatch(r"(.*), row (\d+)", value, re.DOTALL)
    return say(PLACE, file=found.group(1), row=found.group(2)) if found else value


def _lacking(value: str) -> str:
    """What a part can't be weighed without, if that is what the value tells."""
    return say(value) if value in weights.LACKING else value


VALUES: dict[str, Callable[[str], str]] = {
    hauls.AGAIN: _place,
    hauls.AGAIN_UNDATED: _place,
    hauls.TELLS_OTHERWISE: _place,
    of_parts.NOT_WEIGHED: _lacking,
    versions.ROUND_TRIP: _way,
}
"""How the values of a sentence are told where they have words of their own."""


@cache
def _places_of(sentence: str) -> re.Pattern[str]:
    """The sentence, with anything in its places."""
    return re.compile("(.*?)".join(map(re.escape, sentence.split("{}"))), re.DOTALL)

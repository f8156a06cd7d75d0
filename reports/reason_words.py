"""Why a row was set aside, or something is not in a model, in the language that is spoken.

What found it wrote its sentence with the values in their places (`{}`), as it goes into
`set-aside.csv` or `findings.json`. Here the sentence is known again, and told with the same values.
One that is not known is told as it was written.
"""

from __future__ import annotations

import re
from functools import cache

from pipeline.checking import (
    across,
    corrections,
    damage_remarks,
    keys,
    remarks,
    shape_reasons,
)
from pipeline.checking.check_season import ALSO, THE_ROW
from pipeline.checking.only_kept import LEFT_BLANK
from pipeline.intake import headers, read_season, text_tables, values
from pipeline.nearest import DID_YOU_MEAN
from pipeline.rates import model_table
from pipeline.rigs.line import remarks as of_lines
from pipeline.rigs.stretching import length_remarks
from pipeline.rigs.wearing import versions
from pipeline.rigs.weight import against_one_another
from pipeline.rigs.weight import remarks as of_parts
from pipeline.seasons import boats, hauls, money, repeats, rigs_alike
from reports.language import say

REASONS = (
    *across.REASONS,
    *against_one_another.REASONS,
    *boats.REASONS,
    *corrections.REASONS,
    *damage_remarks.REASONS,
    *hauls.REASONS,
    *headers.REASONS,
    *keys.REASONS,
    *length_remarks.REASONS,
    *model_table.REASONS,
    *money.REASONS,
    *of_lines.REASONS,
    *of_parts.REASONS,
    *read_season.REASONS,
    *remarks.REASONS,
    *repeats.REASONS,
    *rigs_alike.REASONS,
    *shape_reasons.REASONS,
    *text_tables.REASONS,
    *values.REASONS,
    *versions.REASONS,
)
"""The sentences that have places for values."""

IN_ITS_OWN_UNIT = re.compile(r"([^ ]+ \(-?[\d.]+ [^ ]+\)) (.*)", re.DOTALL)
"""A reason behind the unit that the cell is in, and what that is in ours: min (400.0 h) …"""

OF_A_COLUMN = re.compile(rf"({THE_ROW}|\w+) ((?:'.*?' )?)(.*)", re.DOTALL)
"""A further reason behind its column and cell: ground 'gravelly' …"""


def reason_said(reason: str) -> str:
    """The reason in the language that is spoken, its values as they are."""
    if several := _places_of(ALSO).fullmatch(reason):
        first, others = several.groups()
        return say(ALSO).format(reason_said(first), _of_a_column(others))
    if blanked := _places_of(LEFT_BLANK).fullmatch(reason):
        return say(LEFT_BLANK).format(reason_said(*blanked.groups()))
    if converted := IN_ITS_OWN_UNIT.fullmatch(reason):
        cell, rest = converted.groups()
        return f"{cell} {reason_said(rest)}"
    for sentence in REASONS:
        if known := _places_of(sentence).fullmatch(reason):
            return say(sentence).format(*map(_value, known.groups()))
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


def _value(value: str) -> str:
    """A value of a reason; a name that may be meant behind it is told with its words."""
    if guessed := _places_of(f"{{}}{DID_YOU_MEAN}").fullmatch(value):
        name, near = guessed.groups()
        return f"{name}{say(DID_YOU_MEAN).format(near)}"
    return value


@cache
def _places_of(sentence: str) -> re.Pattern[str]:
    """The sentence, with anything in its places."""
    return re.compile("(.*?)".join(map(re.escape, sentence.split("{}"))), re.DOTALL)

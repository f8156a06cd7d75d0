"""Where a line may end: not within a short name, a date or a percentage; in long names at a point.

Browsers end a line at every blank and hyphen, which parts `23 %` and `bobbins-14`, and a name that
finds no room on a line wherever it is full.
"""

from __future__ import annotations

import re

from markupsafe import Markup

LONGEST_WHOLE = 18
"""A longer name may be broken: it might find no room on any line."""
NOT_TO_PART = re.compile(
    rf"""((?<!\S)(?:
        \S+\ %\S*                 # a percentage: 23 %
        | (?=\S*\d)\S*\w-\w\S*    # a rig or a day, with a figure: grass-60, 2031-06-17
        | (?=\S{{{LONGEST_WHOLE + 1}}})\S*\w[._]\w\S*    # a long name of a function or a column
    ))""",
    re.VERBOSE,
)
JOINT = re.compile(r"(?<=\w[._])(?=\w)")


def unbroken(text: str) -> Markup:
    """The text as HTML whose short names, dates and percentages stay on one line each."""
    others_and_found = NOT_TO_PART.split(text)
    return Markup("").join(
        _kept(part) if at % 2 else part for at, part in enumerate(others_and_found)
    )


def _kept(found: str) -> Markup:
    """On one line where it is short, else with the places at which it may be broken."""
    if len(found) <= LONGEST_WHOLE:
        return Markup('<span class="whole">{}</span>').format(found)
    return Markup("<wbr>").join(JOINT.split(found))

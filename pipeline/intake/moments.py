"""Days and times: how a cell is read in the ways of writing that a season says, and why it can't be."""

from __future__ import annotations

import re

import polars as pl

from schemas.words import saying

NO_SUCH_TIME = saying("is not a day and time that exists, written as {}")
OTHERWISE_WRITTEN = saying(
    "is not a day and time written as {}; put it right, or say under the table's columns in "
    'season.toml how it is written, as in format = "%d/%m/%Y %H:%M"'
)
NOT_AS_SAID = saying(
    "can't be read as a day and time written as {}; put it right, or where the column has a "
    "further way of writing them, make format in season.toml a list of both"
)
NUMBERED_DAY = saying(
    "is a day and time as a spreadsheet counts them; give the column the form of a date there, and "
    "save it anew"
)
REASONS = (NO_SUCH_TIME, OTHERWISE_WRITTEN, NOT_AS_SAID)

PLAIN_DAY, PLAIN_TIME = "%Y-%m-%d", "%H:%M:%S"
PLAIN_MOMENT = "2031-03-04 05:30"
AS_PLAIN_MOMENT = r"^\d{4}-\d\d-\d\d(?:[ T]\d\d:\d\d(?::\d\d)?)?Z?$"
FIGURES = {"%Y": r"\d{4}", **dict.fromkeys(("%d", "%m", "%y", "%H", "%M", "%S"), r"\d{1,2}")}
"""The signs of a form that stand for figures, and what is written in their place."""
HOURS_AND_MINUTES = "%H%M"
"""A time of day without a sign in it: a number to a spreadsheet, which leaves out its first
noughts."""
PLAIN_FORMATS = (f"{PLAIN_DAY} {PLAIN_TIME}", f"{PLAIN_DAY} %H:%M", PLAIN_DAY)


def moment(cell: pl.Expr, formats: tuple[str, ...]) -> pl.Expr:
    """The moment that a cell tells, written in one of these ways or plainly."""
    plain = cell.str.replace("T", " ", literal=True).str.strip_suffix("Z")
    # A workbook's own dates are plain, whatever is said of those typed in as text.
    return pl.coalesce(
        *(_written_as(form, cell) for said in formats for form in _ways_of(said)),
        *(_written_as(form, plain) for form in PLAIN_FORMATS),
    )


def _written_as(form: str, cell: pl.Expr) -> pl.Expr:
    moment = _with_its_noughts(form, cell).str.to_datetime(form, strict=False, time_unit="us")
    # A year of two figures is read as one of the first century where four are said to stand.
    return pl.when(moment.dt.year().is_between(1000, 9999)).then(moment)


def _with_its_noughts(form: str, cell: pl.Expr) -> pl.Expr:
    """The cell with the noughts before its hours and minutes that a spreadsheet left out.

    605 is 06:05 and 45 is 00:45; taken as it stands, 105 would be five past ten.
    """
    before, sign, after = form.partition(HOURS_AND_MINUTES)
    if not sign or f"{before[-1:]}{after[:1]}".strip():
        return cell
    words_before = len(before.split())
    parts = cell.str.extract_groups(
        rf"^((?:\S+\s+){{{words_before}}})(\d{{1,3}})((?:\s.*)?)$"
    ).struct
    filled_up = pl.concat_str(parts[0], parts[1].str.zfill(4), parts[2])
    return pl.coalesce(filled_up, cell)


def _ways_of(written_as: str) -> tuple[str, ...]:
    """The form as it is said, and with a workbook's own day or time in its place.

    Day and time stand in two columns often, of which one may be typed in as text.
    """
    day, gap, time = written_as.rpartition(" ")
    if not gap or "%H" in day or "%H" not in time:
        return (written_as,)
    return (written_as, f"{day} {PLAIN_TIME}", f"{PLAIN_DAY} {time}")


def no_moment(cell: pl.Expr, formats: tuple[str, ...]) -> pl.Expr:
    """Why a cell tells no moment, and what to do."""
    said, otherwise = ", ".join(formats), OTHERWISE_WRITTEN.format(PLAIN_MOMENT)
    counted = cell.str.contains(r"^\d{5}(\.\d+)?$")
    as_said = [
        _with_its_noughts(form, cell).str.contains(_looks_of(form))
        for written in formats
        for form in _ways_of(written)
    ]
    return (
        pl.when(counted)
        .then(pl.lit(NUMBERED_DAY))
        .when(pl.any_horizontal(pl.lit(value=False), *as_said))
        .then(pl.lit(NO_SUCH_TIME.format(said)))
        .when(cell.str.contains(AS_PLAIN_MOMENT))
        .then(pl.lit(NO_SUCH_TIME.format(PLAIN_MOMENT)))
        .otherwise(pl.lit(NOT_AS_SAID.format(said) if formats else otherwise))
    )


def _looks_of(form: str) -> str:
    """A pattern of what is written so, whether or not there is such a day and time."""
    written = [
        FIGURES.get(piece, r"\S+") if piece.startswith("%") else re.escape(piece)
        for piece in re.split("(%.)", form)
    ]
    return f"^{''.join(written)}$"

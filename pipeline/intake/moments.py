"""Days and times: how a cell is read in the ways of writing that are said, and why it can't be."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import polars as pl

from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Callable

NO_SUCH_TIME = saying("is not a day and time that exists, written as {}")
OTHERWISE_WRITTEN = saying(
    "is not a day and time written as {}; put it right, or say under the table's columns in "
    'season.toml how it is written, as in format = "{}"'
)
OTHERWISE_EITHER = saying(
    "is not a day and time written as {}; put it right, or say under the table's columns in "
    'season.toml how it is written, as in format = "{}", or "{}" where the month stands first'
)
NOT_AS_SAID = saying(
    "can't be read as a day and time written as {}; put it right, or where the column has a "
    "further way of writing them, make format in season.toml a list of both"
)
AS_ANOTHER = saying(
    "can't be read as a day and time written as {}, but as {}; put it right, or write that under "
    "format in season.toml, alone or in a list of all ways that stand in the column"
)
YEAR_AS_ANOTHER = saying(
    "can't be read as a day and time written as {}, but as {}: %y is a year of two figures, %Y one "
    "of four; put it right, or write that under format in season.toml, alone or in a list of all "
    "ways that stand in the column"
)
TURNED_ROUND = saying(
    "is not a day and time that exists, written as {}, but is one as {}; where all are written so, "
    "write that under format in season.toml in its place; where only some are, put them right, as "
    "of 03/04 nobody can tell which it is"
)
NUMBERED_DAY = saying(
    "is a day and time as a spreadsheet counts them; give the column the form of a date there, and "
    "save it anew"
)
REASONS = (
    TURNED_ROUND,
    NO_SUCH_TIME,
    OTHERWISE_EITHER,
    OTHERWISE_WRITTEN,
    YEAR_AS_ANOTHER,
    AS_ANOTHER,
    NOT_AS_SAID,
)
FORMATS_QUOTED = 2
"""More ways of writing that a season names are not all quoted to each cell that is in none."""

PLAIN_DAY, PLAIN_TIME = "%Y-%m-%d", "%H:%M:%S"
PLAIN_MOMENT = "2031-03-04 05:30"
AS_PLAIN_MOMENT = r"^\d{4}-\d\d-\d\d(?:[ T]\d\d:\d\d(?::\d\d)?)?Z?$"
FIGURES = {"%Y": r"\d{4}", **dict.fromkeys(("%d", "%m", "%y", "%H", "%M", "%S"), r"\d{1,2}")}
"""The signs of a form that stand for figures, and what is written in their place."""
HOURS_AND_MINUTES = "%H%M"
"""A time of day without a sign in it: a number to a spreadsheet, which leaves out its first
noughts."""
PLAIN_FORMATS = (f"{PLAIN_DAY} {PLAIN_TIME}", f"{PLAIN_DAY} %H:%M", PLAIN_DAY)

IN_FIGURES = ("%d{0}%m{0}%Y", "%d{0}%m{0}%y", "%m{0}%d{0}%Y", "%m{0}%d{0}%y", "%Y{0}%m{0}%d")
MONTHS, YEARS = ("%b", "%B"), ("%Y", "%y")
DAYS = (
    *(order.format(sign) for sign in "/.-" for order in IN_FIGURES),
    *(f"%d{sign}{month}{sign}{year}" for month in MONTHS for sign in " -" for year in YEARS),
)
TIMES = ("", " %H:%M", " %H%M", " %H.%M", " %H:%M:%S", " %I:%M %p")
WAYS_OF_WRITING = tuple(f"{day}{time}" for day in DAYS for time in TIMES)
"""How logs write a day, or a day and time: tried where what to write is to be advised."""
CELLS_TRIED = 200


def moment(cell: pl.Expr, formats: tuple[str, ...]) -> pl.Expr:
    """The moment that a cell tells, written in one of these ways or plainly."""
    plain = cell.str.replace("T", " ", literal=True).str.strip_suffix("Z")
    # A workbook's own dates are plain, whatever is said of those typed in as text.
    return pl.coalesce(
        *(written_in(form, cell) for form in formats),
        *(_written_as(form, plain) for form in PLAIN_FORMATS),
    )


def written_in(form: str, cell: pl.Expr) -> pl.Expr:
    """The moment that a cell tells in one way of writing alone."""
    return pl.coalesce(*(_written_as(way, cell) for way in _ways_of(form)))


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


def no_moment(cells: pl.Series, formats: tuple[str, ...]) -> pl.Expr:
    """Why each of these cells, which stand under their own name, tells no moment; what to do."""
    cell = pl.col(cells.name)
    likely = likely_ways(cells, formats)
    quoted = ", ".join(formats[:FORMATS_QUOTED]) + ", …" * (len(formats) > FORMATS_QUOTED)

    def by_way(sentence: Callable[[str], str]) -> pl.Expr:
        """The sentence on the first of the likely ways in which the cell can be read."""
        read = [pl.when(_written_as(way, cell).is_not_null()).then(pl.lit(way)) for way in likely]
        told = {way: sentence(way) for way in likely}
        return pl.coalesce(None, *read).replace_strict(told, return_dtype=pl.String, default=None)

    def otherwise(way: str) -> str:
        turned = _turned_round(way)
        if turned in likely and likely[turned] == likely.get(way):
            return OTHERWISE_EITHER.format(PLAIN_MOMENT, way, turned)
        return OTHERWISE_WRITTEN.format(PLAIN_MOMENT, way)

    def as_another(way: str) -> str:
        by_the_year = _year_of_two(way) in map(_year_of_two, formats)
        return (YEAR_AS_ANOTHER if by_the_year else AS_ANOTHER).format(quoted, way)

    as_said = [
        _with_its_noughts(form, cell).str.contains(_looks_of(form))
        for written in formats
        for form in _ways_of(written)
    ]
    return (
        pl.when(cell.str.contains(r"^\d{5}(\.\d+)?$"))
        .then(pl.lit(NUMBERED_DAY))
        .when(pl.any_horizontal(pl.lit(value=False), *as_said))
        .then(
            pl.coalesce(
                by_way(lambda way: TURNED_ROUND.format(quoted, way)),
                pl.lit(NO_SUCH_TIME.format(quoted)),
            )
        )
        .when(cell.str.contains(AS_PLAIN_MOMENT))
        .then(pl.lit(NO_SUCH_TIME.format(PLAIN_MOMENT)))
        .otherwise(
            pl.coalesce(by_way(as_another), pl.lit(NOT_AS_SAID.format(quoted)))
            if formats
            else pl.coalesce(by_way(otherwise), pl.lit(otherwise("%d/%m/%Y %H:%M")))
        )
    )


def likely_ways(cells: pl.Series, formats: tuple[str, ...] = ()) -> dict[str, int]:
    """The ways of writing that read some of these cells, the one that reads most of them first.

    With each, how many it reads of those that were tried. Where several read as many, those with
    day and month in the order of the `formats` that are said come first, else the day.
    """
    distinct = cells.drop_nulls().unique(maintain_order=True).alias("cell").to_frame()
    reads = (
        distinct.gather_every(1 + distinct.height // CELLS_TRIED)
        .select(_written_as(way, pl.col("cell")).count().alias(way) for way in WAYS_OF_WRITING)
        .row(0, named=True)
    )
    month_first = [_month_first(form) for form in formats]
    said = any(month_first) and all(month_first)
    order = sorted(reads, key=lambda way: (-reads[way], _month_first(way) != said))
    return {way: reads[way] for way in order if reads[way]}


def ways_together(cells: pl.Series) -> list[str]:
    """The ways of writing that read these cells, each the one that reads most of what is left.

    Of day and month the order that reads most is taken, as of 03/04 both orders read something.
    """
    ways: list[str] = []
    while likely := [way for way in likely_ways(cells) if _turned_round(way) not in ways]:
        ways.append(likely[0])
        unread = _written_as(likely[0], pl.col(cells.name)).is_null()
        cells = cells.to_frame().filter(unread).to_series()
    return ways


def _month_first(way: str) -> bool:
    return "%d" in way.partition("%m")[2]


def _year_of_two(way: str) -> str:
    return way.replace("%Y", "%y")


def _turned_round(way: str) -> str:
    """The same way of writing with day and month in each other's place."""
    return way.replace("%d", "%D").replace("%m", "%d").replace("%D", "%m")


def _looks_of(form: str) -> str:
    """A pattern of what is written so, whether or not there is such a day and time."""
    written = [
        FIGURES.get(piece, r"\S+") if piece.startswith("%") else re.escape(piece)
        for piece in re.split("(%.)", form)
    ]
    return f"^{''.join(written)}$"

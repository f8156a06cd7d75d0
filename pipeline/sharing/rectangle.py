"""Where a haul was, no finer than fisheries statistics have it.

Within the area of ICES, its statistical rectangles: half a degree of latitude by one of longitude,
rows numbered from 01 at 36°N, columns lettered from A0 at 44°W, ten degrees a letter (of A only
four) and without the letter I. Source: ICES, C.M. 1977/Gen:3, as told on ICES's page "ICES
statistical rectangles". Elsewhere, a whole degree square by its south-west corner.
"""

from __future__ import annotations

import polars as pl

SOUTH, NORTH, WEST, EAST = 36.0, 85.5, -44.0, 68.5
ROWS_PER_DEGREE = 2
COLUMN_LETTERS = "ABCDEFGHJKLM"
FIRST_LETTER_FROM, FIRST_LETTER_TO = -50.0, -40.0
"""Where column A0 would be if A had ten columns, and where B begins."""
DEGREES_A_LETTER = 10


def rectangle(latitude: pl.Expr, longitude: pl.Expr) -> pl.Expr:
    """The ICES statistical rectangle of positions in degrees, north and east positive: 37F3.

    Outside ICES's area, the whole degree square: 57N 171W. A border belongs to the rectangle north
    or east of it. Null where a position is.
    """
    within = latitude.ge(SOUTH) & latitude.lt(NORTH) & longitude.ge(WEST) & longitude.lt(EAST)
    return pl.when(within).then(_ices(latitude, longitude)).otherwise(_square(latitude, longitude))


def _ices(latitude: pl.Expr, longitude: pl.Expr) -> pl.Expr:
    """The rectangle's row, letter and column, within ICES's area."""
    row = ((latitude - SOUTH) * ROWS_PER_DEGREE).floor().cast(pl.Int64) + 1
    east = (longitude - FIRST_LETTER_FROM).floor().cast(pl.Int64)
    letters = dict(enumerate(COLUMN_LETTERS))
    letter = (east // DEGREES_A_LETTER).replace_strict(letters, default=None)
    column = (
        longitude.floor().cast(pl.Int64)
        - pl.when(longitude < FIRST_LETTER_TO).then(int(WEST)).otherwise(0)
    ) % DEGREES_A_LETTER
    return pl.format("{}{}{}", row.cast(pl.String).str.zfill(2), letter, column)


def _square(latitude: pl.Expr, longitude: pl.Expr) -> pl.Expr:
    """The degree square by its south-west corner; the date line is 180W."""
    south = latitude.clip(upper_bound=89).floor().cast(pl.Int64)
    west = (longitude.floor().cast(pl.Int64) + 180) % 360 - 180
    return pl.format(
        "{}{} {}{}",
        south.abs(),
        pl.when(south < 0).then(pl.lit("S")).otherwise(pl.lit("N")),
        west.abs(),
        pl.when(west < 0).then(pl.lit("W")).otherwise(pl.lit("E")),
    )

"""The polars type of each kind of column."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

if TYPE_CHECKING:
    from schemas.column import Kind

TYPES: dict[Kind, pl.DataType] = {
    "text": pl.String(),
    "code": pl.String(),
    "word": pl.String(),
    "words": pl.String(),
    "yes or no": pl.Boolean(),
    "number": pl.Float64(),
    "count": pl.Int64(),
    "moment": pl.Datetime("us"),
}

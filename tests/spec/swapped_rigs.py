"""The rigs and swaps of `swaps.md`, and what the program makes of them."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import polars as pl
import pytest

from pipeline.rigs.line.rig_geometry import rig_geometry
from pipeline.rigs.swap.swaps import Swap, swap
from pipeline.rigs.weight.rig_weights import rig_weights
from pipeline.rigs.weight.weights import part_weights
from schemas.rigs import RIG_VERSIONS
from schemas.types import TYPES
from synthetic_data.rig_tables import rig_parts_table, rig_versions_table
from tests.spec.test_rig_weights import parts_table
from tests.spec.text_tables import cases_of, number, page_text

if TYPE_CHECKING:
    from pipeline.rigs.swap.chain_to_keep import ChainSize

_, RIGS_TEXT, SWAPS_TEXT, SPARE_TEXT, INVENTED_TEXT = page_text("swaps.md").split("\n## ")
SWAPS_TEXT, SURE_TEXT = SWAPS_TEXT.split("\nHow sure the change is")
VERSION_SCHEMA = {column.name: TYPES[column.kind] for column in RIG_VERSIONS.columns}


RIGS, SWAPS, SURE, SPARE, INVENTED = map(
    cases_of, (RIGS_TEXT, SWAPS_TEXT, SURE_TEXT, SPARE_TEXT, INVENTED_TEXT)
)
NAMES = [rig["rig"] for rig in RIGS]


def near(cell: str, within: float) -> object:
    expected = number(cell)
    return None if expected is None else pytest.approx(expected, abs=within)


Tables = tuple[pl.DataFrame, pl.DataFrame, pl.DataFrame]


RECORDED = {
    "fishing_line_m": "fishing line",
    "ground_gear_m": "ground gear",
    "toggle_mm": "toggles",
    "gap_mm": "measured gap",
}


def versions_of(rigs: list[dict[str, str]]) -> pl.DataFrame:
    rows = [
        dict.fromkeys(VERSION_SCHEMA)
        | {"rig_version": rig["rig"]}
        | {column: number(rig.get(name, "")) for column, name in RECORDED.items()}
        for rig in rigs
    ]
    return pl.DataFrame(rows, schema=VERSION_SCHEMA)


@cache
def tables_of_the_page() -> Tables:
    """Weights of rigs, their geometry, and weights of parts, of all rigs of the page."""
    parts = pl.concat(
        parts_table(rig["parts"]).with_columns(rig_version=pl.lit(rig["rig"]))
        for rig in RIGS
        if rig["parts"]
    )
    return weighed(parts, versions_of(RIGS))


@cache
def tables_of_the_invented_season() -> Tables:
    return weighed(rig_parts_table(), rig_versions_table())


def weighed(parts: pl.DataFrame, versions: pl.DataFrame) -> Tables:
    of_parts = part_weights(parts)
    weights = rig_weights(of_parts, versions)
    return weights, rig_geometry(versions, weights), of_parts


def swapped(from_rig: str, to_rig: str) -> Swap:
    return swap(from_rig, to_rig, *tables_of_the_page())


def size_of(told: Swap, wire_mm: float) -> ChainSize:
    return next(size for size in told.chain.sizes if size.wire_mm == wire_mm)

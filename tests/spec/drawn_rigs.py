"""The rigs of `rig_drawing.md`, as the findings hold them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.rigs.line.rig_geometry import rig_geometry
from pipeline.rigs.weight.rig_weights import rig_weights
from pipeline.rigs.weight.weights import part_weights
from schemas.rigs import RIG_PARTS, RIG_VERSIONS
from schemas.types import TYPES
from tests.spec.text_tables import cases_of, page_text

if TYPE_CHECKING:
    from schemas.column import Table

GEAR_M = 34.1
SECTIONS_M = {"wing": 11.0, "bunt": 4.4, "bosom": 3.3}
PART = re.compile(
    r"(?P<part>.+?)(?: (?P<across>\d+))?(?: x (?P<wide>\d+))?"
    r"(?:, (?P<per_m>[\d.]+) a metre)?(?P<on_line> / line)?"
)
ROWS = cases_of(page_text("rig_drawing.md"))


def _number(text: str | None) -> float | None:
    return float(text) if text else None


def _parts(rig: str, written: str) -> list[dict[str, Any]]:
    rows = []
    for text in written.split("; "):
        found = PART.fullmatch(text)
        assert found is not None, text
        for section, length_m in SECTIONS_M.items():
            per_m = _number(found["per_m"])
            rows.append(
                dict.fromkeys(column.name for column in RIG_PARTS.columns)
                | {
                    "rig_version": rig,
                    "section": section,
                    "part": found["part"],
                    "line": "fishing line" if found["on_line"] else "ground gear",
                    "material": "rubber" if "disc" in text or "spacer" in text else None,
                    "count": 1 if per_m is None else round(per_m * length_m),
                    "diameter_mm": _number(found["across"]),
                    "width_mm": _number(found["wide"]),
                    "length_m": length_m if per_m is None else None,
                }
            )
    return rows


def _version(row: dict[str, str]) -> dict[str, Any]:
    longer_m = _number(row["longer m"])
    return dict.fromkeys(column.name for column in RIG_VERSIONS.columns) | {
        "rig_version": row["rig"],
        "ground_gear": row["ground gear"],
        "ground_gear_m": GEAR_M,
        "fishing_line_m": None if longer_m is None else GEAR_M + longer_m,
        "toggle_mm": _number(row["toggles mm"]),
        "gap_mm": _number(row["gap mm"]),
        "wing_end_spread_m": _number(row["spread m"]),
    }


def _table(rows: list[dict[str, Any]], table: Table) -> pl.DataFrame:
    return pl.DataFrame(rows, schema={c.name: TYPES[c.kind] for c in table.columns})


def _rigs() -> dict[str, dict[str, Any]]:
    versions = _table([_version(row) for row in ROWS], RIG_VERSIONS)
    parts = part_weights(
        _table([part for row in ROWS for part in _parts(row["rig"], row["parts"])], RIG_PARTS)
    )
    weights = rig_weights(parts, versions)
    geometry = {row["rig_version"]: row for row in rig_geometry(versions, weights).to_dicts()}
    return {
        name: version
        | {
            "parts": parts.filter(pl.col("rig_version") == name).to_dicts(),
            "weights": weights.filter(pl.col("rig_version") == name).to_dicts(),
            "geometry": geometry.get(name),
        }
        for version in versions.to_dicts()
        for name in [version["rig_version"]]
    }


RIGS = _rigs()
SAYS = {row["rig"]: row["says"] for row in ROWS}

"""A stretched ground chain tips discs as far as was worked out by hand in `tipping.md`."""

from __future__ import annotations

from math import radians, sin

import polars as pl
import pytest

from pipeline.rigs.line.geometry import TURN_RAD
from pipeline.rigs.line.tipping import TIPPING_SCHEMA, tipping
from pipeline.rigs.weight.weights import ROW_SET_ASIDE
from tests.spec.test_rig_weights import worked_out
from tests.spec.text_tables import cases_of, number, page_text

CASES = cases_of(page_text("tipping.md"))
RIG = {"rig_version": "rig"}
GONE = {"diameter_mm": None, "lacks": ROW_SET_ASIDE}


def known_of(across: str | None) -> dict[str, object]:
    return {"diameter_mm": number(across or ""), "lacks": None}


def tipped(case: dict[str, str], section: str = "whole") -> pl.DataFrame:
    parts = [(*part.split(), None)[:2] for part in case["parts"].split("; ")]
    weights = pl.DataFrame(
        [
            RIG | {"kind": kind, **(GONE if across == "gone" else known_of(across))}
            for kind, across in parts
        ],
        schema={
            "rig_version": pl.String,
            "kind": pl.String,
            "diameter_mm": pl.Float64,
            "lacks": pl.String,
        },
    )
    stretched = {"vessel": "Sula", "section": section}
    of_rig = {
        "latest_percent": number(case["% longer"]),
        "ground_gear_m": number(case["ground gear m"]),
        "turn_rad": TURN_RAD,
    }
    known = pl.DataFrame(
        [RIG | stretched | of_rig], schema_overrides=dict.fromkeys(of_rig, pl.Float64)
    )
    return tipping(known.drop("ground_gear_m", "turn_rad"), weights, known, known)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["case"])
def test_discs_tip_as_far_as_was_worked_out(case: dict[str, str]) -> None:
    found = tipped(case)
    assert dict(found.schema) == TIPPING_SCHEMA
    if not case["shift mm"]:
        assert found.is_empty()
        return
    (row,) = found.to_dicts()
    for name, value in {
        "shift mm": row["traveller_shift_mm"],
        "sine of the tip": sin(radians(row["tip_deg"])),
    }.items():
        worked, _, result = case[name].rpartition("=")
        assert value == pytest.approx(float(result))
        if worked:
            assert worked_out(worked.strip()) == pytest.approx(float(result))
    assert row["tips"] == "disc"


def test_nothing_is_told_of_a_section() -> None:
    assert tipped(CASES[0], "bosom").is_empty()

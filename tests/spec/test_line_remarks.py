"""Lengths of a rig version that cannot be quite right are used with a word on them."""

from __future__ import annotations

import polars as pl
import pytest

from pipeline.rigs.line.remarks import line_remarks
from pipeline.rigs.weight.rig_weights import rig_weights
from pipeline.rigs.weight.weights import part_weights

SECTION_M = {"wing": 10.0, "bunt": 4.0, "bosom": 3.0}


def remarks(material: str = "steel", **lengths: float | None) -> list[str]:
    """What is said of a gear of 31 m with 300 mm bobbins on chain, with these lengths."""
    version = {
        "row": 1,
        "rig_version": "a",
        "fishing_line_m": None,
        "ground_gear_m": 31.0,
        "toggle_mm": None,
        "gap_mm": None,
        "wing_end_spread_m": None,
        **lengths,
    }
    runs = [
        {"section": section, "part": "rope", "material": material, "count": 1, "length_m": metres}
        for section, metres in SECTION_M.items()
    ]
    bobbins = {"section": "bosom", "part": "bobbin", "count": 1, "each_kg": 0.1}
    parts = pl.DataFrame(
        [
            {
                "rig_version": "a",
                "line": None,
                "diameter_mm": 300.0 if row is bobbins else 60.0,
                "width_mm": None,
                "bore_mm": None,
                "weight_kept_in_water": 0.5 if row is bobbins else None,
                "each_kg": 50.0 if material == "steel" else None,
                **row,
            }
            for row in (*runs, bobbins)
        ],
        infer_schema_length=None,
    )
    versions = pl.DataFrame(
        [version],
        schema_overrides=dict.fromkeys(set(version) - {"row", "rig_version"}, pl.Float64),
    )
    weights = rig_weights(part_weights(parts), versions)
    return [
        f"{row['column']} '{row['value']}' {row['reason']}"
        for row in line_remarks(versions, weights).iter_rows(named=True)
    ]


def test_lengths_that_fit_need_no_word() -> None:
    fits = {"fishing_line_m": 31.4, "toggle_mm": 350.0, "gap_mm": 190.0, "wing_end_spread_m": 19.0}
    assert remarks(**fits) == []


def test_a_gap_that_the_toggles_do_not_leave() -> None:
    """350 mm of toggle reach 200 mm above a gear whose top is 150 mm above its middle."""
    assert remarks(toggle_mm=350.0, gap_mm=229.0) == []
    (said,) = remarks(toggle_mm=350.0, gap_mm=350.0)
    assert said == (
        "gap_mm '350.0' mm is more than toggles of 350.0 mm leave above a gear of 300.0 mm, "
        "200 mm at most; was it measured from the ground, and not from the top of the gear?"
    )


@pytest.mark.parametrize("spread_m", [31.0, 40.0])
def test_wing_ends_further_apart_than_the_gear_is_long(spread_m: float) -> None:
    (said,) = remarks(wing_end_spread_m=spread_m)
    assert said.startswith(
        f"wing_end_spread_m '{spread_m}' m between the wing ends of a ground gear 31.0 m long "
        "cannot be"
    )


def test_a_gear_far_longer_than_its_sections() -> None:
    assert remarks(ground_gear_m=36.0) == []
    (said,) = remarks(ground_gear_m=310.0)
    assert said == (
        "ground_gear_m '310.0' m is far from the 31.0 m that two wings, two bunts and the bosom "
        "come to by their parts; put one of them right"
    )


def test_a_gear_that_floats() -> None:
    (said,) = remarks("polypropylene")
    assert said.startswith("rig_version 'a' floats by its parts, with a lift of ")

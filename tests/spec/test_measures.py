"""What is told of a rig's measures, and when nothing is."""

from __future__ import annotations

from itertools import product

import numpy as np
import polars as pl
import pytest

from pipeline.rates.measures import (
    LEAST_RIGS,
    MeasureEffect,
    find_measure_effects,
)
from schemas.codes import MeasureWithout, OffTheLine
from schemas.measures import MEASURES

DIAMETERS = [100.0, 250.0, 300.0, 450.0, 500.0, 600.0]
WEIGHTS = [12.0, 3.0, 9.0, 2.0, 14.0, 6.0]
TRIPS = 8


def rigs(**measures: list[float | None]) -> pl.DataFrame:
    """Six rigs with these measures, and null for those not named."""
    columns = {each.name: measures.get(each.name, [None] * 6) for each in MEASURES}
    return pl.DataFrame(
        {"rig_version": [f"rig {number}" for number in range(6)], **columns},
        schema_overrides=dict.fromkeys(columns, pl.Float64),
    )


def sums(
    log_rates: list[float], *, trips: int = TRIPS, per_percent: float | None = None
) -> pl.DataFrame:
    """Trips of every rig on two grounds, with just as much damage as the rates say."""
    rows = []
    for rig, ground, trip in product(range(len(log_rates)), (0, 1), range(trips)):
        percent = round(0.2 * trip, 2)
        rate = np.exp(log_rates[rig] + 0.7 * ground + (per_percent or 0.0) * percent)
        rows.append(
            {
                "outcome": "damage_events",
                "vessel": "Skua",
                "trip": f"{rig} {ground} {trip}",
                "rig_version": f"rig {rig}",
                "ground": f"ground {ground}",
                "stretch": "2031 Q1",
                "length_difference_percent": "not recorded"
                if per_percent is None
                else f"{percent}",
                "hauls": 6,
                "hauls_with_some": 3,
                "tow_hours": 20.0,
                "total": 20.0 * float(rate),
            }
        )
    return pl.DataFrame(rows)


def told(
    table: pl.DataFrame, measures: pl.DataFrame, reference: str = "rig 0"
) -> dict[str, MeasureEffect]:
    effects = find_measure_effects(table, measures, reference, ["ground"], "trip")
    return {effect.measure: effect for effect in effects}


def test_rigs_on_a_line_give_the_line() -> None:
    law = sums([-1 - 0.2 * mm / 100 for mm in DIAMETERS])
    effect = told(law, rigs(largest_diameter_mm=DIAMETERS))["largest_diameter_mm"]
    assert effect.log_ratio == pytest.approx(-0.2, abs=1e-9)
    assert effect.verdict == "lower"
    assert effect.freedom == 4
    assert (effect.lowest, effect.highest) == (100.0, 600.0)
    assert [point.rig for point in effect.points] == [f"rig {number}" for number in range(6)]


def test_a_length_difference_holds_each_rig_against_itself() -> None:
    """The rigs differ wildly, and none of that is laid to the length difference."""
    law = sums([-3.0, 1.0, -2.0, 0.5, -1.0, 2.0], per_percent=0.5)
    effect = told(law, rigs())["length_difference_percent"]
    assert effect.log_ratio == pytest.approx(0.5, abs=1e-9)
    assert effect.hauls == 6 * 2 * TRIPS * 6


def test_the_hauls_are_those_that_the_model_holds() -> None:
    """On a ground where nothing tore there is nothing that would tell of a rig."""
    law = sums([-1 - 0.2 * mm / 100 for mm in DIAMETERS], per_percent=0.5)
    calm = law.filter(pl.col("ground") == "ground 1").with_columns(
        pl.lit("calm").alias("ground"),
        pl.col("trip") + " calm",
        total=pl.lit(0.0),
        hauls_with_some=pl.lit(0, pl.Int64),
    )
    effects = told(pl.concat([law, calm]), rigs(largest_diameter_mm=DIAMETERS))
    for name in ("largest_diameter_mm", "length_difference_percent"):
        assert (effects[name].hauls, effects[name].trips) == (6 * 2 * TRIPS * 6, 6 * 2 * TRIPS)


@pytest.mark.parametrize("reference", ["rig 0", "rig 3", "rig 5"])
def test_the_line_does_not_depend_on_the_reference(reference: str) -> None:
    chance = np.random.default_rng(5)
    law = sums([-1 - 0.2 * mm / 100 + chance.normal(0, 0.4) for mm in DIAMETERS])
    first, other = (
        told(law, rigs(largest_diameter_mm=DIAMETERS), rig)["largest_diameter_mm"]
        for rig in ("rig 1", reference)
    )
    assert other.log_ratio == pytest.approx(first.log_ratio, rel=1e-6)
    assert other.std_error == pytest.approx(first.std_error, rel=1e-6)
    assert other.spread == pytest.approx(first.spread, rel=1e-6)


def test_rigs_that_scatter_about_the_line_make_it_less_sure() -> None:
    chance = np.random.default_rng(6)
    scattered = [-1 - 0.2 * mm / 100 + chance.normal(0, 0.5) for mm in DIAMETERS]
    effect = told(sums(scattered), rigs(largest_diameter_mm=DIAMETERS))["largest_diameter_mm"]
    assert effect.spread > 0.3
    assert effect.verdict == "too little to tell"


def test_the_order_of_the_rows_does_not_matter() -> None:
    law = sums([-1 - 0.2 * mm / 100 for mm in DIAMETERS], per_percent=0.3)
    measures = rigs(largest_diameter_mm=DIAMETERS)
    straight = told(law, measures)
    turned = told(law.reverse(), measures.reverse())
    for name, effect in straight.items():
        assert (turned[name].log_ratio or 0) == pytest.approx(effect.log_ratio or 0, rel=1e-9)
        assert turned[name].rigs == effect.rigs


def test_nothing_is_told_of_what_nobody_measured() -> None:
    effects = told(sums([-1.0] * 6), rigs())
    assert all(effect.cautions == [MeasureWithout.NOT_MEASURED] for effect in effects.values())
    assert all(effect.ratio is None for effect in effects.values())
    assert all(effect.verdict == MeasureWithout.NOT_MEASURED for effect in effects.values())


def test_a_line_needs_enough_rigs() -> None:
    few: list[float | None] = [*DIAMETERS[: LEAST_RIGS - 1], None, None, None]
    effect = told(sums([-1.0] * 6), rigs(largest_diameter_mm=few))["largest_diameter_mm"]
    assert (effect.ratio, effect.cautions) == (None, [MeasureWithout.TOO_FEW_RIGS])
    assert effect.left_out == dict.fromkeys(("rig 3", "rig 4", "rig 5"), OffTheLine.NOT_MEASURED)


def test_rigs_must_differ_in_what_is_told() -> None:
    alike: list[float | None] = [300.0, 310.0, 320.0, 330.0, 340.0, 399.0]
    effect = told(sums([-1.0] * 6), rigs(largest_diameter_mm=alike))["largest_diameter_mm"]
    assert (effect.ratio, effect.cautions) == (None, [MeasureWithout.TOO_ALIKE])


def test_measures_that_go_together_cannot_be_told_apart() -> None:
    heavy: list[float | None] = [mm / 40 for mm in DIAMETERS]
    both = told(
        sums([-1.0] * 6),
        rigs(largest_diameter_mm=[*DIAMETERS], weight_water_kg_per_m=heavy),
    )
    assert both["largest_diameter_mm"].moves_with == ["weight_water_kg_per_m"]
    assert both["weight_water_kg_per_m"].moves_with == ["largest_diameter_mm"]
    assert both["largest_diameter_mm"].cautions == [MeasureWithout.MOVES_WITH]
    assert both["largest_diameter_mm"].ratio is None


def test_measures_that_do_not_are_told_each() -> None:
    both = told(
        sums([-1 - 0.2 * mm / 100 for mm in DIAMETERS]),
        rigs(largest_diameter_mm=[*DIAMETERS], weight_water_kg_per_m=[*WEIGHTS]),
    )
    assert both["largest_diameter_mm"].ratio is not None
    assert both["weight_water_kg_per_m"].ratio is not None


def test_a_rig_that_was_not_fished_beside_the_reference_is_not_on_the_line() -> None:
    law = sums([-1 - 0.2 * mm / 100 for mm in DIAMETERS]).with_columns(
        pl.when(pl.col("rig_version") == "rig 5")
        .then(pl.lit("2031 Q4"))
        .otherwise("stretch")
        .alias("stretch")
    )
    effect = told(law, rigs(largest_diameter_mm=[*DIAMETERS]))["largest_diameter_mm"]
    assert effect.left_out == {"rig 5": "not side by side with the reference"}
    assert effect.rigs == [f"rig {number}" for number in range(5)]


def test_measures_that_go_partly_together_are_told_with_a_word() -> None:
    partly: list[float | None] = [1.0, 12.0, 5.0, 20.0, 7.0, 18.0]
    both = told(
        sums([-1 - 0.2 * mm / 100 for mm in DIAMETERS]),
        rigs(largest_diameter_mm=[*DIAMETERS], weight_water_kg_per_m=partly),
    )
    assert both["largest_diameter_mm"].partly_with == ["weight_water_kg_per_m"]
    assert both["largest_diameter_mm"].ratio is not None


def test_a_few_rigs_that_happen_to_lie_on_a_line_are_no_surer_than_their_own_errors() -> None:
    """The model's error of a rig's log ratio: √(1/events + 1/the reference's)."""
    law = sums([-1.0] * 6)
    effect = told(law, rigs(largest_diameter_mm=[*DIAMETERS]))["largest_diameter_mm"]
    events = law.group_by("rig_version").agg(pl.col("total").sum())["total"]
    steps = np.array(DIAMETERS) / 100
    least = np.sqrt(1 / (events.mean() * ((steps - steps.mean()) ** 2).sum()))
    assert effect.low == pytest.approx(np.exp(-1.96 * least), rel=2e-3)
    assert effect.high == pytest.approx(np.exp(1.96 * least), rel=2e-3)


def test_rigs_tried_on_the_same_few_trips_give_numbers_or_nothing() -> None:
    """Eight rigs on three trips: the trips can't tell all eight directions apart."""
    chance = np.random.default_rng(3)
    rows = [
        {
            "outcome": "bottom_living_kg",
            "vessel": "Skua",
            "trip": f"{trip}",
            "rig_version": f"rig {rig}",
            "ground": "sand",
            "stretch": "2031 Q1",
            "length_difference_percent": "not recorded",
            "hauls": 3,
            "hauls_with_some": 3,
            "tow_hours": 9.0,
            "total": float(180 * chance.gamma(2.5, 0.4)),
        }
        for trip in range(17)
        for rig in (range(6) if trip < 3 else (0,))
    ]
    effect = told(pl.DataFrame(rows), rigs(largest_diameter_mm=[*DIAMETERS]))
    diameter = effect["largest_diameter_mm"]
    assert diameter.low is not None
    assert 0 < diameter.low < diameter.ratio < diameter.high < np.inf


def test_too_few_trips_tell_nothing() -> None:
    law = sums([-1.0] * 6, trips=1)
    effect = told(law.head(7), rigs(largest_diameter_mm=[*DIAMETERS]))["largest_diameter_mm"]
    assert effect.ratio is None
    assert effect.cautions == [MeasureWithout.TOO_FEW_TRIPS]

"""What is said where events fell all to one of two rigs: a limit on one side, and why."""

from __future__ import annotations

from typing import Literal

import polars as pl
import pytest

from pipeline.rates.effects import Effect, find_effects
from pipeline.rates.exact import limits_without_events
from reports.sentences import claim, in_brief
from schemas.outcomes import outcome

OUTCOME = vars(outcome("damage_events"))
SEPARATED = "seen with one of them only where both were fished"


def effect_of(
    rows: list[tuple[str, str, str, float, float]],
    name: str = "damage_events",
    errors: Literal["trip", "model"] = "trip",
) -> Effect:
    """Discs against bobbins; a row is rig, ground, depth, hours and events of one haul."""
    hauls = pl.DataFrame(
        rows, schema=["rig_version", "ground", "depth_band", "tow_hours", "total"], orient="row"
    ).with_row_index("trip")
    sums = hauls.with_columns(
        outcome=pl.lit(name),
        vessel=pl.lit("Skua"),
        stretch=pl.lit("2031 Q1"),
        trip=(pl.col("trip") % 12).cast(pl.String),
        hauls=pl.lit(1),
        hauls_with_some=(pl.col("total") > 0).cast(pl.Int64),
    )
    fished = sums.select("rig_version", "ground").unique()
    (effect,) = find_effects(sums, fished, "bobbins", ["ground", "depth_band"], errors, ["all"])
    return effect


# Bobbins tore on sand and never on mud, discs were on mud alone and tore there.
APART = [
    ("bobbins", "mud", "shallow", 3.0, 0.0),
    ("bobbins", "sand", "shallow", 2.0, 1.0),
    ("discs", "mud", "shallow", 4.0, 1.0),
] * 24

# Discs never tore; they were deeper than bobbins on each ground, so that no haul has its like.
DEEPER = [
    ("bobbins", "mud", "shallow", 3.0, 1.0),
    ("bobbins", "sand", "deep", 3.0, 1.0),
    ("discs", "mud", "deep", 3.0, 0.0),
    ("discs", "sand", "shallow", 3.0, 0.0),
] * 12


def test_rigs_that_no_fit_can_tell_apart_have_a_limit_where_both_were_fished() -> None:
    effect = effect_of(APART, errors="model")
    # On mud 24 tears in 96 h with discs, none in 72 h with bobbins.
    (events, hours), (none, other) = (24.0, 96.0), (0.0, 72.0)
    low, high = limits_without_events(
        *(pl.Series([n]).to_numpy() for n in (events, hours, none, other))
    )
    assert (effect.low, effect.high) == (pytest.approx(low), high)
    assert effect.ratio is None
    assert effect.method == "exact limits, stratum by stratum"
    # All hauls were in the shallow, so that depth is nothing to hold alike.
    assert effect.adjusted_for == ["ground"]
    assert SEPARATED in effect.cautions
    assert effect.verdict == "higher"


def test_events_of_a_trip_with_one_of_the_rigs_alone_count_once_unless_trips_are_alike() -> None:
    effect = effect_of(APART)
    # Of twelve trips four fished discs alone and tore six times each: four tears in 96 h.
    (events, hours), (none, other) = (4.0, 96.0), (0.0, 72.0)
    low, _ = limits_without_events(
        *(pl.Series([n]).to_numpy() for n in (events, hours, none, other))
    )
    assert effect.low == pytest.approx(low)
    assert effect.method == (
        "exact limits, stratum by stratum, each trip that fished both by itself, events of others "
        "counted once a trip"
    )


def test_the_sentence_says_where_the_reference_had_none() -> None:
    effect = vars(effect_of(APART))
    assert claim(effect, OUTCOME) == (
        "bobbins had no net damage where both were fished: net damage with discs is at least "
        f"{effect['low']:.2g} times as much"
    )
    assert in_brief(effect, OUTCOME).endswith("bobbins's, which had none where both were fished")


def test_a_rig_without_events_and_no_haul_like_the_others_has_a_penalised_limit() -> None:
    effect = effect_of(DEEPER)
    assert (effect.ratio, effect.low) == (0.0, 0.0)
    assert effect.high is not None
    assert 0.1 / 24 < effect.high < 0.5  # 24 tears in 72 h, none in 72 h: 3.7 / 24 by itself
    assert effect.method == (
        "penalised likelihood, adjusted for ground, depth_band, profile limits"
    )
    assert effect.errors == "penalised likelihood"
    assert effect.verdict == "lower"


@pytest.mark.parametrize("rows", [APART, DEEPER])
def test_weights_have_no_such_limits(rows: list[tuple[str, str, str, float, float]]) -> None:
    effect = effect_of(rows, "debris_kg")
    assert (effect.low, effect.high, effect.method) == (None, None, "no comparison")

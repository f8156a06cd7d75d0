"""Headline findings among many: counted beforehand, and intervals, p-values and verdicts agree."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import polars as pl
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest

from pipeline.rates.effects import compare_rigs
from pipeline.rates.exact import limits_without_events, p_without_events
from pipeline.rates.limits import limits_of_fit
from pipeline.rates.looks import Judging, headline_comparisons
from schemas.outcomes import HEADLINES
from tests.proofs.looks_over_seasons import RIGS, season

if TYPE_CHECKING:
    from pipeline.rates.effects import Compared


def compared(sums: pl.DataFrame) -> tuple[Compared, int]:
    judging = Judging(headline_comparisons(sums, RIGS, RIGS[0]))
    found = compare_rigs(sums, sums, RIGS[0], ["quarter"], "trip", judging=judging)
    return found, judging.comparisons


@given(
    log_ratio=st.floats(-4, 4),
    std_error=st.floats(1e-3, 5),
    freedom=st.one_of(st.integers(1, 500).map(float), st.just(np.inf)),
    many=st.integers(1, 60),
)
def test_intervals_and_p_values_agree(
    log_ratio: float, std_error: float, freedom: float, many: int
) -> None:
    found = limits_of_fit(log_ratio, std_error, freedom, Judging(many))
    assert found.low is not None
    assert found.high is not None
    assert found.p_value is not None
    assert found.p_adjusted is not None
    assert found.low_together is not None
    assert found.high_together is not None
    assert 0 <= found.low_together <= found.low <= found.high <= found.high_together < np.inf
    for p_value, low, high in (
        (found.p_value, found.low, found.high),
        (found.p_adjusted, found.low_together, found.high_together),
    ):
        if abs(p_value - 0.05) > 1e-6:
            assert (p_value < 0.05) == (low > 1 or high < 1)


@given(
    events=st.integers(1, 60),
    hours=st.floats(0.02, 1e4),
    reference_hours=st.floats(0.02, 1e4),
    many=st.integers(1, 60),
    turned=st.booleans(),
)
def test_exact_limits_and_p_values_agree(
    events: int, hours: float, reference_hours: float, many: int, *, turned: bool
) -> None:
    strata = [np.array([v]) for v in (0.0, hours, float(events), reference_hours)]
    if turned:
        strata = [*strata[2:], *strata[:2]]
    p_value = p_without_events(*strata)
    share = reference_hours / (hours + reference_hours)
    other = binomtest(events, events, share, alternative="greater").pvalue
    assert p_value == pytest.approx(min(1.0, 2 * other), rel=1e-9)
    low, high = limits_without_events(*strata, 1 - 0.05 / many)
    clear = (low or 0.0) > 1 or (high is not None and high < 1)
    if abs(p_value * many - 0.05) > 1e-6:
        assert (p_value * many < 0.05) == clear


def test_how_many_there_are_does_not_hang_on_what_was_found() -> None:
    sums = season(np.random.default_rng(7))
    nothing = sums.with_columns(pl.lit(0.0).alias("total"), pl.lit(0).alias("hauls_with_some"))
    many = headline_comparisons(sums, RIGS, RIGS[0])
    assert many == len(HEADLINES) * (len(RIGS) - 1)
    assert headline_comparisons(nothing, RIGS, RIGS[0]) == many


def test_only_headline_findings_that_stand_side_by_side_are_judged_together() -> None:
    sums = season(np.random.default_rng(7))
    other = sums.with_columns(
        pl.col("outcome").replace({"damage_events": "debris_kg", "bottom_living_kg": "other_kg"})
    )
    found, many = compared(pl.concat([sums, other]))
    judged = [effect for effect in found.effects if effect.p_adjusted is not None]
    assert {effect.outcome for effect in judged} == set(HEADLINES)
    assert len(judged) == many
    for effect in found.effects:
        if effect.p_adjusted is None:
            assert effect.verdict == effect.verdict_alone
            assert effect.low_together is None


def test_the_table_of_a_model_holds_its_effects() -> None:
    found, _ = compared(season(np.random.default_rng(7)))
    models = {model.name: model for model in found.models}
    assert len(models) == len(found.models)
    for effect in found.effects:
        assert effect.model is not None
        model = models[effect.model]
        (own,) = [t for t in model.terms if t.term == f"rig_version: {effect.rig}"]
        assert (own.estimate, own.std_error, own.freedom, own.p_value, own.low, own.high) == (
            effect.log_ratio,
            effect.std_error,
            effect.freedom,
            effect.p_value,
            effect.low,
            effect.high,
        )
        assert own.t == pytest.approx(effect.log_ratio / effect.std_error)
        assert "rig_version" in model.formula
        assert model.adjusted_for == effect.adjusted_for

"""The line of a length difference against statsmodels, and Student's t against scipy."""

from __future__ import annotations

import numpy as np
import pytest
import statsmodels.api as sm
from scipy.special import stdtrit

from pipeline.rigs.stretching.stretch_line import Spell, fit_line
from pipeline.rigs.stretching.student import t_95


@pytest.mark.parametrize("degrees", [*range(1, 60), 100, 101, 1000, 5001])
def test_t_is_that_of_scipy(degrees: int) -> None:
    assert t_95(degrees) == pytest.approx(float(stdtrit(degrees, 0.975)), rel=1e-9)


@pytest.mark.parametrize(("degrees", "t"), [(1, 12.706), (2, 4.303), (10, 2.228), (30, 2.042)])
def test_t_is_that_of_the_printed_tables(degrees: int, t: float) -> None:
    # Student's t, two-sided 5 %, as in any printed table.
    assert t_95(degrees) == pytest.approx(t, abs=5e-4)


def test_there_is_no_t_without_a_degree_of_freedom() -> None:
    with pytest.raises(ValueError, match="less than one"):
        t_95(0)


def spells_of(sizes: list[int], *, first_even: bool, seed: int) -> list[Spell]:
    """Spells of so many checks each; but for the first, all start even."""
    chance = np.random.default_rng(seed)
    spells, start = [], 0.0
    for place, size in enumerate(sizes):
        hours = start + np.cumsum(chance.uniform(5, 80, size))
        even = first_even or place > 0
        level = 0.0 if even else 0.4
        percent = level + 0.006 * (hours - start) + chance.normal(0, 0.08, size)
        spells.append(Spell(start if even else None, tuple(hours), tuple(percent)))
        start = float(hours[-1])
    return spells


def design(spells: list[Spell]) -> np.ndarray:
    """Hours from the start; a column of ones for a spell with a level of its own."""
    columns = [[h - (s.even_at or 0.0) for s in spells for h in s.hours]]
    columns += [
        [float(s is level) for s in spells for _ in s.hours]
        for level in spells
        if level.even_at is None
    ]
    return np.array(columns).T


@pytest.mark.parametrize("first_even", [True, False])
@pytest.mark.parametrize("sizes", [[4], [3, 5], [1, 4], [6, 1, 1, 3]])
def test_rate_and_intervals_are_those_of_statsmodels(sizes: list[int], *, first_even: bool) -> None:
    spells = spells_of(sizes, first_even=first_even, seed=sum(sizes))
    percent = np.array([p for spell in spells for p in spell.percent])
    ordinary = sm.OLS(percent, design(spells)).fit()
    line = fit_line(spells)
    assert line is not None
    assert line.slope() == pytest.approx((ordinary.params[0], *ordinary.conf_int()[0]), rel=1e-9)
    for number, spell in enumerate(spells):
        pivot = spell.pivot
        assert pivot is not None
        ahead = np.zeros(design(spells).shape[1])
        ahead[0] = 500.0 - (spell.even_at or 0.0)
        if spell.even_at is None:
            assert number == 0
            ahead[1] = 1.0
        told = ordinary.get_prediction(ahead).summary_frame()
        expected = told[["mean", "mean_ci_lower", "mean_ci_upper"]].to_numpy()[0]
        assert line.at(pivot, 500.0) == pytest.approx(tuple(expected), rel=1e-9)

"""What is said of damage that a log tells as yes or no."""

from __future__ import annotations

from functools import partial

import pytest

from pipeline.rates.verdict import verdict
from schemas.codes import HoursClaim, Verdict
from tests.proofs.yes_or_no_over_seasons import Trial, claim_of, verdict_of
from tests.spec.text_tables import cases_under, number

cases = partial(cases_under, "yes_or_no.md")


def shares(case: dict[str, str]) -> tuple[float, float]:
    one, other = case["shares damaged"].split(" and ")
    return float(one), float(other)


@pytest.mark.parametrize("case", cases("What is called no different"), ids=str)
def test_no_different_are_rates_that_are_not(case: dict[str, str]) -> None:
    low, high = number(case["rates behind from"]), number(case["rates to"])
    behind = None if low is None or high is None else (low, high)
    said = verdict(
        number(case["hauls from"]),
        number(case["to"]),
        can_tell=True,
        matters=2.0,
        behind=lambda: behind,
    )
    assert said == case["says"]


@pytest.mark.parametrize(
    "case", cases("What is said of trials in which the truth is known"), ids=str
)
def test_a_rig_that_halves_tears_is_not_called_no_different(case: dict[str, str]) -> None:
    trial = Trial(shares(case), int(case["trips"]), float(case["luck"]), float(case["tears"]))
    said = [verdict_of(trial, seed) for seed in range(int(case["of trials"]))]
    none = said.count(Verdict.NO_DIFFERENCE)
    assert int(case["at least"]) <= none <= int(case["no different at most"])


@pytest.mark.parametrize("case", cases("Hours towed"), ids=str)
def test_tears_by_the_hour_are_seldom_called_neither(case: dict[str, str]) -> None:
    trial = Trial(shares(case), int(case["trips"]), float(case["luck"]), 0.5, spread_of_hours=0.5)
    said = [claim_of(trial, seed) for seed in range(int(case["of trials"]))]
    assert said.count(HoursClaim.NEITHER) <= int(case["neither at most"])

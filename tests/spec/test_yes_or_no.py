"""What is said of damage that a log tells as yes or no."""

from __future__ import annotations

from datetime import datetime
from functools import partial

import numpy as np
import polars as pl
import pytest

from pipeline.rates.effects import find_effects
from pipeline.rates.looks import Judging
from pipeline.rates.on_the_mix import find_on_the_mix, mixes_of
from pipeline.rates.over_boats import find_over_boats
from pipeline.rates.twin_tows import find_twin_tows
from pipeline.rates.verdict import verdict
from schemas.codes import HoursClaim, Verdict
from tests.proofs.yes_or_no_over_seasons import Trial, claim_of, hauls_of, summed, verdict_of
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


SEASONS = 20
HALVED = Trial((0.9, 0.9), 8, 0.0, 0.5)
UNLIKE = Trial((0.1, 0.9), 20, 0.0, 0.5)


def test_boats_together_call_no_rig_that_halves_tears_no_different() -> None:
    said = []
    for seed in range(SEASONS):
        boats = [
            hauls_of(HALVED, 100 * seed + boat).with_columns(vessel=pl.lit(f"boat {boat}"))
            for boat in range(4)
        ]
        sums = summed(pl.concat(boats))
        fished = sums.select("rig_version", "ground").unique()
        found = find_over_boats(sums, fished, "rope", ["ground", "vessel"], "trip")
        said += [over.mean.verdict for over in found if over.mean is not None]
    assert len(said) == SEASONS
    assert Verdict.NO_DIFFERENCE not in said
    assert Verdict.LOWER in said


def on_the_mix(trial: Trial, seed: int) -> Verdict:
    sums = summed(hauls_of(trial, seed))
    fished = sums.group_by("rig_version", "ground").agg(pl.col("tow_hours").sum())
    effects = find_effects(sums, fished, "rope", ["ground"], "trip")
    mixes = mixes_of(fished, {})
    return find_on_the_mix(sums, effects, ["ground"], "trip", mixes, Judging())[0].verdict


def test_on_a_mix_of_unlike_grounds_a_halving_is_no_no_difference() -> None:
    said = [on_the_mix(UNLIKE, seed) for seed in range(SEASONS)]
    assert said.count(Verdict.NO_DIFFERENCE) <= 1
    alike = [on_the_mix(Trial((0.4, 0.6), 40, 0.0, 1.0), seed) for seed in range(SEASONS)]
    assert alike.count(Verdict.NO_DIFFERENCE) >= SEASONS / 2


def in_one_tow(ratio: float, tows: int, seed: int) -> Verdict:
    """What is said of one trip of twin tows, of which most tear both nets."""
    chance = np.random.default_rng([25, seed])
    luck = chance.gamma(1.5, 1 / 1.5, tows)
    rows = [
        ("Skua", "1", datetime(2031, 1, 1 + tow // 20, tow % 20 + 1), rig, 3.0, float(torn), None)
        for tow in range(tows)
        for rig, times in (("rope", 1.0), ("discs", ratio))
        for torn in [chance.random() < -np.expm1(-2.0 * luck[tow] * times)]
    ]
    names = ["vessel", "trip", "shot_at", "rig_version", "tow_hours", "damage_events"]
    nets = pl.DataFrame(rows, [*names, "bottom_living_kg"], orient="row").with_columns(
        net_side=pl.lit(None, pl.String)
    )
    return find_twin_tows(nets, "rope", Judging())[0].verdict


def test_in_one_tow_no_different_is_what_tows_with_one_net_torn_bear_as_well() -> None:
    halved = [in_one_tow(0.5, 60, seed) for seed in range(SEASONS)]
    alike = [in_one_tow(1.0, 300, seed) for seed in range(SEASONS)]
    assert Verdict.NO_DIFFERENCE not in halved
    assert alike.count(Verdict.NO_DIFFERENCE) >= SEASONS / 2


@pytest.mark.parametrize("rate", [0.05, 0.5, 2.0, 4.0])
@pytest.mark.parametrize("times", [0.3, 0.8, 1.4])
def test_tows_with_one_net_torn_are_on_the_other_side_of_the_truth(
    rate: float, times: float
) -> None:
    """Of tows by these rates: torn with the one net alone to torn with the other alone."""
    one, other = (-np.expm1(-each) for each in (times * rate, rate))
    alone = one * (1 - other) / (other * (1 - one))
    of_nets = one / other
    assert min(alone, of_nets) < times < max(alone, of_nets)

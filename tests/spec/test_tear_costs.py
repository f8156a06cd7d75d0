"""What a tear costs, and over which fishing two rigs are told in money."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import polars as pl
import pytest

from pipeline.damage.shared_mix import LEAST_COVERED, shared_mix
from pipeline.damage.tear_costs import TearAmounts, parts_known, scatter

TRIPS = 4
WEIGHTS = np.ones((TRIPS, 2))


def amounts(*rows: tuple[str, str, str, int, float, float], worth: float | None) -> TearAmounts:
    """Each row: what was written, the rig, the ground, the trip's number, tears, total."""
    names = ["outcome", "rig_version", "ground", "trip_number", "events", "total"]
    return TearAmounts(pl.DataFrame(rows, schema=names, orient="row"), worth, WEIGHTS)


BOTH = amounts(
    ("mending_cost", "bobbins", "stones", 0, 6.0, 600.0),
    ("mending_cost", "bobbins", "sand", 1, 4.0, 200.0),
    ("mending_cost", "discs", "sand", 2, 4.0, 40.0),
    ("hours_lost", "bobbins", "stones", 0, 5.0, 10.0),
    ("hours_lost", "discs", "sand", 3, 15.0, 10.0),
    worth=200.0,
)


@pytest.mark.parametrize(
    ("rig", "ground", "each", "by_all_rigs"),
    [
        # 800 / 10 mending and 10 / 5 hours at 200: its own tears say both.
        ("bobbins", None, 80 + 400, ()),
        ("bobbins", "stones", 100 + 400, ()),
        # Its four tears with a bill are too few: 840 / 14 is that of all rigs.
        ("discs", None, 60 + 200 * 10 / 15, ("mending_cost",)),
        # On sand all rigs had eight with a bill, 240 together; fifteen of its own have hours.
        ("discs", "sand", 30 + 200 * 10 / 15, ("mending_cost",)),
        # No tear of it is on stones: those of all rigs there speak for it.
        ("discs", "stones", 100 + 400, ("mending_cost", "hours_lost")),
        # Nobody tore on mud: all tears of the season speak for it.
        ("bobbins", "mud", 60 + 200 * 20 / 20, ("mending_cost", "hours_lost")),
    ],
)
def test_what_a_tear_costs(
    rig: str, ground: str | None, each: float, by_all_rigs: tuple[str, ...]
) -> None:
    told = BOTH.of(rig, ground)
    assert told.each == pytest.approx([each] * 3)
    assert told.by_all_rigs == by_all_rigs


def test_a_part_that_nobody_wrote_or_that_has_no_worth_is_left_out() -> None:
    assert parts_known(BOTH.sums, 200.0) == ["mending_cost", "hours_lost"]
    assert parts_known(BOTH.sums, None) == ["mending_cost"]
    lost = BOTH.sums.filter(pl.col("outcome") == "hours_lost")
    assert parts_known(lost, 200.0) == ["hours_lost"]
    assert parts_known(lost, None) == []


def test_the_draws_weigh_whole_trips() -> None:
    bills = amounts(
        *(("mending_cost", "bobbins", "sand", t, 5.0, 500.0 + 50 * (t % 2)) for t in range(4)),
        worth=None,
    )
    weights = np.array([[99.0, 1.0], [1.0, 99.0]] * 2)
    told = TearAmounts(bills.sums, None, weights).of("bobbins", None)
    assert told.each == pytest.approx([105.0, 100.1, 109.9])
    assert told.trips == TRIPS


def test_a_rig_whose_few_bills_agree_is_no_surer_than_all_rigs_bills_let_it_be() -> None:
    bills = amounts(
        *(("mending_cost", "even", "sand", t, 2.0, 200.0 + t % 2) for t in range(TRIPS)),
        *(("mending_cost", "odd", "sand", t, 2.0, 100.0 + 150.0 * t) for t in range(TRIPS)),
        worth=None,
    )
    weights = np.random.default_rng(1).standard_exponential((TRIPS, 400))
    even, odd = (
        TearAmounts(bills.sums, None, weights).of(rig, None).each for rig in ("even", "odd")
    )
    least = np.sqrt(scatter(bills.sums) / (2 * TRIPS))
    assert np.log(even[1:] / even[0]).std() == pytest.approx(least)
    assert np.log(odd[1:] / odd[0]).std() >= least * (1 - 1e-9)


def test_the_scatter_is_that_about_each_rig_s_own_mean() -> None:
    one = amounts(
        *(("mending_cost", "even", "sand", t, 1.0, (90.0, 110.0)[t % 2]) for t in range(TRIPS)),
        *(("mending_cost", "dear", "sand", t, 1.0, (900.0, 1100.0)[t % 2]) for t in range(TRIPS)),
        worth=None,
    )
    # Eight tears off by a tenth, two of the eight spent on the means.
    assert scatter(one.sums) == pytest.approx(8 * 0.01 / 6, rel=0.02)
    assert scatter(one.sums.head(1)) == 0


@pytest.mark.parametrize("seed", range(3))
def test_the_scatter_of_many_bills_is_that_of_the_law_they_come_from(seed: int) -> None:
    spread = 1.2
    bills = np.random.default_rng(seed).lognormal(5, spread, 4000)
    tears = pl.DataFrame({"rig_version": "any", "events": 1.0, "total": bills})
    assert scatter(tears) >= (np.exp(spread**2) - 1) * 0.9


def sums(**hours: dict[str, float]) -> pl.DataFrame:
    """The hours of each rig on each ground, by one boat in one quarter."""
    rows = [(rig, ground, each) for rig, own in hours.items() for ground, each in own.items()]
    return pl.DataFrame(
        rows, schema=["rig_version", "ground", "tow_hours"], orient="row"
    ).with_columns(vessel=pl.lit("Skua"), stretch=pl.lit("2031 Q1"))


def mix_of(landed: pl.DataFrame, tears: pl.DataFrame) -> list[tuple[str, float]] | None:
    both = {"value": landed, "damage_cost": tears}
    models = {
        name: SimpleNamespace(met=part.select("ground").unique()) for name, part in both.items()
    }
    fit = SimpleNamespace(factors=("ground",), models=models)
    mix = shared_mix(both, fit, "discs", "bobbins")  # type: ignore[arg-type] # all it asks of a fit
    return None if mix is None else [*mix.shares.iter_rows()]


OF_BOBBINS = {"rocky": 40.0, "sand": 45.0, "mud": 15.0}


def test_money_is_told_over_the_reference_s_hours_where_both_rigs_were() -> None:
    landed = sums(bobbins=OF_BOBBINS, discs={"sand": 9.0, "mud": 90.0})
    assert mix_of(landed, landed) == [("mud", 0.25), ("sand", 0.75)]


def test_a_ground_counts_only_where_both_were_known_of_both_rigs() -> None:
    landed = sums(bobbins=OF_BOBBINS, discs={"sand": 9.0, "mud": 90.0})
    tears = sums(bobbins=OF_BOBBINS, discs={"sand": 9.0})
    assert mix_of(landed, tears) == [("sand", 1.0)]


def test_ground_that_is_not_known_is_not_shared() -> None:
    landed = sums(bobbins={"unknown": 50.0, "sand": 50.0}, discs={"unknown": 50.0, "sand": 50.0})
    assert mix_of(landed, landed) == [("sand", 1.0)]


@pytest.mark.parametrize(("bounds", "told"), [(1.001, [("mud", 1.0)]), (0.999, None), (0.0, None)])
def test_too_little_of_the_reference_s_fishing_is_not_told(
    bounds: float, told: list[tuple[str, float]] | None
) -> None:
    shared = bounds * LEAST_COVERED * 100.0
    of_bobbins = {"rocky": 100.0 - shared} | ({"mud": shared} if shared else {})
    landed = sums(bobbins=of_bobbins, discs={"mud": 90.0})
    assert mix_of(landed, landed) == told

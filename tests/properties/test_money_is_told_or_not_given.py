"""Whatever was caught and torn, money is a number that can be believed, or a reason is given."""

from __future__ import annotations

from dataclasses import asdict
from math import isfinite
from typing import TYPE_CHECKING

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.damage.money import MoneyRecord, find_money

if TYPE_CHECKING:
    from pipeline.damage.money_figures import Money

some = settings(max_examples=25, deadline=None)
seeds = st.integers(0, 2**32 - 1)
KEYS = ["vessel", "trip", "rig_version", "ground", "stretch"]
ADJUST = ["ground", "vessel"]


def random_hauls(size: int, seed: int) -> pl.DataFrame:
    """Hauls of a few rigs, grounds and boats; some never met, some had no damage at all."""
    chance = np.random.default_rng(seed)
    rig, ground = chance.integers(0, 4, size), chance.integers(0, 3, size)
    hours = chance.uniform(0.02, 12, size).round(3)
    quiet = chance.random((4, 3)) < chance.choice([0.1, 0.4, 0.8])
    met = chance.random((4, 3)) < chance.choice([0.5, 1.0])
    met[0, 0] = met[1, 0] = True
    harm = chance.poisson(0.3 * hours * chance.gamma(1, 1, size)) * ~quiet[rig, ground]
    trip = chance.integers(0, max(2, size // 4), size)
    hauls = pl.DataFrame(
        {
            "vessel": [f"boat {number % 2}" for number in trip],
            "trip": trip.astype(str),
            "rig_version": [f"rig {number}" for number in rig],
            "ground": [f"ground {number}" for number in ground],
            "stretch": [f"2031 Q{1 + number % 3}" for number in trip],
            "tow_hours": hours,
            "value": (hours * chance.lognormal(5, 1, size) * (chance.random(size) < 0.9)).round(2),
            "torn": harm.astype(float),
            "bill": (harm * chance.lognormal(5, 1.5, size)).round(2),
            "lost": harm * chance.lognormal(0, 1, size).round(2),
            "written": chance.random(size) < chance.choice([0.1, 0.5, 1.0]),
        }
    )
    return hauls.filter(pl.Series(met[rig, ground]))


def record_of(hauls: pl.DataFrame, worth: float = 210.0) -> MoneyRecord:
    """The sums of catch and damage, as the program makes them."""
    landed, tears = (
        hauls.group_by(KEYS)
        .agg(
            pl.len().alias("hauls"),
            (pl.col(name) > 0).sum().alias("hauls_with_some"),
            pl.col("tow_hours").sum(),
            pl.col(name).sum().alias("total"),
        )
        .sort(KEYS)
        for name in ("value", "torn")
    )
    written = hauls.filter(pl.col("written") & (pl.col("torn") > 0))
    amounts = pl.concat(
        written.group_by(pl.lit(outcome).alias("outcome"), *KEYS)
        .agg(pl.col("torn").sum().alias("events"), pl.col(name).sum().alias("total"))
        .sort(KEYS)
        for outcome, name in (("mending_cost", "bill"), ("hours_lost", "lost"))
    )
    return MoneyRecord(landed, tears, amounts, worth)


def fished(hauls: pl.DataFrame) -> pl.DataFrame:
    return hauls.select("rig_version", "ground").unique()


def money_of(hauls: pl.DataFrame, worth: float = 210.0) -> list[Money]:
    return find_money(record_of(hauls, worth), fished(hauls), "rig 0", ADJUST)


def numbers_of(told: object) -> dict[str, float]:
    """Every number of a finding by its path."""
    if isinstance(told, dict):
        return {
            f"{name}.{path}": number
            for name, part in told.items()
            for path, number in numbers_of(part).items()
        }
    return {"": told} if isinstance(told, float) else {}


def check_every_figure_is_finite(money: Money) -> None:
    assert all(map(isfinite, numbers_of(asdict(money)).values())), money


def check_a_figure_is_given_or_a_reason(money: Money) -> None:
    in_full = set(money.known) == {"value", "damage_cost"}
    assert not in_full or (money.net_change is None) <= bool(money.cautions)
    if money.net_change is None:
        assert money.verdict == "can't be told"
        assert money.break_even is None
        assert not in_full or (money.of_rig.value, money.saved) == (None, None)


def check_what_is_left_adds_up(money: Money) -> None:
    if money.net_change is None:
        return
    for whose in (money.of_rig, money.of_reference):
        left = whose.value.estimate - whose.cost.estimate
        assert whose.net.estimate == pytest.approx(left, rel=1e-9, abs=1e-9)
    change = money.of_rig.net.estimate - money.of_reference.net.estimate
    assert money.net_change.estimate == pytest.approx(change, rel=1e-9, abs=1e-9)
    if money.break_even is not None:
        # At the bound nothing is gained: what is saved is what the catch has lost.
        lost = money.break_even.estimate * money.of_reference.value.estimate
        assert lost == pytest.approx(money.saved.estimate, rel=1e-9, abs=1e-9)


def check_another_order_of_rows_changes_nothing(told: list[Money], expected: list[Money]) -> None:
    for one, other in zip(told, expected, strict=True):
        assert (one.rig, one.ground, one.verdict) == (other.rig, other.ground, other.verdict)
        assert numbers_of(asdict(one)) == pytest.approx(numbers_of(asdict(other)), rel=1e-6)


def check_another_currency_scales_every_sum_of_money_and_no_share(
    told: list[Money], expected: list[Money], factor: float
) -> None:
    no_money = ("catch_change", "break_even", "reference_hours", "mix_hours")
    for one, other in zip(told, expected, strict=True):
        scaled = numbers_of(asdict(one))
        for path, number in numbers_of(asdict(other)).items():
            scale = 1.0 if path.startswith(no_money) else factor
            if path.startswith("hours_to_earn_back"):
                scale = 1 / factor
            # Differences of large sums keep the last digits of those.
            assert scaled[path] == pytest.approx(number * scale, rel=1e-5, abs=1e-6 * scale)
        assert one.verdict == other.verdict


@some
@given(size=st.integers(40, 250), seed=seeds, factor=st.sampled_from([1e-3, 0.1358, 7.46, 1e4]))
def test_money_can_be_believed_and_is_the_same_in_any_order_and_any_currency(
    size: int, seed: int, factor: float
) -> None:
    hauls = random_hauls(size, seed)
    record = record_of(hauls)
    found = money_of(hauls)
    for money in found:
        check_every_figure_is_finite(money)
        check_a_figure_is_given_or_a_reason(money)
        check_what_is_left_adds_up(money)

    assert find_money(record, fished(hauls), "rig 0", ADJUST) == found
    tables = (record.landed, record.tears, record.tear_amounts)
    mixed = (table.sample(fraction=1.0, shuffle=True, seed=seed) for table in tables)
    in_other_order = MoneyRecord(*mixed, record.hour_worth)
    check_another_order_of_rows_changes_nothing(
        find_money(in_other_order, fished(hauls).reverse(), "rig 0", ADJUST), found
    )
    in_other_currency = hauls.with_columns(pl.col("value", "bill") * factor)
    check_another_currency_scales_every_sum_of_money_and_no_share(
        money_of(in_other_currency, 210.0 * factor), found, factor
    )


@some
@given(seed=seeds)
def test_the_same_trips_under_another_name_change_nothing(seed: int) -> None:
    hauls = random_hauls(200, seed).with_columns(
        pl.when(pl.col("rig_version") == "rig 1")
        .then(pl.lit("rig 2"))
        .otherwise("rig_version")
        .alias("rig_version")
    )
    own = hauls.filter(pl.col("rig_version") == "rig 0")
    twin = own.with_columns(rig_version=pl.lit("twin"), trip="again " + pl.col("trip"))
    rest = hauls.filter(pl.col("rig_version") != "rig 0")
    for money in money_of(pl.concat([own, twin, rest])):
        if money.rig == "twin" and money.ground == "all" and money.net_change is not None:
            assert money.net_change.estimate == pytest.approx(0, abs=1e-6)
            if money.net_change.low is not None:
                assert money.net_change.low <= 1e-6
                assert money.net_change.high >= -1e-6
            assert money.verdict == "can't be told"

"""What says nothing of two rigs moves neither their ratio nor how sure it is.

Rigs tried for a haul, one haul on another rig's bad trip, heavy hauls of the better rig, terms that
differ within trips, and weeks between a rig that was put away and the next.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import polars as pl
import pytest

from pipeline.rates.diagnostics import check_model
from pipeline.rates.effects import Effect, find_effects
from pipeline.rates.fits import Question, fit_question
from pipeline.rates.one_after_other import were_one_after_other
from pipeline.rates.sensitivity import without_the_most
from pipeline.rates.spells import IN_TIME
from tests.spec.fished_in_turn import fished

if TYPE_CHECKING:
    from numpy.typing import NDArray

DAMAGE, FISH = "damage_events", "bottom_living_kg"
FACTORS = ["ground", "vessel", "quarter"]
CONDITIONS = ["rig_version", "stretch", *FACTORS]


def hauls_of(columns: dict[str, object]) -> pl.DataFrame:
    """Hauls with their patterns; what is not said of them is alike."""
    alike = {"vessel": "Auk", "ground": "sand", "quarter": "Q1", "stretch": "2031"}
    given = pl.DataFrame(columns).with_columns(pl.col("trip").cast(pl.String))
    lacking = {name: pl.lit(word) for name, word in alike.items() if name not in columns}
    hauls = given.with_columns(**lacking).with_row_index("haul")
    return hauls.with_columns(
        haul=pl.col("haul").cast(pl.String),
        pattern=pl.struct(CONDITIONS).rank("dense"),
        shot_at=pl.lit(None, pl.Datetime),
    )


def summed(hauls: pl.DataFrame, outcome: str) -> pl.DataFrame:
    keys = ["vessel", "trip", "pattern", "rig_version", "ground", "quarter", "stretch"]
    return (
        hauls.group_by(keys)
        .agg(
            pl.len().cast(pl.Int64).alias("hauls"),
            (pl.col("amount") > 0).sum().cast(pl.Int64).alias("hauls_with_some"),
            pl.col("tow_hours").sum(),
            pl.col("amount").cast(pl.Float64).sum().alias("total"),
        )
        .with_columns(outcome=pl.lit(outcome))
        .sort(keys)
    )


def effect_of(hauls: pl.DataFrame, rig: str, outcome: str = DAMAGE) -> Effect:
    sums = summed(hauls, outcome)
    there = sums.select("rig_version", "ground").unique()
    effects = find_effects(sums, there, "old", FACTORS, "trip", ["all"])
    return next(effect for effect in effects if effect.rig == rig)


def of_two_boats(tried: int, seed: int = 1) -> pl.DataFrame:
    """Twelve trips of two boats that tear unlike; so many other rigs are tried for a haul each."""
    chance = np.random.default_rng(seed)
    trip = np.repeat(np.arange(12), 9)
    boat, first = trip % 2, np.arange(len(trip)) % 9 == 0
    new = chance.random(len(trip)) < np.where(boat, 0.25, 0.75)
    ground = chance.integers(0, 3, len(trip))
    events = chance.poisson(0.4 * np.where(boat, 4, 1) * (1 + ground / 2))
    rig = np.where(new, "new", "old").astype(object)
    is_tried = first & (trip < tried)
    rig[is_tried] = [f"tried {number}" for number in trip[is_tried]]
    return hauls_of(
        {
            "trip": trip,
            "vessel": np.array(["Auk", "Tern"])[boat],
            "rig_version": rig.astype(str),
            "ground": np.array(["sand", "mud", "stones"])[ground],
            "quarter": np.where(trip < 6, "Q1", "Q2"),
            "tow_hours": np.full(len(trip), 4.0),
            "amount": np.where(is_tried, 1, events),
        }
    )


@pytest.mark.parametrize("tried", [1, 4, 6])
def test_rigs_tried_for_a_haul_cost_the_others_no_condition(tried: int) -> None:
    alone = of_two_boats(tried).filter(~pl.col("rig_version").str.starts_with("tried"))
    with_tried, without = effect_of(of_two_boats(tried), "new"), effect_of(alone, "new")
    assert with_tried.adjusted_for == FACTORS == without.adjusted_for
    assert (with_tried.ratio, with_tried.low) == pytest.approx((without.ratio, without.low))


def of_one_bad_trip(rig: str) -> pl.DataFrame:
    """Trips of two rigs in turn; the second tore ten times, its first haul was with `rig`."""
    trip = np.repeat(np.arange(12), 8)
    haul = np.arange(len(trip)) % 8
    rigs = np.where(trip % 2, "old", "new")
    rigs[(trip == 1) & (haul == 0)] = rig
    events = np.where((trip == 1) & (haul > 0) & (haul < 6), 2, 0)
    return hauls_of(
        {
            "trip": trip,
            "rig_version": rigs,
            "tow_hours": np.full(len(trip), 4.0),
            "amount": events,
        }
    )


def test_one_haul_of_the_other_rig_on_a_bad_trip_settles_nothing() -> None:
    """Of ten tears chance gives all to the seven of eight hauls in (7/8)¹⁰: in one of four."""
    apart, beside = (effect_of(of_one_bad_trip(rig), "new") for rig in ("old", "new"))
    assert apart.p_value == pytest.approx(1.0)
    assert beside.p_value == pytest.approx(2 * (7 / 8) ** 10)
    assert {apart.verdict, beside.verdict} == {"too little to tell"}


def test_a_rig_that_catches_more_still_does_without_the_heaviest_hauls() -> None:
    told, trimmed = [], []
    for seed in range(12):
        chance = np.random.default_rng(seed)
        trip = np.repeat(np.arange(40), 8)
        new = np.tile([True, False], len(trip) // 2)
        kilos = chance.lognormal(3, 0.4, len(trip)) * np.where(new, 1.6, 1.0)
        hauls = hauls_of(
            {
                "trip": trip,
                "rig_version": np.where(new, "new", "old"),
                "tow_hours": np.full(len(trip), 4.0),
                "amount": kilos,
            }
        ).with_columns(outcome=pl.lit(FISH), catch_kg=pl.col("amount"))
        without = without_the_most(hauls)
        assert without is not None
        of_pattern = hauls.select("pattern", *CONDITIONS).unique()
        sums = without.join(of_pattern, on="pattern").drop("outcome")
        there = sums.select("rig_version", "ground").unique()
        (effect,) = find_effects(
            sums.with_columns(outcome=pl.lit(FISH)), there, "old", FACTORS, "trip", ["all"]
        )
        told.append(effect_of(hauls, "new", FISH).log_ratio)
        trimmed.append(effect.log_ratio)
    assert np.mean(trimmed) == pytest.approx(np.mean(told), abs=0.02)
    assert np.mean(told) == pytest.approx(np.log(1.6), abs=0.05)


def scatter_of(seed: int, luck: float, *, yes_or_no: bool) -> tuple[float, bool]:
    """By how much trips vary more than hauls account for, and whether that is beyond chance."""
    chance = np.random.default_rng(seed)
    trip = np.repeat(np.arange(12), 10)
    of_trip: NDArray[np.float64] = np.exp(chance.normal(0, luck, 12))
    hours = chance.uniform(2, 5, len(trip))
    events = chance.poisson(0.3 * hours * of_trip[trip])
    hauls = hauls_of(
        {
            "trip": trip,
            "rig_version": np.tile(["new", "old"], len(trip) // 2),
            "ground": chance.integers(0, 4, len(trip)).astype(str),
            "quarter": chance.integers(0, 3, len(trip)).astype(str),
            "tow_hours": hours,
            "amount": np.minimum(events, 1) if yes_or_no else events,
        }
    )
    question = Question(DAMAGE, "all", "old", ("ground", "quarter"), "trip")
    check = check_model(question, "", fit_question(question, summed(hauls, DAMAGE)), hauls)
    assert check.trips_against_hauls is not None
    assert check.by_chance is not None
    return check.trips_against_hauls, check.trips_against_hauls > check.by_chance


@pytest.mark.parametrize("yes_or_no", [False, True])
def test_hauls_that_are_independent_are_not_said_to_go_with_their_trip(*, yes_or_no: bool) -> None:
    """With seven terms on twelve trips, most of which differ within a trip."""
    found = [scatter_of(seed, 0.0, yes_or_no=yes_or_no) for seed in range(60)]
    assert np.mean([times for times, _ in found]) == pytest.approx(1.0, abs=0.1)
    assert np.mean([beyond for _, beyond in found]) <= 0.1
    unlike = [scatter_of(seed, 0.7, yes_or_no=yes_or_no) for seed in range(20)]
    assert np.mean([beyond for _, beyond in unlike]) >= 0.7


@pytest.mark.parametrize(
    ("turns", "is_so"),
    [
        (["30 old; 30 new"], True),
        (["30 new; 30 old"], True),
        (["30 old; 30 new", "20 old; 40 new"], True),
        (["30 old; 30 new; 30 old"], False),
        (["30 old; 30 new", "30 new; 30 old"], False),
        (["30 old; 3 new; 20 old; 30 new"], True),
        (["30 old; 10 chain; 30 new"], True),
        (["30 old", "30 new"], False),
        (["5 old;" + "1 new; 1 old;" * 40 + "5 new"], False),
        (["30 old; 4 new; 1 old; 30 new"], True),
        (["30 old; 30 new", "40 old"], True),
    ],
)
def test_rigs_that_were_changed_once_and_all_the_same_way_are_one_after_the_other(
    turns: list[str], *, is_so: bool
) -> None:
    """A try of fewer than five hauls is passed over; a boat with one of them says nothing."""
    boats = [fished(text, f"boat {number}") for number, text in enumerate(turns)]
    assert were_one_after_other(pl.concat(boats).sort(IN_TIME), "new", "old") is is_so

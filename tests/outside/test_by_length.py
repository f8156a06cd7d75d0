"""Fish by length, against statsmodels and laws put in.

References: `statsmodels.api.GLM` (Poisson, log of hours as offset), a band at a time, and refitted
without each trip; `statsmodels.discrete.conditional_models.ConditionalPoisson` within tows, each
band of a tow a group. No worked example of catches by length was at hand to hold it to.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import pairwise
from math import log
from typing import TYPE_CHECKING, Any

import numpy as np
import polars as pl
import pytest
import statsmodels.api as sm
from hypothesis import given, settings
from hypothesis import strategies as st
from statsmodels.discrete.conditional_models import ConditionalPoisson

from pipeline.rates.by_length import find_by_length
from pipeline.rates.length_bands import TELL, bands_of, edges_for, in_bands
from schemas.codes import Caution, Verdict
from schemas.settings import Model

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from pipeline.rates.by_length import BySize

FIRST_SHOT = datetime(2031, 4, 2, 5, 40)
CLASSES = range(15, 45)
TRUTH = 1.6
"""What twice the length truly makes of the ratio."""
EDGES = Model(length_edges_cm={"PLE": (24, 28, 33)})


def season(
    seed: int, trips: int = 24, tows: int = 5, *, at_once: bool = False, per_doubling: float = TRUTH
) -> tuple[pl.DataFrame, pl.DataFrame]:
    """Hauls and lengths of discs and hoppers, turn about within each trip, or both in each tow.

    Trips differ in how many fish there are and in how large they are, and hauls in how many.
    """
    chance = np.random.default_rng(seed)
    lengths = np.array(CLASSES, dtype=float)
    hauls, measured = [], []
    for row in range(trips * tows * 2):
        tow = row // 2
        if row % (2 * tows) == 0:
            of_trip, middle = np.exp(chance.normal(0, 0.3)), chance.normal(28, 1)
        if not at_once or row % 2 == 0:
            of_haul = np.exp(chance.normal(0, 0.3))
        rig, ground = ("discs", "hoppers")[row % 2], ("sand", "stones")[tow % 2]
        hours = float(np.round(chance.uniform(2, 5), 2))
        power = (row % 2) * log(per_doubling) / log(2)
        mean = hours * of_trip * of_haul * (lengths / 28) ** power
        fish = chance.poisson(2 * mean * np.exp(-(((lengths - middle) / 6) ** 2) / 2))
        shot = FIRST_SHOT + timedelta(hours=6 * (tow if at_once else row))
        side = "port" if (row + tow // 2) % 2 else "starboard"
        haul = (row, "PLE", "Skua", str(tow // tows), str(row), shot, side, hours, "measured")
        hauls.append((*haul, row % 4, rig, ground, "2031 Q2"))
        measured += [
            (row, "PLE", float(cm), int(many), float(many))
            for cm, many in zip(lengths, fish, strict=True)
            if many
        ]
    names = ["row", "species", "vessel", "trip", "haul", "shot_at", "net_side", "tow_hours", "told"]
    return (
        pl.DataFrame(hauls, [*names, "pattern", "rig_version", "ground", "stretch"], orient="row"),
        pl.DataFrame(measured, ["row", "species", "length_cm", "measured", "fish"], orient="row"),
    )


def found_in(hauls: pl.DataFrame, lengths: pl.DataFrame, model: Model = EDGES) -> dict[str, Any]:
    return find_by_length(hauls, lengths, {"PLE": "plaice"}, "discs", ["ground"], model)


def plaice(hauls: pl.DataFrame, lengths: pl.DataFrame, model: Model = EDGES) -> BySize:
    (species,) = found_in(hauls, lengths, model)["species"]
    sizes: BySize = species
    return sizes


def of_band(hauls: pl.DataFrame, lengths: pl.DataFrame, low: float, high: float) -> pl.DataFrame:
    inside = lengths.filter(pl.col("length_cm") >= low, pl.col("length_cm") < high)
    fish = inside.group_by("row").agg(pl.col("fish").sum())
    return hauls.join(fish, on="row", how="left").with_columns(pl.col("fish").fill_null(0.0))


def by_glm(caught: pl.DataFrame) -> float:
    """The log ratio of hoppers to discs, by ground, of single hauls."""
    design = np.stack(
        [
            np.ones(caught.height),
            (caught["rig_version"] == "hoppers").to_numpy(),
            (caught["ground"] == "stones").to_numpy(),
        ],
        axis=1,
    ).astype(float)
    fitted = sm.GLM(
        caught["fish"].to_numpy(),
        design,
        family=sm.families.Poisson(),
        offset=np.log(caught["tow_hours"].to_numpy()),
    ).fit(tol=1e-12)
    return float(fitted.params[1])


@pytest.mark.parametrize("seed", range(3))
def test_each_band_is_a_poisson_model_of_single_hauls(seed: int) -> None:
    hauls, lengths = season(seed)
    effects = plaice(hauls, lengths).effects
    for effect, (low, high) in zip(effects, pairwise((0, 24, 28, 33, 99)), strict=True):
        assert effect.log_ratio == pytest.approx(
            by_glm(of_band(hauls, lengths, low, high)), rel=1e-6
        )


def test_the_slopes_error_is_near_that_of_finding_it_anew_without_each_trip() -> None:
    hauls, lengths = season(1)
    (slope,) = plaice(hauls, lengths).slopes
    trips = hauls["trip"].unique().to_list()
    anew = [plaice(hauls.filter(pl.col("trip") != trip), lengths).slopes[0] for trip in trips]
    moved = np.array([each.slope - slope.slope for each in anew])
    assert slope.std_error == pytest.approx(np.sqrt(np.square(moved).sum()), rel=0.1)
    assert (slope.bands, slope.trips) == (4, 24)


def test_the_slope_is_the_line_through_the_bands_by_their_errors() -> None:
    sizes = plaice(*season(2))
    length = np.log([band.length_cm for band in sizes.bands])
    weight = 1 / np.array([effect.std_error for effect in sizes.effects], dtype=float) ** 2
    ratio = np.array([effect.log_ratio for effect in sizes.effects], dtype=float)
    fitted = sm.WLS(ratio, sm.add_constant(length), weight).fit()
    (slope,) = sizes.slopes
    assert slope.slope == pytest.approx(fitted.params[1], rel=1e-9)
    assert slope.per_doubling == pytest.approx(2 ** fitted.params[1], rel=1e-9)


def test_within_tows_it_is_the_conditional_likelihood_of_statsmodels() -> None:
    """Each haul has a share measured of its own, as theirs passes by tows of two equal numbers."""
    hauls, lengths = season(3, trips=2, tows=15, at_once=True)
    lengths = lengths.with_columns(pl.col("fish") * (1 + pl.col("row") / 1000))
    sizes = plaice(hauls, lengths)
    edges = pairwise((0, 24, 28, 33, 99))
    bands = pl.concat(
        of_band(hauls, lengths, low, high).with_columns(
            at=pl.lit(at), cm=pl.lit(log(band.length_cm))
        )
        for at, ((low, high), band) in enumerate(zip(edges, sizes.bands, strict=True))
    )
    port, own = (
        (bands[name] == word).to_numpy().astype(float)
        for name, word in (("net_side", "port"), ("rig_version", "hoppers"))
    )
    theirs = ConditionalPoisson(
        bands["fish"].to_numpy(),
        np.stack([port, own, own * (bands["cm"] - bands["cm"].mean()).to_numpy()], axis=1),
        groups=bands.select(pl.struct("shot_at", "at").rank("dense")).to_series().to_numpy(),
        offset=np.log(bands["tow_hours"].to_numpy()),
    ).fit()
    (slope,) = sizes.slopes_in_tows
    assert slope.slope == pytest.approx(theirs.params[2], abs=1e-4)
    assert (slope.tows, slope.trips) == (30, 2)
    assert [row.tows for row in sizes.tows] == [30] * 4


@pytest.mark.parametrize("at_once", [False, True], ids=["in turn", "at once"])
def test_intervals_hold_what_was_put_in(*, at_once: bool) -> None:
    held = []
    for seed in range(60):
        sizes = plaice(*season(seed, trips=16, at_once=at_once))
        (slope,) = sizes.slopes_in_tows if at_once else sizes.slopes
        held.append(slope.low <= TRUTH <= slope.high)
    assert np.mean(held) >= 0.9


def test_a_rig_that_is_like_the_reference_is_seldom_told_to_lose_any_size() -> None:
    clear = []
    for seed in range(40):
        sizes = plaice(*season(seed, trips=16, per_doubling=1.0))
        clear.append(
            any(e.verdict in {Verdict.LOWER, Verdict.HIGHER} for e in sizes.effects)
            or sizes.slopes[0].verdict != Verdict.TOO_LITTLE
        )
    assert np.mean(clear) <= 0.15


def test_half_measured_and_five_is_whole_and_ten() -> None:
    hauls, lengths = season(4)
    halved = lengths.with_columns(pl.col("measured") // 2)
    whole, half = plaice(hauls, lengths), plaice(hauls, halved)
    assert half.effects == whole.effects
    assert half.slopes == whole.slopes


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 999))
def test_the_order_of_rows_does_not_matter(seed: int) -> None:
    hauls, lengths = season(5, trips=10)
    thirds = lengths.with_columns(pl.col("fish") / 3)
    mixed, mixed_thirds = (
        frame.sample(fraction=1, shuffle=True, seed=seed) for frame in (hauls, thirds)
    )
    number = dict(zip(mixed["row"], range(mixed.height), strict=True))
    renumbered = (
        frame.with_columns(pl.col("row").replace_strict(number)) for frame in (mixed, mixed_thirds)
    )
    assert found_in(*renumbered, Model()) == found_in(hauls, thirds, Model())


cm = st.floats(1, 120).map(lambda length: round(length, 1))
classes = st.lists(st.tuples(st.integers(0, 60), cm, st.integers(0, 9)), max_size=300)


@settings(max_examples=60, deadline=None)
@given(classes, st.none() | st.lists(cm, min_size=1, max_size=5, unique=True))
def test_bands_part_all_fish(
    rows: Sequence[tuple[int, float, int]], named: Sequence[float] | None
) -> None:
    schema = {"row": pl.Int64, "length_cm": pl.Float64, "measured": pl.Int64}
    lengths = pl.DataFrame(rows, schema, orient="row").with_columns(fish=pl.col("measured") * 2.0)
    edges = edges_for(lengths) if named is None else sorted(named)
    if not edges:
        return
    bands = bands_of("PLE", lengths, edges)
    assert sum(band.fish for band in bands) == lengths["fish"].sum()
    numbers = in_bands(lengths, edges)["band"]
    assert numbers.is_between(0, len(edges)).all()
    for band in bands:
        assert (band.from_cm or 0) <= band.length_cm < (band.to_cm or 999)
    if named is None:
        assert 3 <= len(bands) <= 5
        assert all(band.with_some >= 10 for band in bands)
        assert all(edge == int(edge) for edge in edges)


def test_edges_know_nothing_of_rigs_and_share_fish_about_evenly() -> None:
    hauls, lengths = season(6)
    sizes = plaice(hauls, lengths, Model())
    other = plaice(
        hauls.with_columns(rig_version=pl.col("rig_version").reverse()), lengths, Model()
    )
    assert sizes.bands == other.bands
    shares = np.array([band.fish for band in sizes.bands]) / lengths["fish"].sum()
    assert len(shares) == 5
    assert 0.12 <= shares.min() <= shares.max() <= 0.3


@pytest.mark.parametrize(
    ("change", "named"),
    [
        (lambda lengths: lengths.with_columns(length_cm=pl.lit(31.0)), False),
        (lambda lengths: lengths.filter(row=0), False),
        (lambda lengths: lengths.head(12), False),
        (lambda lengths: lengths.clear(), True),
    ],
    ids=["one class", "all in one haul", "few fish", "none, with edges"],
)
def test_with_too_little_there_are_no_bands(
    change: Callable[[pl.DataFrame], pl.DataFrame],
    *,
    named: bool,
) -> None:
    hauls, lengths = season(7)
    assert found_in(hauls, change(lengths), EDGES if named else Model())["species"] == []


def test_one_length_class_with_edges_named_is_one_band_and_has_no_slope() -> None:
    hauls, lengths = season(7)
    sizes = plaice(hauls, lengths.with_columns(length_cm=pl.lit(31.0)))
    assert [band.outcome for band in sizes.bands] == ["cm:PLE:28-33"]
    assert sizes.slopes == []


def test_hauls_that_do_not_tell_are_left_out_and_those_without_any_are_none() -> None:
    hauls, lengths = season(8)
    told = pl.Series(["measured", "none", "not measured", "not known"] * 60)
    changed = hauls.with_columns(told=told)
    sizes = plaice(changed, lengths)
    assert (sizes.measured, sizes.none, sizes.not_measured, sizes.not_known) == (60, 60, 60, 60)
    left = hauls.filter(told.is_in(TELL))
    own = lengths.join(hauls.filter(told == "measured"), on="row", how="semi")
    again = plaice(left, own)
    assert [e.ratio for e in again.effects] == [e.ratio for e in sizes.effects]


def test_a_rig_that_caught_none_of_a_size_has_no_ratio_and_no_verdict_there() -> None:
    hauls, lengths = season(9)
    large = pl.col("length_cm") >= 33
    hoppers = pl.col("row") % 2 == 1
    sizes = plaice(hauls, lengths.filter(~(large & hoppers)))
    last = sizes.effects[-1]
    assert (last.ratio, last.verdict) == (None, Verdict.TOO_LITTLE)
    assert Caution.NONE_SEEN in last.cautions
    assert sizes.slopes[0].bands == 3


def test_several_looks_widen_what_a_verdict_asks() -> None:
    hauls, lengths = season(1)
    found = found_in(hauls, lengths)
    alone = found_in(hauls, lengths, EDGES.model_copy(update={"many_looks": "alone"}))
    assert (found["ratios"], found["slopes"], found["allowed_for"]) == (4, 1, True)
    for effect, by_itself in zip(
        found["species"][0].effects, alone["species"][0].effects, strict=True
    ):
        assert effect.low_together < effect.low
        assert by_itself.low_together == pytest.approx(by_itself.low)
        assert by_itself.verdict == by_itself.verdict_alone == effect.verdict_alone


def test_two_hundred_species_are_each_told_of() -> None:
    hauls, lengths = season(1, trips=8)
    names = [f"S{at}" for at in range(200)]
    model = Model(length_edges_cm=dict.fromkeys(names, (28,)))
    found = find_by_length(
        pl.concat(hauls.with_columns(species=pl.lit(name)) for name in names),
        pl.concat(lengths.with_columns(species=pl.lit(name)) for name in names),
        {},
        "discs",
        ["ground"],
        model,
    )
    assert len(found["species"]) == 200
    assert found["ratios"] == 400

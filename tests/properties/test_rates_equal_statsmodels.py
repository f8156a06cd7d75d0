"""Our fit on sums by trip and pattern is the fit of single hauls that statsmodels gives."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl
import pytest
import statsmodels.api as sm
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.rates.cells import Cells, lay_out
from pipeline.rates.poisson import RateFit, clustered, fit_rates

if TYPE_CHECKING:
    from numpy.typing import NDArray

PATTERN = ["rig_version", "ground"]
FIRST_TRIPS = 12
some = settings(max_examples=80, deadline=None)
seeds = st.integers(0, 2**32 - 1)
kinds = st.sampled_from(["events", "kilos"])
shapes = st.tuples(
    st.integers(2, 4),  # rigs
    st.integers(1, 4),  # grounds
    st.integers(FIRST_TRIPS, 30),  # trips
    st.integers(1, 200),  # hauls beyond one a trip
)


def random_hauls(shape: tuple[int, int, int, int], seed: int, kind: str) -> pl.DataFrame:
    """Hauls of unequal hours whose amounts vary far more than a Poisson count would.

    A rig and a ground that met have some of the outcome between them, so that a fit exists.
    """
    rigs, grounds, trips, more = shape
    chance = np.random.default_rng(seed)
    size = trips + more
    trip = np.concatenate([np.arange(trips), chance.integers(0, trips, more)])
    rig = np.concatenate([np.arange(rigs), chance.integers(0, rigs, size - rigs)])
    ground = np.concatenate([np.zeros(rigs, int), chance.integers(0, grounds, size - rigs)])
    hours = chance.uniform(0.02, 12, size).round(4)
    mean = hours * chance.gamma(0.5, 2, size) * (1 + rig) * chance.gamma(2, 1, trips)[trip]
    amount = chance.poisson(mean).astype(float)
    if kind == "kilos":
        amount = (amount * chance.lognormal(2, 1, size)).round(3)
    hauls = pl.DataFrame(
        {
            "vessel": [f"boat {number % 3}" for number in trip],
            "trip": trip.astype(str),
            "rig_version": [f"rig {number}" for number in rig],
            "ground": [f"ground {number}" for number in ground],
            "tow_hours": hours,
            "total": amount,
        }
    )
    first = pl.int_range(pl.len()).over(PATTERN) == 0
    nothing = pl.col("total").sum().over(PATTERN) == 0
    return hauls.with_columns(
        pl.when(first & nothing).then(1.0).otherwise("total").alias("total"), hauls=pl.lit(1)
    )


def sums_of(hauls: pl.DataFrame) -> pl.DataFrame:
    return hauls.group_by("vessel", "trip", *PATTERN, maintain_order=True).agg(
        pl.col("hauls", "tow_hours", "total").sum()
    )


def cells_of(hauls: pl.DataFrame) -> Cells:
    return lay_out(sums_of(hauls), "rig_version", "rig 0", ["ground"])


def our_fit(hauls: pl.DataFrame, errors: Literal["trip", "model"]) -> RateFit:
    return fit_rates(cells_of(hauls), errors)


def design_of_hauls(hauls: pl.DataFrame, terms: tuple[str, ...]) -> NDArray[np.float64]:
    """One row a haul, from the names of the terms alone."""
    columns = [np.ones(hauls.height)]
    for term in terms[1:]:
        column, level = term.split(": ")
        columns.append((hauls[column] == level).to_numpy().astype(float))
    return np.column_stack(columns)


def variances(fit: RateFit) -> NDArray[np.float64]:
    return np.diag(fit.covariance)


@some
@given(shape=shapes, seed=seeds, kind=kinds)
def test_sums_give_what_statsmodels_gives_on_single_hauls(
    shape: tuple[int, int, int, int], seed: int, kind: str
) -> None:
    hauls = random_hauls(shape, seed, kind)
    by_trip, by_model = our_fit(hauls, "trip"), our_fit(hauls, "model")
    model = sm.GLM(
        hauls["total"].to_numpy(),
        design_of_hauls(hauls, by_trip.terms),
        family=sm.families.Poisson(),
        offset=np.log(hauls["tow_hours"].to_numpy()),
    )
    # The deviance of kilos is too large a number to stop by, so theirs stops by its parameters.
    to_the_end = {"tol": 1e-11, "tol_criterion": "params", "maxiter": 200}
    clusters = {"groups": hauls["trip"].cast(pl.Int64).to_numpy(), "use_correction": True}
    theirs = model.fit(**to_the_end)
    theirs_by_trip = model.fit(**to_the_end, cov_type="cluster", cov_kwds=clusters)
    assert theirs.converged
    # A log ratio of nothing is 0, so that estimates take an absolute bound beside the relative.
    assert by_trip.estimate == pytest.approx(theirs.params, rel=1e-8, abs=1e-8)
    assert np.sqrt(variances(by_model)) == pytest.approx(theirs.bse, rel=1e-8)
    # Trips that agree leave a variance of next to nothing, so that it is held to the model's too.
    expected = np.diag(theirs_by_trip.cov_params())
    sandwich = np.diag(clustered(cells_of(hauls), by_trip.estimate))
    off = (sandwich - expected) / (expected + theirs.bse**2)
    assert off == pytest.approx(0, abs=2e-8)  # of the standard error, one in 10^8
    assert (by_trip.hauls, by_trip.trips) == (hauls.height, hauls["trip"].n_unique())


@some
@given(shape=shapes, seed=seeds, kind=kinds)
def test_the_order_of_rows_does_not_matter(
    shape: tuple[int, int, int, int], seed: int, kind: str
) -> None:
    hauls = random_hauls(shape, seed, kind)
    one = our_fit(hauls, "trip")
    other = our_fit(hauls.sample(fraction=1.0, shuffle=True, seed=seed), "trip")
    assert one.terms == other.terms
    # Sums of the same numbers in another order differ in their last digits, and no more.
    assert one.estimate == pytest.approx(other.estimate, rel=1e-10, abs=1e-10)
    scale = variances(one) + variances(our_fit(hauls, "model"))
    assert (variances(one) - variances(other)) / scale == pytest.approx(0, abs=1e-9)


@some
@given(shape=shapes, seed=seeds, kind=kinds, errors=st.sampled_from(["trip", "model"]))
def test_a_rig_that_had_a_ground_to_itself_is_not_told_from_it(
    shape: tuple[int, int, int, int], seed: int, kind: str, errors: Literal["trip", "model"]
) -> None:
    hauls = random_hauls(shape, seed, kind)
    alone = random_hauls(shape, seed + 1, kind).with_columns(
        rig_version=pl.lit("rig alone"), ground=pl.lit("ground of its own")
    )
    together = our_fit(pl.concat([hauls, alone]), errors)
    assert together.effect("rig_version: rig alone") is None
    assert together.effect("ground: ground of its own") is None
    # What is said of the others is what their own hauls say.
    apart = our_fit(hauls, errors)
    for term in apart.terms[1:]:
        told, expected = together.effect(term), apart.effect(term)
        assert (told is None) == (expected is None)
        if told and expected:
            assert told[0] == pytest.approx(expected[0], rel=1e-8, abs=1e-8)

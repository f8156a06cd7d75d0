"""The rate model alone, on published tables; sources stand in data/published.csv and its README."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl
import pytest
import statsmodels.api as sm

from pipeline.rates.cells import Cells, lay_out
from pipeline.rates.leave_out import as_alike, leave_out
from pipeline.rates.poisson import clustered, fit_rates, information, solve
from tests.outside.designs import of_matrix
from tests.outside.left_out import (
    left_out_errors,
    left_out_moves,
    normal_clusters,
    satterthwaite_freedom,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

DATA = Path(__file__).parent / "data"
EPIL_TERMS = ("intercept", "progabide", "lbase", "lage", "V4")


def published(fit: str, kind: str) -> pl.DataFrame:
    """Return the published terms of a fit: `term`, `estimate`, `std_error`."""
    return pl.read_csv(DATA / "published.csv").filter(pl.col("fit") == fit, pl.col("kind") == kind)


def root_of_diagonal(covariance: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.sqrt(np.diag(covariance))


def rows_as_hauls(table: pl.DataFrame, hours: str, total: str) -> pl.DataFrame:
    """Return the table with every row a haul and a trip of its own, its factors as words."""
    return (
        table.with_columns(pl.exclude(hours, total).cast(pl.String))
        .rename({hours: "tow_hours", total: "total"})
        .filter(pl.col("tow_hours") > 0)
        .with_row_index("trip")
        .with_columns(vessel=pl.lit("one"), hauls=pl.lit(1))
    )


def ships() -> Cells:
    table = pl.read_csv(DATA / "ships.csv")
    return lay_out(rows_as_hauls(table, "service", "incidents"), "type", "A", ["year", "period"])


def breslow() -> Cells:
    table = pl.read_csv(DATA / "breslow.csv")
    return lay_out(rows_as_hauls(table, "n", "y"), "age", "40", ["smoke"])


def deep_sea_fishing() -> Cells:
    """Every row a pattern and a cluster of its own; depth in km."""
    table = pl.read_csv(DATA / "deep_sea_fishing.csv")
    rows = np.arange(table.height)
    return Cells(
        of_matrix(np.column_stack([np.ones(table.height), table["meandepth"] / 1000])),
        terms=("intercept", "km"),
        estimable=np.array([True, True]),
        row=rows,
        pattern=rows,
        trip=rows,
        hauls=np.ones(table.height),
        hours=table["sweptarea"].to_numpy().astype(float),
        total=table["totabund"].to_numpy().astype(float),
    )


def epil(*, summed: bool) -> Cells:
    """The subject is the cluster; single rows, or their sums by subject and covariates."""
    covariates = ["trt", "lbase", "lage", "V4"]
    table = pl.read_csv(DATA / "epil.csv")
    sums = table.select("subject", *covariates, total="y", hauls=pl.lit(1.0), tow_hours=pl.lit(1.0))
    if summed:
        sums = sums.group_by("subject", *covariates, maintain_order=True).agg(
            pl.col("total", "hauls", "tow_hours").sum()
        )
    patterns = sums.select(covariates).unique(maintain_order=True).with_row_index("pattern")
    rows = sums.join(patterns, on=covariates, how="left", maintain_order="left")
    return Cells(
        of_matrix(
            np.column_stack(
                [
                    np.ones(patterns.height),
                    (patterns["trt"] == "progabide").to_numpy().astype(float),
                    *(patterns[name].to_numpy() for name in covariates[1:]),
                ]
            )
        ),
        terms=EPIL_TERMS,
        estimable=np.ones(len(EPIL_TERMS), dtype=bool),
        row=np.arange(rows.height),
        pattern=rows["pattern"].to_numpy().astype(np.int64),
        trip=rows["subject"].to_numpy().astype(np.int64) - 1,
        hauls=rows["hauls"].to_numpy().astype(float),
        hours=rows["tow_hours"].to_numpy().astype(float),
        total=rows["total"].to_numpy().astype(float),
    )


MODELS = {
    "ships": ships(),
    "breslow": breslow(),
    "deep_sea_fishing": deep_sea_fishing(),
    "epil": epil(summed=False),
}


@pytest.mark.parametrize("fit", MODELS)
def test_coefficients_and_model_errors_are_the_published_ones(fit: str) -> None:
    expected = published(fit, "model")
    found = fit_rates(MODELS[fit], "model")
    assert sorted(found.terms) == sorted(expected["term"])
    for term, estimate, std_error in expected.select("term", "estimate", "std_error").iter_rows():
        effect = found.effect(term)
        assert effect == pytest.approx((estimate, std_error), abs=1e-5)


def test_ships_have_34_rows_with_any_service() -> None:
    # McCullagh & Nelder 1989, section 6.3.2: 34 observations, 25 degrees of freedom.
    cells = MODELS["ships"]
    assert (cells.haul_count, cells.haul_count - len(cells.terms)) == (34, 25)


def test_errors_of_single_rows_are_the_published_ones_but_for_one_factor() -> None:
    # R's sandwich() does not carry G/(G - 1), which `clustered` always does; here G = n = 147.
    expected = published("deep_sea_fishing", "HC0 of single rows")
    cells = MODELS["deep_sea_fishing"]
    trips = cells.trip_count
    assert trips == 147
    covariance = clustered(cells, solve(cells), "HC0") * (trips - 1) / trips
    assert cells.terms == tuple(expected["term"])
    assert root_of_diagonal(covariance) == pytest.approx(expected["std_error"].to_numpy(), abs=1e-8)


@pytest.mark.parametrize("summed", [False, True], ids=["single rows", "sums"])
@pytest.mark.parametrize("correction", ["HC0", "HC1"])
def test_clustered_errors_are_the_published_ones(
    correction: Literal["HC0", "HC1"], *, summed: bool
) -> None:
    # R's vcovCL carries G/(G - 1) in both, HC1 also (n - 1)/(n - k), as ours does.
    expected = published("epil", correction)
    cells = epil(summed=summed)
    assert (cells.trip_count, cells.haul_count) == (59, 236)
    estimate = solve(cells)
    assert cells.terms == tuple(expected["term"])
    assert estimate == pytest.approx(expected["estimate"].to_numpy(), abs=1e-8)
    found = root_of_diagonal(clustered(cells, estimate, correction))
    # Not nearer, as R's glm() stops at a change of 1e-8 and keeps the weights of the step before
    # its last: that is the whole of the difference. The next test holds ours to a fit carried on.
    assert found == pytest.approx(expected["std_error"].to_numpy(), abs=1e-7)


def test_clustered_errors_are_those_of_a_second_program_run_to_the_end() -> None:
    # statsmodels, HC1 by cluster: the same definition as R's, without its early stop.
    cells = epil(summed=False)
    fit = sm.GLM(cells.total, cells.design[cells.pattern], family=sm.families.Poisson()).fit(
        tol=1e-14, cov_type="cluster", cov_kwds={"groups": cells.trip, "use_correction": True}
    )
    estimate = solve(cells)
    assert estimate == pytest.approx(fit.params, abs=1e-9)
    assert root_of_diagonal(clustered(cells, estimate)) == pytest.approx(fit.bse, abs=1e-9)


def test_sums_by_cluster_and_pattern_say_what_single_rows_say() -> None:
    # An identity, shown at the head of pipeline/rates/poisson.py; no source needed.
    single, sums = epil(summed=False), epil(summed=True)
    assert len(sums.total) < len(single.total)
    one, other = solve(single), solve(sums)
    assert other == pytest.approx(one, rel=1e-12, abs=1e-12)
    assert information(sums, other) == pytest.approx(information(single, one), rel=1e-12)
    for correction in ("HC0", "HC1"):
        assert clustered(sums, other, correction) == pytest.approx(
            clustered(single, one, correction), rel=1e-12, abs=1e-12
        )


def without(cells: Cells, trip: int) -> Cells:
    """Return the cells of all other trips, and their patterns."""
    kept = cells.trip != trip
    patterns, pattern = np.unique(cells.pattern[kept], return_inverse=True)
    return replace(
        cells,
        coded=cells.coded.at(patterns),
        row=cells.row[kept],
        pattern=pattern,
        trip=cells.trip[kept],
        hauls=cells.hauls[kept],
        hours=cells.hours[kept],
        total=cells.total[kept],
    )


def test_leaving_out_each_cluster_and_fitting_anew_gives_the_published_errors() -> None:
    cells = epil(summed=True)
    estimate = solve(cells)
    moved = [solve(without(cells, trip)) - estimate for trip in range(59)]
    found = np.sqrt(58 / 59 * np.square(moved).sum(axis=0))
    expected = published("epil", "one cluster left out")
    assert cells.terms == tuple(expected["term"])
    assert found == pytest.approx(expected["std_error"].to_numpy(), abs=1e-7)
    # The program takes two steps in place of each fit, before it makes them right in the mean.
    two_steps = leave_out(cells, estimate, np.linalg.inv(information(cells, estimate))).moved
    assert np.sqrt(58 / 59 * np.square(two_steps).sum(axis=0)) == pytest.approx(found, rel=0.002)


@pytest.mark.parametrize("summed", [False, True], ids=["single rows", "sums"])
def test_two_steps_and_their_freedom_are_their_definition_row_by_row(*, summed: bool) -> None:
    single, cells = epil(summed=False), epil(summed=summed)
    estimate = solve(cells)
    found = leave_out(cells, estimate, np.linalg.inv(information(cells, estimate)))
    design = single.design[single.pattern]
    mean = single.hours * np.exp(design @ estimate)
    expected = left_out_errors(design, single.total, mean, single.trip)
    assert root_of_diagonal(found.covariance) == pytest.approx(expected, rel=1e-8)
    moves = left_out_moves(design, single.total, mean, single.trip)
    for at, direction in enumerate(np.eye(len(cells.terms))):
        freedom = satterthwaite_freedom(design, mean, single.trip, at)
        assert found.freedom(direction) == pytest.approx(freedom, rel=1e-8)
        alike = normal_clusters(moves[:, at])
        assert found.trips_alike(direction) == pytest.approx(alike, rel=1e-6)
    assert not found.alone.any()


@pytest.mark.parametrize("trips", [4, 12, 30])
def test_normal_trips_are_as_many_alike_as_they_are(trips: int) -> None:
    # Geary's mean of the ratio of fourth to squared second powers, 3 / (n + 2), turned about.
    moves = np.random.default_rng(trips).normal(0, 1, (20_000, trips))
    ratios = [3 / (as_alike(each) + 2) for each in moves]
    assert 3 / np.mean(ratios) - 2 == pytest.approx(trips, rel=0.01)


def test_a_trip_that_moved_it_alone_is_one_and_equal_moves_are_no_fewer_than_the_trips() -> None:
    assert as_alike(np.array([0.0, 0.0, 3.0])) == 1.0
    assert as_alike(np.array([2.0, -2.0, 2.0, -2.0])) == 10.0
    assert as_alike(np.zeros(4)) == 1.0
    by_hand = 3 * (4 * 1 + 81) ** 2 / (4 * 1 + 81**2) - 2
    assert as_alike(np.array([1.0, -1.0, 1.0, -1.0, 9.0])) == pytest.approx(by_hand, rel=1e-12)


def test_two_groups_of_equal_clusters_have_the_freedom_of_welch() -> None:
    # With one sum a cluster, of equal hours and means, the error of the difference of two groups
    # of n and m is by Welch's rule, which is Satterthwaite's: its freedom by hand.
    n, m = 3, 9
    group = np.repeat([0, 1], [n, m])
    cells = Cells(
        of_matrix(np.array([[1.0, 0.0], [1.0, 1.0]])),
        terms=("intercept", "second"),
        estimable=np.array([True, True]),
        row=np.arange(n + m),
        pattern=group,
        trip=np.arange(n + m),
        hauls=np.ones(n + m),
        hours=np.ones(n + m),
        total=np.array([4.0, 5, 6, *np.tile([4.0, 5, 6], 3)]),
    )
    estimate = solve(cells)
    found = leave_out(cells, estimate, np.linalg.inv(information(cells, estimate)))
    # Each group's variance of the mean is s²/n, with n - 1 of freedom.
    one, other = 1 / n, 1 / m
    welch = (one + other) ** 2 / (one**2 / (n - 1) + other**2 / (m - 1))
    assert found.freedom(np.array([0.0, 1.0])) == pytest.approx(welch, rel=1e-9)


def test_a_term_that_one_cluster_alone_tells_is_named() -> None:
    cells = epil(summed=True)
    only = cells.design[cells.pattern[cells.trip == 7][0]]
    own = (cells.design == only).all(axis=1).astype(float)
    more = replace(
        cells,
        coded=of_matrix(np.column_stack([cells.design, own])),
        terms=(*cells.terms, "own"),
        estimable=np.ones(6, dtype=bool),
    )
    fit = fit_rates(more, "trip")
    assert fit.effect("own") is None
    assert fit.effect("progabide") is not None

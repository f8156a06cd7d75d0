"""What chance alone makes of hauls that were damaged or not: held to a formula and a library.

The formula is that of the log of a ratio of two shares (Katz, Baptista, Azen & Pike, Biometrics 34
(1978) 469): (1 - p) / np of the one, and of the other.
"""

from __future__ import annotations

from itertools import product

import numpy as np
import polars as pl
import pytest
import statsmodels.api as sm

from pipeline.rates.cells import lay_out
from pipeline.rates.numbered import numbered
from pipeline.rates.poisson import SUREST, RateFit, fit_rates

RIGS, GROUNDS = ("bobbins", "discs"), ("sand", "stones")
SOME_OF_MANY = ((40, 10), (30, 20), (50, 5), (36, 30))


def hauls_of(damaged: dict[tuple[str, str], tuple[int, int]], twice: int = 0) -> pl.DataFrame:
    """Hauls of an hour each, by rig and ground: how many, and how many of them were damaged.

    So many of the damaged ones were so `twice`.
    """
    rows = [
        {"rig_version": rig, "ground": ground, "total": float(at < some) + (at < twice)}
        for (rig, ground), (many, some) in damaged.items()
        for at in range(many)
    ]
    trips = np.arange(len(rows)) % 12
    return pl.DataFrame(rows).with_columns(
        vessel=pl.lit("Skua"), trip=pl.Series(trips), hauls=pl.lit(1), tow_hours=pl.lit(1.0)
    )


def fit_of(hauls: pl.DataFrame, factors: list[str]) -> RateFit:
    """Our fit on the sums, with the errors that chance alone makes."""
    sums = hauls.group_by("vessel", "trip", "rig_version", "ground", maintain_order=True).agg(
        pl.col("hauls", "tow_hours", "total").sum(),
        (pl.col("total") > 0).sum().alias("hauls_with_some"),
    )
    return fit_rates(lay_out(sums, "rig_version", RIGS[0], factors), "model")


@pytest.mark.parametrize(
    ("one", "other"), [((40, 10), (60, 30)), ((24, 1), (24, 12)), ((200, 160), (100, 70))]
)
def test_the_error_of_a_ratio_of_shares_is_katzs(
    one: tuple[int, int], other: tuple[int, int]
) -> None:
    hauls = hauls_of({(RIGS[0], "sand"): one, (RIGS[1], "sand"): other})
    told = fit_of(hauls, []).effect(f"rig_version: {RIGS[1]}", counted=True)
    assert told is not None
    shares = [some / many for many, some in (one, other)]
    variances = [(1 - share) / some for share, (_, some) in zip(shares, (one, other), strict=True)]
    assert told == pytest.approx((np.log(shares[1] / shares[0]), np.sqrt(sum(variances))))


def test_with_a_mean_for_every_pattern_it_is_statsmodels_sandwich() -> None:
    hauls = hauls_of(dict(zip(product(RIGS, GROUNDS), SOME_OF_MANY, strict=True))).with_columns(
        pattern=pl.concat_str("rig_version", pl.lit(" on "), "ground"),
        hauls_with_some=pl.col("total"),
    )
    base = "bobbins on sand"
    found = fit_rates(lay_out(hauls, "pattern", base, []), "model")
    others = [term.removeprefix("pattern: ") for term in found.terms[1:]]
    of_others = np.column_stack([hauls["pattern"] == other for other in others])
    design = sm.add_constant(of_others.astype(float))
    model = sm.GLM(hauls["total"].to_numpy(), design, family=sm.families.Poisson())
    theirs = model.fit(cov_type="HC0", tol=1e-12)
    assert found.estimate == pytest.approx(theirs.params, rel=1e-8)
    assert np.sqrt(np.diag(found.covariance)) == pytest.approx(theirs.bse, rel=1e-8)


def test_what_happened_twice_in_a_haul_is_a_count_and_has_the_error_of_counts() -> None:
    one, other = (40, 10), (60, 30)
    hauls = hauls_of({(RIGS[0], "sand"): one, (RIGS[1], "sand"): other}, twice=1)
    told = fit_of(hauls, []).effect(f"rig_version: {RIGS[1]}", counted=True)
    assert told is not None
    assert told[1] == pytest.approx(np.sqrt(1 / 11 + 1 / 31))


def test_a_part_of_a_count_is_no_yes_or_no() -> None:
    hauls = hauls_of({(RIGS[0], "sand"): (40, 10), (RIGS[1], "sand"): (60, 30)}, twice=1)
    sums = numbered(hauls.with_columns(hauls_with_some=(pl.col("total") > 0).cast(int)))
    once = sums.at(sums.total <= 1)
    assert not once.yes_or_no
    assert numbered(
        once.rows.frame.with_columns(total=once.total, hauls_with_some=once.with_some)
    ).yes_or_no


def test_where_all_hauls_were_damaged_an_error_is_left() -> None:
    hauls = hauls_of({(RIGS[0], "sand"): (40, 40), (RIGS[1], "sand"): (60, 60)})
    told = fit_of(hauls, []).effect(f"rig_version: {RIGS[1]}", counted=True)
    assert told is not None
    assert told[1] == pytest.approx(np.sqrt((1 - SUREST) * (1 / 40 + 1 / 60)))

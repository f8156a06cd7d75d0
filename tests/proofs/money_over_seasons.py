"""A long proof: over many invented seasons, how often does an interval of money hold the truth?

`python tests/proofs/money_over_seasons.py 300` invents 300 seasons of 6, 12, 30 and 120 trips, half
of them with either of two rigs, and sets the program's interval of the net change per hour beside
three others made from the same trips: plain percentiles, percentiles corrected for bias and
acceleration (BCa: Efron, JASA 82 (1987) 171), and bootstrap-t (Efron & Tibshirani, An Introduction
to the Bootstrap, 1993, section 12.5). About a second a season.

Seasons in which either rig had fewer than five hauls with damage are left out: of those the report
gives no verdict. A trip has its own luck, in catch and in damage, that all its hauls share.
"""

from __future__ import annotations

import sys
from collections import defaultdict

import numpy as np
import polars as pl
from numpy.typing import NDArray
from scipy.special import ndtr, ndtri

from pipeline.damage.money_figures import COST, VALUE
from pipeline.damage.money_fits import MoneyFit, fit_money
from pipeline.damage.resampling import stretched, trip_weights
from pipeline.rates.effects import LEAST_WITH_SOME

Array = NDArray[np.float64]

SIZES = (6, 12, 30, 120)
HAULS_A_TRIP = 16
GROUNDS = {"sand": (0.6, 230.0, 0.03), "stones": (0.4, 200.0, 0.12)}
"""Its share of the hauls, catch value per hour and damage events per hour with the old rig."""
RIGS = ("old", "new")
BOATS = {"Skua": 1.0, "Tern": 1.2}
VALUE_RATIO, DAMAGE_RATIO = 0.97, 0.5
COST_OF_ONE, COST_SPREAD = 580.0, 0.9
TRIP_LUCK, HAUL_LUCK, DAMAGE_LUCK = 0.25, 0.5, 4.0
T_DRAWS = 200
SMALL = 1e-3
TAILS = np.array([0.025, 0.975])
OURS = "the program's"
OF_TWO = 2


def season(trips: int, chance: np.random.Generator) -> pl.DataFrame:
    """The sums of catch value and damage cost by trip and ground, the two rigs in turn."""
    rows = []
    for number in range(trips):
        boat = list(BOATS)[number // OF_TWO % OF_TWO]
        rig = RIGS[number % OF_TWO]
        luck = chance.lognormal(-(TRIP_LUCK**2) / 2, TRIP_LUCK)
        bad_luck = chance.gamma(DAMAGE_LUCK, 1 / DAMAGE_LUCK)
        for _ in range(HAULS_A_TRIP):
            ground = str(chance.choice(list(GROUNDS), p=[share for share, *_ in GROUNDS.values()]))
            _, value, events = GROUNDS[ground]
            hours = chance.uniform(1.5, 4.5)
            better, worse = (VALUE_RATIO, DAMAGE_RATIO) if rig == "new" else (1.0, 1.0)
            of_haul = chance.lognormal(-(HAUL_LUCK**2) / 2, HAUL_LUCK)
            caught = hours * value * better * BOATS[boat] * luck * of_haul
            harm = chance.poisson(hours * events * worse * bad_luck)
            bills = chance.lognormal(np.log(COST_OF_ONE) - COST_SPREAD**2 / 2, COST_SPREAD, harm)
            rows += [
                (name, boat, f"{number:03}", rig, ground, hours, amount)
                for name, amount in ((VALUE, caught), (COST, float(bills.sum())))
            ]
    names = ["outcome", "vessel", "trip", "rig_version", "ground", "tow_hours", "total"]
    return (
        pl.DataFrame(rows, schema=names, orient="row")
        .group_by(names[:5])
        .agg(
            pl.len().alias("hauls"),
            (pl.col("total") > 0).sum().alias("hauls_with_some"),
            pl.col("tow_hours", "total").sum(),
        )
        .sort(names[:5])
        .with_columns(trip_number=(pl.struct("vessel", "trip").rank("dense") - 1).cast(pl.Int64))
    )


def truth(fit: MoneyFit) -> float:
    """The net change per hour that was put in, over the mix that the fit is told for."""
    gain = 0.0
    total = 0.0
    for row in fit.mix.iter_rows(named=True):
        share, value, events = GROUNDS[row["ground"]]
        boat = BOATS[row["vessel"]] if "vessel" in row else float(np.mean(list(BOATS.values())))
        weight = row["share"] if "vessel" in row else share
        catch = value * boat * (VALUE_RATIO - 1)
        gain += weight * (catch - events * COST_OF_ONE * (DAMAGE_RATIO - 1))
        total += weight
    return gain / total


def net_change(fit: MoneyFit, weights: Array, trips: int | None = None) -> Array:
    """The net change per hour: the season's own, then with each set of weights.

    With the `trips` of either rig, the draws are stretched as the program does it.
    """
    told = {name: m.per_hour(fit.mix, RIGS, weights) for name, m in fit.models.items()}
    left = [
        stretched(told[VALUE][rig], trips) - stretched(told[COST][rig], trips)
        if trips
        else told[VALUE][rig] - told[COST][rig]
        for rig in RIGS
    ]
    return np.asarray(left[1] - left[0])


def influence(fit: MoneyFit, weights: Array) -> Array:
    """What each trip moves the net change by, about the trips' weights, found by small steps."""
    steps = np.column_stack([weights, weights[:, None] + SMALL * np.eye(len(weights))])
    moved = net_change(fit, steps)[1:]
    return np.asarray((moved[1:] - moved[0]) / SMALL)


def between(row: Array, shares: Array = TAILS) -> tuple[float, float]:
    """The percentiles of the draws."""
    low, high = np.quantile(row[1:], shares)
    return float(low), float(high)


def corrected(fit: MoneyFit, row: Array, weights: Array) -> tuple[float, float]:
    """BCa."""
    moves = influence(fit, np.ones(len(weights)))
    acceleration = (moves**3).sum() / (6 * (moves**2).sum() ** 1.5)
    below = np.clip((row[1:] < row[0]).mean(), SMALL, 1 - SMALL)
    bias = ndtri(below)
    reach = bias + ndtri(TAILS)
    return between(row, ndtr(bias + reach / (1 - acceleration * reach)))


def studentised(fit: MoneyFit, row: Array, weights: Array) -> tuple[float, float]:
    """Bootstrap-t, each draw's error from what its trips move it by."""
    drawn = weights[:, :T_DRAWS]
    errors = [np.sqrt((one * influence(fit, one) ** 2).sum()) for one in drawn.T]
    own = np.sqrt((influence(fit, np.ones(len(weights))) ** 2).sum())
    far, near = np.quantile((row[1 : 1 + T_DRAWS] - row[0]) / errors, (0.975, 0.025))
    return float(row[0] - far * own), float(row[0] - near * own)


def limits_of(
    sums: pl.DataFrame, trips: int
) -> tuple[float, dict[str, tuple[float, float]]] | None:
    """The truth, and the limits in each way; None where the report would give no verdict."""
    parts = {name: sums.filter(pl.col("outcome") == name) for name in (VALUE, COST)}
    damaged = parts[COST].group_by("rig_version").agg(pl.col("hauls_with_some").sum())
    # Six trips bear no adjusting; the grounds come alike with either rig.
    fit = fit_money(parts, "old", ["ground", "vessel"] if trips > SIZES[0] else [])
    if damaged["hauls_with_some"].min() < LEAST_WITH_SOME or fit is None:
        return None
    weights = trip_weights(sums.select("vessel", "trip").unique().sort("vessel", "trip"))
    row = net_change(fit, weights)
    return truth(fit), {
        OURS: between(net_change(fit, weights, trips // OF_TWO)),
        "plain percentiles": between(row),
        "BCa": corrected(fit, row, weights),
        "bootstrap-t": studentised(fit, row, weights),
    }


def main(seasons: int) -> None:
    """Count over the seasons, and print."""
    for trips in SIZES:
        held: dict[str, list[bool]] = defaultdict(list)
        widths: dict[str, list[float]] = defaultdict(list)
        for seed in range(seasons):
            found = limits_of(season(trips, np.random.default_rng([trips, seed])), trips)
            for name, (low, high) in (found[1] if found else {}).items():
                held[name].append(low <= found[0] <= high)
                widths[name].append(high - low)
        sys.stdout.write(f"{trips} trips, {len(held[OURS])} seasons\n")
        for name, answers in held.items():
            width = np.median(widths[name])
            sys.stdout.write(f"  {name}: holds {np.mean(answers):.1%}, {width:.0f} wide\n")


if __name__ == "__main__":
    main(int(sys.argv[1]))

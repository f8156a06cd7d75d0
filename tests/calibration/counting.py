"""Over invented seasons of a setting: what the program said of them, and what was true."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import polars as pl

from pipeline.rates.effects import find_effects
from pipeline.rates.over_boats import find_over_boats
from pipeline.rates.rate_table import rate_table
from schemas.codes import ErrorsBy
from schemas.words import ALL_GROUNDS
from tests.calibration.seasons import FACTORS, OUTCOMES, REFERENCE, Setting, invented_seasons

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tests.calibration.seasons import Season

NO_EFFECT, HALVING = 1.0, 0.5

NOT_TOLD = "no ratio"
OF_ONE_RIG, OVER_BOATS = "rate of one rig", "mean over boats"
RATIOS = tuple(by.value for by in (ErrorsBy.TRIP, ErrorsBy.MODEL, ErrorsBy.EXACT_LIMITS))
KINDS = (*RATIOS, OF_ONE_RIG, OVER_BOATS)
"""The kinds of intervals: of a ratio by what its error comes from, of rates, of the boats' mean."""

EVERY = 4
"""One season in so many has its single rigs' rates told and its boats held to themselves."""


@dataclass(frozen=True)
class Told:
    """What was said of one thing in a season in which the truth was known.

    `effect` is the ratio that was put in. `held` is whether the interval held what is true, `off`
    how far the logarithm was from it; None where none was given.
    """

    outcome: str
    kind: str
    effect: float
    held: bool | None
    off: float | None
    verdict: str | None
    width: float | None


SCHEMA: dict[str, type[pl.DataType]] = {
    "outcome": pl.String,
    "kind": pl.String,
    "effect": pl.Float64,
    "held": pl.Boolean,
    "off": pl.Float64,
    "verdict": pl.String,
    "width": pl.Float64,
}


def tell(
    setting: Setting, effect: float, seeds: Sequence[int], outcomes: Sequence[str] = OUTCOMES
) -> pl.DataFrame:
    """All that was told of the seasons of these seeds, one row each; the columns are `SCHEMA`."""
    seasons = zip(seeds, invented_seasons(setting, effect, seeds, outcomes), strict=True)
    rows: list[Told] = []
    for seed, season in seasons:
        rows += _ratios(season, effect)
        if seed % EVERY == 0:
            rows += [*_rates(season, effect), *_boats(season, effect)]
    return pl.DataFrame(rows, schema=SCHEMA)


def _ratios(season: Season, effect: float) -> Iterator[Told]:
    """The ratio of both outcomes, through `find_effects`."""
    fished = season.sums.select("rig_version", "ground").unique()
    effects = find_effects(season.sums, fished, REFERENCE, FACTORS, "trip", [ALL_GROUNDS])
    for each in effects:
        kind = each.errors.value if each.errors else NOT_TOLD
        limits = (each.ratio, each.low, each.high)
        true = season.ratios[each.outcome]
        yield _told(each.outcome, kind, effect, true, limits, each.verdict)


def _rates(season: Season, effect: float) -> Iterator[Told]:
    """The rate of each rig over all grounds, through `rate_table`."""
    rates = rate_table(season.sums, "trip").filter(pl.col("ground") == ALL_GROUNDS)
    for name, rig, *limits in rates.select("outcome", "rig", "rate", "low", "high").iter_rows():
        yield _told(name, OF_ONE_RIG, effect, season.rates[name, rig], limits)


def _boats(season: Season, effect: float) -> Iterator[Told]:
    """The mean over boats, through `find_over_boats`."""
    fished = season.sums.select("rig_version", "ground").unique()
    for each in find_over_boats(season.sums, fished, REFERENCE, FACTORS, "trip"):
        if each.mean is not None:
            limits = (each.mean.ratio, each.mean.low, each.mean.high)
            true = season.ratios[each.outcome]
            yield _told(each.outcome, OVER_BOATS, effect, true, limits, each.mean.verdict)


def _told(
    name: str,
    kind: str,
    effect: float,
    true: float,
    limits: Sequence[float | None],
    verdict: str | None = None,
) -> Told:
    """What was told of a number and its limits; from nothing on without an end is no interval."""
    number, low, high = limits
    given = low is not None and (low > 0 or high is not None)
    held = (low or 0.0) <= true and (high is None or true <= high)
    return Told(
        name,
        kind,
        effect,
        held if given else None,
        float(np.log(number / true)) if number and given else None,
        verdict,
        float(np.log(high / low)) if low and high else None,
    )


@dataclass(frozen=True)
class Count:
    """What the ratios of one outcome come to over the seasons of a setting; shares from 0 to 1.

    `false_alarms` are of all seasons without an effect, `too_little` of all with a halving,
    `bias` is the mean of what the log ratio was off by, with its standard error, `middle` its
    median; `width` is the middle of how far the interval reached, as the ratio of its ends.
    """

    intervals: int
    coverage: float
    false_alarms: float
    bias: float
    bias_error: float
    middle: float
    too_little: float
    not_told: float
    width: float


def count(told: pl.DataFrame) -> Count:
    """Counts over what was told of the ratios of one outcome, with and without an effect."""
    nothing = told.filter(pl.col("effect") == NO_EFFECT)
    halved = told.filter(pl.col("effect") == HALVING)
    given, off, widths = (told[name].drop_nulls().to_numpy() for name in ("held", "off", "width"))
    return Count(
        len(given),
        _mean(given),
        _mean(nothing["verdict"].is_in(["lower", "higher"]).to_numpy()),
        _mean(off),
        float(off.std() / np.sqrt(len(off))) if len(off) else float("nan"),
        float(np.median(off)) if len(off) else float("nan"),
        _mean((halved["verdict"] == "too little to tell").to_numpy()),
        _mean(told["held"].is_null().to_numpy()),
        float(np.exp(np.median(widths))) if len(widths) else float("nan"),
    )


def ratios_of(told: pl.DataFrame) -> pl.DataFrame:
    """What was told of ratios, by whatever errors, or that none could be told."""
    return told.filter(pl.col("kind").is_in([*RATIOS, NOT_TOLD]))


def _mean(values: np.typing.NDArray[np.generic]) -> float:
    return float(values.mean()) if len(values) else float("nan")


@dataclass(frozen=True)
class Held:
    """How many intervals of a kind were given, and how many of them held what is true."""

    intervals: int
    held: int


def count_kinds(told: pl.DataFrame) -> dict[str, Held]:
    """How often each kind of interval held, of one outcome."""
    by_kind = told.drop_nulls("held").group_by("kind").agg(pl.len(), pl.col("held").sum())
    return {kind: Held(intervals, held) for kind, intervals, held in by_kind.iter_rows()}

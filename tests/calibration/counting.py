"""Over invented seasons of a setting: what the program said of them, and what was true."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import polars as pl

from pipeline.rates.effects import find_effects
from pipeline.rates.rate_table import ALL_GROUNDS
from tests.calibration.seasons import FACTORS, OUTCOMES, REFERENCE, Setting, invented_sums

NO_EFFECT, HALVING = 1.0, 0.5


@dataclass(frozen=True)
class Told:
    """What was said of one outcome of a season in which the truth was known.

    `held` is whether the interval held it, `off` how far the log ratio was from it; None where
    none was given.
    """

    outcome: str
    ratio: float
    held: bool | None
    off: float | None
    verdict: str
    width: float | None


def tell(setting: Setting, ratio: float, seed: int) -> list[Told]:
    """Both outcomes of the season of this seed, through `find_effects`."""
    chance = np.random.default_rng([seed, round(10 * ratio), *repr(setting).encode()])
    sums = invented_sums(setting, ratio, chance)
    fished = sums.select("rig_version", "ground").unique()
    effects = find_effects(sums, fished, REFERENCE, FACTORS, "trip", [ALL_GROUNDS])
    assert [effect.outcome for effect in effects] == sorted(OUTCOMES)
    told = []
    for effect in effects:
        low, high = effect.low, effect.high
        given = low is not None or high is not None
        held = (low is None or low <= ratio) and (high is None or ratio <= high)
        told.append(
            Told(
                effect.outcome,
                ratio,
                held if given else None,
                None if effect.log_ratio is None else effect.log_ratio - float(np.log(ratio)),
                effect.verdict,
                float(np.log(high / low)) if low and high else None,
            )
        )
    return told


@dataclass(frozen=True)
class Count:
    """What it comes to over the seasons of one setting, for one outcome; shares from 0 to 1.

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


def count(told: list[Told]) -> Count:
    """Counts over what was told of one outcome, with and without an effect."""
    table = pl.DataFrame(told, infer_schema_length=None)
    nothing = table.filter(pl.col("ratio") == NO_EFFECT)
    halved = table.filter(pl.col("ratio") == HALVING)
    given, off = table["held"].drop_nulls(), table["off"].drop_nulls()
    alarms = nothing["verdict"].is_in(["lower", "higher"])
    return Count(
        len(given),
        _mean(given),
        _mean(alarms),
        _mean(off),
        float(np.std(off.to_numpy()) / np.sqrt(len(off))) if len(off) else float("nan"),
        float("nan") if off.is_empty() else float(np.median(off.to_numpy())),
        _mean(halved["verdict"] == "too little to tell"),
        _mean(table["held"].is_null()),
        float(np.exp(np.median(table["width"].drop_nulls().to_numpy())))
        if table["width"].count()
        else float("nan"),
    )


def _mean(values: pl.Series) -> float:
    return float(values.cast(pl.Float64).to_numpy().mean()) if len(values) else float("nan")

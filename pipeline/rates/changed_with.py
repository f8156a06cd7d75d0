"""What else changed on the day that a rig was changed: ground, tow length, depth, season.

Whatever changed with the rig can't be told from it by the days before and after alone. So it is
named, by plain bounds on the hauls before and after:

- ground: to make the grounds of the hours before into those after, more than half of the hours
  would have to move to another ground (the total variation distance);
- tow length and depth: the usual one, as the geometric mean, is larger or smaller by more than a
  quarter, or than a half. What an hour brings changes with how long the tow is, and at another
  depth there are other fish;
- season: the middles of the hauls before and of those after lie more than 45 days apart, half a
  quarter of a year. A lay-up between them shows in this too.

The bounds are this project's own judgement; no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import polars as pl

from schemas.codes import CameWith

if TYPE_CHECKING:
    from pipeline.rates.spells import Look

SHARE_MOVED = 0.5
TOW_RATIO = 1.25
DEPTH_RATIO = 1.5
DAYS_APART = 45.0
SECONDS_A_DAY = 86_400.0


@dataclass(frozen=True)
class ChangedWith:
    """What changed with the rig, and what it was before and after.

    Of the ground the share of hours on `ground`, the one that gained or lost most; of tow length
    hours; of depth metres; of the season days from the middle of the hauls before, which is 0.
    """

    what: CameWith
    before: float
    after: float
    ground: str | None = None


def changed_with(hauls: pl.DataFrame, look: Look) -> list[ChangedWith]:
    """All that changed with the rig; `hauls` has ground, tow_hours, depth_m and shot_at."""
    before, after = hauls[look.before], hauls[look.after]
    found = [
        _ground(before, after),
        _usual(CameWith.TOW_LENGTH, "tow_hours", TOW_RATIO, before, after),
        _usual(CameWith.DEPTH, "depth_m", DEPTH_RATIO, before, after),
        _season(before, after),
    ]
    return [each for each in found if each is not None]


def _ground(before: pl.DataFrame, after: pl.DataFrame) -> ChangedWith | None:
    shares = (
        _shares(before)
        .join(_shares(after), on="ground", how="full", coalesce=True, suffix="_after")
        .fill_null(0.0)
        .with_columns(moved=(pl.col("share_after") - pl.col("share")).abs())
        .sort(["moved", "share", "ground"], descending=[True, True, False])
    )
    if shares["moved"].sum() / 2 <= SHARE_MOVED:
        return None
    most = shares.row(0, named=True)
    return ChangedWith(CameWith.GROUND, most["share"], most["share_after"], most["ground"])


def _shares(hauls: pl.DataFrame) -> pl.DataFrame:
    """The share of the hours on each ground."""
    by_ground = (
        hauls.sort("ground", "tow_hours")
        .group_by("ground", maintain_order=True)
        .agg(pl.col("tow_hours").sum().alias("share"))
    )
    return by_ground.with_columns(pl.col("share") / pl.col("share").sum())


def _usual(
    what: CameWith, column: str, bound: float, before: pl.DataFrame, after: pl.DataFrame
) -> ChangedWith | None:
    """Whether the geometric mean of a column differs beyond the bound, where both recorded it."""
    usual = [_geometric_mean(hauls[column]) for hauls in (before, after)]
    first, second = usual
    if first is None or second is None or max(first, second) <= bound * min(first, second):
        return None
    return ChangedWith(what, first, second)


def _geometric_mean(values: pl.Series) -> float | None:
    known = values.drop_nulls().to_numpy()
    return float(np.exp(np.log(known).mean())) if len(known) else None


def _season(before: pl.DataFrame, after: pl.DataFrame) -> ChangedWith | None:
    middles = [np.median(hauls["shot_at"].dt.epoch("s").to_numpy()) for hauls in (before, after)]
    days = float((middles[1] - middles[0]) / SECONDS_A_DAY)
    return ChangedWith(CameWith.SEASON, 0.0, days) if days > DAYS_APART else None

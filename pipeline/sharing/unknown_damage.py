"""What a co-op may see of the hauls that do not tell whether the net was damaged.

They are hauls like others: how many they are, and how far they could move a ratio, tells of single
boats where few boats left it open, or mostly one did. Their hours follow from the tables.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.sharing.contributions import DAMAGE_HOURS
from pipeline.sharing.resting import no_boat_is_most
from pipeline.sharing.shared_boats import three_figures
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from schemas.settings import Sharing

Row = dict[str, Any]
DAMAGE, LEAST, MOST = "damage_events", "least", "most"


def unknown_damage(
    findings: Row, effects: Sequence[Row], contributions: pl.DataFrame, sharing: Sharing
) -> Row:
    """Whether `any` hauls are unknown, how many `hauls` (null if of few boats), and `ratios`.

    Of each of the `effects` on damage over all grounds that is shared, what it would be had the
    unknown hauls all spoken for the rig or against it: `at_least` and `at_most`, the ratios alone.
    """
    record = next((row for row in findings["records"] if row["outcome"] == DAMAGE), None)
    unknown = record["hauls"] - record["recorded"] if record else 0
    supposed = {
        (row["rig"], row["part"], row["supposed"]): row["ratio"]
        for row in findings["notes"]["supposed"]
    }
    ratios = [
        {"rig": rig, "reference": effect["reference"], "at_least": least, "at_most": most}
        for effect in effects
        if (effect["outcome"], effect["ground"]) == (DAMAGE, ALL_GROUNDS)
        for rig in [effect["rig"]]
        if _are_of_enough(contributions, sharing, rig, effect["reference"])
        for least, most in [
            [three_figures(supposed.get((rig, effect["part"], end))) for end in (LEAST, MOST)]
        ]
        if least is not None and most is not None
    ]
    told = unknown and _are_of_enough(contributions, sharing)
    return {"any": unknown > 0, "hauls": unknown if told else None, "ratios": ratios}


def _are_of_enough(contributions: pl.DataFrame, sharing: Sharing, *rigs: str) -> bool:
    """Whether the hours without word of damage are of enough boats; of these rigs, if any named."""
    of_rigs = contributions.filter(pl.col("rig_version").is_in(rigs)) if rigs else contributions
    hours = (
        of_rigs.group_by("vessel")
        .agg((pl.col("tow_hours") - pl.col(DAMAGE_HOURS)).sum().alias("unknown"))
        .filter(pl.col("unknown") > ROUNDING)["unknown"]
    )
    return len(hours) >= sharing.min_vessels and no_boat_is_most(hours, sharing)


ROUNDING = 1e-6

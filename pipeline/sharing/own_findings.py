"""One boat beside the rest, for that boat: its own figures, and of the others what the co-op sees.

A boat knows its own part anyway, and the co-op's tables are made so that it can work out no
other's from them. Of the others nothing is told here that is not in the co-op's findings, but for
the mean over boats without it, where that is of one boat more than must be in a mean: of fewer, it
would help to solve for the others.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.sharing.contributions import AMOUNTS, RECORDED
from pipeline.sharing.shared_boats import three_figures, would_gain
from pipeline.sharing.shared_findings import rigs_and_grounds

if TYPE_CHECKING:
    from schemas.settings import Sharing

Row = dict[str, Any]


def own_findings(
    findings: Row, shared: Row, contributions: pl.DataFrame, vessel: str, sharing: Sharing
) -> Row:
    """What one boat's page is made of, from the season's and the co-op's findings.

    `own` has its hours and rates by rig and ground (null: all), `ratios` each rig against the
    reference on this boat, with the mean over boats as the co-op sees it.
    """
    rigs, grounds = rigs_and_grounds(findings, sharing)
    better = {row["name"]: row["better"] for row in findings["outcomes"]}
    kept = ("season", "sharing", "outcomes", "rigs", "cells", "unknown_damage")
    return {
        **{name: shared[name] for name in kept},
        "boat": vessel,
        "own": _own_cells(contributions.filter(pl.col("vessel") == vessel), rigs, grounds),
        "ratios": [
            _ratio(row, of_all, vessel, better[row["outcome"]], sharing)
            for row, of_all in zip(findings["boats"], shared["boats"], strict=True)
        ],
    }


def _own_cells(own: pl.DataFrame, rigs: dict[str, str], grounds: dict[str, str]) -> list[Row]:
    """The boat's hours and rates with each rig, over all grounds and on each."""
    by_ground = own.drop("vessel")
    over_all = (
        by_ground.group_by("rig_version", maintain_order=True)
        .agg(pl.exclude("ground").sum())
        .with_columns(pl.lit(None, pl.String).alias("ground"))
        .select(by_ground.columns)
    )
    return [
        {
            "rig": rigs[row["rig_version"]],
            "ground": None if row["ground"] is None else grounds[row["ground"]],
            "hauls": row["hauls"],
            **{name: row[name] for name in ("tow_hours", *RECORDED)},
            **{
                f"{name}_per_hour": three_figures(row[name] / row[of]) if row[of] else None
                for name, of in AMOUNTS.items()
            },
        }
        for row in pl.concat([over_all, by_ground]).to_dicts()
    ]


def _ratio(row: Row, of_all: Row, vessel: str, better: str, sharing: Sharing) -> Row:
    """One rig on this boat; the mean with it as the co-op sees it, and without it."""
    (boat,) = [boat for boat in row["boats"] if boat["vessel"] == vessel]
    has_ratio = boat["log_ratio"] is not None
    others = (of_all["boats_with_a_ratio"] or 0) - has_ratio
    without = boat["mean_without"] if others > sharing.min_vessels else None
    return {
        **{name: of_all[name] for name in ("outcome", "rig", "reference", "boats_with_a_ratio")},
        **{name: three_figures(boat[name]) for name in ("ratio", "low", "high")},
        "why_none": boat["why_none"],
        "gains": would_gain(boat["ratio"], better) if has_ratio else None,
        "mean": of_all["mean"],
        "mean_without": three_figures(without),
    }

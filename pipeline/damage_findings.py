"""What damage cost, by rig and ground, as it goes into `findings.json`."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.damage.compared_parts import rigs_side_by_side
from pipeline.damage.cumulative import find_cumulative_mending
from pipeline.damage.money import find_money
from pipeline.damage.money_figures import MoneyTerms
from pipeline.damage.part_ratios import find_part_ratios
from pipeline.damage.two_parts import find_two_parts
from pipeline.damage.where_and_why import where_and_why
from pipeline.damage.written import find_written

if TYPE_CHECKING:
    from pipeline.joining.join_season import JoinedSeason
    from schemas.settings import Settings


WORTH_FROM: dict[str, Any] = {"the season": "setting", "the catch": "catch", "nobody": None}
"""What the worth of a lost hour was taken from, by who told it."""


def damage_findings(
    joined: JoinedSeason, sums: pl.DataFrame, reference: str, settings: Settings
) -> dict[str, Any]:
    """Where and why the net tore, what that cost, how mending adds up, and what would pay.

    `sums` are the season's with their conditions.
    """
    damage_sums = joined.with_conditions(joined.damage.sums)
    damage_known = sums.filter(pl.col("outcome") == "damage_events")
    told = where_and_why(
        joined.damage.hauls,
        joined.damage.parts,
        joined.damage.causes,
        side_by_side=rigs_side_by_side(damage_known, reference),
        reference=reference,
        errors=settings.model.errors,
    )
    worth = joined.damage.hour_worth
    terms = MoneyTerms(
        settings.costs.mending_hour, worth["hour_worth"], WORTH_FROM[worth["worth_told_by"]]
    )
    money = find_money(sums, joined.rig_by_ground, reference, joined.adjust)
    return {
        "damage": asdict(told),
        "money": {"terms": asdict(terms), "rigs": [asdict(row) for row in money]},
        "costs": {
            "parts": [
                asdict(row)
                for row in find_two_parts(
                    sums, damage_sums, settings.model.errors, worth["hour_worth"]
                )
            ],
            "written": [asdict(row) for row in find_written(joined.damage.hauls, damage_sums)],
            "ratios": [
                asdict(row)
                for row in find_part_ratios(
                    sums, damage_sums, joined.rig_by_ground, reference, joined.adjust
                )
            ],
        },
        "cumulative_mending": [
            asdict(row)
            for row in find_cumulative_mending(joined.damage.watched, joined.damage.moments)
        ],
    }

"""What damage cost, by rig and ground, as it goes into `findings.json`."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.damage.compared_parts import rigs_side_by_side
from pipeline.damage.cumulative import find_cumulative_mending
from pipeline.damage.money import MoneyRecord, find_money
from pipeline.damage.money_figures import MoneyTerms
from pipeline.damage.part_ratios import find_part_ratios
from pipeline.damage.tear_costs import parts_known
from pipeline.damage.two_parts import find_two_parts
from pipeline.damage.where_and_why import where_and_why
from pipeline.damage.written import find_written
from pipeline.rates.one_after_other import marked

if TYPE_CHECKING:
    from pipeline.joining.join_season import JoinedSeason
    from pipeline.rates.looks import Judging
    from schemas.settings import Settings


WORTH_FROM: dict[str, Any] = {"the season": "setting", "the catch": "catch", "nobody": None}
"""What the worth of a lost hour was taken from, by who told it."""


def damage_findings(
    joined: JoinedSeason,
    sums: pl.DataFrame,
    reference: str,
    settings: Settings,
    judging: Judging,
) -> dict[str, Any]:
    """Where and why the net tore, what that cost, how mending adds up, and what would pay.

    `sums` are the season's with their conditions; `judging` is by what verdicts are judged.
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
    return {
        "damage": asdict(told),
        "money": money_findings(joined, sums, damage_sums, reference, settings),
        "costs": {
            "parts": [
                asdict(row)
                for row in find_two_parts(
                    sums, damage_sums, settings.model.errors, joined.damage.hour_worth["hour_worth"]
                )
            ],
            "written": [asdict(row) for row in find_written(joined.damage.hauls, damage_sums)],
            "ratios": [
                asdict(row)
                for row in find_part_ratios(
                    sums, damage_sums, joined.rig_by_ground, reference, joined.adjust, judging
                )
            ],
        },
        "cumulative_mending": [
            asdict(row)
            for row in find_cumulative_mending(joined.damage.watched, joined.damage.moments)
        ],
    }


def money_findings(
    joined: JoinedSeason,
    sums: pl.DataFrame,
    damage_sums: pl.DataFrame,
    reference: str,
    settings: Settings,
) -> dict[str, Any]:
    """What would pay, what an hour was reckoned at, and how many foul tows count.

    `sums` and `damage_sums` are the season's with their conditions.
    """
    worth = joined.damage.hour_worth
    landed = joined.with_conditions(joined.damage.landed)
    record = MoneyRecord(
        landed.filter(pl.col("hauls") > 0),
        sums.filter(pl.col("outcome") == "damage_events"),
        damage_sums,
        worth["hour_worth"],
    )
    terms = MoneyTerms(
        settings.costs.mending_hour,
        worth["hour_worth"],
        WORTH_FROM[worth["worth_told_by"]],
        parts_known(record.tear_amounts, record.hour_worth),
    )
    counted = pl.col("foul_hauls", "foul_without_record").sum().cast(pl.Int64)
    foul = landed.select(counted).row(0, named=True)
    money = find_money(record, joined.rig_by_ground, reference, joined.adjust)
    money = marked(money, joined.hauls_in_time)
    return {"terms": asdict(terms) | foul, "rigs": [asdict(row) for row in money]}

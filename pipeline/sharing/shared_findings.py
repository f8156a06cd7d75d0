"""The findings as a co-op may see them: built from nothing, by what may be shared.

Nothing is deleted from the full findings here; each thing that is shared is named and copied, so
that what is added to them later stays out until somebody names it. In are: the tables of
`contributions.TABLES` as `share_table` leaves them; ratios of two rigs whose cells in those tables
are shown and that rest on enough boats (`resting.py`), and what hauls that are silent could do to
them (`unknown_damage.py`); how far boats agree (`shared_boats.py`). Out are trips, hauls, days,
positions, notes, and whatever is told of one boat; measures, money, changes of rig, mending over a
rig's life and most trials of a headline, which name trips and boats or add up what the tables hide
(`shared_ways.py` has the two that are in). A raw ratio is made of the cells that are shown, as it
would else tell of hidden ones. Months, not days, tell the period. Hours and amounts are told to
three figures: a boat that writes in another unit than the rest, stones or minutes, has decimals of
its own, and by them its part of an exact sum could be told.

Rigs by quarter of the year would be a second table, linked to the first. It is left out, as nearly
all of its cells are of few boats, and what must then be hidden takes seven times as long to find.
"""

from __future__ import annotations

from math import log
from typing import TYPE_CHECKING, Any

import numpy as np
import polars as pl

from pipeline.rows import SEASON
from pipeline.sharing.contributions import AMOUNTS, MEASURES, RECORDED, TABLES
from pipeline.sharing.letters import letters
from pipeline.sharing.plain_names import labels_without_boats, without_boats
from pipeline.sharing.resting import boats_with_both, rests_on_enough
from pipeline.sharing.share_table import share_table
from pipeline.sharing.shared_boats import shared_boats, three_figures
from pipeline.sharing.shared_ways import shared_ways
from pipeline.sharing.unknown_damage import unknown_damage
from pipeline.sharing.why_set_aside import set_aside_by_kind
from schemas.codes import Caution
from schemas.outcomes import OUTCOMES
from schemas.words import ALL_GROUNDS, FACTORS, GROUNDS, UNKNOWN_GROUND, WHOLE_RECORD

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.sharing.periods import Part
    from schemas.settings import Sharing

Row = dict[str, Any]
Cells = dict[tuple[str | None, str | None], Row]

ONE_TAIL = 0.025
OF_AN_OUTCOME = (
    "name",
    "title",
    "unit",
    "said",
    "said_of_times",
    "fish",
    "less",
    "more",
    "better",
    "counted",
    "matters",
)
OF_AN_EFFECT = ("part", "verdict", "verdict_alone", "cautions")
PAIR = ("rig", "reference")
RATIO = ("ratio", "low", "high")


def shared_findings(
    findings: Row,
    contributions: pl.DataFrame,
    hours: pl.DataFrame,
    rectangles: list[str],
    sharing: Sharing,
    seed: int,
    parts: Sequence[Part] = (),
) -> Row:
    """The contents of the co-op's `findings.json`, from those of the season.

    `contributions`, `hours` and `rectangles` are those of `contributions.py`; the `seed` is for
    letters of boats, a new one from `secrets.randbits(128)` each time and kept nowhere; `parts` are
    those of the record that not all boats fished, of which it is told when they were.
    """
    season = findings["season"]
    rigs, grounds = rigs_and_grounds(findings, sharing)
    table = share_table(contributions, TABLES, MEASURES, sharing, RECORDED)
    cells: Cells = {(row["rig_version"], row["ground"]): row for row in table.cells.to_dicts()}
    whole = cells[None, None]
    called = agreeing_by_rig(findings, sharing, np.random.default_rng(seed))
    outcomes = [row for row in findings["outcomes"] if row["name"] in _fixed()]
    better = {row["name"]: row["better"] for row in outcomes}
    effects = [
        effect
        for effect in findings["effects"]
        if effect["outcome"] in better and _may_be_shared(effect, cells, hours, sharing)
    ]
    unknown = unknown_damage(findings, effects, contributions, sharing)
    return {
        "season": {
            "title": without_boats(season["title"], _unnamed(season, sharing)),
            "reference_rig": rigs[season["reference_rig"]],
            "grounds": [grounds[ground] for ground in season["grounds"]],
            "rectangles": rectangles,
            "boats": whole["vessels"],
            "marks_foul_tows": bool(season.get("foul_tows", 1)),
            "hauls": _whole(whole["hauls"]),
            "tow_hours": three_figures(whole["tow_hours"]),
            "first_month": _month(season["first_day"]),
            "last_month": _month(season["last_day"]),
            "not_of_all_boats": [part.shared() for part in parts],
            "seasons_left_out": len(findings.get("seasons_left_out", [])),
            "headlines": [name for name in season["headlines"] if name in better],
        },
        "sharing": {
            "min_vessels": sharing.min_vessels,
            "max_share": sharing.max_share,
            "said": table.said,
            "hidden_for": table.hidden_for,
            "cells": len(cells),
            "hidden": sum(cell["hidden"] is not None for cell in cells.values()),
        },
        "damage_is_stood_for": damage_is_stood_for(findings),
        "outcomes": [{name: row[name] for name in OF_AN_OUTCOME} for row in outcomes],
        "rigs": [
            {"rig_version": rigs[rig["rig_version"]], "is_reference": rig["is_reference"]}
            for rig in findings["rigs"]
        ],
        "cells": [_cell(cell, rigs, grounds) for cell in cells.values()],
        "effects": [
            {
                **_effect(effect, cells),
                "rig": rigs[effect["rig"]],
                "reference": rigs[effect["reference"]],
                "ground": grounds.get(effect["ground"], effect["ground"]),
            }
            for effect in effects
        ],
        "unknown_damage": {
            **unknown,
            "ratios": [
                {**row, "rig": rigs[row["rig"]], "reference": rigs[row["reference"]]}
                for row in unknown["ratios"]
            ],
        },
        "sensitivity": [
            {**row, "rig": rigs[row["rig"]]}
            for row in shared_ways(findings, effects, hours, sharing)
        ],
        "boats": [
            {**told, "rig": rigs[told["rig"]], "reference": rigs[told["reference"]]}
            for row in findings["boats"]
            for told in [shared_boats(row, better[row["outcome"]], called[row["rig"]], sharing)]
        ],
        "set_aside": set_aside_by_kind(findings["set_aside"]),
    }


def damage_is_stood_for(findings: Row) -> bool:
    """Whether every haul counts as damaged but those that a log's own words say are not."""
    return any(
        row["column"] == "damaged" and row["headers"] and row["otherwise"] == "yes"
        for row in findings.get("method", {}).get("stand_ins", [])
    )


def rigs_and_grounds(findings: Row, sharing: Sharing) -> tuple[dict[str, str], dict[str, str]]:
    """What each rig and each ground is called where boats must not be named."""
    season = findings["season"]
    unnamed = _unnamed(season, sharing)
    rigs = labels_without_boats((rig["rig_version"] for rig in findings["rigs"]), unnamed)
    trade_words = (*GROUNDS, UNKNOWN_GROUND)
    return rigs, labels_without_boats(season["grounds"], unnamed, trade_words)


def _unnamed(season: Row, sharing: Sharing) -> list[str]:
    return sorted(set(season["vessels"]) - set(sharing.by_name))


def agreeing_by_rig(
    findings: Row, sharing: Sharing, chance: np.random.Generator
) -> dict[str, dict[str, str]]:
    """Of each rig what each boat is called that agrees to be shown, with letters of the rig's own.

    With one letter for all rigs, a boat could be told by which rigs it fished.
    """
    vessels = findings["season"]["vessels"]
    rigs = sorted({row["rig"] for row in findings["boats"]})
    return {rig: agreeing(vessels, sharing, chance) for rig in rigs}


def agreeing(vessels: list[str], sharing: Sharing, chance: np.random.Generator) -> dict[str, str]:
    """What each boat is called that agrees to be shown: its name, or a letter."""
    called = letters(vessels, sharing.by_name, chance)
    return {vessel: name for vessel, name in called.items() if vessel in sharing.agreeing}


def _fixed() -> set[str]:
    """The outcomes that have the same words in every season; single species are not shared."""
    return {outcome.name for outcome in OUTCOMES}


def _cell(cell: Row, rigs: dict[str, str], grounds: dict[str, str]) -> Row:
    """A cell as it is printed: shown or not, without the reason; rates of what is shown."""
    rig, ground = cell["rig_version"], cell["ground"]
    return {
        "rig": None if rig is None else rigs[rig],
        "ground": None if ground is None else grounds[ground],
        "shown": cell["hidden"] is None,
        "boats": cell["vessels"],
        "hauls": _whole(cell["hauls"]),
        **{name: three_figures(cell[name]) for name in ("tow_hours", *RECORDED, *AMOUNTS)},
        **{f"{name}_per_hour": three_figures(_rate(cell, name)) for name in AMOUNTS},
        "damage_events_per_hour_at_most": three_figures(_at_most_if_none(cell)),
    }


def _at_most_if_none(cell: Row) -> float | None:
    """How much damage an hour there may yet be in a shown cell that had none (Garwood's limit).

    It follows from the hours as they are shown, so that it tells nothing else of the boats.
    """
    hours = three_figures(cell[AMOUNTS["damage_events"]])
    return -log(ONE_TAIL) / hours if hours and cell["damage_events"] == 0 else None


def _rate(cell: Row, outcome: str) -> float | None:
    """The rate of a cell, if it is shown and the outcome was recorded there."""
    hours: float | None = cell[AMOUNTS[outcome]] if outcome in AMOUNTS else None
    return float(cell[outcome] / hours) if hours else None


def _may_be_shared(effect: Row, cells: Cells, hours: pl.DataFrame, sharing: Sharing) -> bool:
    """Whether the two rigs' cells are shown, and the comparison rests on enough boats."""
    if effect["part"] != WHOLE_RECORD or len(_pair(effect, cells)) < len(PAIR):
        return False
    there = hours.filter(pl.col("outcome") == effect["outcome"])
    if effect["ground"] != ALL_GROUNDS:
        there = there.filter(pl.col("ground") == effect["ground"])
    return rests_on_enough(boats_with_both(there, effect["rig"], effect["reference"]), sharing)


def _pair(effect: Row, cells: Cells) -> list[Row]:
    """The cells of the two rigs, of those that are shown."""
    ground = None if effect["ground"] == ALL_GROUNDS else effect["ground"]
    both = (cells.get((effect[name], ground)) for name in PAIR)
    return [cell for cell in both if cell is not None and cell["hidden"] is None]


def _effect(effect: Row, cells: Cells) -> Row:
    """What is shared of a ratio; the raw one is made of the cells that are shown.

    Nothing is told of hauls that are in no cell: whether rigs were side by side there is one thing.
    Of two rigs that were not side by side the page tells no ratio, so none is in its findings: a
    file that goes from hand to hand is read without its cautions.
    """
    told = Caution.NOT_SIDE_BY_SIDE not in effect["cautions"]
    of_rig, of_reference = (_rate(cell, effect["outcome"]) for cell in _pair(effect, cells))
    raw = of_rig / of_reference if of_rig is not None and of_reference else None
    return {
        "outcome": effect["outcome"],
        **{name: three_figures(effect[name]) if told else None for name in RATIO},
        "raw_ratio": three_figures(raw),
        **{name: effect[name] for name in OF_AN_EFFECT},
        "cautions": [each for each in effect["cautions"] if each != Caution.UNTOLD_SIDE_BY_SIDE],
        "adjusted_for": [name for name in effect["adjusted_for"] if name in {*FACTORS, SEASON}],
    }


def _whole(count: float | None) -> int | None:
    return None if count is None else int(count)


def _month(day: str | None) -> str | None:
    return None if day is None else day[: len("2031-01")]

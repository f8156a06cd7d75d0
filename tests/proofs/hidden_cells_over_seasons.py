"""A long proof: over many invented seasons, can a reader tell a hidden cell after all?

`python -m tests.proofs.hidden_cells_over_seasons 1000` invents 1,000 seasons, by the seeds from 0
on (`… 500 500`: from 500), and shares tables of each: rig by ground; with rigs by their ground
gear; or with rig by quarter linked to it. The reader of `table_reader.py` bounds every hidden cell,
of hours, damage events and kilos; then the sum of the cells in which one boat was alone, by row, by
column and in all; then, as each boat that knows its own part and where it was alone, the cells that
are unsafe. A cell is told where the bounds meet, or where one is within 15 % of its value, or, of
events, within less than one. About a second a season on one core.
"""

from __future__ import annotations

import sys
from collections import Counter
from itertools import chain
from typing import TYPE_CHECKING

import numpy as np
import polars as pl

from pipeline.sharing.share_table import GIVES_AWAY, share_table
from schemas.settings import Sharing
from tests.proofs.over_seasons import over_seasons
from tests.proofs.table_reader import Equations, Key, equations, keys_of

if TYPE_CHECKING:
    from collections.abc import Iterator

RIG, GROUND = ("rig_version",), ("ground",)
KINDS = (
    [[RIG, GROUND]],
    [[("ground_gear", "rig_version"), GROUND]],
    [[RIG, GROUND], [RIG, ("quarter",)]],
)
MEASURES = ("tow_hours", "damage_events", "kg")
WHOLE = "damage_events"
WITHIN, ROUNDING = 0.15, 1e-5


def season(seed: int) -> tuple[pl.DataFrame, list[list[tuple[str, ...]]], Sharing]:
    """What boats add to cells, the tables to share, and what must hold of a cell."""
    chance = np.random.default_rng(seed)
    boats, rigs, grounds = chance.integers([2, 2, 2], [9, 6, 6])
    fished = chance.uniform(0.3, 0.9)
    rows = []
    for boat, rig, ground in np.ndindex(boats, rigs, grounds):
        if chance.random() < fished:
            hours = round(chance.lognormal(2.5, 1.2) + 0.1, 2)
            rows.append(
                {
                    "vessel": f"boat {boat}",
                    "ground_gear": f"gear {rig % 2}",
                    "rig_version": f"rig {rig}",
                    "ground": f"ground {ground}",
                    "quarter": f"Q{chance.integers(1, 4)}",
                    "tow_hours": hours,
                    "damage_events": int(chance.poisson(0.05 * hours)),
                    "kg": round(chance.gamma(1.5, 20 * hours), 1) * (chance.random() < 0.9),
                }
            )
    rules = Sharing(
        min_vessels=int(chance.choice([2, 3, 3, 4])),
        max_share=float(chance.choice([0.6, 0.8, 0.9])),
    )
    if not rows:
        return season(seed + 1_000_000)
    return pl.DataFrame(rows), KINDS[seed % len(KINDS)], rules


def told(value: float, low: float, high: float, measure: str) -> bool:
    """Whether the bounds tell a value that is between them."""
    assert low <= value * (1 + ROUNDING) + ROUNDING, (low, value)
    assert high >= value * (1 - ROUNDING) - ROUNDING, (high, value)
    near = WITHIN * value * (1 - ROUNDING)
    if measure == WHOLE:
        near = max(near, 1 - ROUNDING)
    return high - low < ROUNDING or (value > 0 and low > value - near) or high < value + near


def attacked(seed: int) -> Counter[str]:
    """How many cells and sums were tried in a season, and how many of them were told."""
    contributions, tables, rules = season(seed)
    shared = share_table(contributions, tables, MEASURES, rules).cells
    columns = list(dict.fromkeys(chain(*chain(*tables))))
    keys = keys_of(shared, columns)
    counts = Counter(cells=len(keys), hidden=shared["hidden"].count())
    unsafe = [
        key
        for key, why in zip(keys, shared["hidden"], strict=True)
        if why not in {None, GIVES_AWAY}
    ]
    for measure in MEASURES:
        amounts = _amounts(contributions, columns, keys, measure)
        if not any(sum(by_boat.values()) for by_boat in amounts.values()):
            continue
        seen = dict(zip(keys, shared[measure], strict=True))
        read = equations(seen, tables, columns)
        aims = list(_aims(read, amounts, columns))
        for (kind, group), ends in zip(
            aims, read.bounds([group for _, group in aims]), strict=True
        ):
            value = sum(sum(amounts[key].values()) for key in group)
            counts[kind] += 1
            counts[f"{kind} told"] += told(value, *ends, measure)
        for boat in contributions["vessel"].unique().sort():
            counts.update(_by_a_boat(boat, amounts, seen, tables, columns, unsafe, measure))
    return counts


def _amounts(
    contributions: pl.DataFrame, columns: list[str], keys: list[Key], measure: str
) -> dict[Key, dict[str, float]]:
    """What each boat has in each cell."""
    found: dict[Key, dict[str, float]] = {key: {} for key in keys}
    for boat, amount, *own in contributions.select("vessel", measure, *columns).iter_rows():
        for key, by_boat in found.items():
            if all(wanted in {None, is_} for wanted, is_ in zip(key, own, strict=True)):
                by_boat[boat] = by_boat.get(boat, 0.0) + amount
    return found


def _aims(
    read: Equations, amounts: dict[Key, dict[str, float]], columns: list[str]
) -> Iterator[tuple[str, list[Key]]]:
    """Each hidden cell, and of each boat the cells that are its own, by row, by column, and all."""
    yield from (("a cell", [key]) for key in read.unknown)
    finest = [key for key in read.unknown if all(key[columns.index(c)] for c in (*RIG, *GROUND))]
    lines = [None, *((at, key[at]) for key in finest for at in range(len(columns)))]
    for line in dict.fromkeys(lines):
        alone: dict[str, list[Key]] = {}
        for key in finest:
            if len(amounts[key]) == 1 and (line is None or key[line[0]] == line[1]):
                alone.setdefault(next(iter(amounts[key])), []).append(key)
        yield from (("a boat's own cells", group) for group in alone.values() if len(group) > 1)


def _by_a_boat(
    boat: str,
    amounts: dict[Key, dict[str, float]],
    seen: dict[Key, float | None],
    tables: list[list[tuple[str, ...]]],
    columns: list[str],
    unsafe: list[Key],
    measure: str,
) -> Counter[str]:
    """How many unsafe cells the boat tried, and of how many it told what the others have."""
    others = {
        key: None if value is None else value - amounts[key].get(boat, 0.0)
        for key, value in seen.items()
        if set(amounts[key]) != {boat}
    }
    read = equations(others, tables, columns)
    counts: Counter[str] = Counter()
    tried = [key for key in unsafe if key in others]
    for key, ends in zip(tried, read.bounds([[key] for key in tried]), strict=True):
        value = sum(amount for by, amount in amounts[key].items() if by != boat)
        counts["by a boat"] += 1
        counts["by a boat told"] += told(value, *ends, measure)
    return counts


def main(seasons: int, first: int = 0) -> None:
    """Count over the seasons, and print."""
    counts: Counter[str] = Counter()
    for found in over_seasons(attacked, range(first, first + seasons)):
        counts.update(found)
    sys.stdout.write(f"{counts['hidden']:,} of {counts['cells']:,} cells hidden\n")
    for kind in ("a cell", "a boat's own cells", "by a boat"):
        sys.stdout.write(f"{kind}: {counts[f'{kind} told']} of {counts[kind]:,} told\n")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:3]))

"""A boat's hauls in the order of time: its spells with one rig, and the days to look about.

A spell is an unbroken row of hauls with one rig version. A try of fewer than five hauls is passed
over, and the spells on either side of it are one if they are of the same rig. A change of rig
lasts where fifteen hauls of one rig are followed by fifteen of another: with fewer there is hardly
a tear on either side. Up to forty are looked at, as with more the weeks lie too far apart, and as
many before as after. So that changes have something to be held against, the same is done about
days on which nothing was changed, well inside a spell: at the start of a trip for changes between
trips, during one for changes at sea. What was torn or caught is not looked at to choose a day.
The bounds are this project's own judgement; no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    import polars as pl
    from numpy.typing import NDArray

    Places = NDArray[np.int64]

TRY_HAULS = 5
LEAST_HAULS = 15
MOST_HAULS = 40
MOST_DAYS = 40
"""So many days without a change, of each kind, tell how far such days move; more only cost time."""
MOST_CHANGES = 60
"""So many changes are looked about: who changes rigs so often has better in rigs side by side."""

IN_TIME = ["vessel", "shot_at", "trip", "haul"]


@dataclass(frozen=True)
class Spell:
    """Hauls of one boat with one rig, in the order of time; `rows` are their places."""

    vessel: str
    rig: str
    rows: Places


@dataclass(frozen=True)
class Look:
    """The hauls before and after a day on one boat, as many of one as of the other.

    `rig_before` and `rig_after` are the same where nothing was changed. `between_trips` is whether
    a trip begins on the day.
    """

    vessel: str
    rig_before: str
    rig_after: str
    before: Places
    after: Places
    between_trips: bool


def spells_of(hauls: pl.DataFrame) -> list[Spell]:
    """The spells of every boat; `hauls` are sorted by `IN_TIME`, and have rig_version."""
    vessel, rig = hauls["vessel"].to_numpy(), hauls["rig_version"].to_numpy()
    begins = np.flatnonzero((vessel[1:] != vessel[:-1]) | (rig[1:] != rig[:-1])) + 1
    spells: list[Spell] = []
    for rows in np.split(np.arange(hauls.height), begins):
        if len(rows) < TRY_HAULS:
            continue
        spell = Spell(str(vessel[rows[0]]), str(rig[rows[0]]), rows)
        last = spells[-1] if spells else None
        if last and (last.vessel, last.rig) == (spell.vessel, spell.rig):
            spells[-1] = Spell(last.vessel, last.rig, np.concatenate([last.rows, rows]))
        else:
            spells.append(spell)
    return spells


def changes_among(spells: Sequence[Spell]) -> list[tuple[Spell, Spell]]:
    """Each change of rig on a boat, whether or not it lasted: the spells on either side of it."""
    return [pair for pair in pairwise(spells) if pair[0].vessel == pair[1].vessel]


def looks_at_changes(hauls: pl.DataFrame, spells: Sequence[Spell]) -> list[Look]:
    """The hauls before and after each change that lasted."""
    trip = hauls["trip"].to_numpy()
    looks = []
    for earlier, later in changes_among(spells):
        many = min(MOST_HAULS, len(earlier.rows), len(later.rows))
        if many >= LEAST_HAULS:
            before, after = earlier.rows[-many:], later.rows[:many]
            between = bool(trip[before[-1]] != trip[after[0]])
            looks.append(Look(earlier.vessel, earlier.rig, later.rig, before, after, between))
    return looks


def looks_without_change(
    hauls: pl.DataFrame, spells: Sequence[Spell], many: int, *, between_trips: bool
) -> list[Look]:
    """The same about days within a spell, `many` hauls to a side, no haul in two of them.

    Where there are more than `MOST_DAYS`, as many spread evenly over all.
    """
    trip = hauls["trip"].to_numpy()
    looks = []
    for spell in spells:
        rows = spell.rows
        begins = trip[rows[1:]] != trip[rows[:-1]]
        free = many
        for at in np.flatnonzero(begins == between_trips) + 1:
            if free <= at <= len(rows) - many:
                before, after = rows[at - many : at], rows[at : at + many]
                looks.append(Look(spell.vessel, spell.rig, spell.rig, before, after, between_trips))
                free = int(at) + 2 * many
    return spread_evenly(looks, MOST_DAYS)


def spread_evenly(looks: list[Look], most: int) -> list[Look]:
    """All of them, or where there are more than `most`, as many spread evenly over all."""
    if len(looks) <= most:
        return looks
    return [looks[place] for place in np.linspace(0, len(looks) - 1, most).round().astype(np.int64)]

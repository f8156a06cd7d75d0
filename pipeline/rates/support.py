"""Were two rigs fished side by side? Same ground, same boat, same stretch of the record.

An adjusted ratio of two rigs that hardly met the same conditions rests on the model alone. So it
is given only where at least half the hours of one of the two were fished under conditions that
the other met as well, and each has five hauls and three trips there. Where that fails for the
whole record, the stretches during which both were in use are looked at alone. Only hauls that
recorded the outcome count. The bounds are this project's own judgement; no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
import polars as pl

from pipeline.rates.numbered import grouped, numbered, ranked
from pipeline.rates.tally import tally_by_rig
from schemas.words import CONDITIONS, UNKNOWN_CONDITIONS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pipeline.rates.numbered import Codes, Rows, Sums
    from pipeline.rates.tally import Tally

LEAST_SHARE = 0.5
LEAST_HAULS = 5
LEAST_TRIPS = 3


@dataclass(frozen=True)
class Support:
    """How much of two rigs' fishing was under the same conditions.

    Each pair of numbers is the rig's and the reference's.
    """

    hours: tuple[float, float] = (0.0, 0.0)
    shared_hours: tuple[float, float] = (0.0, 0.0)
    shared_hauls: tuple[int, int] = (0, 0)
    shared_trips: tuple[int, int] = (0, 0)

    @property
    def met_enough(self) -> bool:
        """Whether one of the two was mostly fished under conditions that the other met."""
        shares = [
            shared / hours if hours else 0.0
            for shared, hours in zip(self.shared_hours, self.hours, strict=True)
        ]
        return max(shares) >= LEAST_SHARE

    @property
    def side_by_side(self) -> bool:
        """Whether the two can be compared."""
        return (
            self.met_enough
            and min(self.shared_hauls) >= LEAST_HAULS
            and min(self.shared_trips) >= LEAST_TRIPS
        )


@dataclass(frozen=True)
class Conditions:
    """The sums of one outcome as arrays: rig, condition and trip by number, hauls and hours.

    `alike` says of each condition whether all of it is known, so that two rigs can share it.
    """

    rigs: dict[str, int]
    rig: NDArray[np.int64]
    condition: NDArray[np.int64]
    alike: NDArray[np.bool_]
    trip: NDArray[np.int64]
    hauls: NDArray[np.float64]
    hours: NDArray[np.float64]
    stretch: Codes

    @cached_property
    def rows(self) -> list[NDArray[np.int64]]:
        """The rows of each rig, by its number."""
        return [np.flatnonzero(self.rig == at) for at in range(len(self.rigs))]


def conditions_met(sums: pl.DataFrame | Sums) -> Conditions:
    """Number the conditions that each rig met.

    `sums` has rig_version, ground, vessel, stretch, trip, hauls and tow_hours.
    """
    rows = numbered(sums).rows
    return rows.once("conditions met", lambda: _conditions_of(rows))


def _conditions_of(rows: Rows) -> Conditions:
    rig, stretch = rows.codes("rig_version"), rows.codes("stretch")
    of_conditions = {name: rows.codes(name) for name in CONDITIONS}
    condition, first = grouped(list(of_conditions.values()))
    alike = np.ones(len(first), dtype=bool)
    for column, word in UNKNOWN_CONDITIONS.items():
        words, codes = of_conditions[column]
        if words != [word]:
            alike &= np.array([each != word for each in words], dtype=bool)[codes[first]]
    return Conditions(
        rigs={name: at for at, name in enumerate(rig.words)},
        rig=rig.codes,
        condition=condition,
        alike=alike,
        trip=rows.trips,
        hauls=rows.hauls,
        hours=rows.hours,
        stretch=stretch,
    )


def support(
    met: Conditions, rig: str, reference: str, stretches: Sequence[str] | None = None
) -> Support:
    """The support of two rigs in the given stretches, or in the whole record."""
    if rig not in met.rigs or reference not in met.rigs:
        return Support()
    rows = [met.rows[met.rigs[name]] for name in (rig, reference)]
    if stretches is not None:
        within = np.array([word in stretches for word in met.stretch.words], dtype=bool)
        rows = [own[within[met.stretch.codes[own]]] for own in rows]
    both = _where_all_were(met, rows)
    return Support(
        hours=(float(met.hours[rows[0]].sum()), float(met.hours[rows[1]].sum())),
        shared_hours=(float(met.hours[both[0]].sum()), float(met.hours[both[1]].sum())),
        shared_hauls=(int(met.hauls[both[0]].sum()), int(met.hauls[both[1]].sum())),
        shared_trips=(_different(met.trip[both[0]]), _different(met.trip[both[1]])),
    )


def where_both_were(sums: pl.DataFrame | Sums, rig: str, reference: str) -> Sums:
    """The sums of the two rigs under the conditions that both of them met."""
    sums = numbered(sums)
    met = conditions_met(sums)
    kept = np.zeros(len(sums), dtype=bool)
    if rig in met.rigs and reference in met.rigs:
        rows = [met.rows[met.rigs[name]] for name in (rig, reference)]
        kept[np.concatenate(_where_all_were(met, rows))] = True
    return sums.at(kept)


def _where_all_were(met: Conditions, rows: list[NDArray[np.int64]]) -> list[NDArray[np.int64]]:
    """Of the rows of each rig those under conditions that all of the rigs met."""
    shared = met.alike.copy()
    for own in rows:
        met_by_one = np.zeros_like(shared)
        met_by_one[met.condition[own]] = True
        shared &= met_by_one
    return [own[shared[met.condition[own]]] for own in rows]


def _different(numbers: NDArray[np.int64]) -> int:
    """How many numbers there are, each counted once."""
    return len(ranked(numbers)[1])


def both_in_use(met: Conditions, rig: str, reference: str) -> tuple[str, ...]:
    """The stretches of the record from the first to the last in which both rigs were in use.

    That is from the later of their first stretches to the earlier of their last.
    """
    if rig not in met.rigs or reference not in met.rigs:
        return ()
    in_use = [
        {met.stretch.words[at] for at in np.unique(met.stretch.codes[met.rows[met.rigs[name]]])}
        - {UNKNOWN_CONDITIONS["stretch"]}
        for name in (rig, reference)
    ]
    if not all(in_use):
        return ()
    first, last = max(map(min, in_use)), min(map(max, in_use))
    return tuple(sorted(word for word in in_use[0] | in_use[1] if first <= word <= last))


@dataclass(frozen=True)
class Backing:
    """What a comparison of a rig with the reference can rest on, in the record and in a part.

    `part` is the support over `stretches` alone, those in which both rigs were in use; it is
    there only where the whole record will not do and the part will.
    """

    whole: Support
    part: Support | None
    stretches: tuple[str, ...]

    @property
    def side_by_side(self) -> bool:
        """Whether there is anything to compare the two by."""
        return self.whole.side_by_side or self.part is not None


def back(met: Conditions, rig: str, reference: str) -> Backing:
    """What the comparison of the two rigs can rest on, under these conditions."""
    whole = support(met, rig, reference)
    if whole.side_by_side:
        return Backing(whole, None, ())
    stretches = both_in_use(met, rig, reference)
    part = support(met, rig, reference, stretches)
    return Backing(whole, part if part.side_by_side else None, stretches)


def to_compare(sums: Sums, reference: str) -> Sums:
    """The sums of the reference and of all rigs that were fished enough to be held to another.

    Others stay out of a model: a rig that was tried for one haul would take a term of its own, for
    which the conditions that the rest are held alike in would have to be given up. Which rigs these
    are does not turn on the reference, so that two rigs have one ratio, whichever is held to which.
    """
    rigs = [rig for rig, tally in tally_by_rig(sums).items() if _is_enough(tally)]
    return sums.only("rig_version", [reference, *rigs])


def _is_enough(tally: Tally) -> bool:
    return tally.hauls >= LEAST_HAULS and tally.trips >= LEAST_TRIPS


def compared_rigs(sums: pl.DataFrame, reference: str) -> pl.DataFrame:
    """The sums of the reference and of the rigs that are in a model with it."""
    rigs = to_compare(numbered(sums), reference).codes("rig_version").words
    return sums.filter(pl.col("rig_version").is_in(rigs))


def backings(sums: Sums, rigs: Sequence[str], reference: str) -> dict[str, Backing]:
    """What the comparison of each rig with the reference can rest on."""
    met = conditions_met(sums)
    return sums.rows.once(
        ("backings", tuple(rigs), reference),
        lambda: {rig: back(met, rig, reference) for rig in rigs},
    )

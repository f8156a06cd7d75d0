"""Where the net tore and why: how often each part and each cause was named, by rig.

A count is of damaged hauls that name the part; a haul may name several, so that shares do not add
up. Only hauls of which damage is known count, with their hours. Notes that name no part make every
part's rate too low: a rate here is of tears whose place was told. Rates are as recorded, whatever
the ground; rigs are compared in shares, like for like (`against_reference.py`).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl

from pipeline.damage.compared_parts import compare_parts
from pipeline.damage.found import Fished, NamedCause, NoteBehind, TornPart, WhereAndWhy
from pipeline.rates.rate_table import rate_of
from schemas.words import ALL_GROUNDS, CAUSES, NET_PARTS, UNKNOWN_GROUND

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence

    from numpy.typing import NDArray


PER_HOURS = 100.0
"""Rates are per so many hours towed."""

MOST_NOTES = 8
"""So many notes are shown behind a part; the rows of all of them are given."""

Errors = Literal["trip", "model"]


def where_and_why(
    haul_damage: pl.DataFrame,
    damage_parts: pl.DataFrame,
    damage_causes: pl.DataFrame,
    *,
    side_by_side: Collection[str],
    reference: str,
    errors: Errors,
) -> WhereAndWhy:
    """Parts and causes by rig, by ground, and over all; the limits respect trips.

    `haul_damage` has row, vessel, trip, haul, rig_version, ground, tow_hours, damage_events, parts,
    side, cause and damage_note; `damage_parts` has row, part and side, `damage_causes` row and
    cause, both of damaged hauls only. `side_by_side` are the rigs that were fished side by side
    with the reference: none but they are compared with it. Hauls without a rig are left out. Every
    part and cause that can be read of a note is there for every rig, torn or not, then words of a
    person's own; but no part where none is told of any tear, and no cause, as that is not nought.
    """
    known = haul_damage.filter(
        pl.col("damage_events").is_not_null(), pl.col("rig_version").is_not_null()
    ).sort("row")
    known = known.with_columns(
        pl.col("ground").fill_null(UNKNOWN_GROUND),
        (pl.struct("vessel", "trip").rank("dense").cast(pl.Int64) - 1).alias("trip_number"),
    )
    own = known.select("row", "trip_number")
    parts = damage_parts.select("row", "part", "side").join(own, on="row").sort("row")
    causes = damage_causes.select("row", "cause").join(own, on="row").sort("row")
    looks = [
        _Look(part, rig, ground, parts, causes, errors) for rig, ground, part in _cells_of(known)
    ]
    noted = known.join(parts, on="row", how="semi")
    length_of_note = dict(
        noted.select("row", pl.col("damage_note").str.len_chars().fill_null(0)).iter_rows()
    )
    torn = [row for look in looks for row in look.parts(length_of_note)]
    nothing_tore = not (known["damage_events"] > 0).any()
    compared, apart = compare_parts(torn, noted, side_by_side, reference, errors)
    return WhereAndWhy(
        reference=reference,
        comparisons=sum(part.against is not None for part in compared),
        not_compared=apart,
        fished=[look.fished() for look in looks],
        parts=compared if parts.height or nothing_tore else [],
        causes=[row for look in looks for row in look.causes()]
        if causes.height or nothing_tore
        else [],
        notes=_notes(known, {row for part in compared for row in part.shown}),
    )


def _cells_of(known: pl.DataFrame) -> Iterable[tuple[str | None, str, pl.DataFrame]]:
    """All hauls, those of each rig, those on each ground; each with at least one haul."""
    if known.height:
        yield None, ALL_GROUNDS, known
    for (rig,), part in known.sort("rig_version", "row").group_by(
        "rig_version", maintain_order=True
    ):
        yield str(rig), ALL_GROUNDS, part
    for (ground,), part in known.sort("ground", "row").group_by("ground", maintain_order=True):
        yield None, str(ground), part


class _Look:
    """The hauls of one rig, or on one ground, and the parts and causes that they name."""

    def __init__(
        self,
        hauls: pl.DataFrame,
        rig: str | None,
        ground: str,
        parts: pl.DataFrame,
        causes: pl.DataFrame,
        errors: Errors,
    ) -> None:
        self.rig, self.ground, self.errors = rig, ground, errors
        self.hauls = hauls
        self.trips = hauls["trip_number"].unique().sort().to_numpy()
        trips = 1 + int(self.trips[-1])
        self.hours = _by_trip(hauls["trip_number"], hauls["tow_hours"], trips)[self.trips]
        rows = hauls.select("row")
        self.named = parts.join(rows, on="row", how="semi")
        self.blamed = causes.join(rows, on="row", how="semi")

    def fished(self) -> Fished:
        """Hauls, hours, damage, and what of it is not told."""
        damaged = self.hauls.filter(pl.col("damage_events") > 0)
        return Fished(
            rig=self.rig,
            ground=self.ground,
            hauls=self.hauls.height,
            trips=len(self.trips),
            tow_hours=float(self.hauls["tow_hours"].sum()),
            damaged=damaged.height,
            part_not_told=_rows(damaged.join(self.named, on="row", how="anti")),
            cause_not_told=_rows(damaged.join(self.blamed, on="row", how="anti")),
        )

    def parts(self, length_of_note: dict[int, int]) -> Iterable[TornPart]:
        """Every part, in the order of the net, then words of a person's own."""
        of_a_rig = self.rig is not None
        of_part = self.named.rows_by_key("part", named=True)
        for part in _words(NET_PARTS, of_part):
            named = of_part[part]
            sides = [haul["side"] or "" for haul in named]
            rows = [haul["row"] for haul in named]
            longest = sorted(rows, key=lambda row: (-length_of_note[row], row))
            both = sides.count("both")
            port, starboard = (sides.count(side) + both for side in ("port", "starboard"))
            rate, low, high = self._rate(named)
            yield TornPart(
                rig=self.rig,
                ground=self.ground,
                part=part,
                hauls=len(named),
                port=port,
                starboard=starboard,
                both=both,
                side_not_told=sides.count(""),
                per_100_h=rate,
                low=low,
                high=high,
                port_per_100_h=self._per_hours(port),
                starboard_per_100_h=self._per_hours(starboard),
                rows=rows,
                shown=longest[:MOST_NOTES] if of_a_rig else [],
            )

    def causes(self) -> Iterable[NamedCause]:
        """Every cause, in the order of the words, then words of a person's own."""
        told = self.blamed["row"].n_unique()
        of_cause = self.blamed.rows_by_key("cause", named=True)
        for cause in _words(CAUSES, of_cause):
            blamed = of_cause[cause]
            rate, low, high = self._rate(blamed)
            yield NamedCause(
                rig=self.rig,
                ground=self.ground,
                cause=cause,
                hauls=len(blamed),
                share=len(blamed) / told if told else 0.0,
                per_100_h=rate,
                low=low,
                high=high,
                rows=[haul["row"] for haul in blamed],
            )

    def _rate(self, named: Sequence[Mapping[str, int]]) -> tuple[float, float | None, float | None]:
        """Hauls per 100 h and the limits."""
        on_trip = np.array([haul["trip_number"] for haul in named], dtype=np.int64)
        total = np.bincount(on_trip, minlength=1 + int(self.trips[-1])).astype(np.float64)
        rate = rate_of(total[self.trips], self.hours, self.errors, counted=True)
        low, high = (
            None if end is None else end * PER_HOURS for end in (rate["low"], rate["high"])
        )
        return self._per_hours(len(named)), low, high

    def _per_hours(self, hauls: int) -> float:
        return hauls / float(self.hours.sum()) * PER_HOURS


def _notes(known: pl.DataFrame, rows: set[int]) -> list[NoteBehind]:
    """The hauls of those rows as they were written."""
    shown = known.filter(pl.col("row").is_in(sorted(rows))).select(
        "row",
        "vessel",
        "trip",
        "haul",
        pl.col("rig_version").alias("rig"),
        "ground",
        pl.col("damage_note").alias("note"),
        "parts",
        "side",
        "cause",
    )
    return [NoteBehind(**row) for row in shown.iter_rows(named=True)]


def _words(known: Sequence[str], found: Collection[str]) -> list[str]:
    """The words that can be read of a note, then the others that were found."""
    return [*known, *sorted(set(found) - set(known))]


def _rows(hauls: pl.DataFrame) -> list[int]:
    return [int(row) for row in hauls["row"]]


def _by_trip(trip: pl.Series, amount: pl.Series, trips: int) -> NDArray[np.float64]:
    """The amount on each of so many trips, by number."""
    summed = np.bincount(trip.to_numpy(), amount.to_numpy(), minlength=trips)
    return np.asarray(summed, dtype=np.float64)

"""What is found of where and why the net tears; the report and `findings.json` hold no more."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pipeline.damage.against_reference import AgainstReference


@dataclass(frozen=True)
class Fished:
    """How much a rig was fished on a ground, and how much of its damage has a place or a cause.

    `rig` is None for all rigs together, `ground` is "all" for all grounds.
    """

    rig: str | None
    ground: str
    hauls: int
    trips: int
    tow_hours: float
    damaged: int
    part_not_told: list[int]
    cause_not_told: list[int]


@dataclass(frozen=True)
class TornPart:
    """How often a part was torn, per 100 h towed with 95 % limits, and the rows of those hauls.

    A haul of both sides counts in `port`, in `starboard` and in `both`. `shown` are the rows of the
    longest notes. `against` sets the share of tears that name the part against the reference's;
    `chance_of_many` is its chance with all comparisons allowed for, by Holm's rule, and
    `stands_out` says "more" or "less" where it is small.
    """

    rig: str | None
    ground: str
    part: str
    hauls: int
    port: int
    starboard: int
    both: int
    side_not_told: int
    per_100_h: float
    low: float | None
    high: float | None
    port_per_100_h: float
    starboard_per_100_h: float
    rows: list[int]
    shown: list[int]
    against: AgainstReference | None = None
    chance_of_many: float | None = None
    stands_out: str | None = None


@dataclass(frozen=True)
class NamedCause:
    """How often a cause was named; `share` is of damaged hauls that name any cause."""

    rig: str | None
    ground: str
    cause: str
    hauls: int
    share: float
    per_100_h: float
    low: float | None
    high: float | None
    rows: list[int]


@dataclass(frozen=True)
class NoteBehind:
    """One damaged haul as it was written, and what was read from it."""

    row: int
    vessel: str
    trip: str
    haul: str
    rig: str
    ground: str
    note: str | None
    parts: str | None
    side: str | None
    cause: str | None


@dataclass(frozen=True)
class WhereAndWhy:
    """Everything that the report says of where and why the net tears.

    `not_compared` are rigs with tears whose place is told that had too little in common with the
    reference's.
    """

    reference: str
    comparisons: int
    not_compared: list[str]
    fished: list[Fished]
    parts: list[TornPart]
    causes: list[NamedCause]
    notes: list[NoteBehind]

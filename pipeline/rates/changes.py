"""Before and after each change of rig, beside days on which nothing was changed.

A season that changes its rig once and for all leaves only this: what came before against what came
after, on one boat and its grounds. Whatever else changes from week to week is in it too, so the
same is done about days without a change, as a placebo: how far those move is how far a change has
to move to mean anything. None of it goes into a verdict.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
from scipy.special import bdtrc

from pipeline.rates.changed_with import ChangedWith, changed_with
from pipeline.rates.spells import (
    IN_TIME,
    MOST_CHANGES,
    Look,
    Spell,
    changes_among,
    looks_at_changes,
    looks_without_change,
    spells_of,
    spread_evenly,
)
from pipeline.rates.window_ratios import (
    AFTER,
    BEFORE,
    Errors,
    WindowRatio,
    window_hauls,
    window_ratio,
)
from schemas.codes import ChangeWithout
from schemas.outcomes import HEADLINES

if TYPE_CHECKING:
    from collections.abc import Sequence

    import polars as pl

LEAST_TO_POOL = 2
BY_CHANCE = 0.05
"""The share of 95 % intervals that leave out the truth, and the chance left to say so falsely."""

Ratios = dict[str, WindowRatio]
"""The ratios about one day, by outcome."""


@dataclass(frozen=True)
class HeldToOthers:
    """A ratio about a change, and how many of the days without a change moved as far or farther."""

    about: WindowRatio
    days_without: int
    as_far: int


@dataclass(frozen=True)
class RigChange:
    """A change of rig that lasted: where, when, what else changed, and the ratios about it."""

    vessel: str
    day: str
    rig_before: str
    rig_after: str
    hauls_a_side: int
    between_trips: bool
    came_with: list[ChangedWith]
    ratios: list[HeldToOthers]


@dataclass(frozen=True)
class Pooled:
    """A ratio within each of several days, and how many they are: those that have one alone."""

    days: int
    ratio: WindowRatio


@dataclass(frozen=True)
class RigPair:
    """All changes between two rigs together, either way: the rig held to the other within each."""

    rig: str
    reference: str
    changes_to: int
    changes_back: int
    came_with_more: int
    ratios: list[Pooled]


@dataclass(frozen=True)
class DayWithout:
    """A day without a change of rig, and the ratios about it."""

    vessel: str
    day: str
    rig: str
    between_trips: bool
    ratios: list[WindowRatio]


@dataclass(frozen=True)
class Placebo:
    """What days without a change show of an outcome, between trips or during them.

    `days` have a ratio, `show_change` of them an interval that leaves out no difference;
    `too_narrow` is whether those are more than intervals that hold 19 times in 20 would have, but
    for chance of one in twenty: then those about changes are too narrow as well. `lowest`,
    `highest` and `spread`, the standard deviation of the log ratios, are of those with some of the
    outcome on both sides; `none_on_a_side` had none on one. `together` is all of them as one.
    """

    outcome: str
    between_trips: bool
    days: int
    show_change: int
    too_narrow: bool
    none_on_a_side: int
    lowest: float | None
    highest: float | None
    spread: float | None
    together: WindowRatio


@dataclass(frozen=True)
class Changes:
    """Changes of rig and days without, as they go into `findings.json`.

    `of_all` is how many changes of rig there were that were more than a try, `lasted` how many of
    them lasted; `changes` are these, or where there are many as many as were looked about, spread
    evenly over all; `hauls_a_side` how many hauls were looked at on either side of a day without a
    change.
    """

    of_all: int = 0
    lasted: int = 0
    hauls_a_side: int | None = None
    changes: list[RigChange] = field(default_factory=list)
    pairs: list[RigPair] = field(default_factory=list)
    without: list[DayWithout] = field(default_factory=list)
    placebos: list[Placebo] = field(default_factory=list)


def find_changes(hauls: pl.DataFrame, reference: str, errors: Errors) -> Changes:
    """Before and after every change of rig that lasted, and about days without one.

    `hauls` has a row a dated haul: vessel, trip, haul, shot_at, rig_version, ground, depth_m,
    tow_hours, and a column for each headline outcome, null where it was not recorded. `reference`
    is the rig that others are held against. Without a change that lasted there is nothing to look
    at.
    """
    hauls = hauls.sort(IN_TIME)
    spells = spells_of(hauls)
    lasting = looks_at_changes(hauls, spells)
    looks = spread_evenly(lasting, MOST_CHANGES)
    quiet = _quiet(hauls, spells, looks)
    names = [name for name in HEADLINES if (hauls[name].fill_null(0) > 0).any()]
    of_all = len(changes_among(spells))
    if not looks or not names:
        return Changes(of_all, len(lasting))
    about = [_ratios(hauls, look, names, errors) for look in looks]
    about_quiet = [_ratios(hauls, look, names, errors) for look in quiet]
    return Changes(
        of_all,
        len(lasting),
        len(quiet[0].before) if quiet else None,
        [
            _change(hauls, look, ratios, _alike(look, quiet, about_quiet))
            for look, ratios in zip(looks, about, strict=True)
        ],
        _pairs(hauls, looks, about, reference, errors),
        [_without(hauls, look, ratios) for look, ratios in zip(quiet, about_quiet, strict=True)],
        _placebos(hauls, quiet, about_quiet, errors),
    )


def _quiet(hauls: pl.DataFrame, spells: Sequence[Spell], looks: Sequence[Look]) -> list[Look]:
    """Days without a change of the kinds that the changes are, with as many hauls as those have.

    That is between trips, or during one; and as many hauls as the median change.
    """
    if not looks:
        return []
    many = int(np.median([len(look.before) for look in looks]))
    kinds = sorted({look.between_trips for look in looks}, reverse=True)
    return [
        look
        for between in kinds
        for look in looks_without_change(hauls, spells, many, between_trips=between)
    ]


def _ratios(hauls: pl.DataFrame, look: Look, names: Sequence[str], errors: Errors) -> Ratios:
    windows = window_hauls(hauls, [look])
    return {name: window_ratio(windows, name, errors) for name in names}


def _alike(look: Look, quiet: Sequence[Look], about: Sequence[Ratios]) -> list[Ratios]:
    """The ratios about the days without a change that are of the look's own kind."""
    return [
        ratios
        for other, ratios in zip(quiet, about, strict=True)
        if other.between_trips == look.between_trips
    ]


def _day(hauls: pl.DataFrame, look: Look) -> str:
    """The day of the first haul after."""
    return str(hauls["shot_at"][int(look.after[0])])[:10]


def _without(hauls: pl.DataFrame, look: Look, ratios: Ratios) -> DayWithout:
    day = _day(hauls, look)
    return DayWithout(look.vessel, day, look.rig_after, look.between_trips, list(ratios.values()))


def _change(
    hauls: pl.DataFrame, look: Look, ratios: Ratios, without: Sequence[Ratios]
) -> RigChange:
    return RigChange(
        look.vessel,
        _day(hauls, look),
        look.rig_before,
        look.rig_after,
        len(look.before),
        look.between_trips,
        changed_with(hauls, look),
        [_held(ratio, [about[name] for about in without]) for name, ratio in ratios.items()],
    )


def _held(ratio: WindowRatio, without: Sequence[WindowRatio]) -> HeldToOthers:
    told = [each for each in without if each.is_told]
    if not ratio.is_told:
        return HeldToOthers(ratio, 0, 0)
    return HeldToOthers(ratio, len(told), sum(each.distance >= ratio.distance for each in told))


def _pairs(
    hauls: pl.DataFrame,
    looks: Sequence[Look],
    about: Sequence[Ratios],
    reference: str,
    errors: Errors,
) -> list[RigPair]:
    """Each two rigs between which there were several changes; the season's reference is held to."""
    by_pair: dict[tuple[str, str], list[int]] = {}
    for at, look in enumerate(looks):
        held_to, rig = sorted(
            (look.rig_before, look.rig_after), key=lambda name: (name != reference, name)
        )
        by_pair.setdefault((held_to, rig), []).append(at)
    return [
        _pair(hauls, [looks[at] for at in places], [about[at] for at in places], pair, errors)
        for pair, places in sorted(by_pair.items())
        if len(places) >= LEAST_TO_POOL
    ]


def _pair(
    hauls: pl.DataFrame,
    looks: Sequence[Look],
    about: Sequence[Ratios],
    pair: tuple[str, str],
    errors: Errors,
) -> RigPair:
    held_to, rig = pair
    to = sum(look.rig_after == rig for look in looks)
    return RigPair(
        rig,
        held_to,
        to,
        len(looks) - to,
        sum(bool(changed_with(hauls, look)) for look in looks),
        [
            _together(hauls, looks, [ratios[name] for ratios in about], errors, (rig, held_to))
            for name in about[0]
        ],
    )


def _together(
    hauls: pl.DataFrame,
    looks: Sequence[Look],
    about: Sequence[WindowRatio],
    errors: Errors,
    sides: tuple[str, str] | None = None,
) -> Pooled:
    """The looks that have a ratio of their own as one; `sides` as for `window_hauls`."""
    told = [look for look, ratio in zip(looks, about, strict=True) if ratio.is_told]
    name = about[0].outcome
    if len(told) < LEAST_TO_POOL:
        return Pooled(len(told), WindowRatio(name, why_none=ChangeWithout.TOO_FEW_TOLD))
    windows = window_hauls(hauls, told, by_rig=sides is not None)
    return Pooled(len(told), window_ratio(windows, name, errors, *(sides or (AFTER, BEFORE))))


def _placebos(
    hauls: pl.DataFrame, quiet: Sequence[Look], about: Sequence[Ratios], errors: Errors
) -> list[Placebo]:
    """What the days without a change show together, outcome by outcome and kind by kind."""
    placebos = []
    for between in sorted({look.between_trips for look in quiet}, reverse=True):
        looks = [look for look in quiet if look.between_trips == between]
        of_kind = _alike(looks[0], quiet, about)
        for name in of_kind[0]:
            ratios = [each[name] for each in of_kind]
            together = _together(hauls, looks, ratios, errors)
            placebos.append(_placebo(name, ratios, together, between_trips=between))
    return placebos


def _placebo(
    name: str, about: Sequence[WindowRatio], together: Pooled, *, between_trips: bool
) -> Placebo:
    told = [ratio for ratio in about if ratio.is_told]
    shown = sum(ratio.shows_change for ratio in told)
    ratios = [ratio.log_ratio for ratio in told if ratio.log_ratio is not None]
    return Placebo(
        outcome=name,
        between_trips=between_trips,
        days=len(told),
        show_change=shown,
        too_narrow=shown > 0 and float(bdtrc(shown - 1, len(told), BY_CHANCE)) < BY_CHANCE,
        none_on_a_side=len(told) - len(ratios),
        lowest=float(np.exp(min(ratios))) if ratios else None,
        highest=float(np.exp(max(ratios))) if ratios else None,
        spread=float(np.std(ratios, ddof=1)) if len(ratios) > 1 else None,
        together=together.ratio,
    )

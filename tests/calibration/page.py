"""RESULTS.md: the tables of what was counted, and which settings miss a goal."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import isnan, sqrt
from typing import TYPE_CHECKING

from tests.calibration.counting import EVERY, KINDS, Count, Held, count, count_kinds, ratios_of
from tests.calibration.seasons import DAMAGE, FISH, OUTCOMES, Setting
from tests.calibration.settings import (
    LEAST,
    LEAST_OF_FEW,
    MANY_TRIPS,
    MOST,
    MOST_BIAS,
    MOST_FALSE,
    SETTINGS,
    coverage_against_goal,
    least_coverage,
)
from tests.calibration.whole_seasons import WHOLE_SEASONS

if TYPE_CHECKING:
    import polars as pl

TITLES = {DAMAGE: "Net damage", FISH: "Fish, weighed"}
WITHIN = " (no more than chance might)"
HEAD = (
    "| no | trips | boats | setting | coverage | goal | false alarms | bias | middle | "
    "too little to tell | no interval | width |"
)
KINDS_WORDS = (
    "How many held what is true, and of how many: of ratios by what their error comes from; of the",
    "rate of one rig over all grounds, and of the mean over boats, both taken of one season in",
    f"{EVERY}. A kind that is chosen by what the season had is not promised to hold as all do.",
)
WHOLE_HEAD = (
    "| no | trips | boats | setting | headlines compared | false headline | goal | "
    "headline by itself | any of 36 by itself | intervals that held 1 |"
)


@dataclass
class Counts:
    """All that was counted: of ratios by outcome and setting, of kinds likewise, of seasons."""

    ratios: dict[str, dict[int, Count]] = field(default_factory=lambda: {DAMAGE: {}, FISH: {}})
    kinds: dict[str, dict[int, dict[str, Held]]] = field(
        default_factory=lambda: {DAMAGE: {}, FISH: {}}
    )
    whole: dict[int, WholeCount] = field(default_factory=dict)

    def add(self, number: int, told: pl.DataFrame) -> None:
        """Count what was told of a setting's seasons."""
        for (name,), of_outcome in told.group_by("outcome"):
            self.ratios[str(name)][number] = count(ratios_of(of_outcome))
            self.kinds[str(name)][number] = count_kinds(of_outcome)

    def add_whole(self, number: int, alarms: pl.DataFrame) -> None:
        """Count the alarms of a setting's whole seasons."""
        self.whole[number] = count_whole(alarms)


@dataclass(frozen=True)
class WholeCount:
    """Over whole seasons in which nothing differs: shares with a false finding, of each kind."""

    seasons: int
    compared: float
    headline: float
    headline_alone: float
    any_alone: float
    coverage: float


def count_whole(alarms: pl.DataFrame) -> WholeCount:
    """The shares over the seasons of a setting."""
    means = {name: float(alarms[name].to_numpy().mean()) for name in alarms.columns}
    return WholeCount(
        alarms.height,
        means["compared"],
        means["headline"],
        means["headline_alone"],
        means["any_alone"],
        means["held"] / means["intervals"] if means["intervals"] else float("nan"),
    )


def page(counts: Counts, many: int) -> str:
    """The whole of RESULTS.md."""
    lines = [*_opening(many)]
    for name in OUTCOMES:
        ratios = counts.ratios[name]
        if ratios:
            lines += ["", f"## {TITLES[name]}", "", HEAD, "|---" * 12 + "|"]
            lines += [row(at, SETTINGS[at], ratios[at]) for at in sorted(ratios)]
            lines += ["", *failings(ratios)]
    if any(counts.kinds.values()):
        lines += ["", "## By kind of interval", "", *KINDS_WORDS]
    for name in OUTCOMES:
        kinds = counts.kinds[name]
        if kinds:
            lines += ["", f"### {TITLES[name]}", "", *_kinds_table(kinds)]
    if counts.whole:
        lines += ["", "## Whole seasons in which nothing differs", "", *_whole_table(counts.whole)]
    return "\n".join(lines) + "\n"


def _opening(many: int) -> list[str]:
    chance = 200 * sqrt(0.95 * 0.05 / (2 * many))
    return [
        "# Calibration",
        "",
        f"Made by `python -m tests.calibration.run {many}`: of each setting {many} invented",
        f"seasons without an effect and {many} with a halving, each through `find_effects`. Chance",
        f"alone moves a coverage by {chance:.1f} points either way, twice its standard error.",
        "",
        f"Goal: of 12 trips or more {LEAST:.0%} to {MOST:.0%} of the 95 % intervals hold the",
        f"truth, of 6 trips {LEAST_OF_FEW:.0%} or more; the bias of the log ratio is {MOST_BIAS}",
        f"or less with {MANY_TRIPS} trips; where nothing differs, at most {MOST_FALSE:.0%} of",
        "seasons have a false headline. Of few events, which come in steps, more than",
        f"{MOST:.0%} may hold.",
        "",
        "*False alarms* are seasons without an effect of which lower or higher was said; *bias*",
        "and *middle* the mean and the median of what log ratios were off by; *too little to tell*",
        "is of seasons with a halving; *no interval* of all seasons; *width* the middle of upper",
        "by lower limit. Few is 8 events in all, rare 30, common one a haul; 8 hauls a trip. A",
        "trip's luck is a gamma with standard deviation 0.7 (very unlike: 1.2); with fish 0.5.",
        "Fish in one haul of five is log-normal there, with standard deviation 1.5 of the log.",
        "Settings that differ in damage alone have the same fish, and one of them tells of it.",
        "Damage is counted where it does not say *as yes or no*; what is true of that is the ratio",
        "of hauls with damage, which is nearer to one than that of tears.",
    ]


def row(number: int, setting: Setting, counted: Count) -> str:
    """One line of the table of ratios."""
    goal = coverage_against_goal(setting, counted) if counted.intervals else "no interval"
    cells = [
        str(number + 1),
        str(setting.trips),
        str(setting.boats),
        setting.words,
        percent(counted.coverage),
        goal,
        percent(counted.false_alarms),
        signed(counted.bias),
        signed(counted.middle),
        percent(counted.too_little),
        percent(counted.not_told),
        "" if isnan(counted.width) else f"{counted.width:.3g}",
    ]
    return f"| {' | '.join(cells)} |"


def percent(share: float) -> str:
    return "" if isnan(share) else f"{100 * share:.1f} %"


def signed(number: float) -> str:
    return "" if isnan(number) else f"{number:+.3f}"


def failings(counts: dict[int, Count]) -> list[str]:
    """Which settings miss a goal, and which of them by no more than chance might."""
    missed = []
    for at, counted in sorted(counts.items()):
        if not counted.intervals:
            continue
        setting = SETTINGS[at]
        goal = coverage_against_goal(setting, counted)
        if goal != "holds":
            least = least_coverage(setting)
            by = least - counted.coverage if goal == "below" else counted.coverage - MOST
            chance = 2 * sqrt(0.95 * 0.05 / counted.intervals)
            missed.append(f"{at + 1} {goal}{WITHIN if by <= chance else ''}")
        by = abs(counted.bias) - MOST_BIAS
        if setting.trips >= MANY_TRIPS and by > 0:
            chance = 2 * counted.bias_error
            missed.append(f"{at + 1} bias {signed(counted.bias)}{WITHIN if by <= chance else ''}")
    return [f"Goals missed, by number of the setting: {'; '.join(missed) or 'none'}."]


def _kinds_table(kinds: dict[int, dict[str, Held]]) -> list[str]:
    """How often each kind of interval held, and how many of them there were."""
    lines = [
        f"| no | {' | '.join(KINDS)} |",
        "|---" * (1 + len(KINDS)) + "|",
    ]
    for at, of_setting in sorted(kinds.items()):
        held = (of_setting.get(kind) for kind in KINDS)
        lines.append(f"| {at + 1} | {' | '.join(_of(each) for each in held)} |")
    return lines


def _of(held: Held | None) -> str:
    return "" if held is None else f"{percent(held.held / held.intervals)} of {held.intervals:,}"


def _whole_table(counts: dict[int, WholeCount]) -> list[str]:
    lines = [
        "Six rigs that do nothing against a seventh, in six outcomes over all grounds; headlines",
        "are net damage and bottom-living fish, judged together as in the report. *By itself* is",
        "what would be said were each judged alone, as further outcomes are.",
        "",
        WHOLE_HEAD,
        "|---" * 10 + "|",
    ]
    for at, counted in sorted(counts.items()):
        setting = WHOLE_SEASONS[at]
        cells = [
            str(at + 1),
            str(setting.trips),
            str(setting.boats),
            setting.words,
            f"{counted.compared:.1f}",
            percent(counted.headline),
            false_against_goal(counted),
            percent(counted.headline_alone),
            percent(counted.any_alone),
            percent(counted.coverage),
        ]
        lines.append(f"| {' | '.join(cells)} |")
    return lines


def false_against_goal(counted: WholeCount) -> str:
    """Whether false headlines are as rare as promised, or are so but for chance."""
    over = counted.headline - MOST_FALSE
    if over <= 0:
        return "holds"
    chance = 2 * sqrt(MOST_FALSE * (1 - MOST_FALSE) / counted.seasons)
    return f"above{WITHIN if over <= chance else ''}"

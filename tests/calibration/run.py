"""The calibration: how often do the intervals hold the truth that was put in?

`python -m tests.calibration.run N` takes N invented seasons without an effect and N with a halving
of each setting, on as many cores as there are, and writes RESULTS.md beside this file. With
`--settings 3 7` it takes these settings alone, by their number in the table, and only prints.
"""

from __future__ import annotations

import argparse
import sys
from collections import defaultdict
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from math import isnan, sqrt
from pathlib import Path

from tests.calibration.counting import HALVING, NO_EFFECT, Count, Told, count, tell
from tests.calibration.seasons import DAMAGE, FISH, Setting
from tests.calibration.settings import (
    FEW_TRIPS,
    LEAST,
    LEAST_OF_FEW,
    MANY_TRIPS,
    MOST,
    MOST_BIAS,
    SETTINGS,
    coverage_against_goal,
)

RESULTS = Path(__file__).with_name("RESULTS.md")
TITLES = {DAMAGE: "Net damage, counted", FISH: "Fish, weighed"}
WITHIN = " (no more than chance might)"
HEAD = (
    "| no | trips | boats | setting | coverage | goal | false alarms | bias | middle | "
    "too little to tell | no interval | width |"
)


def seasons(number: int, many: int) -> tuple[int, dict[str, list[Told]]]:
    """What was told of many seasons of a setting, by outcome."""
    told = defaultdict(list)
    for seed in range(many):
        for ratio in (NO_EFFECT, HALVING):
            for each in tell(SETTINGS[number], ratio, seed):
                told[each.outcome].append(each)
    return number, dict(told)


def row(number: int, setting: Setting, counted: Count) -> str:
    """One line of the table."""
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


def page(counts: dict[str, dict[int, Count]], many: int) -> str:
    """The whole of RESULTS.md."""
    chance = 200 * sqrt(0.95 * 0.05 / (2 * many))
    lines = [
        "# Calibration of the ratios of two rigs",
        "",
        f"Made by `python -m tests.calibration.run {many}`: of each setting {many} invented",
        f"seasons without an effect and {many} with a halving, each through `find_effects`. Chance",
        f"alone moves a coverage by {chance:.1f} points either way, twice its standard error.",
        "",
        f"Goal: of 12 trips or more {LEAST:.0%} to {MOST:.0%} of the 95 % intervals hold the",
        f"truth, of 6 trips {LEAST_OF_FEW:.0%} or more; the bias of the log ratio is {MOST_BIAS}",
        f"or less with {MANY_TRIPS} trips.",
        "",
        "*False alarms* are seasons without an effect of which lower or higher was said; *bias*",
        "and *middle* the mean and the median of what log ratios were off by; *too little to tell*",
        "is of seasons with a halving; *no interval* of all seasons; *width* the middle of upper",
        "by lower limit. Rare is 30 events in all, common is one a haul; 8 hauls a trip. A trip's",
        "luck is a gamma with standard deviation 0.7 (very unlike: 1.2); with fish 0.5.",
    ]
    for name, title in TITLES.items():
        of_outcome = counts[name]
        lines += ["", f"## {title}", "", HEAD, "|---" * 12 + "|"]
        lines += [row(at, SETTINGS[at], of_outcome[at]) for at in sorted(of_outcome)]
        lines += ["", *failings(of_outcome)]
    return "\n".join(lines) + "\n"


def failings(counts: dict[int, Count]) -> list[str]:
    """Which settings miss a goal, and which of them by no more than chance might."""
    missed = []
    for at, counted in sorted(counts.items()):
        if not counted.intervals:
            continue
        setting = SETTINGS[at]
        goal = coverage_against_goal(setting, counted)
        if goal != "holds":
            least = LEAST_OF_FEW if setting.trips <= FEW_TRIPS else LEAST
            by = least - counted.coverage if goal == "below" else counted.coverage - MOST
            chance = 2 * sqrt(0.95 * 0.05 / counted.intervals)
            missed.append(f"{at + 1} {goal}{WITHIN if by <= chance else ''}")
        by = abs(counted.bias) - MOST_BIAS
        if setting.trips >= MANY_TRIPS and by > 0:
            chance = 2 * counted.bias_error
            missed.append(f"{at + 1} bias {signed(counted.bias)}{WITHIN if by <= chance else ''}")
    return [f"Goals missed, by number of the setting: {'; '.join(missed) or 'none'}."]


def main(many: int, chosen: list[int]) -> None:
    """Take the seasons, then write or print the tables."""
    numbers = [number - 1 for number in chosen] or list(range(len(SETTINGS)))
    counts: dict[str, dict[int, Count]] = {DAMAGE: {}, FISH: {}}
    with ProcessPoolExecutor() as pool:
        slow_first = sorted(numbers, key=lambda number: -SETTINGS[number].trips)
        work = pool.map(partial(seasons, many=many), slow_first)
        for done, (number, told) in enumerate(work, start=1):
            for name, of_outcome in told.items():
                counts[name][number] = count(of_outcome)
            sys.stderr.write(f"\r{done} of {len(numbers)} settings")
    sys.stderr.write("\n")
    if chosen:
        sys.stdout.write(page(counts, many))
    else:
        RESULTS.write_text(page(counts, many), encoding="utf-8")


if __name__ == "__main__":
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("seasons", type=int, help="invented seasons of each kind a setting")
    asked.add_argument("--settings", type=int, nargs="+", default=[], help="numbers of settings")
    given = asked.parse_args()
    main(given.seasons, given.settings)

"""The calibration: how often do the intervals hold the truth that was put in?

`python -m tests.calibration.run N` takes N invented seasons without an effect and N with a halving
of each setting, and N whole seasons of seven rigs in which nothing differs, on as many cores as
there are, and writes RESULTS.md beside this file. With `--settings 3 7` or `--whole 2` it takes
these settings alone, by their number in the tables, and only prints. With `--keep FOLDER` it leaves
there what was told of every season, and does not take again what it finds there: a run that was
broken off goes on, and one of more seasons adds to one of fewer. After a change of the program take
another folder.
"""

from __future__ import annotations

import argparse
import os
import sys
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass
from itertools import product
from multiprocessing import get_context
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import polars as pl

from tests.calibration.counting import HALVING, NO_EFFECT, tell
from tests.calibration.page import Counts, page, percent
from tests.calibration.settings import SETTINGS, outcomes_of
from tests.calibration.whole_seasons import WHOLE_SEASONS, alarms

if TYPE_CHECKING:
    from collections.abc import Iterator

RESULTS = Path(__file__).with_name("RESULTS.md")
AT_ONCE = 50
"""Seasons that are invented and summed together."""
ONE_THREAD = ("POLARS_MAX_THREADS", "OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")
"""Every core has a season of its own; threads would only stand in one another's way."""


@dataclass(frozen=True, order=True)
class Setting:
    """One line of the tables: of ratios or of whole seasons, by its place, from nought."""

    of: Literal["ratios", "whole"]
    number: int

    @property
    def trips(self) -> int:
        """How many trips its seasons have, by which the slowest is known."""
        return (SETTINGS if self.of == "ratios" else WHOLE_SEASONS)[self.number].trips


def seasons(setting: Setting, seeds: range) -> pl.DataFrame:
    """What was told of the seasons of these seeds."""
    if setting.of == "whole":
        return alarms(WHOLE_SEASONS[setting.number], seeds)
    of_ratios = SETTINGS[setting.number]
    return pl.concat(
        tell(of_ratios, effect, seeds, outcomes_of(of_ratios)) for effect in (NO_EFFECT, HALVING)
    )


def run(settings: list[Setting], many: int, keep: Path | None) -> Counts:
    """Take the seasons of the settings, on all cores, so many of each at a time."""
    counts = Counts()
    slow_first = sorted(settings, key=lambda setting: (-setting.trips, setting))
    for done, (setting, told) in enumerate(_told(slow_first, many, keep), start=1):
        if setting.of == "whole":
            counts.add_whole(setting.number, told)
            whole = counts.whole[setting.number]
            said = f"false headlines {percent(whole.headline)}"
        else:
            counts.add(setting.number, told)
            told_of = outcomes_of(SETTINGS[setting.number])
            held = (counts.ratios[name][setting.number].coverage for name in told_of)
            said = f"coverage {' and '.join(percent(share) or 'none' for share in held)}"
        name = f"{setting.of} {setting.number + 1}"
        sys.stderr.write(f"\r{done} of {len(settings)} settings: {name}, {said}\n")
    return counts


def _told(
    settings: list[Setting], many: int, keep: Path | None
) -> Iterator[tuple[Setting, pl.DataFrame]]:
    """What was told of each setting as soon as all its seasons are done, kept ones first."""
    parts: dict[Setting, dict[int, pl.DataFrame]] = {setting: {} for setting in settings}
    starts = range(0, many, AT_ONCE)
    asked = list(product(starts, settings))
    for done, (start, setting, told) in enumerate(_parts(asked, many, keep), start=1):
        sys.stderr.write(f"\r{done} of {len(asked)} parts")
        parts[setting][start] = told
        if len(parts[setting]) == len(starts):
            of_setting = parts.pop(setting)
            yield setting, pl.concat(of_setting[start] for start in starts)


def _parts(
    asked: list[tuple[int, Setting]], many: int, keep: Path | None
) -> Iterator[tuple[int, Setting, pl.DataFrame]]:
    """Each part that is asked for, by its first seed: from what is kept, or taken now."""
    seeds = {start: range(start, min(start + AT_ONCE, many)) for start, _ in asked}
    places = {each: _place(keep, each[1], seeds[each[0]]) for each in asked}
    kept = [each for each, place in places.items() if place is not None and place.exists()]
    for start, setting in kept:
        yield start, setting, pl.read_parquet(places[start, setting])
    os.environ.update(dict.fromkeys(ONE_THREAD, "1"))
    with ProcessPoolExecutor(mp_context=get_context("spawn")) as pool:
        work = {
            pool.submit(seasons, setting, seeds[start]): (start, setting)
            for start, setting in asked
            if (start, setting) not in kept
        }
        for future in as_completed(work):
            start, setting = work.pop(future)
            told, place = future.result(), places[start, setting]
            if place is not None:
                told.write_parquet(place)
            yield start, setting, told


def _place(keep: Path | None, setting: Setting, seeds: range) -> Path | None:
    """Where what was told of these seasons is kept, if it is."""
    if keep is None:
        return None
    return keep / f"{setting.of}-{setting.number + 1}-{seeds.start}-{seeds.stop}.parquet"


def main(many: int, ratios: list[int], whole: list[int], keep: Path | None) -> None:
    """Take the seasons, then write or print the tables."""
    if keep is not None:
        keep.mkdir(parents=True, exist_ok=True)
    chosen = [
        *(Setting("ratios", number - 1) for number in ratios),
        *(Setting("whole", number - 1) for number in whole),
    ]
    every = [
        *(Setting("ratios", at) for at in range(len(SETTINGS))),
        *(Setting("whole", at) for at in range(len(WHOLE_SEASONS))),
    ]
    text = page(run(chosen or every, many, keep), many)
    if chosen:
        sys.stdout.write(text)
    else:
        RESULTS.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("seasons", type=int, help="invented seasons of each kind a setting")
    asked.add_argument("--settings", type=int, nargs="+", default=[], help="numbers of settings")
    asked.add_argument("--whole", type=int, nargs="+", default=[], help="those of whole seasons")
    asked.add_argument("--keep", type=Path, help="a folder for what was told of each season")
    given = asked.parse_args()
    main(given.seasons, given.settings, given.whole, given.keep)

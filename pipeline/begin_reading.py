"""Read and check a season while what comes after it is still being loaded.

Nothing of the pipeline is loaded here but the second process, so that it can begin at once.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from pipeline.clock import Clock, Say

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.intake.season_folder import SeasonFolder
    from pipeline.rows import CheckedSeason
    from pipeline.second_process import Here


class ReadSeason(NamedTuple):
    """A season as it lies on disk, its checked rows, and how long each step took."""

    folder: SeasonFolder
    season: CheckedSeason
    seconds: dict[str, float]


def begin_reading(season: str | Path, say: Say, second: Here) -> Callable[[], ReadSeason]:
    """The promise of the season read, by the second process if there is one.

    When it is called it raises `SeasonUnusableError` with one plain sentence per problem.
    """
    return second.promised(read, Path(season), second.teller(say))


def read(season: Path, say: Say) -> ReadSeason:
    """The season read and checked, each step told as it begins."""
    from pipeline.good_rows import good_rows

    clock = Clock(say)
    folder, checked = good_rows(season, clock)
    return ReadSeason(folder, checked, clock.seconds)

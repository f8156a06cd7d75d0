"""The demonstration: an invented season and the report on it, beside the truth that was put in."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING

from pipeline.problems import WrongUsageError
from pipeline.run_season import run_season
from pipeline.second_process import HERE
from reports.folder import check_place
from reports.in_short import in_short
from schemas.words import READERS
from synthetic_data import write_season
from synthetic_data.co_op import write_co_op

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from pipeline.second_process import Here

SEASON, REPORT = "season", "report"


def write_demo(
    out: Path,
    *,
    seed: int,
    hauls: int,
    say: Callable[[str], None],
    co_op: bool = False,
    second: Here = HERE,
) -> str:
    """Write `out/season` and `out/report`; what they say, and where the report lies.

    With `co_op`, `out/season` is a folder of season folders, one for each boat and year.
    Raises `WrongUsageError` if `out` holds anything but an earlier demonstration.
    """
    _check_place(out)
    say("Inventing a season")
    season, report = out / SEASON, out / REPORT
    shutil.rmtree(season, ignore_errors=True)
    if co_op:
        write_co_op(season, hauls=hauls, seed=seed)
    else:
        write_season(season, hauls=hauls, seed=seed)
    results = run_season(season, report, say, readers=READERS, second=second)
    return (
        f"{in_short(results.findings)}\n\n"
        f"The invented season: {season}\n"
        f"The truth put into it: {season / 'truth.toml'}\n"
        f"The same for a study: {report / 'study-report.html'}\n"
        f"The report: {(report / 'season-report.html').resolve()}"
    )


def _check_place(out: Path) -> None:
    if out.exists() and not out.is_dir():
        raise WrongUsageError(f"{out} is a file; name a folder for the demonstration.")
    if out.is_dir():
        others = sorted({file.name for file in out.iterdir()} - {SEASON, REPORT})
        if others or ((out / SEASON).exists() and not (out / SEASON / "truth.toml").exists()):
            raise WrongUsageError(
                f"{out} holds other things; name a new folder for the demonstration."
            )
    check_place(out / REPORT)

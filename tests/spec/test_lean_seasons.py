"""Seasons that are too lean, too alike or too odd: an answer or a reason, and never a warning."""

from __future__ import annotations

import csv
import json
import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NoReturn

import pytest

from pipeline import run_season
from reports.in_short import in_short
from tests.spec.test_commands import run

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

WARNINGS_ARE_ERRORS = ["-W", "error", "-W", "ignore::DeprecationWarning"]
HAULS = 60
Row = dict[str, Any]


def haul(at: int) -> Row:
    """A haul of an ordinary season: two boats, two rigs in turn, two grounds, trips of three."""
    trip = at // 3
    return {
        "vessel": ("Skua", "Tern")[trip % 2],
        "trip": trip,
        "haul": at,
        "shot_at": f"2031-{1 + at // 28:02}-{1 + at % 28:02} 06:00",
        "tow_hours": 2 + at % 4,
        "rig_version": ("discs", "bobbins")[trip // 2 % 2],
        "ground": ("stones", "sand")[at % 2],
        "depth_m": (40, 70)[at % 3 % 2],
        "damaged": ("no", "yes")[at % 5 == 0],
        "debris_kg": 10 + 7 * at % 50,
        "station": ("east", "west")[at % 4 // 2],
    }


@dataclass(frozen=True)
class Lean:
    """What is odd of a season, how each of its hauls is changed, and some of what is said of it."""

    odd: str
    change: Callable[[Row], Row]
    says: str
    settings: str = ""


def always(**cells: object) -> Callable[[Row], Row]:
    """The same cells in every haul."""
    return lambda row: {**row, **cells}


SEASONS = (
    Lean("nothing", always(), "No rig stands out clearly from bobbins"),
    Lean("one trip", always(vessel="Skua", trip=1), "hardly fished side by side"),
    Lean(
        "one boat", lambda row: {**row, "vessel": "Skua"}, "vessel: the same for all that had any"
    ),
    Lean("one rig", always(rig_version="discs"), "there is nothing to compare it with"),
    Lean("one ground", always(ground="sand"), "ground: the same for all that had any"),
    Lean("all damaged", always(damaged="yes"), "No rig stands out clearly from bobbins"),
    Lean("none damaged", always(damaged="no"), "No net damage in 60 hauls of which it is known"),
    Lean(
        "none damaged with one rig",
        lambda row: {**row, "damaged": (row["damaged"] if row["rig_version"] == "discs" else "no")},
        "bobbins had no net damage at all",
    ),
    Lean("hours all equal", always(tow_hours=3), "No rig stands out clearly from bobbins"),
    Lean(
        "a factor with a level a haul",
        lambda row: {**row, "station": f"station {row['haul']}"},
        "too few trips to adjust for it",
        '[hauls]\nkeep = ["station"]\n[model]\nadjust = ["ground", "station"]\n',
    ),
    Lean(
        "factors that are the same",
        lambda row: {**row, "station": {"sand": "south", "stones": "north"}[row["ground"]]},
        "station: not to be told apart from ground",
        '[hauls]\nkeep = ["station"]\n[model]\nadjust = ["ground", "station"]\n',
    ),
    Lean(
        "a rig to each ground",
        lambda row: {**row, "ground": {"discs": "sand", "bobbins": "stones"}[row["rig_version"]]},
        "hardly fished side by side",
    ),
    Lean(
        "a thousand tonnes in one haul",
        lambda row: {**row, "debris_kg": 1_000_000 if row["haul"] == 7 else row["debris_kg"]},
        "Stones and mud aboard",
    ),
    Lean(
        "a covariate with blanks",
        lambda row: {**row, "station": "" if row["haul"] % 7 == 0 else row["station"]},
        "station",
        '[hauls]\nkeep = ["station"]\n[model]\nadjust = ["ground", "station"]\n',
    ),
    Lean(
        "depths, times and grounds all blank",
        always(depth_m="", shot_at="", ground=""),
        "No rig stands out clearly from bobbins",
    ),
)


def written(season: Lean, beside: Path) -> Path:
    """The season's folder."""
    folder = beside / "season"
    folder.mkdir()
    rows = [season.change(haul(at)) for at in range(HAULS)]
    with (folder / "hauls.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    (folder / "season.toml").write_text(season.settings, encoding="utf-8")
    return folder


def no_such_number(word: str) -> NoReturn:
    message = f"{word} is no number of JSON"
    raise AssertionError(message)


@pytest.mark.parametrize("season", SEASONS, ids=lambda season: season.odd)
def test_a_lean_season_ends_in_an_answer_or_a_reason(season: Lean, tmp_path: Path) -> None:
    results = run_season(written(season, tmp_path), tmp_path / "report")
    short = in_short(results.findings)
    text = (tmp_path / "report" / "findings.json").read_text(encoding="utf-8")
    json.loads(text, parse_constant=no_such_number)
    page = (tmp_path / "report" / "season-report.html").read_text(encoding="utf-8")
    assert not {"nan", "NaN"} & set(short.split())
    assert season.says in f"{short} {text} {page}"


def test_the_command_says_nothing_but_its_steps_and_its_answer(tmp_path: Path) -> None:
    folder = written(SEASONS[0], tmp_path)
    command = [sys.executable, *WARNINGS_ARE_ERRORS, "-m", "pipeline.cli"]
    done = run(command, "report", str(folder), "--out", str(tmp_path / "report"), cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert all(line.endswith(" …") for line in done.stderr.splitlines())
    assert SEASONS[0].says in done.stdout

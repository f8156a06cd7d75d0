"""A mistake in `season.toml` is shown with its line, and with what it mostly is."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pipeline.intake.toml_file import read_toml
from pipeline.problems import SeasonUnusableError

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize(
    ("line", "rest", "cause"),
    [
        ("ground = Bottom", "Bottom", "quotation marks"),
        ("ground = { from = Bottom }", "Bottom }", "quotation marks"),
        ("ground = “Bottom”", "“Bottom”", "straight quotation marks"),
        ('shot_at = { from = ("Date", "Shot") }', '("Date", "Shot") }', "square brackets"),
        ('depth_m = { from = "Depth" unit = "ft" }', 'unit = "ft" }', "commas between"),
        ('depth_m = { from = "Depth",', "", "on one line"),
        ("mending_hour = 18,5", ",5", "a decimal a point"),
        ('file = "C:\\log.csv"', 'og.csv"', "/ in place of \\"),
        ('trip = "Voyage"', "", "only once"),
    ],
)
def test_the_line_is_shown_with_its_usual_causes(
    line: str, rest: str, cause: str, tmp_path: Path
) -> None:
    path = tmp_path / "season.toml"
    path.write_text(f'trip = "Trip"\r\n{line}\r\nhaul = "Haul"\r\n', encoding="utf-8")
    with pytest.raises(SeasonUnusableError) as refusal:
        read_toml(path)
    (sentence,) = refusal.value.sentences
    there = f" from '{rest}' on" if rest else ""
    assert sentence.startswith(f"season.toml, line 2: '{line}' can't be read as TOML{there} (")
    assert cause in sentence


def test_where_it_breaks_off_at_its_end_that_is_said(tmp_path: Path) -> None:
    path = tmp_path / "season.toml"
    path.write_text('keep = ["moon"', encoding="utf-8")
    with pytest.raises(SeasonUnusableError, match=r"^season.toml can't be read as TOML: .* end of"):
        read_toml(path)

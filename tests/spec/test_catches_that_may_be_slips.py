"""No headline rests on a catch that may be a slip of the pen without a word that names it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from pipeline.good_rows import check_season
from pipeline.note_words import readings_of
from pipeline.run_season import run_season
from reports.advice.decide import advised
from reports.advice.opening import opening
from reports.check_summary import check_summary
from reports.doubts import further_doubts
from reports.in_short import in_short
from tests.spec.test_doubts import effect, found
from tests.spec.two_rigs_in_turn import season_with

if TYPE_CHECKING:
    from pathlib import Path

HIGHER, OPEN = "higher", "too little to tell"
PLACE = "in one haul (catches.csv, row 2; as a rule 53 kg)"


def with_first_catch(kilos: str, folder: Path) -> Path:
    season = season_with("SQU", 0)
    season.set_cell("catches", 2, "kept_kg", kilos)
    return season.write_csv(folder / "season")


def test_check_quotes_the_kilos_and_what_is_usual(tmp_path: Path) -> None:
    season = season_with("SQU", 0)
    season.settings += "[catches.columns]\nkept_kg = { times = 40 }\n"
    season.set_cell("catches", 2, "kept_kg", "999")
    read, checked = check_season(season.write_csv(tmp_path / "season"))
    said = check_summary(checked, readings_of(read, checked), read.settings)
    assert (
        "catches.csv, row 2, kept_kg: '999' is 39960 kg, where this boat had 2120 kg as a rule "
        "of the species in as many hours; if" in said
    )


def test_the_page_and_the_terminal_name_the_haul_that_makes_a_headline(tmp_path: Path) -> None:
    findings = run_season(with_first_catch("39960", tmp_path)).findings
    (open_or_note,) = [line.says for line in opening(findings) if "39,960" in line.says]
    for told in (open_or_note, in_short(findings)):
        assert f"without 39,960 kg of PLE {PLACE}" in told
    assert not any(
        each["outcome"] == "bottom_living_kg" for a in advised(findings) for each in a.effects
    )


def test_of_a_full_bag_nothing_is_said(tmp_path: Path) -> None:
    findings = run_season(with_first_catch("200", tmp_path)).findings
    assert findings["far_catches"] == []
    assert "in one haul" not in in_short(findings)


@pytest.mark.parametrize(
    ("as_told", "without", "times"),
    [
        ((1.4, HIGHER), (1.38, HIGHER), 0),  # it stands without them
        ((1.4, HIGHER), (1.3, OPEN), 1),  # it is clear with them alone
        ((1.4, OPEN), (1.3, OPEN), 0),
        ((7.3, OPEN), (0.9, OPEN), 1),  # nothing is clear, and the figure is made of them
    ],
)
def test_a_headline_is_doubted_where_they_make_it(
    as_told: tuple[float, str], without: tuple[float, str], times: int
) -> None:
    (ratio, verdict), (other, its) = as_told, without
    told = effect("bottom_living_kg", ratio=ratio, high=9.0, verdict=verdict, rig_trips=20)
    way: dict[str, Any] = {
        "way": "without catches far beyond the others",
        "ratio": other,
        "low": 0.8,
        "high": 1.9,
        "verdict_alone": its,
    }
    row = {**{name: told[name] for name in ("outcome", "rig", "part")}, "ways": [way]}
    far = {"species": "PLE", "source_file": "log.csv", "source_row": 34, "kg": 900.0, "usual": 9.0}
    said = further_doubts(found([told], sensitivity=[row], far_catches=[far]))
    place = "without 900 kg of PLE in one haul (log.csv, row 34; as a rule 9 kg)."
    assert sum(place in words for words in said) == times

"""A species in no list costs no more fish than it must, and is told with its cure."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import polars as pl
import pytest

from pipeline.good_rows import check_season
from pipeline.note_words import readings_of
from pipeline.rates.effects import Effect
from pipeline.rates.untold_hauls import with_untold_hauls
from pipeline.run_season import run_season
from reports.advice.opening import opening
from reports.advice.to_do import to_write_down
from reports.check_summary import check_summary
from reports.in_short import in_short
from schemas.codes import Caution
from tests.spec.two_rigs_in_turn import HAULS, season_with

if TYPE_CHECKING:
    from pathlib import Path

    from tests.spec.season_texts import SeasonText


def caught(text: SeasonText, folder: Path) -> dict[str, float]:
    """The hauls of each outcome of fish, over all rigs and grounds, and its weight."""
    rates = run_season(text.write_csv(folder)).findings["rates"]
    told: dict[str, float] = {}
    for rate in rates:
        if rate["ground"] == "all":
            told[rate["outcome"]] = told.get(rate["outcome"], 0) + rate["total"]
    return told


def test_one_that_stands_in_many_hauls_takes_no_other_fish_away(tmp_path: Path) -> None:
    without = caught(season_with("SQU", 0), tmp_path / "without")
    found = caught(season_with("SQU", HAULS - 1), tmp_path / "with")
    for name in ("bottom_living_kg", "other_kg", "kg:PLE", "kg:COD"):
        assert found[name] == without[name]
    assert found["kg:SQU"] == 10 * (HAULS - 1)


@pytest.mark.parametrize(("said", "group"), [("yes", "bottom_living_kg"), ("no", "other_kg")])
def test_it_counts_once_the_table_says_where(said: str, group: str, tmp_path: Path) -> None:
    unsaid = caught(season_with("SQU", 30), tmp_path / "unsaid")
    found = caught(season_with("SQU", 30, [["SQU", "squid", said]]), tmp_path / "said")
    assert found[group] == unsaid[group] + 300


@pytest.mark.parametrize(
    ("species", "hauls"),
    [
        ("SQU", 3),  # few: it may be a slip of anything
        ("PLX", 30),  # near a code that the log names
        ("LEMONS", 30),  # what a listed species is called
        ("haddok", 30),  # and that with a letter left out
        ("SOLES", 30),  # or many
    ],
)
def test_what_may_be_a_slip_takes_the_fish_of_its_hauls(
    species: str, hauls: int, tmp_path: Path
) -> None:
    _, season = check_season(season_with(species, hauls).write_csv(tmp_path / "season"))
    assert season.hauls_missing_catch.height == hauls


def test_where_most_of_the_fish_is_in_no_list_none_of_it_is_told(tmp_path: Path) -> None:
    text = season_with("SQU", 30)
    for row in text.tables["catches"][1:]:
        row[3] = "500" if row[2] == "SQU" else row[3]
    _, season = check_season(text.write_csv(tmp_path / "season"))
    assert season.hauls_missing_catch.height == 30


def test_check_says_what_it_is_and_what_to_write(tmp_path: Path) -> None:
    said = summary(season_with("SQU", 30), tmp_path / "season")
    assert "species: 'SQU' is a species in no list, in 30 of 40 hauls that tell of fish" in said
    assert "species,name,bottom_living\n  SQU,what you call it,yes or no\n" in said
    assert "No fish is told of" not in said


def test_check_says_how_many_hauls_a_slip_costs(tmp_path: Path) -> None:
    said = summary(season_with("PLX", 30), tmp_path / "season")
    assert "No fish is told of 30 of 40 hauls that name their catch" in said
    assert "30 hauls, species: 'PLX' is a species in no list" in said
    assert "  PLX,what you call it,yes or no\n" in said


def summary(text: SeasonText, folder: Path) -> str:
    read, season = check_season(text.write_csv(folder))
    return check_summary(season, readings_of(read, season), read.settings)


def test_the_first_screen_and_the_terminal_name_it(tmp_path: Path) -> None:
    findings = run_season(season_with("SQU", 30).write_csv(tmp_path / "season")).findings
    notes = [line.says for line in opening(findings) if line.label == "Note"]
    for told in (*notes, in_short(findings)):
        assert "SQU (in 30 hauls): in no list, so counted neither as bottom-living nor" in told
    assert len(notes) == 1


def test_what_was_written_and_set_aside_is_not_called_unwritten(tmp_path: Path) -> None:
    text = season_with("PLX", HAULS - 6)
    blank = text.tables["catches"][-2:]
    text.tables["catches"] = [row for row in text.tables["catches"] if row[:2] != blank[0][:2]]
    findings = run_season(text.write_csv(tmp_path / "season")).findings
    assert not any("the catch of each haul" in thing for thing in to_write_down(findings))
    told = [*(line.says for line in opening(findings)), in_short(findings)]
    assert sum("The catch of 34 of 40 hauls was written and can't be used" in w for w in told) == 2
    assert all("species 'PLX' is a species in no list" in w for w in told if "was written" in w)


def test_rigs_side_by_side_in_hauls_that_tell_nothing_are_not_called_apart(tmp_path: Path) -> None:
    findings = run_season(season_with("PLX", HAULS - 6).write_csv(tmp_path / "season")).findings
    told = " ".join([*(line.says for line in opening(findings)), in_short(findings)])
    assert "ardly fished side by side" not in told
    assert "hoppers: fished side by side with discs, but hardly in hauls that tell of" in told


def test_rigs_that_were_apart_in_all_hauls_are_called_so() -> None:
    assert Caution.UNTOLD_SIDE_BY_SIDE not in cautions_of(["mud"] * 6, ["sand"] * 6)
    assert Caution.UNTOLD_SIDE_BY_SIDE in cautions_of(["mud"] * 6, ["mud"] * 6)


def cautions_of(of_discs: list[str], of_hoppers: list[str]) -> list[Caution]:
    fished: list[dict[str, Any]] = [
        {"rig_version": rig, "ground": ground, "trip": str(trip)}
        for rig, grounds in (("discs", of_discs), ("hoppers", of_hoppers))
        for trip, ground in enumerate(grounds)
    ]
    sums = pl.DataFrame(fished).with_columns(
        vessel=pl.lit("Skua"), stretch=pl.lit("2031 Q1"), hauls=pl.lit(1), tow_hours=pl.lit(3.0)
    )
    known: dict[str, Any] = {
        **dict.fromkeys(Effect.__dataclass_fields__),
        "rig": "hoppers",
        "reference": "discs",
        "ground": "all",
        "cautions": [Caution.NOT_SIDE_BY_SIDE],
    }
    untold = Effect(**known)
    (told,) = with_untold_hauls([untold], sums)
    return told.cautions


def test_a_haul_that_was_itself_set_aside_is_none_of_those_a_slip_costs(tmp_path: Path) -> None:
    text = season_with("PLX", 30)
    text.tables["hauls"][1][3] = "-3"
    said = summary(text, tmp_path / "season")
    assert "No fish is told of 29 of 39 hauls that name their catch" in said
    assert "29 hauls, species: 'PLX' is a species in no list" in said
    assert "is of a haul that was set aside; see" not in said.partition("Set aside:")[0]

"""`check` tells what the settings name and the season has not, and what they make of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pipeline.good_rows import check_season
from pipeline.intake.folder_of_seasons import open_seasons
from pipeline.intake.not_used import headers_not_used
from pipeline.note_words import readings_of
from pipeline.problems import SeasonUnusableError
from pipeline.run_season import run_season
from reports.check_summary import check_summary
from schemas.words import FACTORS
from tests.spec.season_texts import valid_season

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ('[model]\nadjust = ["grond"]', "adjust names 'grond' (did you mean 'ground'?)"),
        ('[model]\nspecies = ["XQX"]', "species names 'XQX', which is in no list of species"),
        ('[model]\nadjust = ["ground"]', None),
    ],
)
def test_check_tells_of_settings_by_which_no_report_can_be_made(
    settings: str, said: str | None, tmp_path: Path
) -> None:
    season = valid_season()
    season.settings = settings
    folder, checked = check_season(season.write_csv(tmp_path / "season"))
    told = check_summary(checked, readings_of(folder, checked), folder.settings)
    assert ("[model]" in told) == (said is not None)
    assert (said or "") in told


@pytest.mark.parametrize("factor", FACTORS)
def test_each_factor_that_may_be_named_is_one_of_every_haul(factor: str, tmp_path: Path) -> None:
    season = valid_season()
    season.settings = f'[model]\nadjust = ["{factor}"]'
    findings = run_season(season.write_csv(tmp_path / "season")).findings
    assert findings["season"]["adjusted_for"] == [factor]


@pytest.mark.parametrize(("boat", "said"), [("Skua", 0), ("Skau", 1)])
def test_check_tells_of_a_boat_that_agrees_and_is_not_there(
    boat: str, said: int, tmp_path: Path
) -> None:
    season = valid_season()
    season.settings = f'[sharing]\nconsent = ["{boat}"]'
    folder, checked = check_season(season.write_csv(tmp_path / "season"))
    told = check_summary(checked, readings_of(folder, checked), folder.settings)
    line = (
        "season.toml: [sharing] says that 'Skau' agrees, which no haul is of (did you mean "
        "'Skua'?); put it right."
    )
    assert told.splitlines().count(line) == said


def test_a_boat_in_both_lists_stands_under_a_letter_and_check_says_so(tmp_path: Path) -> None:
    season = valid_season()
    season.settings = '[sharing]\nconsent = ["Skua"]\nconsent_under_letter = ["Skua"]'
    folder, checked = check_season(season.write_csv(tmp_path / "season"))
    assert folder.settings.sharing.by_name == ()
    told = check_summary(checked, readings_of(folder, checked), folder.settings)
    line = (
        "season.toml: [sharing] has 'Skua' in consent and in consent_under_letter: the letter "
        "holds."
    )
    assert line in told.splitlines()


def test_no_co_op_report_is_made_where_consent_is_of_no_boat_of_the_season(tmp_path: Path) -> None:
    season = valid_season()
    season.settings = '[sharing]\nconsent = ["skua"]'
    place = season.write_csv(tmp_path / "season")
    with pytest.raises(SeasonUnusableError) as refused:
        run_season(place, tmp_path / "out", readers=["coop"])
    assert refused.value.sentences == [
        "season.toml: [sharing] says that 'skua' agrees, which no haul is of (did you mean "
        "'Skua'?); put it right."
    ]
    assert not (tmp_path / "out").exists()


def test_a_co_op_of_one_boat_is_refused(tmp_path: Path) -> None:
    season = valid_season()
    season.settings = "[sharing]\nmin_vessels = 1"
    with pytest.raises(SeasonUnusableError) as refused:
        check_season(season.write_csv(tmp_path / "season"))
    assert refused.value.sentences == [
        "season.toml: [sharing], min_vessels: takes a number of 2 or more (it says 1)."
    ]


@pytest.mark.parametrize("blank_means", ["unknown", "no damage"])
def test_check_tells_what_a_blank_note_means(blank_means: str, tmp_path: Path) -> None:
    (tmp_path / "hauls.csv").write_text(
        "vessel,trip,haul,shot_at,tow_hours,rig_version,ground,damage_note\n"
        "Skua,1,1,2031-03-04 05:30,3,discs,sand,\n",
        encoding="utf-8",
    )
    settings = f'[notes]\nblank_means = "{blank_means}"'
    (tmp_path / "season.toml").write_text(settings, encoding="utf-8")
    folder, checked = check_season(tmp_path)
    told = check_summary(checked, readings_of(folder, checked), folder.settings)
    assert ("count as no damage" in told) == (blank_means == "no damage")
    assert ("is for a boat that writes only of trouble" in told) == (blank_means == "unknown")


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ('[season]\ncurrency = "EUR"', 0),
        ("", 1),
    ],
)
def test_check_tells_of_money_in_no_currency(settings: str, said: int, tmp_path: Path) -> None:
    season = valid_season()
    season.settings = settings
    folder, checked = check_season(season.write_csv(tmp_path / "season"))
    told = check_summary(checked, readings_of(folder, checked), folder.settings)
    assert told.count("No currency is named") == said


@pytest.mark.parametrize("column", ["damage_note", "damaged", "beside"])
def test_check_tells_where_nothing_tells_of_damage(column: str, tmp_path: Path) -> None:
    (tmp_path / "hauls.csv").write_text(
        f"vessel,trip,haul,shot_at,tow_hours,rig_version,ground,{column}\n"
        "Skua,1,1,2031-03-04 05:30,3,discs,sand,no\n",
        encoding="utf-8",
    )
    folder, checked = check_season(tmp_path)
    told = check_summary(checked, readings_of(folder, checked), folder.settings)
    assert ("No column tells of damage" in told) == (column == "beside")


def test_check_names_the_headers_that_nothing_is_read_from(tmp_path: Path) -> None:
    (tmp_path / "hauls.csv").write_text(
        "Boat,trip,haul,shot_at,tow_hours,rig_version,ground,COD,PLE,Moon,Remarks\n"
        "Skua,1,1,2031-03-04 05:30,3,discs,sand,12,,full,\n",
        encoding="utf-8",
    )
    (tmp_path / "prices.csv").write_text("species,valid_from,price_per_kg\n", encoding="utf-8")
    (tmp_path / "vessels.csv").write_text("", encoding="utf-8")
    review = "vessel,trip,haul,damaged,who,rests_on\n"
    (tmp_path / "damage_review.csv").write_text(review, encoding="utf-8")
    (tmp_path / "season.toml").write_text(
        '[hauls]\nkeep = ["Moon"]\n[hauls.columns]\nvessel = "Boat"\n'
        '[catches.across]\nkept_kg = { COD = "COD" }\n',
        encoding="utf-8",
    )
    folder, checked = check_season(tmp_path)
    not_used = headers_not_used(folder)
    assert not_used == {"hauls.csv": ("PLE", "Remarks")}
    told = check_summary(checked, readings_of(folder, checked), folder.settings, not_used)
    assert "\nHeaders that nothing is read from:\n  hauls.csv: PLE, Remarks\n" in told


def test_a_season_that_can_not_be_used_keeps_no_headers_from_being_named(tmp_path: Path) -> None:
    for name, content in (("skua", b"trip,haul,Moon\n1,1,full\n"), ("tern", b"a\0b,Moon\n")):
        (tmp_path / name).mkdir()
        (tmp_path / name / "hauls.csv").write_bytes(content)
    assert headers_not_used(open_seasons(tmp_path)) == {"skua/hauls.csv": ("Moon",)}


def test_rows_of_which_several_cells_are_wrong_are_told_together(tmp_path: Path) -> None:
    season = valid_season()
    season.settings = '[hauls.columns]\ndepth_m = { from = "depth_m", unit = "fathom" }\n'
    for row, depth, north in ((8, "2000", "91"), (9, "3000", "92")):
        season.set_cell("hauls", row, "depth_m", depth)
        season.set_cell("hauls", row, "latitude", north)
    for _ in range(2):
        season.tables["hauls"] += [season.tables["hauls"][4], season.tables["hauls"][5]]
    folder, checked = check_season(season.write_csv(tmp_path / "season"))
    told = check_summary(checked, readings_of(folder, checked), folder.settings)
    depths, again = (
        [line for line in told.splitlines() if word in line] for word in ("depth_m: ", "same row")
    )
    assert depths == [
        "  hauls.csv, row 8, depth_m: '2000' fathom (3657.6 m) must be 3000 m or less; put it "
        "right or leave it blank; also latitude '91' must be 90 degree or less; are latitude and "
        "longitude swapped? (1 more like it)"
    ]
    assert again == [
        "  hauls.csv, row 12, haul: '2' is the same row again (rows 5, 12, 14 are alike); delete "
        "one. (3 more like it)"
    ]

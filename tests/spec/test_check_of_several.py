"""What `check` tells of a folder of season folders: whose rows it speaks of, and the way out."""

from __future__ import annotations

from datetime import datetime
from types import SimpleNamespace
from typing import TYPE_CHECKING, cast

import polars as pl
import pytest

from pipeline.good_rows import check_season
from pipeline.intake.whole_settings import whole_settings
from pipeline.note_words import readings_of
from pipeline.problems import SeasonUnusableError
from pipeline.rows import REMARK_SCHEMA
from pipeline.seasons.repeats import RIG_AGAIN
from reports.check_summary import check_summary
from reports.coop.for_the_manager import for_the_manager, grounds_of_few_boats
from reports.coop.sections import shared_tables
from reports.first_screen import facts
from reports.in_short import rows_in_short
from schemas.settings import Settings
from tests.spec.co_op_folders import one_of, write_season_texts, write_seasons

if TYPE_CHECKING:
    from pathlib import Path

    from pipeline.run_season import SeasonResults
    from tests.spec.season_texts import SeasonText


def test_a_ground_of_few_boats_is_named_to_whoever_makes_the_report() -> None:
    hauls = pl.DataFrame(
        {
            "vessel": ["Skua", "Tern", "Gull", "Skua"],
            "ground": ["mud", "mud", "mud", "rocky"],
            "shot_at": [datetime(2031, 3, 1)] * 4,
            "hauled_at": [datetime(2031, 3, 1)] * 4,
        }
    )
    season = SimpleNamespace(
        tables={"hauls": hauls}, remarks=pl.DataFrame(schema=dict(REMARK_SCHEMA))
    )
    folder = SimpleNamespace(settings=Settings())
    (told,) = for_the_manager(
        cast("SeasonResults", SimpleNamespace(folder=folder, season=season, findings={}))
    )
    assert told.startswith("Ground 'rocky' was fished by fewer boats than 3: it is hidden, and")


@pytest.mark.parametrize(("boats", "of"), [(["Skua"], "1 boat"), (["Skua", "Tern"], "2 boats")])
def test_of_too_few_boats_there_is_one_line_and_no_table(boats: list[str], of: str) -> None:
    hauls = pl.DataFrame({"vessel": boats, "ground": "rocky"})
    season = SimpleNamespace(tables={"hauls": hauls})
    folder = SimpleNamespace(settings=Settings())
    results = SimpleNamespace(folder=folder, season=season, findings={})
    assert for_the_manager(cast("SeasonResults", results)) == [
        f"The hauls are of {of}, fewer than min_vessels (3) under [sharing]: nothing of them can "
        "be shown to others."
    ]
    assert shared_tables({"cells": [{"shown": False}]}) is None


def test_hauls_without_a_ground_are_told_by_the_season_that_has_them() -> None:
    hauls = pl.DataFrame(
        {
            "vessel": ["Skua", "Tern", "Gull", "Skua", "Skua"],
            "season": ["Skua 31", "Tern 31", "Gull 31", "Skua 31", "Skua 32"],
            "ground": ["mud", "mud", "mud", "unknown", "unknown"],
        }
    )
    told = "No ground stands in 1 haul of Skua 31 and 1 haul of Skua 32: hauls without a ground"
    (said,) = grounds_of_few_boats(hauls, 3)
    assert said.startswith(told)
    (said,) = grounds_of_few_boats(hauls.drop("season"), 3)
    assert said.startswith("No ground stands in 2 hauls of Skua: ")


def test_rows_of_rigs_that_seasons_say_alike_are_told_apart_from_what_was_refused() -> None:
    counts = {"read": 9, "used": 3, "set_aside": 6}
    reason = RIG_AGAIN.format("a/rig_parts.csv")
    findings = {
        "season": {"title": "two"},
        "seasons_left_out": [],
        "rows": {"hauls": counts, "rig_parts": counts, "catches": counts},
        "set_aside": [
            {"table": "rig_parts", "reason": reason, "rows": 4},
            {"table": "rig_parts", "reason": "is blank", "rows": 2},
            {"table": "catches", "reason": "is the same row again; delete one", "rows": 6},
        ],
    }
    season = {"hauls": 3, "tow_hours": 9.0, "trips": 1, "vessels": ["Skua"]}
    assert dict(facts({**findings, "season": season, "rigs": [{}]}))["other rows set aside"] == "8"
    assert rows_in_short(findings).splitlines()[1:] == [
        "Set aside too: 2 of rig_parts and 6 of catches; why stands in set-aside.csv.",
        "Said again, alike, of rigs that another season describes: 4 of rig_parts.",
    ]


@pytest.mark.parametrize(
    ("own", "titles", "called"),
    [
        ("", ("A trial", "A trial"), "A trial"),
        ("", ("A trial", "Another"), "folder"),
        ("", ("A trial", ""), "folder"),
        ("", ("", ""), "folder"),
        ("The whole", ("A trial", "A trial"), "The whole"),
    ],
)
def test_a_folder_of_seasons_has_the_title_that_all_of_them_have(
    own: str, titles: tuple[str, str], called: str
) -> None:
    top, *each = (titled(title) for title in (own, *titles))
    assert whole_settings(top, dict(zip("ab", each, strict=True)), "folder").season.title == called


def titled(title: str) -> Settings:
    return Settings.model_validate({"season": {"title": title} if title else {}})


def test_rigs_that_both_tables_of_one_season_tell_of_are_told_in_one_sentence(
    tmp_path: Path,
) -> None:
    seasons = {"skua": one_of("Skua"), "tern": one_of("Tern")}
    fitted = ["Tern", "2031-03-01 00:00", "bobbins-14", "2031-03-04 08:30"]
    seasons["tern"].tables["fittings"].append(fitted)
    seasons["tern"].set_cell("fittings", 2, "fitted_from", "2031-03-04 08:30")
    for table in ("rig_versions", "rig_parts"):
        del seasons["tern"].tables[table]
    told = [line for line in told_of(tmp_path / "co-op", seasons) if "taken to hold" in line]
    assert (
        "  What rig_versions and rig_parts say of bobbins-14, rubber-10 in skua is taken to hold "
        "in tern too, where they say nothing: is it the same gear aboard?"
    ) in told
    assert not [line for line in told if line.startswith("  What rig_parts says of rubber-10")]


def test_rigs_that_one_boat_alone_names_are_asked_about(tmp_path: Path) -> None:
    seasons = {name.lower(): one_of(name) for name in ("Skua", "Tern", "Gull")}
    told = told_of(tmp_path / "co-op", seasons)
    assert [line.split(". If")[0] for line in told if "no boat but" in line] == [
        "  bobbins-12: no boat but Gull names it",
        "  bobbins-14: no boat but Skua names it",
    ]
    (gulls,) = (line for line in told if "no boat but Gull" in line)
    assert "what others call bobbins-14 or rubber-10, say so under [rigs.names]" in gulls
    alone = told_of(tmp_path / "of one", {"a": one_of("Skua"), "b": one_of("Skua")})
    assert not [line for line in alone if "no boat but" in line]


def told_of(folder: Path, seasons: dict[str, SeasonText]) -> list[str]:
    opened, checked = check_season(write_season_texts(folder, seasons))
    readings = readings_of(opened, checked)
    return check_summary(checked, readings, opened.settings).splitlines()


def test_rows_of_a_kind_are_told_with_the_other_boats_that_have_them(tmp_path: Path) -> None:
    seasons = {"skua": one_of("Skua"), "tern": one_of("Tern")}
    for season in seasons.values():
        season.set_cell("hauls", 2, "ground", "gravelly")
    seasons["skua"].set_cell("hauls", 3, "ground", "stoney")
    (told,) = (line for line in told_of(tmp_path / "a", seasons) if "row 2, ground: " in line)
    assert told.startswith("  skua/hauls.csv, row 2, ground: 'gravelly'")
    assert told.endswith(" (2 more like it: skua, tern)")
    seasons["tern"].set_cell("hauls", 2, "ground", "mud")
    (told,) = (line for line in told_of(tmp_path / "b", seasons) if "row 2, ground: " in line)
    assert told.endswith(" (1 more like it)")


def test_what_blank_notes_mean_is_told_of_the_season_that_says_so(tmp_path: Path) -> None:
    seasons = {"skua": one_of("Skua"), "tern": one_of("Tern")}
    seasons["skua"].settings = '[notes]\nblank_means = "no damage"\n'
    for season in seasons.values():
        for row in season.tables["hauls"]:
            del row[14]
    for row in seasons["skua"].tables["hauls"][1:]:
        row[seasons["skua"].tables["hauls"][0].index("damage_note")] = ""
    told = told_of(tmp_path / "co-op", seasons)
    assert '  4 blank count as no damage: blank_means = "no damage" of skua.' in told


def test_a_rig_under_two_names_of_one_log_is_told_the_way_out(tmp_path: Path) -> None:
    seasons = {"skua": one_of("Skua"), "tern": one_of("Tern")}
    seasons["tern"].set_cell("hauls", 2, "rig_version", "rubber-8")
    settings = '[rigs.names]\ntern = { "rubber-8" = "rubber-10" }'
    with pytest.raises(SeasonUnusableError) as refused:
        check_season(write_season_texts(tmp_path / "co-op", seasons, settings))
    (said,) = refused.value.sentences
    assert "as far as it can be used: rows set aside that have it: 1. If it is the rig" in said
    assert said.endswith(
        "say so under [hauls.columns] in the season.toml of tern itself: rig_version = { from = "
        '"rig_version", words = { "rubber-8" = "rubber-10" } }, where from is the header of its '
        "log."
    )


def test_two_rigs_that_would_be_one_are_told_how_one_of_two_names_is_written(
    tmp_path: Path,
) -> None:
    seasons = {"skua": one_of("Skua"), "tern": one_of("Tern")}
    settings = '[rigs.names]\ntern = { "rubber-10" = "bobbins-14" }'
    with pytest.raises(SeasonUnusableError) as refused:
        check_season(write_season_texts(tmp_path / "co-op", seasons, settings))
    (said,) = refused.value.sentences
    assert "would call two of its rigs 'bobbins-14'. If the two are one rig, say so under" in said
    assert 'words = { "rubber-10" = "bobbins-14" }' in said


def test_chain_that_went_back_from_one_season_to_the_next_is_asked_about_once(
    tmp_path: Path,
) -> None:
    given = {}
    for year, chains in ((2031, (20.0, 20.3)), (2032, (20.0, 20.3, 20.0))):
        given[f"y{year}/hauls"] = f"""
            | vessel | trip   | haul | shot_at          | tow_hours | rig_version | ground |
            | Skua   | {year} | 1    | {year}-03-01 05:00 | 3         | discs       | sand   |
            """
        checks = [
            f"| Skua | {year}-03-0{day} | bosom | discs | {chain} | 20 | no |"
            for day, chain in enumerate(chains, 1)
        ]
        lengths = "ground_chain_m | traveller_m | evened"
        header = f"| vessel | checked_on | section | rig_version | {lengths} |"
        given[f"y{year}/length_checks"] = "\n".join([header, *checks])
    opened, checked = check_season(write_seasons(tmp_path / "both", given))
    told = check_summary(checked, readings_of(opened, checked), opened.settings, every=True)
    back = [line for line in told.splitlines() if "does not shrink" in line]
    assert sorted(line.split(", ")[:2] for line in back) == [
        ["  y2032/length_checks.csv", "row 2"],
        ["  y2032/length_checks.csv", "row 4"],
    ]
    assert all("after 1.5 % on" in line for line in back)

"""A folder of season folders is one analysis: what of it counts, and what it is asked about."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from pipeline.checking.across import OF_A_HAUL_SET_ASIDE
from pipeline.checking.nearly_alike import NEARLY
from pipeline.good_rows import check_season
from pipeline.note_words import readings_of
from pipeline.problems import SeasonUnusableError, WrongUsageError
from pipeline.rig_facts import season_rigs
from pipeline.run_season import SeasonResults, run_season
from pipeline.seasons.rigs_alike import BLANKS_FILLED
from reports.check_summary import check_summary
from reports.coop.for_the_manager import for_the_manager
from reports.in_short import in_short
from reports.language import language_of, told_in
from reports.reason_words import reason_said
from reports.record_sections import set_aside
from reports.review_file import review_place
from schemas.settings import Units
from tests.contracts.contract_files import Case, cases_in
from tests.spec.co_op_folders import one_of, write_season_texts, write_seasons
from tests.spec.season_texts import SeasonText, valid_season
from tests.spec.text_tables import rows_of

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason

CASES = cases_in(Path(__file__).parent / "several_seasons.md")
WHERE = ["season", "vessel", "trip", "haul", "source_file", "source_row"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.promise)
def test_what_counts_of_several_seasons(case: Case, tmp_path: Path) -> None:
    _, season = check_season(write_seasons(tmp_path / "co-op", case.given))
    headers, rows = rows_of(case.then)
    assert headers == WHERE
    used = season.tables["hauls"].select(WHERE).rows()
    assert [[str(cell) for cell in row] for row in used] == rows
    _none_is_lost(season)


def _none_is_lost(season: CheckedSeason) -> None:
    for count in season.counts.values():
        assert count["read"] == count["used"] + count["set_aside"]
    for table in season.tables.values():
        assert table["row"].is_unique().all()


def by_boat() -> dict[str, SeasonText]:
    return {"gull": one_of("Gull"), "skua": one_of("Skua"), "tern": one_of("Tern")}


def test_what_hangs_on_a_haul_goes_with_it(tmp_path: Path) -> None:
    seasons = {"a": one_of("Skua"), "b": one_of("Skua"), "c": one_of("Tern")}
    _, season = check_season(write_season_texts(tmp_path / "co-op", seasons))
    counts = season.counts
    assert counts["hauls"] == {"read": 11, "used": 7, "set_aside": 4}
    assert counts["catches"]["used"] == 6
    assert counts["fittings"] == {"read": 5, "used": 3, "set_aside": 2}
    assert counts["length_checks"] == {"read": 2, "used": 1, "set_aside": 1}
    told = season.set_aside.filter(source_file="b/hauls.csv", source_row=2)
    assert (
        told["reason"].item() == "is the same row again, as in a/hauls.csv, row 2; it counts once"
    )
    follows = [reason == OF_A_HAUL_SET_ASIDE for reason in season.set_aside["reason"]]
    assert sum(follows) == counts["catches"]["set_aside"]
    assert follows == sorted(follows)
    _none_is_lost(season)


def test_hauls_that_stand_twice_are_told_of_together(tmp_path: Path) -> None:
    seasons = {"a": one_of("Skua"), "b": one_of("Skua"), "c": one_of("Tern")}
    folder, season = check_season(write_season_texts(tmp_path / "co-op", seasons))
    readings = readings_of(folder, season)
    told = check_summary(season, readings, folder.settings).splitlines()
    assert [line for line in told if "again, as in a/hauls.csv" in line] == [
        "  b/hauls.csv, row 2, haul: '1' is the same row again, as in a/hauls.csv, row 2; it "
        "counts once. (3 more like it)"
    ]
    every = check_summary(season, readings, folder.settings, every=True)
    assert every.count("again, as in a/hauls.csv") == 4


def test_a_rig_that_seasons_describe_alike_is_one(tmp_path: Path) -> None:
    folder = write_season_texts(tmp_path / "co-op", by_boat())
    _, season = check_season(folder)
    assert season.counts["rig_versions"] == {"read": 9, "used": 3, "set_aside": 6}
    assert season.counts["rig_parts"] == {"read": 9, "used": 3, "set_aside": 6}
    assert len(season_rigs(folder).rows) == 3


def clashing() -> dict[str, SeasonText]:
    seasons = by_boat()
    seasons["tern"].set_cell("rig_versions", 2, "toggle_mm", "300")
    seasons["tern"].set_cell("rig_parts", 4, "count", "150")
    seasons["tern"].set_cell("rig_parts", 4, "each_kg", "")
    return seasons


def test_a_rig_that_seasons_describe_otherwise_is_asked_about(tmp_path: Path) -> None:
    with pytest.raises(SeasonUnusableError) as asked:
        check_season(write_season_texts(tmp_path / "co-op", clashing()))
    bobbins, rubber = asked.value.sentences
    assert bobbins.startswith(
        "Is 'bobbins-14' one rig in gull and tern? Their rig_versions differ: toggle_mm 350 "
        "against 300. Give it another name"
    )
    assert "Their rig_parts differ: wing disc ground gear count 140 against 150. Give" in rubber
    assert 'names = { "tern" = { "rubber-10" = "…" } }' in rubber


@dataclass(frozen=True)
class TwoCells:
    """A cell of a rig in two seasons, and what is asked of it; nothing where it is no question."""

    cell: tuple[str, int, str]
    one: str
    other: str
    asks: str = ""
    unit: str = ""

    def seasons(self) -> dict[str, SeasonText]:
        """The two seasons, the second with its own unit."""
        seasons = {"skua": one_of("Skua"), "tern": one_of("Tern")}
        for season, told in zip(seasons.values(), (self.one, self.other), strict=True):
            season.set_cell(*self.cell, told)
        if self.unit:
            table, _, column = self.cell
            unit = f'{column} = {{ from = "{column}", unit = "{self.unit}" }}'
            seasons["tern"].settings = f"[{table}]\n{unit}\n"
        return seasons


TOGGLES, WEIGHT = ("rig_versions", 2, "toggle_mm"), ("rig_parts", 2, "each_kg")
CELLS = (
    TwoCells(TOGGLES, "152.4", "6", unit="in"),
    TwoCells(TOGGLES, "305", "12", unit="in"),
    TwoCells(TOGGLES, "350", "350.5"),
    TwoCells(TOGGLES, "350", "350.6", "toggle_mm 350 against 350.6."),
    TwoCells(TOGGLES, "", "300"),
    TwoCells(TOGGLES, "300", ""),
    TwoCells(WEIGHT, "9.5", "9.5000001"),
    TwoCells(WEIGHT, "9.5", "9.6", "bosom bobbin ground gear each_kg 9.5 against 9.6."),
    TwoCells(WEIGHT, "", "9.5"),
)


@pytest.mark.parametrize("cells", CELLS, ids=str)
def test_what_is_blank_or_told_alike_is_no_question(cells: TwoCells, tmp_path: Path) -> None:
    folder = write_season_texts(tmp_path / "co-op", cells.seasons())
    table, row, column = cells.cell
    if cells.asks:
        with pytest.raises(SeasonUnusableError) as asked:
            check_season(folder)
        assert f"Their {table} differ: {cells.asks}" in " ".join(asked.value.sentences)
        return
    _, season = check_season(folder)
    told = [float(cell) for cell in (cells.one, cells.other) if cell]
    assert season.tables[table].filter(source_row=row)[column].to_list() == [told[0]]
    names = ("skua", "tern") if cells.one else ("tern", "skua")
    holds = BLANKS_FILLED.format(table, "bobbins-14", *names)
    assert (holds in season.together) == (len(told) == 1)


def test_a_blank_between_two_that_differ_hides_nothing(tmp_path: Path) -> None:
    seasons = by_boat()
    for season, cell in zip(seasons.values(), ("", "300", "350"), strict=True):
        season.set_cell(*TOGGLES, cell)
    with pytest.raises(SeasonUnusableError, match="one rig in skua and tern"):
        check_season(write_season_texts(tmp_path / "co-op", seasons))


def test_of_a_rig_that_is_one_all_the_same_no_blank_is_filled(tmp_path: Path) -> None:
    seasons = TwoCells(TOGGLES, "", "300").seasons()
    settings = '[rigs]\nsame = ["bobbins-14"]\n'
    _, season = check_season(write_season_texts(tmp_path / "co-op", seasons, settings))
    bobbins = season.tables["rig_versions"].filter(rig_version="bobbins-14")
    assert bobbins["toggle_mm"].to_list() == [None]
    assert not [told for told in season.together if "where it is blank" in told]


def test_what_differs_most_is_named_first_whichever_table_has_it(tmp_path: Path) -> None:
    seasons = {"skua": one_of("Skua"), "tern": one_of("Tern")}
    for season in seasons.values():
        disc = season.tables["rig_parts"][3]
        season.tables["rig_parts"].append([disc[0], "bunt", *disc[2:]])
    seasons["tern"].set_cell("rig_versions", 4, "toggle_mm", "205")
    seasons["tern"].set_cell("rig_versions", 4, "rig", "discs")
    for row in (4, 5):
        seasons["tern"].set_cell("rig_parts", row, "diameter_mm", "125")
    seasons["tern"].set_cell("rig_parts", 4, "count", "141")
    with pytest.raises(SeasonUnusableError) as asked:
        check_season(write_season_texts(tmp_path / "co-op", seasons))
    assert asked.value.sentences[0].startswith(
        "Is 'rubber-10' one rig in skua and tern? Their rig_versions and rig_parts differ: wing, "
        "bunt disc ground gear diameter_mm 100 against 125; toggle_mm 200 against 205; wing disc "
        "ground gear count 140 against 141; and 1 more. Give it another name"
    )


def test_rigs_of_one_name_are_told_apart_or_said_to_be_one(tmp_path: Path) -> None:
    settings = '[rigs]\nsame = ["rubber-10"]\n[rigs.names]\ntern = { "bobbins-14" = "bobbins-b" }\n'
    _, season = check_season(write_season_texts(tmp_path / "co-op", clashing(), settings))
    rigs = season.tables["rig_versions"]
    assert sorted(rigs["rig_version"]) == ["bobbins-12", "bobbins-14", "bobbins-b", "rubber-10"]
    discs = season.tables["rig_parts"].filter(rig_version="rubber-10")
    assert discs.select("source_file", "count").rows() == [("gull/rig_parts.csv", 140)]
    _none_is_lost(season)


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ('[rigs]\nsame = ["ruber-10"]', "did you mean 'rubber-10'?"),
        ('[rigs.names]\nturn = { "rubber-10" = "x" }', "did you mean 'tern'?"),
        ('[rigs.names]\ntern = { "ruber-10" = "x" }', "did you mean 'rubber-10'?"),
        ('[rigs.names]\ntern = { "rubber-10" = "bobbins-14" }', "two of its rigs 'bobbins-14'"),
        ('[hauls]\nkeep = ["moon"]', "[hauls] says how one season was kept"),
        ('[notes]\nblank_means = "no damage"', "[notes] says how one season was kept"),
    ],
)
def test_settings_of_the_whole_that_can_not_hold(settings: str, said: str, tmp_path: Path) -> None:
    with pytest.raises(SeasonUnusableError) as told:
        check_season(write_season_texts(tmp_path / "co-op", by_boat(), settings))
    assert said in " ".join(told.value.sentences)


def test_a_broken_season_is_named_and_the_others_go_on(tmp_path: Path) -> None:
    seasons = by_boat()
    seasons["tern"].settings = '[hauls]\nfile = "log of the year.csv"\n'
    folder = write_season_texts(tmp_path / "co-op", seasons)
    (folder / "papers").mkdir()
    (folder / "papers" / "minutes.txt").write_text("of the meeting", encoding="utf-8")
    results = run_season(folder)
    papers, tern = results.season.left_out
    assert papers.startswith("papers is left out")
    assert tern.startswith("tern is left out, as it can't be used: season.toml: [hauls] names")
    assert tern in in_short(results.findings)
    assert {papers, tern} <= set(set_aside(results.findings).paragraphs)
    with told_in(language_of("es")):
        in_spanish = " ".join(set_aside(results.findings).paragraphs)
    assert "papers queda fuera, porque no tiene hauls.csv" in in_spanish
    assert "tern queda fuera, porque no se puede usar: " in in_spanish
    readings = readings_of(results.folder, results.season)
    assert tern in check_summary(results.season, readings, results.folder.settings)
    assert [each["season"] for each in results.findings["seasons"]] == ["gull", "skua"]


def test_where_no_season_can_be_used_it_is_said(tmp_path: Path) -> None:
    seasons = by_boat()
    for season in seasons.values():
        season.settings = '[hauls]\nfile = "log of the year.csv"\n'
    with pytest.raises(SeasonUnusableError, match="No season folder in co-op can be used"):
        check_season(write_season_texts(tmp_path / "co-op", seasons))


def test_an_empty_folder_is_asked_for_hauls_or_season_folders(tmp_path: Path) -> None:
    with pytest.raises(SeasonUnusableError, match="a season folder for each boat"):
        check_season(tmp_path)


def test_a_folder_of_one_season_finds_what_the_season_does(tmp_path: Path) -> None:
    season = valid_season()
    alone = run_season(season.write_csv(tmp_path / "alone")).findings
    folder = write_season_texts(tmp_path / "co-op", {"2031": season})
    among = run_season(folder).findings
    named = ("season", "seasons", "set_aside", "remarks", "method")
    assert {name: found for name, found in among.items() if name not in named} == {
        name: found for name, found in alone.items() if name not in named
    }
    assert {**among["season"], "title": ""} == {**alone["season"], "title": ""}


def test_the_season_is_adjusted_for_unless_the_boat_tells_it(tmp_path: Path) -> None:
    by_one = run_season(write_season_texts(tmp_path / "by-boat", by_boat()))
    assert "season" not in by_one.findings["season"]["adjusted_for"]
    several = {"all": valid_season(), "more": one_of("Skua")}
    for row in several["more"].tables["hauls"][1:]:
        row[3:5] = [cell.replace("2031-03", "2031-05") for cell in row[3:5]]
    del several["more"].tables["fittings"]
    several["more"].tables["hauls"][2][6] = several["more"].tables["hauls"][4][6] = "rubber-10"
    results = run_season(write_season_texts(tmp_path / "more", several))
    assert results.findings["season"]["adjusted_for"][-1] == "season"
    assert "Skua is taken for one boat in all and more." in results.season.together


def test_a_name_that_is_nearly_another_boats_is_asked_about(tmp_path: Path) -> None:
    seasons = {"skua": one_of("Skua"), "tern": one_of("Tern")}
    for name in ("hauls", "fittings", "catches", "vessels", "damage_review"):
        for row in seasons["tern"].tables[name][1:]:
            row[0] = "SKUA "
    _, season = check_season(write_season_texts(tmp_path / "co-op", seasons))
    (told,) = season.remarks.filter(column="vessel").rows(named=True)
    assert told["reason"] == (
        "counts as another boat than 'Skua' of skua/hauls.csv; write it alike if it is the same"
    )


@pytest.mark.parametrize(("name", "asked"), [("Skuaa", True), ("Auk", False)])
def test_a_boat_that_is_misspelt_in_one_season_is_asked_about(
    name: str, *, asked: bool, tmp_path: Path
) -> None:
    seasons = {"first": one_of("Skua"), "second": one_of("Tern")}
    for table in ("hauls", "fittings", "catches", "vessels", "damage_review"):
        for row in seasons["first"].tables[table][1:]:
            row[0] = "Skuae"
        for row in seasons["second"].tables[table][1:]:
            row[0] = name
    for row in seasons["second"].tables["hauls"][1:]:
        row[3:5] = [cell.replace("2031-03", "2031-05") for cell in row[3:5]]
    two = "[sharing]\nmin_vessels = 2\n"
    folder, season = check_season(write_season_texts(tmp_path / "co-op", seasons, two))
    told = season.remarks.filter(column="vessel")["reason"].to_list()
    assert told == asked * [NEARLY.format("Skuae")]
    results = SeasonResults(folder, season, {}, {})
    of_boats = [line for line in for_the_manager(results) if ", vessel: " in line]
    assert [line.endswith(f"{told[0]}.") for line in of_boats] == asked * [True]


def test_prices_hold_for_the_hauls_of_their_own_season(tmp_path: Path) -> None:
    seasons = by_boat()
    seasons["tern"].set_cell("prices", 2, "price_per_kg", "6.4")
    seasons["tern"].set_cell("prices", 2, "valid_from", "2031-01-15")
    del seasons["gull"].tables["prices"]
    rates = run_season(write_season_texts(tmp_path / "co-op", seasons)).findings["rates"]
    value = {
        row["rig"]: row["total"]
        for row in rates
        if row["outcome"] == "value" and row["ground"] == "all"
    }
    assert value["rubber-10"] == pytest.approx(22.5 * 2.1 + 70 * 6.4)
    assert value["bobbins-14"] == pytest.approx((84 + 90) * 3.2 + 40 * 2.1)
    assert "bobbins-12" not in value


def test_money_in_several_currencies_is_left_out(tmp_path: Path) -> None:
    seasons = by_boat()
    seasons["skua"].settings = '[season]\ncurrency = "EUR"\n'
    seasons["tern"].settings = '[season]\ncurrency = "GBP"\n'
    results = run_season(write_season_texts(tmp_path / "co-op", seasons))
    assert "several currencies (EUR, GBP)" in results.season.together[-1]
    assert results.season.counts["prices"] == {"read": 6, "used": 0, "set_aside": 6}
    assert not [row for row in results.findings["rates"] if row["outcome"] == "value"]
    assert results.findings["unpriced_species"] == []


def test_what_seasons_say_alike_holds_and_where_they_differ_it_is_told(tmp_path: Path) -> None:
    seasons = by_boat()
    for hour, season in zip((30, 30, 40), seasons.values(), strict=True):
        season.settings = f'[season]\nreference_rig = "rubber-10"\n[costs]\nmending_hour = {hour}\n'
    folder, season = check_season(write_season_texts(tmp_path / "co-op", seasons))
    assert folder.settings.season.reference_rig == "rubber-10"
    assert folder.settings.season.title == "co-op"
    assert folder.settings.costs.mending_hour is None
    assert "The seasons differ in [costs] mending_hour" in season.together[0]
    with told_in(language_of("es")):
        assert reason_said(season.together[0]).startswith("Las temporadas no coinciden en [costs]")


def test_the_page_is_told_in_the_units_of_all_seasons_or_of_their_folder(tmp_path: Path) -> None:
    seasons = {"skua": one_of("Skua"), "tern": one_of("Tern")}
    for season, depth in zip(seasons.values(), ("fathom", "m"), strict=True):
        season.settings = f'[units]\nweight = "stone"\ndepth = "{depth}"\n'
    place = write_season_texts(tmp_path / "co-op", seasons)
    folder, season = check_season(place)
    assert folder.settings.units == Units(weight="stone")
    assert "The seasons differ in [units] depth" in season.together[0]
    (place / "season.toml").write_text('[units]\nweight = "kg"\ndepth = "fathom"\n')
    folder, season = check_season(place)
    assert folder.settings.units == Units(weight="kg", depth="fathom")
    assert not [told for told in season.together if "[units]" in told]


def test_each_season_is_read_by_its_own_words(tmp_path: Path) -> None:
    seasons = {"skua": one_of("Skua"), "tern": one_of("Tern")}
    seasons["skua"].settings = '[notes]\nblank_means = "no damage"\n'
    for season in seasons.values():
        del season.tables["hauls"][0][14]
        for row in season.tables["hauls"][1:]:
            del row[14]
    rates = run_season(write_season_texts(tmp_path / "co-op", seasons)).findings["rates"]
    told = [r for r in rates if r["outcome"] == "damage_events" and r["ground"] == "all"]
    of_skua, of_tern_without_its_blank_note = 4, 2
    assert sum(row["hauls"] for row in told) == of_skua + of_tern_without_its_blank_note


def test_notes_are_looked_over_one_season_at_a_time(tmp_path: Path) -> None:
    folder, _ = check_season(write_season_texts(tmp_path / "co-op", by_boat()))
    with pytest.raises(WrongUsageError, match="holds 3 seasons"):
        review_place(folder, None)

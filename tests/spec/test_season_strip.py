"""The season trip by trip, and damage and fish by rig and ground, in the season's own units."""

from __future__ import annotations

from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.intake.settings import parse_settings
from pipeline.problems import SeasonUnusableError
from reports.by_rig_and_ground import damage_by_rig_and_ground, fish_by_rig_and_ground
from reports.marks import marks
from reports.on_deck import as_recorded, fish_weight, on_deck, size_words
from reports.season_strip.chart import (
    DAMAGE_HEIGHT,
    LETTER,
    TICK_ROOM,
    WIDTH,
    damage_ticks,
    month_words,
    strip_chart,
)
from reports.season_strip.section import season_strip, trip_words
from reports.season_strip.strips import MOST_SIDE_BY_SIDE, MOST_STRIPS, all_strips, drawn_strips
from tests.spec.text_tables import rows_of, table_from

HERE = Path(__file__).parent
MARKS = marks(["bobbins-14", "discs-8"], "bobbins-14")
KILOS = {"weight": "kg", "depth": "m", "size": "mm"}
STONES = {"weight": "stone", "depth": "fathom", "size": "inch"}
GIVEN, IN_KILOS, IN_STONES = (
    part.split("\n", 1)[1]
    for part in (HERE / "season_strip.md")
    .read_text(encoding="utf-8")
    .replace("given", "then")
    .split("\nthen ")[1:]
)


def findings_in(units: dict[str, str], trips: list[dict[str, Any]] | None = None) -> dict[str, Any]:
    rates = [
        rate("damage_events", "mud", hauls=4, tow_hours=12, total=1),
        rate("damage_events", "stones", hauls=9, tow_hours=30, total=3),
        rate("damage_events", "all", hauls=13, tow_hours=42, total=4),
        rate("bottom_living_kg", "stones", hauls=9, tow_hours=30, total=600),
    ]
    return {
        "season": {"units": units, "grounds": ["mud", "stones", "mixed"]},
        "trips": table_from(GIVEN).to_dicts() if trips is None else trips,
        "far_catches": [],
        "outcomes": [
            {"name": "damage_events", "unit": "times"},
            {"name": "bottom_living_kg", "unit": "kg"},
        ],
        "rates": rates,
        "effects": [],
        "by_year": [],
        "on_the_mix": [],
        "rigs": [{"rig_version": "bobbins-14"}, {"rig_version": "discs-8"}],
    }


def rate(outcome: str, ground: str, **sums: float) -> dict[str, Any]:
    per_hour = sums["total"] / sums["tow_hours"]
    limits = {"low": per_hour / 2, "high": None}
    return (
        {"outcome": outcome, "rig": "bobbins-14", "ground": ground, "rate": per_hour}
        | sums
        | limits
    )


@pytest.mark.parametrize(("units", "then"), [(KILOS, IN_KILOS), (STONES, IN_STONES)])
def test_the_table_of_each_boat_is_in_the_units_of_the_deck(
    units: dict[str, str], then: str
) -> None:
    section = season_strip(findings_in(units))
    assert section is not None
    assert [row for figure in section.figures for row in figure.table.rows] == rows_of(then)[1]


def test_where_no_haul_tore_twice_one_column_tells_of_both() -> None:
    findings = findings_in(KILOS)
    for trip in findings["trips"]:
        trip["damage_events"] = trip["damaged_hauls"]
    section = season_strip(findings)
    assert section is not None
    table = section.figures[0].table
    assert table.headers[-2:] == ["damaged hauls", "fish, kg per hour"]
    assert table.rows[0][-2:] == ["2", "20.0"]


def test_a_boat_is_a_figure_with_its_tears_in_the_title() -> None:
    section = season_strip(findings_in(KILOS))
    assert section is not None
    assert [figure.title for figure in section.figures] == [
        "Skua: 1 trip, 10 hauls; damage on 2 of 9 known",
        "Tern: 1 trip, 4 hauls; damage on 0 of 3 known",
    ]
    assert section.figures[0].table.headers[-1] == "fish, kg per hour"


def test_what_is_not_known_of_a_boat_is_neither_drawn_nor_told_as_nought() -> None:
    findings = findings_in(KILOS)
    skua, _, tern = findings["trips"]
    skua["hauls"] = skua["damage_known_hauls"]
    tern["damage_known_hauls"], tern["bottom_living_kg_per_hour"] = 0, None
    findings["trips"] = [skua, tern]
    section = season_strip(findings)
    assert section is not None
    assert [figure.title for figure in section.figures] == [
        "Skua: 1 trip, 9 hauls, 2 of them with damage",
        "Tern: 1 trip, 4 hauls; damage known of none",
    ]
    rows = [strip_chart(findings, MARKS, figure.name)["vconcat"] for figure in section.figures]
    assert [len(of_boat) for of_boat in rows] == [4, 2]
    assert "A ring" not in section.paragraphs[0]
    findings["trips"] = [tern]
    section = season_strip(findings)
    assert section is not None
    assert "Damaged hauls" not in section.paragraphs[0]
    assert "Fish:" not in section.paragraphs[0]


def test_a_touched_column_says_all_of_its_trip() -> None:
    findings = findings_in(STONES)
    first, second, _ = (trip_words(trip, fish_weight(findings)) for trip in findings["trips"])
    assert first == (
        "bobbins-14: trip 1, 4 Mar 2031, stones, 30 hours; 2 of 9 hauls with damage; "
        "3.15 stone per hour"
    )
    assert second == (
        "discs-8: trip 1, 6 Mar 2031, mixed ground, 3 hours; nobody knows if the net was damaged"
    )


def test_many_trips_are_cut_into_strips_that_fit_and_the_latest_are_drawn() -> None:
    (trip, *_) = table_from(GIVEN).to_dicts()
    trips = [trip | {"trip": str(at)} for at in range(MOST_SIDE_BY_SIDE * MOST_STRIPS + 1)]
    findings = findings_in(KILOS, trips)
    strips, drawn = all_strips(findings), drawn_strips(findings)
    assert max(len(strip.trips) for strip in strips) <= MOST_SIDE_BY_SIDE
    assert [each for strip in strips for each in strip.trips] == trips
    assert drawn == strips[1:]
    section = season_strip(findings)
    assert section is not None
    assert section.paragraphs[-1].startswith(
        "427 of 481 trips are drawn, of each boat the latest: first of boats that changed their "
        "rig, then of those that fished last."
    )


@given(st.lists(st.integers(1, 5), min_size=1, max_size=200))
def test_no_trip_is_cut_between_two_strips(rigs_of_trips: list[int]) -> None:
    (trip, *_) = table_from(GIVEN).to_dicts()
    trips = [
        trip | {"trip": str(at), "rig": f"rig-{rig}"}
        for at, rigs in enumerate(rigs_of_trips)
        for rig in range(rigs)
    ]
    strips = all_strips(findings_in(KILOS, trips))
    assert [each for strip in strips for each in strip.trips] == trips
    assert max(len(strip.trips) for strip in strips) <= MOST_SIDE_BY_SIDE
    assert len(strips) == 1 or len(trips) > MOST_SIDE_BY_SIDE
    ends = [(one.trips[-1]["trip"], next_.trips[0]["trip"]) for one, next_ in pairwise(strips)]
    assert all(last != first for last, first in ends)


def test_years_that_do_not_fit_beside_each_other_are_cut_at_the_new_year() -> None:
    (trip, *_) = table_from(GIVEN).to_dicts()
    days = [f"{year}-{month:02}-03" for year in (2031, 2032) for month in (1, 5, 12)]
    trips = [trip | {"trip": f"{day} {at}", "first_day": day} for day in days for at in range(12)]
    trips[35:37] = [trips[35], trips[35] | {"rig": "discs-8", "first_day": "2032-01-04"}]
    first, second = all_strips(findings_in(KILOS, trips))
    assert {each["first_day"][:4] for each in second.trips} == {"2032"}
    assert [each["first_day"][:4] for each in first.trips] == ["2031"] * 36 + ["2032"]
    assert first.trips + second.trips == trips


def record_of(boats: dict[str, list[tuple[str, str]]], damaged: int = 0) -> dict[str, Any]:
    """Boats with their trips, each a rig and a first day, in the order of text as the record is."""
    (trip, *_) = table_from(GIVEN).to_dicts()
    return findings_in(
        KILOS,
        [
            trip
            | {"vessel": vessel, "trip": str(at), "rig": rig, "first_day": day}
            | {"damaged_hauls": damaged, "damage_known_hauls": damaged + 1}
            for vessel, trips in sorted(boats.items())
            for at, (rig, day) in enumerate(trips)
        ],
    )


def test_of_too_many_boats_those_are_drawn_that_changed_rig_and_then_those_that_fished_last() -> (
    None
):
    boats = {f"{n}": [("discs-8", f"2031-01-{n:02}")] for n in range(1, MOST_STRIPS + 3)}
    boats["1"] = [("discs-8", "2030-01-01"), ("bobbins-14", "2030-02-01")]
    drawn = drawn_strips(record_of(boats))
    assert [strip.vessel for strip in drawn] == ["1", "4", "5", "6", "7", "8", "9", "10"]


def test_boats_called_by_numbers_are_in_the_order_of_numbers_and_others_in_that_of_text() -> None:
    trip = [("discs-8", "2031-01-01")]
    numbers = all_strips(record_of({"94": trip, "178": trip, "21": trip}))
    assert [strip.vessel for strip in numbers] == ["21", "94", "178"]
    mixed = all_strips(record_of({"94": trip, "178": trip, "Tern": trip}))
    assert [strip.vessel for strip in mixed] == ["178", "94", "Tern"]


@pytest.mark.parametrize(("damaged", "rows", "said"), [(12, 12, "one haul"), (13, 1, "a trip's")])
def test_few_damaged_hauls_are_a_mark_each_and_many_are_one_bar(
    damaged: int, rows: int, said: str
) -> None:
    findings = record_of({"Tern": [("discs-8", "2031-01-01")]}, damaged)
    section = season_strip(findings)
    assert section is not None
    (figure,) = section.figures
    assert said in section.paragraphs[0]
    assert figure.caption == ""
    chart = strip_chart(findings, MARKS, figure.name)
    torn = chart["datasets"]["torn"]
    assert [row["height"] for row in torn] == list(range(damaged - rows + 1, damaged + 1))


@given(st.lists(st.dates(date(2029, 1, 1), date(2032, 1, 1)), min_size=1, max_size=60).map(sorted))
def test_no_month_is_written_into_another_and_years_are_told_where_there_are_several(
    days: list[date],
) -> None:
    trips = [{"first_day": day.isoformat()} for day in days]
    columns = max(12, len(trips))
    years = len({day.year for day in days})
    months = month_words(trips, columns, years)
    assert next(iter(months)) == 1
    assert all(word.isalpha() == (years == 1) for word in months.values() if word)
    room = WIDTH / columns
    written = [(place * room, len(word) * LETTER / 2) for place, word in months.items() if word]
    assert all(at + half <= on - wide for (at, half), (on, wide) in pairwise(written))


def test_of_months_without_room_every_second_is_left_out_and_of_a_trip_a_year_the_years_stand() -> (
    None
):
    monthly = [{"first_day": f"2031-{1 + at // 3:02}-01"} for at in range(36)]
    told = [word for word in month_words(monthly, 36, 1).values() if word]
    assert told == ["Jan", "Mar", "May", "Jul", "Sep", "Nov"]
    yearly = [{"first_day": f"{year}-05-01"} for year in (1996, 1998, 2000, 2002)]
    assert list(month_words(yearly, 12, 9).values()) == ["1996", "", "2000", ""]


@given(st.integers(3, 400))
def test_the_numbers_of_damaged_hauls_have_room_and_are_more_than_nought(most: int) -> None:
    ticks = damage_ticks(-0.4, most + 0.5)
    assert ticks[0] == 0
    assert len(ticks) > 1
    apart = (ticks[1] - ticks[0]) * DAMAGE_HEIGHT / (most + 0.9)
    assert apart >= TICK_ROOM or ticks[1] == 100


def test_a_ring_is_explained_where_one_is_drawn_and_only_there() -> None:
    trips = [("discs-8", "2031-01-01"), ("discs-8", "2031-02-01")]
    findings = record_of({"Tern": trips})
    section = season_strip(findings)
    assert section is not None
    assert "A ring" not in section.paragraphs[0]
    findings["trips"][0]["damage_known_hauls"] = 0
    section = season_strip(findings)
    assert section is not None
    assert "A ring: of none of that trip's hauls is it known" in section.paragraphs[0]


def test_without_trips_there_is_no_strip() -> None:
    assert season_strip(findings_in(KILOS, [])) is None


def test_damage_by_rig_and_ground_shows_no_rate_of_few_hauls() -> None:
    section = damage_by_rig_and_ground(findings_in(KILOS))
    assert section is not None
    (table,) = section.tables
    assert table.headers == ["rig", "mud", "stones", "mixed"]
    assert table.rows == [["bobbins-14", "few (4)", "10 (9)", "–"], ["discs-8", "–", "–", "–"]]
    assert table.shades == [[0.0, 0.0, 1.0, 0.0], [0.0, 0.0, 0.0, 0.0]]


def test_none_seen_is_shown_with_what_it_may_yet_be_and_rigs_apart_are_named() -> None:
    findings = findings_in(KILOS)
    findings["season"]["reference_rig"] = "bobbins-14"
    findings["rates"] = [
        {**rate("damage_events", "stones", hauls=9, tow_hours=30, total=0), "high": 3.69 / 30}
    ]
    apart = {"outcome": "damage_events", "ground": "all", "part": "whole record", "rig": "discs-8"}
    findings["effects"] = [{**apart, "cautions": ["not side by side"]}]
    section = damage_by_rig_and_ground(findings)
    assert section is not None
    assert section.tables[0].rows[0][2] == "0–12 (9)"
    assert section.paragraphs == [
        "As recorded, with the hauls in brackets; the stronger the colour, the more. Where none "
        "was seen, as in 0–12, it may yet be as much as the second figure.",
        "Do not compare discs-8 with bobbins-14 here: they were hardly fished side by side, on the "
        "same ground and boat in the same stretch of time.",
    ]
    on_stones = {**apart, "ground": "stones", "low": 0.5, "cautions": []}
    findings["effects"].append(on_stones)
    section = damage_by_rig_and_ground(findings)
    assert section is not None
    assert section.paragraphs[1] == (
        "discs-8 can be compared with bobbins-14 on single grounds only: over all grounds they "
        "were hardly side by side in the hauls that tell of it."
    )


def test_what_the_table_of_damage_has_said_is_not_said_again_of_fish() -> None:
    of_damage, of_fish = (
        make(findings_in(KILOS)) for make in (damage_by_rig_and_ground, fish_by_rig_and_ground)
    )
    assert of_damage is not None
    assert of_fish is not None
    assert "Fewer than 5 hauls are too few for a figure here;" in of_damage.paragraphs[0]
    assert not {*of_damage.paragraphs} & {*of_fish.paragraphs}


def test_fish_by_rig_and_ground_is_in_the_seasons_unit() -> None:
    kilos, stones = (
        fish_by_rig_and_ground(told(findings_in(STONES))) for told in (as_recorded, on_deck)
    )
    assert kilos is not None
    assert stones is not None
    # 600 kg in 30 hours; a stone is 6.35029318 kg (agreement of 1959).
    assert kilos.tables[0].rows[0][2] == "20 (9)"
    assert stones.tables[0].rows[0][2] == "3.1 (9)"
    assert stones.tables[0].caption == "Bottom-living fish, stone per hour towed"


def test_only_rates_of_fish_change_with_the_unit() -> None:
    findings = findings_in(STONES)
    told = on_deck(findings)
    assert told["rates"][:3] == findings["rates"][:3]
    assert told["rates"][3]["low"] * 6.35029318 == pytest.approx(10)
    assert told["rates"][3]["high"] is None
    assert told["outcomes"][0] == findings["outcomes"][0]


def test_sizes_are_in_millimetres_or_inches() -> None:
    assert size_words(findings_in(KILOS), 355.6) == "356 mm"
    assert size_words(findings_in(STONES), 355.6) == "14.0 in"
    assert size_words(as_recorded(findings_in(STONES)), 355.6) == "356 mm"


@pytest.mark.parametrize(
    ("key", "wrong", "said"),
    [
        ("weight", "lb", "season.toml: [units], weight: takes 'kg' or 'stone'"),
        ("depth", "ft", "season.toml: [units], depth: takes 'm' or 'fathom'"),
        ("size", "cm", "season.toml: [units], size: takes 'mm' or 'inch'"),
    ],
)
def test_another_unit_is_refused_in_a_sentence(key: str, wrong: str, said: str) -> None:
    with pytest.raises(SeasonUnusableError) as refused:
        parse_settings({"units": {key: wrong}})
    assert str(refused.value) == f"{said} (it says '{wrong}')."


def test_of_one_rig_alone_nothing_is_said_of_comparing() -> None:
    findings = findings_in(KILOS)
    findings["rigs"] = findings["rigs"][:1]
    section = damage_by_rig_and_ground(findings)
    assert section is not None
    assert not any("Compare rigs" in words for words in section.paragraphs)

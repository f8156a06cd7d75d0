"""The section on where and why the net tears: what it says, and that it holds whatever comes."""

from __future__ import annotations

import json
from html import unescape
from typing import TYPE_CHECKING

import duckdb
import polars as pl
import pytest

from pipeline.joining.database import Database
from pipeline.joining.list_places import list_places
from reports.editions import EDITIONS
from reports.page import season_page
from reports.parts import Note
from reports.tears.drawings import MOST_DRAWN, net_drawings
from reports.tears.section import where_the_net_tears
from tests.spec.torn_nets import findings_of, found_in, season

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from reports.parts import Section

SCRIPT = "<script>alert('x')</script>"


def section_of(hauls: pl.DataFrame) -> Section:
    section = where_the_net_tears(findings_of(hauls))
    assert section is not None
    return section


@pytest.fixture
def page(demo: Path) -> Callable[[pl.DataFrame], str]:
    """What the page looks like with this section alone, of those hauls."""
    findings = json.loads((demo / "report" / "findings.json").read_text(encoding="utf-8"))
    edition = EDITIONS["study"]._replace(sections=(where_the_net_tears,))
    return lambda hauls: season_page({**findings, **findings_of(hauls)}, edition)


def test_each_rig_is_told_in_a_sentence() -> None:
    # Of eight hauls four are damaged: two wings, one of them with a belly, one codend, one not
    # told; the first two came fast.
    (sheet,) = section_of(season(["rope"])).tears
    assert sheet.says == (
        "rope: mostly wings (2 of 3 tears whose place is told), by coming fast (2 of 2 tears whose "
        "cause is told); 1 names no part, of 4 damaged hauls."
    )


def test_the_section_says_what_its_figures_leave_out() -> None:
    section = section_of(season(["rope"]))
    said = " ".join([*section.paragraphs, *section.points])
    assert "Of 4 damaged hauls, 3 name the part of the net that tore and of 1 none is told" in said
    assert "shares do not add up to 100 %" in said
    assert "read from the notes by the program" in said
    assert "damage_review" in said


def test_tables_have_the_parts_with_limits_and_sides_and_the_causes() -> None:
    (sheet,) = section_of(season(["rope"])).tears
    parts, causes = sheet.tables
    # 32 h: 2 are 6.25 per 100 h; Garwood's lower limit of 2 is 0.2422 and upper of none 3.6889. The
    # upper limit of 2 is by leaving out each trip: Garwood's, 22.6 per 100 h, is narrower.
    assert parts.rows[0] == ["wing", "2", "6.25", "0.76 to 43.1", "1", "0", "1"]
    assert parts.rows[-1] == ["each other part", "0", "0", "0 to 11.5", "0", "0", "0"]
    assert causes.rows == [
        ["fast", "2", "100 %", "6.25", "0.76 to 43.1"],
        ["not told", "2", "–", "–", "–"],
    ]


def test_notes_stand_with_boat_trip_and_haul_and_know_their_row() -> None:
    (sheet,) = section_of(season(["rope"])).tears
    assert [part.title for part in sheet.notes] == ["wing, 2", "belly, 1", "codend, 1"]
    assert sheet.notes[0].notes[0] == Note("Skua, trip 0, haul 0: “came fast”", 1)


def test_no_more_than_eight_notes_stand_under_a_part_and_it_says_how_many_more() -> None:
    hauls = season(["rope"] * 10).with_columns(parts=pl.lit("wing"))
    notes = section_of(hauls).tears[0].notes[0].notes
    assert len(notes) == 9
    assert notes[-1] == Note("and 32 more; the longest notes are shown", None)


def test_a_long_note_is_cut_off() -> None:
    note = section_of(season(["rope"], note="torn " * 500)).tears[0].notes[0].notes[0].says
    assert len(note) < 330
    assert note.endswith("torn …”")


def test_a_rig_that_stands_out_is_named_with_both_shares_and_the_chance() -> None:
    rope = season(["rope"] * 12).with_columns(parts=pl.lit("belly"), row=pl.col("row") + 1000)
    bobbins = season(["bobbins"] * 12).with_columns(parts=pl.lit("wing"))
    said = " ".join(section_of(pl.concat([rope, bobbins])).paragraphs)
    assert "Of 2 comparisons of torn parts " in said
    assert "hardly luck alone: " in said
    assert "wings in 100 % of 48 tears with" in said
    assert (
        "with bobbins, weighed alike by ground and boat, where rope "
        "has 0 % of 48 (chance 0.1 % or less)" in said
    )
    assert "It need not be the rig" in said


def test_what_is_compared_and_what_may_bend_it_is_said() -> None:
    said = " ".join(section_of(season(["rope", "bobbins"] * 4)).paragraphs)
    assert "only shares of the tears whose place is told are compared" in said
    assert "leaves one part out of its notes more often" in said


def test_rigs_that_can_not_be_compared_are_named() -> None:
    rope = season(["rope"] * 4)
    bobbins = season(["bobbins"] * 4).with_columns(vessel=pl.lit("Tern"), row=pl.col("row") + 1000)
    said = section_of(pl.concat([rope, bobbins])).paragraphs[-1]
    assert said == (
        "Where they tear is not compared with rope, as too little was fished or torn on the same "
        "grounds and boats: bobbins."
    )


def test_where_none_stands_out_it_is_no_proof() -> None:
    hauls = season(["rope", "bobbins"] * 4)
    said = " ".join(section_of(hauls.with_columns(row=pl.int_range(pl.len()))).paragraphs)
    assert "of torn parts none is clearly more than luck" in said
    assert "no proof that they are alike" in said


def test_without_damage_there_is_a_sentence_and_nothing_to_draw(
    page: Callable[[pl.DataFrame], str],
) -> None:
    hauls = season(["rope", "bobbins"], damaged=False)
    section = section_of(hauls)
    assert section.paragraphs == ["No damage in 16 hauls of which it is known: nothing to draw."]
    assert (section.tears, section.tables) == ([], [])
    assert net_drawings(findings_of(hauls)) == {}
    assert "nothing to draw" in page(hauls)


def test_damage_of_which_no_part_is_told_is_not_drawn_but_its_causes_are_told(
    page: Callable[[pl.DataFrame], str],
) -> None:
    hauls = season(["rope"]).with_columns(parts=pl.lit(None, pl.String))
    section = section_of(hauls)
    assert section.tears == []
    assert [table.caption for table in section.tables] == [
        "Damaged hauls per 100 h towed that name the cause, by ground, all rigs"
    ]
    assert "<svg" not in page(hauls).split('id="where-the-net-tears"')[1]


def test_where_nothing_is_known_of_damage_there_is_no_section() -> None:
    hauls = season(["rope"]).with_columns(damage_events=pl.lit(None, pl.Int64))
    assert where_the_net_tears(findings_of(hauls)) is None
    assert where_the_net_tears({}) is None
    assert net_drawings({}) == {}


def test_of_sixty_rigs_those_fished_longest_are_drawn_and_all_stand_in_the_table(
    page: Callable[[pl.DataFrame], str],
) -> None:
    hauls = season([f"rig {number:02}" for number in range(60)])
    section = section_of(hauls)
    assert len(section.tears) == MOST_DRAWN == 12
    assert any("drawn for the 12 rigs of 60" in said for said in section.paragraphs)
    assert len(section.tables[0].rows) == 60
    html = page(hauls).split('id="where-the-net-tears"')[1]
    assert html.count("the net from above</title>") == 12
    assert html.count('<details class="tear-sheet"') == 11


def test_names_and_notes_are_escaped(
    page: Callable[[pl.DataFrame], str],
) -> None:
    hauls = season([SCRIPT, "o'neill's"], note=f"torn {SCRIPT}").with_columns(
        vessel=pl.lit(SCRIPT), ground=pl.lit(SCRIPT)
    )
    html = page(hauls)
    assert html.count("<script") == 1
    assert "torn &lt;script&gt;" in html


def test_the_query_on_the_page_finds_the_rows_behind_every_count(
    page: Callable[[pl.DataFrame], str],
) -> None:
    hauls = season(["o'neill's", "rope"])
    query = unescape(page(hauls).split("<code>")[1].split("</code>")[0])
    with Database() as database:
        database.put("haul_damage", hauls)
        database.put("list_places", list_places(hauls))
        tables = {"haul_damage": hauls, "damage_parts": database.make("damage_parts")}
    connection = duckdb.connect()
    for name, frame in tables.items():
        connection.register(name, frame.to_arrow())
    rows = connection.sql(query).fetchall()
    behind = [
        (part.part, row)
        for part in found_in(hauls).parts
        if part.rig == "o'neill's"
        for row in part.rows
    ]
    assert sorted((part, row) for part, row, *_ in rows) == sorted(behind)

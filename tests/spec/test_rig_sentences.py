"""What is said of a rig's chain, line and parts is what is written in `rig_sentences.md`."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from functools import partial
from typing import Any

import polars as pl
import pytest

from pipeline.rig_facts import RigFacts, rig_rows
from pipeline.rigs.line.geometry import ASSUMPTIONS
from pipeline.rigs.line.rig_geometry import RIG_GEOMETRY_SCHEMA, geometry_of
from pipeline.rigs.stretching.length_checks import length_differences
from pipeline.rigs.stretching.stretch import stretch
from pipeline.rigs.wearing.wear import PART_CHANGES_SCHEMA, PART_HOURS_SCHEMA
from pipeline.rigs.weight.rig_weights import RIG_WEIGHTS_SCHEMA, WHOLE
from pipeline.rigs.weight.weights import PART_WEIGHTS_SCHEMA, part_weights
from reports.gear_words import GROUND_GEAR_NAMES, SECTION_NAMES
from reports.rigs.fishing_line import (
    IN_FULL,
    IN_SHORT,
    assumption_sentences,
    line_sentences,
    taken_for_granted,
)
from reports.rigs.ground_chain import (
    HEADERS,
    SHORT_HEADERS,
    cells,
    chain_sentences,
    short_cells,
    wholes,
)
from reports.rigs.sentences import CHANGE_WORDS, MASS_WORDS, counted, part_sentences
from reports.rigs.strand import strand
from reports.rigs.weight_words import a_metre, in_air, in_water
from schemas.rigs import RIG_PARTS, RIG_VERSIONS
from schemas.words import GROUND_GEARS, SECTIONS
from tests.spec.text_tables import cases_under, number, page_text, rows_of, table_from

RECORD_ENDS, ENDS = datetime(2031, 6, 1), "2031-06-01"
TIPPED = {"traveller_shift_mm": pl.Float64, "tips": pl.String, "tip_deg": pl.Float64}
CHECK = re.compile(r"(\w+) (\S+) (\d+) h (\w+) ([\d.]+) on ([\d.]+)( e)?")
Rig = dict[str, Any]


cases_of = partial(cases_under, "rig_sentences.md")
CHAINS, LINES, RESTS = map(cases_of, ("Ground chains", "Fishing lines", "What a line rests on"))


def checked_rig(case: dict[str, str]) -> Rig:
    """The rig with its checks, as `findings.json` has it."""
    checks = [
        {
            "vessel": boat,
            "rig_version": "rig",
            "section": section,
            "checked_on": datetime.fromisoformat(day),
            "hours": float(hours),
            "ground_chain_m": float(chain_m),
            "traveller_m": float(traveller_m),
            "evened": bool(evened),
            "from_fitting": case["first fitted"] == "yes",
        }
        for boat, day, hours, section, chain_m, traveller_m, evened in CHECK.findall(case["checks"])
    ]
    assert len(checks) == len([check for check in case["checks"].split(";") if check])
    schema = {
        **dict.fromkeys(("vessel", "rig_version", "section"), pl.String),
        "checked_on": pl.Datetime("us"),
        **dict.fromkeys(("hours", "ground_chain_m", "traveller_m"), pl.Float64),
        **dict.fromkeys(("evened", "from_fitting"), pl.Boolean),
    }
    differences = length_differences(pl.DataFrame(checks, schema=schema))
    fished = pl.DataFrame(
        [
            {
                "vessel": boat.split()[0],
                "rig_version": "rig",
                "hours": float(boat.split()[1]),
                "record_ends": RECORD_ENDS,
                "hours_per_day": 10.0,
            }
            for boat in case["boats"].split("; ")
        ]
    )
    stretched = stretch(differences, fished, 1.0, 200.0).with_columns(
        pl.lit(None, kind).alias(name) for name, kind in TIPPED.items()
    )
    facts = RigFacts(
        versions=pl.DataFrame({"rig_version": ["rig"]}),
        parts=pl.DataFrame(schema=PART_WEIGHTS_SCHEMA),
        weights=pl.DataFrame(schema=RIG_WEIGHTS_SCHEMA),
        geometry=pl.DataFrame(schema=RIG_GEOMETRY_SCHEMA),
        length_differences=differences,
        stretch=stretched,
        part_hours=pl.DataFrame(schema=PART_HOURS_SCHEMA),
        part_changes=pl.DataFrame(schema=PART_CHANGES_SCHEMA),
    )
    hauls = pl.DataFrame({"rig_version": ["rig"], "hauls": [1], "tow_hours": [2.0]})
    (row,) = rig_rows(facts, hauls, None)
    return row


def chain(case: str) -> Rig:
    return checked_rig(next(row for row in CHAINS if row["case"] == case))


@pytest.mark.parametrize("case", CHAINS, ids=lambda case: case["case"])
def test_what_is_said_of_ground_chains(case: dict[str, str]) -> None:
    assert " ".join(chain_sentences(checked_rig(case))) == case["says"]


@pytest.mark.parametrize("case", CHAINS, ids=lambda case: case["case"])
def test_a_boat_s_row(case: dict[str, str]) -> None:
    rows = wholes(checked_rig(case))
    assert bool(rows) == bool(case["row"])
    if rows:
        _, *found = short_cells(rows[0])
        last, rate, at_end, limit = case["row"].split(" / ")
        assert found == [last, rate, at_end if at_end == "–" else f"{float(at_end):.1f}", limit]
        assert len(found) == len(SHORT_HEADERS) - 1


def test_the_report_leads_with_fishing_hours_and_has_the_day_beside() -> None:
    (row,) = wholes(chain("a rate that may as well be nothing"))
    assert dict(zip(HEADERS, cells(row, ENDS), strict=True)) == {
        "boat": "Sula",
        "last check": "0.5 2031-04-20",
        "per 100 h, checks": "hardly known, 2",
        "foretold for the end of the record": "0.5; limit in about 108 fishing hours (1 or never), "
        "Jun 2031 or never at its own last pace",
    }
    (past,) = wholes(chain("the traveller the longer"))
    assert cells(past, ENDS)[-1].endswith("; past it")
    (slow,) = wholes(chain("a section past it as worked out"))
    assert cells(slow, ENDS)[-1].endswith(
        "; limit in about 896 fishing hours, Aug 2031 at its own last pace"
    )
    (never,) = wholes(chain("a chain that does not stretch"))
    assert cells(never, ENDS)[-1].endswith("; not in sight")


@pytest.mark.parametrize(
    ("days", "said"),
    [
        ((5, 1, 28), "5 Mar 2031 (1 Mar 2031 to 28 Mar 2031)"),
        ((5, 5, 5), "5 Mar 2031"),
        ((5, 1, 90), "Mar 2031 (Mar 2031 to May 2031)"),
        ((90, 5, None), "May 2031 (Mar 2031 or never)"),
        ((5, 1, None), "Mar 2031 or never"),
        ((5, None, None), "Mar 2031"),
        ((5, -1, 28), "5 Mar 2031 (1 Mar 2031 to 28 Mar 2031)"),
        ((0, -1, 28), ""),
        ((366, 100, None), ""),
    ],
)
def test_the_limit_has_a_day_only_where_it_is_known_so_closely(
    days: tuple[int | None, ...], said: str
) -> None:
    (row,) = wholes(chain("a section past it as worked out"))
    names = ("day_of_limit", "earliest_day", "latest_day")
    dated = {
        name: str(date(2031, 2, 28) + timedelta(days=day)) if day is not None else None
        for name, day in zip(names, days, strict=True)
    }
    told = cells(row | dated, "2031-02-28")[-1]
    assert told.endswith(f"hours, {said} at its own last pace" if said else "fishing hours")


def test_the_day_is_left_open_when_it_is_years_ahead() -> None:
    (row,) = wholes(chain("a section past it as worked out"))
    assert cells(row | {"day_of_limit": None}, ENDS)[-1].endswith(
        "; limit in about 896 fishing hours"
    )


def test_the_boat_that_is_most_out_goes_first_whichever_is_the_longer() -> None:
    checks = (
        "Tern 2031-03-20 100 h bosom 20.10 on 20; Sula 2031-03-20 100 h bosom 19.90 on 20.38; "
        "Skua 2031-03-20 100 h bosom 21.0 on 20 e"
    )
    boats = "Tern 100; Sula 100; Skua 100"
    rows = wholes(checked_rig({"first fitted": "no", "checks": checks, "boats": boats}))
    assert [row["vessel"] for row in rows] == ["Sula", "Tern", "Skua"]
    assert [row["latest_percent"] for row in rows] == pytest.approx([-48 / 20.38, 0.5, 0.0])


def tipped(
    tip_deg: float, shift_mm: float, percent: float, parts: list[dict[str, Any]] | None = None
) -> str:
    rig = chain("a rate that is known") | {"parts": parts or []}
    rig["stretch"] = [
        row
        | {"latest_percent": percent, "traveller_shift_mm": shift_mm}
        | {"tips": "disc", "tip_deg": tip_deg}
        for row in rig["stretch"]
    ]
    return " ".join(chain_sentences(rig))


def test_what_is_said_of_discs_that_tip() -> None:
    even = (
        "The fishing line goes forward with it; its gap and drop back are told for the two length "
        "for length"
    )
    assert tipped(30, 50, 0.9) == (
        "Spread evenly, 0.9 % pulls the traveller 50 mm forward of the ground chain and tips the "
        f"discs some 30°. {even}."
    )
    assert tipped(90, 51, 0.6) == (
        "Spread evenly, 0.6 % pulls the traveller 51 mm forward of the ground chain, as far as the "
        f"discs let it: they lie right over. {even}."
    )
    assert tipped(20, 20, 0.4) == ""


def test_a_gear_on_wire_is_not_said_to_have_a_chain() -> None:
    wire, chain_ = {"kind": "wire", "length_m": 11.0}, {"kind": "chain", "length_m": 2.0}
    on_wire = [wire, chain_, {"kind": "disc", "length_m": None}]
    assert "forward of the wire and tips" in tipped(30, 50, 0.9, on_wire)
    assert strand({"parts": on_wire}) == "wire"
    assert strand({"parts": []}) == "ground chain"


def test_of_a_rig_that_became_another_it_is_told_which() -> None:
    (row,) = wholes(chain("a rate that is known"))
    gone = row | {"advice": ["goes on as a later version"], "goes_on_as": "bobbins-14-b"}
    assert cells(gone, ENDS)[-1] == "now part of bobbins-14-b"
    assert short_cells(gone)[-1] == "now part of bobbins-14-b"


def laid_line(case: dict[str, str]) -> Rig:
    version = {
        "fishing_line_m": number(case.get("fishing line", "35")),
        "ground_gear_m": number(case["ground gear"]),
        "toggle_mm": number(case.get("toggles", "350")),
        "wing_end_spread_m": number(case["spread"]),
        "gap_mm": number(case.get("measured gap", "")),
    }
    return {"geometry": geometry_of(version, number(case.get("largest part", "356")))}


@pytest.mark.parametrize("case", LINES, ids=lambda case: case["case"])
def test_what_is_said_of_a_fishing_line(case: dict[str, str]) -> None:
    assert " ".join(line_sentences(laid_line(case))) == case["says"]


@pytest.mark.parametrize("case", RESTS, ids=lambda case: case["case"])
def test_what_is_taken_for_granted_of_a_turn(case: dict[str, str]) -> None:
    said = taken_for_granted(laid_line(case))
    assert bool(said) == bool(case["taken for granted"])
    if said:
        assert said[0].removesuffix(".").split("; ")[-1] == case["taken for granted"]


def test_a_gear_without_a_length_turns_as_usual() -> None:
    rig = laid_line(RESTS[0])
    rig["geometry"] |= {"assumes": ["spread without a length"], "spread_m": None}
    assert taken_for_granted(rig) == [
        "Taken for granted: the gear taken to turn as one usually does, as its length is not "
        "recorded."
    ]


def test_every_assumption_has_plain_words() -> None:
    assert set(IN_FULL) == set(ASSUMPTIONS)
    assert set(IN_SHORT) == set(ASSUMPTIONS) - {"traveller holes"}
    for words in (*IN_FULL.values(), *IN_SHORT.values()):
        assert "radian" not in words
        assert "catenary" not in words


def test_the_report_says_each_assumption_once() -> None:
    rigs = [laid_line(case) | {"stretch": []} for case in RESTS]
    said = assumption_sentences([*rigs, *rigs])
    assert len(said) == len(set(said))
    assert IN_FULL["usual turn"].format(degrees=21) in said
    assert any("some 21° off the way of the tow" in each for each in said)
    assert IN_FULL["traveller holes"] not in said


def parts_of(text: str) -> list[Rig]:
    return part_weights(table_from(text, "rig_parts")).to_dicts()


PARTS_TEXT = (
    page_text("rig_sentences.md").split("\n## Parts\n")[1].replace(" says |", " says: text |")
)


def test_what_is_said_of_parts() -> None:
    names, rows = rows_of(PARTS_TEXT)
    head = f"| rig_version | {' | '.join(names[:-1])} |"
    for place, row in enumerate(rows):
        parts = parts_of(f"{head}\n| rig-{place} | {' | '.join(row[:-1])} |")
        assert part_sentences({"parts": parts}) == [row[-1]]


LIKE = """
| rig_version | section | part  | material | count | diameter_mm | each_kg | line        |
| rig         | wing    | discs | rubber   | 20    | 152         | 1.3     | ground gear |
| rig         | bunt    | discs | rubber   | 20    | 152         | {bunt}  | ground gear |
| rig         | bosom   | discs | rubber   | 20    | 152         |         | {line}      |
"""


@pytest.mark.parametrize(("bunt", "where"), [("", "one section"), ("1.3", "some sections")])
def test_what_was_weighed_in_one_section_is_taken_over(bunt: str, where: str) -> None:
    (said,) = part_sentences({"parts": parts_of(LIKE.format(bunt=bunt, line=""))})
    assert f": weighed in {where} and taken over to the others; keeps 5 %" in said


def test_what_was_weighed_on_another_rig() -> None:
    parts = parts_of(
        """
        | rig_version | section | part  | material | count | diameter_mm | width_mm | each_kg |
        | other       | bosom   | discs | rubber   | 20    | 152         | 60       | 1.3     |
        | rig         | bosom   | discs | rubber   | 20    | 152         | 60       |         |
        """
    )
    (said,) = part_sentences({"parts": parts[1:]})
    assert "weighed on a like part; keeps" in said


def test_the_parts_of_the_page_have_their_masses_in_every_way_there_is() -> None:
    names, rows = rows_of(PARTS_TEXT)
    head = f"| rig_version | {' | '.join(names[:-1])} |"
    ways = {parts_of(f"{head}\n| rig | {' | '.join(row[:-1])} |")[0]["mass_from"] for row in rows}
    assert ways - {None} == set(MASS_WORDS) - {"weighed elsewhere"}


def test_every_change_that_the_tables_can_tell_has_words() -> None:
    of_parts = set(RIG_PARTS.column_names) - set(RIG_PARTS.key)
    names = {"rig_version", "rig", "changed_from", "what_changed"}
    assert set(CHANGE_WORDS) == of_parts | set(RIG_VERSIONS.column_names) - names


def test_every_kind_of_gear_and_every_section_has_a_name() -> None:
    assert tuple(GROUND_GEAR_NAMES) == GROUND_GEARS
    assert tuple(SECTION_NAMES) == (*SECTIONS, WHOLE)


def test_what_is_counted_is_said() -> None:
    parts = parts_of(LIKE.format(bunt="", line="fishing line"))
    assert counted({"parts": parts}) == (
        "Counted: the parts recorded, on: fishing line and ground gear."
    )
    unnamed = parts_of(LIKE.format(bunt="", line=""))
    assert "ground gear and no line named." in counted({"parts": unnamed})
    assert counted({"parts": []}) == ""


def test_weights_hold_19_times_in_20_and_say_at_least() -> None:
    row = {
        "mass_air_kg": 1240.4,
        "weight_water_kg": 453.9,
        "weight_sd_kg": 24.1,
        "weight_water_kg_per_m": 13.31,
        "at_least": False,
    }
    # 1.96 × 24.1 = 47.2
    assert (in_air(row), in_water(row), a_metre(row)) == ("1,240", "454 ± 47", "13")
    short = row | {"at_least": True}
    assert (in_air(short), in_water(short), a_metre(short)) == (
        "at least 1,240",
        "at least 454 ± 47",
        "at least 13",
    )
    light = row | {"weight_water_kg": 7.2, "weight_sd_kg": 1.4, "weight_water_kg_per_m": None}
    assert (in_water(light), a_metre(light)) == ("7.2 ± 2.7", "")
    sure = row | {"weight_water_kg": 17.2, "weight_sd_kg": 0.1}
    assert in_water(sure) == "17 ± 1"

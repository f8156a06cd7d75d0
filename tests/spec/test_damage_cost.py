"""What damage costs is what is written in `two_parts.md` and `mending_adds_up.md`."""

from __future__ import annotations

import json
import re
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

import polars as pl
import pytest
from polars.testing import assert_frame_equal

from pipeline.damage.cumulative import find_cumulative_mending
from pipeline.damage.part_ratios import find_part_ratios
from pipeline.damage.two_parts import find_two_parts
from pipeline.damage.written import find_written
from pipeline.joining.database import Database
from pipeline.rates.effects import find_effects
from pipeline.rates.rate_table import rate_table
from reports.charts import in_page
from reports.damage_cost.adding_up import at_hours, step_at
from reports.damage_cost.amounts import figure
from reports.damage_cost.chart import adding_up_chart
from reports.damage_cost.section import damage_cost
from reports.marks import marks
from reports.pictures import DRAWN_HERE
from schemas.outcomes import OUTCOMES
from tests.contracts.contract_files import Case, cases_in
from tests.spec.text_tables import table_from

if TYPE_CHECKING:
    from reports.parts import Section

HERE = Path(__file__).parent
TWO_PARTS = cases_in(HERE / "two_parts.md")
UNSAID = ("bottom_living_kg", "other_kg", "value", "mending_cost")
"""Outcomes that the seasons here do not have, unless they say so."""
PATTERN = ["rig_version", "ground"]
Findings = dict[str, Any]


def summed(hauls: pl.DataFrame) -> tuple[pl.DataFrame, pl.DataFrame]:
    """The sums and the sums of damaged hauls, by the season's own SQL."""
    unsaid = [name for name in UNSAID if name not in hauls.columns]
    hauls = hauls.with_columns(pl.lit(None, pl.Float64).alias(name) for name in unsaid)
    patterns = hauls.select(PATTERN).unique().sort(PATTERN).with_row_index("pattern")
    with Database() as database:
        database.put("measured_hauls", hauls)
        database.put("haul_species", table_from("| row: count | species | kg: number |"))
        database.put("haul_patterns", hauls.join(patterns, on=PATTERN).select("row", "pattern"))
        for name in ("boat_records", "told_amounts", "stand_ins", "haul_outcomes"):
            database.make(name)
        known = patterns.with_columns(stretch=pl.lit("2031-1"))
        sums, damage_sums = (
            database.make(name)
            .with_columns(pl.col("pattern").cast(pl.UInt32))
            .join(known, on="pattern")
            for name in ("sums", "damage_sums")
        )
    return sums, damage_sums


@pytest.mark.parametrize("case", TWO_PARTS, ids=lambda case: case.promise)
def test_the_two_parts_are_those_that_are_written(case: Case) -> None:
    tables = case.tables()
    worth = tables["hour_worth"].item() if "hour_worth" in tables else None
    found = find_two_parts(*summed(tables["measured_hauls"]), "trip", worth)
    promised = table_from(case.then)
    parts = {"tears": "often", "each": "each", "both": "both"}
    rows = pl.DataFrame(
        [
            {
                **asdict(row),
                **{name: getattr(row, part).value for name, part in parts.items()},
                "components": " + ".join(row.components),
            }
            for row in found
        ],
        infer_schema_length=None,
    ).filter(pl.col(name).is_in(promised[name].implode()) for name in ("amount", "ground"))
    assert_frame_equal(rows.select(promised.columns), promised, check_dtypes=False)


def season(rigs: dict[str, float], *, trips: int = 12) -> pl.DataFrame:
    """Trips of five hauls with each rig in turn; so many hours go into mending each fifth haul."""
    rows = [
        {
            "row": 0,
            "vessel": ("Skua", "Tern")[trip % 2],
            "trip": f"{trip}",
            "rig_version": rig,
            "ground": ("mud", "stones")[haul % 2],
            "tow_hours": 4.0,
            "damage_events": int(haul == 3 and hours > 0),
            "mending_hours": hours * (1 + (trip + at) % 3) / 2 if haul == 3 else 0.0,
            "hours_lost": hours / 2 if haul == 3 else 0.0,
            "debris_kg": 10.0 * haul,
        }
        for trip in range(trips)
        for at, (rig, hours) in enumerate(rigs.items())
        for haul in range(5)
    ]
    return pl.DataFrame(rows).with_columns(
        row=pl.int_range(1, pl.len() + 1), hours_lost=pl.col("hours_lost").cast(pl.Float64)
    )


def findings_of(hauls: pl.DataFrame, hour_worth: float | None = None) -> Findings:
    """What the section reads, as it comes back from `findings.json`."""
    sums, damage_sums = summed(hauls)
    rigs = hauls["rig_version"].unique().sort().to_list()
    life = ["rig_version", "vessel"]
    watched = hauls.with_columns(
        hours_to=pl.col("tow_hours").cum_sum().over(life), damaged=pl.col("damage_events") > 0
    ).with_columns(
        hours_from=pl.col("hours_to").shift(1, fill_value=0.0).over(life),
        life_hours=pl.col("hours_to").max().over(life),
    )
    recorded = set(sums["outcome"].to_list())
    unsaid = [name for name in ("mending_cost", "hands") if name not in hauls.columns]
    torn = hauls.with_columns(pl.lit(None, pl.Float64).alias(name) for name in unsaid)
    found = {
        "season": {"reference_rig": rigs[0], "currency": "EUR", "grounds": ["mud", "stones"]},
        "rigs": [{"rig_version": rig} for rig in rigs],
        "rates": rate_table(sums, "trip").to_dicts(),
        "outcomes": [asdict(each) for each in OUTCOMES if each.name in recorded],
        "effects": [
            asdict(each) for each in find_effects(sums, hauls, rigs[0], ("ground",), "trip")
        ],
        "money": {"terms": {"hour_lost": hour_worth}},
        "costs": {
            "parts": [
                asdict(each) for each in find_two_parts(sums, damage_sums, "trip", hour_worth)
            ],
            "written": [asdict(each) for each in find_written(torn, damage_sums)],
            "ratios": [
                asdict(each)
                for each in find_part_ratios(sums, damage_sums, hauls, rigs[0], ("ground",))
            ],
        },
        "cumulative_mending": [asdict(each) for each in find_cumulative_mending(watched, MOMENTS)],
    }
    return json.loads(json.dumps(found))


MOMENTS = table_from(
    """
    | vessel | rig_version | moment: moment   | kind    | hours: number | changed_to |
    | Skua   | bobbins-14  | 2031-03-01 00:00 | evened  | 40            |            |
    | Tern   | bobbins-14  | 2031-03-02 00:00 | checked | 60            |            |
    | Skua   | bobbins-14  | 2031-04-01 00:00 | changed | 100           | rubber-10  |
    """
)


def section_of(found: Findings) -> Section:
    section = damage_cost(found)
    assert section is not None
    for table in (*section.tables, *(each.table for each in section.figures)):
        assert all(len(row) == len(table.headers) for row in table.rows)
        assert table.rows
    return section


def test_like_for_like_comes_first_then_the_reference_as_recorded() -> None:
    section = section_of(findings_of(season({"bobbins-14": 4.0, "rubber-10": 1.0})))
    alike, recorded, rests = section.paragraphs
    assert alike.startswith("Like for like, each judged by itself: rubber-10 cost 75 % less mendi")
    assert (
        " A single tear, like for like, each judged by itself: with rubber-10 it took 75 " in alike
    )
    # Twelve trips of 20 hours, a tear in each, of 2, 4 or 6 hours.
    assert recorded.startswith(
        "As recorded on all grounds, with bobbins-14: 5.0 tears per 100 hours towed (between 2.6 "
        "and 8.7). A tear took 4.0 hours of mending (between "
    )
    assert " and 2.0 hours of fishing lost (" in recorded
    assert " That came to 20 hours of mending per 100 hours towed (between " in recorded
    assert rests == (
        "Of 24 tears it is written what they took: mending of all, by every boat; hours lost of "
        "all, by every boat."
    )
    (by_rig,) = section.tables
    assert by_rig.headers[1] == "mending like for like, times bobbins-14's"
    assert by_rig.rows[1][0] == "rubber-10"
    assert by_rig.rows[1][1].startswith("0.25 (")
    assert by_rig.headers[-1] == "mending per 100 h, hours"
    # Four hauls of five had stones and mud, of 10 to 40 kg: 100 kg in 20 hours.
    numbers = section.figures[1].table
    assert numbers.headers[-1] == "stones and mud per 100 h, kg"
    assert numbers.rows[0][1:3] == ["bobbins-14", "240"]
    assert numbers.rows[0][-1].startswith("500")


def test_no_words_rank_rigs_as_they_were_recorded() -> None:
    section = section_of(findings_of(season({f"rig-{at}": float(at) for at in range(8)})))
    said = " ".join([*section.paragraphs, *(each.title for each in section.figures)])
    assert not {"dearest", "cheapest", "most", "least"} & set(said.replace(",", "").split())
    assert section.figures[0].title == "How mending adds up"


def test_rigs_that_could_not_be_compared_are_not_said_to_be_alike() -> None:
    section = section_of(findings_of(season({"bobbins-14": 4.0, "rubber-10": 1.0}, trips=2)))
    assert section.paragraphs[0].startswith(
        "No rig's mending per hour towed could be held to bobbins-14's."
    )


def test_a_season_of_one_rig_is_held_against_nothing() -> None:
    section = section_of(findings_of(season({"bobbins-14": 4.0})))
    assert len(section.paragraphs) == 2
    assert section.paragraphs[0].startswith("As recorded on all grounds, with bobbins-14: 5.0 te")
    assert section.figures[0].title == "How mending adds up on bobbins-14"


def test_a_rig_without_a_tear_has_an_upper_limit_and_a_cost_that_is_not_known() -> None:
    rigs = {f"rig-{number}": float(number) for number in range(8)}
    found = findings_of(season(rigs))
    section = section_of(found)
    assert (
        "No tear is recorded with rig-0 in 240 hours towed (up to 1.5 per 100 hours can't be ruled "
        "out): what one takes is not known."
    ) in section.paragraphs
    assert len(section.tables[0].rows) == 8
    assert section.tables[0].rows[0] == ["rig-0", "0 (0–1.5)", *["not known"] * 3]
    spec = adding_up_chart(found, marks(list(rigs), "rig-0"))
    assert spec is not None
    picture = in_page(DRAWN_HERE.chart(spec)(), "trial")
    assert all(f'aria-label="{rig}: ' in picture for rig in rigs)
    written = re.findall(r"<text[^>]*>([^<]*)</text>", picture)
    assert "hours fished" in written
    assert any(text.startswith("Mean hours mended on a boat") for text in written)


def test_the_key_in_the_picture_names_what_is_drawn_and_nothing_else() -> None:
    rigs = {"bobbins-14": 4.0, "rubber-10": 2.0}
    found = findings_of(season(rigs))
    marked = marks(list(rigs), "bobbins-14")
    of_rig = found["cumulative_mending"][0]
    moment = {"vessel": "Skua", "moment": "1 May 2031", "hours": 5.0, "changed_to": None}
    of_rig["moments"] = [moment | {"kind": "evened"}]
    spec = adding_up_chart(found, marked)
    assert spec is not None
    said = " ".join(spec["title"]["subtitle"])
    assert "hollow dot below: made length for length" in said
    assert "full dot" not in said
    assert "dashed" not in said


def test_a_season_without_a_tear_says_so_and_draws_nothing() -> None:
    found = findings_of(season({"bobbins-14": 0.0, "rubber-10": 0.0}))
    section = section_of(found)
    assert [each.kind for each in section.figures] == ["numbers"]
    assert adding_up_chart(found, marks(["bobbins-14", "rubber-10"], "bobbins-14")) is None
    assert section.paragraphs == ["No tear is recorded in 480 hours towed: there was no cost."]


def test_tears_of_which_nobody_wrote_the_cost_are_not_tears_without_any() -> None:
    unwritten = pl.when(pl.col("damage_events") > 0).then(None)
    hauls = season({"bobbins-14": 4.0}).with_columns(
        unwritten.otherwise(name).alias(name) for name in ("mending_hours", "hours_lost")
    )
    section = section_of(findings_of(hauls))
    assert section.paragraphs == ["Of 12 tears nobody wrote what they took, in hours or in money."]


def test_a_season_that_recorded_neither_has_no_section() -> None:
    assert damage_cost({"costs": {"parts": [], "ratios": []}, "cumulative_mending": []}) is None


def in_money(hauls: pl.DataFrame) -> pl.DataFrame:
    return hauls.with_columns(mending_cost=pl.col("mending_hours") * 35)


def test_the_cost_of_damage_is_told_in_the_season_s_currency_with_an_hour_s_worth() -> None:
    found = findings_of(in_money(season({"bobbins-14": 4.0, "rubber-10": 1.0})), 100.0)
    section = section_of(found)
    # A tear takes 4 hours at 35 and loses 2 at 100; five of them in 100 hours.
    assert " That came to 1,700 EUR for mending and hours lost per 100 h" in section.paragraphs[1]
    assert section.paragraphs[1].endswith("with an hour lost at 100 EUR.")
    assert "How many hands mended is written of none" in section.paragraphs[-1]
    assert section.tables[0].headers[-1] == "cost of damage per 100 h, EUR"
    assert section.tables[0].rows[0][-1].startswith("1,700 (")
    found["season"]["currency"] = ""
    unnamed = section_of(found)
    assert " That came to 1,700 for mending and hours lost per 100 h" in unnamed.paragraphs[1]
    assert unnamed.tables[0].headers[-1] == "cost of damage per 100 h, money"


def test_where_nobody_wrote_hours_lost_the_cost_is_called_that_of_mending_only() -> None:
    hauls = season({"bobbins-14": 4.0, "rubber-10": 1.0}).with_columns(
        hours_lost=pl.when((pl.col("rig_version") == "bobbins-14") & (pl.col("damage_events") > 0))
        .then(None)
        .otherwise("hours_lost")
    )
    section = section_of(findings_of(in_money(hauls), 100.0))
    assert " That came to 700 EUR (mending only) per 100 hours towed (" in section.paragraphs[1]
    assert "an hour lost" not in section.paragraphs[1]
    assert [row[-1].endswith(", mending only") for row in section.tables[0].rows] == [True, False]


def test_the_demonstration_s_cost_of_damage_is_the_sum_of_its_parts(demo: Path) -> None:
    found = json.loads((demo / "report" / "findings.json").read_text(encoding="utf-8"))
    worth = found["money"]["terms"]["hour_lost"]
    rows = {(row["amount"], row["ground"], row["rig"]): row for row in found["costs"]["parts"]}
    held = 0
    for (amount, *at), cost in rows.items():
        if amount != "damage_cost" or not cost["told"]:
            continue
        per = {"mending_cost": 1.0, "hours_lost": worth}
        parts = {name: rows[name, *at] for name in per if rows[name, *at]["told"]}
        assert list(parts) == cost["components"]
        for part in ("each", "both"):
            total = sum(per[name] * row[part]["value"] for name, row in parts.items())
            assert cost[part]["value"] == pytest.approx(total, rel=1e-12)
        held += len(parts) == len(per)
    assert held >= 10


def test_the_chart_s_figures_and_moments_are_those_of_the_table() -> None:
    found = findings_of(season({"bobbins-14": 4.0, "rubber-10": 1.0}))
    (bobbins, _) = found["cumulative_mending"]
    assert [life["hours"] for life in bobbins["lives"]] == [120, 120]
    assert at_hours(bobbins) == [20, 40, 60, 80, 100, 120]
    adding = section_of(found).figures[0]
    rows = [row for row in adding.table.rows if row[0] == "bobbins-14"]
    assert [row[3] for row in rows] == [
        figure(step_at(bobbins, h)["mean"]) for h in range(20, 121, 20)
    ]
    assert [row[-1] for row in rows] == [
        "0",
        "1 (1)",
        "2 (1)",
        "2 (1)",
        "2 (1), changed",
        "2 (1), changed",
    ]
    spec = adding_up_chart(found, marks(["bobbins-14", "rubber-10"], "bobbins-14"))
    assert spec is not None
    said = {row["says"] for row in spec["datasets"]["rows"] if "says" in row}
    assert "bobbins-14: Skua, 2031-04-01, changed to rubber-10, after 100 hours fished" in said
    assert "bobbins-14: Skua, 2031-03-01, made length for length, after 40 hours fished" in said


def test_tears_that_nobody_wrote_up_are_said() -> None:
    hauls = season({"bobbins-14": 4.0, "rubber-10": 1.0}).with_columns(
        mending_hours=pl.when((pl.col("trip") == "3") & (pl.col("damage_events") > 0))
        .then(None)
        .otherwise("mending_hours")
    )
    section = section_of(findings_of(hauls))
    assert section.paragraphs[-1].startswith(
        "Of 24 tears it is written what they took: mending of 22, by every boat; hours lost of all,"
    )
    assert (
        " is taken to be like the others with that rig, not to have cost nothing"
        in (section.paragraphs[-1])
    )
    assert "2 tears without mending hours took the mean" in section.figures[0].caption


def test_a_boat_that_seldom_wrote_it_is_not_among_those_that_did() -> None:
    hauls = season({"bobbins-14": 4.0}).with_columns(
        hours_lost=pl.when((pl.col("vessel") == "Tern") & (pl.col("damage_events") > 0))
        .then(None)
        .otherwise("hours_lost")
    )
    section = section_of(findings_of(hauls))
    assert "; hours lost of 6, by Skua alone. A tear of which" in section.paragraphs[-1]

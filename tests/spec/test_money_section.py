"""The section "What would pay" says what `money.md` has, and what is missing where it is."""

from __future__ import annotations

import re
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

import polars as pl
import pytest

from pipeline.damage.break_even import hours_to_earn_back, money_verdict
from pipeline.damage.money import MoneyRecord, find_money
from pipeline.damage.money_figures import COST, VALUE, MoneyTerms
from reports.charts import in_page
from reports.marks import marks
from reports.money.charts import money_chart
from reports.money.in_view import off_the_edge, reach
from reports.money.left_out import NO_COST, left_out, no_cost
from reports.money.section import (
    NO_VALUE,
    NOT_IN_IT,
    NOT_WHY,
    ROUNDED,
    WITHOUT_PRICE,
    what_would_pay,
)
from reports.money.sentences import of_rig, stood_for, too_few_on_grounds
from reports.pictures import DRAWN_HERE
from reports.plain_words import ADVICE_CAUTION
from tests.spec.test_money import cases_of

if TYPE_CHECKING:
    from reports.parts import Section

Row = dict[str, Any]
FIGURE = re.compile(r"(\S+)(?: from (\S+) to (\S+))?")
SENTENCES = cases_of("Sentences")
TERMS = MoneyTerms(35.0, 230.0, "catch", ["mending_cost", "hours_lost"])
FOUL = {"foul_hauls": 61, "foul_without_record": 8}
ONE_TEAR = 90.0


def figure(cell: str, unit: float = 1.0) -> Row | None:
    if not cell:
        return None
    found = FIGURE.fullmatch(cell)
    assert found
    ends = [None if part is None else float(part) * unit for part in found.groups()]
    return dict(zip(("estimate", "low", "high"), ends, strict=True))


def per_hour(value: float, cost: float) -> Row:
    return {"value": {"estimate": value}, "cost": {"estimate": cost}}


def row_of(case: dict[str, str]) -> Row:
    cautions = [word for word in case["cautions"].split("; ") if word]
    change = figure(case["came out"])
    assert change
    told = "seen in few hauls" not in cautions
    verdict = money_verdict(change["low"], change["high"], can_tell=told)
    return {
        "rig": "discs",
        "reference": "bobbins",
        "part": case["part"] or "whole record",
        "of_rig": per_hour(200.0 + float(case["fish"]), 50.0 + float(case["damage"])),
        "of_reference": per_hour(200.0, 50.0),
        "break_even": figure(case["may lose"], 0.01),
        "net_change": change,
        "hours_to_earn_back": hours_to_earn_back(1000, change["estimate"]),
        "verdict": verdict,
        "cautions": cautions,
    }


@pytest.mark.parametrize("case", SENTENCES, ids=lambda case: case["case"])
def test_what_is_said_of_a_rig(case: dict[str, str]) -> None:
    assert of_rig(row_of(case), "EUR") == case["says"]


QUARTERS = {
    "bobbins": ("Q1", "Q2"),
    "discs": ("Q1", "Q2"),
    "late": ("Q2", "Q3"),
    "new": ("Q1",),
    "once": ("Q4",),
}
DAMAGE = {"bobbins": 81.0, "discs": 41.0, "late": 41.0, "new": 81.0, "once": 1.0}


def season(*known: str, currency: str = "EUR") -> Row:
    """The findings of a season on two grounds: discs pay; late met bobbins in one quarter only.

    Hours of the quarters are such that bobbins and late were apart for more than half of theirs.
    """
    rows = [
        {
            "vessel": "Skua",
            "trip": f"{rig} {quarter} {trip}",
            "rig_version": rig,
            "ground": ground,
            "stretch": f"2031 {quarter}",
            "hauls": 30,
            "hauls_with_some": 5,
            "tow_hours": (hours := 60.0 if quarter == "Q2" else 90.0),
            VALUE: 400.0 * (1 + swing) * hours,
            COST: DAMAGE[rig] * (1 - swing) * hours,
        }
        for rig, quarters in QUARTERS.items()
        for quarter in quarters
        for trip, swing in enumerate([-0.1, 0.0, 0.1] * (1 if rig == "new" else 4))
        for ground in ("sand", "stones")
    ]
    hauls = pl.DataFrame(rows)
    landed = hauls.with_columns(total=pl.col(VALUE)).filter(VALUE in known)
    tears = hauls.with_columns(total=pl.col(COST) / ONE_TEAR)
    amounts = hauls.with_columns(
        outcome=pl.lit("mending_cost"), events=pl.col(COST) / ONE_TEAR, total=pl.col(COST)
    ).filter(COST in known)
    grounds = pl.DataFrame({"ground": ["sand", "stones"]})
    fished = pl.DataFrame({"rig_version": list(QUARTERS)}).join(grounds, how="cross")
    found = find_money(MoneyRecord(landed, tears, amounts, None), fished, "bobbins", ["ground"])
    return {
        "season": {
            "reference_rig": "bobbins",
            "currency": currency,
            "grounds": ["sand", "stones"],
            "adjusted_for": ["ground"],
        },
        "rigs": [{"rig_version": rig} for rig in QUARTERS],
        "money": {"terms": asdict(TERMS) | FOUL, "rigs": [asdict(money) for money in found]},
        "costs": {"written": []},
        "rates": [],
        "unpriced_species": [],
        "missing_tables": [] if VALUE in known else ["prices"],
    }


def section(findings: Row) -> Section:
    made = what_would_pay(findings)
    assert made is not None
    return made


def test_the_season_in_full() -> None:
    findings = season(VALUE, COST)
    made = section(findings)
    first, late, by_ground, thin, apart = made.paragraphs
    assert first.startswith(
        "An hour with discs went with neither more nor less fish and 40 EUR less damage than with "
        "bobbins: 40 EUR ahead (between "
    )
    assert "It came out ahead of bobbins. It pays unless it loses more than 10 % of " in first
    assert late.startswith("In 2031 Q2 an hour with late went with ")
    assert by_ground.startswith("On sand an hour with discs was 40 EUR ahead (between ")
    assert "Of 6 such comparisons by ground" in by_ground
    assert thin.startswith("Whether new would pay can't be told: fewer than ten trips")
    assert apart == "No figure for once: not side by side."
    assert made.figures[0].title == "discs came out ahead of bobbins by 40 EUR an hour"
    left, table = made.tables
    assert left.rows[:2] == [
        ["discs", "400", "41", "359", "100 %"],
        ["bobbins beside it", "400", "81", "319", ""],
    ]
    assert [row[0] for row in table.rows] == [
        "discs on sand",
        "late, 2031 Q2 on sand",
        "new on sand",
        "discs on stones",
        "late, 2031 Q2 on stones",
        "new on stones",
    ]
    assert all(len(row) == len(table.headers) for row in table.rows)
    assert {f"{NOT_IN_IT} {ROUNDED}", f"{NOT_WHY} {ADVICE_CAUTION}"} <= set(made.points)
    assert (
        "An hour lost is reckoned at 230 EUR, what the season's catch was worth per hour towed. "
        "An hour of mending is reckoned at 35 EUR a hand, as season.toml says, where the repair's "
        "own cost was not written down."
    ) in made.points
    assert (
        "Foul tows, 61 in all, count with what they brought. Foul tows without a catch record, 8 "
        "in all, are not in it: write a row of nought where a tow brought nothing."
    ) in made.points


def told_on(ground: str, rig: str, low: float | None, high: float | None) -> Row:
    return {
        "ground": ground,
        "rig": rig,
        "net_change": {"estimate": 1.0, "low": low, "high": high},
        "of_reference": per_hour(200.0, 50.0),
    }


def test_a_ground_of_which_nothing_is_known_is_said_in_a_line() -> None:
    rows = [
        told_on("sand", "discs", -99.0, 100.0),
        told_on("sand", "late", -100.0, 100.0),
        told_on("stones", "discs", None, None),
        told_on("stones", "late", -900.0, 100.0),
    ]
    assert (
        too_few_on_grounds(rows) == "Too few to tell on sand (late) and on stones (discs and late)."
    )
    assert too_few_on_grounds(rows[:1]) == ""


def test_rigs_of_which_others_tears_speak_are_named_once() -> None:
    rows = [{"by_all_rigs": ["late", "bobbins"]}, {"by_all_rigs": ["bobbins"]}]
    assert stood_for(rows) == (
        "Of bobbins and late fewer than five tears have all of their cost written: what a tear of "
        "any rig cost on average stands for it."
    )
    assert stood_for([{"by_all_rigs": []}]) == ""


def test_the_part_of_the_record_tells_late_as_the_whole_tells_discs() -> None:
    rows = {
        row["rig"]: row for row in season(VALUE, COST)["money"]["rigs"] if row["ground"] == "all"
    }
    assert rows["late"]["net_change"]["estimate"] == pytest.approx(40.0, abs=1e-6)
    assert (rows["discs"]["part"], rows["late"]["part"]) == ("whole record", "2031 Q2")
    assert rows["late"]["reference_hours"] == pytest.approx(12 * 2 * 60)
    assert rows["discs"]["reference_hours"] == pytest.approx(12 * 2 * (60 + 90))


def test_the_chart_has_a_line_at_nought_and_a_mark_for_each_rig() -> None:
    findings = season(VALUE, COST)
    spec = money_chart(findings, marks(list(QUARTERS), "bobbins"))
    assert spec is not None
    picture = in_page(DRAWN_HERE.chart(spec)(), "net-change")
    assert 'stroke-dasharray="4,3"' in picture
    assert 'aria-label="discs: 40 EUR ahead (between ' in picture
    assert 'aria-label="late: 40 EUR ahead (between ' in picture
    assert "EUR per hour towed, against bobbins" in picture


def in_chart(cell: str) -> list[Row]:
    """Rigs as the table of axes has them: hop -29 from -51 to -12; ring 400."""
    rows = []
    for rig, _, told in (each.partition(" ") for each in cell.split("; ")):
        change = figure(told)
        assert change
        verdict = money_verdict(change["low"], change["high"], can_tell=True)
        rows.append(
            {
                "rig": rig,
                "ground": "all",
                "net_change": change,
                "verdict": verdict,
                "of_reference": per_hour(200.0, 50.0),
            }
        )
    return rows


@pytest.mark.parametrize("case", cases_of("Axes"), ids=lambda case: case["case"])
def test_the_axis_is_set_by_rigs_that_are_known_well(case: dict[str, str]) -> None:
    rows = in_chart(case["rigs"])
    assert reach(rows) == pytest.approx(float(case["reaches"]))
    assert off_the_edge(rows) == case["says"]
    findings = {
        "season": {"currency": "EUR", "reference_rig": "bobbins"},
        "money": {"rigs": rows},
    }
    spec = money_chart(findings, marks(["bobbins", *(row["rig"] for row in rows)], "bobbins"))
    assert spec is not None
    picture = in_page(DRAWN_HERE.chart(spec)(), "net-change")
    changes = [row["net_change"] for row in rows]
    in_view = [change for change in changes if abs(change["estimate"]) <= reach(rows)]
    assert picture.count('aria-roledescription="point"') == len(in_view)
    with_bars = [change for change in changes if change["low"] is not None]
    assert picture.count('aria-roledescription="rule mark"') == len(with_bars)


def test_without_prices_what_damage_costs_is_still_told() -> None:
    made = section(season(COST))
    assert made.paragraphs == [NO_VALUE["prices"]]
    (table,) = made.tables
    assert table.caption == "What damage costs per hour towed, in EUR"
    assert table.rows[0][0] == "discs"
    assert table.rows[0][1].startswith("+40 (")
    assert table.rows[0][2] == "41 / 81"
    assert made.figures == []
    assert money_chart(season(COST), marks(list(QUARTERS), "bobbins")) is None


def test_without_costs_what_was_caught_is_still_told() -> None:
    made = section(season(VALUE))
    assert made.paragraphs == [NO_COST]
    (table,) = made.tables
    assert table.caption == "Catch value per hour towed, in EUR"
    assert table.rows[0][2] == "400 / 400"


def test_without_either_it_says_what_to_keep() -> None:
    made = section(season())
    assert made.paragraphs == [NO_VALUE["prices"], NO_COST]
    assert (made.tables, made.figures, made.points) == ([], [], [])


def test_what_money_is_held_alike_in_is_what_its_models_are_adjusted_for() -> None:
    findings = season(VALUE, COST)
    findings["season"]["adjusted_for"] = ["ground", "vessel"]
    for row in findings["money"]["rigs"]:
        row["adjusted_for"] = ["ground"]
    assert any("like for like in ground, as far" in words for words in section(findings).points)


def test_one_rig_alone_has_no_section() -> None:
    findings = season(VALUE, COST) | {"rigs": [{"rig_version": "bobbins"}]}
    assert what_would_pay(findings) is None


def test_a_season_that_names_no_currency_says_bare_numbers() -> None:
    made = section(season(VALUE, COST, currency=""))
    assert ": 40 ahead (between " in made.paragraphs[0]
    assert "each 1,000 of what it costs" in made.paragraphs[0]
    assert made.tables[0].caption.startswith("What an hour brought, cost and left, where")
    assert made.tables[1].caption.endswith("per hour towed")


def test_what_an_hour_is_reckoned_at_is_said_as_it_was_set() -> None:
    findings = season(VALUE, COST)
    findings["money"]["terms"] |= asdict(MoneyTerms(None, 180.0, "setting", ["hours_lost"]))
    assert (
        "An hour lost is reckoned at 180 EUR, as season.toml says. Mending counts only where the "
        "repair's own cost was written down. What mending costs is left out, as nobody wrote it."
    ) in section(findings).points


def written(amount: str, cell: str) -> list[Row]:
    """Boats of which so many of so many tears have the amount: 3 of 10, 0 of 4."""
    boats = [boat.split(" of ") for boat in cell.split(", ") if boat]
    return [{"amount": amount, "told": int(told), "tears": int(tears)} for told, tears in boats]


@pytest.mark.parametrize("case", cases_of("Left out"), ids=lambda case: case["case"])
def test_why_a_part_of_the_cost_is_left_out_is_said_truly(case: dict[str, str]) -> None:
    parts = [part for part in case["parts known"].split(", ") if part]
    worth = float(case["hour worth"]) if case["hour worth"] else None
    costs = [
        *written("mending_cost", case["mending of tears"]),
        *written("mending_hours", case["mending hours of tears"]),
        *written("hours_lost", case["hours lost of tears"]),
    ]
    terms = asdict(MoneyTerms(None, worth, None if worth is None else "setting", parts))
    findings = {"money": {"terms": terms}, "costs": {"written": costs}}
    assert " ".join(left_out(findings)) == case["says"]


def test_costs_of_which_too_few_were_written_are_not_asked_for_as_if_none_were() -> None:
    findings = season(VALUE)
    findings["money"]["terms"] |= asdict(MoneyTerms(20.0, None, None, []))
    findings["costs"]["written"] = written("mending_cost", "13 of 30")
    assert section(findings).paragraphs[0] == no_cost(findings)
    assert "known of 13 of 30 tears" in no_cost(findings)
    assert "[costs] mending_hour" not in no_cost(findings)


def test_a_species_without_a_price_is_named_beside_the_money() -> None:
    findings = season(VALUE, COST) | {"unpriced_species": ["HAD"]}
    named = "No price is known of HAD: in the value of the catch they count as nothing."
    assert f"{named} {WITHOUT_PRICE}" in section(findings).paragraphs
    worthless = season(COST) | {"unpriced_species": ["HAD"]}
    assert not any("HAD" in words for words in section(worthless).paragraphs)

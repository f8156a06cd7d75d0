"""The section "What would pay" says what `money.md` has, and what is missing where it is."""

from __future__ import annotations

import re
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

import polars as pl
import pytest

from pipeline.damage.break_even import hours_to_earn_back, money_verdict
from pipeline.damage.money import find_money
from pipeline.damage.money_figures import COST, VALUE, MoneyTerms
from reports.charts import still_picture
from reports.marks import marks
from reports.money.charts import money_chart
from reports.money.section import NO_COST, NO_VALUE, NOT_IN_IT, NOT_WHY, what_would_pay
from reports.money.sentences import of_rig
from tests.spec.test_money import cases_of

if TYPE_CHECKING:
    from reports.parts import Section

Row = dict[str, Any]
FIGURE = re.compile(r"(\S+)(?: from (\S+) to (\S+))?")
SENTENCES = cases_of("Sentences")
TERMS = MoneyTerms(mending_hour=35.0, hour_lost=230.0, hour_lost_from="catch")


def figure(cell: str, unit: float = 1.0) -> Row | None:
    if not cell:
        return None
    found = FIGURE.fullmatch(cell)
    assert found
    ends = [None if part is None else float(part) * unit for part in found.groups()]
    return dict(zip(("estimate", "low", "high"), ends, strict=True))


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
        "break_even": figure(case["may lose"], 0.01),
        "catch_change": figure(case["caught"], 0.01),
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


def season(*outcomes: str, currency: str = "EUR") -> Row:
    """The findings of a season on two grounds: discs pay; late met bobbins in one quarter only.

    Hours of the quarters are such that bobbins and late were apart for more than half of theirs.
    """
    rows = [
        {
            "outcome": name,
            "trip": f"{rig} {quarter} {trip}",
            "rig_version": rig,
            "ground": ground,
            "stretch": f"2031 {quarter}",
            "tow_hours": 60.0 if quarter == "Q2" else 90.0,
            "total": (400.0 * (1 + swing) if name == VALUE else DAMAGE[rig] * (1 - swing))
            * (60.0 if quarter == "Q2" else 90.0),
        }
        for name in outcomes
        for rig, quarters in QUARTERS.items()
        for quarter in quarters
        for trip, swing in enumerate([-0.1, 0.0, 0.1] * (1 if rig == "new" else 4))
        for ground in ("sand", "stones")
    ]
    sums = pl.DataFrame(rows or [{"outcome": "none"}], strict=False)
    if rows:
        sums = sums.with_columns(vessel=pl.lit("Skua"), hauls=pl.lit(30), hauls_with_some=pl.lit(5))
    grounds = pl.DataFrame({"ground": ["sand", "stones"]})
    fished = pl.DataFrame({"rig_version": list(QUARTERS)}).join(grounds, how="cross")
    found = find_money(sums, fished, "bobbins", ["ground"]) if rows else []
    return {
        "season": {
            "reference_rig": "bobbins",
            "currency": currency,
            "grounds": ["sand", "stones"],
            "adjusted_for": ["ground"],
        },
        "rigs": [{"rig_version": rig} for rig in QUARTERS],
        "money": {"terms": asdict(TERMS), "rigs": [asdict(money) for money in found]},
    }


def section(findings: Row) -> Section:
    made = what_would_pay(findings)
    assert made is not None
    return made


def test_the_season_in_full() -> None:
    findings = season(VALUE, COST)
    made = section(findings)
    first, late, by_ground, thin, apart = made.paragraphs
    assert first.startswith("discs pays unless it loses more than 10 % of bobbins's catch value")
    assert "It paid." in first
    assert ", from 2031 Q2, " in late
    assert by_ground.startswith("On sand discs was 40 EUR an hour ahead (between ")
    assert "Of 6 such comparisons by ground" in by_ground
    assert thin.startswith("Whether new would pay can't be told: fewer than ten trips")
    assert apart == "No figure for once: not side by side."
    assert made.figures[0].title == "discs came out ahead of bobbins by 40 EUR an hour"
    (table,) = made.tables
    assert [row[0] for row in table.rows] == [
        "discs on sand",
        "late, 2031 Q2 on sand",
        "new on sand",
        "discs on stones",
        "late, 2031 Q2 on stones",
        "new on stones",
    ]
    assert all(len(row) == len(table.headers) for row in table.rows)
    assert {NOT_IN_IT, NOT_WHY} <= set(made.points)
    assert (
        "An hour lost is reckoned at 230 EUR, what the season's catch was worth per hour towed. "
        "An hour of mending is reckoned at 35 EUR a hand, as season.toml says, where the repair's "
        "own cost was not written down."
    ) in made.points


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
    picture = still_picture(spec, "net-change")
    assert 'stroke-dasharray="4,3"' in picture
    assert 'aria-label="discs: 40 EUR an hour ahead (between ' in picture
    assert 'aria-label="late: 40 EUR an hour ahead (between ' in picture
    assert "EUR per hour towed, against bobbins" in picture


def test_without_prices_what_damage_costs_is_still_told() -> None:
    made = section(season(COST))
    assert made.paragraphs == [NO_VALUE]
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
    assert made.paragraphs == [NO_VALUE, NO_COST]
    assert (made.tables, made.figures, made.points) == ([], [], [])


def test_one_rig_alone_has_no_section() -> None:
    findings = season(VALUE, COST) | {"rigs": [{"rig_version": "bobbins"}]}
    assert what_would_pay(findings) is None


def test_a_season_that_names_no_currency_says_bare_numbers() -> None:
    made = section(season(VALUE, COST, currency=""))
    assert "so it came out 40 an hour ahead (between " in made.paragraphs[0]
    assert "each 1,000 of what it costs" in made.paragraphs[0]
    assert made.tables[0].caption.endswith("per hour towed")


def test_what_an_hour_is_reckoned_at_is_said_as_it_was_set() -> None:
    findings = season(VALUE, COST)
    findings["money"]["terms"] = asdict(MoneyTerms(None, 180.0, "setting"))
    assert (
        "An hour lost is reckoned at 180 EUR, as season.toml says. Mending counts only where the "
        "repair's own cost was written down."
    ) in section(findings).points

"""Money is reckoned and told as worked out by hand in `money.md`."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import polars as pl
import pytest

from pipeline.damage.break_even import money_verdict
from pipeline.damage.money import MoneyRecord, find_money
from tests.spec.text_tables import cases_under

if TYPE_CHECKING:
    from pipeline.damage.money_figures import Interval, Money

cases_of = partial(cases_under, "money.md")
HAULS, HOURS_A_TRIP, DAMAGED = 30, 90.0, 3
ONE_TEAR = 90.0
LANDED = "landed"
TEARS = "tears"
KINDS = {"table": pl.String, "trip": pl.String, "rig_version": pl.String}
NUMBERS = {"hauls_with_some": pl.Int64, "total": pl.Float64}


SEASONS, VERDICTS = map(cases_of, ("Seasons", "Verdicts"))


def season(case: dict[str, str]) -> Money:
    """The one finding of the season of the case."""
    rows = []
    for trip in range(int(case["trips"])):
        sign = 0.0 if trip == int(case["trips"]) - 1 and trip % 2 == 0 else (-1.0) ** trip
        swing = sign * float(case["swing"])
        for rig, prefix in (("bobbins", ""), ("discs", "rig's ")):
            caught, torn = case[f"{prefix}catch"], case[f"{prefix}damage"]
            name = f"{rig} {trip}"
            if caught:
                total = float(caught) * (1 + swing) * HOURS_A_TRIP
                rows.append((LANDED, name, rig, HAULS if total else 0, total))
            if torn:
                tears = float(torn) * (1 - swing) * HOURS_A_TRIP / ONE_TEAR
                rows.append((TEARS, name, rig, DAMAGED if tears else 0, tears))
    sums = pl.DataFrame(rows, schema=KINDS | NUMBERS, orient="row").with_columns(
        vessel=pl.lit("Skua"),
        ground=pl.lit("stones"),
        stretch=pl.lit("2031 Q1"),
        hauls=pl.lit(HAULS),
        tow_hours=pl.lit(HOURS_A_TRIP),
    )
    tears = sums.filter(pl.col("table") == TEARS)
    amounts = tears.filter(pl.col("total") > 0).with_columns(
        outcome=pl.lit("mending_cost"), events=pl.col("total"), total=pl.col("total") * ONE_TEAR
    )
    record = MoneyRecord(sums.filter(pl.col("table") == LANDED), tears, amounts, None)
    fished = pl.DataFrame({"rig_version": ["bobbins", "discs"], "ground": ["stones", "stones"]})
    found = find_money(record, fished, "bobbins", ["ground", "vessel"])
    return found[0]


def matches(figure: Interval | None, cell: str) -> bool:
    if not cell:
        return figure is None
    expected = float(cell.removesuffix(" %")) / (100 if cell.endswith("%") else 1)
    return figure is not None and figure.estimate == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("case", SEASONS, ids=lambda case: case["case"])
def test_a_season_in_money(case: dict[str, str]) -> None:
    found = season(case)
    assert matches(found.saved, case["saved"])
    assert matches(found.break_even, case["may fall by"])
    assert matches(found.net_change, case["net change"])
    assert found.verdict == case["verdict"]
    assert found.cautions == [word for word in case["cautions"].split("; ") if word]


@pytest.mark.parametrize("case", VERDICTS, ids=lambda case: f"{case['from']} to {case['to']}")
def test_what_an_interval_says(case: dict[str, str]) -> None:
    low, high = (float(case[end]) if case[end] else None for end in ("from", "to"))
    assert money_verdict(low, high, can_tell=case["can be told"] == "yes") == case["says"]

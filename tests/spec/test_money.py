"""Money is reckoned and told as worked out by hand in `money.md`."""

from __future__ import annotations

from pathlib import Path

import polars as pl
import pytest

from pipeline.damage.break_even import money_verdict
from pipeline.damage.money import find_money
from pipeline.damage.money_figures import COST, VALUE, Interval, Money
from tests.spec.text_tables import rows_of

SPEC = (Path(__file__).parent / "money.md").read_text(encoding="utf-8")
HAULS, HOURS_A_TRIP, DAMAGED = 30, 90.0, 3


def cases_of(heading: str) -> list[dict[str, str]]:
    names, rows = rows_of(SPEC.split(f"\n## {heading}\n")[1].split("\n## ")[0])
    return [dict(zip(names, row, strict=True)) for row in rows]


SEASONS, VERDICTS = map(cases_of, ("Seasons", "Verdicts"))


def season(case: dict[str, str]) -> Money:
    """The one finding of the season of the case."""
    rows = []
    for trip in range(int(case["trips"])):
        sign = 0.0 if trip == int(case["trips"]) - 1 and trip % 2 == 0 else (-1.0) ** trip
        swing = sign * float(case["swing"])
        for rig, prefix in (("bobbins", ""), ("discs", "rig's ")):
            for name, column, part in ((VALUE, "catch", 1 + swing), (COST, "damage", 1 - swing)):
                per_hour = case[f"{prefix}{column}"]
                if per_hour:
                    total = float(per_hour) * part * HOURS_A_TRIP
                    some = DAMAGED if name == COST else HAULS
                    rows.append(
                        {
                            "outcome": name,
                            "trip": f"{rig} {trip}",
                            "rig_version": rig,
                            "hauls_with_some": some if total else 0,
                            "total": total,
                        }
                    )
    sums = pl.DataFrame(rows).with_columns(
        vessel=pl.lit("Skua"),
        ground=pl.lit("stones"),
        stretch=pl.lit("2031 Q1"),
        hauls=pl.lit(HAULS),
        tow_hours=pl.lit(HOURS_A_TRIP),
    )
    fished = pl.DataFrame({"rig_version": ["bobbins", "discs"], "ground": ["stones", "stones"]})
    (found,) = find_money(sums, fished, "bobbins", ["ground", "vessel"])
    return found


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

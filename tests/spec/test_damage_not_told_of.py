"""Hauls that do not tell of damage are told of on the co-op's page, where they are of enough boats.

Rates of damage are of the hours of which it is known, and those hours stand beside them.
"""

from __future__ import annotations

from typing import Any

import polars as pl
import pytest

from pipeline.sharing.contributions import MEASURES
from pipeline.sharing.unknown_damage import unknown_damage
from reports.coop.boat_page import beside_all
from reports.coop.differences import differences
from reports.coop.sections import shared_tables
from schemas.settings import Sharing
from tests.spec.test_coops_first_screen import CASES, season

Row = dict[str, Any]
EFFECT = {
    "outcome": "damage_events",
    "ground": "all",
    "part": "whole record",
    "rig": "hop",
    "reference": "ring",
}
FOUND = {
    "records": [{"outcome": "damage_events", "hauls": 400, "recorded": 300, "set_aside": 0}],
    "notes": {
        "supposed": [
            {**EFFECT, "supposed": "least", "ratio": 0.63284},
            {**EFFECT, "supposed": "most", "ratio": 2.8912},
        ]
    },
}


def towed(*silent: float) -> pl.DataFrame:
    """What boats add, 10 hours with either rig each, so many of them of silent hauls."""
    rows = [
        {
            **dict.fromkeys(MEASURES, 1.0),
            "vessel": f"boat {boat}",
            "rig_version": rig,
            "ground": "mud",
            "tow_hours": 10.0,
            "damage_hours": 10.0 - hours,
        }
        for boat, hours in enumerate(silent)
        for rig in ("hop", "ring")
    ]
    return pl.DataFrame(rows)


@pytest.mark.parametrize(
    ("silent", "told"),
    [
        ((4, 4, 4, 0), True),
        ((4, 4, 0, 0), False),
        ((9, 1, 1, 0), False),
        ((0, 0, 0, 0), False),
    ],
)
def test_silent_hauls_are_told_of_where_they_are_of_enough_boats(
    silent: tuple[float, ...], *, told: bool
) -> None:
    found = unknown_damage(FOUND, [EFFECT], towed(*silent), Sharing())
    assert found["any"]
    assert found["hauls"] == (100 if told else None)
    bounds = {"rig": "hop", "reference": "ring", "at_least": 0.633, "at_most": 2.89}
    assert found["ratios"] == ([bounds] if told else [])


def test_only_what_is_shared_has_bounds() -> None:
    assert unknown_damage(FOUND, [], towed(4, 4, 4), Sharing())["ratios"] == []


def coop(unknown: Row) -> Row:
    findings = season(CASES[0]) | {"unknown_damage": unknown}
    findings["season"] |= {"grounds": ["mud"], "rectangles": []}
    figures = {"tow_hours": 20.0, "damage_hours": 14.0, "damage_events_per_hour": 0.05}
    findings["cells"] = [
        {"rig": rig, "ground": ground, "shown": True, **figures}
        for rig in (None, "ring", "hop")
        for ground in (None, "mud")
    ]
    for cell in findings["cells"]:
        cell["damage_events_per_hour_at_most"] = None
    return findings


def test_the_page_has_how_many_are_silent_the_hours_known_and_the_bounds() -> None:
    told = coop({"any": True, "hauls": 100, "ratios": unknown_ratios()})
    section = shared_tables(told)
    assert section is not None
    assert section.paragraphs[1] == (
        "Of 400 hauls, 100 do not tell whether the net was damaged; they are left out of the rates "
        "of damage, not counted as none. A boat that writes mostly when something happened makes "
        "the rates too high, and draws the rigs together."
    )
    hours, known, rates, *_ = section.tables
    assert (hours.rows[0][1], known.rows[0][1]) == ("20", "14")
    assert "of which it is known" in known.caption
    assert "of which it is known" in rates.caption
    for effect in told["effects"]:
        effect["raw_ratio"] = None
    assert differences(told).tables[-1].rows == [["hop", "0.50", "0.63", "2.89"]]


def unknown_ratios() -> list[Row]:
    return unknown_damage(FOUND, [EFFECT], towed(4, 4, 4), Sharing())["ratios"]


def test_of_few_boats_no_number_is_told() -> None:
    section = shared_tables(coop({"any": True, "hauls": None, "ratios": []}))
    assert section is not None
    assert section.paragraphs[1].startswith("Some hauls do not tell whether the net was damaged;")
    assert not [table for table in section.tables if table.caption.startswith("Hours towed of")]


def test_where_every_haul_tells_nothing_is_said() -> None:
    section = shared_tables(coop({"any": False, "hauls": None, "ratios": []}))
    assert section is not None
    assert len(section.paragraphs) == 1
    assert not [table for table in section.tables if "known" in table.caption]


def test_a_boats_own_page_has_its_hours_known() -> None:
    findings = coop({"any": True, "hauls": 100, "ratios": []})
    own = {"rig": "hop", "tow_hours": 122.0, "damage_hours": 79.0, "damage_events_per_hour": 0.152}
    whole = {"ground": "mud", "damage_hours": 122.0}
    findings["own"] = [{**own, "ground": None}, {**own, **whole}]
    section = beside_all(findings)
    assert section.paragraphs[1].startswith(
        "Of this boat's 122 hours, 43 are of hauls that do not tell whether the net was damaged"
    )
    assert section.tables[0].rows[0][1:3] == ["79 of 122", "15.2"]
    assert section.tables[0].rows[1][1] == "122"

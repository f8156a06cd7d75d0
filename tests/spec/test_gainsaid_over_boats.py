"""Where hauls more alike gainsay a difference, the co-op is told so, if enough boats made them."""

from __future__ import annotations

from typing import Any

import polars as pl
import pytest

from pipeline.sharing.shared_ways import shared_ways
from reports.coop.screen import cards, coop_screen
from reports.coop.words import gainsaid
from schemas.codes import OtherWay
from schemas.settings import Sharing
from tests.spec.test_coops_first_screen import CASES, DAMAGE, season

Row = dict[str, Any]
EFFECT = {"outcome": DAMAGE, "rig": "hop", "reference": "ring", "part": "whole record"}
WAYS = [
    {"way": way, "ratio": 1.07123, "low": 0.8, "high": 1.4, "verdict": "lower", "note": None}
    for way in OtherWay
]
FOUND = {"sensitivity": [{**EFFECT, "ways": WAYS, "heaviest": ["trip 3"]}]}


def hours(*boats: tuple[str, str, str]) -> pl.DataFrame:
    """Hauls of ten hours; of each boat the ground, and the trips with hop and with ring."""
    rows = [
        {"vessel": f"boat {at}", "rig_version": rig, "ground": ground, "trip": trip}
        for at, (ground, *trips) in enumerate(boats)
        for rig, of_rig in zip(("hop", "ring"), trips, strict=True)
        for trip in of_rig
    ]
    same = {"outcome": DAMAGE, "stretch": "2031", "tow_hours": 10.0}
    return pl.DataFrame([row | same for row in rows])


@pytest.mark.parametrize(
    ("boats", "ways"),
    [
        ((("mud", "12", "12"),) * 3, [OtherWay.SIDE_BY_SIDE, OtherWay.WITHIN_TRIPS]),
        ((("mud", "12", "12"),) * 2 + (("mud", "1", "2"),), [OtherWay.SIDE_BY_SIDE]),
        ((("mud", "12", "12"),) * 2, []),
    ],
)
def test_a_way_is_shared_where_enough_boats_made_its_hauls(
    boats: tuple[tuple[str, str, str], ...], ways: list[OtherWay]
) -> None:
    (told,) = shared_ways(FOUND, [EFFECT], hours(*boats), Sharing())
    assert [way["way"] for way in told["ways"]] == ways
    assert all(
        way == {"way": way["way"], "ratio": 1.07, "low": 0.8, "high": 1.4} for way in told["ways"]
    )
    assert set(told) == {"outcome", "rig", "part", "ways"}


def test_hauls_on_an_unknown_ground_are_not_alike() -> None:
    boats = hours(("mud", "12", "12"), ("mud", "12", "12"), ("unknown", "12", "12"))
    (told,) = shared_ways(FOUND, [EFFECT], boats, Sharing())
    assert [way["way"] for way in told["ways"]] == [OtherWay.WITHIN_TRIPS]


def test_of_what_is_not_shared_no_other_way_is() -> None:
    assert shared_ways(FOUND, [], hours(("mud", "1", "1")), Sharing()) == []


def test_the_page_says_beside_the_difference_that_it_does_not_hold() -> None:
    findings = season(CASES[0])
    within = {"way": OtherWay.WITHIN_TRIPS, "ratio": 1.3, "low": 0.9, "high": 1.9}
    findings["sensitivity"] = [{**EFFECT, "ways": [within]}]
    (said,) = gainsaid(findings, DAMAGE)
    assert said.startswith(
        "hop in net damage: as told 50 % less often, but 30 % more often within the trips that"
    )
    assert said.endswith("do not go by it.")
    assert coop_screen(findings).lead.endswith(said)
    assert cards(findings)[0].lines[0].sides[0] == said
    assert gainsaid(season(CASES[0]), DAMAGE) == []

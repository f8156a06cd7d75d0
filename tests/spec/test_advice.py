"""The exact sentences of the skipper's first screen, for small results."""

from __future__ import annotations

from functools import partial
from typing import Any

import pytest

from pipeline.checking.remarks import ON_LAND, SWAPPED
from pipeline.checking.slips import FAR_CATCH, FAR_DEPTH, FAR_YEARS, PAST_THE_NEXT
from pipeline.intake.read_season import A_DAY_A_TRIP
from reports.advice.opening import behind_the_advice, opening
from reports.advice.to_do import to_look_over, to_write_down
from schemas.codes import OtherWay
from schemas.outcomes import HEADLINES, fixed_outcome
from tests.spec.text_tables import cases_under

cases = partial(cases_under, "advice.md")

NO_DIFFERENCE = "no clear difference"
TRIPS = [
    {"rig": rig, "vessel": vessel, "first_day": None}
    for rig, vessel in (("rope", "Skua"), ("rope", "Tern"), ("rockhopper", "Tern"))
]
NO_DAMAGE_TOLD: dict[str, Any] = {"fished": [], "parts": [], "causes": []}


def effect(outcome: str, cell: str, ground: str) -> dict[str, Any]:
    """An effect of rockhopper against rope, from a cell of the table."""
    ratio, low, high, how_clear = [*cell.split(), "", "", "", ""][:4]
    side = ("lower" if float(ratio) < 1 else "higher") if ratio else "too little to tell"
    return {
        "outcome": outcome,
        "rig": "rockhopper",
        "reference": "rope",
        "ground": ground,
        "part": "whole record",
        "ratio": float(ratio) if ratio else None,
        "low": float(low) if low else None,
        "high": float(high) if high else None,
        "raw_ratio": float(ratio) if ratio else None,
        "verdict": {"clear": side, "open": "too little to tell"}.get(how_clear, NO_DIFFERENCE),
        "verdict_alone": {"clear": side, "alone": side, "open": "too little to tell"}.get(
            how_clear, NO_DIFFERENCE
        ),
        "cautions": [],
        "vessels": 2,
        "trips": 13,
        "hauls": 100,
        "rig_hauls": 40,
        "rig_trips": 1,
        "reference_trips": 12,
        "rig_total": 13.0,
        "reference_hauls": 60,
        "reference_total": 1.0,
    }


def money(cell: str) -> list[dict[str, Any]]:
    if not cell:
        return []
    change, low, high, share, verdict = [*cell.split(), "can't be told"][:5]
    return [
        {
            "rig": "rockhopper",
            "reference": "rope",
            "ground": "all",
            "net_change": {
                "estimate": float(change),
                "low": float(low),
                "high": float(high),
            },
            "break_even": {"estimate": float(share), "low": None, "high": None},
            "catch_change": {"estimate": -0.04, "low": None, "high": None},
            "verdict": verdict,
            "cautions": ["few trips"] if verdict == "few" else [],
        }
    ]


def season(case: dict[str, str], ground: str) -> dict[str, Any]:
    effects = [
        effect(outcome, case[name], ground)
        for outcome, name in zip(HEADLINES, ("net damage", "fish"), strict=True)
    ]
    if ground != "all":
        effects += [effect(outcome, "1.00 0.80 1.20", "all") for outcome in HEADLINES]
    rigs = ("rope", "rockhopper")
    return {
        "season": {
            "reference_rig": "rope",
            "headlines": list(HEADLINES),
            "grounds": ["sand", "stones"],
            "currency": "EUR",
            "hauls": 100,
        },
        "outcomes": [{**vars(fixed_outcome(name)), "matters": 2.0} for name in HEADLINES],
        "effects": effects,
        "sensitivity": [],
        "twin_tows": [],
        "notes": {"supposed": [], "unknown_hauls": 0},
        "money": {
            "terms": {"parts": ["mending_cost", "hours_lost"], "hour_lost": 400.0},
            "rigs": money(case.get("money", "")),
        },
        "costs": {"written": []},
        "rows": {"hauls": {"read": 100}},
        "set_aside": [],
        "standing": {"looks": {"comparisons": 2}, "planning": []},
        "rig_by_ground": [
            {"rig_version": rig, "ground": place, "hauls": 25}
            for rig in rigs
            for place in ("sand", "stones")
        ],
        "rigs": [{"rig_version": rig, "tow_hours": 100.0, "stretch": []} for rig in rigs],
        "damage": NO_DAMAGE_TOLD,
        "trips": TRIPS,
        "records": [],
        "catches_lack": [],
        "unlisted_species": [],
        "missing_tables": [],
        "remarks": [],
    }


@pytest.mark.parametrize(
    ("case", "ground"),
    [
        *((case, "all") for case in cases("Over all grounds")),
        *((case, "stones") for case in cases("On one ground")),
    ],
    ids=str,
)
def test_what_a_skipper_is_told_to_do(case: dict[str, str], ground: str) -> None:
    told = opening(season(case, ground))
    said = [f"{line.label}: {line.says}{f' Pays: {line.pays}' * bool(line.pays)}" for line in told]
    stand = [line for line in said if not line.startswith("Keep") or len(said) == 1]
    kept = {
        "Weigh": "Keep: rope for now: no other rig was shown to be better both ways.",
        "Leave": "Keep: rope: no other rig was shown to do better.",
    }
    if told[0].label in kept and not case["money"].endswith("pays"):
        assert said[1] == kept[told[0].label]
        assert stand[0] == case["says"]
    else:
        assert " / ".join(said) == case["says"]


def test_what_was_found_on_each_ground_is_told_of_that_ground() -> None:
    findings = season({"net damage": "0.50 0.30 0.80 clear", "fish": ""}, "stones")
    findings["effects"].append(effect("bottom_living_kg", "0.70 0.50 0.90 clear", "sand"))
    findings["money"]["rigs"] = money("25 10 40 0.08 pays")
    section = behind_the_advice(findings)
    assert section is not None
    assert section.told[0].label == "Mind"
    assert section.told[0].says == (
        "rockhopper: 30 % less bottom-living fish (10 to 50 %) on sand; but the net tore 50 % less "
        "often (20 to 70 %) on stones."
    )
    assert section.told[0].pays == (
        "An hour, damage paid, was 25 EUR ahead (between 10 and 40 ahead); it pays unless its "
        "catch is worth 8 % less; it was 4 % less. That is of all grounds together."
    )
    assert [line.says for line in opening(findings) if line.label == "Mind"] == [
        "Less bottom-living fish on sand with rockhopper; but less net damage on stones. It may be "
        "luck."
    ]


def remark(reason: str, rows: int) -> dict[str, Any]:
    return {"table": "hauls", "column": "shot_at", "reason": reason, "rows": rows}


@pytest.mark.parametrize(
    ("with_trips", "told"),
    [
        ((), "the trip of each haul: none is named, so a day counts as one, and ranges may be"),
        ((0, 0), "the trip of each haul: none is named, so a day counts as one, and ranges may be"),
        (
            (1, 0),
            "the trip of each haul in Skua 2 (79 of 158 hauls): none is named there, so a",
        ),
    ],
)
def test_trips_are_wanted_of_the_seasons_that_do_not_name_them(
    with_trips: tuple[int, ...], told: str
) -> None:
    findings = season({"net damage": "1.00 0.80 1.20", "fish": "1.00 0.90 1.10"}, "all")
    findings["remarks"] = [remark(A_DAY_A_TRIP, 1)]
    findings["seasons"] = [
        {"season": f"Skua {at}", "used": 79, "names_trips": bool(names)}
        for at, names in enumerate(with_trips, start=1)
    ]
    assert to_write_down(findings)[0].startswith(told)


@pytest.mark.parametrize(
    ("remarks", "told"),
    [
        ([], []),
        (
            [remark(ON_LAND, 3), remark(FAR_CATCH, 32)],
            [
                "likely slips in the log, used as they stand (weight of a catch 32, position on "
                "land 3): “rigseason check” names each"
            ],
        ),
        (
            [remark(FAR_CATCH, 2), remark(FAR_YEARS, 1), remark(PAST_THE_NEXT, 1)],
            [
                "likely slips in the log, used as they stand (year 1, hours towed 1, weight of a "
                "catch 2): “rigseason check” names each"
            ],
        ),
        (
            [remark(SWAPPED, 1), remark(FAR_DEPTH, 1)],
            ["likely slips in the log, used as they stand (depth 1): “rigseason check” names each"],
        ),
    ],
)
def test_likely_slips_are_to_be_looked_over_first(
    remarks: list[dict[str, Any]], told: list[str]
) -> None:
    findings = season({"net damage": "1.00 0.80 1.20", "fish": "1.00 0.90 1.10"}, "all")
    chafed = {"rig": "rope", "ground": "all", "cause": "chafe", "hauls": 4, "share": 0.5}
    there = {"rig": "rope", "ground": "all", "part": "belly", "rows": [2, 3, 4, 5, 6]}
    findings["damage"] = {
        **NO_DAMAGE_TOLD,
        "causes": [{**chafed, "rows": [1, 2, 3, 4]}],
        "parts": [there],
    }
    findings["remarks"] = remarks
    over = to_look_over(findings)
    assert over[:-1] == told
    assert over[-1] == "the belly with rope (chafe: 3 of its 5 tears)"


@pytest.mark.parametrize("thin", ["few trips", "few hauls"])
def test_nothing_is_made_of_one_ground_where_few_trips_or_hauls_tell_it(thin: str) -> None:
    findings = season({"net damage": "0.50 0.30 0.80 clear", "fish": ""}, "stones")
    findings["effects"][0]["cautions"] = [thin]
    assert [line.label for line in opening(findings)] == ["Keep"]
    assert behind_the_advice(findings) is None


APART = (
    "rockhopper: hardly fished side by side with rope. Fishing both in turn, on one boat and one "
    "ground, would settle it."
)


@pytest.mark.parametrize(
    ("outcome", "ground", "said"),
    [
        ("damage_events", "all", [APART]),
        ("bottom_living_kg", "all", [APART]),
        ("other_kg", "all", []),
        ("damage_events", "stones", []),
    ],
)
def test_only_rigs_that_were_apart_over_all_grounds_are_said_to_be(
    outcome: str, ground: str, said: list[str]
) -> None:
    case = {"net damage": "1.00 0.80 1.20", "fish": "1.00 0.90 1.10"}
    findings = season(case, "stones")
    findings["effects"].append(effect("other_kg", "1.00 0.90 1.10", "all"))
    (apart,) = (e for e in findings["effects"] if (e["outcome"], e["ground"]) == (outcome, ground))
    apart["cautions"] = ["not side by side"]
    assert [line.says for line in opening(findings) if line.label == "Open"] == said


ALIKE = "rockhopper in net damage: no clear difference: likeliest neither less often nor more often"
THE_REST = "of the rest of the record no figure can be given."


@pytest.mark.parametrize(
    ("parts", "fish", "side_by_side", "said"),
    [
        (
            ("2029 to 2030", "2029 to 2030"),
            "1.30 0.90 1.80 open",
            None,
            f"{ALIKE} (anything from 20 % less often to 20 % more often). rockhopper in "
            "bottom-living fish: 30 % more (anything from 10 % less to 80 % more), too little to "
            f"tell. That is of 2029 to 2030; {THE_REST}",
        ),
        (
            ("2029 to 2030", "2030"),
            "1.30 0.90 1.80 open",
            None,
            f"{ALIKE} (anything from 20 % less often to 20 % more often), in 2029 to 2030. "
            "rockhopper in bottom-living fish: 30 % more (anything from 10 % less to 80 % more), "
            f"in 2030, too little to tell. {THE_REST.capitalize()}",
        ),
        (
            ("2029 to 2030", "2029 to 2030"),
            "1.30 0.90 1.80 open",
            0.6,
            f"{ALIKE} (anything from 20 % less often to 20 % more often). rockhopper in "
            "bottom-living fish: 30 % more, but 40 % less where both were fished side by side: go "
            f"by neither. That is of 2029 to 2030; {THE_REST}",
        ),
        (
            ("2029 to 2030", "2029 to 2030"),
            "1.30 0.90 1.80 open",
            1.40,
            f"{ALIKE} (anything from 20 % less often to 20 % more often). rockhopper in "
            "bottom-living fish: 30 % more (anything from 10 % less to 80 % more), too little to "
            f"tell. That is of 2029 to 2030; {THE_REST}",
        ),
    ],
)
def test_what_was_compared_in_a_part_of_the_record_is_said_to_be_of_it(
    parts: tuple[str, str], fish: str, side_by_side: float | None, said: str
) -> None:
    findings = season({"net damage": "1.00 0.80 1.20", "fish": fish}, "all")
    for each, part in zip(findings["effects"], parts, strict=True):
        each["part"] = part
    (caught,) = (e for e in findings["effects"] if e["outcome"] == "bottom_living_kg")
    ways = [{"way": OtherWay.SIDE_BY_SIDE, "ratio": side_by_side}] if side_by_side else []
    findings["sensitivity"] = [
        {**{name: caught[name] for name in ("outcome", "rig", "part")}, "ways": ways}
    ]
    assert [line.says for line in opening(findings) if line.label == "Open"] == [said]


@pytest.mark.parametrize(
    ("last_fished", "said"),
    [
        ("2030-01-01", "Each rig where you fish it now: none was shown to do better than rope."),
        (
            "2029-12-31",
            "rockhopper: fished last, and no figure speaks for it; rope, the yardstick here, "
            "was last fished in 2029.",
        ),
    ],
)
def test_nobody_is_told_to_keep_a_rig_that_was_given_up(last_fished: str, said: str) -> None:
    case = {"net damage": "1.00 0.80 1.20", "fish": "1.00 0.90 1.10"}
    findings = season(case, "all")
    findings["season"]["last_day"] = "2031-01-01"
    findings["trips"] = [
        *TRIPS,
        {"rig": "rope", "vessel": "Skua", "first_day": last_fished},
        {"rig": "rockhopper", "vessel": "Tern", "first_day": "2031-01-01"},
    ]
    keep = next(line for line in opening(findings) if line.label == "Keep")
    assert keep.says == said


@pytest.mark.parametrize(
    ("thin", "said"),
    [
        ([], "Each rig where you fish it now: none was shown to do better than rope."),
        (["few trips"], "Each rig where you fish it now: nothing can be told of any against rope."),
    ],
)
def test_a_rig_is_kept_for_a_comparison_that_is_told_and_for_no_other(
    thin: list[str], said: str
) -> None:
    findings = season({"net damage": "1.00 0.80 1.20", "fish": "1.00 0.90 1.10"}, "stones")
    for each in findings["effects"]:
        each["cautions"] = thin if each["ground"] == "stones" else ["not side by side"]
    keep = next(line for line in opening(findings) if line.label == "Keep")
    assert keep.says == said


@pytest.mark.parametrize(
    ("outcome", "said"),
    [
        ("hours_lost", "the fishing hours lost with each tear: 119 of 255 not written"),
        ("catch", "the catch of each haul: 119 of 255 not written"),
    ],
)
def test_what_was_not_written_is_not_told_as_none(outcome: str, said: str) -> None:
    findings = season({"net damage": "1.00 0.80 1.20", "fish": "1.00 0.90 1.10"}, "all")
    findings["records"] = [{"outcome": outcome, "hauls": 255, "recorded": 136, "set_aside": 0}]
    assert to_write_down(findings) == [said]


def test_behind_each_advice_stand_its_hauls_and_whether_it_may_be_luck() -> None:
    case = {"net damage": "0.60 0.40 0.90 alone", "fish": "0.80 0.70 0.90 clear"}
    section = behind_the_advice(season(case, "all"))
    assert section is not None
    (line,) = section.told
    assert line.label == "Weigh"
    assert line.says == (
        "rockhopper against rope over all grounds together: the net tore 40 % less often (10 to "
        "60 %, may be luck); but 20 % less bottom-living fish (10 to 30 %)."
    )
    assert line.sides == (
        "In net damage it may be luck, because 2 things were compared.",
        "From 40 hauls with rockhopper (1 trip, 1 boat) and 60 with rope (12 trips, 2 boats).",
    )

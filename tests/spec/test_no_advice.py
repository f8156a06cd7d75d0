"""What the record can not bear is no advice: no ground, gainsaid figures, money in part."""

from __future__ import annotations

import pytest

from pipeline.intake.read_season import A_DAY_A_TRIP
from reports.advice.opening import behind_the_advice, opening
from reports.advice.to_do import to_write_down
from schemas.codes import OtherWay
from tests.spec.test_advice import season


def test_a_log_that_names_no_ground_is_no_reason_to_change() -> None:
    findings = season({"net damage": "0.60 0.40 0.90 clear", "fish": "1.00 0.90 1.10"}, "all")
    for row in findings["rig_by_ground"]:
        row["ground"] = "unknown"
    said = {line.label: line.says for line in opening(findings)}
    assert said == {
        "Keep": "Each rig where you fish it now: nothing can be told of any against rope.",
        "Open": "The log names no ground: what looks like the rig may be the ground that it was "
        "fished on, so nothing here is a reason to change.",
        "Write down": "The ground of each haul, as rigs are told apart by it: 100 of 100 not "
        "written.",
    }
    assert behind_the_advice(findings) is None


@pytest.mark.parametrize("paid_by", ["weigh", "change"])
def test_what_pays_is_not_followed_by_the_rig_to_keep(paid_by: str) -> None:
    fish = "0.80 0.70 0.90 clear" if paid_by == "weigh" else "1.00 0.90 1.10"
    case = {"net damage": "0.60 0.40 0.90 clear", "fish": fish, "money": "25 10 40 0.08 pays"}
    assert "Keep" not in {line.label for line in opening(season(case, "all"))}


def test_money_without_the_hours_that_tears_cost_says_so() -> None:
    case = {
        "net damage": "0.60 0.40 0.90 clear",
        "fish": "1.00 0.90 1.10",
        "money": "25 10 40 0.08 pays",
    }
    findings = season(case, "all")
    findings["money"]["terms"]["parts"] = ["mending_cost"]
    findings["costs"]["written"] = [{"amount": "hours_lost", "told": 9, "tears": 117}]
    assert [line.says for line in opening(findings) if line.label == "Note"] == [
        "Money is told without fishing hours lost (written of 9 of 117 tears), which may turn it."
    ]
    findings["money"]["rigs"] = []
    assert not any(line.label == "Note" for line in opening(findings))


@pytest.mark.parametrize(("rows", "said"), [(4, 0), (5, 1)])
def test_many_hauls_left_out_for_one_reason_are_told_of_on_the_first_screen(
    rows: int, said: int
) -> None:
    findings = season({"net damage": "1.00 0.80 1.20", "fish": "1.00 0.90 1.10"}, "all")
    reason = "is a rig that rig_versions does not describe; add it there or put it right"
    findings["set_aside"] = [
        {
            "table": "hauls",
            "column": "rig_version",
            "reason": reason,
            "rows": rows,
            "value": "clogs",
        }
    ]
    assert [line.says for line in opening(findings) if line.label == "Note"] == said * [
        "5 of 100 hauls were left out: rig_version is a rig that rig_versions does not describe; "
        "add it there or put it right (clogs)."
    ]


@pytest.mark.parametrize("how", ["clear", "alone"])
def test_a_difference_that_the_trips_of_both_rigs_gainsay_is_nothing_to_change_for(
    how: str,
) -> None:
    findings = season({"net damage": f"1.60 1.10 2.30 {how}", "fish": "1.00 0.90 1.10"}, "all")
    torn = next(e for e in findings["effects"] if e["outcome"] == "damage_events")
    of_torn = {name: torn[name] for name in ("outcome", "rig", "part")}
    way = {"way": OtherWay.WITHIN_TRIPS, "ratio": 1.01, "low": 0.7, "high": 1.5}
    assert not any(line.label == "Open" for line in opening(findings))
    findings["sensitivity"] = [{**of_torn, "ways": [way]}]
    said = {line.label: line.says for line in opening(findings)}
    assert said["Keep"] == "Each rig where you fish it now: none was shown to do better than rope."
    assert said["Open"] == (
        "rockhopper in net damage: 60 % more often, but 1 % more often within the trips that "
        "fished both: go by neither."
    )
    assert not {"Mind", "Leave"} & said.keys()


def test_what_is_open_is_told_with_the_hauls_that_would_tell_it() -> None:
    findings = season({"net damage": "0.80 0.30 1.90 open", "fish": "1.10 0.70 1.60 open"}, "all")
    plan = {
        "could_show_halving": False,
        "could_show_what_matters": False,
        "hauls_for_halving": 123,
        "hauls_for_what_matters": 123,
        "matters": 2.0,
        "matters_reads": 0.57,
        "halving_reads": 0.57,
        "trips_per_haul": 0.2,
        "by_chance": False,
    }
    findings["standing"]["planning"] = [
        {**plan, **{name: effect[name] for name in ("outcome", "rig", "part")}}
        for effect in findings["effects"]
    ]
    said = {line.label: line.says for line in opening(findings)}
    assert said["Open"] == (
        "Of rockhopper too little can be told yet in net damage and bottom-living fish. In net "
        "damage, to see a halving of tears (hauls with damage 43 % less often) about 130 hauls of "
        "each rig on 25 trips are wanted."
    )


def test_a_gain_is_weighed_where_a_loss_is_in_doubt() -> None:
    findings = season({"net damage": "1.43 1.06 1.93 alone", "fish": "1.20 1.12 1.28 clear"}, "all")
    torn = next(e for e in findings["effects"] if e["outcome"] == "damage_events")
    way = {"way": OtherWay.WITHIN_TRIPS, "ratio": 0.93, "low": 0.6, "high": 1.45}
    named = {name: torn[name] for name in ("outcome", "rig", "part")}
    findings["sensitivity"] = [{**named, "ways": [way]}]
    said = {line.label: line.says for line in opening(findings)}
    assert said["Weigh"] == (
        "rockhopper against rope over all grounds together: 20 % more bottom-living fish "
        "(12 to 28 %); but the net tore 43 % more often (6 to 93 %, may be luck)."
    )
    assert "Change" not in said


def test_a_log_that_names_no_trip_is_asked_for_it_first() -> None:
    findings = season({"net damage": "1.00 0.80 1.20", "fish": "1.00 0.90 1.10"}, "all")
    assert to_write_down(findings) == []
    findings["remarks"] = [{"reason": A_DAY_A_TRIP, "rows": 1}]
    findings["seasons"] = [{"season": "2031", "names_trips": False, "used": 100}]
    assert to_write_down(findings) == [
        "the trip of each haul: none is named, so a day counts as one, and ranges may be too narrow"
    ]

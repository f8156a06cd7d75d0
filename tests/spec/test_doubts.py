"""What the headlines leave open is said where it is true, and nowhere else."""

from __future__ import annotations

from typing import Any

import pytest

from pipeline.rates.model_table import NOT_ON_RECORD, SAME_FOR_ALL, TOO_FEW_TRIPS
from reports.cells import limit_cell
from reports.doubts import further_doubts
from reports.first_screen import by_ground, untold
from reports.outcome_sections import further, of_parts
from reports.ratio_titles import ratio_title
from reports.record_sections import how_to_read
from reports.sentences import in_brief, verdict_words
from schemas.outcomes import fixed_outcome

Row = dict[str, Any]
NAMES = ("damage_events", "bottom_living_kg", "other_kg")
OUTCOMES = [vars(fixed_outcome(name)) for name in NAMES]
TOO_LITTLE = "too little to tell"
EVERY_FACTOR = ["ground", "vessel", "depth_band", "quarter"]


def effect(outcome: str = "damage_events", ground: str = "all", **of: object) -> Row:
    """An effect that is told, too little to tell unless said otherwise."""
    row = {
        "outcome": outcome,
        "rig": "discs",
        "reference": "rope",
        "ground": ground,
        "part": "whole record",
        "ratio": 1.3,
        "low": 0.8,
        "high": 1.9,
        "verdict": TOO_LITTLE,
        "adjusted_for": EVERY_FACTOR,
        "rig_hauls": 40,
        "reference_hauls": 60,
        "model": "all rigs",
        "cautions": [],
    } | of
    return {"verdict_alone": row["verdict"]} | row


def found(effects: list[Row], **of: object) -> Row:
    season = {
        "reference_rig": "rope",
        "grounds": ["sand", "rocky"],
        "vessels": ["Skua", "Tern"],
        "first_day": "2031-01-03",
        "last_day": "2031-12-26",
        "headlines": list(NAMES[:2]),
    }
    return {
        "season": season | (of.pop("season", None) or {}),
        "effects": effects,
        "outcomes": OUTCOMES,
        "rigs": ["rope", "discs"],
        "changes": {"pairs": []},
        "standing": {"models": []},
        "sensitivity": [],
        "twin_tows": [],
        "diagnostics": {"hours": None, "models": []},
    } | of


def test_where_nothing_is_in_doubt_nothing_is_said() -> None:
    assert further_doubts(found([effect()])) == []
    assert further_doubts(found([effect(low=None)])) == []


def test_what_is_not_held_alike_is_named_and_the_year_where_there_are_several() -> None:
    findings = found([effect(adjusted_for=["ground"])], season={"last_day": "2033-02-01"})
    assert further_doubts(findings) == [
        "Nothing holds boat, depth, time of year and year alike between the hauls that are "
        "compared: what the rigs' hauls differed in there is in the ratios too."
    ]


def left_out(*reasons: str) -> Row:
    return {"models": [{"name": "all rigs", "left_out": list(reasons)}]}


def test_hauls_of_one_quarter_are_alike_in_time_only_as_far_as_quarters_tell() -> None:
    alike = left_out(SAME_FOR_ALL.format("quarter"), SAME_FOR_ALL.format("vessel"))
    findings = found([effect(adjusted_for=["ground", "depth_band"])], standing=alike)
    assert further_doubts(findings) == [
        "The hauls that are compared were alike in time of year only as far as quarters of the "
        "year tell: what else the rigs' hauls differed in there is in the ratios too."
    ]


def test_nothing_holds_alike_what_is_not_on_record_or_would_take_more_trips() -> None:
    reasons = NOT_ON_RECORD.format("depth_band"), TOO_FEW_TRIPS.format("quarter")
    adjusted = effect(adjusted_for=["ground", "vessel"])
    (said,) = further_doubts(found([adjusted], standing=left_out(*reasons)))
    assert said.startswith("Nothing holds depth and time of year alike between the hauls")


def test_few_trips_are_told_of() -> None:
    (said,) = further_doubts(found([effect(cautions=["few trips"])]))
    assert said.startswith(
        "Fewer than ten trips with the rig, or with rope, stand behind what is said of discs"
    )


def test_a_rig_that_is_no_different_though_clear_by_itself_is_said_to_be() -> None:
    both = {"verdict": "no clear difference", "ratio": 1.27, "low": 1.04, "high": 1.56}
    findings = found([effect(**both, verdict_alone="higher")], rates=[])
    findings["standing"]["planning"] = []
    assert (
        "No difference worth knowing in net damage from rope: discs (though clear by itself)."
        in (untold(findings))
    )


@pytest.mark.parametrize(("rigs", "ratio"), [(("discs", "rope"), 0.7), (("rope", "discs"), 1.4)])
def test_two_ways_that_point_apart_are_set_beside_each_other(
    rigs: tuple[str, str], ratio: float
) -> None:
    pooled = {"ratio": {"outcome": "damage_events", "ratio": ratio}}
    pair = {"rig": rigs[0], "reference": rigs[1], "ratios": [pooled]}
    told = effect(verdict_alone="higher")
    (said,) = further_doubts(found([told], changes={"pairs": [pair]}))
    assert said.startswith("discs in net damage: as told 30 % more often, before and after ")
    assert said.endswith("% less often. The two ways point apart.")
    assert further_doubts(found([effect()], changes={"pairs": [pair]})) == []
    pooled["ratio"]["ratio"] = 1 / ratio
    assert further_doubts(found([told], changes={"pairs": [pair]})) == []


@pytest.mark.parametrize(
    ("ratio", "alone", "said"),
    [(0.7, "higher", 1), (0.7, TOO_LITTLE, 0), (0.6, TOO_LITTLE, 1), (1.2, "higher", 0)],
)
def test_hauls_side_by_side_alone_that_point_the_other_way_are_told_of(
    ratio: float, alone: str, said: int
) -> None:
    """Of what is not clear, only where the two are further apart than what is worth knowing."""
    told = effect(verdict_alone=alone)
    row = {name: told[name] for name in ("outcome", "rig", "part")}
    row["ways"] = [{"way": "side by side only", "ratio": ratio}]
    assert further_doubts(found([told], sensitivity=[row])) == said * [
        f"discs in net damage: as told 30 % more often, but {round(100 - 100 * ratio)} % less "
        "often from those hauls alone that both rigs made under the same conditions (ground, boat "
        "and stretch of the record). What is told rests on hauls that were made under others: do "
        "not go by it."
    ]


@pytest.mark.parametrize(
    ("ratio", "low", "high", "said"),
    [
        (0.6, 0.5, 1.4, "40 % less often"),
        (0.7, 0.5, 1.4, None),
        (1.01, 0.8, 1.28, "1 % more often"),
        (1.1, 0.8, 1.5, None),
        (0.7, None, None, None),
    ],
)
def test_enough_trips_that_fished_both_and_gainsay_a_headline_are_told_of(
    ratio: float, low: float | None, high: float | None, said: str | None
) -> None:
    told = effect()
    row = {name: told[name] for name in ("outcome", "rig", "part")}
    way = {"way": "within trips that fished both", "ratio": ratio, "low": low, "high": high}
    row["ways"] = [way]
    assert further_doubts(found([told], sensitivity=[row])) == [
        f"discs in net damage: as told 30 % more often, but {said} within the trips that "
        "fished both rigs. What sets trips apart (weeks, weather, and what nobody wrote down) may "
        "be in what is told: do not go by it."
    ] * bool(said)


def test_fish_that_a_gear_should_matter_less_to_are_a_hint_where_they_stand_out() -> None:
    check = effect("other_kg", verdict="higher", low=1.1)
    (said,) = further_doubts(found([effect(), check]))
    assert said.startswith("discs caught 30 % more other fish per hour than rope (between 10 and")
    assert "hints that the rigs were not fished alike" in said
    assert further_doubts(found([effect(), effect("other_kg")])) == []


@pytest.mark.parametrize(("claim", "told"), [("neither", 1), ("per haul", 1), ("per hour", 0)])
def test_damage_that_does_not_go_by_the_hour_is_told_of(claim: str, told: int) -> None:
    hours = {"slope": -1.5, "claim": claim}
    said = further_doubts(found([effect(part="1999")], diagnostics={"hours": hours, "models": []}))
    assert [words.split(": ")[1][:34] for words in said] == told * [
        "over the whole record a tow twice "
    ]


def test_on_a_ground_nothing_stands_out_from_few_trips_and_those_tried_are_counted() -> None:
    clear = {"verdict": "higher", "low": 1.05, "ground": "sand"}
    table = by_ground(found([effect(**clear), effect(**clear | {"rig": "chain"})]))
    assert table is not None
    assert "of 2 such comparisons, were the rigs alike, about 0.1 would stand out" in table.caption
    assert table.rows[0][1].startswith(
        "discs 30 % more often (between 5 and 90 % more often), from"
    )
    thin = by_ground(found([effect(**clear, cautions=["few trips"])]))
    assert thin is not None
    assert thin.caption.startswith("On no single ground could a rig be held to rope")
    assert thin.rows[0][1] == "too few trips or hauls"


def test_why_two_rigs_side_by_side_on_a_ground_have_no_figure_is_said() -> None:
    untold = {"low": None, "ratio": None, "part": "1999", "ground": "sand"}
    table = by_ground(found([effect(**untold, cautions=["too few trips to adjust"])]))
    assert table is not None
    assert table.rows[0][1] == "discs, in 1999: too few trips to compare like for like"
    assert table.rows[1][1] == "no two rigs side by side"


def test_what_is_no_headline_is_clear_by_itself() -> None:
    assert verdict_words(effect(verdict="lower")) == "lower"
    assert verdict_words(effect("other_kg", verdict="lower")) == "lower by itself"
    assert verdict_words(effect(ground="sand", verdict="higher")) == "higher by itself"
    assert verdict_words(effect("other_kg")) == "too little to tell"


def test_a_figure_beside_no_difference_is_not_taken_for_one() -> None:
    row = effect(verdict="no clear difference", ratio=1.06, low=0.72, high=1.55)
    assert in_brief(row, OUTCOMES[0]) == (
        "no clear difference: likeliest 6 % more often (anything from 28 % less often to 55 % more "
        "often)"
    )


@pytest.mark.parametrize(
    ("limit", "told"),
    [
        (None, "–"),
        (0.84, "0.84"),
        (1.0, "1.00"),
        (1.004, "1.004"),
        (0.996, "0.996"),
        (12.3, "12.3"),
    ],
)
def test_a_limit_beside_1_has_a_third_decimal(limit: float | None, told: str) -> None:
    assert limit_cell(limit) == told


@pytest.mark.parametrize(("foul", "told"), [(3, "a foul tow"), (0, "No haul is marked foul")])
def test_how_to_read_says_what_is_true_of_the_record(foul: int, told: str) -> None:
    findings = found(
        [
            effect(),
            effect("other_kg"),
            effect("other_kg", "sand"),
            effect(ground="sand", cautions=["few trips"]),
        ],
        season={"foul_tows": foul, "adjusted_for": EVERY_FACTOR},
        standing={"looks": {"comparisons": 1, "allowed_for": True}},
        method={"settings": []},
        money={"rigs": []},
        boats=[],
        damage={"comparisons": 0},
    )
    points = how_to_read(findings).points
    assert any(told in point for point in points)
    assert any("the program's own bounds" in point for point in points)
    assert points[-1].startswith(
        "This page shows 2 comparisons of a rig with the reference that came to a figure; "
        "findings.json holds 4 in all. "
    )
    assert "beside those" not in points[-1]


def test_of_one_rig_what_else_was_recorded_is_one_table_with_the_part_of_the_record() -> None:
    apart = {"cautions": ["not side by side"], "rig_hauls": 900}
    both = [(effect(name, **apart), effect(name, part="1999")) for name in ("debris_kg", "value")]
    findings = found(
        [row for rows in both for row in rows],
        outcomes=[vars(fixed_outcome(name)) for name in ("debris_kg", "value")],
        standing={"planning": []},
        records=[],
        unpriced_species=[],
        season={"currency": "EUR"},
    )
    section = further(findings)
    assert section is not None
    (table,) = section.tables
    assert table.headers[:3] == ["of", "part of the record", "ratio"]
    assert [row[:3] for row in table.rows] == [
        ["Stones and mud aboard", "1999", "1.30"],
        ["Value of the catch", "1999", "1.30"],
    ]


def test_a_ratio_of_a_part_of_the_record_is_said_to_be_so() -> None:
    assert of_parts([effect()]) == ""
    assert of_parts([effect(part="1999"), effect(rig="chain", part="1999")]) == (
        " That of discs and chain is of 1999 alone, and not of the whole record."
    )


def test_over_a_chart_of_dashes_it_is_said_that_nothing_could_be_compared() -> None:
    untold = effect(ratio=None, low=None, high=None)
    assert ratio_title([untold], OUTCOMES[0], "rope") == "No rig could be held to rope"
    assert ratio_title([untold, effect()], OUTCOMES[0], "rope") == (
        "No rig stands out clearly against rope"
    )


@pytest.mark.parametrize(
    ("damaged", "halving_reads", "reads"),
    [(64, 0.621, "0.62"), (36, 0.83, "0.83"), (20, 0.53, None), (64, None, None)],
)
def test_that_few_hauls_stay_whole_is_told_of_where_it_draws_ratios_together(
    damaged: int, halving_reads: float | None, reads: str | None
) -> None:
    models = [{"outcome": "damage_events", "yes_or_no": True, "halving_reads": halving_reads}]
    rate = {"outcome": "damage_events", "ground": "all", "rig": "rope"}
    findings = found(
        [effect()],
        diagnostics={"hours": None, "models": models},
        rates=[{**rate, "hauls": 100, "total": float(damaged)}],
    )
    said = [words for words in further_doubts(findings) if "only whether" in words]
    if reads is None:
        assert said == []
    else:
        assert said == [
            "The log says of a haul only whether the net was damaged, and "
            f"{damaged} % of rope's hauls had damage: tears half as often would read as {reads} "
            "times."
        ]
    models[0]["yes_or_no"] = False
    assert not any("only whether" in words for words in further_doubts(findings))

"""Which boats stand in the co-op's report, by which name, and what is said of the rest."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import polars as pl
import pytest

from pipeline.sharing.contributions import rectangles
from pipeline.sharing.own_findings import own_findings
from pipeline.sharing.plain_names import labels_without_boats, without_boats
from pipeline.sharing.resting import boats_with_both, rests_on_enough
from pipeline.sharing.shared_boats import WhyNotShown, not_shown, shared_boats
from pipeline.sharing.shared_findings import agreeing, agreeing_by_rig
from pipeline.sharing.why_set_aside import OTHER, set_aside_by_kind
from reports.coop.folder import boat_pages, coop_folder
from reports.coop.for_the_manager import agreed_and_not_shown
from reports.coop.sections import UNDER_A_LETTER, of_forest, where_fished
from reports.coop.words import differ_words, gain_words, mean_words, what_means_hide
from reports.folder import to_hand_on
from schemas.settings import Sharing

Row = dict[str, Any]
BOATS = ["Auk", "Gull", "Rook", "Skua", "Tern", "Teal"]
FEW_LETTERS, FEW_LEFT = WhyNotShown.FEW_LETTERS, WhyNotShown.FEW_LEFT
TEARS = {
    "name": "damage_events",
    "title": "Net damage",
    "said": "{rig} damaged the net {amount} per hour towed than {reference}",
    "less": "less often",
    "more": "more often",
    "better": "lower",
}


def over(ratios: dict[str, float], error: float = 0.2, **changed: float) -> Row:
    """A rig over boats, with their own ratios."""
    mean = float(np.exp(np.mean(np.log(list(ratios.values())))))
    return {
        "outcome": "damage_events",
        "rig": "discs",
        "reference": "bobbins",
        "boats": [
            {
                "vessel": boat,
                "ratio": ratio,
                "low": ratio / 1.5,
                "high": ratio * 1.5,
                "log_ratio": float(np.log(ratio)),
                "error_as_pooled": changed.get(boat, error),
                "shrunken_ratio": ratio,
                "mean_without": mean,
                "why_none": None,
            }
            for boat, ratio in ratios.items()
        ],
        "mean": {
            "ratio": mean,
            "low": mean / 1.2,
            "high": mean * 1.2,
            "further_low": mean / 2,
            "further_high": mean * 2,
            "spread": 0.0,
            "share_beyond_chance": 0.44,
            "chance_of_as_much": 0.01,
            "verdict": "lower",
            "moved_most_by": "Skua",
        },
    }


def of_boats(many: int, **changed: float) -> Row:
    return over(dict.fromkeys(BOATS[:many], 0.5), **changed)


def shared(row: Row, *named: str, lettered: tuple[str, ...] = (), seed: int = 1) -> Row:
    rules = Sharing(consent=named, consent_under_letter=lettered)
    called = agreeing([boat["vessel"] for boat in row["boats"]], rules, np.random.default_rng(seed))
    return shared_boats(row, "lower", called, rules)


def named(told: Row) -> list[str]:
    return [boat["vessel"] for boat in told["boats"]]


def test_a_boat_that_did_not_agree_is_not_shown_and_one_that_did_is() -> None:
    assert named(shared(of_boats(6))) == []
    assert named(shared(of_boats(6), "Skua", "Rook")) == ["Rook", "Skua"]


def test_no_boat_is_shown_where_the_rest_could_then_be_worked_out() -> None:
    assert named(shared(of_boats(4), "Skua")) == ["Skua"]
    assert named(shared(of_boats(4), "Skua", "Rook")) == []
    assert named(shared(of_boats(4), *BOATS[:4])) == sorted(BOATS[:4])


def test_boats_that_agree_to_it_stand_under_letters_that_change() -> None:
    row = over({boat: 0.5 + at / 10 for at, boat in enumerate(BOATS)})
    letters = tuple(BOATS)
    orders = {
        tuple(boat["ratio"] for boat in shared(row, lettered=letters, seed=seed)["boats"])
        for seed in range(20)
    }
    assert len(orders) > 10
    assert named(shared(row, lettered=letters)) == ["A", "B", "C", "D", "E", "F"]


@pytest.mark.parametrize(
    ("by_name", "lettered", "why"),
    [
        (("Skua",), (), []),
        (BOATS[:4], (), [FEW_LEFT]),
        (BOATS[:4], BOATS[4:], [FEW_LETTERS, FEW_LEFT]),
        ((), ("Skua", "Rook"), [FEW_LETTERS]),
        ((), ("Skua", "Rook", "Auk"), []),
        (BOATS, (), []),
    ],
)
def test_boats_that_agreed_and_do_not_stand_there_are_told_to_the_manager_with_why(
    by_name: tuple[str, ...], lettered: tuple[str, ...], why: list[WhyNotShown]
) -> None:
    row, rules = of_boats(6), Sharing(consent=by_name, consent_under_letter=lettered)
    kept_back = {reason: boats for reason, boats in not_shown(row, rules).items() if boats}
    assert list(kept_back) == why
    agreed = {*by_name, *lettered}
    shown = len(agreed) - sum(map(len, kept_back.values()))
    assert len(named(shared(row, *by_name, lettered=tuple(lettered)))) == shown
    findings = {"season": {"headlines": [TEARS["name"]]}, "outcomes": [TEARS], "boats": [row]}
    lines = agreed_and_not_shown(findings, rules)
    assert len(lines) == len(why)
    assert all(" agreed to stand in the report and do not with discs: fewer " in ln for ln in lines)


def test_a_boat_that_agreed_and_has_no_ratio_or_stands_beside_no_mean_is_told_too() -> None:
    row = of_boats(3)
    row["boats"][0]["log_ratio"] = None
    kept_back = not_shown(row, Sharing(consent=("Auk", "Gull")))
    assert kept_back == {WhyNotShown.NO_RATIO: ["Auk"], WhyNotShown.NO_MEAN: ["Gull"]}


def test_a_letter_can_not_be_followed_from_rig_to_rig() -> None:
    rules = Sharing(consent_under_letter=tuple(BOATS), consent=())
    findings = {
        "season": {"vessels": BOATS},
        "boats": [{"rig": rig} for rig in ("discs", "discs", "rockhopper")],
    }
    apart = 0
    for seed in range(100):
        called = agreeing_by_rig(findings, rules, np.random.default_rng(seed))
        assert sorted(called) == ["discs", "rockhopper"]
        apart += called["discs"]["Auk"] != called["rockhopper"]["Auk"]
    assert apart > 60  # 83 of 100, where letters are drawn apart; none where they are not


def test_a_boat_that_agrees_by_name_and_under_a_letter_stands_under_a_letter() -> None:
    told = shared(of_boats(6), "Skua", lettered=("Skua", "Rook", "Auk"))
    assert len(named(told)) == 3
    assert "Skua" not in named(told)


def test_under_a_letter_a_ratio_has_no_limits_and_two_figures() -> None:
    row = over({boat: 0.5123 + at / 10 for at, boat in enumerate(BOATS)})
    told = shared(row, "Skua", "Tern", "Teal", lettered=("Auk", "Gull", "Rook"))
    by_name = next(boat for boat in told["boats"] if boat["vessel"] == "Teal")
    assert (by_name["ratio"], by_name["low"], by_name["high"]) == (1.01, 0.675, 1.52)
    lettered = [boat for boat in told["boats"] if boat["vessel"] in "ABC"]
    assert sorted(boat["ratio"] for boat in lettered) == [0.51, 0.61, 0.71]
    for boat in lettered:
        assert boat["low"] is boat["high"] is None
        assert boat["log_ratio"] == pytest.approx(np.log(boat["ratio"]), rel=5e-3)
    assert UNDER_A_LETTER in of_forest([told])
    assert UNDER_A_LETTER not in of_forest([shared(row, "Skua", "Tern", "Teal")])


def test_no_letter_is_a_boats_own_name() -> None:
    """It would be taken for the boat's, by readers and by the program."""
    boats = ["A", "B", "C", "Skua"]
    for seed in range(20):
        called = agreeing(boats, Sharing(consent_under_letter=boats), np.random.default_rng(seed))
        assert sorted(called.values()) == ["D", "E", "F", "G"]


def test_two_letters_are_too_few_to_stand() -> None:
    assert named(shared(of_boats(6), "Auk", lettered=("Skua", "Rook"))) == ["Auk"]


@pytest.mark.parametrize(("boats", "mean", "differ"), [(2, 0, 0), (3, 1, 0), (4, 1, 1)])
def test_how_many_boats_a_mean_and_how_they_differ_want(boats: int, mean: int, differ: int) -> None:
    told = shared(of_boats(boats))
    assert (told["mean"] is not None) == bool(mean)
    assert (told["boats_with_a_ratio"] or 0) == boats * mean
    if told["mean"]:
        assert (told["mean"]["further_low"] is not None) == bool(differ)
        assert (told["mean"]["share_beyond_chance"] is not None) == bool(differ)


def test_a_mean_that_is_mostly_one_boats_is_not_shown() -> None:
    assert shared(of_boats(4, Skua=0.01))["mean"] is None


def test_which_boat_moves_the_mean_is_never_shared() -> None:
    told = shared(of_boats(6))
    assert "moved_most_by" not in told["mean"]
    assert "Skua" not in str(told)


@pytest.mark.parametrize(("better", "shown"), [(0, None), (2, None), (3, 3), (4, None), (6, None)])
def test_how_many_gain_is_shown_where_neither_side_is_few(better: int, shown: int | None) -> None:
    row = over({boat: 0.5 if at < better else 1.5 for at, boat in enumerate(BOATS)})
    assert shared(row)["would_gain"] == shown


def test_what_is_said_of_a_mean() -> None:
    told = shared(of_boats(4))
    assert mean_words(told, TEARS) == (
        "Mean of 4 boats, each held to itself: 50 % less often (between 40 and 58 % less often)."
    )
    assert differ_words(told, TEARS) == (
        "The boats differ more than chance would have it: about 40 % of how they differ is their "
        "own. On a further boat it might be between 0 and 75 % less often."
    )
    assert gain_words(told, TEARS) == ""
    half = shared(over({boat: 0.5 if at < 3 else 1.5 for at, boat in enumerate(BOATS)}))
    assert gain_words(half, TEARS) == ("On 3 of 6 boats, each by its own ratio, it was less often.")


def test_of_a_further_boat_nothing_is_said_that_is_not_more_than_the_mean_says() -> None:
    row = shared(of_boats(6))
    mean = row["mean"]
    same = {f"further_{end}": mean[end] for end in ("low", "high")}
    alike = row | {"mean": mean | same | {"more_than_chance": False}}
    assert differ_words(alike, TEARS) == "The boats differ no more than chance might have it."
    assert "The thin line" not in of_forest([alike])


def test_what_is_not_told_of_boats_names_the_rigs_of_which_it_is_not() -> None:
    few, many = shared(of_boats(3)), shared(of_boats(6)) | {"rig": "rockhopper"}
    fish = TEARS | {"name": "bottom_living_kg", "title": "Bottom-living fish"}
    findings = {
        "season": {"headlines": ["damage_events", "bottom_living_kg"]},
        "outcomes": [TEARS, fish],
        "boats": [few, many, many | {"outcome": "bottom_living_kg", "would_gain": 3}],
    }
    assert what_means_hide(findings) == [
        "How far boats differ with discs is not shown: of so few it would let one boat work out "
        "the others.",
        "On how many boats discs and rockhopper (net damage) did better is not shown, as it would "
        "tell of single boats; each boat's own page has its own ratio.",
    ]


def test_only_what_is_drawn_of_boats_is_explained() -> None:
    row = shared(of_boats(6))
    mean = row["mean"]
    assert "boats that agreed" not in of_forest([row | {"boats": []}])
    assert "The thin line" not in of_forest([row | {"mean": mean | {"further_low": None}}])
    told = of_forest(
        [row | {"mean": mean | {"further_low": 0.2}, "boats": [{"vessel": "A", "low": 1}]}]
    )
    assert "The thin line: where a further boat might lie. Above the mean: the boats" in told


def test_a_comparison_rests_on_boats_that_fished_both() -> None:
    def rests(*hours: tuple[str, float, float]) -> bool:
        rows = [
            {"vessel": boat, "rig_version": rig, "tow_hours": towed}
            for boat, *both in hours
            for rig, towed in zip(("discs", "bobbins"), both, strict=True)
            if towed
        ]
        return rests_on_enough(boats_with_both(pl.DataFrame(rows), "discs", "bobbins"), Sharing())

    assert rests(("Auk", 9, 9), ("Gull", 9, 9), ("Rook", 9, 9))
    assert not rests(("Auk", 9, 9), ("Gull", 9, 9), ("Rook", 9, 0), ("Skua", 0, 9))
    assert not rests(("Auk", 90, 9), ("Gull", 9, 9), ("Rook", 9, 9))
    assert not rests(("Auk", 300, 300), ("Gull", 300, 1), ("Rook", 1, 300))


def test_a_boats_name_in_a_rig_or_a_title_is_not_told() -> None:
    assert (
        without_boats("The year of the bold_thistle", ["Bold Thistle"]) == "The year of the a boat"
    )
    assert without_boats("Skuas and auklets", ["Skua", "Auk"]) == "Skuas and auklets"
    called = labels_without_boats(
        ["Skua discs", "auk discs", "sand"], ["Skua", "Auk", "Sand"], ["sand"]
    )
    assert called == {
        "Skua discs": "a boat discs",
        "auk discs": "a boat discs (2)",
        "sand": "sand",
    }


def test_a_rectangle_is_named_where_enough_boats_fished() -> None:
    def hauls(*hours: float) -> pl.DataFrame:
        places = {"latitude": 57.7, "longitude": 1.4}
        return pl.DataFrame(
            [{"vessel": BOATS[at], "tow_hours": h, **places} for at, h in enumerate(hours)]
        )

    assert rectangles(hauls(5.0, 5.0, 5.0), Sharing()) == ["44F1"]
    assert rectangles(hauls(5.0, 5.0), Sharing()) == []
    assert rectangles(hauls(5.0, 5.0, 90.0), Sharing()) == []


def test_why_rows_were_set_aside_is_told_without_what_they_say() -> None:
    reasons = {"must be more than 0 h (Skua)": 12, "must be 1 or more": 3, "rhymes with Skua": 4}
    rows = [{"table": "hauls", "reason": why, "rows": many} for why, many in reasons.items()]
    assert set_aside_by_kind(rows) == [
        {"table": "hauls", "why": OTHER, "rows": None},
        {"table": "hauls", "why": "out of bounds", "rows": 15},
    ]


def test_where_the_co_ops_files_lie() -> None:
    assert coop_folder(["coop"], []) == ""
    assert coop_folder(["coop"], ["Skua"]) == coop_folder(["skipper", "coop"], []) == "co-op"


@pytest.mark.parametrize(
    ("readers", "boats", "told"),
    [
        (["coop"], [], "out, whole."),
        (["skipper", "coop"], [], "out/co-op, whole. Beside it lies what names boats and hauls."),
        (["coop"], ["Skua"], "out/co-op, whole. Beside it lies a boat's page, which is for that"),
    ],
)
def test_the_terminal_says_which_folder_may_be_handed_on(
    readers: list[str], boats: list[str], told: str
) -> None:
    assert to_hand_on(Path("out"), readers, boats).startswith(f"To hand on: the folder {told}")


def test_the_files_of_boats_pages_say_nothing_of_letters() -> None:
    assert boat_pages(["Ørn", "Skua II", "Skua-II", "海"]) == {
        "Ørn": "boat-rn.html",
        "Skua II": "boat-skua-ii.html",
        "Skua-II": "boat-skua-ii-2.html",
        "海": "boat-page.html",
    }


@pytest.mark.parametrize(("boats", "told"), [(4, False), (5, True)])
def test_the_mean_without_a_boat_is_told_to_it_where_the_others_are_many(
    boats: int, *, told: bool
) -> None:
    row = of_boats(boats)
    findings = {
        "season": {"vessels": BOATS[:boats], "grounds": ["mud"]},
        "outcomes": [{"name": "damage_events", "better": "lower"}],
        "rigs": [{"rig_version": "discs"}],
        "boats": [row],
    }
    of_coop = {
        **dict.fromkeys(("season", "sharing", "outcomes", "rigs", "cells", "unknown_damage")),
        "boats": [shared(row)],
    }
    hours = dict.fromkeys(("tow_hours", "damage_hours", "catch_hours"), 8.0)
    amounts = dict.fromkeys(("damage_events", "bottom_living_kg", "other_kg"), 2.0)
    contributions = pl.DataFrame(
        [{"vessel": "Auk", "rig_version": "discs", "ground": "mud", "hauls": 2, **hours, **amounts}]
    )
    own = own_findings(findings, of_coop, contributions, "Auk", Sharing())
    assert (own["ratios"][0]["mean_without"] is not None) == told
    assert own["ratios"][0]["gains"]
    assert [cell["damage_events_per_hour"] for cell in own["own"]] == [0.25, 0.25]
    assert not [boat for boat in BOATS[1:] if boat in str(own)]


@pytest.mark.parametrize(
    ("places", "by"),
    [
        ([], []),
        (["44F1", "44F2"], ["by ICES rectangle: 44F1 and 44F2."]),
        (["57N 171W"], ["by square of one degree, named by its south-west corner: 57N 171W."]),
        (
            ["44F1", "57N 171W"],
            ["by ICES rectangle, and outside their area by square of one degree"],
        ),
    ],
)
def test_places_are_called_what_they_are(places: list[str], by: list[str]) -> None:
    said = where_fished({"rectangles": places})
    assert len(said) == len(by)
    assert all(words in each for words, each in zip(by, said, strict=True))

"""How far boats agree, as a co-op may see it.

A boat's own ratio is a figure of one boat, so it is shown only where the boat agrees to it: by
name, or under a letter where enough boats stand under letters. Of the others the mean is shown, if
it is of enough boats and none weighs most of it.

What a reader could work out. The mean and its interval are two equations; each boat has a ratio and
an error, both unknown but to itself, so with three boats a boat that reads is left with four
unknowns. How far boats differ (the spread, and where a further boat might lie) makes that four
equations, and the others' ratios could be solved for: so it is shown only with one boat more than
must be in a mean. Boats that are shown are known to all: the rest must be enough by themselves, or
none is shown. Under a letter a ratio stands to two figures and without its limits: one boat's are
about as wide with every rig, so that by them its letters could be laid together. How many boats
would gain is shown only where those that would and those that would not are both enough: "all of
them" would tell of each. All figures are rounded.
"""

from __future__ import annotations

from enum import StrEnum
from math import log
from typing import TYPE_CHECKING, Any

from pipeline.sharing.resting import no_boat_is_most

if TYPE_CHECKING:
    from collections.abc import Mapping

    from schemas.settings import Sharing

Row = dict[str, Any]


class WhyNotShown(StrEnum):
    """Why a boat that agrees to stand in the co-op's report does not stand there with a rig."""

    NO_RATIO = "it has no ratio of its own"
    NO_MEAN = "no mean over boats may be shown"
    FEW_LETTERS = "few boats with a ratio agreed to a letter"
    FEW_LEFT = "few boats with a ratio would be left"


MORE_THAN_CHANCE = 0.05
"""As much difference as boats without any show in fewer than one season of twenty."""


def three_figures(value: float | None) -> float | None:
    """A number as it is shared, to three figures."""
    return None if value is None else float(f"{value:.3g}")


def shared_boats(row: Row, better: str, called: Mapping[str, str], sharing: Sharing) -> Row:
    """Of one rig's row of findings["boats"] what may be shared; blank (null) what may not.

    `better` is the way that a skipper would want the outcome to go, lower or higher; `called` what
    boats are called that agree to be shown.
    """
    told = [boat for boat in row["boats"] if boat["log_ratio"] is not None]
    shown = _shown(told, called, sharing)
    rest = [boat for boat in told if boat not in shown]
    mean = row["mean"] if _may_be_pooled(row, told, sharing) else None
    differ = mean is not None and (not rest or len(rest) > sharing.min_vessels)
    return {
        **{name: row[name] for name in ("outcome", "rig", "reference")},
        "boats_with_a_ratio": len(told) if mean else None,
        "mean": None if mean is None else _mean(mean, differ=differ),
        "would_gain": _would_gain(told, rest, better, sharing) if mean else None,
        "boats": sorted((_own(boat, called) for boat in shown), key=lambda own: own["vessel"]),
    }


def _shown(told: list[Row], called: Mapping[str, str], sharing: Sharing) -> list[Row]:
    """The boats that are shown: they agree, and nothing keeps them back."""
    kept_back = _kept_back([boat["vessel"] for boat in told], sharing)
    agreed = [boat for boat in told if boat["vessel"] in called]
    return [boat for boat in agreed if not any(boat["vessel"] in of for of in kept_back.values())]


def _kept_back(told: list[str], sharing: Sharing) -> dict[WhyNotShown, list[str]]:
    """Of the boats with a ratio those that agree and are not shown, by why.

    Letters must be many, and the boats that are left enough or none.
    """
    lettered = [boat for boat in told if boat in sharing.consent_under_letter]
    few = lettered if len(lettered) < sharing.min_vessels else []
    agreed = [boat for boat in told if boat in sharing.agreeing and boat not in few]
    left = len(told) - len(agreed)
    return {
        WhyNotShown.FEW_LETTERS: few,
        WhyNotShown.FEW_LEFT: agreed if 0 < left < sharing.min_vessels else [],
    }


def not_shown(row: Row, sharing: Sharing) -> dict[WhyNotShown, list[str]]:
    """Of one rig's row of findings["boats"] the boats that agree and that no page shows, by why."""
    told = [boat["vessel"] for boat in row["boats"] if boat["log_ratio"] is not None]
    agreed = [boat["vessel"] for boat in row["boats"] if boat["vessel"] in sharing.agreeing]
    without = {WhyNotShown.NO_RATIO: [boat for boat in agreed if boat not in told]}
    with_ratio = [boat for boat in row["boats"] if boat["vessel"] in told]
    if not _may_be_pooled(row, with_ratio, sharing):
        return {**without, WhyNotShown.NO_MEAN: [boat for boat in agreed if boat in told]}
    return {**without, **_kept_back(told, sharing)}


def _may_be_pooled(row: Row, told: list[Row], sharing: Sharing) -> bool:
    """Whether there is a mean, of enough boats, none of which weighs most of it."""
    if row["mean"] is None or len(told) < sharing.min_vessels:
        return False
    spread = row["mean"]["spread"]
    return no_boat_is_most([1 / (boat["error_as_pooled"] ** 2 + spread) for boat in told], sharing)


def _mean(mean: Row, *, differ: bool) -> Row:
    """The mean with its interval and verdict; and how far boats differ, if that may be told."""
    further = {name: three_figures(mean[name]) for name in ("further_low", "further_high")}
    return {
        **{name: three_figures(mean[name]) for name in ("ratio", "low", "high")},
        "verdict": mean["verdict"],
        **(further if differ else dict.fromkeys(further)),
        "share_beyond_chance": round(mean["share_beyond_chance"], 1) if differ else None,
        "more_than_chance": mean["chance_of_as_much"] < MORE_THAN_CHANCE if differ else None,
    }


def would_gain(ratio: float, better: str) -> bool:
    """Whether a boat with this ratio lies on the side that a skipper would want."""
    return ratio < 1 if better == "lower" else ratio > 1


def _would_gain(told: list[Row], rest: list[Row], better: str, sharing: Sharing) -> int | None:
    """How many boats' own ratios lie on the better side; None where that tells of single boats."""
    gaining = [boat for boat in rest if would_gain(boat["ratio"], better)]
    if rest and min(len(gaining), len(rest) - len(gaining)) < sharing.min_vessels:
        return None
    return sum(would_gain(boat["ratio"], better) for boat in told)


def _own(boat: Row, called: Mapping[str, str]) -> Row:
    """A boat's own ratio: by name with its limits, under a letter without, and to two figures."""
    name = called[boat["vessel"]]
    if name != boat["vessel"]:
        ratio = float(f"{boat['ratio']:.2g}")
        own = {"ratio": ratio, "low": None, "high": None, "log_ratio": three_figures(log(ratio))}
    else:
        own = {of: three_figures(boat[of]) for of in ("ratio", "low", "high", "log_ratio")}
    return {"vessel": name, **own, "shrunken_ratio": None}

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

from math import log
from typing import TYPE_CHECKING, Any

from pipeline.sharing.resting import no_boat_is_most

if TYPE_CHECKING:
    from collections.abc import Mapping

    from schemas.settings import Sharing

Row = dict[str, Any]

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
    """The boats that are shown: they agree, letters are many, and the rest are enough or none."""
    lettered = [
        boat for boat in told if called.get(boat["vessel"], boat["vessel"]) != boat["vessel"]
    ]
    hidden_letters = lettered if len(lettered) < sharing.min_vessels else []
    shown = [boat for boat in told if boat["vessel"] in called and boat not in hidden_letters]
    rest = len(told) - len(shown)
    return shown if rest == 0 or rest >= sharing.min_vessels else []


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

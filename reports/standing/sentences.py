"""How the report allows for many looks, and what a season that tells too little could have told."""

from __future__ import annotations

from math import ceil, floor, log10
from typing import TYPE_CHECKING

from reports.ratio_words import amount
from reports.sentences import TOO_LITTLE, is_told

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

Key = tuple[str, str, str]

HALVING = 2.0
NO_DIFFERENCE = 100.0
"""What could have shown only a hundredfold could have shown nothing; own judgement."""


def looks_words(findings: Findings) -> str:
    """How many headline comparisons there were, and how the report allowed for them."""
    looks = findings["standing"]["looks"]
    many = looks["comparisons"]
    if many < 2:
        return "There is no more than one headline comparison, so nothing need be allowed for."
    counted = f"There are {many} headline comparisons: each rig that was fished side by side with "
    counted += f"{findings['season']['reference_rig']}, in each headline outcome, over all grounds."
    if not looks["allowed_for"]:
        return (
            f"{counted} The season settled beforehand that each stands by itself, so of twenty "
            "that are nothing one may seem clear by luck."
        )
    return (
        f"{counted} If each were judged by itself, one or another would seem clear by luck. So a "
        "rig is called lower, higher or no different only where its interval says so when all "
        f"{many} are to hold together, 19 times in 20. That interval is wider than the one by "
        "itself, which is shown beside it. How it is done was settled before the figures were "
        "looked at."
    )


def planned(findings: Findings) -> dict[Key, Row]:
    """What could have been shown, by outcome, rig and part of the record."""
    rows = findings["standing"]["planning"]
    return {(row["outcome"], row["rig"], row["part"]): row for row in rows}


def plan_of(effect: Row, plans: dict[Key, Row]) -> Row | None:
    """What could have been shown, where there is too little to tell; else None."""
    if not is_told(effect) or effect["verdict"] != TOO_LITTLE:
        return None
    return plans.get((effect["outcome"], effect["rig"], effect["part"]))


def could_have_shown(plan: Row, outcome: Row) -> str:
    """What the season could have shown, and how many hauls are wanted, as one sentence."""
    if plan["lower"] is None:
        return (
            "One of the two had none, so it can't be said how many hauls are wanted to tell more."
        )
    shown = "This season could have shown no difference short of a hundredfold"
    if plan["higher"] < NO_DIFFERENCE:
        shown = (
            f"This season could have shown a difference of {amount(plan['lower'], outcome)} or "
            f"{amount(plan['higher'], outcome)}, or a larger one"
        )
    return f"{shown}; {hauls_wanted(plan, outcome)}."


def hauls_wanted(plan: Row, outcome: Row) -> str:
    """How many hauls of each rig show a halving, and what else matters in the outcome."""
    if plan["hauls_for_halving"] is None:
        return "to see a halving, more hauls are wanted than are ever fished"
    said = (
        f"to see a halving about {_about(plan['hauls_for_halving'])} hauls of each rig are wanted"
    )
    if plan["matters"] == HALVING:
        return said
    less = amount(1 / plan["matters"], outcome)
    if plan["hauls_for_what_matters"] is None:
        return f"{said}, and to see {less}, more than are ever fished"
    return f"{said}, and about {_about(plan['hauls_for_what_matters'])} to see {less}"


def shown_cells(plan: Row | None) -> list[str]:
    """The ratios that could have been shown, and the hauls for a halving, as cells of a table."""
    if plan is None or plan["lower"] is None:
        return ["", ""]
    halving = plan["hauls_for_halving"]
    shown = (
        f"{plan['lower']:.2f} or {plan['higher']:.2f}" if plan["higher"] < NO_DIFFERENCE else "none"
    )
    return [shown, "too many" if halving is None else _about(halving)]


SHOWN_HEADERS = ["could have shown", "hauls of each for a halving"]


def matters_words(findings: Findings) -> str:
    """Which differences are taken as worth knowing, in which outcomes."""
    by_ratio: dict[float, list[str]] = {}
    for outcome in findings["outcomes"]:
        by_ratio.setdefault(outcome["matters"], []).append(outcome["title"].lower())
    said = [
        f"{_worth_knowing(ratio)} for {', '.join(titles)}"
        for ratio, titles in sorted(by_ratio.items(), reverse=True)
    ]
    return f"Worth knowing is taken to be {'; '.join(said)} (smallest_that_matters in season.toml)."


def _worth_knowing(ratio: float) -> str:
    if ratio == HALVING:
        return "a halving or a doubling"
    return f"{(1 - 1 / ratio) * 100:.0f} % less or {(ratio - 1) * 100:.0f} % more"


def _about(hauls: int) -> str:
    """The hauls to two figures, upwards."""
    step = 10 ** max(floor(log10(hauls)) - 1, 0)
    return f"{ceil(hauls / step) * step:,}"

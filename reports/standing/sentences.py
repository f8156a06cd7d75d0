"""How the report allows for many looks, and what a season that tells too little could have told."""

from __future__ import annotations

from math import ceil, floor, log10
from typing import TYPE_CHECKING

from reports.cells import ratio_cell
from reports.language import number, say
from reports.ratio_words import amount
from reports.sentences import is_told, title_of
from schemas.codes import Verdict
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Sequence

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
        return say("There is no more than one headline comparison, so nothing need be allowed for.")
    allowed_for = ALLOWED_FOR_BOTH if many == 2 else ALLOWED_FOR
    return " ".join(
        [
            say(COUNTED, many=many, reference=findings["season"]["reference_rig"]),
            say(allowed_for if looks["allowed_for"] else EACH_BY_ITSELF, many=many),
        ]
    )


COUNTED = saying(
    "There are {many} headline comparisons: each rig that was fished side by side with "
    "{reference}, if only in a part of the record, in each headline outcome, over all grounds."
)
EACH_BY_ITSELF = saying(
    "The season settled beforehand that each stands by itself, so of twenty that are nothing one "
    "may seem clear by luck."
)
ALLOWED_FOR = saying(
    "If each were judged by itself, one or another would seem clear by luck. So a rig is called "
    "lower, higher or no different only where its interval says so when all {many} are to hold "
    "together, 19 times in 20. That interval is wider than the one by itself, which is shown "
    "beside it. How it is done was settled before the figures were looked at."
)


ALLOWED_FOR_BOTH = saying(
    "If each were judged by itself, one or the other might seem clear by luck. So a rig is called "
    "lower, higher or no different only where its interval says so when both are to hold "
    "together, 19 times in 20. That interval is wider than the one by itself, which is shown "
    "beside it. How it is done was settled before the figures were looked at."
)


def planned(findings: Findings) -> dict[Key, Row]:
    """What could have been shown, by outcome, rig and part of the record."""
    rows = findings["standing"]["planning"]
    return {(row["outcome"], row["rig"], row["part"]): row for row in rows}


def plan_of(effect: Row, plans: dict[Key, Row]) -> Row | None:
    """What could have been shown, where there is too little to tell; else None."""
    if not is_told(effect) or effect["verdict"] != Verdict.TOO_LITTLE:
        return None
    return plans.get((effect["outcome"], effect["rig"], effect["part"]))


def could_have_shown(plan: Row, outcome: Row) -> str:
    """What the season could have shown, and how many hauls are wanted, as one sentence."""
    if plan["lower"] is None:
        return say(
            "One of the two had none, so it can't be said how many hauls are wanted to tell more."
        )
    wanted = "".join(f"; {words}" for words in hauls_wanted(plan, outcome))
    if plan["higher"] >= NO_DIFFERENCE:
        return say(
            "This season could have shown no difference short of a hundredfold{wanted}.",
            wanted=wanted,
        )
    return say(
        "This season could have shown a difference of {lower} or {higher}, or a larger one"
        "{wanted}.",
        lower=amount(plan["lower"], outcome),
        higher=amount(plan["higher"], outcome),
        wanted=wanted,
    )


def hauls_wanted(plan: Row, outcome: Row) -> list[str]:
    """How many hauls of each rig show a halving, and what else matters in the outcome.

    Nothing of what this season could have shown, as it had hauls enough for it.
    """
    less = amount(1 / plan["matters"], outcome)
    if plan["could_show_halving"]:
        return _wanted_for_what_matters(plan, less)
    if plan["hauls_for_halving"] is None:
        return [say("to see a halving, more hauls are wanted than are ever fished")]
    hauls = _about(plan["hauls_for_halving"])
    if plan["matters"] == HALVING:
        return [say("to see a halving about {hauls} hauls of each rig are wanted", hauls=hauls)]
    return [_wanted_for_both(plan, hauls, less)]


def _wanted_for_what_matters(plan: Row, less: str) -> list[str]:
    """The hauls that show the least that matters, where the season could not have shown that."""
    if plan["could_show_what_matters"]:
        return []
    if plan["hauls_for_what_matters"] is None:
        return [say("to see {less}, more hauls are wanted than are ever fished", less=less)]
    more = _about(plan["hauls_for_what_matters"])
    return [say("to see {less} about {more} hauls of each rig are wanted", less=less, more=more)]


def _wanted_for_both(plan: Row, hauls: str, less: str) -> str:
    """The hauls that show a halving, and those that show the least that matters."""
    if plan["hauls_for_what_matters"] is None:
        return say(
            "to see a halving about {hauls} hauls of each rig are wanted, and to see {less}, more "
            "than are ever fished",
            hauls=hauls,
            less=less,
        )
    return say(
        "to see a halving about {hauls} hauls of each rig are wanted, and about {more} to see "
        "{less}",
        hauls=hauls,
        more=_about(plan["hauls_for_what_matters"]),
        less=less,
    )


def shown_cells(plan: Row | None) -> list[str]:
    """The ratios that could have been shown, and the hauls for what matters, as cells."""
    if plan is None or plan["lower"] is None:
        return ["", ""]
    hauls = plan["hauls_for_what_matters"]
    if plan["could_show_what_matters"]:
        wanted = say("enough as it is")
    else:
        wanted = say("too many") if hauls is None else _about(hauls)
    shown = (
        say("{lower} or {higher}", **{end: ratio_cell(plan[end]) for end in ("lower", "higher")})
        if plan["higher"] < NO_DIFFERENCE
        else say("none")
    )
    return [shown, wanted]


def shown_headers(matters: set[float]) -> list[str]:
    """What stands over `shown_cells` of outcomes in which so many times as much matters."""
    if matters == {HALVING}:
        wanted = say("hauls of each for a halving")
    elif len(matters) == 1:
        less = (1 - 1 / min(matters)) * 100
        wanted = say("hauls of each for {less:.0f} % less", less=less)
    else:
        wanted = say("hauls of each for what is worth knowing")
    return [say("could have shown"), wanted]


def matters_words(findings: Findings, outcomes: Sequence[Row]) -> str:
    """Which differences are taken as worth knowing, in these outcomes, and who settled that."""
    by_ratio: dict[float, list[str]] = {}
    for outcome in outcomes:
        by_ratio.setdefault(outcome["matters"], []).append(title_of(outcome))
    said = [
        say("{amounts} for {outcomes}", amounts=_worth_knowing(ratio), outcomes=", ".join(titles))
        for ratio, titles in sorted(by_ratio.items(), reverse=True)
    ]
    its_own = any(row["key"] == "smallest_that_matters" for row in findings["method"]["settings"])
    return say(MATTERS_HERE if its_own else MATTERS, amounts="; ".join(said))


MATTERS = saying(
    "Worth knowing is taken to be {amounts}: the program's own bounds, of which season.toml may "
    "set others (smallest_that_matters)."
)
MATTERS_HERE = saying(
    "Worth knowing is taken to be {amounts}, as season.toml has it (smallest_that_matters)."
)


def _worth_knowing(ratio: float) -> str:
    if ratio == HALVING:
        return say("a halving or a doubling")
    return say(
        "{less:.0f} % less or {more:.0f} % more",
        less=(1 - 1 / ratio) * 100,
        more=(ratio - 1) * 100,
    )


def _about(hauls: int) -> str:
    """The hauls to two figures, upwards."""
    step = 10 ** max(floor(log10(hauls)) - 1, 0)
    return number(ceil(hauls / step) * step, ",")

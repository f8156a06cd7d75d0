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
    from collections.abc import Callable, Sequence

    from pipeline.findings import Findings
    from reports.parts import Column, Row

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
    if plan["by_chance"]:
        return say(BY_CHANCE, reference=plan["reference"], wanted=hauls_wanted(plan, outcome)[0])
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


BY_CHANCE = saying(
    "There is nothing but {reference}'s own rate to plan by: {wanted}, and more if trips differ by "
    "more than chance."
)


def hauls_wanted(plan: Row, outcome: Row) -> list[str]:
    """How many hauls of each rig show a halving, and what else matters in the outcome.

    Nothing of what this season could have shown, as it had hauls enough for it.
    """
    less = amount(plan["matters_reads"], outcome)
    halving, mattering = plan["hauls_for_halving"], plan["hauls_for_what_matters"]
    if plan["could_show_halving"]:
        wanted = say(WANTED if mattering else NEVER, what=less, **_hauls_on_trips(mattering, plan))
        return [] if plan["could_show_what_matters"] else [wanted]
    wanted = say(
        WANTED if halving else NEVER,
        what=_a_halving(plan, outcome),
        **_hauls_on_trips(halving, plan),
    )
    if plan["matters"] == HALVING or not halving:
        return [wanted]
    more = AND_WANTED if mattering else AND_NEVER
    return [say(more, wanted=wanted, what=less, **_hauls_on_trips(mattering, plan))]


WANTED = saying("to see {what} about {hauls} hauls of each rig on {trips} trips are wanted")
NEVER = saying("to see {what}, more hauls are wanted than are ever fished")
AND_WANTED = saying("{wanted}, and about {hauls} on {trips} trips to see {what}")
AND_NEVER = saying("{wanted}, and to see {what}, more than are ever fished")


def _a_halving(plan: Row, outcome: Row) -> str:
    """A halving; of tears, where hauls with some are told, with how it reads in those."""
    reads = amount(plan["halving_reads"], outcome)
    if plan["halving_reads"] == 1 / HALVING:
        return say("a halving")
    return say("a halving of tears (hauls with damage {reads})", reads=reads)


def _hauls_on_trips(hauls: int | None, plan: Row) -> dict[str, str]:
    """So many hauls of each rig, and the trips for them where they are as long as this season's."""
    if hauls is None:
        return {}
    return {"hauls": _about(hauls), "trips": _about(ceil(hauls * plan["trips_per_haul"]))}


def shown_columns(matters: set[float], plans: dict[Key, Row]) -> list[Column]:
    """The ratios that could have been shown, and the hauls for what matters.

    Of effects on outcomes in which so many times as much matters.
    """

    def of_plan(cell: Callable[[Row], str]) -> Callable[[Row], str]:
        def told(effect: Row) -> str:
            plan = plan_of(effect, plans)
            return "" if plan is None or plan["lower"] is None else cell(plan)

        return told

    if matters == {HALVING}:
        wanted = say("hauls of each for a halving")
    elif len(matters) == 1:
        less = (1 - 1 / min(matters)) * 100
        wanted = say("hauls of each for {less:.0f} % less", less=less)
    else:
        wanted = say("hauls of each for what is worth knowing")
    return [(say("could have shown"), of_plan(_shown)), (wanted, of_plan(_wanted))]


def _shown(plan: Row) -> str:
    """The ratios that could have been shown."""
    if plan["higher"] >= NO_DIFFERENCE:
        return say("none")
    return say("{lower} or {higher}", **{end: ratio_cell(plan[end]) for end in ("lower", "higher")})


def _wanted(plan: Row) -> str:
    """How many hauls show what matters."""
    if plan["could_show_what_matters"]:
        return say("enough as it is")
    hauls = plan["hauls_for_what_matters"]
    return say("too many") if hauls is None else say(ON_TRIPS, **_hauls_on_trips(hauls, plan))


ON_TRIPS = saying("{hauls} on {trips} trips")


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

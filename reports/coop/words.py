"""What is said of rigs over boats, of what is shared and of what is hidden."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from pipeline.sharing.share_table import said_of_hidden
from reports.boats.sentences import (
    BEYOND_CHANCE,
    NO_MORE_THAN_CHANCE,
    ON_A_FURTHER_BOAT,
    WIDEST_TOLD,
)
from reports.language import day_of, say, say_many
from reports.ratio_words import amount, span
from reports.sentences import (
    NOT_SIDE_BY_SIDE,
    is_clear_verdict,
    is_told,
    listed,
    title_of,
)
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

NOT_HOW_FAR = saying(
    "How far boats differ is not shown: of so few it would let one boat work out the others."
)
NOT_HOW_MANY = saying(
    "How many boats would gain is not shown, as it would tell of single boats; each boat's own "
    "page says whether it would."
)


def months(season: Row) -> str:
    """From the first month to the last: Jan to Dec 2031."""
    if season["first_month"] is None:
        return ""
    first, last = (date.fromisoformat(f"{season[f'{end}_month']}-01") for end in ("first", "last"))
    if first == last:
        return day_of(first, "MMM y")
    return say(
        "{first} to {last}",
        first=day_of(first, "MMM" if first.year == last.year else "MMM y"),
        last=day_of(last, "MMM y"),
    )


def over_all(findings: Findings, outcome: str) -> list[Row]:
    """The ratios of an outcome over all grounds that are shared and have limits."""
    return [
        effect
        for effect in findings["effects"]
        if effect["outcome"] == outcome and effect["ground"] == ALL_GROUNDS and is_told(effect)
    ]


def pooled(findings: Findings, outcome: str) -> list[Row]:
    """The rigs of which a mean over boats is shared."""
    return [row for row in findings["boats"] if row["outcome"] == outcome and row["mean"]]


def mean_words(row: Row, outcome: Row) -> str:
    """The mean over boats, and how sure: the mean of 3 boats is 30 % less often (…)."""
    mean = row["mean"]
    return say(
        MEAN if is_clear_verdict(mean["verdict"]) else MEAN_IN_DOUBT,
        boats=row["boats_with_a_ratio"],
        amount=amount(mean["ratio"], outcome, mean["high"]),
        span=span(mean["low"], mean["high"], outcome),
        verdict=say(mean["verdict"]),
    )


MEAN = saying("Mean of {boats} boats, each held to itself: {amount} ({span}).")
MEAN_IN_DOUBT = saying("Mean of {boats} boats, each held to itself: {amount} ({span}), {verdict}.")


def over_boats_words(row: Row, outcome: Row) -> list[str]:
    """The mean over boats, how far they differ and how many would gain, as far as it is told."""
    words = (mean_words(row, outcome), differ_words(row, outcome), gain_words(row, outcome))
    return [each for each in words if each]


def what_means_hide(findings: Findings) -> list[str]:
    """What is not told of the means that are shown, once for all."""
    rows = [row for row in findings["boats"] if row["mean"]]
    said = []
    if any(row["mean"]["more_than_chance"] is None for row in rows):
        said.append(say(NOT_HOW_FAR))
    if any(row["would_gain"] is None for row in rows):
        said.append(say(NOT_HOW_MANY))
    return said


def differ_words(row: Row, outcome: Row) -> str:
    """How far boats differ, where that may be told: a further boat, and more than chance or not."""
    mean = row["mean"]
    if mean["more_than_chance"] is None:
        return ""
    low, high = mean["further_low"], mean["further_high"]
    further = (
        say("How a further boat would do can't be told.")
        if high > WIDEST_TOLD * low
        else say(ON_A_FURTHER_BOAT, span=span(low, high, outcome))
    )
    if not mean["more_than_chance"]:
        return f"{say(NO_MORE_THAN_CHANCE)} {further}"
    return f"{say(BEYOND_CHANCE, percent=mean['share_beyond_chance'] * 100)} {further}"


def gain_words(row: Row, outcome: Row) -> str:
    """How many boats see what a skipper would want, where that may be told."""
    many, told = row["boats_with_a_ratio"], row["would_gain"]
    if told is None:
        return ""
    wanted = outcome["less"] if outcome["better"] == "lower" else outcome["more"]
    return say(
        "By its own ratio {told} of {many} boats had {outcome} {wanted}.",
        told=told,
        many=many,
        outcome=title_of(outcome),
        wanted=say(wanted),
    )


def rigs_apart(findings: Findings) -> list[str]:
    """The rigs hardly fished side by side with the reference, of which no mean is shown either."""
    heads = findings["season"]["headlines"]
    apart = {e["rig"] for e in findings["effects"] if _is_headline(e, heads) and _is_apart(e)}
    return sorted(apart - {row["rig"] for name in heads for row in pooled(findings, name)})


def not_shared(findings: Findings) -> list[str]:
    """Why of some rigs no difference over all hauls is shown, a sentence a reason."""
    reference, heads = findings["season"]["reference_rig"], findings["season"]["headlines"]
    shown = {e["rig"] for e in findings["effects"] if _is_headline(e, heads) and not _is_apart(e)}
    told = {reference, *shown, *rigs_apart(findings)}
    rest = [rig["rig_version"] for rig in findings["rigs"] if rig["rig_version"] not in told]
    hidden = {cell["rig"] for cell in findings["cells"] if _is_hidden_total(cell)}
    if reference in hidden:
        return _why(REFERENCE_HIDDEN, rest, reference)
    return [
        *_of_hidden_rigs([rig for rig in rest if rig in hidden]),
        *_why(FEW_BESIDE, [rig for rig in rest if rig not in hidden], reference),
        *([say(NO_PART)] if rigs_apart(findings) else []),
    ]


REFERENCE_HIDDEN = saying(
    "The hours of {reference} are hidden, so of {rigs} no difference over all hauls is shown."
)
FEW_BESIDE = saying(
    "Of {rigs} no difference over all hauls is shown: too few boats fished both that and "
    "{reference}, or one boat did most of it, or the two were side by side in a part of the record "
    "only."
)
NO_PART = saying(
    "Of a part of the record no difference is shown, even where one can be told: on whose hauls "
    "it rests is known of the whole record only."
)
"""Why hours are hidden is not said, as that would tell of the boats."""


def _of_hidden_rigs(rigs: list[str]) -> list[str]:
    """Of which rigs nothing is shown, as their hours are hidden; nothing where there is none."""
    if not rigs:
        return []
    return [
        say_many(
            "The hours of {rigs} are hidden, so for this rig no difference over all hauls is "
            "shown.",
            "The hours of {rigs} are hidden, so for these {number} rigs no difference over all "
            "hauls is shown.",
            len(rigs),
            rigs=listed(rigs),
        )
    ]


def _why(words: str, rigs: list[str], reference: str) -> list[str]:
    return [say(words, rigs=listed(rigs), reference=reference)] if rigs else []


def _is_headline(effect: Row, headlines: list[str]) -> bool:
    """Whether it is over all grounds, of an outcome that the page leads with."""
    return effect["ground"] == ALL_GROUNDS and effect["outcome"] in headlines


def _is_apart(effect: Row) -> bool:
    return NOT_SIDE_BY_SIDE in effect["cautions"]


def _is_hidden_total(cell: Row) -> bool:
    return cell["ground"] is None and not cell["shown"]


def hidden_words(sharing: Row) -> str:
    """How many cells of the tables were hidden, and why."""
    bounds = sharing["min_vessels"], sharing["max_share"]
    return said_of_hidden(sharing["hidden_for"], sharing["cells"], *bounds, tell=say)

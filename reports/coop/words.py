"""What is said of rigs over boats, of what is shared and of what is hidden."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.sharing.share_table import said_of_hidden
from reports.boats.sentences import (
    BEYOND_CHANCE,
    NO_MORE_THAN_CHANCE,
    ON_A_FURTHER_BOAT,
    WIDEST_TOLD,
)
from reports.cells import outcomes_of, over_all_grounds
from reports.doubts import not_in_turn, not_so_otherwise
from reports.language import say, say_many
from reports.ratio_words import amount, span
from reports.sentences import VERDICT_WORDS, is_clear_verdict, is_told, listed, title_of
from schemas.codes import Caution
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

FURTHER_UNTOLD = saying("How a further boat would do can't be told.")
NOT_HOW_FAR = saying(
    "How far boats differ with {rigs} is not shown: of so few it would let one boat work out the "
    "others."
)
NOT_HOW_MANY = saying(
    "On how many boats {rigs} did better is not shown, as it would tell of single boats; each "
    "boat's own page has its own ratio."
)


def over_all(findings: Findings, outcome: str) -> list[Row]:
    """The ratios of an outcome over all grounds that are shared and have limits."""
    return list(filter(is_told, over_all_grounds(findings["effects"], outcome)))


def gainsaid(findings: Findings, outcome: str, rig: str | None = None) -> list[str]:
    """What hauls more alike say against the ratios of an outcome that are shown, of a rig's."""
    told = [effect for effect in over_all(findings, outcome) if rig in {None, effect["rig"]}]
    return [*not_so_otherwise(told, findings), *not_in_turn(told)]


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
        verdict=say(VERDICT_WORDS[mean["verdict"]]),
    )


MEAN = saying("Mean of {boats} boats, each held to itself: {amount} ({span}).")
MEAN_IN_DOUBT = saying("Mean of {boats} boats, each held to itself: {amount} ({span}), {verdict}.")


def over_boats_words(row: Row, outcome: Row) -> list[str]:
    """The mean over boats, how far they differ and how many would gain, as far as it is told."""
    words = (mean_words(row, outcome), differ_words(row, outcome), gain_words(row, outcome))
    return [each for each in words if each]


def what_means_hide(findings: Findings) -> list[str]:
    """What is not told of the means that are shown, once for all rigs of which it is not."""
    outcomes = outcomes_of(findings)
    rows = [row for name in findings["season"]["headlines"] for row in pooled(findings, name)]
    not_how_far = [row for row in rows if row["mean"]["more_than_chance"] is None]
    not_how_many = [row for row in rows if row["would_gain"] is None]
    return [
        say(words, rigs=rigs_of(hidden, rows, outcomes))
        for words, hidden in ((NOT_HOW_FAR, not_how_far), (NOT_HOW_MANY, not_how_many))
        if hidden
    ]


def rigs_of(hidden: list[Row], rows: list[Row], outcomes: dict[str, Row]) -> str:
    """The rigs of these rows; where it is told of another outcome of a rig, with the outcome."""
    of_rigs: dict[str, list[str]] = {}
    for row in hidden:
        of_rigs.setdefault(row["rig"], []).append(title_of(outcomes[row["outcome"]]))
    wholly = {rig for rig in of_rigs if len(of_rigs[rig]) == sum(r["rig"] == rig for r in rows)}
    return listed(
        [rig if rig in wholly else f"{rig} ({listed(titles)})" for rig, titles in of_rigs.items()]
    )


def differ_words(row: Row, outcome: Row) -> str:
    """How far boats differ, where that may be told: a further boat, and more than chance or not."""
    mean = row["mean"]
    if mean["more_than_chance"] is None:
        return ""
    differ = (
        say(BEYOND_CHANCE, percent=mean["share_beyond_chance"] * 100)
        if mean["more_than_chance"]
        else say(NO_MORE_THAN_CHANCE)
    )
    low, high = mean["further_low"], mean["further_high"]
    if not tells_of_a_further_boat(mean):
        return differ
    if high > WIDEST_TOLD * low:
        return f"{differ} {say(FURTHER_UNTOLD)}"
    return f"{differ} {say(ON_A_FURTHER_BOAT, span=span(low, high, outcome))}"


def tells_of_a_further_boat(mean: Row) -> bool:
    """Whether the limits for a further boat may be told, and are other than the mean's.

    They are the mean's where boats give no sign that they differ. Few boats hardly can, so that
    it would be too much to say of a further one.
    """
    limits, further = ((mean[f"{of}low"], mean[f"{of}high"]) for of in ("", "further_"))
    return None not in further and further != limits


def gain_words(row: Row, outcome: Row) -> str:
    """How many boats see what a skipper would want, where that may be told."""
    many, told = row["boats_with_a_ratio"], row["would_gain"]
    if told is None:
        return ""
    wanted = outcome["less"] if outcome["better"] == "lower" else outcome["more"]
    return say(
        "On {told} of {many} boats, each by its own ratio, it was {wanted}.",
        told=told,
        many=many,
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
    return Caution.NOT_SIDE_BY_SIDE in effect["cautions"]


def _is_hidden_total(cell: Row) -> bool:
    return cell["ground"] is None and not cell["shown"]


def hidden_words(sharing: Row) -> str:
    """How many cells of the tables were hidden, and why."""
    bounds = sharing["min_vessels"], sharing["max_share"]
    return said_of_hidden(sharing["hidden_for"], sharing["cells"], *bounds, tell=say)

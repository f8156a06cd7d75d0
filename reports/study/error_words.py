"""How the errors of the headline ratios were come by, counted from the effects themselves."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.rates.separated import ONCE_A_TRIP
from reports.language import say, say_many
from reports.sentences import is_told
from schemas.codes import ErrorsBy
from schemas.outcomes import outcome
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

ERROR_WORDS = {
    ErrorsBy.TRIP: saying(
        "errors by leaving out each trip in turn (two Newton steps each, the squared changes made "
        "to be the model's in the mean were each row's variance its mean), with t on the degrees "
        "of freedom that the trips have for that ratio"
    ),
    ErrorsBy.SANDWICH: saying(
        "errors clustered by trip (HC1: times G/(G − 1) and (n − 1)/(n − k) for G trips, n hauls "
        "and k terms), with t on the fewer trips of the two rigs less one"
    ),
    ErrorsBy.MODEL: saying(
        "the model's own errors (of hauls that had one or none, with p(1 − p) as the variance of "
        "each) and the normal"
    ),
    ErrorsBy.EXACT_LIMITS: saying(
        "exact limits given the events under each set of conditions that both met"
    ),
    ErrorsBy.PENALTY: saying("Firth's penalised likelihood, as the plain one has no end"),
}


EXACT_ONCE_A_TRIP = saying(
    "exact limits given the events under each set of conditions that both met (each trip that "
    "fished both there by itself; those of other trips count once a trip)"
)

UNEVEN = saying(
    "Of weights these are no more than as many trips, alike, would have that moved the ratio as "
    "unevenly as these did: a few large catches tell little of how trips differ."
)


def error_sentences(findings: Findings) -> list[str]:
    """Of the headline ratios: by what errors, how many of them and why; then the freedom of t."""
    effects = [e for e in findings["effects"] if e["p_adjusted"] is not None and is_told(e)]
    by_way: dict[tuple[str, str], int] = {}
    for effect in effects:
        way = _way(effect), effect["errors_reason"]
        by_way[way] = by_way.get(way, 0) + 1
    said = [
        _of_so_many(own, len(effects), errors, reason)
        for (errors, reason), own in sorted(by_way.items(), key=lambda item: -item[1])
    ]
    by_t = [effect for effect in effects if effect["freedom"] is not None]
    if by_t:
        freedoms = [effect["freedom"] for effect in by_t]
        said.append(_freedom(min(freedoms), max(freedoms)))
    if not all(outcome(effect["outcome"]).counted for effect in by_t):
        said.append(say(UNEVEN))
    return said


def _way(effect: Row) -> str:
    """How the limits were come by; exact ones that go by trips are a way apart."""
    once = ONCE_A_TRIP in effect["method"]
    return EXACT_ONCE_A_TRIP if once else ERROR_WORDS[effect["errors"]]


def _of_so_many(own: int, every: int, errors: str, reason: str) -> str:
    """By what errors so many of the headline ratios were judged, and why."""
    told = {"errors": say(errors), "reason": say(reason)}
    if own == every == 2:
        return say("Both headline ratios have {errors}, because {reason}.", **told)
    if own == every:
        return say_many(
            "The one headline ratio has {errors}, because {reason}.",
            "All {number} headline ratios have {errors}, because {reason}.",
            every,
            **told,
        )
    return say_many(
        "{number} of {every} headline ratios has {errors}, because {reason}.",
        "{number} of {every} headline ratios have {errors}, because {reason}.",
        own,
        every=every,
        **told,
    )


def _freedom(least: float, most: float) -> str:
    if round(least) == round(most):
        return say("Where t is used it has {freedom:.0f} degrees of freedom.", freedom=least)
    return say(
        "Where t is used it has {least:.0f} to {most:.0f} degrees of freedom.",
        least=least,
        most=most,
    )

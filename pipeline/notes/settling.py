"""What a note tells, settled between the rules, the weight of its words and their patterns.

The rules say what a note tells and how sure that is; the words weigh for and against it, and so do
patterns of words. How much each counts was learned on notes that the rules had never been tuned to
(`python -m tests.notes.learn_weights`), and stands in `settling.toml`. Where both agree the rules'
words and sureness stand; where they do not, the heavier is taken as a guess.
"""

from __future__ import annotations

import math
import tomllib
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, NamedTuple, cast

from pipeline.notes.told import Told

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.notes.clauses import Clause
    from pipeline.notes.damaged import Answer
    from pipeline.notes.patterns import Found
    from pipeline.notes.weighing import NoteWeighed

ANSWERS = ("no", "unknown", "yes")
"""What may be told of damage."""

TOLD_FROM = {"part": math.log(0.4 / 0.6), "cause": 0.0}
LIKELIEST_FROM = {"part": math.log(0.4 / 0.6), "cause": math.log(0.3 / 0.7)}
"""A part or a cause is told from the first log odds on, the likeliest of them from the second. By
writers not learned from, this lifts the F1 of causes by 0.6 points over a chance of 0.4 for all, as
most harm has one cause and few have two; that of parts it does not lift."""

OVERRULES = {"sure": 2.0, "likely": 2.0}
"""So many times as likely as what the rules are sure of, or find likely, an answer overrules it."""

DAMAGE_SOONER, LIKELIER = 1.8, 1.6
"""Damage counts for so many times as likely as it was found, and none is told only where it is then
still so many times as likely: what is torn between the two is not known. Of 13,700 notes by writers
not learned from, nearly half of those whose damage was read as none were told so no more, for seven
right answers in a thousand lost; with more of the second in place of the first, more are lost."""

WHOLE_NET, ADDED_WHOLE_FROM, SURELY_ADDED_WHOLE_FROM = "whole_net", 0.0, math.log(0.6 / 0.4)
"""That all of the net had a harm which the rules do not tell of it is added from even odds on, and
where they are sure of the harm from three to two only: many a note speaks of the net."""

MOST_WORDS = 3
"""So many words at most are named as those that an answer rests on."""

Names = Told[tuple[str, ...]]


class Settling(NamedTuple):
    """How much a score counts, and what each thing that the rules may say adds.

    `answers[said][answer]`, `score[answer][outcome]` and `pattern[answer][outcome]` are of damage;
    `names[section]` has what a rule's say adds to a part or a cause, `each[section]` what the name
    itself does, `by_score` and `by_pattern` how much its scores count. `uses[said][use]` and
    `by_use[use][other]` are of what a time was spent on. `learned_from` is a fingerprint of the
    notes.
    """

    learned_from: str
    answers: dict[str, dict[str, float]]
    score: dict[str, dict[str, float]]
    pattern: dict[str, dict[str, float]]
    names: dict[str, dict[str, float]]
    each: dict[str, dict[str, float]]
    by_score: dict[str, float]
    by_pattern: dict[str, float]
    uses: dict[str, dict[str, float]]
    by_use: dict[str, dict[str, float]]


@cache
def settling() -> Settling:
    """The numbers of `settling.toml`."""
    return Settling(**tomllib.loads((files(__package__) / "settling.toml").read_text("utf-8")))


def said_of_damage(told: Told[Answer | None]) -> str:
    """What the rules say of damage, as one name: the answer and how sure."""
    return f"{told.value or 'unknown'} {told.sure}"


def spoken_of(section: str, clauses: Sequence[Clause]) -> set[str]:
    """The parts or causes that a note speaks of, whatever it says of them."""
    return {item.meanings[section] for clause in clauses for item in clause.of(section)}


def said_of_name(name: str, told: Names, spoken: set[str]) -> str:
    """What the rules say of a part or a cause, as one name.

    It is told, sure, likely or as a guess; left out though the note speaks of it; or not spoken of,
    where another is told or none is.
    """
    if name in told.value:
        return told.sure
    if name in spoken:
        return "left out"
    return "another" if told.value else "none"


def settled_damage(
    told: Told[Answer | None], weighed: NoteWeighed, found: Found
) -> Told[Answer | None]:
    """Whether the net was damaged, by the rules, by the words' weight and by their patterns."""
    by = settling()
    of_rules = by.answers[said_of_damage(told)]
    sums = {
        answer: of_rules[answer]
        + sum(
            by.score[answer][other] * weighed.score(f"damaged {other}")
            + by.pattern[answer][other] * found.score(f"damaged {other}")
            for other in ANSWERS
        )
        for answer in ANSWERS
    }
    sums["yes"] += math.log(DAMAGE_SOONER)
    answer = max(ANSWERS, key=sums.__getitem__)
    by_rules = told.value or "unknown"
    if told.sure != "guess" and sums[answer] < sums[by_rules] + math.log(OVERRULES[told.sure]):
        answer = by_rules
    if answer == "no" and sums["no"] < sums["yes"] + math.log(LIKELIER):
        answer = "unknown"
    if answer == by_rules:
        return told
    value = cast("Answer | None", None if answer == "unknown" else answer)
    words = weighed.heaviest(f"damaged {answer}", MOST_WORDS)
    return Told(value, tuple(dict.fromkeys(words)), "guess")


def settled_names(
    section: str,
    names: tuple[str, ...],
    told: Names,
    weighed: NoteWeighed,
    found: Found,
    clauses: Sequence[Clause],
    *,
    sure_of_harm: bool,
) -> Names:
    """The damaged parts or the causes, by the rules, the words' weight and their patterns.

    The rules may be sure of a harm whatever they say of parts and causes.
    """
    by = settling()
    of_rules, each = by.names[section], by.each[section]
    by_score, by_pattern = by.by_score[section], by.by_pattern[section]
    spoken = spoken_of(section, clauses)
    odds = {
        name: of_rules[said_of_name(name, told, spoken)]
        + each[name]
        + by_score * weighed.score(outcome)
        + by_pattern * found.score(outcome)
        for name, outcome in zip(names, _outcomes(section, names), strict=True)
    }
    told_from = dict.fromkeys(names, TOLD_FROM[section])
    told_from[max(odds, key=odds.__getitem__)] = LIKELIEST_FROM[section]
    if WHOLE_NET in names and WHOLE_NET not in told.value:
        told_from[WHOLE_NET] = SURELY_ADDED_WHOLE_FROM if sure_of_harm else ADDED_WHOLE_FROM
    taken = _whole_or_parts(tuple(name for name in names if odds[name] >= told_from[name]))
    if set(taken) == set(told.value):
        return told
    added = [name for name in taken if name not in told.value]
    heaviest = [word for name in added for word in weighed.heaviest(f"{section} {name}", 1)]
    kept = told.words if set(taken) & set(told.value) else ()
    return Told(taken, tuple(dict.fromkeys((*kept, *heaviest))) if taken else (), "guess")


@cache
def _outcomes(section: str, names: tuple[str, ...]) -> list[str]:
    """The outcomes that are weighed, of each name."""
    return [f"{section} {name}" for name in names]


def _whole_or_parts(taken: tuple[str, ...]) -> tuple[str, ...]:
    """Where all of the net is gone, its parts are not told beside it."""
    return (WHOLE_NET,) if WHOLE_NET in taken else taken

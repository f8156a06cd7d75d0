"""What a note tells, settled between the rules, the weight of its words, their patterns, its gist.

The rules say what a note tells and how sure that is; the words weigh for and against it, and so do
patterns of words. Where these three are of one mind the rules' reading stands. Where they are not,
the gist of the note is asked for as well, and how much each counts then was learned on notes from
which nothing else was (`python -m tests.notes.learn_weights`); it stands in `settling.toml`. What
is not the rules' answer is taken as a guess.
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

CLEARLY = math.log(2)
"""Clear is what is twice as likely as not, or as another answer."""

NONE_FROM = math.log(7)
"""None is told only where its gist finds none so many times as likely as damage, and not where all
others find damage; else it is not known. Of 1,201 notes of damage by writers not learned from, 11
were read as none so, and 29 without it; of every hundred notes one more is not known for it."""

WHOLE_NET, ADDED_WHOLE_FROM = "whole_net", math.log(0.6 / 0.4)
"""That all of the net had a harm which the rules do not tell of it is added from three to two on:
many a note speaks of the net."""

MOST_WORDS = 3
"""So many words at most are named as those that an answer rests on."""

Names = Told[tuple[str, ...]]


class Settling(NamedTuple):
    """How much a score counts, and what each thing that the rules may say adds.

    `answers[said][answer]`, and by answer and outcome `score`, `pattern` and `gist`, are of damage;
    `names[section]` has what a rule's say adds to a part or a cause, `each[section]` what the name
    itself does, `by_score`, `by_pattern` and `by_gist` how much its scores count. `uses[said][use]`
    and `by_use[use][other]` are of what a time was spent on. `learned_from` is a fingerprint of the
    notes.
    """

    learned_from: str
    answers: dict[str, dict[str, float]]
    score: dict[str, dict[str, float]]
    pattern: dict[str, dict[str, float]]
    gist: dict[str, dict[str, float]]
    names: dict[str, dict[str, float]]
    each: dict[str, dict[str, float]]
    by_score: dict[str, float]
    by_pattern: dict[str, float]
    by_gist: dict[str, float]
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


def of_one_mind_on_damage(told: Told[Answer | None], weighed: NoteWeighed, found: Found) -> bool:
    """Whether the rules, the words' weight and their patterns clearly say the same of damage."""
    answer = told.value or "unknown"
    return told.sure != "guess" and all(
        said.score(f"damaged {answer}") >= said.score(f"damaged {other}") + CLEARLY
        for said in (weighed, found)
        for other in ANSWERS
        if other != answer
    )


def of_one_mind_on_names(
    section: str, names: tuple[str, ...], told: Names, weighed: NoteWeighed, found: Found
) -> bool:
    """Whether they clearly say the same of the damaged parts, or of the causes."""
    return all(
        said.score(outcome) >= CLEARLY if name in told.value else said.score(outcome) <= -CLEARLY
        for said in (weighed, found)
        for name, outcome in zip(names, _outcomes(section, names), strict=True)
    )


def settled_damage(
    told: Told[Answer | None], weighed: NoteWeighed, found: Found, gist: Found
) -> Told[Answer | None]:
    """Whether the net was damaged, by the rules, the words' weight, their patterns and the gist."""
    by = settling()
    of_rules = by.answers[said_of_damage(told)]
    sums = {
        answer: of_rules[answer]
        + sum(
            by.score[answer][other] * weighed.score(f"damaged {other}")
            + by.pattern[answer][other] * found.score(f"damaged {other}")
            + by.gist[answer][other] * gist.score(f"damaged {other}")
            for other in ANSWERS
        )
        for answer in ANSWERS
    }
    answer = max(ANSWERS, key=sums.__getitem__)
    if answer == "no" and not _may_be_none(told, weighed, found, gist):
        answer = "unknown"
    if answer == (told.value or "unknown"):
        return told
    value = cast("Answer | None", None if answer == "unknown" else answer)
    words = weighed.heaviest(f"damaged {answer}", MOST_WORDS)
    return Told(value, tuple(dict.fromkeys(words)), "guess")


def _likeliest(said: NoteWeighed | Found) -> str:
    return max(ANSWERS, key=lambda answer: said.score(f"damaged {answer}"))


def _may_be_none(
    told: Told[Answer | None], weighed: NoteWeighed, found: Found, gist: Found
) -> bool:
    """Whether none may be told."""
    others_find_damage = told.value == "yes" and all(
        _likeliest(said) == "yes" for said in (weighed, found)
    )
    margin = gist.score("damaged no") - gist.score("damaged yes")
    return margin >= NONE_FROM and not others_find_damage


def settled_names(
    section: str,
    names: tuple[str, ...],
    told: Names,
    weighed: NoteWeighed,
    found: Found,
    gist: Found,
    clauses: Sequence[Clause],
) -> Names:
    """The damaged parts or the causes, by the rules, the words' weight, patterns and the gist."""
    by = settling()
    of_rules, each = by.names[section], by.each[section]
    by_score, by_pattern = by.by_score[section], by.by_pattern[section]
    by_gist = by.by_gist[section]
    spoken = spoken_of(section, clauses)
    odds = {
        name: of_rules[said_of_name(name, told, spoken)]
        + each[name]
        + by_score * weighed.score(outcome)
        + by_pattern * found.score(outcome)
        + by_gist * gist.score(outcome)
        for name, outcome in zip(names, _outcomes(section, names), strict=True)
    }
    told_from = dict.fromkeys(names, TOLD_FROM[section])
    told_from[max(odds, key=odds.__getitem__)] = LIKELIEST_FROM[section]
    if WHOLE_NET in names and WHOLE_NET not in told.value:
        told_from[WHOLE_NET] = ADDED_WHOLE_FROM
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

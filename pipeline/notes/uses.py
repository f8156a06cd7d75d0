"""What each stretch of time in a note was spent on, settled between rules and learned weights.

The weights are of the words about a time, by where they stand from it, and of what else is known
of it (`time_features.py`): log odds, as those of the words of a note are (`weighing.py`). How much
they count beside what the rules say was learned on notes that the rules had not been tuned to
(`python -m tests.notes.learn_weights`).
"""

from __future__ import annotations

import math
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, NamedTuple, cast

import polars as pl

from pipeline.notes.remembered import Remembered
from pipeline.notes.settling import settling
from pipeline.notes.time_features import WHERES, WIDER, About, about_times

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from pipeline.notes.clauses import Clause
    from pipeline.notes.damaged import Answer
    from pipeline.notes.spent import Spell, Spent
    from pipeline.notes.tellings import Tellings
    from pipeline.notes.time_features import Facts, Thing

Weight = tuple[float, ...]
"""What something weighs for each of `USES`."""

USES = ("lost", "mending", "other")
"""What a time may have been spent on."""
CLEARLY = {"lost": 0.6, "mending": 0.6, "other": 0.95}
"""What the rules say of a time in this haul is overruled by what has at least this chance."""


def wider(thing: Thing) -> list[Thing]:
    """A thing about a time, and the same less narrowly placed: the next word is a near one too."""
    where, what = thing
    kind, _, place = where.partition(" ")
    return [(f"{kind} {each}", what) for each in WIDER[place]] if place in WIDER else [thing]


class UseWeights(NamedTuple):
    """What stands about a time weighs for each of `USES`, and what each weighs before it.

    `placed` has for each kind of words what a word weighs at each of `WHERES`.
    """

    before: Weight
    placed: tuple[Remembered[str, tuple[Weight, ...]], ...]
    facts: Remembered[Facts, Weight]

    def weigh(self, about: About) -> list[float]:
        """What all that stands about a time weighs together, for each of `USES`."""
        weights = [self.before, self.facts[about.facts]]
        for of_word, words in zip(self.placed, about[:-1], strict=True):
            weights += [of_word[word][at] for word, at in words]
        return list(map(sum, zip(*weights, strict=True)))


def use_weights_of(table: pl.DataFrame) -> UseWeights:
    """The weights in a table of `where`, `what` and a column for each of `USES`.

    What each weighs before anything is known stands in the row without a place.
    """
    row_of = {(where, what): tuple(weights) for where, what, *weights in table.rows()}
    nothing = (0.0,) * len(USES)

    def together(things: Iterable[Thing]) -> Weight:
        found = [row_of[each] for thing in things for each in wider(thing) if each in row_of]
        return tuple(map(sum, zip(nothing, *found, strict=True)))

    def placed(kind: str) -> Remembered[str, tuple[Weight, ...]]:
        weighed = {what for where, what in row_of if where.partition(" ")[0] == kind}
        nowhere = (nothing,) * len(WHERES)
        return Remembered(
            lambda word: (
                tuple(together([(f"{kind} {where}", word)]) for where in WHERES)
                if word in weighed
                else nowhere
            )
        )

    return UseWeights(
        row_of[("", "")],
        tuple(placed(kind) for kind in About._fields[:-1]),
        Remembered(lambda facts: together(facts.things())),
    )


@cache
def learned_uses() -> UseWeights:
    """The weights of `uses.parquet`."""
    with (files(__package__) / "uses.parquet").open("rb") as file:
        return use_weights_of(pl.read_parquet(file))


def settled_uses(told: Tellings, spells: Sequence[Spell], damaged: Answer | None) -> list[Spell]:
    """The stretches of time with what they were spent on, by the rules and the weights."""
    if damaged == "yes" and _a_time_a_tear(told, spells):
        return [spell._replace(spent="mending") for spell in spells]
    clauses: list[Clause] = [one.clause for one in told]
    weights, settle = learned_uses(), settling()
    settled = []
    for spell, about in zip(spells, about_times(spells, clauses, damaged), strict=True):
        scores = weights.weigh(about)
        of_rules = settle.uses[said_of_use(damaged, spell.said)]
        sums = {
            use: of_rules[use]
            + sum(
                settle.by_use[use][other] * score for other, score in zip(USES, scores, strict=True)
            )
            for use in USES
        }
        use = max(USES, key=sums.__getitem__)
        share = math.exp(sums[use]) / sum(math.exp(each) for each in sums.values())
        stands = not spell.elsewhere and (
            share < CLEARLY.get(spell.spent, 0) or (damaged == "yes" and _says_mending(told, spell))
        )
        spent = spell.spent if stands else cast("Spent", use)
        settled.append(spell._replace(spent=spent, elsewhere=False))
    return settled


def _says_mending(told: Tellings, spell: Spell) -> bool:
    """Whether the word right before or behind a time says that it was spent mending: 2 h mend."""
    words = told[spell.at].clause.of("mending", "words")
    item = spell.item
    beside = any(word.end == item.at or item.end == word.at for word in words)
    return spell.spent == "mending" and beside


def _a_time_a_tear(told: Tellings, spells: Sequence[Spell]) -> bool:
    """Whether each of several times stands bare by a part: codend burst 30 min, wing torn, 1 hr.

    It stands in the clause that names the part, or makes up the next one.
    """
    if any(spell.spent != "bare" or spell.elsewhere for spell in spells):
        return False
    own = {_of_which(told, spell) for spell in spells}
    return len(own) == len(spells) > 1 and None not in own


def _of_which(told: Tellings, spell: Spell) -> int | None:
    """Which clause names the part that a time stands by; None where there is none."""
    for at in (spell.at, spell.at - 1):
        if at >= 0 and told[at].clause.parts and not (told[at].spared or told[at].doubted):
            return at
        if at >= 0 and (told[at].clause.unknown or told[at].clause.of("lost")):
            return None
    return None


def said_of_use(damaged: Answer | None, rules: str) -> str:
    """What is told of damage and what the rules say of a time, as one name."""
    return f"{damaged or 'unknown'} {rules}"

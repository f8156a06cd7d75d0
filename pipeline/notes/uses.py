"""What each stretch of time in a note was spent on, settled between rules and learned weights.

The weights are of the words about a time, by where they stand from it, and of what else is known
of it (`time_features.py`): log odds, as those of the words of a note are (`weighing.py`). How much
they count beside what the rules say was learned on notes that the rules had not been tuned to
(`python -m tests.notes.learn_weights`).
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, NamedTuple, cast

import numpy as np
import polars as pl

from pipeline.notes.remembered import Remembered
from pipeline.notes.settling import settling
from pipeline.notes.time_features import WIDER, things_about

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from pipeline.notes.clauses import Clause
    from pipeline.notes.damaged import Answer
    from pipeline.notes.spent import Spell, Spent
    from pipeline.notes.tellings import Tellings
    from pipeline.notes.time_features import Thing

    Weighed = NDArray[np.float32]

USES = ("lost", "mending", "other")
"""What a time may have been spent on."""


def wider(thing: Thing) -> list[Thing]:
    """A thing about a time, and the same less narrowly placed: the next word is a near one too."""
    where, what = thing
    kind, _, place = where.partition(" ")
    return [(f"{kind} {each}", what) for each in WIDER[place]] if place in WIDER else [thing]


class UseWeights(NamedTuple):
    """What each thing about a time weighs for each of `USES`, and what each weighs before it."""

    before: Weighed
    of_thing: Remembered[Thing, Weighed]

    def weigh(self, things: Iterable[Thing]) -> Weighed:
        """What some things weigh together, for each of `USES`."""
        weighed: Weighed = np.add.reduce([self.before, *map(self.of_thing.__getitem__, things)])
        return weighed


def use_weights_of(table: pl.DataFrame) -> UseWeights:
    """The weights in a table of `where`, `what` and a column for each of `USES`.

    What each weighs before anything is known stands in the row without a place.
    """
    weights = table.select(USES).to_numpy().astype(np.float32)
    row_of = dict(zip(zip(table["where"], table["what"], strict=True), weights, strict=True))
    nothing = np.zeros(len(USES), np.float32)

    def of_thing(thing: Thing) -> Weighed:
        weighed: Weighed = np.add.reduce([row_of.get(each, nothing) for each in wider(thing)])
        return weighed

    return UseWeights(row_of[("", "")], Remembered(of_thing))


@cache
def learned_uses() -> UseWeights:
    """The weights of `uses.parquet`."""
    with (files(__package__) / "uses.parquet").open("rb") as file:
        return use_weights_of(pl.read_parquet(file))


def settled_uses(told: Tellings, spells: Sequence[Spell], damaged: Answer | None) -> list[Spell]:
    """The stretches of time with what they were spent on, by the rules and the weights."""
    clauses: list[Clause] = [one.clause for one in told]
    weights, settle = learned_uses(), settling()
    settled = []
    for spell, things in zip(spells, things_about(spells, clauses, damaged), strict=True):
        scores = weights.weigh(things).tolist()
        of_rules = settle.uses[said_of_use(damaged, spell.said)]
        sums = {
            use: of_rules[use]
            + sum(
                settle.by_use[use][other] * score for other, score in zip(USES, scores, strict=True)
            )
            for use in USES
        }
        spent = cast("Spent", max(USES, key=sums.__getitem__))
        settled.append(spell._replace(spent=spent, elsewhere=False))
    return settled


def said_of_use(damaged: Answer | None, rules: str) -> str:
    """What is told of damage and what the rules say of a time, as one name."""
    return f"{damaged or 'unknown'} {rules}"

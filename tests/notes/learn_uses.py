"""Learns what the words about a time weigh for what it was spent on.

`python -m tests.notes.learn_weights` calls it. What each time of a labelled note was spent on
follows from the hours that its label gives: it is taken where there is one way only to make those
hours of the note's times.
"""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING, NamedTuple, get_args

import numpy as np
import polars as pl
from sklearn.feature_extraction.text import CountVectorizer
from sklearn.linear_model import LogisticRegression

from pipeline.notes.hours import hours_of
from pipeline.notes.spent import Spent, said_of_time, spells_of
from pipeline.notes.time_features import about_times
from pipeline.notes.uses import USES, said_of_use, use_weights_of, wider
from tests.notes.test_labelled_notes import agree

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from pipeline.notes.clauses import Clause
    from pipeline.notes.damaged import Answer
    from pipeline.notes.spent import Spell
    from pipeline.notes.tellings import Tellings
    from pipeline.notes.time_features import About
    from tests.notes.test_labelled_notes import Label

    Numbers = NDArray[np.float64]
    Which = NDArray[np.bool_]

ANSWERS: tuple[Answer | None, ...] = ("no", None, "yes")
MOST_TIMES = 5
"""Of a note of more times it is not worked out what they were spent on."""
SEEN_IN = 2
"""A thing is weighed that stands about so many times."""
LOOSENESS, LOOSENESS_OF_SETTLING = 0.012, 1.0
"""The inverses of the penalties; with a third of the first fewer hours are read right."""
STEP = 0.01
"""Weights are written in steps of so much."""
KEPT = 15_000
"""So many things are kept, those that weigh most."""


class TimeTold(NamedTuple):
    """A time of a labelled note: what is about it, what the rules say, and what it was spent on."""

    about: About
    said: str
    use: Spent


def times_told(label: Label, told: Tellings, clauses: Sequence[Clause]) -> list[TimeTold]:
    """The times of a note for which the label says what they were spent on."""
    if "mending_hours" not in label:
        return []
    damaged: Answer | None = next((each for each in ANSWERS if each == label["damaged"]), None)
    spells = spells_of(told)
    uses = _only_way(label, told, spells, damaged)
    return [
        TimeTold(about, said_of_use(damaged, spell.said), use)
        for spell, use, about in zip(
            spells, uses, about_times(spells, clauses, damaged), strict=False
        )
    ]


def _only_way(
    label: Label, told: Tellings, spells: list[Spell], damaged: Answer | None
) -> tuple[Spent, ...]:
    """The only way to spend the times that makes the hours of the label; none where none is."""
    if not 0 < len(spells) <= MOST_TIMES:
        return ()
    torn = damaged == "yes"
    labelled = [_number(label[column]) for column in ("mending_hours", "hours_lost")]
    ways: list[tuple[Spent, ...]] = []
    for way in product(
        ("lost", "mending", "other") if torn else ("lost", "other"), repeat=len(spells)
    ):
        spent = [spell._replace(spent=use) for spell, use in zip(spells, way, strict=True)]
        made = hours_of(told, spent, torn=torn)
        if all(_same(*pair) for pair in zip(labelled, (each.value for each in made), strict=True)):
            ways.append(way)
    return ways[0] if len(ways) == 1 else ()


def _number(cell: str | None) -> float | None:
    """The hours of a label; none is as nothing."""
    return float(cell) or None if cell else None


def _same(labelled: float | None, made: float | None) -> bool:
    return labelled == made if labelled is None or made is None else agree(labelled, made)


def uses_table(times: Sequence[TimeTold]) -> pl.DataFrame:
    """The table that `uses.use_weights_of` reads, learned from some times."""
    written = [
        ["\t".join(each) for thing in time.about.things() for each in wider(thing)]
        for time in times
    ]
    counter = CountVectorizer(analyzer=list, min_df=SEEN_IN, dtype=np.float64)
    table = counter.fit_transform(written)
    names = counter.get_feature_names_out()
    fit = LogisticRegression(C=LOOSENESS, max_iter=5000).fit(table, [time.use for time in times])
    heaviest = np.argsort(-np.abs(fit.coef_).max(axis=0), kind="stable")[:KEPT]
    kept = np.sort(heaviest)
    places = [name.split("\t") for name in names[kept]]
    rows = np.vstack([fit.coef_.T[kept], fit.intercept_])
    return pl.DataFrame(
        {
            "where": [where for where, _ in places] + [""],
            "what": [what for _, what in places] + [""],
        }
    ).with_columns(
        pl.Series(use, np.round(rows[:, at] / STEP) * STEP, pl.Float32)
        for at, use in enumerate(USES)
    )


def scores_by_others(times: Sequence[Sequence[TimeTold]], folds: NDArray[np.int_]) -> list[Numbers]:
    """For each note what its times weigh by weights learned without it and its fold."""
    scores: list[Numbers] = [np.zeros((len(of_note), len(USES))) for of_note in times]
    for fold in np.unique(folds):
        others = [
            each for of_note, at in zip(times, folds, strict=True) if at != fold for each in of_note
        ]
        weights = use_weights_of(uses_table(others))
        for at in np.flatnonzero(folds == fold):
            for row, time in enumerate(times[at]):
                scores[at][row] = weights.weigh(time.about)
    return scores


def settling_lines(times: Sequence[TimeTold], scores: Numbers) -> Iterator[str]:
    """The numbers that settle what a time was spent on, as `settling.toml` has them."""
    said = [
        said_of_use(damaged, said_of_time(spent, elsewhere=elsewhere))
        for damaged in ANSWERS
        for spent in get_args(Spent)
        for elsewhere in (False, True)
    ]
    table = np.column_stack([scores, *([time.said == one for time in times] for one in said)])
    fit = LogisticRegression(C=LOOSENESS_OF_SETTLING, max_iter=5000).fit(
        table, [time.use for time in times]
    )
    for at, use in enumerate(USES):
        yield f"[by_use.{use}]"
        yield from (f"{other} = {fit.coef_[at, k]:.3f}" for k, other in enumerate(USES))
        yield ""
    for k, one in enumerate(said, start=len(USES)):
        yield f'[uses."{one}"]'
        adds = fit.coef_[:, k] + fit.intercept_
        yield from (f"{use} = {adds[at]:.3f}" for at, use in enumerate(USES))
        yield ""

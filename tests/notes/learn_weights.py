"""Learns what the words of notes weigh, from the labelled notes that may be looked at.

`python -m tests.notes.learn_weights` writes `weights.parquet`, `patterns.npz`, `uses.parquet` and
`settling.toml` of `pipeline/notes/`, the same from the same notes: `tuning_notes.csv`, the files of
`NEVER_TUNED_TO`, the half of `labelled_notes.csv` that was not held out, and of damage
`tests/spec/notes.md` as well; of times also `SETTLED_BY`. No note that was held out is read. With
the word `times` behind it only `uses.parquet` and `settling.toml` are written, with `settling` the
last alone, by the other files as they stand: learned anew on another kind of processor they differ
a little, and read as well.

Weights come from logistic regressions with a quadratic penalty (scikit-learn), patterns from
`learn_patterns.py`, and `learn_gist.py` is a command of its own. How they and the rules are settled
is learned in `learn_settling.py`, but for times: these on notes that the rules were hardly tuned to
(`labelling.md`), by what was learned without the boat or crew.
"""

from __future__ import annotations

import sys
from hashlib import sha256
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import polars as pl
from scipy.sparse import csr_matrix, diags, hstack
from sklearn.feature_extraction.text import CountVectorizer
from sklearn.linear_model import LogisticRegression

from pipeline.notes.clauses import clauses_of
from pipeline.notes.features import (
    course,
    meanings_of,
    pieces,
    runs_of_meanings,
    runs_of_words,
    words_of,
)
from pipeline.notes.harm import tellings
from pipeline.notes.lexicon import built_in, plain
from pipeline.notes.weighing import JOINT, KINDS
from tests.notes.learn_patterns import Learner, read
from tests.notes.learn_settling import (
    notes_to_settle,
    said_by_rules,
    settling_of_damage,
    settling_of_names,
)
from tests.notes.learn_uses import scores_by_others as uses_by_others
from tests.notes.learn_uses import settling_lines, times_told, uses_table
from tests.notes.notes_to_learn import (
    SECTIONS,
    Labelled,
    asked_of,
    has,
    labels_once,
    labels_to_settle,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from pipeline.notes.clauses import Clause
    from tests.notes.learn_settling import Settled
    from tests.notes.learn_uses import TimeTold
    from tests.notes.test_labelled_notes import Label

    Numbers = NDArray[np.float64]
    Which = NDArray[np.bool_]

WEIGHTS = Path("pipeline/notes/weights.parquet")
PATTERNS = Path("pipeline/notes/patterns.npz")
USES = Path("pipeline/notes/uses.parquet")
SETTLING = Path("pipeline/notes/settling.toml")
ONLY_TIMES, ONLY_SETTLE = ["times"], ["settling"]

SEEN_IN = {"words": 2, "meanings": 2, "course": 2, "letters": 3}
"""A thing is weighed that stands in so many notes."""
LOOSENESS = 10.0
"""The inverse of the penalty; with 3 or 30 in place of 10 the scores hardly differ."""
STEP = 0.01
"""Weights are written in steps of so much."""
KEPT = 40_000
"""So many things are kept, those that weigh most in some note; all 130,000 read no better."""
TUNED_COUNTS, TUNED_TIMES_COUNT = 5, 2
"""As so many others counts a note that the rules were tuned to, and so do its times."""
FOLDS = 3
"""Times are settled by what was learned from the other notes, in so many parts."""
NEAR_ENOUGH = 0.001
"""So steep a slope at most is left where a regression ends: a tenth of it reads no better."""
EVERY_SO_MANY = 4
"""Of one note in so many it is looked what it is weighed by, when weights are held to notes."""


class Note(NamedTuple):
    """A labelled note, what it is weighed by, and its times."""

    label: Label
    clauses: list[Clause]
    things: dict[str, list[str]]
    rules_saw: bool
    times: list[TimeTold]


def main() -> None:
    """Learn, and write the files; or settle anew between what was learned before."""
    asked = sys.argv[1:]
    notes = list(learnable_notes())
    with_times = [*notes, *map(_weighed_by, labelled_to_settle())]
    if not asked:
        _learn(notes)
    if asked in ([], ONLY_TIMES):
        _learn_times(with_times)
    SETTLING.write_text(settling_text(with_times, list(notes_to_settle())), encoding="utf-8")
    sys.stdout.write(f"learned from {len(notes):,} notes\n")


def _learn(notes: list[Note]) -> None:
    every = np.ones(len(notes), dtype=bool)
    _write(weights_table(*learned_from(notes, every)), WEIGHTS)
    np.savez_compressed(PATTERNS, allow_pickle=False, **patterns_from(notes, every).arrays())


def _learn_times(notes: list[Note]) -> None:
    counted = ((note, TUNED_TIMES_COUNT if note.rules_saw else 1) for note in notes)
    _write(uses_table([time for note, many in counted for time in note.times * many]), USES)


def _write(table: pl.DataFrame, path: Path) -> None:
    table.write_parquet(path, compression="zstd", compression_level=19)


def fingerprint() -> str:
    """What the weights hang on, in short: the notes, their labels, and what they are weighed by."""
    every, settling = list(labels_once()), list(labelled_to_settle())
    some = [*every[::EVERY_SO_MANY], *settling[::EVERY_SO_MANY]]
    weighed = [_weighed_by(each)._replace(clauses=[]) for each in some]
    said = [said_by_rules(each.label) for each in settling[::EVERY_SO_MANY]]
    return sha256(repr((every, weighed, settling, said)).encode()).hexdigest()


def learnable_notes(every: int = 1) -> Iterator[Note]:
    """Every so many of the notes that may be learned from, each once."""
    return map(_weighed_by, islice(labels_once(), 0, None, every))


def labelled_to_settle() -> Iterator[Labelled]:
    """The notes that settle: of them nothing is learned but what their times were spent on."""
    return (Labelled(label, rules_saw=False) for label in labels_to_settle())


def _weighed_by(labelled: Labelled) -> Note:
    label, rules_saw = labelled
    clauses = clauses_of(plain(str(label["note"])), built_in())
    told = tellings(clauses)
    words = [words_of(clause) for clause in clauses]
    meanings = [meanings_of(clause) for clause in clauses]
    of_meanings = [
        run
        for of_clause, clause in zip(meanings, clauses, strict=True)
        for run in runs_of_meanings(of_clause, turned=clause.turned)
    ]
    things = {
        "words": [JOINT.join(run) for of_clause in words for run in runs_of_words(of_clause)],
        "meanings": [JOINT.join(run) for run in of_meanings],
        "course": [JOINT.join(run) for run in course(meanings)],
        "letters": [piece for of_clause in words for word in of_clause for piece in pieces(word)],
    }
    return Note(label, clauses, things, rules_saw, times_told(label, told, clauses))


def learned_from(notes: list[Note], learned: Which) -> tuple[dict[str, Numbers], pl.DataFrame]:
    """The weights for every outcome and the things weighed, learned from some of the notes."""
    table, things = by_things(notes, learned)
    first = np.column_stack([weights[:-1] for weights in fits(table, notes, learned).values()])
    common = np.sqrt(np.asarray(table[learned].multiply(table[learned]).mean(axis=0)).ravel())
    heaviest = np.argsort(-np.abs(first * common[:, None]).max(axis=1), kind="stable")[:KEPT]
    kept = np.sort(heaviest)
    return fits(table[:, kept], notes, learned), things[kept]


def by_things(notes: list[Note], learned: Which) -> tuple[csr_matrix, pl.DataFrame]:
    """Each note by the things that it is weighed by, as the notes learned from have them."""
    parts, things = [], []
    for kind in KINDS:
        written = [note.things[kind] for note in notes]
        counter = CountVectorizer(analyzer=list, min_df=SEEN_IN[kind], dtype=np.float64)
        counter.fit([one for one, of in zip(written, learned, strict=True) if of])
        counts = counter.transform(written)
        notes_with = np.asarray((counts[learned] > 0).sum(axis=0)).ravel()
        rarity = np.log((1 + learned.sum()) / (1 + notes_with)) + 1
        length = np.sqrt(counts @ rarity**2)
        parts.append(diags(1 / np.where(length > 0, length, 1)) @ counts @ diags(rarity))
        names = counter.get_feature_names_out().tolist()
        things.append(
            pl.DataFrame({"thing": names, "rarity": rarity}).with_columns(kind=pl.lit(kind))
        )
    return hstack(parts).tocsr(), pl.concat(things)


def fits(table: csr_matrix, notes: list[Note], learned: Which) -> dict[str, Numbers]:
    """For every outcome its weights; the last is what it weighs before a word is read."""
    answers = np.array([note.label["damaged"] for note in notes])
    counts = _counts(notes)
    damaged = _regression(table[learned], answers[learned], counts[learned])
    found = {
        f"damaged {answer}": np.append(weights, before)
        for answer, weights, before in zip(
            damaged.classes_, damaged.coef_, damaged.intercept_, strict=True
        )
    }
    torn = learned & (answers == "yes") & np.array(["parts" in note.label for note in notes])
    for section, (column, names) in SECTIONS.items():
        for name in names:
            fit = _regression(table[torn], has(notes, column, name)[torn], counts[torn])
            found[f"{section} {name}"] = np.append(fit.coef_[0], fit.intercept_[0])
    return found


def _counts(notes: list[Note]) -> NDArray[np.int_]:
    """As how many notes each counts."""
    return np.where([note.rules_saw for note in notes], TUNED_COUNTS, 1)


def _regression(
    table: csr_matrix,
    answers: NDArray[np.generic],
    counts: NDArray[np.int_],
) -> LogisticRegression:
    fit = LogisticRegression(C=LOOSENESS, max_iter=5000, tol=NEAR_ENOUGH)
    return fit.fit(table, answers, sample_weight=counts)


def weights_table(weights: dict[str, Numbers], things: pl.DataFrame) -> pl.DataFrame:
    """The table that `weighing.weights_of` reads."""
    before = pl.DataFrame({"thing": [""], "rarity": [1.0], "kind": ["before"]})
    columns = {outcome: np.round(each / STEP) * STEP for outcome, each in weights.items()}
    return (
        pl.concat([things, before.select(things.columns)])
        .with_columns(pl.Series(name, each, pl.Float32) for name, each in columns.items())
        .with_columns(pl.col("rarity").round(3).cast(pl.Float32))
        .select("kind", "thing", "rarity", *columns)
    )


def patterns_from(notes: list[Note], learned: Which) -> Learner:
    """The patterns of words, learned from some of the notes."""
    learner = Learner(read([note.clauses for note in notes], learned), asked_of(notes))
    learner.learn(np.repeat(np.flatnonzero(learned), _counts(notes)[learned]))
    return learner


def folds_of(notes: list[Note]) -> NDArray[np.int_]:
    """In which fold each note is: all of a made-up boat or crew in one."""
    voices = [str(note.label.get("voice") or note.label["note"]) for note in notes]
    return np.array([int(sha256(each.encode()).hexdigest()[:8], 16) % FOLDS for each in voices])


def settling_text(notes: list[Note], settled: list[Settled]) -> str:
    """The file of the numbers that settle."""
    lines = [
        "# Made by `python -m tests.notes.learn_weights`; what it means stands in settling.py.",
        f'learned_from = "{fingerprint()}"',
        "",
        *settling_of_damage(settled),
        *settling_of_names(settled),
        *_of_times(notes, np.array([not note.rules_saw for note in notes])),
    ]
    return "\n".join(lines)


def _of_times(notes: list[Note], unseen: Which) -> Iterator[str]:
    scores = uses_by_others([note.times for note in notes], folds_of(notes))
    chosen = np.flatnonzero(unseen)
    yield from settling_lines(
        [time for at in chosen for time in notes[at].times],
        np.vstack([scores[at] for at in chosen]),
    )


if __name__ == "__main__":
    main()

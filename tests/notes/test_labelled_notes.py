"""How often the reading of a damage note agrees with the label that a person gave it.

Three sets of notes were held out: of `labelled_notes.csv` those whose sha256 ends in an odd hex
digit, and all of `held_out_notes.csv`, which came later, as the scores on the first had been
looked at often while rules were chosen; and last `fresh_notes.csv`. What the reader does on
those is the honest figure; in these traps are many on purpose. `deck_logs.csv` is logs as they
are kept. The other half, `tuning_notes.csv`, `weighing_notes.csv`, `logged_notes.csv` and
`hours_notes.csv` were looked at while the reader was made. The aim is 97 % of `damaged`, an F1 of
0.93 for the parts and of 0.88 for the causes, and 95 % of the hours. It is met for parts, and in
all by the last of the held out; else not yet: the bounds below stand a little under what was
measured when they were written, so that the reader cannot get worse unnoticed; they are no aim.
"""

from __future__ import annotations

import hashlib
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import polars as pl
import pytest

from pipeline.notes.reading import Reading, read_several

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

HERE = Path(__file__).parent

HOURS = ("mending_hours", "hours_lost")
NEAR_SHARE, NEAR_HOURS = 0.05, 0.011
"""Hours agree within 5 %, or within what two decimals leave of a minute."""

Label = dict[str, str | None]
"""A row of the labelled notes, by its columns."""


def labels(name: str) -> list[Label]:
    return pl.read_csv(HERE / name, infer_schema=False).to_dicts()


def held_out(label: Label) -> bool:
    return int(hashlib.sha256(str(label["note"]).encode()).hexdigest()[-1], 16) % 2 == 1


UNSEEN = {
    "held out last": "fresh_notes.csv",
    "held out later": "held_out_notes.csv",
    "logs that settle": "further_logs.csv",
    "deck logs": "deck_logs.csv",
}
LOOKED_AT = {"more tuned on": "tuning_notes.csv", "on hours": "hours_notes.csv"}
LEARNED = ("tuning_notes.csv", "weighing_notes.csv", "logged_notes.csv")


@cache
def half(which: str) -> list[tuple[Label, Reading]]:
    """Labels and readings of the notes held out, of those tuned on, or of the tuning file.

    A note that stands in a file that was learned from is not held out: a plain nil stands in all.
    Of deck logs all cells count, as often as they come.
    """
    learned = [label for name in LEARNED for label in labels(name)]
    seen = {label["note"] for label in learned}
    if which in LOOKED_AT:
        chosen = labels(LOOKED_AT[which])
    elif which == "deck logs":
        chosen = labels(UNSEEN[which])
    elif which in UNSEEN:
        chosen = [label for label in labels(UNSEEN[which]) if label["note"] not in seen]
    else:
        of_half = [
            label
            for label in labels("labelled_notes.csv")
            if held_out(label) == (which == "held out")
        ]
        chosen = [label for label in of_half if which == "tuned on" or label["note"] not in seen]
    readings = read_several([str(label["note"]) for label in chosen])
    return list(zip(chosen, readings, strict=True))


def damaged(which: str) -> float:
    agree = [(read.damaged.value or "unknown") == label["damaged"] for label, read in half(which)]
    return sum(agree) / len(agree)


def side(which: str) -> float:
    agree = [read.side.value == label["side"] for label, read in half(which)]
    return sum(agree) / len(agree)


def named(label: Label, column: str) -> set[str]:
    return set((label[column] or "").split(";")) - {""}


def f1(pairs: Iterable[tuple[set[str], set[str]]]) -> float:
    """Twice the names that both give, over all names that either gives."""
    both = given = 0
    for labelled, read in pairs:
        both += 2 * len(labelled & read)
        given += len(labelled) + len(read)
    return both / given


def parts(which: str) -> float:
    return f1((named(label, "parts"), set(read.parts.value)) for label, read in half(which))


def cause(which: str) -> float:
    return f1((named(label, "cause"), set(read.cause.value)) for label, read in half(which))


def hours(which: str) -> float:
    """The share of the hours, labelled or read, that the other has as well."""
    pairs = [
        (float(told) if (told := label[column]) else None, getattr(read, column).value)
        for label, read in half(which)
        for column in HOURS
    ]
    told_or_read = [pair for pair in pairs if pair != (None, None)]
    return sum(agree(*pair) for pair in told_or_read) / len(told_or_read)


def hands(which: str) -> float:
    """The share of the notes labelled with how many mended that are read so."""
    counted = [(int(label["hands"]), read) for label, read in half(which) if label.get("hands")]
    return sum(read.hands.value == told for told, read in counted) / len(counted)


def agree(told: float | None, read: float | None) -> bool:
    if told is None or read is None:
        return False
    return abs(told - read) <= max(NEAR_SHARE * told, NEAR_HOURS)


BOUNDS: dict[Callable[[str], float], dict[str, float]] = {
    damaged: {
        "held out last": 0.98,
        "held out later": 0.95,
        "held out": 0.935,
        "deck logs": 0.97,
    },
    parts: {"held out last": 0.97, "held out later": 0.965, "held out": 0.93, "deck logs": 0.93},
    cause: {"held out last": 0.93, "held out later": 0.93, "held out": 0.865, "deck logs": 0.92},
    hours: {"held out last": 0.97, "held out later": 0.9, "held out": 0.83, "deck logs": 0.84},
    side: {"held out last": 0.982, "held out later": 0.977, "held out": 0.96, "deck logs": 0.99},
}
"""A little under what was measured: see the README."""

BOUNDS_OF_LEARNED: dict[Callable[[str], float], dict[str, float]] = {
    damaged: {"tuned on": 0.99, "more tuned on": 0.99, "on hours": 0.95},
    parts: {"tuned on": 0.985, "more tuned on": 0.985, "on hours": 0.95},
    cause: {"tuned on": 0.99, "more tuned on": 0.99, "on hours": 0.915},
    hours: {"tuned on": 0.955, "more tuned on": 0.955, "on hours": 0.735},
    side: {"tuned on": 0.99, "more tuned on": 0.985, "on hours": 0.975},
}


HANDS_BOUND = 0.89
"""Only the later notes of `tuning_notes.csv` have a label for it."""


@pytest.mark.parametrize("bounds", [BOUNDS, BOUNDS_OF_LEARNED], ids=["held out", "learned"])
@pytest.mark.parametrize("measured", BOUNDS, ids=lambda measured: measured.__name__)
def test_the_reading_agrees_with_the_labels(
    measured: Callable[[str], float], bounds: dict[Callable[[str], float], dict[str, float]]
) -> None:
    found = {which: measured(which) for which in bounds[measured]}
    short = {which: share for which, share in found.items() if share < bounds[measured][which]}
    assert short == {}


@pytest.mark.parametrize(
    ("which", "at_most"),
    [
        ("held out last", 0),
        ("held out later", 2),
        ("held out", 0),
        ("deck logs", 1),
        ("tuned on", 0),
        ("more tuned on", 1),
        ("on hours", 0),
    ],
)
def test_damage_told_is_seldom_read_as_none(which: str, at_most: int) -> None:
    told = [read for label, read in half(which) if label["damaged"] == "yes"]
    assert len(told) > 50
    assert sum(read.damaged.value == "no" for read in told) <= at_most


def test_how_many_mended_is_read() -> None:
    assert hands("more tuned on") >= HANDS_BOUND

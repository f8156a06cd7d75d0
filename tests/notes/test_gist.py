"""What the language model makes of a note as a whole, and how a note is cut into pieces for it."""

from __future__ import annotations

import numpy as np
import pytest

from pipeline.notes.gist import AT_ONCE, gists_of, learned_gist
from pipeline.notes.lexicon import plain
from pipeline.notes.patterns import learned_patterns
from pipeline.notes.reading import read_note, read_several
from pipeline.notes.word_pieces import MOST_PIECES, word_pieces
from tests.notes.test_labelled_notes import labels

PIECES = {
    piece: at
    for at, piece in enumerate(
        ["[CLS]", "[SEP]", "[UNK]", "the", "net", "##s", "##work", "rip", "##ped", "9", ".", "e"]
    )
}


@pytest.mark.parametrize(
    ("note", "pieces"),
    [
        ("the nets", ["the", "net", "##s"]),
        ("networks", ["net", "##work", "##s"]),
        ("the net.ripped", ["the", "net", ".", "rip", "##ped"]),
        ("nett", ["[UNK]"]),
        ("é 9", ["e", "9"]),
        ("网 the", ["[UNK]", "the"]),
        ("", []),
        ("the" * 50, ["[UNK]"]),
    ],
)
def test_a_word_is_cut_into_the_longest_pieces_that_are_known(note: str, pieces: list[str]) -> None:
    names = ["[CLS]", *pieces, "[SEP]"]
    assert word_pieces(note, PIECES) == [PIECES[name] for name in names]


def test_of_a_long_note_the_first_pieces_are_looked_at() -> None:
    pieces = word_pieces("the net " * 200, PIECES)
    assert len(pieces) == MOST_PIECES
    assert (pieces[0], pieces[-1]) == (PIECES["[CLS]"], PIECES["[SEP]"])


def some_notes() -> list[str]:
    return [plain(str(each["note"])) for each in labels("tuning_notes.csv")[:: 2312 // 40]]


def test_a_note_says_the_same_whatever_is_asked_beside_it() -> None:
    notes = some_notes()
    assert len(notes) > 2 * AT_ONCE
    find = learned_gist().find
    together = np.array([each.scores for each in find(notes)])
    alone = np.array([find([note])[0].scores for note in notes])
    turned = np.array([each.scores for each in find(notes[::-1])])[::-1]
    assert together == pytest.approx(alone, abs=1e-3)
    assert together == pytest.approx(turned, abs=1e-3)


def test_notes_read_together_are_read_as_each_alone() -> None:
    notes = [*some_notes(), "", "-", "nil", "Belly torn, 2 hrs"]
    assert read_several(notes) == [read_note(note) for note in notes]


def test_a_number_says_nothing_but_nought_of_damage() -> None:
    one, other, nought = (
        gists_of([f"belly torn, {number} holes"])[0] for number in ("3", "1,250.5", "0")
    )
    assert one == other
    assert one != nought


def test_it_tells_of_what_the_other_readers_tell() -> None:
    assert learned_gist().outcomes == learned_patterns().outcomes


@pytest.mark.parametrize(
    ("note", "answer"),
    [
        ("plaice scarce, wind backing northerly", "unknown"),
        ("came fast on a wreck and lost the belly", "yes"),
        ("net all in one piece, nothing to sew", "no"),
    ],
)
def test_plain_notes_say_what_they_say(note: str, answer: str) -> None:
    (gist,) = gists_of([note])
    scores = {each: gist.score(f"damaged {each}") for each in ("no", "unknown", "yes")}
    assert max(scores, key=scores.__getitem__) == answer

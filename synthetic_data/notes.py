"""The remarks column: each boat's own words for a damaged, clean or nearly damaged net."""

import numpy as np
import polars as pl
from numpy.typing import NDArray

from synthetic_data.fleet import Boat
from synthetic_data.tears import drawn, part_shares, phrase_shares
from synthetic_data.voices import VOICES, Voice

Texts = NDArray[np.object_]

_NEAR_SHARE = 0.06
_OLD_HOLE_SHARE = 0.003
_BLANK_SHARE = 0.04
_SHARE_WORTH_A_WORD = 0.15
_SHARE_DAMAGE_TOLD = 0.92


def write_notes(hauls: pl.DataFrame, fleet: list[Boat], rng: np.random.Generator) -> pl.DataFrame:
    """Return the note of each haul and its kind: damaged, clean, near, old hole or blank.

    A boat that fills the damage column leaves most clean hauls without a word. A boat that
    only writes notes leaves few blank, and those few at random: a blank tells nothing.
    """
    boat = hauls["boat"].to_numpy()
    fills_damaged = np.array([b.fills_damaged for b in fleet])[boat]
    kind = _kinds(hauls["damaged"].to_numpy(), fills_damaged, rng)
    voice = np.array([b.voice for b in fleet])[boat]
    clock = hauls["shot_at"].dt.offset_by("70m").dt.strftime("%H%M").to_numpy()
    hours = hauls["mending_hours"].to_numpy()
    ground, rig = hauls["ground"].to_numpy(), hauls["rig"].to_numpy()
    pick = rng.random((hauls.height, 3))
    notes: Texts = np.full(hauls.height, "", dtype=object)
    for number, words in enumerate(VOICES):
        for name, phrases in _phrases(words).items():
            rows = np.flatnonzero((voice == number) & (kind == name))
            phrase = drawn(phrase_shares(phrases), ground[rows], pick[rows, 0])
            part = drawn(part_shares(words.parts), rig[rows], pick[rows, 1])
            other = _another(part, len(words.parts), pick[rows, 2])
            notes[rows] = [
                phrases[i].format(
                    part=words.parts[a],
                    other=words.parts[b],
                    hours=_hours_text(h, words),
                    clock=at,
                )
                for i, a, b, h, at in zip(
                    phrase, part, other, hours[rows], clock[rows], strict=True
                )
            ]
    return pl.DataFrame({"note": pl.Series(notes, dtype=pl.String), "note_kind": kind})


def _kinds(
    damaged: NDArray[np.bool_], fills_damaged: NDArray[np.bool_], rng: np.random.Generator
) -> NDArray[np.str_]:
    """Draw the kind of note each haul gets."""
    draw, silent = rng.random((2, len(damaged)))
    clean = np.select(
        [draw < _OLD_HOLE_SHARE, draw < _OLD_HOLE_SHARE + _NEAR_SHARE],
        ["old hole", "near"],
        "clean",
    )
    kind = np.where(damaged, "damaged", clean)
    quiet = np.where(damaged, 1 - _SHARE_DAMAGE_TOLD, 1 - _SHARE_WORTH_A_WORD)
    blank_chance = np.where(fills_damaged, quiet * (kind != "near"), _BLANK_SHARE)
    return np.where(silent < blank_chance, "blank", kind)


def _phrases(voice: Voice) -> dict[str, tuple[str, ...]]:
    """List the voice's phrases by kind of note."""
    return {
        "damaged": voice.damaged,
        "clean": voice.clean,
        "near": voice.near,
        "old hole": (voice.old_hole,),
    }


def _another(part: NDArray[np.int64], parts: int, draw: NDArray[np.float64]) -> NDArray[np.int64]:
    """Number of a second part: any of the others, never the first again."""
    step = 1 + (draw * (parts - 1)).astype(np.int64)
    return (part + step) % parts


def _hours_text(hours: float, voice: Voice) -> str:
    """Write half hours as this skipper does: ``2.5`` or ``2½``."""
    whole = int(hours)
    if hours == whole:
        return str(whole)
    return f"{whole or ''}½" if voice.half == "½" else f"{whole}{voice.half}"

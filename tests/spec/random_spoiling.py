"""Slips of the pen at random: cells garbled or blanked, rows written twice or left out."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from hypothesis import strategies as st

from synthetic_data import write_season
from synthetic_data.writing import DECK_LOG, DECK_LOG_ENCODING

if TYPE_CHECKING:
    from pathlib import Path

TABLES = (
    DECK_LOG,
    "catches.csv",
    "lengths.csv",
    "fittings.csv",
    "rig_versions.csv",
    "rig_parts.csv",
    "length_checks.csv",
    "prices.csv",
    "vessels.csv",
)
GARBLED = (
    "",
    "-",
    "?",
    "-3",
    "0",
    "1e99",
    "nan",
    "3,5",
    "3.5",
    "901",
    "PLE",
    "bobbins-14",
    "31/02/2031",
    "2031-02-31 05:00",
    "2031-06-01 05:00",
    'he said "fast"',
    "=1+1",
    "<b>torn</b>",
    "two; or, three",
    "line\nbreak",
)
SLIPS = ("garble", "garble", "garble", "swap", "repeat", "leave out", "extra cell", "cut short")


@dataclass(frozen=True)
class Slip:
    """One slip: what it is, in which file, and where, as shares of the file's length and width."""

    kind: str
    file: str
    down: float
    across: float
    text: str


@dataclass(frozen=True)
class SpoiltSeason:
    """An invented season and the slips made in it."""

    boats: int
    hauls: int
    seed: int
    slips: tuple[Slip, ...]

    def write(
        self, folder: Path, shuffle: int | None = None, as_listed: tuple[str, ...] = ()
    ) -> dict[str, int]:
        """Write the season, its rows in another order if asked; return each file's rows.

        The rows of files that are `as_listed` keep their order.
        """
        write_season(folder, boats=self.boats, hauls=self.hauls, seed=self.seed)
        counts = {}
        for name in TABLES:
            rows = _read(folder / name)
            for slip in self.slips:
                if slip.file == name:
                    _make(slip, rows)
            if shuffle is not None and name not in as_listed:
                body = rows[1:]
                Random(shuffle).shuffle(body)  # noqa: S311 - a shuffle, not a secret
                rows[1:] = body
            _write(folder / name, rows)
            counts[name] = sum(any(cell.strip() for cell in row) for row in rows[1:])
        return counts


share = st.floats(0, 1, exclude_max=True)
slips = st.builds(
    Slip, st.sampled_from(SLIPS), st.sampled_from(TABLES), share, share, st.sampled_from(GARBLED)
)
spoilt_seasons = st.builds(
    SpoiltSeason,
    boats=st.integers(1, 5),
    hauls=st.integers(60, 90),
    seed=st.integers(0, 2**16),
    slips=st.lists(slips, max_size=25).map(tuple),
)


def _make(slip: Slip, rows: list[list[str]]) -> None:
    if len(rows) == 1:
        return
    row = rows[1 + int(slip.down * (len(rows) - 1))]
    at = int(slip.across * len(row))
    match slip.kind:
        case "garble":
            row[at] = slip.text
        case "swap":
            row[at], row[at - 1] = row[at - 1], row[at]
        case "repeat":
            rows.append(list(row))
        case "leave out":
            rows.remove(row)
        case "extra cell":
            row.append(slip.text)
        case _:
            del row[at + 1 :]


def _how(path: Path) -> tuple[str, str]:
    return (DECK_LOG_ENCODING, ";") if path.name == DECK_LOG else ("utf-8", ",")


def _read(path: Path) -> list[list[str]]:
    encoding, separator = _how(path)
    with path.open(encoding=encoding, newline="") as file:
        return list(csv.reader(file, delimiter=separator))


def _write(path: Path, rows: list[list[str]]) -> None:
    encoding, separator = _how(path)
    with path.open("w", encoding=encoding, newline="") as file:
        csv.writer(file, delimiter=separator, lineterminator="\n").writerows(rows)

"""The spec of bad input: one thing is spoilt in the valid season, and the program says so.

What is spoilt is written in a few set phrases, so that the spec needs no code:

    TABLE row N, COLUMN: CELL               the cell is written over
    TABLE row N stands twice                the row is copied to the table's end
    TABLE row N stands twice, COLUMN: CELL  … and a cell of the copy is written over
    TABLE new row: CELL, CELL, …            a row is added at the table's end
    TABLE row N as written: LINE            the line of the file, with its separators
    TABLE with decimal commas               every number has a comma in place of its point
    TABLE.csv is a picture / is empty / has headers only / is in cp1252 / is in utf-16 /
        is not there
    season.toml: LINE / LINE                the lines of the settings
    the season is called NAME               a folder or file that is not there

Several are joined by `; then `. In a sentence SEASON stands for the folder.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tests.spec.season_texts import csv_bytes, valid_season
from tests.spec.text_tables import page_text, rows_of

if TYPE_CHECKING:
    from pathlib import Path

    from tests.spec.season_texts import SeasonText

PICTURE = b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"
PLACE = re.compile(r"(\w+) row (\d+)(?: (stands twice|as written))?(?:, (\w+))?(?::(.*))?$")


@dataclass(frozen=True)
class Case:
    """One fault and every sentence that the program says of it."""

    kind: str
    wrong: str
    written: str
    sentences: tuple[str, ...]


def cases(kind: str) -> list[Case]:
    """The cases under the heading `kind`; a row without a first cell adds a sentence."""
    text = page_text("bad_input.md")
    section = text.split(f"\n## {kind}\n")[1].split("\n## ")[0]
    found: list[Case] = []
    for wrong, written, sentence in rows_of(section)[1]:
        if wrong:
            found.append(Case(kind, wrong, written, (sentence,)))
        else:
            last = found.pop()
            found.append(Case(kind, last.wrong, last.written, (*last.sentences, sentence)))
    return found


def write_spoilt(written: str, folder: Path) -> Path:
    """Write the valid season with what the phrases spoil; return the path to read it from."""
    season = valid_season()
    path = folder / "season"
    for phrase in written.split("; then "):
        if phrase.startswith("the season is called "):
            path = folder / phrase.removeprefix("the season is called ")
        else:
            _spoil(season, phrase)
    season.write_csv(folder / "season")
    return path


def _spoil(season: SeasonText, phrase: str) -> None:
    if phrase.startswith("season.toml: "):
        season.settings = phrase.removeprefix("season.toml: ").replace(" / ", "\n")
    elif found := PLACE.match(phrase):
        _spoil_row(season, *found.groups())
    elif found := re.match(r"(\w+) new row: (.*)$", phrase):
        season.tables[found[1]].append([cell.strip() for cell in found[2].split(",")])
    elif found := re.match(r"(\w+) with decimal commas$", phrase):
        rows = season.tables[found[1]]
        rows[:] = [[re.sub(r"^(-?\d+)\.(\d+)$", r"\1,\2", cell) for cell in row] for row in rows]
    elif found := re.match(r"(\w+)\.csv (is .*|has .*)$", phrase):
        _spoil_file(season, found[1], found[2])
    else:
        raise ValueError(phrase)


def _spoil_row(
    season: SeasonText, table: str, row: str, how: str | None, column: str | None, cell: str | None
) -> None:
    rows, number = season.tables[table], int(row)
    if how == "as written":
        lines = csv_bytes(rows).decode().splitlines()
        lines[number - 1] = (cell or "").strip()
        season.files[f"{table}.csv"] = "\n".join([*lines, ""]).encode()
        return
    if how == "stands twice":
        rows.append(list(rows[number - 1]))
        number = len(rows)
    if column is not None:
        season.set_cell(table, number, column, (cell or "").strip())


def _spoil_file(season: SeasonText, table: str, how: str) -> None:
    name, rows = f"{table}.csv", season.tables[table]
    match how:
        case "is a picture":
            season.files[name] = PICTURE
        case "is empty":
            season.files[name] = b""
        case "has headers only":
            season.files[name] = csv_bytes(rows[:1])
        case "is in cp1252" | "is in utf-16":
            season.files[name] = csv_bytes(rows).decode().encode(how.removeprefix("is in "))
        case "is not there":
            del season.tables[table]
        case _:
            raise ValueError(how)

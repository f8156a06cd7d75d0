"""The tables of where and why the net tears."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import short_ground
from reports.net_drawing.shades import rate_words
from reports.net_drawing.words import part_word
from reports.parts import Table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reports.parts import Row

ALL_GROUNDS = "all"


def parts_of_rig(rig: str, parts: Sequence[Row]) -> Table:
    """Each part that tore with the rig, and what may still be said of those that did not."""
    torn = [part for part in parts if part["hauls"]]
    rows = [
        [
            part_word(part["part"]),
            f"{part['hauls']:,}",
            rate_words(part["per_100_h"]),
            limits(part),
            f"{part['port']:,}",
            f"{part['starboard']:,}",
            f"{part['side_not_told']:,}",
        ]
        for part in sorted(torn, key=lambda part: -part["hauls"])
    ]
    never = next((part for part in parts if not part["hauls"]), None)
    if never is not None:
        other = "each other part" if torn else "each part"
        rows.append([other, "0", "0", limits(never), "0", "0", "0"])
    return Table(
        f"{rig}: damaged hauls that name the part; one that tells both sides counts on each",
        ["part", "hauls", "per 100 h", "limits", "port", "starboard", "side not told"],
        rows,
    )


def causes_of_rig(rig: str, fished: Row, causes: Sequence[Row]) -> Table | None:
    """Each cause that was named with the rig; None where none was."""
    named = [cause for cause in causes if cause["hauls"]]
    if not named:
        return None
    told = fished["damaged"] - len(fished["cause_not_told"])
    rows = [
        [
            part_word(cause["cause"]),
            f"{cause['hauls']:,}",
            f"{100 * cause['share']:.0f} %",
            rate_words(cause["per_100_h"]),
            limits(cause),
        ]
        for cause in sorted(named, key=lambda cause: -cause["hauls"])
    ]
    rows.append(["not told", f"{len(fished['cause_not_told']):,}", "–", "–", "–"])
    return Table(
        f"{rig}: damaged hauls that name the cause",
        ["cause", "hauls", f"of {told:,} told", "per 100 h", "limits"],
        rows,
    )


def parts_by_rig(rigs: Sequence[Row], parts: Sequence[Row]) -> Table | None:
    """Every rig and every part that tore at all, per 100 h, the darker the more often."""
    by_rig = {(part["rig"], part["part"]): part for part in parts if part["ground"] == ALL_GROUNDS}
    return _heat(
        "Damaged hauls per 100 h towed that name the part, by rig",
        ["rig", "hours"],
        [([rig["rig"], f"{rig['tow_hours']:,.0f}"], rig["rig"]) for rig in rigs],
        by_rig,
    )


def by_ground(named: str, fished: Sequence[Row], rows: Sequence[Row]) -> Table | None:
    """Every ground and every part, or cause, that was named at all, per 100 h, over all rigs."""
    on_ground = {(row["ground"], row[named]): row for row in rows if row["rig"] is None}
    return _heat(
        f"Damaged hauls per 100 h towed that name the {named}, by ground, all rigs",
        ["ground", "hours"],
        [
            ([short_ground(row["ground"]), f"{row['tow_hours']:,.0f}"], row["ground"])
            for row in fished
            if row["rig"] is None and row["ground"] != ALL_GROUNDS
        ],
        on_ground,
    )


def _heat(
    caption: str,
    headers: list[str],
    heads: list[tuple[list[str], str]],
    cells: dict[tuple[str, str], Row],
) -> Table | None:
    """A heat table of rates; None where nothing was named."""
    words = list(dict.fromkeys(word for (_, word), row in cells.items() if row["hauls"]))
    if not words or not heads:
        return None
    most = max(row["per_100_h"] for row in cells.values())
    rates = [
        [cells[key, word]["per_100_h"] if (key, word) in cells else 0.0 for word in words]
        for _, key in heads
    ]
    return Table(
        caption,
        [*headers, *map(part_word, words)],
        [[*head, *map(rate_words, of)] for (head, _), of in zip(heads, rates, strict=True)],
        [[*(0.0 for _ in headers), *(rate / most for rate in of)] for of in rates],
    )


def limits(row: Row) -> str:
    """`0.71 to 1.97`; a dash where there are none."""
    if row["low"] is None or row["high"] is None:
        return "–"
    return f"{rate_words(row['low'])} to {rate_words(row['high'])}"

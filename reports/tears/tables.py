"""The tables of where and why the net tears."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import count_of, from_to, short_ground
from reports.language import number, say
from reports.net_drawing.shades import rate_words
from reports.net_drawing.words import part_word
from reports.parts import Table, table_of
from reports.tears.words import cause_word
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from reports.parts import Row

NAMED: dict[str, tuple[str, Callable[[str], str]]] = {
    "part": (
        saying("Damaged hauls per 100 h towed that name the part, by ground, all rigs"),
        part_word,
    ),
    "cause": (
        saying("Damaged hauls per 100 h towed that name the cause, by ground, all rigs"),
        cause_word,
    ),
}
"""The caption of what was named on each ground, and the words for it."""


def parts_of_rig(rig: str, parts: Sequence[Row]) -> Table:
    """Each part that tore with the rig, and what may still be said of those that did not."""
    torn = sorted((part for part in parts if part["hauls"]), key=lambda part: -part["hauls"])
    never = [part for part in parts if not part["hauls"]]
    other = say("each other part") if torn else say("each part")
    return table_of(
        say(
            "{rig}: damaged hauls that name the part; one that tells both sides counts on each",
            rig=rig,
        ),
        [*torn, *never[:1]],
        [
            (say("part"), lambda part: part_word(part["part"]) if part["hauls"] else other),
            (say("hauls"), count_of("hauls")),
            (say("per 100 h"), lambda part: rate_words(part["per_100_h"])),
            (say("limits"), limits),
            (say("port"), count_of("port")),
            (say("starboard"), count_of("starboard")),
            (say("side not told"), count_of("side_not_told")),
        ],
    )


def causes_of_rig(rig: str, fished: Row, causes: Sequence[Row]) -> Table | None:
    """Each cause that was named with the rig; None where none was."""
    named = [cause for cause in causes if cause["hauls"]]
    if not named:
        return None
    told = fished["damaged"] - len(fished["cause_not_told"])
    rows = [
        [
            cause_word(cause["cause"]),
            number(cause["hauls"], ","),
            f"{number(100 * cause['share'], '.0f')} %",
            rate_words(cause["per_100_h"]),
            limits(cause),
        ]
        for cause in sorted(named, key=lambda cause: -cause["hauls"])
    ]
    rows.append([say("not told"), number(len(fished["cause_not_told"]), ","), "–", "–", "–"])
    return Table(
        say("{rig}: damaged hauls that name the cause", rig=rig),
        [
            say("cause"),
            say("hauls"),
            say("of {told:,} told", told=told),
            say("per 100 h"),
            say("limits"),
        ],
        rows,
    )


def parts_by_rig(rigs: Sequence[Row], parts: Sequence[Row]) -> Table | None:
    """Every rig and every part that tore at all, per 100 h, its colour the stronger the more."""
    by_rig = {(part["rig"], part["part"]): part for part in parts if part["ground"] == ALL_GROUNDS}
    return _heat(
        say("Damaged hauls per 100 h towed that name the part, by rig"),
        [say("rig"), say("hours")],
        [([rig["rig"], number(rig["tow_hours"], ",.0f")], rig["rig"]) for rig in rigs],
        by_rig,
        part_word,
    )


def by_ground(named: str, fished: Sequence[Row], rows: Sequence[Row]) -> Table | None:
    """Every ground and every part, or cause, that was named at all, per 100 h, over all rigs."""
    on_ground = {(row["ground"], row[named]): row for row in rows if row["rig"] is None}
    caption, word_of = NAMED[named]
    return _heat(
        say(caption),
        [say("ground"), say("hours")],
        [
            ([short_ground(row["ground"]), number(row["tow_hours"], ",.0f")], row["ground"])
            for row in fished
            if row["rig"] is None and row["ground"] != ALL_GROUNDS
        ],
        on_ground,
        word_of,
    )


def _heat(
    caption: str,
    headers: list[str],
    heads: list[tuple[list[str], str]],
    cells: dict[tuple[str, str], Row],
    word_of: Callable[[str], str],
) -> Table | None:
    """A heat table of rates; None where nothing was named."""
    names = list(dict.fromkeys(name for (_, name), row in cells.items() if row["hauls"]))
    if not names or not heads:
        return None
    most = max(row["per_100_h"] for row in cells.values())
    rates = [
        [cells[key, name]["per_100_h"] if (key, name) in cells else 0.0 for name in names]
        for _, key in heads
    ]
    return Table(
        caption,
        [*headers, *map(word_of, names)],
        [[*head, *map(rate_words, of)] for (head, _), of in zip(heads, rates, strict=True)],
        [[*(0.0 for _ in headers), *(rate / most for rate in of)] for of in rates],
    )


def limits(row: Row) -> str:
    """`0.71 to 1.97`; a dash where there are none."""
    if row["low"] is None or row["high"] is None:
        return "–"
    return from_to(rate_words(row["low"]), rate_words(row["high"]))

"""What a report is made of, in words: tables, figures, sections, cards."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from reports.marks import Marks

Row = dict[str, Any]
Column = tuple[str, Callable[[Any], str]]
"""A column of a table: its header, and what it says of a row."""

BRIEF = 700
"""So many letters are some seven lines on paper."""
IN_PAIRS = {"strip", "ratio", "boats", "measure"}
"""Kinds of charts of which two stand beside one another on paper."""


@dataclass(frozen=True)
class Table:
    """A table of words: its caption, its headers, its rows; numbers are set to the right."""

    caption: str
    headers: list[str]
    rows: list[list[str]]
    shades: list[list[float]] | None = None
    """For each cell of a heat table how strong its colour is, 0 to 1."""


def table_of(caption: str, rows: Iterable[Any], columns: Sequence[Column]) -> Table:
    """A table with a line for each row."""
    cells = [[cell(row) for _, cell in columns] for row in rows]
    return Table(caption, [header for header, _ in columns], cells)


@dataclass(frozen=True)
class Figure:
    """A chart by name, with the finding as its title, how to read it, and its numbers.

    `of` is what it is of beside the outcome: a measure, or a rig version. `alone` is its title in a
    file of its own, where no heading above it says what it is of; blank where the title does.
    """

    name: str
    kind: str
    outcome: str
    title: str
    caption: str
    table: Table
    of: str = ""
    alone: str = ""


@dataclass(frozen=True)
class Sheet:
    """What is known of one rig version: it is drawn, and told in tables and sentences."""

    rig: str
    name: str
    title: str
    paragraphs: list[str] = field(default_factory=list)
    tables: list[Table] = field(default_factory=list)
    figures: list[Figure] = field(default_factory=list)
    points: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Note:
    """A note as it was written, of which haul, and its row of haul_damage; None of several."""

    says: str
    row: int | None


@dataclass(frozen=True)
class Notes:
    """Notes as they were written, under what they tell of."""

    title: str
    notes: list[Note]


@dataclass(frozen=True)
class TearSheet:
    """Where and why the net tore with one rig: a drawing of the net, tables, the notes behind."""

    rig: str
    name: str
    title: str
    says: str
    tables: list[Table] = field(default_factory=list)
    notes: list[Notes] = field(default_factory=list)


@dataclass(frozen=True)
class Trial:
    """A headline tried in other ways: whether it stands, the ratio in each, the trips behind it."""

    title: str
    says: str
    clear: bool
    table: Table
    rests: str


@dataclass(frozen=True)
class Fold:
    """Sentences and tables that are seen when they are asked for."""

    title: str
    points: list[str] = field(default_factory=list)
    tables: list[Table] = field(default_factory=list)


@dataclass(frozen=True)
class Section:
    """A part of the report under one heading; `folded` figures are seen when they are asked for.

    `told` is advice with all that it rests on.
    """

    name: str
    title: str
    paragraphs: list[str] = field(default_factory=list)
    told: list[Told] = field(default_factory=list)
    figures: list[Figure] = field(default_factory=list)
    tables: list[Table] = field(default_factory=list)
    points: list[str] = field(default_factory=list)
    sheets: list[Sheet] = field(default_factory=list)
    tears: list[TearSheet] = field(default_factory=list)
    trials: list[Trial] = field(default_factory=list)
    folded: list[Figure] = field(default_factory=list)
    folds: list[Fold] = field(default_factory=list)

    @property
    def looks(self) -> str:
        """`brief` where what is said first is so short that on paper it goes with what follows.

        `in-pairs` where charts of a kind are read beside one another.
        """
        brief = sum(map(len, self.paragraphs)) <= BRIEF
        kinds = [figure.kind for figure in self.figures]
        in_pairs = len(kinds) > 1 and len(set(kinds)) == 1 and kinds[0] in IN_PAIRS
        return " ".join(look for look, has in (("brief", brief), ("in-pairs", in_pairs)) if has)

    @property
    def all_figures(self) -> list[Figure]:
        """Its own figures, those that are folded, and those of its sheets."""
        of_sheets = (figure for sheet in self.sheets for figure in sheet.figures)
        return [*self.figures, *self.folded, *of_sheets]


@dataclass(frozen=True)
class CardLine:
    """What one outcome says of a rig, and the side remarks that keep it from misleading."""

    title: str
    words: str
    leans: str
    sides: list[str]


@dataclass(frozen=True)
class Card:
    """One rig against the reference, in the headline outcomes."""

    rig: str
    lines: list[CardLine]


@dataclass(frozen=True)
class Told:
    """One line of the skipper's first screen: what to do, as a word and a sentence; what it pays.

    The word is in English, as the look of the line hangs on it; it is said where it is told.
    `sides` stand further down: whether it may be luck, the hauls it rests on.
    """

    label: str
    says: str
    pays: str = ""
    sides: tuple[str, ...] = ()


@dataclass(frozen=True)
class Screen:
    """The first screen of a page that is not told of the whole season: the co-op's, a boat's."""

    title: str
    period: str
    facts: list[tuple[str, str]]
    lead: str
    cards: list[Card]
    untold: list[str]


@dataclass(frozen=True, kw_only=True)
class Contents:
    """The whole report in words, in the order of the page; what has a value is the season's own."""

    reader: str
    title: str
    period: str
    invented: bool
    facts: list[tuple[str, str]]
    opening: list[Told] = field(default_factory=list)
    in_brackets: str = ""
    compared: str = ""
    headlines: Table | None = None
    lead: str
    cards: list[Card]
    untold: list[str]
    by_ground: Table | None = None
    sections: list[Section]
    folded: tuple[str, ...]
    marks: Marks

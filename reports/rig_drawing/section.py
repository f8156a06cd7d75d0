"""The parts of one section of a rig in their places along the gear, ready to be drawn.

Lengths are in mm, along the gear from the middle of the section. In what order parts are threaded
is not recorded: each kind is spread evenly over the section, and all pieces stand as far apart
(own judgement, no source). Where they add up to more than the section they touch.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from pipeline.rigs.weight.chains import Standard, link_of, standard_in
from pipeline.rigs.weight.parts import BY_LENGTH
from pipeline.rigs.weight.weights import ROW_SET_ASIDE
from reports.language import say

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from reports.parts import Row

MM_PER_M = 1000

RUNS_FROM_SHARE = 0.25
"""A chain, wire or rope of at least this share of the section's length runs through it.

Shorter ones are droppers, and how these hang is not recorded (own judgement, no source).
"""


MOST_PIECES = 2000
"""Of one kind: a slip of the pen in a count must not fill the memory."""


@dataclass(frozen=True)
class Run:
    """What runs through the section in one piece: chain, wire, rope, or discs close together."""

    name: str
    kind: str
    diameter_mm: float
    standard: Standard
    material: str | None = None

    @property
    def height_mm(self) -> float:
        """How high it stands on the seabed: a chain on the wider side of its links."""
        if self.kind != "chain":
            return self.diameter_mm
        link = link_of(self.diameter_mm, self.standard)
        return link.inner_width_mm + 2 * link.wire_mm


@dataclass(frozen=True)
class Piece:
    """One of the parts threaded on the gear; `width_mm` is None where it is not recorded."""

    name: str
    kind: str | None
    material: str | None
    diameter_mm: float
    width_mm: float | None
    bore_mm: float | None
    at_mm: float = 0.0

    @property
    def start_mm(self) -> float:
        """Where it begins along the gear."""
        return self.at_mm - (self.width_mm or 0.0) / 2

    @property
    def end_mm(self) -> float:
        """Where it ends along the gear."""
        return self.at_mm + (self.width_mm or 0.0) / 2


@dataclass(frozen=True)
class Section:
    """What can be drawn of a section, and the names of what can't (`left_out`)."""

    name: str
    length_mm: float | None
    pieces: tuple[Piece, ...]
    runs: tuple[Run, ...]
    on_the_line: tuple[Run, ...]
    left_out: tuple[str, ...]
    rounded: bool = False
    """Whether rope is wound round the wire or chain, which is then its core."""
    lacks_a_row: bool = False
    """Whether a row of its parts was set aside, so that it may be thicker than is drawn."""

    @property
    def largest_mm(self) -> float | None:
        """Diameter of the largest part on the gear."""
        sizes = [piece.diameter_mm for piece in self.pieces]
        return max([*sizes, *(run.diameter_mm for run in self.runs)], default=None)

    @property
    def kinds_of_pieces(self) -> list[Piece]:
        """One piece of each kind and size, the largest first."""
        of_each = {(p.name, p.diameter_mm, p.width_mm): p for p in self.pieces}
        return sorted(of_each.values(), key=_diameter, reverse=True)

    @property
    def body(self) -> Run | None:
        """The thickest run where nothing thicker is threaded on the gear."""
        thickest = max(self.runs, key=_diameter, default=None)
        return thickest if thickest and thickest.diameter_mm == self.largest_mm else None

    @property
    def core(self) -> Run | None:
        """What pieces are threaded on, or rope is wound round: the thickest that fits."""
        if self.pieces or (self.rounded and not any(run.kind == "wire" for run in self.runs)):
            kinds: tuple[str, ...] = BY_LENGTH
        else:
            kinds = ("wire",)
        thin = [r for r in self.runs if r.kind in kinds and r.diameter_mm < (self.largest_mm or 0)]
        return max(thin, key=_diameter, default=None)

    @property
    def alongside(self) -> list[Run]:
        """Runs that lie along a rope or chain; what else is in a threaded gear is not told."""
        if self.body is None:
            return []
        return [run for run in self.runs if run not in {self.body, self.core}]


def _diameter(part: Run | Piece) -> float:
    return part.diameter_mm


def section_of(rig: Mapping[str, Any], name: str) -> Section:
    """The section of that name, from the rig's `parts` and `weights`."""
    rows = [row for row in rig.get("parts") or () if row.get("section") == name]
    length_mm = _length_mm(rig, name)
    longest_m = max((_positive(row, "length_m") or 0.0 for row in rows), default=0.0)
    runs: list[Run] = []
    on_the_line: list[Run] = []
    threaded: list[Row] = []
    left_out: list[str] = []
    for row in rows:
        run = _run(row, longest_m)
        at_the_line = "fishing" in str(row.get("line") or "").lower()
        if run is not None:
            (on_the_line if at_the_line else runs).append(run)
        elif at_the_line or not _positive(row, "diameter_mm") or row.get("kind") in BY_LENGTH:
            left_out.append(str(row.get("part") or say("part without a name")))
        else:
            threaded.append(row)
    return Section(
        name,
        length_mm,
        _threaded(threaded, length_mm),
        tuple(runs),
        tuple(on_the_line),
        tuple(left_out),
        rounded=rig.get("ground_gear") == "rope rounded",
        lacks_a_row=any(row.get("lacks") == ROW_SET_ASIDE for row in rows),
    )


def _length_mm(rig: Mapping[str, Any], name: str) -> float | None:
    lengths = (
        _positive(row, "gear_m") for row in rig.get("weights") or () if row.get("section") == name
    )
    length_m = next(lengths, None)
    return None if length_m is None else length_m * MM_PER_M


def _run(row: Mapping[str, Any], longest_m: float) -> Run | None:
    """The row as a run; None if it is threaded, a dropper, or of no known diameter."""
    kind, diameter_mm = row.get("kind"), _positive(row, "diameter_mm")
    length_m = _positive(row, "length_m")
    close = kind not in BY_LENGTH and length_m is not None and _positive(row, "width_mm") is None
    if diameter_mm is None or not (kind in BY_LENGTH or close):
        return None
    if length_m is not None and length_m < RUNS_FROM_SHARE * longest_m:
        return None
    name = str(row.get("part") or kind)
    shape = str(kind if kind in BY_LENGTH else "discs")
    return Run(name, shape, diameter_mm, standard_in(name), row.get("material"))


def _piece(row: Mapping[str, Any]) -> Piece:
    kind, diameter_mm = row.get("kind"), _positive(row, "diameter_mm") or 0.0
    width_mm = _positive(row, "width_mm")
    if width_mm is None and kind == "bobbin":
        width_mm = diameter_mm
    return Piece(
        str(row.get("part") or kind or say("part")),
        kind,
        row.get("material"),
        diameter_mm,
        width_mm,
        _positive(row, "bore_mm"),
    )


def _threaded(rows: Iterable[Row], length_mm: float | None) -> tuple[Piece, ...]:
    """The pieces side by side, the middle of the section at 0; one of a kind nobody counted."""
    in_order: list[tuple[float, float, int, Piece]] = []
    for place, row in enumerate(rows):
        piece = _piece(row)
        spread = length_mm is not None or piece.width_mm is not None
        pieces = row.get("pieces")
        count = min(int(pieces), MOST_PIECES) if pieces is not None and spread else 1
        in_order += [
            ((turn + 0.5) / count, -piece.diameter_mm, place, piece) for turn in range(count)
        ]
    ordered = [piece for *_, piece in sorted(in_order, key=lambda entry: entry[:3])]
    wide_mm = sum(piece.width_mm or 0.0 for piece in ordered)
    spare_mm = max(0.0, (length_mm or 0.0) - wide_mm)
    between_mm = spare_mm / len(ordered) if ordered else 0.0
    placed: list[Piece] = []
    at_mm = -(wide_mm + spare_mm) / 2
    for piece in ordered:
        reach_mm = (piece.width_mm or 0.0) + between_mm
        placed.append(replace(piece, at_mm=at_mm + reach_mm / 2))
        at_mm += reach_mm
    return tuple(placed)


def _positive(row: Mapping[str, Any], name: str) -> float | None:
    """The number in the row; None if there is none, or it is not more than 0."""
    value = row.get(name)
    return float(value) if isinstance(value, int | float) and value > 0 else None

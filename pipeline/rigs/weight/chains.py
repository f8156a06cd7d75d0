"""Mass of chain by its nominal wire, from the standards' tables or from the shape of a link.

Sources: DIN 766 (short link) and DIN 764 (long link), masses, pitches and inner widths as chain
dealers print them from the standards' table 1; 26 mm of DIN 766 from memory. Round link: the wire
of one link runs round two half circles and along two straights, through the middle of the wire.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Literal

Standard = Literal["DIN 766", "DIN 764"]

MM_PER_M = 1000
MM3_PER_DM3 = 1_000_000


@dataclass(frozen=True)
class Link:
    """A round link in mm: wire, pitch (inner length) and inner width."""

    wire_mm: float
    pitch_mm: float
    inner_width_mm: float


@dataclass(frozen=True)
class TableChain:
    """A chain of a standard's table: its link, and its mass in kg a metre as printed."""

    link: Link
    kg_per_m: float


def _chain(wire: float, pitch: float, inner_width: float, kg_per_m: float) -> TableChain:
    return TableChain(Link(wire, pitch, inner_width), kg_per_m)


TABLES: dict[Standard, tuple[TableChain, ...]] = {
    "DIN 766": (
        _chain(6, 18.5, 7.2, 0.8),
        _chain(7, 22, 8.4, 1.1),
        _chain(8, 24, 9.6, 1.4),
        _chain(9, 27, 10.8, 1.8),
        _chain(10, 28, 12, 2.2),
        _chain(11, 31, 13.2, 2.7),
        _chain(13, 36, 15.6, 3.8),
        _chain(14, 41, 16.8, 4.4),
        _chain(16, 45, 19.2, 5.7),
        _chain(18, 50, 21.6, 7.3),
        _chain(20, 56, 24, 9.0),
        _chain(23, 64, 27.6, 12.0),
        _chain(26, 73, 31.2, 15.0),
    ),
    "DIN 764": (
        _chain(10, 35, 14, 2.1),
        _chain(13, 45, 18, 3.5),
        _chain(16, 56, 22, 5.3),
        _chain(18, 63, 24, 6.7),
        _chain(20, 70, 27, 8.3),
        _chain(23, 80, 31, 11.0),
        _chain(26, 91, 35, 14.0),
        _chain(30, 105, 39, 18.5),
        _chain(33, 115, 43, 22.5),
        _chain(36, 126, 47, 27.0),
    ),
}

PROPORTIONS: dict[Standard, tuple[float, float]] = {
    "DIN 766": (2.8, 1.2),
    "DIN 764": (3.5, 1.35),
}
"""Pitch and inner width over the wire, as they run through each table."""


def table_chain(wire_mm: float, standard: Standard = "DIN 766") -> TableChain | None:
    """The chain of that nominal wire in the standard's table, or None if it has none."""
    found = (chain for chain in TABLES[standard] if chain.link.wire_mm == wire_mm)
    return next(found, None)


def link_of(wire_mm: float, standard: Standard = "DIN 766") -> Link:
    """The link of that nominal wire: the table's, else one of the table's proportions."""
    known = table_chain(wire_mm, standard)
    if known is not None:
        return known.link
    pitch, inner_width = PROPORTIONS[standard]
    return Link(wire_mm, pitch * wire_mm, inner_width * wire_mm)


def link_kg(link: Link, density: float) -> float:
    """Mass in kg of one link of a density in t/m³: π d²/4 × (2 (p − b) + π (b + d)).

    Raises `ValueError` for a link that is wider inside than it is long.
    """
    if link.inner_width_mm > link.pitch_mm:
        message = f"a link of {link.pitch_mm:g} mm pitch cannot be {link.inner_width_mm:g} mm wide"
        raise ValueError(message)
    straights = 2 * (link.pitch_mm - link.inner_width_mm)
    bends = pi * (link.inner_width_mm + link.wire_mm)
    return density * pi * link.wire_mm**2 / 4 * (straights + bends) / MM3_PER_DM3


def links_per_m(link: Link) -> float:
    """How many links a metre of taut chain has: one for each pitch."""
    return MM_PER_M / link.pitch_mm


def kg_per_m_from_geometry(link: Link, density: float) -> float:
    """Mass in kg of a metre of chain of a density in t/m³; within 5 % of the tables."""
    return link_kg(link, density) * links_per_m(link)


def standard_in(text: str) -> Standard:
    """The standard that a part's name asks for: short link (DIN 766) unless it says otherwise."""
    plain = text.lower().replace("-", " ")
    return "DIN 764" if "764" in plain or "long link" in plain else "DIN 766"

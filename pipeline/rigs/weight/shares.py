"""The share of its weight that a part keeps in sea water: weighed, by the trade's rule, by density.

How sure each is, as a standard deviation of the share (not relative):
- weighed: two weighings, about 0.02 (common practice, no source); elsewhere on a like part, 0.03;
- trade rule: round numbers; half of what lies between the rule and the density, at least 0.02;
- density: the range of the material's density carried over;
- a hollow part of which nobody says whether it floods: half of what lies between one that floods
  and one that does not, the latter taken to sink all the same (0 at least).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from pipeline.rigs.weight.masses import is_hollow, solid_of
from pipeline.rigs.weight.solids import sealed_share

if TYPE_CHECKING:
    from pipeline.rigs.weight.parts import Part

TYRE_STAMPED_KEEPS = 0.05
"""Discs stamped from tyres, rockhopper discs among them (common practice, no source)."""

SOLID_RUBBER_KEEPS = 0.20
"""Solid rubber bobbins and wheels (common practice, no source)."""

WEIGHED_SD = 0.02
WEIGHED_ELSEWHERE_SD = 0.03
RULE_SD_AT_LEAST = 0.02


@dataclass(frozen=True)
class Share:
    """A kept share: its value, its standard deviation and where it is from.

    The rule's and the density's stand beside it, so that both can be shown where they differ.
    """

    kept: float | None
    sd: float | None
    source: str | None
    by_rule: float | None
    by_density: float | None


def share_by_rule(part: Part) -> float | None:
    """What the trade reckons that the part keeps, or None where the trade has no rule.

    A disc of rubber is taken to be stamped from a tyre (common practice, no source).
    """
    material = part.material.name if part.material else None
    if material == "tyre rubber" or (material == "rubber" and part.kind == "disc"):
        return TYRE_STAMPED_KEEPS
    if material == "rubber" and part.kind in {"bobbin", "wheel"}:
        return SOLID_RUBBER_KEEPS
    return None


def share_of(part: Part, mass_kg: float | None, weighed_elsewhere: float | None = None) -> Share:
    """The share of one piece of `mass_kg` in air; a weighing goes before rule, rule before density.

    `weighed_elsewhere` is the share of an alike part that was weighed in water.
    """
    by_rule = share_by_rule(part)
    by_density = part.material.share_kept if part.material else None
    kept, sd, source = (
        _weighed(part.weighed_share, weighed_elsewhere)
        or _ruled(by_rule, by_density)
        or _dense(part, mass_kg)
        or (None, None, None)
    )
    return Share(kept, sd, source, by_rule, by_density)


def _weighed(own: float | None, elsewhere: float | None) -> tuple[float, float, str] | None:
    if own is not None:
        return own, WEIGHED_SD, "weighed"
    if elsewhere is not None:
        return elsewhere, WEIGHED_ELSEWHERE_SD, "weighed elsewhere"
    return None


def _ruled(rule: float | None, density: float | None) -> tuple[float, float, str] | None:
    if rule is None:
        return None
    apart = abs(rule - (rule if density is None else density))
    return rule, max(RULE_SD_AT_LEAST, apart / 2), "trade rule"


def _dense(part: Part, mass_kg: float | None) -> tuple[float, float, str] | None:
    if part.material is None:
        return None
    kept = part.material.share_kept
    return kept, max(part.material.share_sd, _flooding_sd(part, mass_kg, kept)), "density"


def _flooding_sd(part: Part, mass_kg: float | None, flooded: float) -> float:
    """What it costs not to know whether a hollow part floods; 0 for a solid one or a floating."""
    solid = solid_of(part)
    if not is_hollow(part) or solid is None or not mass_kg:
        return 0.0
    return max(0.0, flooded - max(0.0, sealed_share(mass_kg, solid))) / 2

"""Where the fishing line of a rig stands over a section, as far as it is known."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from pipeline.rigs.line.geometry import line_position

if TYPE_CHECKING:
    from collections.abc import Mapping

    from reports.rig_drawing.section import Section

SAME_MM = 0.5


@dataclass(frozen=True)
class FishingLine:
    """The line and its toggles over a gear of `gear_mm` in diameter; None is not known.

    `gap_drawn_mm` is the opening that height and diameter leave, `gap_mm` the one that is told,
    measured where `gap_from` says so.
    """

    gear_mm: float | None
    toggle_mm: float | None
    drop_back_mm: float | None
    height_mm: float | None
    gap_mm: float | None
    gap_from: str | None
    gap_drawn_mm: float | None
    lies: str | None
    angle_deg: float | None

    @property
    def core_mm(self) -> float:
        """How high the gear's core is above the seabed."""
        return (self.gear_mm or 0.0) / 2

    @property
    def placed(self) -> tuple[float, float] | None:
        """How far aft of the core the line is and how far above the seabed, if both are known."""
        if self.drop_back_mm is None or self.height_mm is None:
            return None
        return self.drop_back_mm, self.height_mm

    @property
    def level_mm(self) -> float | None:
        """The line's height above the seabed, or what a measured gap makes of it."""
        if self.height_mm is not None or self.gap_mm is None or self.gear_mm is None:
            return self.height_mm
        return self.gear_mm + self.gap_mm


def fishing_line(rig: Mapping[str, Any], section: Section) -> FishingLine:
    """The line over the section, from the rig's geometry, which is told for its thickest part.

    Over a section of another diameter the line is worked out anew, and a measured gap is not told.
    Of one that may be thicker than is known no height of the line can be told.
    """
    told: Mapping[str, Any] = rig.get("geometry") or {}
    gear_mm = section.largest_mm or told.get("gear_diameter_mm")
    toggle_mm = _first(told.get("toggle_mm"), rig.get("toggle_mm"))
    line = FishingLine(
        gear_mm,
        toggle_mm,
        told.get("drop_back_mm"),
        told.get("height_mm"),
        _first(told.get("gap_mm"), rig.get("gap_mm")),
        _first(told.get("gap_from"), None if rig.get("gap_mm") is None else "measured"),
        told.get("gap_by_geometry_mm"),
        told.get("lies"),
        told.get("angle_deg"),
    )
    if section.lacks_a_row:
        return FishingLine(gear_mm, toggle_mm, *[None] * 7)
    told_for_mm = told.get("gear_diameter_mm")
    if gear_mm is None or told_for_mm is None or abs(gear_mm - told_for_mm) <= SAME_MM:
        return line
    return _anew(line, told, gear_mm)


def _anew(line: FishingLine, told: Mapping[str, Any], gear_mm: float) -> FishingLine:
    slack_m, turn_rad = told.get("slack_m"), told.get("turn_rad")
    if line.toggle_mm is None or slack_m is None or turn_rad is None:
        return FishingLine(gear_mm, line.toggle_mm, *[None] * 7)
    at = line_position(line.toggle_mm, slack_m, turn_rad, gear_mm)
    return FishingLine(
        gear_mm,
        line.toggle_mm,
        at.drop_back_mm,
        at.height_mm,
        at.gap_mm,
        "worked out",
        at.gap_mm,
        at.lies,
        at.angle_deg,
    )


def _first(*values: Any) -> Any:  # noqa: ANN401 - of whatever kind the values are
    return next((value for value in values if value is not None), None)

"""How the gap under the fishing line changes from one rig to another, and what would keep it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from pipeline.rigs.line.geometry import slack_for_gap_m
from pipeline.rigs.swap.weight_changes import difference

if TYPE_CHECKING:
    from pipeline.rigs.swap.weight_changes import Row

SAME_GAP_MM = 0.5
"""Gaps that differ by no more are the same: they are shown to 1 mm."""


@dataclass(frozen=True)
class GapChange:
    """Gaps in mm and slacks in m of two rigs; None is not known.

    The `…_how` of a gap is measured or worked out; those by geometry stand beside. `lies_…` is
    one of `geometry.Lies`. `kept_mm` is the old rig's gap, by geometry, or as measured where its
    geometry is not known. `slack_to_keep_m` is the slack with which the new rig's gap by geometry
    would be that, the line lying aft, and `line_change_m` how much longer the new rig's fishing
    line has to be for it (below 0, shorter). `cannot_be_kept` says that the new rig's toggles are
    too short for it. `slack_that_closes_m` is the new rig's.
    """

    from_mm: float | None
    from_how: str | None
    to_mm: float | None
    to_how: str | None
    change_mm: float | None
    by_geometry_from_mm: float | None
    by_geometry_to_mm: float | None
    by_geometry_change_mm: float | None
    lies_from: str | None
    lies_to: str | None
    slack_from_m: float | None
    slack_to_m: float | None
    kept_mm: float | None
    slack_to_keep_m: float | None
    line_change_m: float | None
    cannot_be_kept: bool
    slack_that_closes_m: float | None


def gap_change(old: Row, new: Row) -> GapChange:
    """The change from one row of `RIG_GEOMETRY_SCHEMA` to another; a row may be empty."""
    old_mm, new_mm = old.get("gap_by_geometry_mm"), new.get("gap_by_geometry_mm")
    kept_mm = old.get("gap_mm") if old_mm is None else old_mm
    keep_m, cannot_be_kept = _slack_to_keep(kept_mm, new)
    return GapChange(
        from_mm=old.get("gap_mm"),
        from_how=old.get("gap_from"),
        to_mm=new.get("gap_mm"),
        to_how=new.get("gap_from"),
        change_mm=difference(old.get("gap_mm"), new.get("gap_mm")),
        by_geometry_from_mm=old_mm,
        by_geometry_to_mm=new_mm,
        by_geometry_change_mm=difference(old_mm, new_mm),
        lies_from=old.get("lies"),
        lies_to=new.get("lies"),
        slack_from_m=old.get("slack_m"),
        slack_to_m=new.get("slack_m"),
        kept_mm=kept_mm,
        slack_to_keep_m=keep_m,
        line_change_m=difference(new.get("slack_m"), keep_m),
        cannot_be_kept=cannot_be_kept,
        slack_that_closes_m=new.get("gap_closed_at_slack_m"),
    )


def _slack_to_keep(kept_mm: float | None, new: Row) -> tuple[float | None, bool]:
    """The slack with which the new rig has that gap, and whether its toggles are too short for it.

    Where it has it already, that is the slack it has.
    """
    toggle_mm, diameter_mm = new.get("toggle_mm"), new.get("gear_diameter_mm")
    if kept_mm is None or toggle_mm is None or diameter_mm is None:
        return None, False
    has_mm = new.get("gap_by_geometry_mm")
    if has_mm is not None and abs(has_mm - kept_mm) <= SAME_GAP_MM:
        return new.get("slack_m"), False
    slack_m = slack_for_gap_m(kept_mm, toggle_mm, diameter_mm, new["turn_rad"])
    return slack_m, slack_m is None and kept_mm > 0

"""What a swap does to the gap under the fishing line, in sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.rigs.swap.gap_changes import SAME_GAP_MM

if TYPE_CHECKING:
    from pipeline.rigs.swap.gap_changes import GapChange

LEAST_LINE_M = 0.01
"""Below this a change of the fishing line is not told: no tape is as good."""

LAY = {
    "aft": "lay aft of the gear",
    "above": "hung straight above the gear",
    "forward": "lay forward of the gear",
    "slack hangs": "hung slack",
    "drawn tight": "was drawn tight forward of the gear",
    "on the gear": "lay on the gear",
}
LIES = {
    "aft": "lies aft of the gear",
    "above": "hangs straight above the gear",
    "forward": "lies forward of the gear",
    "slack hangs": "hangs slack",
    "drawn tight": "is drawn tight forward of the gear",
    "on the gear": "lies on the gear",
}


def gap_sentences(gap: GapChange) -> list[str]:
    """The gap before and after, where the line lies, and what would keep or close the gap."""
    if gap.from_mm is None and gap.to_mm is None:
        return ["Not known of either."]
    before, after = _gap_of(gap.from_mm, gap.from_how), _gap_of(gap.to_mm, gap.to_how)
    said = [f"From {before} to {after}{_change_of(gap)}."]
    if gap.lies_from != gap.lies_to and gap.lies_from and gap.lies_to:
        said.append(f"Before, the line {LAY[gap.lies_from]}; after, it {LIES[gap.lies_to]}.")
    said += _what_keeps_it(gap)
    said += _what_closes_it(gap)
    return [" ".join(said)]


def millimetres(value: float | None) -> str:
    """A length in whole millimetres, or that it is not known."""
    return "not known" if value is None else f"{value:z.0f} mm"


def _what_keeps_it(gap: GapChange) -> list[str]:
    """What would keep the gap, where there was one and it takes a change to keep it."""
    if gap.slack_to_keep_m is None or gap.line_change_m is None or not gap.kept_mm:
        return []
    if abs(gap.line_change_m) < LEAST_LINE_M:
        return []
    longer = "longer" if gap.line_change_m > 0 else "shorter"
    return [
        f"A fishing line {abs(gap.line_change_m):z.2f} m {longer} would keep it as it was "
        f"({gap.slack_to_keep_m:z.2f} m of slack)."
    ]


def _what_closes_it(gap: GapChange) -> list[str]:
    """The slack that closes the new rig's gap; of one that its slack has closed, what opens it."""
    closes_m, slack_m = gap.slack_that_closes_m, gap.slack_to_m
    gaps_mm = (gap.to_mm, gap.by_geometry_to_mm)
    are_open = [mm > SAME_GAP_MM for mm in gaps_mm if mm is not None]
    if closes_m is None:
        return []
    if all(are_open):
        return [f"{closes_m:z.2f} m of slack would close it."]
    if any(are_open) or slack_m is None or slack_m < closes_m:
        return []
    return [f"It is closed, and with less than {closes_m:z.2f} m of slack it would open."]


def _gap_of(value_mm: float | None, how: str | None) -> str:
    return millimetres(value_mm) + ("" if value_mm is None else f" ({how})")


def _change_of(gap: GapChange) -> str:
    """The change, and by the lengths alone where one of the gaps was measured."""
    if gap.change_mm is None:
        return ""
    by_lengths = ""
    if gap.by_geometry_change_mm is not None and "measured" in {gap.from_how, gap.to_how}:
        by_lengths = (
            f", by their lengths {gap.by_geometry_change_mm:+z.0f} mm "
            f"({gap.by_geometry_from_mm:z.0f} to {gap.by_geometry_to_mm:z.0f})"
        )
    return f": {gap.change_mm:+z.0f} mm{by_lengths}"

"""What the drawing of a rig from above says in words."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pipeline.rigs.weight.rig_weights import SIDES, WHOLE
from reports.rig_drawing.curve import length_of, sum_of_sections_m, weights_of
from reports.rig_drawing.words import NO_BREAK, metres, mm

if TYPE_CHECKING:
    from collections.abc import Mapping

    from reports.rig_drawing.curve import Curve

MEASURED = "wing end spread"
DIFFERS_FROM = 0.02
"""Sections that add up to so much more or less than the gear's length are remarked on."""


def kilograms(value: float) -> str:
    """A weight to three figures, whole from 10 kg on."""
    return f"{value:z,.0f}{NO_BREAK}kg" if abs(value) >= 10 else f"{value:z.1f}{NO_BREAK}kg"


def weight_lines(rig: Mapping[str, Any], section: str) -> list[str]:
    """Length, weight in water and weight a metre of a section, or the whole; what is known."""
    row = weights_of(rig, section) or {}
    lines = [section]
    if row.get("gear_m"):
        lines[0] += f", {metres(row['gear_m'])}"
    if row.get("weight_water_kg") is not None:
        least = "at least " if row.get("at_least") else ""
        lines.append(f"{least}{kilograms(row['weight_water_kg'])}")
    if row.get("weight_water_kg_per_m") is not None:
        lines.append(f"{_a_metre(row['weight_water_kg_per_m'])}{NO_BREAK}kg a metre")
    return lines


def _a_metre(kg: float) -> str:
    return f"{kg:z.1f}" if abs(kg) < 100 else f"{kg:z,.0f}"


def spread_words(rig: Mapping[str, Any], curve: Curve) -> str:
    """The spread as it is drawn, and whether it was measured."""
    measured = (rig.get("geometry") or {}).get("turn_from") == MEASURED
    spread = f"{curve.spread_m:.3g}{NO_BREAK}m"
    return f"spread {spread}, {'measured' if measured else 'assumed'}"


def plan_notes(rig: Mapping[str, Any], curve: Curve) -> list[str]:
    """What the reader must know of the view from above, a sentence each."""
    return [*_of_the_line(rig), *_of_weights(rig), *_of_lengths(rig, curve)]


def plan_told(rig: Mapping[str, Any], curve: Curve) -> str:
    """What the view from above shows, for those who cannot see it."""
    told = [
        "Drawn to scale from above, the way of tow up the page.",
        f"The ground gear, {metres(curve.gear_m)} long, lies in a catenary: "
        f"{spread_words(rig, curve)}, its bosom {curve.depth_m:.3g}{NO_BREAK}m behind the wing "
        "ends.",
    ]
    told += [f"{'; '.join(weight_lines(rig, section)).capitalize()}." for section in SIDES]
    return " ".join((*told, *plan_notes(rig, curve)))


def _of_the_line(rig: Mapping[str, Any]) -> list[str]:
    drop_back_mm = (rig.get("geometry") or {}).get("drop_back_mm")
    if drop_back_mm is None:
        return ["Where the fishing line is, is not known."]
    if round(drop_back_mm) == 0:
        return ["The fishing line stands straight above the gear."]
    where = "behind" if drop_back_mm >= 0 else "forward of"
    return [
        f"The thin line is the fishing line, {mm(abs(drop_back_mm))} {where} the gear, to scale."
    ]


def _of_weights(rig: Mapping[str, Any]) -> list[str]:
    whole = weight_lines(rig, WHOLE)[1:]
    if not whole:
        return []
    return [
        "Weights are in sea water, those of wing and bunt of one side; "
        f"the whole gear: {', '.join(whole)}."
    ]


def _of_lengths(rig: Mapping[str, Any], curve: Curve) -> list[str]:
    if not all(length_of(rig, section) for section in SIDES):
        return ["Not every section's length is known, so that they are not told apart."]
    added_m = sum_of_sections_m(rig)
    if added_m is None or abs(added_m / curve.gear_m - 1) <= DIFFERS_FROM:
        return []
    return [
        f"The sections add up to {metres(added_m)}, the gear is {metres(curve.gear_m)} long: "
        "they are drawn in proportion."
    ]

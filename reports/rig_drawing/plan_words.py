"""What the drawing of a rig from above says in words."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pipeline.rigs.weight.rig_weights import WHOLE
from reports.gear_words import section_name
from reports.language import number, say
from reports.rig_drawing.curve import length_of, sections_of, sum_of_sections_m, weights_of
from reports.rig_drawing.words import metres, mm
from reports.sentences import capital
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Mapping

    from reports.rig_drawing.curve import Curve

MEASURED = "wing end spread"
DIFFERS_FROM = 0.02
"""Sections that add up to so much more or less than the gear's length are remarked on."""


def kilograms(value: float) -> str:
    """A weight to three figures, whole from 10 kg on."""
    return say("{weight}\u00a0kg", weight=number(value, "z,.0f" if abs(value) >= 10 else "z.1f"))


def weight_lines(rig: Mapping[str, Any], section: str) -> list[str]:
    """Length, weight in water and weight a metre of a section, or the whole; what is known."""
    row = weights_of(rig, section) or {}
    lines = [section_name(section)]
    if row.get("gear_m"):
        lines[0] += f", {metres(row['gear_m'])}"
    if row.get("weight_water_kg") is not None:
        weight = kilograms(row["weight_water_kg"])
        lines.append(say("at least {kilos}", kilos=weight) if row.get("at_least") else weight)
    if row.get("weight_water_kg_per_m") is not None:
        lines.append(kilograms_a_metre(row["weight_water_kg_per_m"]))
    return lines


def kilograms_a_metre(value: float) -> str:
    """A weight of a metre of gear, whole from 100 kg on."""
    form = "z.1f" if abs(value) < 100 else "z,.0f"
    return say("{weight}\u00a0kg a metre", weight=number(value, form))


def spread_words(rig: Mapping[str, Any], curve: Curve) -> str:
    """The spread as it is drawn, and whether it was measured."""
    measured = (rig.get("geometry") or {}).get("turn_from") == MEASURED
    return say(SPREAD_MEASURED if measured else SPREAD_ASSUMED, spread=curve.spread_m)


SPREAD_MEASURED = saying("spread {spread:.3g}\u00a0m, measured")
SPREAD_ASSUMED = saying("spread {spread:.3g}\u00a0m, assumed")


def plan_notes(rig: Mapping[str, Any], curve: Curve) -> list[str]:
    """What the reader must know of the view from above, a sentence each."""
    return [*_of_the_line(rig), *_of_weights(rig), *_of_lengths(rig, curve)]


def plan_told(rig: Mapping[str, Any], curve: Curve) -> str:
    """What the view from above shows, for those who cannot see it."""
    told = [
        say("Drawn to scale from above, the way of tow up the page."),
        say(
            "The ground gear, {length} long, lies in a catenary: {spread}, its bosom "
            "{depth:.3g}\u00a0m behind the wing ends.",
            length=metres(curve.gear_m),
            spread=spread_words(rig, curve),
            depth=curve.depth_m,
        ),
    ]
    told += [f"{capital('; '.join(weight_lines(rig, section)))}." for section in sections_of(rig)]
    return " ".join((*told, *plan_notes(rig, curve)))


def _of_the_line(rig: Mapping[str, Any]) -> list[str]:
    drop_back_mm = (rig.get("geometry") or {}).get("drop_back_mm")
    if drop_back_mm is None:
        return [say("Where the fishing line is, is not known.")]
    if round(drop_back_mm) == 0:
        return [say("The fishing line stands straight above the gear.")]
    return [say(BEHIND if drop_back_mm >= 0 else FORWARD, distance=mm(abs(drop_back_mm)))]


BEHIND = saying("The thin line is the fishing line, {distance} behind the gear, to scale.")
FORWARD = saying("The thin line is the fishing line, {distance} forward of the gear, to scale.")


def _of_weights(rig: Mapping[str, Any]) -> list[str]:
    whole = weight_lines(rig, WHOLE)[1:]
    if not whole:
        return []
    return [
        say(
            "Weights are in sea water, those of wing and bunt of one side; the whole gear: "
            "{weights}.",
            weights=", ".join(whole),
        )
    ]


def _of_lengths(rig: Mapping[str, Any], curve: Curve) -> list[str]:
    if not all(length_of(rig, section) for section in sections_of(rig)):
        return [say("Not every section's length is known, so that they are not told apart.")]
    added_m = sum_of_sections_m(rig)
    if added_m is None or abs(added_m / curve.gear_m - 1) <= DIFFERS_FROM:
        return []
    return [
        say(
            "The sections add up to {added}, the gear is {length} long: they are drawn in "
            "proportion.",
            added=metres(added_m),
            length=metres(curve.gear_m),
        )
    ]

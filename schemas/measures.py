"""The measures of a rig that outcomes are laid to: what a skipper can change by the tape."""

from __future__ import annotations

from dataclasses import dataclass

from schemas.words import saying


@dataclass(frozen=True)
class Measure:
    """A number that a rig version has, or that a haul has at its time.

    A ratio is told for each `step` more of it. `least_range` is how far apart the rigs must be in
    it before anything is told: this project's own judgement, no source. `more` says what a step
    up is, in words with a place for {step}.
    """

    name: str
    title: str
    unit: str
    step: float
    least_range: float
    more: str


MEASURES = (
    Measure(
        "largest_diameter_mm",
        saying("Largest diameter"),
        "mm",
        100.0,
        100.0,
        saying("each {step} mm more of diameter"),
    ),
    Measure(
        "weight_water_kg_per_m",
        saying("Weight in water, a metre"),
        "kg/m",
        10.0,
        10.0,
        saying("each {step} kg a metre more of weight in water"),
    ),
    Measure(
        "gap_mm",
        saying("Gap under the fishing line"),
        "mm",
        10.0,
        30.0,
        saying("each {step} mm more of gap under the fishing line"),
    ),
    Measure(
        "slack_m",
        saying("Slack in the fishing line"),
        "m",
        0.1,
        0.1,
        saying("each {step} m more of slack in the fishing line"),
    ),
)
"""Measures of a rig version: they differ between rigs only."""

LENGTH_DIFFERENCE = Measure(
    "length_difference_percent",
    saying("Ground chain longer than traveller"),
    "%",
    1.0,
    0.75,
    saying("each {step} % that the ground chain is longer than the traveller"),
)
"""The measure that changes from haul to haul on one rig."""


def measure(name: str) -> Measure:
    """The measure of that name; raises `KeyError` if there is none."""
    for each in (*MEASURES, LENGTH_DIFFERENCE):
        if each.name == name:
            return each
    raise KeyError(name)

"""The settings of the calibration, and what is promised of each."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from tests.calibration.seasons import DAMAGE, FISH, OUTCOMES, Setting

if TYPE_CHECKING:
    from tests.calibration.counting import Count

FEW_TRIPS = 6
SETTINGS = (
    Setting(6, grounds=1, events="rare"),
    Setting(6, grounds=1),
    Setting(6, grounds=1, change="haul"),
    Setting(6, grounds=1, luck=1.2),
    Setting(6),
    Setting(12, events="rare"),
    Setting(12),
    Setting(12, change="haul"),
    Setting(12, change="haul", events="rare"),
    Setting(12, luck=0.0),
    Setting(12, luck=1.2),
    Setting(12, chosen=True),
    Setting(12, hours_off=True),
    Setting(12, boats=3, change="haul", boats_differ=True),
    Setting(12, boats=3, boats_differ=True),
    Setting(30, events="rare"),
    Setting(30),
    Setting(30, change="haul"),
    Setting(30, luck=0.0),
    Setting(30, luck=1.2),
    Setting(30, tried=4),
    Setting(30, chosen=True, change="haul"),
    Setting(30, boats=3, quarters=2, boats_differ=True),
    Setting(30, boats=3, chosen=True, boats_differ=True, hours_off=True, luck=1.2),
    Setting(30, boats=10, change="haul", boats_differ=True),
    Setting(120, events="rare"),
    Setting(120),
    Setting(120, change="haul"),
    Setting(120, luck=1.2),
    Setting(120, chosen=True, hours_off=True),
    Setting(120, boats=3, quarters=4, boats_differ=True),
    Setting(120, boats=10, quarters=4, change="haul", boats_differ=True),
    Setting(120, boats=10, quarters=4, chosen=True, boats_differ=True, hours_off=True, luck=1.2),
    Setting(6, grounds=1, events="few"),
    Setting(12, events="few"),
    Setting(12, events="few", change="haul"),
    Setting(30, events="few"),
    Setting(30, events="few", luck=1.2),
    Setting(12, yes_or_no=True),
    Setting(12, change="haul", yes_or_no=True),
    Setting(12, change="haul", events="rare", yes_or_no=True),
    Setting(30, yes_or_no=True),
    Setting(30, chosen=True, change="haul", yes_or_no=True),
    Setting(120, yes_or_no=True),
    Setting(120, change="haul", yes_or_no=True),
    Setting(12, change="haul", patchy=True),
    Setting(30, patchy=True),
    Setting(30, change="haul", patchy=True),
    Setting(120, change="haul", patchy=True),
)

LEAST_OF_FEW = 0.92
LEAST, MOST = 0.93, 0.97
MANY_TRIPS = 120
MOST_BIAS = 0.02
MOST_FALSE = 0.05
"""The share of seasons in which any headline finding is false, where nothing differs."""


def outcomes_of(setting: Setting) -> tuple[str, ...]:
    """What is told of a setting: fish only where no other has the same, damage likewise."""
    if setting.patchy:
        return (FISH,)
    return OUTCOMES if setting == setting.plain or setting.plain not in SETTINGS else (DAMAGE,)


def least_coverage(setting: Setting) -> float:
    """The least share of its intervals that is to hold the truth."""
    return LEAST_OF_FEW if setting.trips <= FEW_TRIPS else LEAST


def coverage_against_goal(setting: Setting, counted: Count) -> Literal["holds", "below", "above"]:
    """Whether so many intervals held the truth as is promised: 93–97 %, of 6 trips 92 % or more.

    Of few events there is no upper bound: whole numbers come in steps, and it is the least that
    matters.
    """
    if counted.coverage < least_coverage(setting):
        return "below"
    bounded = setting.trips > FEW_TRIPS and setting.events != "few"
    return "above" if bounded and counted.coverage > MOST else "holds"

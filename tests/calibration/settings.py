"""The settings of the calibration, and what is promised of each."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from tests.calibration.seasons import Setting

if TYPE_CHECKING:
    from tests.calibration.counting import Count

FEW_TRIPS = 6
SETTINGS = (
    Setting(6, grounds=1, rare=True),
    Setting(6, grounds=1),
    Setting(6, grounds=1, change="haul"),
    Setting(6, grounds=1, luck=1.2),
    Setting(6),
    Setting(12, rare=True),
    Setting(12),
    Setting(12, change="haul"),
    Setting(12, change="haul", rare=True),
    Setting(12, luck=0.0),
    Setting(12, luck=1.2),
    Setting(12, chosen=True),
    Setting(12, hours_off=True),
    Setting(12, boats=3, change="haul", boats_differ=True),
    Setting(12, boats=3, boats_differ=True),
    Setting(30, rare=True),
    Setting(30),
    Setting(30, change="haul"),
    Setting(30, luck=0.0),
    Setting(30, luck=1.2),
    Setting(30, tried=4),
    Setting(30, chosen=True, change="haul"),
    Setting(30, boats=3, quarters=2, boats_differ=True),
    Setting(30, boats=3, chosen=True, boats_differ=True, hours_off=True, luck=1.2),
    Setting(30, boats=10, change="haul", boats_differ=True),
    Setting(120, rare=True),
    Setting(120),
    Setting(120, change="haul"),
    Setting(120, luck=1.2),
    Setting(120, chosen=True, hours_off=True),
    Setting(120, boats=3, quarters=4, boats_differ=True),
    Setting(120, boats=10, quarters=4, change="haul", boats_differ=True),
    Setting(120, boats=10, quarters=4, chosen=True, boats_differ=True, hours_off=True, luck=1.2),
)

LEAST_OF_FEW = 0.92
LEAST, MOST = 0.93, 0.97
MANY_TRIPS = 120
MOST_BIAS = 0.02


def coverage_against_goal(setting: Setting, counted: Count) -> Literal["holds", "below", "above"]:
    """Whether so many intervals held the truth as is promised: 93–97 %, of 6 trips 92 % or more."""
    few = setting.trips <= FEW_TRIPS
    if counted.coverage < (LEAST_OF_FEW if few else LEAST):
        return "below"
    return "above" if not few and counted.coverage > MOST else "holds"

"""Over many invented seasons: how often do intervals on a mix of grounds hold the truth?

`python -m tests.proofs.mix_over_seasons 500` takes 500 seasons of each setting, on as many cores as
there are. The rig halves the outcome on the first ground and makes a third more of it on the
second, where three times as much happens; the truth is the ratio on the mix, nine tenths of it the
first ground. Printed beside it is how often the plain ratio over all grounds held it.
"""

from __future__ import annotations

import sys
from functools import partial
from typing import TYPE_CHECKING

from pipeline.rates.effects import find_effects
from pipeline.rates.looks import Judging
from pipeline.rates.on_the_mix import NAMED, find_on_the_mix, mixes_of
from schemas.words import ALL_GROUNDS
from tests.calibration.seasons import (
    FACTORS,
    OUTCOMES,
    REFERENCE,
    SECOND_GROUND,
    Setting,
    invented_seasons,
)
from tests.proofs.over_seasons import over_seasons

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pipeline.rates.effects import Effect
    from pipeline.rates.on_the_mix import OnTheMix

ON_FIRST, ON_SECOND = 0.5, 4 / 3
MIX = {"0": 0.9, "1": 0.1}
SETTINGS = (
    Setting(12),
    Setting(12, change="haul"),
    Setting(12, change="haul", events="rare"),
    Setting(30),
    Setting(30, events="rare"),
    Setting(30, chosen=True, change="haul"),
    Setting(30, boats=3, boats_differ=True),
    Setting(120, luck=1.2),
)


def truth(weights: Mapping[str, float]) -> float:
    """The ratio on a mix of the two grounds, "0" and "1"."""
    reference = weights["0"] + SECOND_GROUND * weights["1"]
    return (ON_FIRST * weights["0"] + ON_SECOND * SECOND_GROUND * weights["1"]) / reference


def held(seed: int, setting: Setting) -> list[tuple[str, bool | None, bool | None]]:
    """Of each outcome whether the interval on the mix held the truth, and whether the plain one."""
    (season,) = invented_seasons(setting, ON_FIRST, [seed], on_second=ON_SECOND)
    sums = season.sums
    effects = find_effects(
        sums, sums.select("rig_version", "ground"), REFERENCE, FACTORS, "trip", [ALL_GROUNDS]
    )
    damage = sums.filter(outcome=OUTCOMES[0])
    mixes = {NAMED: mixes_of(damage.select("ground", "tow_hours"), MIX)[NAMED]}
    on_the_mix = find_on_the_mix(sums, effects, FACTORS, "trip", mixes, Judging())
    return [
        (told.outcome, _holds(told, truth(told.weights)), _holds(plain, truth(told.weights)))
        for told, plain in zip(on_the_mix, effects, strict=True)
    ]


def _holds(told: OnTheMix | Effect, true_ratio: float) -> bool | None:
    if told.low is None or told.high is None:
        return None
    return told.low <= true_ratio <= told.high


def main(seasons: int) -> None:
    """Count over the seasons of each setting, and print."""
    for setting in SETTINGS:
        work = partial(held, setting=setting)
        rows = [row for season in over_seasons(work, range(seasons)) for row in season]
        for outcome in OUTCOMES:
            mine = [mix for name, mix, _ in rows if name == outcome]
            told = [each for each in mine if each is not None]
            plain = [each for name, _, each in rows if name == outcome and each is not None]
            sys.stdout.write(
                f"{setting.trips} trips, {setting.boats} boats, {setting.words}, {outcome}: "
                f"{sum(told) / max(len(told), 1):.1%} of {len(told)} hold, "
                f"{len(mine) - len(told)} not told; the plain ratio "
                f"{sum(plain) / max(len(plain), 1):.1%} of {len(plain)}\n"
            )
            sys.stdout.flush()


if __name__ == "__main__":
    main(int(sys.argv[1]))

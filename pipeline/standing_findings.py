"""Whether the headlines stand: in other ways, and how their models fit; for `findings.json`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pipeline.rates.diagnostics import find_diagnostics
from pipeline.rates.headline_fits import headline_fits
from pipeline.rates.sensitivity import (
    OtherSums,
    find_sensitivity,
    without_far_catches,
    without_the_most,
)
from pipeline.rates.twin_tows import find_twin_tows

if TYPE_CHECKING:
    from collections.abc import Sequence

    import polars as pl

    from pipeline.joining.join_season import JoinedSeason
    from pipeline.rates.effects import Effect
    from pipeline.rates.looks import Judging
    from schemas.settings import Settings


def standing_findings(
    joined: JoinedSeason,
    sums: pl.DataFrame,
    effects: Sequence[Effect],
    reference: str,
    settings: Settings,
    judging: Judging,
    far: pl.DataFrame,
) -> dict[str, Any]:
    """The keys `sensitivity`, `diagnostics` and `twin_tows`.

    `sums` are the season's with their conditions, `far` the hauls whose catch is far beyond others.
    """
    errors = settings.model.errors
    headlines = headline_fits(effects, sums, joined.adjust, errors)
    hauls = joined.with_conditions(joined.headline_hauls)
    trimmed = without_the_most(hauls)
    without_far = without_far_catches(hauls, far)
    twin_tows = find_twin_tows(joined.hauls_in_time, reference, judging)
    other = OtherSums(
        joined.headline_hauls,
        None if trimmed is None else joined.with_conditions(trimmed),
        joined.with_conditions(joined.damage.unknown),
        twin_tows,
        None if without_far is None else joined.with_conditions(without_far),
    )
    return {
        "sensitivity": find_sensitivity(headlines, sums, other, joined.rig_by_ground, judging),
        "twin_tows": twin_tows,
        "diagnostics": find_diagnostics(headlines, sums, hauls, reference, joined.adjust, errors),
    }

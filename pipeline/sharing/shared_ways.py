"""Of the other ways in which a headline was tried, those that a co-op may see.

They are the two that have fewer hauls, but more alike: where one of them gainsays a headline, the
page must say so. Each rests on the boats that have such hauls, which must be enough.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.sharing.resting import boats_with_both, rests_on_enough
from pipeline.sharing.shared_boats import three_figures
from schemas.codes import OtherWay
from schemas.words import CONDITIONS, UNKNOWN_CONDITIONS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from schemas.settings import Sharing

Row = dict[str, Any]
BOTH = 2
ALIKE = {OtherWay.SIDE_BY_SIDE: CONDITIONS, OtherWay.WITHIN_TRIPS: ["vessel", "trip"]}
"""What hauls of two rigs have in common that a way takes."""


def shared_ways(
    findings: Row, effects: Sequence[Row], hours: pl.DataFrame, sharing: Sharing
) -> list[Row]:
    """As findings["sensitivity"], of the `effects` that are shared, with the ways of `ALIKE`.

    `hours` are those of `contributions.py`.
    """
    key = ("outcome", "rig", "part")
    shared = {tuple(effect[name] for name in key): effect for effect in effects}
    return [
        {
            **{name: row[name] for name in key},
            "ways": [
                {"way": way["way"], **{n: three_figures(way[n]) for n in ("ratio", "low", "high")}}
                for way in row["ways"]
                if way["way"] in ALIKE and _rests(way["way"], effect, hours, sharing)
            ],
        }
        for row in findings["sensitivity"]
        for effect in [shared.get(tuple(row[name] for name in key))]
        if effect is not None
    ]


def _rests(way: OtherWay, effect: Row, hours: pl.DataFrame, sharing: Sharing) -> bool:
    """Whether the hauls that the way takes are of enough boats, none of them most."""
    rig, reference = effect["rig"], effect["reference"]
    pair = hours.filter(
        pl.col("outcome") == effect["outcome"], pl.col("rig_version").is_in([rig, reference])
    )
    alike = ALIKE[way]
    for name in set(alike) & set(UNKNOWN_CONDITIONS):
        unknown = pl.col(name) == UNKNOWN_CONDITIONS[name]
        pair = pair.filter(~unknown | unknown.all())
    both = pair.filter(pl.col("rig_version").n_unique().over(alike) == BOTH)
    return rests_on_enough(boats_with_both(both, rig, reference), sharing)

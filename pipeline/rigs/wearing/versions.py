"""Which rig versions came before which, along `changed_from`."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.nearest import did_you_mean
from pipeline.rows import no_refusals, refusal
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Mapping

UNKNOWN_VERSION = saying(
    "is a rig that rig_versions does not describe{}; add it there or put it right"
)
ROUND_TRIP = saying(
    "leads round to {} itself ({}); put right which came first, as until then no hours are carried "
    "over to its parts"
)
FROM = saying(" from ")
"""Between a rig and the one before it."""
REASONS = (ROUND_TRIP,)


def versions_before(rig_versions: pl.DataFrame) -> dict[str, tuple[str, ...]]:
    """Of each rig version those that came before it, the latest first.

    `rig_versions` has rig_version and changed_from. A version that leads round to itself has none
    before it, as nobody can say which came first; `version_remarks` says so.
    """
    changed_from = _changed_from(rig_versions)
    known = {
        version: before
        for version, before in changed_from.items()
        if before in changed_from and not _round_trip(version, changed_from)
    }
    return {version: _way_back(version, known) for version in changed_from}


def version_remarks(rig_versions: pl.DataFrame) -> pl.DataFrame:
    """Remarks on `changed_from` that leads round or to nowhere, as `REFUSAL_SCHEMA` has them.

    `rig_versions` has `row` beside its own columns.
    """
    changed_from = _changed_from(rig_versions)
    reasons = [_what_is_wrong(version, changed_from) for version in rig_versions["rig_version"]]
    said = rig_versions.with_columns(pl.Series("reason", reasons, pl.String))
    wrong = said.filter(pl.col("reason").is_not_null())
    return pl.concat([no_refusals(), refusal(wrong, "changed_from", pl.col("reason"))])


def _changed_from(rig_versions: pl.DataFrame) -> dict[str, str | None]:
    return dict(rig_versions.select("rig_version", "changed_from").iter_rows())


def _what_is_wrong(version: str, changed_from: Mapping[str, str | None]) -> str | None:
    before = changed_from[version]
    if before is None:
        return None
    if before not in changed_from:
        others = [name for name in changed_from if name != version]
        return UNKNOWN_VERSION.format(did_you_mean(before, others))
    if round_trip := _round_trip(version, changed_from):
        way = FROM.join((version, *round_trip))
        return ROUND_TRIP.format(version, way)
    return None


def _round_trip(version: str, changed_from: Mapping[str, str | None]) -> tuple[str, ...]:
    """The way from a version back to itself; nothing if it does not lead there."""
    way = _way_back(version, changed_from)
    return way if way[-1:] == (version,) else ()


def _way_back(version: str, changed_from: Mapping[str, str | None]) -> tuple[str, ...]:
    """The versions before this one, the latest first, each once."""
    way: list[str] = []
    before = changed_from.get(version)
    while before is not None and before not in way:
        way.append(before)
        before = changed_from.get(before)
    return tuple(way)

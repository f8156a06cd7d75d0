"""How long each part of a rig has been fished, and what changed from version to version.

A boat is taken to have one set of each rig version, and a part that a version shares with the one
before it to be the same piece, moved over. Where the boat went back to the one before, the two are
two gears, each with its own pieces. A blank cell says nothing, so it differs from nothing.
"""

from __future__ import annotations

from itertools import pairwise, takewhile
from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.rigs.wearing.versions import versions_before
from schemas.rigs import RIG_PARTS, RIG_VERSIONS

if TYPE_CHECKING:
    from collections.abc import Iterator

Row = dict[str, Any]
Key = tuple[str | None, ...]

PART_HOURS_SCHEMA: dict[str, pl.DataType] = {
    "vessel": pl.String(),
    **dict.fromkeys(("rig_version", "section", "part", "line"), pl.String()),
    "hours_on_this_version": pl.Float64(),
    "hours_before": pl.Float64(),
    "hours": pl.Float64(),
    "since": pl.String(),
    "changed": pl.Boolean(),
}
"""A row is a row of `rig_parts` on a boat that fished its rig version; hours are fishing hours.

`hours_before` are the boat's with the versions before, back along `changed_from` for as long as
the same row of parts was in them and the boat did not go back to them. `since` is the earliest of
these that the boat fished.
`changed` says whether the part is new or different in this version; null where no version before
it, or no part of that, is recorded.
"""

PART_CHANGES_SCHEMA: dict[str, pl.DataType] = dict.fromkeys(
    ("rig_version", "changed_from", "section", "part", "line", "what", "before", "after"),
    pl.String(),
)
"""A row is one thing that differs from the version before.

`what` is a column of `rig_parts`, `added` or `taken off`; or, without section, part and line, a
column of `rig_versions`.
"""

_KEY = ("section", "part", "line")
_SAME_IN = ("material", "count", "diameter_mm", "width_mm", "bore_mm", "length_m")
_OF_A_PART = tuple(name for name in RIG_PARTS.column_names if name not in {"rig_version", *_KEY})
_OF_A_VERSION = tuple(
    name
    for name in RIG_VERSIONS.column_names
    if name not in {"rig_version", "rig", "changed_from", "what_changed"}
)
_WORDS = {
    "count": "{}",
    "material": "{}",
    "diameter_mm": "{} mm across",
    "width_mm": "{} mm wide",
    "bore_mm": "{} mm bore",
    "length_m": "{} m long",
    "each_kg": "{} kg each",
}


def part_hours(
    rig_parts: pl.DataFrame, rig_versions: pl.DataFrame, hours_by_rig: pl.DataFrame
) -> pl.DataFrame:
    """The fishing hours of every part on every boat, as `PART_HOURS_SCHEMA` has them.

    `hours_by_rig` has vessel, rig_version, hours, and first and last, between which it was fished.
    """
    parts = _parts_by_version(rig_parts)
    before = versions_before(rig_versions)
    by_name = hours_by_rig.sort("vessel", "rig_version").to_dicts()
    of = {(row["vessel"], row["rig_version"]): row for row in by_name}
    rows = []
    for vessel, version in of:
        way_back = before.get(version, ())
        for key, part in parts.get(version, {}).items():
            the_same = _versions_with(key, part, way_back, parts)
            fished = _for_good([of[vessel, v] for v in (version, *the_same) if (vessel, v) in of])
            each = [row["hours"] for row in fished]
            rows.append(
                {
                    "vessel": vessel,
                    "rig_version": version,
                    **dict(zip(_KEY, key, strict=True)),
                    "hours_on_this_version": each[0],
                    "hours_before": sum(each[1:], 0.0),
                    "hours": sum(each),
                    "since": fished[-1]["rig_version"],
                    "changed": not the_same if way_back and way_back[0] in parts else None,
                }
            )
    return pl.DataFrame(rows, schema=PART_HOURS_SCHEMA)


def _for_good(fished: list[Row]) -> list[Row]:
    """What a boat fished of a version and those before it, the latest first, until it went back."""
    for_good = takewhile(lambda two: two[0]["first"] > two[1]["last"], pairwise(fished))
    return [*fished[:1], *(before for _, before in for_good)]


def part_changes(rig_parts: pl.DataFrame, rig_versions: pl.DataFrame) -> pl.DataFrame:
    """What differs from the version before, as `PART_CHANGES_SCHEMA` has it.

    Of parts only where both versions have some recorded.
    """
    parts = _parts_by_version(rig_parts)
    versions = {row["rig_version"]: row for row in rig_versions.to_dicts()}
    rows = []
    for version, way_back in versions_before(rig_versions).items():
        for before in way_back[:1]:
            changes = [
                *_differing(versions[before], versions[version], _OF_A_VERSION),
                *_parts_differing(parts.get(before, {}), parts.get(version, {})),
            ]
            rows += [{"rig_version": version, "changed_from": before} | row for row in changes]
    return pl.DataFrame(rows, schema=PART_CHANGES_SCHEMA)


def _parts_by_version(rig_parts: pl.DataFrame) -> dict[str, dict[Key, Row]]:
    parts: dict[str, dict[Key, Row]] = {}
    for row in rig_parts.to_dicts():
        parts.setdefault(row["rig_version"], {})[tuple(row[name] for name in _KEY)] = row
    return parts


def _versions_with(
    key: Key, part: Row, way_back: tuple[str, ...], parts: dict[str, dict[Key, Row]]
) -> list[str]:
    """The versions back to the first in which the part is not the same any more."""
    return list(takewhile(lambda v: _is_same(parts.get(v, {}).get(key), part), way_back))


def _is_same(before: Row | None, part: Row) -> bool:
    return before is not None and not any(_differing(before, part, _SAME_IN))


def _differing(before: Row, after: Row, columns: tuple[str, ...]) -> Iterator[Row]:
    """A row for each column in which both have a value and the values are not the same."""
    for name in columns:
        old, new = before.get(name), after.get(name)
        if old is not None and new is not None and old != new:
            yield {"what": name, "before": _text(old), "after": _text(new)}


def _parts_differing(before: dict[Key, Row], after: dict[Key, Row]) -> Iterator[Row]:
    if not before or not after:
        return
    for key in dict.fromkeys((*after, *before)):
        named = dict(zip(_KEY, key, strict=True))
        if key not in before:
            yield named | {"what": "added", "before": None, "after": _in_words(after[key])}
        elif key not in after:
            yield named | {"what": "taken off", "before": _in_words(before[key]), "after": None}
        else:
            yield from (named | row for row in _differing(before[key], after[key], _OF_A_PART))


def _in_words(part: Row) -> str:
    """What is recorded of a part: `11, rubber, 355 mm across, 9.5 kg each`."""
    said = [
        words.format(_text(part[name]))
        for name, words in _WORDS.items()
        if part.get(name) is not None
    ]
    return ", ".join(said)


def _text(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)

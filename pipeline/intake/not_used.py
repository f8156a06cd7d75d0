"""Which headers of a season's files nothing is read from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.intake.headers import found_columns
from pipeline.intake.text_tables import UNREADABLE, read_text_table
from pipeline.problems import SeasonUnusableError
from schemas.column import SOURCE_COLUMNS
from schemas.tables import TABLES

if TYPE_CHECKING:
    from pipeline.intake.season_folder import Place, SeasonFolder
    from schemas.settings import Reading


WITH_MORE_TO_READ = ("damage_review",)
"""What `note` writes has columns for the eyes of who looks a reading over."""


def headers_not_used(season: SeasonFolder) -> dict[str, tuple[str, ...]]:
    """By file, as it is called, the headers that no table is read from, where there are any.

    The files are opened once more for it.
    """
    if season.seasons:
        return {
            f"{each.path.name}/{file}": headers
            for each in season.seasons
            for file, headers in headers_not_used(each).items()
        }
    left: dict[Place, list[str]] = {}
    called: dict[Place, str] = {}
    for table in season.tables:
        if table.name in WITH_MORE_TO_READ:
            continue
        source = table.source
        for place, label in zip(table.places, table.labels, strict=True):
            called[place] = label
            if place not in left:
                left[place] = _headers(place, source.read)
            found = found_columns(TABLES[table.name], source, left[place])
            used = {header for how in found.values() for header in how.headers}
            used |= source.headers | source.across_headers
            left[place] = [header for header in left[place] if header not in used]
    return {called[place]: tuple(headers) for place, headers in left.items() if headers}


def _headers(place: Place, reading: Reading) -> list[str]:
    """The headers of a file or sheet as they are told; none where it can't be read.

    Of an empty one, and of a season among several that can't be used, it is told elsewhere.
    """
    try:
        raw = read_text_table(place.file, reading, place.sheet).frame
    except SeasonUnusableError:
        return []
    return [name.strip() for name in raw.columns if name not in (*SOURCE_COLUMNS, UNREADABLE)]

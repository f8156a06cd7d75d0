"""Write the table of readings in which a person has the last word."""

from __future__ import annotations

from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.check_season import sentence_of
from pipeline.problems import SeasonUnusableError, WrongUsageError
from reports.folder import for_spreadsheets
from schemas.settings import TableSource

if TYPE_CHECKING:
    from pipeline.intake.season_folder import SeasonFolder
    from pipeline.note_review import Review
    from pipeline.rows import CheckedSeason

REVIEW_FILE = "damage_review.csv"


def review_place(folder: SeasonFolder, out: Path | None) -> Path:
    """The file to write: `out`, else the season's own review.

    Raises `WrongUsageError` where the season keeps its review elsewhere or under other names, as
    it could not be read back from here.
    """
    if out is not None:
        if out.is_dir():
            raise WrongUsageError(f"{out} is a folder; name a file for the review.")
        return out
    place = folder.path / REVIEW_FILE
    kept = next((table for table in folder.tables if table.name == "damage_review"), None)
    elsewhere = kept is not None and (kept.files != (place,) or kept.source != TableSource())
    if elsewhere or not folder.path.is_dir():
        raise WrongUsageError(
            "This season keeps no damage_review.csv of the usual form; name a file with --out, and "
            "copy its rows into the season's own table of reviews."
        )
    return place


def need_whole_reviews(season: CheckedSeason) -> None:
    """Raise `SeasonUnusableError` if a row of the review was set aside: it would be lost."""
    lost = season.set_aside.filter(pl.col("table") == "damage_review")
    if lost.height:
        raise SeasonUnusableError(
            [
                *(sentence_of(row) for row in lost.iter_rows(named=True)),
                "Put these rows of the review right first; nothing was written.",
            ]
        )


def write_review(review: Review, place: Path) -> None:
    """Write the review whole or not at all; raises `OSError`."""
    text = for_spreadsheets(review.table)
    name = f".{place.name}-"
    with NamedTemporaryFile("wb", dir=place.parent, prefix=name, delete=False) as new:
        try:
            text.write_csv(new.file)
        except BaseException:
            Path(new.name).unlink()
            raise
    Path(new.name).replace(place)


def told_of_review(review: Review, place: Path) -> str:
    """What was written, and what to do with it."""
    sure = review.by_sure
    lines = [
        f"{review.table.height:,} notes: {review.named:,} read by a person; by the program "
        f"{sure['sure']:,} surely, {sure['likely']:,} likely, {sure['guess']:,} as a guess; "
        f"{review.not_told:,} do not say whether the net was damaged, or were not understood.",
    ]
    if review.changed_without_name:
        lines.append(
            f"{review.changed_without_name:,} were changed and have no name in the column who: "
            "they do not count until they have one."
        )
    lines += [
        "",
        f"Written, least sure first: {place}",
        "Put right what is wrong, and your name in the column who of each row you have looked at, "
        "with the day in reviewed_on. Such a row is taken as it stands, blanks and all, from the "
        "next report on; one without a name is not.",
    ]
    return "\n".join(lines)

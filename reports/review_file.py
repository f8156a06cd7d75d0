"""Write the table of readings in which a person has the last word."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.check_season import sentence_of
from pipeline.intake.text_tables import UNREADABLE, is_text, read_text_table, separator_of
from pipeline.note_review import COLUMNS, HELPS
from pipeline.problems import SeasonUnusableError, WrongUsageError
from pipeline.reviews import KEY, READ
from pipeline.whole_file import whole_file
from reports.spreadsheets import for_spreadsheets
from reports.terminal import so_many
from schemas.column import SOURCE_COLUMNS
from schemas.settings import TableSource

if TYPE_CHECKING:
    from pathlib import Path

    from pipeline.intake.season_folder import FoundTable, SeasonFolder
    from pipeline.note_review import Review
    from pipeline.rows import CheckedSeason
    from schemas.settings import Reading

REVIEW_FILE = "damage_review.csv"
MOST_TOLD = 10


def review_place(folder: SeasonFolder, out: Path | None) -> Path:
    """The file to write: `out`, else the season's own review.

    Raises `WrongUsageError` where `out` is another file that is there, or where the season keeps
    its review elsewhere or under other names, as it could not be read back from here; likewise
    where it is several seasons.
    """
    if folder.seasons:
        raise WrongUsageError(
            f"{folder.path} holds {len(folder.seasons)} seasons, and notes are looked over one "
            f"season at a time: give one of its folders, such as {folder.seasons[0].path}."
        )
    place = folder.path / REVIEW_FILE
    kept = _kept(folder, "damage_review")
    elsewhere = kept is not None and (kept.files != (place,) or not _usual(kept.source))
    usual = folder.path.is_dir() and not elsewhere
    if out is not None and not (usual and out.resolve() == place.resolve()):
        if out.exists():
            raise WrongUsageError(f"{out} is there already; name a new file with --out.")
        return out
    if not usual:
        raise WrongUsageError(
            "This season keeps no damage_review.csv of the usual form; name a new file with --out, "
            "and copy its rows into the season's own table of reviews."
        )
    return place


def review_reading(folder: SeasonFolder, place: Path) -> Reading:
    """How the review is written: as the one that is there, else as the log is.

    So it opens in the spreadsheet that the log was written with.
    """
    read = folder.settings.source("damage_review").read
    if place.exists():
        return read.model_copy(update={"separator": separator_of(place, read)})
    log = _kept(folder, "hauls")
    text = next((file for file in log.files if is_text(file)), None) if log else None
    if log and text:
        separator = separator_of(text, log.source.read)
    else:
        separator = ";" if read.decimal == "," else ","
    return read.model_copy(update={"separator": separator})


def _kept(folder: SeasonFolder, table: str) -> FoundTable | None:
    return next((found for found in folder.tables if found.name == table), None)


def _usual(source: TableSource) -> bool:
    """Whether a table lies under its own names, whatever its letters and signs."""
    return source == TableSource(read=source.read) and not source.read.skip_lines


def need_whole_reviews(season: CheckedSeason, place: Path, reading: Reading) -> None:
    """Raise `SeasonUnusableError` if a row that a person touched was set aside: it would go."""
    aside = season.set_aside.filter(pl.col("table") == "damage_review")
    if place.exists() and aside.height:
        aside = aside.join(_touched(place, reading), on="source_row", how="semi")
    if aside.height:
        told = [sentence_of(row) for row in aside.head(MOST_TOLD).iter_rows(named=True)]
        more = aside.height - len(told)
        raise SeasonUnusableError(
            [
                *told,
                *([f"And {more:,} more such rows."] if more else []),
                "Put these rows of the review right first; nothing was written.",
            ]
        )


def write_review(review: Review, place: Path, reading: Reading) -> None:
    """Write the review whole or not at all, with the columns that a person added to it.

    `reading` says with which signs, and in which letters one that is there is read.

    Raises `WrongUsageError` where it can't be written.
    """
    text = review.table.with_columns(for_spreadsheets(review.table.select("damage_note", *HELPS)))
    if place.exists():
        added = _added(place, reading, review.hauls_of_rows)
        text = text.join(added, on=KEY, how="left", maintain_order="left")
    with whole_file(place) as file:
        file.write(
            text.write_csv(separator=reading.separator or ",", decimal_comma=reading.decimal == ",")
        )


def _touched(place: Path, reading: Reading) -> pl.DataFrame:
    """The rows of the file that have a name, or in which something was changed."""
    rows = read_text_table(place, reading).frame
    if not {*READ, "who", "as_read"} <= set(rows.columns):
        return rows
    cells = (pl.col(name).fill_null("").str.replace_all(",", ".") for name in READ)
    as_read = pl.concat_str(cells, separator="/")
    changed = pl.col("as_read").is_null() | (pl.col("as_read") != as_read)
    return rows.filter(pl.col("who").is_not_null() | changed)


def _added(place: Path, reading: Reading, hauls_of_rows: pl.DataFrame) -> pl.DataFrame:
    """The columns that a person added, by the haul that each row is of."""
    rows = read_text_table(place, reading).frame
    ours = {*COLUMNS, *SOURCE_COLUMNS, UNREADABLE}
    added = [name for name in rows.columns if name not in ours]
    of_hauls = rows.select("source_row", *added).join(hauls_of_rows, on="source_row")
    return of_hauls.select(*KEY, *added).unique(KEY, keep="first", maintain_order=True)


def told_of_review(review: Review, place: Path) -> str:
    """What was written, and what to do with it."""
    sure = review.by_sure
    silent = so_many(
        review.not_told,
        "does not say whether the net was damaged, or was not understood.",
        "do not say whether the net was damaged, or were not understood.",
    )
    lines = [
        f"{so_many(review.table.height, 'note', 'notes')}: {review.named:,} read by a person; by "
        f"the program {sure['sure']:,} surely, {sure['likely']:,} likely, {sure['guess']:,} as a "
        f"guess; {silent}",
        *_changed_notes(review.note_changed),
    ]
    if review.changed_without_name:
        lines.append(
            so_many(
                review.changed_without_name,
                "was changed and has no name in the column who: it does not count until it has "
                "one.",
                "were changed and have no name in the column who: they do not count until they "
                "have one.",
            )
        )
    lines += [
        "",
        f"Written, least sure first: {place}",
        "Put right what is wrong, and your name in the column who of each row you have looked at, "
        "with the day in reviewed_on. Such a row goes before the program's reading, blanks and "
        "all, from the next report on; one without a name does not. A blank under damaged is not "
        "known. Hours, hands and bills that stand in columns of the log count where the row has "
        "none, and so does a column of damage where damaged is blank.",
    ]
    return "\n".join(lines)


def _changed_notes(changed: pl.DataFrame) -> list[str]:
    """The rows that count though the log has another note now, and what to do with them."""
    if changed.is_empty():
        return []
    head = so_many(
        changed.height,
        "that a person read has another note in the log now, note_now. It counts all the same, and "
        "stands first: put it right, and empty its damage_note.",
        "that a person read have another note in the log now, note_now. They count all the same, "
        "and stand first: put them right, and empty their damage_note.",
    )
    more = changed.height - MOST_TOLD
    return [
        head,
        *(
            "  {vessel}, trip {trip}, haul {haul}: '{damage_note}', now '{note_now}'".format(**row)
            for row in changed.head(MOST_TOLD).iter_rows(named=True)
        ),
        *([f"  and {more:,} more"] if more > 0 else []),
    ]

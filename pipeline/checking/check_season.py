"""Part the good rows from the rows set aside, each with a reason.

`check_each_table` looks at every table by itself, `check_tables_together` at what one table says
of another. No row is lost on the way: rows read = rows used + rows set aside.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.across import (
    NO_RIG_OF_GOOD_FITTINGS,
    follows_from_another,
    hauls_missing_rows,
    overlapping_fittings,
    parts_missing,
    rows_of_no_haul,
    species_missing_price,
    unknown_rigs,
    without_one_rig,
)
from pipeline.checking.complete import complete
from pipeline.checking.keys import repeated_keys
from pipeline.checking.only_kept import left_blank, part_only_kept
from pipeline.checking.remarks import remarks
from pipeline.checking.shape_reasons import NO_HEADER, WORKED_OUT
from pipeline.checking.slips import years_from_the_rest
from pipeline.checking.unlisted import unknown_species
from pipeline.problems import SeasonUnusableError
from pipeline.rows import SET_ASIDE_SCHEMA, CheckedSeason, filled_in, kind_of_reason, placed
from schemas.column import SOURCE_COLUMNS
from schemas.hauls import HAUL_KEY
from schemas.tables import TABLES
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.rows import ValueTable
    from schemas.settings import Settings


def check_each_table(
    values: dict[str, ValueTable],
    settings: Settings,
    refused_corrections: pl.DataFrame,
    *,
    remarked: bool = True,
) -> CheckedSeason:
    """Each table without the rows that are wrong by themselves or stand twice.

    `remarked` is whether rows that are used are looked at for a word on them too.
    Raises `SeasonUnusableError` if no haul is left.
    """
    from pipeline.checking.shapes import shape_refusals  # pandera is slow to load

    values = complete(values, settings)
    season = CheckedSeason(
        tables={name: table.frame for name, table in values.items()},
        found={name: table.found for name, table in values.items()},
        kept=values["hauls"].kept,
        set_aside=pl.DataFrame(schema=SET_ASIDE_SCHEMA),
        remarks=remarks(values if remarked else {}, settings),
        rows_read={name: table.frame.height for name, table in values.items()},
        catches_read=_haul_keys(values, "catches"),
        lengths_read=_haul_keys(values, "lengths"),
        hauls_read=values["hauls"].frame.select(HAUL_KEY),
        blank_is_no_damage=settings.notes.blank_means == "no damage",
    )
    for name, table in values.items():
        refusals = [table.refusals, shape_refusals(table, TABLES[name], settings)]
        if name == "corrections":
            refusals.append(refused_corrections)
        of_rows, blanked = part_only_kept(_of_whole_rows(pl.concat(refusals)), TABLES[name])
        season = with_remarks(season, name, blanked)
        blank = left_blank(season.tables[name], blanked)
        season = replace(season, tables={**season.tables, name: blank})
        season = set_aside(season, name, of_rows)
        season = set_aside(season, name, repeated_keys(season.tables[name], TABLES[name]))
    need_rows(season)
    if "prices" in values:
        priced = values["prices"].frame.select(*SOURCE_COLUMNS, "species")
        gone = season.set_aside.filter(pl.col("table") == "prices")
        season = replace(season, species_missing_price=species_missing_price(priced, gone))
    if "rig_parts" in values:
        read = values["rig_parts"].frame.select(*SOURCE_COLUMNS, "rig_version", "section", "part")
        gone = season.set_aside.filter(pl.col("table") == "rig_parts")
        season = replace(season, parts_missing=parts_missing(read, gone))
    return season


def _of_whole_rows(refusals: pl.DataFrame) -> pl.DataFrame:
    """The refusals, without those of cells in a row that could not be taken apart into cells."""
    of_rows = refusals.filter(pl.col("column").is_null())
    of_cells = refusals.filter(pl.col("column").is_not_null())
    return pl.concat([of_rows, of_cells.join(of_rows, on="row", how="anti")])


def check_tables_together(
    season: CheckedSeason, haul_rigs: pl.DataFrame, known_species: pl.DataFrame
) -> CheckedSeason:
    """The season without rows that another table contradicts or does not know.

    `haul_rigs` says for each haul its own rig version, the fitting's, and the one in force.
    Raises `SeasonUnusableError` if no haul is left.
    """
    refused = without_one_rig(season, haul_rigs)
    # By a slip in the year another rig was fitted, or none: then it is the year that is to blame.
    far = years_from_the_rest(season.tables["hauls"])
    slips = far.join(refused, on="row", how="semi")
    season = set_aside(season, "hauls", pl.concat([slips, refused]))
    season = replace(
        season, tables={**season.tables, "hauls": left_blank(season.tables["hauls"], far)}
    )
    need_rows(season)
    strangers = {
        name: unknown_species(season, name, known_species)
        for name in ("catches", "lengths", "prices")
    }
    for name, of_no_list in strangers.items():
        season = set_aside(season, name, of_no_list)
    catches_gone, lengths_gone = (
        season.set_aside.filter(table=name) for name in ("catches", "lengths")
    )
    for name in ("catches", "lengths", "damage_review"):
        season = set_aside(season, name, rows_of_no_haul(season, name))
    gone = ["table", *SOURCE_COLUMNS]
    return replace(
        season,
        set_aside=season.set_aside.sort(follows_from_another(), maintain_order=True),
        hauls_missing_catch=hauls_missing_rows(season.catches_read, catches_gone),
        hauls_missing_lengths=hauls_missing_rows(season.lengths_read, lengths_gone),
        remarks=season.remarks.join(season.set_aside, on=gone, how="anti"),
    )


def check_rig_names(season: CheckedSeason) -> CheckedSeason:
    """The season without rows of a rig version that no row of `rig_versions` describes.

    Fittings that overlap an earlier one go too, as nobody can say which of the two was fished.
    """
    for name in ("rig_parts", "fittings", "length_checks", "hauls"):
        season = set_aside(season, name, unknown_rigs(season, name))
    return set_aside(season, "fittings", overlapping_fittings(season))


def with_remarks(season: CheckedSeason, name: str, remarked: pl.DataFrame) -> CheckedSeason:
    """The season with further remarks on rows of table `name`, told as refusals are."""
    if remarked.is_empty():
        return season
    told = placed(remarked, name, season.tables[name])
    return replace(season, remarks=pl.concat([season.remarks, told]))


def set_aside(season: CheckedSeason, name: str, refusals: pl.DataFrame) -> CheckedSeason:
    """The season with the refused rows of this table moved to the rows set aside.

    A row is set aside once, whatever the number of its faults: the first is named by its column,
    and the reason goes on to the others.
    """
    if name not in season.tables or refusals.is_empty():
        return season
    order = {column: at for at, column in enumerate(TABLES[name].column_names)}
    frame = season.tables[name]
    by_row = (
        refusals.unique(["row", "column"], maintain_order=True)
        .with_columns(
            pl.col("column").replace_strict(order, default=-1, return_dtype=pl.Int64).alias("at")
        )
        .sort("row", "at", maintain_order=True)
        .with_columns(
            pl.concat_str(
                pl.col("column").fill_null(THE_ROW),
                pl.when(pl.col("reason").str.starts_with(IS_WORKED_OUT))
                .then(pl.lit(", "))
                .otherwise(pl.lit(" ")),
                pl.concat_str(pl.lit("'"), "value", pl.lit("' ")).fill_null(""),
                "reason",
            ).alias("in_full")
        )
        .group_by("row", maintain_order=True)
        .agg(
            pl.col("column", "value").first(),
            pl.col("reason").first().alias("first_reason"),
            pl.col("in_full").slice(1).str.join("; also ").alias("others"),
        )
        .with_columns(
            pl.when(pl.col("others") != "")
            .then(filled_in(ALSO, "first_reason", "others"))
            .otherwise("first_reason")
            .alias("reason")
        )
    )
    gone = placed(by_row, name, frame)
    return replace(
        season,
        tables={**season.tables, name: frame.join(by_row, on="row", how="anti")},
        set_aside=pl.concat([season.set_aside, gone]),
    )


def _haul_keys(values: dict[str, ValueTable], name: str) -> pl.DataFrame:
    """The haul that each row of the table is of, whether or not the row is good."""
    columns = (*SOURCE_COLUMNS, *HAUL_KEY)
    if name not in values:
        return pl.DataFrame(schema={**dict.fromkeys(columns, pl.String), "source_row": pl.Int64})
    return values[name].frame.select(columns)


def need_rows(season: CheckedSeason) -> None:
    """Raise `SeasonUnusableError` if no haul is left, with the reasons that most rows share.

    Where hauls went for the fittings that were set aside, with the reasons of those too.
    """
    if season.tables["hauls"].is_empty():
        gone = season.set_aside.filter(pl.col("table") == "hauls")
        causes = _commonest_causes(gone)
        if gone["reason"].str.contains(NO_RIG_OF_GOOD_FITTINGS, literal=True).any():
            causes += _commonest_causes(season.set_aside.filter(pl.col("table") == "fittings"))
        raise SeasonUnusableError([NO_HAUL.format(season.rows_read["hauls"]), *causes])


def _commonest_causes(gone: pl.DataFrame) -> list[str]:
    """Of the causes that most rows were set aside for a sentence each, on the first row of them."""
    kinds = (
        gone.with_row_index("at")
        .group_by("column", kind_of_reason(pl.col("reason")).alias("kind"))
        .agg(pl.exclude("column", "kind").first(), pl.len().alias("rows"))
        .sort("rows", "at", descending=[True, False])
    )
    return [
        sentence_of(row, more=row["rows"] - 1)
        for row in kinds.head(CAUSES_TOLD).iter_rows(named=True)
    ]


def sentence_of(row: dict[str, object], more: int = 0) -> str:
    """One plain sentence on a row set aside or remarked on: file, row, column, cell, reason.

    `more` is how many other rows it stands for.
    """
    place = PLACE.format(file=row["source_file"], row=row["source_row"])
    if more:
        place += f" (and {more:,} more like it)"
    stop = "" if str(row["reason"]).endswith("?") else "."
    return f"{place}{cell_told(row)}{row['reason']}{stop}"


NO_HAUL = saying("No haul can be used: no row is whole (rows read: {}).")
CAUSES_TOLD = 3
"""So many causes tell what is wrong with a season; `check` names them all, once a row is whole."""
PLACE = saying("{file}, row {row}")
ALSO = saying("{}; also {}")
"""A reason, and what else is wrong with the row."""
THE_ROW = saying("the row")


def cell_told(row: dict[str, object]) -> str:
    """The column to blame and what stands in its cell, from which the reason reads on.

    Where that is that the cell is blank, or that no cell holds what was worked out, the column
    alone; nothing where it is the whole row.
    """
    value = "" if row["value"] is None else f"'{_short(str(row['value']))}' "
    if not row["column"]:
        return f": {value}"
    reason = str(row["reason"])
    if reason.startswith((IS_BLANK, HAS_NO_HEADER)):
        return f", {row['column']} "
    if reason.startswith(IS_WORKED_OUT):
        return f", {row['column']}, "
    return f", {row['column']}: {value}"


IS_BLANK = "is blank"
HAS_NO_HEADER, _, _ = NO_HEADER.partition(",")
IS_WORKED_OUT, _ = WORKED_OUT.split("{}")


def _short(text: str, longest: int = 60) -> str:
    return text if len(text) <= longest else text[: longest - 1] + "…"

"""What `check` tells: rows read, used and set aside for each table, and why."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.check_season import sentence_of

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason


def check_summary(season: CheckedSeason, *, every: bool) -> str:
    """The summary as text; `every` names each row, else one of each kind stands for the others."""
    counts = season.counts
    width = max(len(name) for name in counts)
    lines = [f"{'':{width}}  {'read':>9} {'used':>9} {'set aside':>9}"]
    lines += [
        f"{name:{width}}  {count['read']:>9,} {count['used']:>9,} {count['set_aside']:>9,}"
        for name, count in counts.items()
    ]
    if season.set_aside.height:
        lines += ["", "Set aside:", *_sentences(season.set_aside, every=every)]
    if season.remarks.height:
        lines += ["", "Used, with a word on it:", *_sentences(season.remarks, every=every)]
    if not season.set_aside.height and not season.remarks.height:
        lines += ["", "Every row can be used."]
    return "\n".join(lines)


def _sentences(told: pl.DataFrame, *, every: bool) -> list[str]:
    if every:
        return [f"  {sentence_of(row)}" for row in told.iter_rows(named=True)]
    kinds = (
        told.with_row_index("at")
        .group_by("table", "column", "reason")
        .agg(pl.col("at", "source_file", "source_row", "value").first(), pl.len().alias("rows"))
        .sort("at")
    )
    return [
        f"  {sentence_of(row)}"
        + (f" ({row['rows'] - 1:,} more like it)" if row["rows"] > 1 else "")
        for row in kinds.iter_rows(named=True)
    ]

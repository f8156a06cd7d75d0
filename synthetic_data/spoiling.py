"""A fixed few spoilt rows, as found in any real log, each kind counted in ``truth.toml``.

Rows that cannot be used are added beside the good ones, so the good ones stay whole.
Rows that only deserve a remark are good rows with one cell changed.
"""

import numpy as np
import polars as pl
from numpy.typing import NDArray

from synthetic_data.scene import REFERENCE_RIG, ROUGH_RIG

EACH = 2

_FIRST_SPOILT_HAUL_NO = 901
_ROWS_HOLDING_ENOUGH_HAULS = 200
_Cells = dict[str, pl.Expr]


def _cells(**written: str) -> _Cells:
    """Cells to write over, by heading with underscores for blanks."""
    return {heading.replace("_", " "): pl.lit(text) for heading, text in written.items()}


# What is written over a copy of a good haul to make a haul that cannot be used.
_ADDED: dict[str, _Cells] = {
    "negative_tow": {"Towed": "-" + pl.col("Towed")},
    "tow_of_400_hours": _cells(Towed="24000"),
    "hauled_before_shot": {
        "Date": pl.col("Date up"), "Shot": pl.col("Up"),
        "Date up": pl.col("Date"), "Up": pl.col("Shot"), "Towed": pl.lit(""),
    },
    "31_february": {"Date": "31/02/" + pl.col("Date").str.tail(4)},
    "misspelt_rig_version": _cells(Gear="bobins-14"),
    "unreadable_ground": _cells(Bottom="?scr"),
    "tow_in_words": _cells(Towed="two and a half"),
    "decimal_point_for_comma": {"Towed": pl.col("Towed") + ".5"},
    "same_haul_twice_identical": {},
    "same_haul_twice_differing": {"Towed": (pl.col("Towed").cast(pl.Int64) + 35).cast(pl.String)},
}  # fmt: skip
_KEEPS_ITS_NUMBER = {"same_haul_twice_identical", "same_haul_twice_differing"}

# What is written over a good haul that can still be used.
_ALTERED: dict[str, _Cells] = {
    "latitude_and_longitude_swapped": {"Lat": pl.col("Long"), "Long": pl.col("Lat")},
    "note_with_formula": _cells(Remarks='=HYPERLINK("http://example.invalid/log","net ok")'),
    "note_with_markup": _cells(Remarks="net ok <script>alert(1)</script>"),
    "rig_version_unlike_fitting": {
        "Gear": pl.when(pl.col("Gear") == ROUGH_RIG)
        .then(pl.lit(REFERENCE_RIG))
        .otherwise(pl.lit(ROUGH_RIG))
    },
}


def spoil_deck_log(
    log: pl.DataFrame, rng: np.random.Generator
) -> tuple[pl.DataFrame, dict[str, int], int]:
    """Return the log with its spoilt rows, how many of each kind, and how many were added."""
    numbered = log.with_row_index("order").with_columns(pl.col("order").cast(pl.Float64))
    plain = (pl.col("Gear") != "") & (pl.col("Lat") != "") & (pl.col("Damage") == "N")
    altered_rows = rng.permutation(log.select(pl.arg_where(plain)).to_series())
    altered_rows = altered_rows[: EACH * len(_ALTERED)]
    copied_rows = rng.permutation(np.setdiff1d(np.arange(log.height), altered_rows))
    for number, cells in enumerate(_ALTERED.values()):
        numbered = _alter(numbered, _pick(altered_rows, number), cells)
    added = [
        _copies(numbered, _pick(copied_rows, number), kind, number)
        for number, kind in enumerate(_ADDED)
    ]
    spoilt = pl.concat([numbered, *added]).sort("order", maintain_order=True).drop("order")
    return spoilt, dict.fromkeys((*_ADDED, *_ALTERED), EACH), EACH * len(_ADDED)


def spoil_catches(catches: pl.DataFrame) -> tuple[pl.DataFrame, dict[str, int], int]:
    """Add catches of no haul, of negative kg and of no known species."""
    first = catches.head(_ROWS_HOLDING_ENOUGH_HAULS).select("vessel", "trip", "haul")
    hauls = first.unique(maintain_order=True).head(3 * EACH)
    # Ling is on no haul of these seasons, so a row of it never repeats a good one.
    template = hauls.with_columns(
        species=pl.lit("LIN"), kept_kg=pl.lit("12.0"), discarded_kg=pl.lit("0.0"), count=pl.lit("")
    )
    kinds: dict[str, _Cells] = {
        "catch_of_no_haul": {"haul": pl.lit("777")},
        "negative_kg": {"kept_kg": pl.lit("-12.0")},
        "unknown_species": {"species": pl.lit("QQQ")},
    }
    added = [
        template.slice(EACH * number, EACH).with_columns(**cells)
        for number, cells in enumerate(kinds.values())
    ]
    counts = dict.fromkeys(kinds, EACH)
    return pl.concat([catches, *added]), counts, EACH * len(kinds)


def spoil_fittings(fittings: pl.DataFrame) -> tuple[pl.DataFrame, dict[str, int]]:
    """Let some fittings run on past the start of the boat's next one."""
    has_next = fittings.select(
        pl.arg_where(pl.col("vessel").is_duplicated() & pl.col("vessel").is_first_distinct())
    ).to_series()
    rows = has_next.head(EACH).to_numpy()
    next_from = pl.col("fitted_from").shift(-1).over("vessel").str.to_datetime("%Y-%m-%d %H:%M")
    too_late = next_from.dt.offset_by("2d").dt.strftime("%Y-%m-%d %H:%M")
    return _alter(fittings, rows, {"fitted_to": too_late}), {"overlapping_fitting": len(rows)}


def _pick(rows: NDArray[np.int64], number: int) -> NDArray[np.int64]:
    """Return the rows that the kind with this number spoils."""
    return rows[EACH * number : EACH * (number + 1)]


def _alter(table: pl.DataFrame, rows: NDArray[np.int64], cells: _Cells) -> pl.DataFrame:
    """Write over some cells of the rows."""
    chosen = pl.int_range(pl.len()).is_in(rows.tolist())
    return table.with_columns(
        pl.when(chosen).then(written).otherwise(pl.col(heading)).alias(heading)
        for heading, written in cells.items()
    )


def _copies(log: pl.DataFrame, rows: NDArray[np.int64], kind: str, number: int) -> pl.DataFrame:
    """Copy the rows, spoil the copies, and place each just after the row it came from."""
    copies = log[rows].with_columns(pl.col("order") + 0.5)
    if kind not in _KEEPS_ITS_NUMBER:
        first = _FIRST_SPOILT_HAUL_NO + EACH * number
        haul_no = pl.int_range(first, first + pl.len()).cast(pl.String)
        copies = copies.with_columns(haul_no.alias("Haul no"))
    return copies.with_columns(written.alias(heading) for heading, written in _ADDED[kind].items())

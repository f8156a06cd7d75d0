"""The chain that a rig carries, and how much of it lies beside what holds the gear together."""

from __future__ import annotations

from dataclasses import dataclass

import polars as pl

from pipeline.rigs.weight.parts import BY_LENGTH, speaks_of
from pipeline.rigs.weight.rig_weights import SIDES


@dataclass(frozen=True)
class CarriedChain:
    """Chain of a whole rig, both sides of it, but for what carries the fishing line.

    `most_mm` is the wire of the chain that it has most of by mass, None if it has none. Spare is
    the chain beside the one centre run of each section: `spare_mm` is the wire it has most of,
    `spare_m` its length, `spare_kg` its weight in sea water, as far as that is known.
    """

    most_mm: float | None = None
    spare_mm: float | None = None
    spare_m: float = 0.0
    spare_kg: float = 0.0


def carried_chain(rig: str, part_weights: pl.DataFrame | None) -> CarriedChain:
    """What chain the rig carries, from its parts, which have `PART_WEIGHTS_SCHEMA`.

    The centre run of a section is the longest piece of chain, wire or rope that is not on the
    fishing line; of some as long, a wire, else the heaviest (own judgement, no source).
    """
    if part_weights is None:
        return CarriedChain()
    chains = _runs(part_weights.filter(pl.col("rig_version") == rig)).filter(
        pl.col("kind") == "chain"
    )
    return CarriedChain(
        most_mm=_wire_of_most(chains, pl.lit(1.0)),
        spare_mm=_wire_of_most(chains, pl.col("spare_share")),
        spare_m=_sum(chains, pl.col("spare_pieces") * pl.col("length_m") * pl.col("sides")),
        spare_kg=_sum(chains, pl.col("spare_share") * pl.col("weight_water_kg") * pl.col("sides")),
    )


def on_the_fishing_line() -> pl.Expr:
    """Whether a part is on the fishing line; one whose line is left blank is not."""
    return pl.col("line").str.to_lowercase().str.contains("fishing").fill_null(value=False)


def _runs(of_rig: pl.DataFrame) -> pl.DataFrame:
    """Its chains, wires and ropes, with `sides` and with how many pieces of each are spare.

    Toggles, and a traveller that carries them, hold the fishing line, and are never spare.
    """
    runs = of_rig.filter(
        pl.col("kind").is_in(BY_LENGTH), pl.col("pieces") > 0, ~speaks_of("toggle", "traveller")
    ).with_columns(
        on_the_fishing_line().alias("off_the_gear"),
        (pl.col("kind") == "wire").alias("is_wire"),
        (pl.col("mass_air_kg") / pl.col("pieces")).alias("one_kg"),
        pl.col("section").replace_strict(SIDES, return_dtype=pl.Int64).alias("sides"),
    )
    foremost = runs.sort(
        "section",
        "off_the_gear",
        "length_m",
        "is_wire",
        "one_kg",
        "part",
        descending=[False, False, True, True, True, False],
        nulls_last=True,
    )
    centre = pl.col("section").is_first_distinct() & ~pl.col("off_the_gear")
    spare = pl.col("pieces") - centre.cast(pl.Int64)
    return foremost.with_columns(
        spare.alias("spare_pieces"), (spare / pl.col("pieces")).alias("spare_share")
    )


def _wire_of_most(chains: pl.DataFrame, share: pl.Expr) -> float | None:
    """The wire of which that share of the chain has the most mass; None where there is none."""
    by_wire = (
        chains.drop_nulls("diameter_mm")
        .group_by("diameter_mm")
        .agg((pl.col("mass_air_kg") * pl.col("sides") * share).sum().alias("kg"))
        .filter(pl.col("kg") > 0)
        .sort("kg", "diameter_mm")
    )
    return None if by_wire.is_empty() else float(by_wire["diameter_mm"][-1])


def _sum(chains: pl.DataFrame, value: pl.Expr) -> float:
    return float(chains.select(value.sum()).item() or 0.0)

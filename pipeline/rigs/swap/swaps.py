"""What changes when one rig is fished in place of another: weight, chain, gap, sizes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

import polars as pl

from pipeline.rigs.swap.carried_chain import carried_chain, on_the_fishing_line
from pipeline.rigs.swap.chain_to_keep import ChainToKeep, chain_to_keep
from pipeline.rigs.swap.gap_changes import GapChange, gap_change
from pipeline.rigs.swap.weight_changes import (
    SURE_SDS,
    WEIGHED_ALIKE_KG,
    WeightChange,
    weight_changes,
)
from pipeline.rigs.weight.rig_weights import SIDES, WHOLE

if TYPE_CHECKING:
    from pipeline.rigs.swap.weight_changes import Row

CAUTIONS = {
    "heavier in air": "It is heavier in air: more weight aboard and on deck, which bears on "
    "stability, and more for winch and gallows to lift. Ask those who are licensed for it; local "
    "rules decide. This program does not tell whether a boat can bear it.",
    "lighter in air": "It is lighter in air: trim and stability can change that way too. Ask those "
    "who are licensed for it; local rules decide.",
    "heavier in water": "It is heavier in water: more load on warps, doors and winch, more drag, "
    "and more to lift if it comes fast.",
    "lighter in water": "It is lighter in water: it may not keep to the ground, above all at "
    "speed (common practice, no source).",
    "chain weighs in air too": "Chain that is added weighs in air as well, beside the rig's own "
    "change: what is said of a heavier rig holds for it.",
    "chain that holds the gear": "Only chain that was put on for its weight can come off, not the "
    "chain that holds the gear together or carries a load.",
    "not weighed wholly": "A part of one of the two could not be weighed, or a section is not "
    "recorded, so the changes in weight, in air too, are not known and no chain is reckoned.",
    "a weighing should decide": "What is not known of the two weights is more than the change in "
    "water: weigh both in water before anything is changed for it.",
    "weight moves": "The whole weighs much the same in water, but the sections do not.",
    "errors taken as independent": "The two rigs' weights are taken to be wrong independently of "
    "one another, though parts that both have are wrong alike.",
    "fishing line counted for one": "Parts on the fishing line are listed for one of the two only, "
    "and make {fishing_line_kg:.0f} kg of its weight in water. If the other has such parts, list "
    "them too.",
    "gaps got in two ways": "One gap was measured and the other worked out; their change has the "
    "error of the working out in it.",
    "gap cannot be kept": "The toggles are too short for the gap there was, with any fishing line.",
    "gap closes": "The gap closes: seen from ahead the line is hidden behind the gear.",
    "line too short": "The fishing line is shorter than the ground gear and lies forward of it: it "
    "chafes, the gear can pick up the netting, and drawn tight it carries the pull.",
    "set again": "Doors, floats and towing speed may have to be set again (common practice, no "
    "source).",
}
"""What to mind with a swap, in a sentence by its code. Nothing that is not named is thereby sound.

A figure in braces is the swap's, by the name of its field.
What is said of gaps and lines is common practice, no source.
"""


@dataclass(frozen=True)
class Swap:
    """`to_rig` in place of `from_rig`. A change is what the new one has more; None is not known.

    `weights` has each section, one side of it, and last the whole. `errors` says whether parts
    that both rigs have were known, so that they share their error. `fishing_line_kg` is the weight
    in water of what is on the fishing line of one rig, where the other has nothing listed there.
    `cautions` are codes of `CAUTIONS`.
    """

    from_rig: str
    to_rig: str
    weights: tuple[WeightChange, ...]
    errors: Literal["shared", "independent"]
    chain: ChainToKeep
    gap: GapChange
    largest_diameter_from_mm: float | None
    largest_diameter_to_mm: float | None
    toggle_from_mm: float | None
    toggle_to_mm: float | None
    fishing_line_kg: float | None
    cautions: tuple[str, ...]


def swap(
    from_rig: str,
    to_rig: str,
    rig_weights: pl.DataFrame,
    rig_geometry: pl.DataFrame,
    part_weights: pl.DataFrame | None = None,
) -> Swap:
    """What changes from one rig version to the other, from the tables of all of them.

    They have the columns of `RIG_WEIGHTS_SCHEMA`, `RIG_GEOMETRY_SCHEMA`, `PART_WEIGHTS_SCHEMA`.
    Raises `LookupError` for a rig version that is in neither of the first two.
    """
    for rig in (from_rig, to_rig):
        if not (_has(rig_weights, rig) or _has(rig_geometry, rig)):
            message = f"nothing is recorded of the parts or the lengths of '{rig}'"
            raise LookupError(message)
    weights = weight_changes(from_rig, to_rig, rig_weights, part_weights)
    gear_m = _whole(rig_weights, to_rig).get("gear_m")
    chain = chain_to_keep(weights, carried_chain(to_rig, part_weights), gear_m)
    old, new = (_row(rig_geometry, rig) for rig in (from_rig, to_rig))
    gap = gap_change(old, new)
    errors: Literal["shared", "independent"] = "independent" if part_weights is None else "shared"
    line_kg = _fishing_line_kg(from_rig, to_rig, part_weights)
    return Swap(
        from_rig=from_rig,
        to_rig=to_rig,
        weights=weights,
        errors=errors,
        chain=chain,
        gap=gap,
        largest_diameter_from_mm=_whole(rig_weights, from_rig).get("largest_diameter_mm"),
        largest_diameter_to_mm=_whole(rig_weights, to_rig).get("largest_diameter_mm"),
        toggle_from_mm=old.get("toggle_mm"),
        toggle_to_mm=new.get("toggle_mm"),
        fishing_line_kg=line_kg,
        cautions=_cautions(weights, errors, chain, gap, line_kg),
    )


def _cautions(
    weights: tuple[WeightChange, ...],
    errors: str,
    chain: ChainToKeep,
    gap: GapChange,
    fishing_line_kg: float | None,
) -> tuple[str, ...]:
    """The codes that hold, in the order of `CAUTIONS`."""
    *sections, whole = weights
    much_the_same = whole.known and not whole.exceeds_its_error
    changes = whole.exceeds(0.0)
    holds = {
        "heavier in air": whole.surely_in_air_kg > WEIGHED_ALIKE_KG,
        "lighter in air": whole.surely_in_air_kg < -WEIGHED_ALIKE_KG,
        "heavier in water": whole.surely_in_water_kg > WEIGHED_ALIKE_KG,
        "lighter in water": whole.surely_in_water_kg < -WEIGHED_ALIKE_KG,
        "chain weighs in air too": chain.direction == "add",
        "chain that holds the gear": chain.direction == "take off" and chain.spare_m > 0,
        "not weighed wholly": not whole.known,
        "a weighing should decide": changes and not whole.exceeds(SURE_SDS),
        "weight moves": much_the_same and any(change.exceeds_its_error for change in sections),
        "errors taken as independent": errors == "independent" and changes,
        "fishing line counted for one": fishing_line_kg is not None,
        "gaps got in two ways": gap.change_mm is not None and gap.from_how != gap.to_how,
        "gap cannot be kept": gap.cannot_be_kept,
        "gap closes": gap.to_mm == 0 and bool(gap.from_mm),
        "line too short": gap.lies_to in {"forward", "drawn tight"},
        "set again": True,
    }
    return tuple(code for code in CAUTIONS if holds[code])


def _fishing_line_kg(from_rig: str, to_rig: str, part_weights: pl.DataFrame | None) -> float | None:
    """What is listed on the fishing line of one rig alone weighs in water, both sides of it."""
    if part_weights is None or from_rig == to_rig:
        return None
    both = part_weights.filter(
        on_the_fishing_line(), pl.col("rig_version").is_in([from_rig, to_rig])
    )
    if both["rig_version"].n_unique() != 1:
        return None
    sides = pl.col("section").replace_strict(SIDES, return_dtype=pl.Int64)
    return float(both.select((pl.col("weight_water_kg") * sides).sum()).item())


def _has(table: pl.DataFrame, rig: str) -> bool:
    return rig in table["rig_version"]


def _row(table: pl.DataFrame, rig: str) -> Row:
    """The rig's row of a table that has one for each at most; empty if it has none."""
    rows: list[dict[str, Any]] = table.filter(pl.col("rig_version") == rig).to_dicts()
    return rows[0] if rows else {}


def _whole(rig_weights: pl.DataFrame, rig: str) -> Row:
    return _row(rig_weights.filter(pl.col("section") == WHOLE), rig)

"""What `rig --swap` tells: the change in weight, the chain that makes up for it, the gap."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING

from pipeline.rigs.swap.swaps import CAUTIONS
from pipeline.rigs.swap.weight_changes import SURE_SDS, WEIGHED_ALIKE_KG
from reports.gear_words import section_of_sides
from reports.rigs.swap_chain import chain_sentences
from reports.rigs.swap_gap import gap_sentences, millimetres
from reports.terminal import columns, paragraph, titled

if TYPE_CHECKING:
    from pipeline.rigs.swap.swaps import Swap
    from pipeline.rigs.swap.weight_changes import WeightChange

WHOLE_KG_FROM = 10.0
"""From here on kilos are told without decimals."""

NOT_KNOWN = "not known"
FOOT = (
    "± holds 19 times in 20. What the season found between the two stands in its report: "
    "rigseason report SEASON --out DIR"
)


def swap_sheet(swap: Swap) -> str:
    """What changes when one rig is fished in place of another."""
    return "\n".join(
        [
            f"{swap.to_rig} in place of {swap.from_rig}",
            "",
            *columns(
                ["kg in sea water", "from", "to", "change", "in air"],
                [_weights(row) for row in swap.weights],
            ),
            *paragraph(_in_air(swap.weights[-1])),
            "",
            *columns(
                ["kg in sea water a metre of gear", "from", "to"],
                [_by_the_metre(row) for row in swap.weights],
            ),
            *titled("Chain that keeps the weight in water as it was", chain_sentences(swap)),
            *titled("Gap under the fishing line", gap_sentences(swap.gap)),
            *titled("Sizes", _sizes(swap)),
            *titled("Before it is done", _cautions(swap)),
            "",
            *paragraph(FOOT),
        ]
    )


def _weights(row: WeightChange) -> list[str]:
    return [
        section_of_sides(row.section, row.sides),
        _known(row.weight_from_kg, at_least=row.from_at_least),
        _known(row.weight_to_kg, at_least=row.to_at_least),
        _change(row.weight_change_kg, row.weight_change_sd_kg),
        _change(row.mass_change_kg, None),
    ]


def _by_the_metre(row: WeightChange) -> list[str]:
    return [
        section_of_sides(row.section, row.sides),
        _known(row.weight_from_kg_per_m, at_least=row.from_at_least, places=1),
        _known(row.weight_to_kg_per_m, at_least=row.to_at_least, places=1),
    ]


def _in_air(whole: WeightChange) -> str:
    if whole.mass_from_kg is None or whole.mass_to_kg is None:
        return ""
    before = _known(whole.mass_from_kg, at_least=whole.from_at_least)
    after = _known(whole.mass_to_kg, at_least=whole.to_at_least)
    return f"In air the whole goes from {before} to {after} kg."


def _cautions(swap: Swap) -> list[str]:
    figures = asdict(swap)
    return [CAUTIONS[code].format(**figures) for code in swap.cautions]


def _sizes(swap: Swap) -> list[str]:
    return [
        f"Largest part from {millimetres(swap.largest_diameter_from_mm)} to "
        f"{millimetres(swap.largest_diameter_to_mm)}, toggles from "
        f"{millimetres(swap.toggle_from_mm)} to {millimetres(swap.toggle_to_mm)}, slack in the "
        f"fishing line from {_m(swap.gap.slack_from_m)} to {_m(swap.gap.slack_to_m)}.",
        *([NO_TOGGLES] if None in (swap.toggle_from_mm, swap.toggle_to_mm) else []),
    ]


NO_TOGGLES = (
    "A rig without toggles, its fishing line made fast to the gear itself, has a toggle_mm of 0 in "
    "rig_versions."
)


def _m(value: float | None) -> str:
    return NOT_KNOWN if value is None else f"{value:z.2f} m"


def _known(value: float | None, *, at_least: bool, places: int | None = None) -> str:
    if value is None:
        return NOT_KNOWN
    shown = _places(value) if places is None else places
    return f"{'at least ' if at_least else ''}{value:z,.{shown}f}"


def _change(value: float | None, sd: float | None) -> str:
    if value is None:
        return NOT_KNOWN
    half = SURE_SDS * (sd or 0.0)
    places = _places(max(abs(value), half))
    shown = "0" if abs(value) <= WEIGHED_ALIKE_KG else f"{value:+z,.{places}f}"
    return shown + (f" ± {half:,.{places}f}" if half > WEIGHED_ALIKE_KG else "")


def _places(kg: float) -> int:
    return 0 if abs(kg) >= WHOLE_KG_FROM else 1

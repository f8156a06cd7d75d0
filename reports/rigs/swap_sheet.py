"""What `rig --swap` tells: the change in weight, the chain that makes up for it, the gap."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.rigs.swap.swaps import CAUTIONS
from reports.rigs.sentences import section_word
from reports.terminal import columns, paragraph, titled

if TYPE_CHECKING:
    from pipeline.rigs.swap.chain_to_keep import ChainAmount, ChainToKeep
    from pipeline.rigs.swap.gap_changes import GapChange
    from pipeline.rigs.swap.swaps import Swap
    from pipeline.rigs.swap.weight_changes import WeightChange

NO_CHAIN = {
    "unknown": "Not reckoned, as one of the two could not be weighed wholly.",
    "nothing": "None: they weigh the same, within what is known of their weights.",
}


def swap_sheet(swap: Swap) -> str:
    """What changes when one rig is fished in place of another."""
    rows = [
        [
            section_word(row.section, row.sides),
            _number(row.weight_from_kg),
            _number(row.weight_to_kg),
            _change(row.weight_change_kg, row.weight_change_sd_kg),
            _number(row.weight_from_kg_per_m),
            _number(row.weight_to_kg_per_m),
            _change(row.mass_change_kg, None),
        ]
        for row in swap.weights
    ]
    headers = ["kg in sea water", "from", "to", "change", "a m, from", "to", "in air"]
    return "\n".join(
        [
            f"{swap.to_rig} in place of {swap.from_rig}",
            "",
            *columns(headers, rows),
            *paragraph(_in_air(swap.weights[-1])),
            *titled("Chain that keeps the weight in water as it was", _chain(swap.chain)),
            *titled("Gap under the fishing line", _gap(swap.gap)),
            *titled("Sizes", _sizes(swap)),
            *titled("Before it is done", [CAUTIONS[code] for code in swap.cautions]),
        ]
    )


def _in_air(whole: WeightChange) -> str:
    if whole.mass_from_kg is None or whole.mass_to_kg is None:
        return ""
    return f"In air the whole goes from {whole.mass_from_kg:,.0f} to {whole.mass_to_kg:,.0f} kg."


def _chain(chain: ChainToKeep) -> list[str]:
    if not chain.sizes:
        return [NO_CHAIN[chain.direction]]
    usual = next(size for size in chain.sizes if size.wire_mm == chain.usual_mm)
    *sections, whole = usual.amounts
    by_section = [
        f"{section_word(amount.section, amount.sides)} {_amount(amount, whole)}"
        for amount in sections
    ]
    others = [
        f"{size.amounts[-1].metres:.0f} m of {size.wire_mm:g} mm"
        for size in chain.sizes
        if size is not usual
    ]
    return [
        f"{whole.direction.capitalize()} {whole.metres:.1f} m of {usual.wire_mm:g} × "
        f"{usual.pitch_mm:g} mm chain, {whole.links:,} links: {whole.mass_air_kg:,.0f} kg "
        f"in air, {usual.kg_per_m_in_water:.2f} kg a metre in sea water.",
        f"By section: {'; '.join(by_section)}.",
        f"Or in another size of DIN 766: {', '.join(others)}.",
    ]


def _amount(amount: ChainAmount, whole: ChainAmount) -> str:
    """Metres, with the direction where it is not that of the whole."""
    metres = f"{amount.metres:.1f} m"
    if amount.direction == whole.direction:
        return metres
    return f"{amount.direction} {metres}" if amount.direction != "nothing" else "nothing"


def _gap(gap: GapChange) -> list[str]:
    if gap.from_mm is None and gap.to_mm is None:
        return ["Not known of either."]
    before, after = _gap_of(gap.from_mm, gap.from_how), _gap_of(gap.to_mm, gap.to_how)
    said = [f"From {before} to {after}{_change_of(gap)}."]
    if gap.lies_from != gap.lies_to and gap.lies_from and gap.lies_to:
        said.append(f"The line, before: {gap.lies_from}; after: {gap.lies_to}.")
    if gap.slack_to_keep_m is not None and gap.line_change_m is not None:
        longer = "longer" if gap.line_change_m > 0 else "shorter"
        said.append(
            f"A fishing line {abs(gap.line_change_m):.2f} m {longer} would keep it as it was "
            f"({gap.slack_to_keep_m:.2f} m of slack)."
        )
    if gap.slack_that_closes_m is not None:
        said.append(f"{gap.slack_that_closes_m:.2f} m of slack would close it.")
    return [" ".join(said)]


def _gap_of(value_mm: float | None, how: str | None) -> str:
    return "one not known" if value_mm is None else f"{value_mm:.0f} mm ({how})"


def _change_of(gap: GapChange) -> str:
    """The change, and by the lengths alone where one of the gaps was measured."""
    if gap.change_mm is None:
        return ""
    by_lengths = ""
    if gap.by_geometry_change_mm is not None and "measured" in {gap.from_how, gap.to_how}:
        by_lengths = (
            f", by their lengths {gap.by_geometry_change_mm:+.0f} mm "
            f"({gap.by_geometry_from_mm:.0f} to {gap.by_geometry_to_mm:.0f})"
        )
    return f": {gap.change_mm:+.0f} mm{by_lengths}"


def _sizes(swap: Swap) -> list[str]:
    return [
        f"Largest part from {_mm(swap.largest_diameter_from_mm)} to "
        f"{_mm(swap.largest_diameter_to_mm)}, toggles from {_mm(swap.toggle_from_mm)} to "
        f"{_mm(swap.toggle_to_mm)}, slack in the fishing line from {_m(swap.gap.slack_from_m)} to "
        f"{_m(swap.gap.slack_to_m)}."
    ]


def _m(value: float | None) -> str:
    return "not known" if value is None else f"{value:.2f} m"


def _mm(value: float | None) -> str:
    return "not known" if value is None else f"{value:.0f} mm"


def _number(value: float | None) -> str:
    return "–" if value is None else f"{value:,.1f}"


def _change(value: float | None, sd: float | None) -> str:
    if value is None:
        return "–"
    return f"{value:+,.1f}" + (f" ± {sd:,.1f}" if sd is not None else "")

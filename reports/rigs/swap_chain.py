"""The chain that makes up for the change in weight of a swap, in sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.gear_words import section_of_sides

if TYPE_CHECKING:
    from pipeline.rigs.swap.chain_to_keep import ChainAmount, ChainSize, ChainToKeep
    from pipeline.rigs.swap.swaps import Swap

NO_CHAIN = {
    "unknown": "Not reckoned, as one of the two could not be weighed wholly.",
    "nothing": "None: they weigh the same, within what is known of their weights.",
}

LINKS_BELOW_M = 20.0
"""More chain than this is not counted in links when it comes off."""

ANOTHER_GEAR_FROM = 1.0
"""Metres of chain on each metre of gear (own judgement, no source)."""


WHOLE_M_FROM = 10.0
"""From here on metres are told without decimals, but for what is to be added or taken off."""


def chain_sentences(swap: Swap) -> list[str]:
    """How much chain to add, or what could come off, and how sure that is."""
    chain = swap.chain
    if not chain.sizes:
        return [NO_CHAIN[chain.direction]]
    if chain.direction == "add":
        return [
            _amount_told(chain.usual, "Add"),
            *_on_each_metre(chain),
            _by_section(chain.usual),
            f"Or {' or '.join(_whole_of(size) for size in chain.neighbours)}.",
        ]
    if chain.can_come_off == "all":
        return [
            _amount_told(chain.usual, "Take off"),
            _by_section(chain.usual),
            f"{swap.to_rig} carries {_spare(chain)}.",
        ]
    return [_too_little(swap), f"The difference is as much as {_as_much_as(chain.usual)}."]


def _too_little(swap: Swap) -> str:
    if swap.chain.can_come_off == "none":
        return (
            f"{swap.to_rig} carries no chain that could come off; the weight can't be made up "
            "with chain."
        )
    return (
        f"{swap.to_rig} carries {_spare(swap.chain)}; with no more than that to come off, the "
        "weight can't be made up with chain alone."
    )


def _spare(chain: ChainToKeep) -> str:
    return (
        f"{_metres(chain.spare_m)} of chain beside the run that holds it together, "
        f"{chain.spare_kg:z,.0f} kg in sea water"
    )


def _amount_told(size: ChainSize, what: str) -> str:
    whole = size.amounts[-1]
    told = what == "Add" or whole.metres < LINKS_BELOW_M
    links = f", about {whole.links:,} links" if told else ""
    return (
        f"{what} {whole.metres:z.1f} m of {size.wire_mm:g} × {size.pitch_mm:g} mm chain{links}"
        f"{_range(whole)}: {whole.mass_air_kg:z,.0f} kg in air, {size.kg_per_m_in_water:z.2f} kg a "
        "metre in sea water."
    )


def _as_much_as(size: ChainSize) -> str:
    whole = size.amounts[-1]
    return f"{_metres(whole.metres)} of {size.wire_mm:g} mm chain{_range(whole)}"


def _range(amount: ChainAmount) -> str:
    if amount.least_m is None or amount.most_m is None:
        return ""
    least = _places(amount.least_m) if amount.least_m > 0 else "none"
    return f" (anything from {least} to {_metres(amount.most_m)})"


def _on_each_metre(chain: ChainToKeep) -> list[str]:
    if chain.gear_m is None:
        return []
    each_m = chain.usual.amounts[-1].metres / chain.gear_m
    said = f"That is about {each_m:z.1f} m on each metre of gear"
    if each_m < ANOTHER_GEAR_FROM:
        return [f"{said}."]
    return [
        f"{said}, and that is another gear: chain alone can't make up for it (own judgement, no "
        "source)."
    ]


def _by_section(size: ChainSize) -> str:
    *sections, whole = size.amounts
    by_section = [
        f"{section_of_sides(amount.section, amount.sides)} {_amount(amount, whole)}"
        for amount in sections
    ]
    return f"By section: {'; '.join(by_section)}."


def _whole_of(size: ChainSize) -> str:
    return f"{_metres(size.amounts[-1].metres)} of {size.wire_mm:g} mm"


def _amount(amount: ChainAmount, whole: ChainAmount) -> str:
    """Metres, with the direction where it is not that of the whole."""
    metres = f"{amount.metres:z.1f} m"
    if amount.direction == whole.direction:
        return metres
    return f"{amount.direction} {metres}" if amount.direction != "nothing" else "nothing"


def _metres(value: float) -> str:
    return f"{_places(value)} m"


def _places(metres: float) -> str:
    return f"{metres:.{0 if metres >= WHOLE_M_FROM else 1}f}"

"""Whether what the settings name is there: the factors to adjust for, and species."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.nearest import did_you_mean
from schemas.words import FACTORS

if TYPE_CHECKING:
    from collections.abc import Sequence

    import polars as pl

    from schemas.settings import Settings


def refused_names(
    settings: Settings, kept: Sequence[str], known_species: pl.DataFrame
) -> list[str]:
    """A sentence on each factor and species that the season has none of.

    `kept` are the further columns of its hauls.
    """
    factors, species = (*FACTORS, *kept), known_species["species"].to_list()
    no_factor = [
        f"season.toml: [model] adjust names {name!r}{did_you_mean(name, factors)}, which is none "
        f"of {', '.join(factors)}; to use a further column, keep it under [hauls]."
        for name in dict.fromkeys(settings.model.adjust)
        if name not in factors
    ]
    no_species = [
        f"season.toml: [model] {key} names {name!r}, which is in no list of species"
        f"{did_you_mean(name, species)}."
        for key, names in (
            ("species", settings.model.species or ()),
            ("length_edges_cm", settings.model.length_edges_cm),
        )
        for name in names
        if name not in species
    ]
    return no_factor + no_species

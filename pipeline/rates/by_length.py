"""Which sizes does a rig lose? Fish caught by length, each rig against the reference.

Each band of a species' lengths is an outcome: fish an hour towed, raised by the share that was
measured, compared by the season's own steps (`effects.py`) over the hauls that tell of sizes. A
haul that was measured has none of a band that none was measured in; so has one that caught none of
the species, where others of its fish were measured. One that caught some and had none measured is
left out.

Several bands are several looks. All ratios of bands, over species and rigs, are judged together, as
headlines are among themselves; so are all slopes, which are the one answer on each species and rig;
and within tows either by itself.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np
import polars as pl

from pipeline.rates.effects import compare_rigs
from pipeline.rates.length_bands import LengthBand, bands_of, by_haul, edges_for
from pipeline.rates.length_slopes import (
    LengthSlope,
    find_slope,
    find_slopes_in_tows,
    judged_slope,
)
from pipeline.rates.looks import Judging
from pipeline.rates.one_after_other import marked
from pipeline.rates.poisson import interval
from pipeline.rates.twin_tows import (
    TwinTows,
    find_twin_tows,
    is_beside_another_rig,
    pairs_in_one_tow,
)
from pipeline.rates.verdict import verdict
from schemas.codes import Caution
from schemas.hauls import HAUL_KEY
from schemas.outcomes import SPECIES_PREFIX, outcome
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from pipeline.rates.effects import Effect
    from schemas.settings import Model


@dataclass(frozen=True)
class BySize:
    """A species' sizes with each rig against the reference, as it goes into `findings.json`.

    Hauls are those whose fish were `measured`, that had `none`, or are left out: `not_measured`, or
    `not_known` as a count, a share or the catch is not.
    """

    species: str
    fish: str
    edges_named: bool
    measured: int
    none: int
    not_measured: int
    not_known: int
    bands: list[LengthBand]
    effects: list[Effect]
    slopes: list[LengthSlope]
    tows: list[TwinTows]
    slopes_in_tows: list[LengthSlope]


def find_by_length(
    hauls: pl.DataFrame,
    lengths: pl.DataFrame,
    names: Mapping[str, str],
    reference: str,
    adjust: Sequence[str],
    model: Model,
) -> dict[str, Any]:
    """The sizes of each species of which enough was measured, and by how many looks.

    `hauls` is `length_hauls` with the conditions of its patterns, `lengths` is `haul_lengths`;
    `names` has what each species is called.
    """
    of_species = sorted(hauls.partition_by("species", as_dict=True).items())
    sizes = [_sizes(str(name), own, lengths, model) for (name,), own in of_species]
    told = [each for each in sizes if each.bands]
    in_one_tow = sum(len(each.bands) * len(each.pairs_in_tows(reference)) for each in told)
    in_tows = _judging(in_one_tow, model)
    found = [_compared(each, names, reference, adjust, in_tows) for each in told]
    ratios = _judging(sum(e.side_by_side for each in found for e in each.effects), model)
    slopes = _judging(sum(len(each.slopes) for each in found), model)
    slopes_in_tows = _judging(sum(len(each.slopes_in_tows) for each in found), model)
    return {
        "ratios": ratios.comparisons,
        "slopes": slopes.comparisons,
        "allowed_for": ratios.together,
        "species": [
            replace(
                each,
                effects=[judged(effect, ratios) for effect in each.effects],
                slopes=[judged_slope(slope, slopes) for slope in each.slopes],
                slopes_in_tows=[judged_slope(s, slopes_in_tows) for s in each.slopes_in_tows],
            )
            for each in found
        ],
    }


def _judging(comparisons: int, model: Model) -> Judging:
    """Among how many looks each is judged, as the season asks of headlines."""
    together = model.many_looks == "together"
    return Judging(comparisons, model.smallest_that_matters, together=together)


@dataclass(frozen=True)
class _Sizes:
    """A species' bands, and its fish of each in every haul that tells of them, as columns."""

    species: str
    edges_named: bool
    told: dict[str, int]
    bands: list[LengthBand]
    caught: pl.DataFrame

    @property
    def outcomes(self) -> list[str]:
        """The bands as outcomes."""
        return [band.outcome for band in self.bands]

    def pairs_in_tows(self, reference: str) -> list[tuple[str, str]]:
        """The rigs that shared a tow which tells of sizes."""
        return pairs_in_one_tow(self.caught.filter(is_beside_another_rig()), reference)

    @property
    def sums(self) -> pl.DataFrame:
        """The sums of `compare_rigs`, an outcome a band."""
        conditions = [name for name in self.caught.columns if name not in self.outcomes]
        of_pattern = self.caught.group_by("vessel", "trip", "pattern", maintain_order=True).agg(
            pl.col(set(conditions) - {"vessel", "trip", "pattern", "tow_hours"}).first(),
            pl.len().alias("hauls"),
            pl.col("tow_hours").sum(),
            pl.col(self.outcomes).sum().name.suffix(TOTAL),
            (pl.col(self.outcomes) > 0).sum().name.suffix(WITH_SOME),
        )
        amounts = [f"{name}{of}" for name in self.outcomes for of in (TOTAL, WITH_SOME)]
        return pl.concat(
            of_pattern.select(
                pl.lit(name).alias("outcome"),
                pl.exclude(amounts),
                pl.col(f"{name}{TOTAL}").alias("total"),
                pl.col(f"{name}{WITH_SOME}").alias("hauls_with_some"),
            )
            for name in self.outcomes
        )


TOTAL, WITH_SOME = " total", " with some"


def _sizes(species: str, hauls: pl.DataFrame, lengths: pl.DataFrame, model: Model) -> _Sizes:
    """The species' bands by the edges that the season names, or those that its fish have."""
    measured = hauls.filter(told="measured").select("row", *HAUL_KEY)
    own = lengths.filter(species=species).join(measured, on="row")
    own = own.sort(*HAUL_KEY, "length_cm", "fish")
    named = model.length_edges_cm.get(species)
    edges = edges_for(own) if named is None else tuple(sorted(set(named)))
    bands = bands_of(species, own, edges) if edges else []
    told = dict(hauls.group_by("told").len().iter_rows())
    caught = by_haul(hauls, own, edges, bands)
    return _Sizes(species, named is not None, told, bands, caught)


def _compared(
    sizes: _Sizes,
    names: Mapping[str, str],
    reference: str,
    adjust: Sequence[str],
    in_tows: Judging,
) -> BySize:
    """Each rig against the reference in each band, and the slopes of these."""
    caught, told = sizes.caught, sizes.told
    fished = caught.select("rig_version", "ground").unique()
    compared = compare_rigs(
        sizes.sums, fished, reference, adjust, "trip", (ALL_GROUNDS,), with_models=False
    )
    dated = caught.filter(pl.col("shot_at").is_not_null())
    effects = marked(compared.effects, dated)
    rigs = dict.fromkeys(effect.rig for effect in effects)
    slopes = (
        find_slope([e for e in effects if e.rig == rig], compared.fitted, sizes.bands)
        for rig in rigs
    )
    return BySize(
        sizes.species,
        outcome(f"{SPECIES_PREFIX}{sizes.species}", dict(names)).fish,
        sizes.edges_named,
        told.get("measured", 0),
        told.get("none", 0),
        told.get("not measured", 0),
        told.get("not known", 0),
        sizes.bands,
        effects,
        [slope for slope in slopes if slope is not None],
        find_twin_tows(caught, reference, in_tows, sizes.outcomes),
        find_slopes_in_tows(caught, reference, sizes.bands),
    )


def judged(effect: Effect, judging: Judging) -> Effect:
    """The ratio of a band with its limits among all of them, and what they say."""
    if effect.log_ratio is None or effect.std_error is None or effect.low is None:
        return effect
    freedom = np.inf if effect.freedom is None else effect.freedom
    low, high = interval(effect.log_ratio, effect.std_error, freedom, judging.confidence)
    can_tell = effect.side_by_side and Caution.FEW_WITH_SOME not in effect.cautions
    matters = judging.matters_of(effect.outcome)
    return replace(
        effect,
        p_adjusted=judging.adjusted(effect.p_value or 0.0),
        low_together=low,
        high_together=high,
        verdict=verdict(low, high, can_tell=can_tell, matters=matters),
    )

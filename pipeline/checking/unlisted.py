"""Species in no list: a slip of the pen, or a species of the log's own.

A slip is rare, or near what the log otherwise names. What stands in many hauls and is near nothing
is no slip: the list lacks it. To lose every haul with it for that would leave no fish to tell of,
so its rows are used. Nobody has said whether it lives on the bottom, so it counts neither as
bottom-living nor as other fish, in every haul alike, which is told on the first screen.
"""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING

import polars as pl

from pipeline.nearest import DID_YOU_MEAN, did_you_mean
from pipeline.rows import filled_in, hauls_of_each, no_refusals, refusal, table_or_empty
from schemas.hauls import HAUL_KEY
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pipeline.rows import CheckedSeason

LONGEST_CODE = 4
"""A longer word for a species is no code with a slip but a name."""
MOST_MEANT = 3
"""More species of one name are not listed: there are many soles."""
MANY, LEAST_HAULS = 0.05, 5
"""In fewer than one haul in twenty with fish, or five, it may be a slip (own judgement)."""
MOST_WEIGHT = 0.5
"""Where they are more than half of all the fish, what is left tells of no haul's fish (own
judgement)."""
ONE_SLIP = 0.8
"""So near are words of six letters that differ in one."""

UNKNOWN_SPECIES = saying("is a species in no list{}; add it to the species table or put it right")
OF_ITS_OWN = saying(
    "is a species in no list, in {} of {} hauls that tell of fish; it is used, and counts neither "
    "as bottom-living nor as other fish until the species table says which it is"
)
REASONS = (UNKNOWN_SPECIES, OF_ITS_OWN)


def unknown_species(season: CheckedSeason, name: str, known_species: pl.DataFrame) -> pl.DataFrame:
    """Refusals for rows of table `name` whose species is in no list and not of the log's own."""
    if name not in season.tables:
        return no_refusals()
    known = [*known_species["species"], *species_of_its_own(season, known_species)]
    strangers = season.tables[name].filter(~pl.col("species").is_in(known))
    name_of = dict(known_species.select("species", "name").iter_rows())
    told = {
        word: UNKNOWN_SPECIES.format(_species_meant(word, name_of))
        for word in strangers["species"].unique().to_list()
    }
    reason = pl.col("species").replace_strict(told, return_dtype=pl.String, default=UNKNOWN_SPECIES)
    return refusal(strangers, "species", reason)


def species_of_its_own(season: CheckedSeason, known_species: pl.DataFrame) -> list[str]:
    """The species in no list that stand in many of the hauls that tell of fish, and are no slip."""
    if "catches" not in season.tables:
        return []
    catches = season.tables["catches"]
    listed = pl.col("species").is_in(known_species["species"].implode())
    hauls = catches.select(pl.struct(HAUL_KEY).n_unique()).item()
    name_of = dict(known_species.select("species", "name").iter_rows())
    named = catches.filter(listed)["species"].unique().to_list()
    own = [
        species
        for species, its_hauls in hauls_of_each(catches.filter(~listed)).iter_rows()
        if its_hauls >= max(LEAST_HAULS, MANY * hauls) and not _may_be(species, named, name_of)
    ]
    weight = pl.sum_horizontal("kept_kg", "discarded_kg")
    of_these = catches.filter(pl.col("species").is_in(own)).select(weight.sum()).item()
    return own if of_these <= MOST_WEIGHT * catches.select(weight.sum()).item() else []


def told_of_unlisted(season: CheckedSeason, unlisted: pl.DataFrame) -> pl.DataFrame:
    """A remark on the first row of each species of `unlisted`, which has `species` and `hauls`."""
    catches = table_or_empty(season, "catches")
    of = catches.select(pl.struct(HAUL_KEY).n_unique()).item()
    first = catches.sort("row").unique("species", keep="first", maintain_order=True)
    told = first.join(unlisted, on="species").with_columns(pl.lit(of).alias("of"))
    return refusal(told, "species", filled_in(OF_ITS_OWN, "hauls", "of"))


def _may_be(word: str, named: list[str], name_of: Mapping[str, str | None]) -> bool:
    """Whether the word may be a slip of a code that the log names, or the name of a listed one.

    Any code of three letters is near one of a long list, so it is held to those of the log alone.
    """
    if len(word) <= LONGEST_CODE:
        return bool(did_you_mean(word, named))
    words = {part for name in name_of.values() if name for part in _words_of(name)}
    return bool(_of_name(word, name_of) or get_close_matches(word.lower(), words, 1, ONE_SLIP))


def _species_meant(word: str, name_of: Mapping[str, str | None]) -> str:
    """Which code may have been meant: the nearest, or of a name those that it is the name of."""
    if len(word) <= LONGEST_CODE:
        return did_you_mean(word, name_of)
    named = _of_name(word, name_of)
    fitting = named if len(named) <= MOST_MEANT else ()
    told = ", ".join(f"{code!r}, {name_of[code]}" for code in fitting)
    return DID_YOU_MEAN.format(told) if told else ""


def _of_name(word: str, name_of: Mapping[str, str | None]) -> list[str]:
    """The codes of the species in whose name the word stands."""
    stem = word.lower().removesuffix("s")
    return [
        code
        for code, name in name_of.items()
        if name and any(part.startswith(stem) for part in _words_of(name))
    ]


def _words_of(name: str) -> list[str]:
    return name.lower().replace("(", "").replace(")", "").replace(",", "").split()

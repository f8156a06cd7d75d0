"""What `check` tells of fish that are lost to what was set aside, and of species in no list."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.checking.across import why_catches_lack
from pipeline.checking.check_season import cell_told
from pipeline.joining.species import unlisted_species
from reports.terminal import so_many
from schemas.hauls import HAUL_KEY

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason

CAUSES_TOLD = 3
SLIPS = 3
"""A species set aside in fewer hauls is put right where it stands; of more it may be the list's."""
TABLE_OF_SPECIES = (
    "A table species says what they are: a file species.csv beside the log, with a line for each "
    "('yes' if it lives on the bottom and can pass under a ground gear, else 'no'):"
)
FURTHER_LINES = (
    "Your table species says what they are, with a line for each ('yes' if it lives on the bottom "
    "and can pass under a ground gear, else 'no'):"
)


def fish_lost(season: CheckedSeason) -> list[str]:
    """How many hauls tell of no fish as a row of their catch was set aside, and for what."""
    used = season.tables["hauls"].select(HAUL_KEY)
    lacking = season.hauls_missing_catch.join(used, on=HAUL_KEY, how="semi").height
    if not lacking:
        return []
    hauls = season.catches_read.select(HAUL_KEY).unique().join(used, on=HAUL_KEY, how="semi").height
    causes = [
        f"  {so_many(row['hauls'], 'haul', 'hauls')}{cell_told(row)}{row['reason']}."
        for row in why_catches_lack(season).head(CAUSES_TOLD).iter_rows(named=True)
    ]
    return [
        f"No fish is told of {lacking:,} of {hauls:,} hauls that name their catch, as a row of it "
        "was set aside and the rest is not the whole:",
        *causes,
    ]


def of_no_list(season: CheckedSeason) -> list[str]:
    """The species in no list, and the lines of a species table that would tell what they are."""
    own = unlisted_species(season)
    lost = why_catches_lack(season).filter(column="species").rename({"value": "code"})
    asked = [*own["species"], *lost.filter(lost["hauls"] >= SLIPS)["code"]]
    if not asked:
        return []
    return [
        f"Species in no list: {', '.join(asked)}.",
        FURTHER_LINES if "species" in season.tables else TABLE_OF_SPECIES,
        "  species,name,bottom_living",
        *(f"  {code},what you call it,yes or no" for code in asked),
    ]

"""Every table of the season folder, in the order of the template."""

from __future__ import annotations

from schemas.hauls import CATCHES, HAULS, LENGTHS
from schemas.reference import PRICES, SPECIES_TABLE, VESSELS
from schemas.review import CORRECTIONS, DAMAGE_REVIEW
from schemas.rigs import FITTINGS, LENGTH_CHECKS, RIG_PARTS, RIG_VERSIONS

TABLES = {
    table.name: table
    for table in (
        HAULS,
        CATCHES,
        RIG_VERSIONS,
        RIG_PARTS,
        FITTINGS,
        LENGTH_CHECKS,
        VESSELS,
        SPECIES_TABLE,
        PRICES,
        LENGTHS,
        DAMAGE_REVIEW,
        CORRECTIONS,
    )
}

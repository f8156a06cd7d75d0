"""An invented season from first trip to written log, as text tables and what is true of them."""

from dataclasses import dataclass

import numpy as np
import polars as pl

from synthetic_data import boat_tables, deck_log, spoiling
from synthetic_data.fleet import MOST_BOATS, invent_fleet
from synthetic_data.lengths import lengths_table, true_lengths
from synthetic_data.notes import write_notes
from synthetic_data.outcomes import add_damage, add_debris, catches_by_species
from synthetic_data.rig_tables import rig_parts_table, rig_versions_table
from synthetic_data.trips import SEASON_START, fish, plan_trips
from synthetic_data.truth import Truth, known_hauls, true_effects

FEWEST_HAULS = 60


class ImpossibleSeasonError(ValueError):
    """A season of this size cannot be invented."""


@dataclass(frozen=True)
class InventedSeason:
    """The season's tables as written, all text, and what is true of them.

    ``tables`` is by table name; ``hauls`` has the deck log's own headings. ``known_hauls``
    has what was really fitted, fished and torn on each good haul; no file holds it.
    """

    tables: dict[str, pl.DataFrame]
    truth: Truth
    known_hauls: pl.DataFrame


def invent_season(
    boats: int = 4, hauls: int = 1500, seed: int = 7, *, spoilt: bool = True
) -> InventedSeason:
    """Invent a season of any size; the same arguments give the same season."""
    _refuse_impossible(boats, hauls)
    for_fleet, for_trips, for_catch, for_damage, for_debris, for_notes, for_log, *others = (
        np.random.default_rng(seed).spawn(9)
    )
    for_spoiling, for_lengths = others
    fleet = invent_fleet(boats, hauls, for_fleet)
    trips = plan_trips(fleet, for_trips)
    fished = fish(fleet, trips, for_trips)
    fished = add_damage(fished, fleet, for_damage)
    fished = add_debris(fished, fleet, for_debris)
    fished = fished.with_columns(hauled_at=pl.col("shot_at") + pl.duration(minutes="tow_minutes"))
    notes = write_notes(fished, fleet, for_notes)
    fittings = boat_tables.fittings_table(fished, for_log)
    checks = boat_tables.length_checks_table(fished, fittings, for_log)
    catches = pl.concat(catches_by_species(fished, fleet, for_catch))
    catches = catches.sort("haul_row", "species_row")
    tables = {
        "hauls": deck_log.deck_log(fished, notes, fleet, for_log),
        "catches": deck_log.catches_text(catches, fished, fleet),
        "lengths": lengths_table(fished, catches, fleet, for_lengths),
        "rig_versions": deck_log.as_text(rig_versions_table()),
        "rig_parts": deck_log.as_text(rig_parts_table()),
        "fittings": deck_log.fittings_text(fittings, fleet),
        "length_checks": deck_log.length_checks_text(checks, fleet),
        "vessels": deck_log.as_text(boat_tables.vessels_table(fleet)),
        "prices": boat_tables.prices_table(SEASON_START.year, _last_year(fished)),
    }
    tables, spoilt_counts = _spoil(tables, for_spoiling) if spoilt else (tables, {})
    truth: Truth = {"seed": seed, "boats": boats, "hauls": hauls}
    truth |= true_effects(fleet) | true_lengths() | spoilt_counts
    return InventedSeason(tables, truth, known_hauls(fished, notes, catches, fleet))


def _spoil(
    tables: dict[str, pl.DataFrame], rng: np.random.Generator
) -> tuple[dict[str, pl.DataFrame], Truth]:
    """Spoil a few rows of the tables; return them with the counts by kind and rows added."""
    log, log_kinds, log_added = spoiling.spoil_deck_log(tables["hauls"], rng)
    catches, catch_kinds, catches_added = spoiling.spoil_catches(tables["catches"])
    fittings, fitting_kinds = spoiling.spoil_fittings(tables["fittings"])
    counts: Truth = {
        "spoilt": {**log_kinds, **catch_kinds, **fitting_kinds},
        "spoilt_rows_added": {"hauls": log_added, "catches": catches_added},
    }
    return tables | {"hauls": log, "catches": catches, "fittings": fittings}, counts


def _last_year(hauls: pl.DataFrame) -> int:
    """Return the year of the last haul."""
    return int(hauls.select(pl.col("shot_at").dt.year().max()).item())


def _refuse_impossible(boats: int, hauls: int) -> None:
    """Refuse a season that cannot be invented."""
    if not 1 <= boats <= MOST_BOATS:
        problem = f"boats must be from 1 to {MOST_BOATS}, not {boats}"
        raise ImpossibleSeasonError(problem)
    if hauls < FEWEST_HAULS:
        problem = f"hauls must be {FEWEST_HAULS} or more, not {hauls}"
        raise ImpossibleSeasonError(problem)

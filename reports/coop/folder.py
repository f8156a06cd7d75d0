"""The co-op's folder: a page, findings, tables, counts and versions, all of what may be shared.

Every file is made of the shared findings alone, but for `run.json`, of which each line is named
here. It is a folder to hand on whole.
"""

from __future__ import annotations

import re
import secrets
import unicodedata
from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.joining.database import Database
from pipeline.nearest import did_you_mean
from pipeline.problems import SeasonUnusableError, WrongUsageError
from pipeline.sharing.consent import strangers_that_agree
from pipeline.sharing.contributions import contributions, hours_recorded, rectangles
from pipeline.sharing.own_findings import own_findings
from pipeline.sharing.periods import parts_of_some_boats
from pipeline.sharing.shared_findings import shared_findings
from reports.editions import EDITIONS, OF_A_BOAT
from reports.page import draw, page_of, season_page

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from pipeline.begin_reading import ReadSeason
    from pipeline.findings import Findings
    from pipeline.run_season import SeasonResults
    from reports.pictures import Pictures

READER, FOLDER = "coop", "co-op"
LONGEST_NAME = 60
"""Letters of a boat that go into the name of its page, as folders take no longer ones."""

LETTER_BITS = 128


def coop_folder(readers: Sequence[str], boats: Sequence[str]) -> str:
    """Where the co-op's files lie in the report's folder: there, or in a folder of their own.

    Of their own as soon as anything else lies beside them, so that there is one to hand on.
    """
    return "" if set(readers) == {READER} and not boats else FOLDER


def boat_pages(boats: Sequence[str]) -> dict[str, str]:
    """The file of each boat's page, by its name in plain letters; where two are alike, numbered."""
    pages: dict[str, str] = {}
    for boat in boats:
        plain = unicodedata.normalize("NFKD", boat).encode("ascii", "ignore").decode().lower()
        slug = re.sub(r"[^a-z0-9]+", "-", plain)[:LONGEST_NAME].strip("-") or "page"
        taken = sum(page.startswith(f"boat-{slug}") for page in pages.values())
        pages[boat] = f"boat-{slug}{f'-{taken + 1}' if taken else ''}.html"
    return pages


def check_boats(asked: Sequence[str], vessels: Sequence[str]) -> None:
    """Raise `WrongUsageError` for a boat that did not fish in this season."""
    for boat in asked:
        if boat not in vessels:
            raise WrongUsageError(
                f"There is no boat {boat!r} in this season{did_you_mean(boat, vessels)}."
            )


def check_consent(read: ReadSeason) -> None:
    """Raise `SeasonUnusableError` for a boat that is said to agree and did not fish in this season.

    Its consent would else be lost without a word. A season that was left out may be why.
    """
    vessels = read.season.tables["hauls"]["vessel"].unique().to_list()
    if strangers := strangers_that_agree(read.folder.settings.sharing, vessels):
        raise SeasonUnusableError([*strangers, *read.season.left_out])


class Shared:
    """What the co-op and its boats are told of a season, with letters that are used once."""

    def __init__(self, results: SeasonResults, database: Database, pictures: Pictures) -> None:
        self._pictures = pictures
        self.findings = results.findings
        self.sharing = results.folder.settings.sharing
        self.contributions = contributions(database.get("measured_hauls"))
        hours = hours_recorded(database.get("sums"), database.get("patterns"))
        self.shared = shared_findings(
            self.findings,
            self.contributions,
            hours,
            rectangles(database.get("hauls"), self.sharing),
            self.sharing,
            secrets.randbits(LETTER_BITS),
            parts_of_some_boats(results.season.tables["hauls"], self.sharing),
        )
        self._drawn = draw(self.shared, EDITIONS[READER], pictures)

    def page(self) -> str:
        """The co-op's page."""
        return page_of(self._drawn, EDITIONS[READER])

    def page_of(self, boat: str) -> str:
        """The page of one boat, for it alone."""
        own = own_findings(self.findings, self.shared, self.contributions, boat, self.sharing)
        return season_page(own, OF_A_BOAT, self._pictures)


def save_shared_tables(shared: Findings, path: Path) -> None:
    """The shared tables as a database of their own, in which nothing else has ever been."""
    tables = {
        "cells": shared["cells"],
        "effects": shared["effects"],
        "over_boats": [
            {
                **{name: value for name, value in row.items() if name not in {"mean", "boats"}},
                **(row["mean"] or {}),
            }
            for row in shared["boats"]
        ],
        "boats": [
            {"outcome": row["outcome"], "rig": row["rig"], **boat}
            for row in shared["boats"]
            for boat in row["boats"]
        ],
    }
    with Database() as database:
        for name, rows in tables.items():
            if rows:
                database.put(name, pl.DataFrame(rows, infer_schema_length=None))
        database.save(path)


def counts_set_aside(shared: Findings) -> pl.DataFrame:
    """Table, kind of reason and rows; the rows are blank where there were fewer than ten."""
    return pl.DataFrame(
        shared["set_aside"], schema={"table": pl.String, "why": pl.String, "rows": pl.Int64}
    )


def settings_to_share(results: SeasonResults) -> dict[str, Any]:
    """The settings that name no boat, file or place."""
    settings = results.folder.settings
    return {
        "sharing": {
            "min_vessels": settings.sharing.min_vessels,
            "max_share": settings.sharing.max_share,
        },
        "model": {"errors": settings.model.errors, "many_looks": settings.model.many_looks},
    }

"""How to cite the results: Citation File Format 1.2.0 (Druskat et al., doi:10.5281/zenodo.5171937).

The format asks for authors, and the program knows none: it names the season's record as an entity,
and says that those who kept it belong there.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from reports.counts import haul_count, trip_count
from reports.language import say, say_many
from reports.season_words import period, season_title
from schemas.words import saying

if TYPE_CHECKING:
    from datetime import date

    from pipeline.findings import Findings

MESSAGE = saying(
    "If you use these results, please cite them as below. The program does not know who kept the "
    "record: put their names in place of the entity under authors."
)

OF_SEVERAL = saying("{season}: comparison of ground-gear rigs")
OF_ONE = saying("{season}: rates with one ground-gear rig")
SEVERAL_RIGS = saying(
    "Rates with {rigs} rig versions, reference {rig}, in {hauls} of {boats} on {trips}"
)
ONE_RIG = saying("Rates with {rig}, the only rig version, in {hauls} of {boats} on {trips}")


def citation(findings: Findings, released: date) -> str:
    """`CITATION.cff` of the results; text in it is quoted as JSON, which is YAML too."""
    season, software = findings["season"], findings["method"]["software"]
    words = OF_SEVERAL if len(findings["rigs"]) > 1 else OF_ONE
    title = say(words, season=season_title(season))
    record = say("{season}, season record", season=season_title(season))
    days = f", {period(season)}" if season["first_day"] else ""
    version = software["rigseason"]
    lines = [
        "cff-version: 1.2.0",
        f"message: {_quoted(say(MESSAGE))}",
        f"title: {_quoted(title)}",
        "type: dataset",
        "authors:",
        f"  - name: {_quoted(record)}",
        f"date-released: {_quoted(released.isoformat())}",
        f"abstract: {_quoted(_abstract(findings) + days + '.')}",
        "references:",
        "  - type: software",
        "    title: rigseason",
        "    authors:",
        "      - name: the rigseason authors",
        *([f"    version: {_quoted(version)}"] if version else []),
    ]
    return "\n".join(lines) + "\n"


def _abstract(findings: Findings) -> str:
    """Which rigs, in how many hauls and trips of how many boats, and how many of them were foul."""
    season, rigs = findings["season"], len(findings["rigs"])
    hauls, trips = haul_count(season["hauls"]), trip_count(season["trips"])
    boats = say_many("{number} boat", "{number} boats", len(season["vessels"]))
    said = say(
        SEVERAL_RIGS if rigs > 1 else ONE_RIG,
        rigs=rigs,
        rig=season["reference_rig"],
        hauls=hauls,
        trips=trips,
        boats=boats,
    )
    foul = season["foul_tows"]
    marked = say_many("{number:,} haul foul", "{number:,} hauls foul", foul)
    return f"{said}, {marked}" if foul else said


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)

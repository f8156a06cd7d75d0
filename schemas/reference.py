"""The tables that stand beside the records: vessels, species, prices."""

from __future__ import annotations

from schemas.column import Column, Table
from schemas.hauls import SPECIES, VESSEL

VESSELS = Table(
    name="vessels",
    one_row_is="a boat",
    key=("vessel",),
    feeds="the boat's name in a log of one boat that names none; sizes feed nothing yet, and are "
    "checked and kept in `results.duckdb`",
    columns=(
        VESSEL,
        Column(
            "length_m",
            "number",
            "length over all",
            unit="m",
            example="21",
            above=0,
            most=200,
            only_kept=True,
        ),
        Column(
            "power_kw",
            "number",
            "engine power",
            unit="kW",
            example="442",
            above=0,
            most=20_000,
            only_kept=True,
        ),
    ),
)

SPECIES_TABLE = Table(
    name="species",
    one_row_is="a species that the built-in list lacks or sees otherwise",
    key=("species",),
    feeds="names of species, and which of them live on the bottom",
    columns=(
        SPECIES,
        Column("name", "text", "what it is called in the report", example="plaice"),
        Column(
            "bottom_living",
            "yes or no",
            "whether it lives on or in the bottom, so that it can pass under a ground gear",
            example="yes",
        ),
    ),
)

PRICES = Table(
    name="prices",
    one_row_is="a price from a day on",
    key=("species", "valid_from"),
    feeds="the value of the catch",
    columns=(
        SPECIES,
        Column(
            "valid_from",
            "moment",
            "the first day of this price",
            example="2031-01-01",
            required=True,
        ),
        Column(
            "price_per_kg",
            "number",
            "price of a kilo, in the season's currency",
            example="3.2",
            least=0,
            most=100_000,
            required=True,
        ),
    ),
)

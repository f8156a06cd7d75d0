"""The tables that are kept haul by haul: hauls, catches, lengths."""

from __future__ import annotations

from schemas.column import Column, Table
from schemas.words import GROUNDS, NET_SIDES

VESSEL = Column("vessel", "text", "the boat", example="Skua", required=True)
TRIP = Column("trip", "text", "the trip the haul belongs to", example="12", required=True)
HAUL = Column(
    "haul",
    "text",
    "the haul's number in its trip; of two nets towed at once each is a haul, such as 3P and 3S",
    example="3",
    required=True,
)
SPECIES = Column(
    "species",
    "code",
    "the species, by its three-letter code in FAO's ASFIS list or the season's own code",
    example="PLE",
    required=True,
)
RIG_VERSION = Column("rig_version", "text", "the rig version that was fished", example="bobbins-14")
MENDING_HOURS = Column(
    "mending_hours",
    "number",
    "hours spent mending, by the clock",
    unit="h",
    example="2",
    least=0,
    most=1000,
)
HANDS = Column("hands", "count", "how many mended", example="2", least=1, most=100)
HOURS_LOST = Column(
    "hours_lost",
    "number",
    "fishing hours lost to the damage",
    unit="h",
    example="1.5",
    least=0,
    most=1000,
)

HAUL_KEY = (VESSEL.name, TRIP.name, HAUL.name)
"""What names a haul."""

HAULS = Table(
    name="hauls",
    one_row_is="one haul",
    key=HAUL_KEY,
    feeds="everything; the only table that a season must have",
    columns=(
        VESSEL,
        TRIP,
        HAUL,
        Column("shot_at", "moment", "when the gear was on the bottom", example="2031-03-04 05:30"),
        Column("hauled_at", "moment", "when hauling began", example="2031-03-04 09:10"),
        Column(
            "tow_hours",
            "number",
            "hours towed on the bottom; worked out from the two times where it is left blank",
            unit="h",
            example="3.67",
            above=0,
            required=True,
        ),
        RIG_VERSION,
        Column(
            "ground",
            "word",
            "the kind of ground",
            example="stones",
            words=GROUNDS,
        ),
        Column(
            "net_side",
            "word",
            "of two nets or more towed at once, where this one was",
            example="port",
            words=NET_SIDES,
        ),
        Column("depth_m", "number", "depth of water", unit="m", example="62", least=1, most=3000),
        Column(
            "latitude",
            "number",
            "where the gear was shot, north positive",
            unit="degree",
            example="57.85",
            least=-90,
            most=90,
        ),
        Column(
            "longitude",
            "number",
            "where the gear was shot, east positive",
            unit="degree",
            example="1.42",
            least=-180,
            most=180,
        ),
        Column(
            "speed_kn",
            "number",
            "towing speed over the ground",
            unit="kn",
            example="3.1",
            least=0.3,
            most=8,
            only_kept=True,
        ),
        Column(
            "sea_state",
            "count",
            "state of the sea, WMO code table 3700",
            example="4",
            least=0,
            most=9,
            only_kept=True,
        ),
        Column(
            "debris_kg",
            "number",
            "stones, mud and rubbish brought aboard",
            unit="kg",
            example="120",
            least=0,
            most=1_000_000,
        ),
        Column(
            "valid",
            "yes or no",
            "no: a foul haul or one hauled early, whose catch can't be compared",
            example="yes",
        ),
        Column("damaged", "yes or no", "whether the net was damaged", example="no"),
        Column(
            "damage_events",
            "count",
            "how often it was, where a row counts more than one",
            example="1",
            least=0,
            most=100_000,
        ),
        Column(
            "damage_note",
            "text",
            "what the skipper wrote of the net",
            example="came fast, port wing torn, 2 hrs mend",
        ),
        MENDING_HOURS,
        HANDS,
        HOURS_LOST,
        Column(
            "repair_cost",
            "number",
            "what the repair cost in all, in the season's currency; where it is blank, mending "
            "hours by hands by [costs] mending_hour",
            example="140",
            least=0,
            most=100_000_000,
        ),
    ),
)

CATCHES = Table(
    name="catches",
    one_row_is="one species in one haul",
    key=(*HAUL_KEY, "species"),
    feeds="bottom-living fish, other fish, each main species, value",
    columns=(
        VESSEL,
        TRIP,
        HAUL,
        SPECIES,
        Column("kept_kg", "number", "weight kept", unit="kg", example="84", least=0, most=200_000),
        Column(
            "discarded_kg",
            "number",
            "weight thrown back",
            unit="kg",
            example="6",
            least=0,
            most=200_000,
        ),
        Column("count", "count", "number of fish", example="112", least=0, only_kept=True),
    ),
)

LENGTHS = Table(
    name="lengths",
    one_row_is="fish of one length class in one haul",
    key=(*HAUL_KEY, "species", "where", "length_cm"),
    feeds="which sizes a rig loses, species by species",
    columns=(
        VESSEL,
        TRIP,
        HAUL,
        SPECIES,
        Column(
            "where",
            "text",
            "where the fish were found; `[model] lengths_from` says which count",
            example="codend",
            required=True,
        ),
        Column(
            "length_cm",
            "number",
            "length class, its lower end",
            unit="cm",
            example="38",
            above=0,
            most=500,
            required=True,
        ),
        Column("count", "count", "number of fish measured", example="7", least=0),
        Column(
            "share_measured",
            "number",
            "share of the fish that was measured; of a boat that never writes it, all of them",
            example="0.5",
            above=0,
            most=1,
        ),
    ),
)

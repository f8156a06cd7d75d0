"""The tables that tell of the gear: rig versions, their parts, fittings, length checks."""

from __future__ import annotations

from schemas.column import Column, Table
from schemas.hauls import VESSEL
from schemas.words import GROUND_GEARS, PART_KINDS, SECTIONS

NAMED_RIG = Column(
    "rig_version",
    "text",
    "the name of this way of rigging",
    example="bobbins-14",
    required=True,
)
SECTION = Column(
    "section", "word", "the part of the gear", example="bosom", words=SECTIONS, required=True
)

RIG_VERSIONS = Table(
    name="rig_versions",
    one_row_is="one way of rigging",
    key=("rig_version",),
    feeds="what each rig is, and what changed from one version to the next",
    columns=(
        NAMED_RIG,
        Column("rig", "text", "the rig that this is a version of", example="bobbins"),
        Column(
            "ground_gear", "word", "the kind of ground gear", example="bobbins", words=GROUND_GEARS
        ),
        Column(
            "fishing_line_m",
            "number",
            "length of the fishing line",
            unit="m",
            example="24.6",
            above=0,
            most=500,
        ),
        Column(
            "ground_gear_m",
            "number",
            "length of the ground gear",
            unit="m",
            example="24",
            above=0,
            most=500,
        ),
        Column(
            "toggle_mm",
            "number",
            "length of the toggles from the middle of the gear to the fishing line; where a "
            "traveller carries them, with its distance from the middle; 0 where there are none, "
            "and the line is made fast to the gear itself",
            unit="mm",
            example="350",
            least=0,
            most=3000,
        ),
        Column(
            "gap_mm",
            "number",
            "clear gap between the top of the gear and the fishing line, if it was measured",
            unit="mm",
            example="180",
            least=0,
            most=3000,
        ),
        Column(
            "wing_end_spread_m",
            "number",
            "distance between the wing ends while fishing, if it was measured",
            unit="m",
            example="14.8",
            above=0,
            most=500,
        ),
        Column(
            "changed_from",
            "text",
            "the version before this one, that was made into it: parts that both have are taken to "
            "be the same pieces, unless the boat went back to it; blank for a gear beside others",
            example="bobbins-14",
        ),
        Column("what_changed", "text", "what was changed", example="toggles from 350 to 250 mm"),
    ),
)

RIG_PARTS = Table(
    name="rig_parts",
    one_row_is="parts of one kind in one section",
    key=("rig_version", "section", "part", "line"),
    feeds="weights in water and the geometry of the rig",
    columns=(
        NAMED_RIG,
        SECTION,
        Column(
            "part",
            "text",
            "the kind of part; what it is, is told by the last of its words that is one of "
            f"{', '.join(PART_KINDS)}; a part of no such word is weighed by its each_kg alone",
            example="bobbin",
            required=True,
        ),
        Column(
            "line",
            "text",
            "the line it is on; what is called toggle or traveller, here or under part, is no "
            "chain to spare, and of a rig with a traveller length checks are asked for",
            example="ground gear",
        ),
        Column("material", "text", "what it is made of", example="rubber"),
        Column(
            "count",
            "count",
            "how many; of one side, for a wing or a bunt; 0 where a section has no part at all",
            example="11",
            least=0,
            most=10_000,
        ),
        Column("diameter_mm", "number", "diameter", unit="mm", example="355", above=0, most=2000),
        Column(
            "width_mm",
            "number",
            "width along the gear",
            unit="mm",
            example="180",
            above=0,
            most=5000,
        ),
        Column(
            "bore_mm", "number", "diameter of the hole", unit="mm", example="45", least=0, most=1000
        ),
        Column(
            "length_m",
            "number",
            "length, for chain, wire and rope; of one side, for a wing or a bunt",
            unit="m",
            example="8",
            above=0,
            most=1000,
        ),
        Column(
            "each_kg", "number", "mass in air of one", unit="kg", example="9.5", above=0, most=5000
        ),
        Column(
            "weight_kept_in_water",
            "number",
            "share of its weight that it keeps in sea water, if it was measured",
            example="0.2",
            least=-1,
            most=1,
        ),
    ),
)

FITTINGS = Table(
    name="fittings",
    one_row_is="a boat starts to fish a rig version",
    key=("vessel", "fitted_from"),
    feeds="the rig version of hauls that do not name theirs",
    columns=(
        VESSEL,
        Column(
            "fitted_from",
            "moment",
            "fished from this time on",
            example="2031-03-01 00:00",
            required=True,
        ),
        NAMED_RIG,
        Column(
            "fitted_to",
            "moment",
            "until this time; left blank, until the next fitting",
            example="2031-06-12 00:00",
        ),
    ),
)

LENGTH_CHECKS = Table(
    name="length_checks",
    one_row_is="ground chain and traveller pulled tight and measured",
    key=("vessel", "rig_version", "checked_on", "section"),
    feeds="how far the ground chain has stretched",
    columns=(
        VESSEL,
        Column(
            "checked_on", "moment", "when they were measured", example="2031-04-18", required=True
        ),
        SECTION,
        NAMED_RIG,
        Column(
            "ground_chain_m",
            "number",
            "length of the ground chain; of one side, for a wing or a bunt",
            unit="m",
            example="20.1",
            above=0,
            most=500,
        ),
        Column(
            "traveller_m",
            "number",
            "length of the traveller; of one side, for a wing or a bunt",
            unit="m",
            example="20.0",
            above=0,
            most=500,
        ),
        Column(
            "evened", "yes or no", "whether they were made length for length again", example="yes"
        ),
    ),
)

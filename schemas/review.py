"""The tables by which a person has the last word: damage review and corrections."""

from __future__ import annotations

from schemas.column import Column, Table
from schemas.hauls import HANDS, HAUL, HAUL_KEY, HOURS_LOST, MENDING_HOURS, TRIP, VESSEL
from schemas.words import CAUSES, DAMAGED, NET_PARTS, SIDES

DAMAGE_REVIEW = Table(
    name="damage_review",
    one_row_is="a person's reading of a note",
    key=HAUL_KEY,
    feeds="what a note says, where the program read it wrongly or not at all",
    columns=(
        VESSEL,
        TRIP,
        HAUL,
        Column(
            "damage_note",
            "text",
            "the note that was read, by which it is seen that the log has another one now; in a "
            "log without haul numbers it says which haul the row is of",
            example="port wing torn",
        ),
        Column("damaged", "word", "whether the net was damaged", example="yes", words=DAMAGED),
        Column(
            "parts",
            "words",
            "the parts of the net, joined by ;",
            example="wing;belly",
            words=NET_PARTS,
        ),
        Column("side", "word", "the side of the damage", example="port", words=SIDES),
        Column("cause", "words", "the causes, joined by ;", example="fast", words=CAUSES),
        MENDING_HOURS,
        HANDS,
        HOURS_LOST,
        Column(
            "who", "text", "who read the note; a row without a name is not counted", example="Ada"
        ),
        Column("reviewed_on", "text", "when, as that person writes a day", example="2031-03-09"),
        Column(
            "as_read",
            "text",
            "what the program read, by which it tells what was changed",
            example="yes/wing//fast///",
        ),
    ),
)

CORRECTIONS = Table(
    name="corrections",
    one_row_is="one cell put right",
    key=("table", "key", "column"),
    feeds="cells that were written down wrongly, put right with a name and a reason",
    columns=(
        Column("table", "text", "the table", example="hauls", required=True),
        Column(
            "key",
            "text",
            "the row's key, its parts joined by /",
            example="Skua/12/3",
            required=True,
        ),
        Column("column", "text", "the column", example="tow_hours", required=True),
        Column("old", "text", "what the cell says", example="33"),
        Column("new", "text", "what it should say", example="3.3"),
        Column("who", "text", "who put it right", example="Ada", required=True),
        Column("why", "text", "why", example="slip of the pen", required=True),
    ),
)

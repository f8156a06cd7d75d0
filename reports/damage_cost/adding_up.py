"""How mending adds up over a rig's fishing hours: the figure's words and its table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import count_of
from reports.damage_cost.amounts import figure
from reports.language import say, say_many
from reports.parts import Figure, table_of
from reports.sentences import listed
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

NAME = "mending-adds-up"
ROWS_APART = 10
"""The table has a row every so many of the spans of which the steps keep the last."""

CAPTION = saying(
    "Mean hours of mending on a boat's set of a rig, by the hours that it was fished, as recorded "
    "on whatever ground; shaded, the 95 % interval, cut off where it is wider, and none "
    "before three trips had mended: a bare line is not a sure one. Below: full, chain and "
    "traveller measured; hollow, made length for length; upright, changed to a new version. A "
    "line at nought is a rig not mended so far, not one that needs none."
)


def adding_up(findings: Findings) -> Figure | None:
    """The chart of how mending adds up, a strip a rig; None where nothing was mended."""
    rigs = told(findings)
    if not any(rig["steps"] for rig in rigs):
        return None
    return Figure(
        name=NAME,
        kind="adding-up",
        outcome="mending_hours",
        title=_title(rigs),
        caption=" ".join([say(CAPTION), *_left_out(findings)]),
        table=table_of(
            say("Mean hours of mending by hours fished"),
            [row for rig in rigs for row in _rows(rig)],
            [
                (say("rig"), lambda row: row["rig"]["rig"]),
                (say("hours fished"), count_of("hours")),
                (say("boats that far"), lambda row: f"{boats_at(row['rig'], row['hours'])}"),
                (say("hours mended"), lambda row: figure(row["mean"])),
                (say("from"), lambda row: figure(row["low"])),
                (say("to"), lambda row: figure(row["high"])),
                (say("checks (evened)"), lambda row: _moments(row["rig"], row["hours"])),
            ],
        ),
    )


def told(findings: Findings) -> list[Row]:
    """The rigs of which it is known how mending adds up."""
    return [rig for rig in findings["cumulative_mending"] if rig["told"]]


def at_hours(rig: Row) -> list[float]:
    """The hours at which the figure is told in numbers: at even steps, and at the end."""
    apart = rig["every_hours"] * ROWS_APART
    many = int(rig["hours"] / apart)
    even = [apart * (rank + 1) for rank in range(many)]
    return even if even and even[-1] == rig["hours"] else [*even, rig["hours"]]


def step_at(rig: Row, hours: float) -> Row:
    """The mean and its limits after so many hours fished."""
    before = [step for step in rig["steps"] if step["hours"] <= hours]
    return before[-1] if before else {"mean": 0.0, "low": None, "high": None}


def boats_at(rig: Row, hours: float) -> int:
    """How many boats fished it for so long."""
    return sum(life["hours"] >= hours for life in rig["lives"])


def _title(rigs: list[Row]) -> str:
    if len(rigs) == 1:
        return say("How mending adds up on {rig}", rig=rigs[0]["rig"])
    return say("How mending adds up")


def _rows(rig: Row) -> list[Row]:
    """The mean and its limits at even hours and at the end."""
    return [{**step_at(rig, hours), "rig": rig, "hours": hours} for hours in at_hours(rig)]


def _moments(rig: Row, hours: float) -> str:
    kinds = [moment["kind"] for moment in rig["moments"] if moment["hours"] <= hours]
    evened = kinds.count("evened")
    checks = f"{kinds.count('checked') + evened}" + (f" ({evened})" if evened else "")
    return say("{checks}, changed", checks=checks) if "changed" in kinds else checks


def _left_out(findings: Findings) -> list[str]:
    """The rigs not shown, tears that took the mean of the others, hours that nobody tells of."""
    shown = {rig["rig"] for rig in told(findings)}
    missing = [rig["rig_version"] for rig in findings["rigs"] if rig["rig_version"] not in shown]
    stood_in = sum(rig["without_hours"] for rig in told(findings))
    said = []
    if missing:
        said.append(
            say("Not shown, as nobody wrote enough of its mending: {rigs}.", rigs=listed(missing))
        )
    if stood_in:
        said.append(
            say_many(
                "{number} tear without mending hours took the mean of that rig's others.",
                "{number:,} tears without mending hours took the mean of that rig's others.",
                stood_in,
            )
        )
    gaps = [
        say("{unwatched_hours:,.0f} of {hours:,.0f} hours with {rig}", **rig)
        for rig in told(findings)
        if round(rig["unwatched_hours"])
    ]
    if gaps:
        said.append(
            say(
                "Nobody tells of {gaps}: there the line goes on at its mean pace.",
                gaps=listed(gaps),
            )
        )
    return said

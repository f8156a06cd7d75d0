"""The tables of money: a column is a header and what it says of a row."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.money.sentences import SAID_IN_FULL
from reports.parts import Row, Table
from reports.sentences import WHOLE_RECORD, where

if TYPE_CHECKING:
    from collections.abc import Callable

    Columns = dict[str, Callable[[Row], str]]

UNKNOWN = "–"


def left_over(told: list[Row], reference: str, currency: str) -> Table:
    """What an hour brought, cost and left with each rig and, over the same fishing, the reference.

    Two lines a rig, as the fishing that both rigs met differs from rig to rig.
    """
    rows = []
    for row in told:
        share = row["mix_hours"] / row["reference_hours"]
        rows += [
            [_rig(row), *_of_one(row["of_rig"]), f"{share:.0%}".replace("%", " %")],
            [f"{reference} beside it", *_of_one(row["of_reference"]), ""],
        ]
    headers = ["rig", "catch", "damage", "left over", f"of {reference}'s hours"]
    caption = f"What an hour brought, cost and left{_in(currency)}, where both rigs were fished"
    return Table(caption, headers, rows)


def _of_one(of_one: Row) -> list[str]:
    return [f"{of_one[name]['estimate']:z,.0f}" for name in ("value", "cost", "net")]


def in_full(told: list[Row], reference: str, currency: str) -> Table:
    """Every figure of each rig over all grounds."""
    columns: Columns = {
        "rig": _rig,
        "net change": _change("net_change", _signed),
        "verdict": lambda row: str(row["verdict"]),
        "catch may change by": _bound,
        "catch changed by": _change("catch_change", _signed_percent),
        "damage saved": _change("saved", _signed),
        "net change over those hours": _change("over_season", _signed),
        **_counted(reference),
    }
    return _table(f"Each rig against {reference}, per hour towed{_in(currency)}", told, columns)


def by_ground(told: list[Row], reference: str, currency: str) -> Table:
    """The net change on each ground."""
    columns: Columns = {
        "rig and ground": lambda row: f"{_rig(row)}{where(row['ground'])}",
        "net change": _change("net_change", _signed),
        "verdict": lambda row: str(row["verdict"]),
        **_counted(reference),
    }
    caption = f"Ground by ground: each rig against {reference}, per hour towed{_in(currency)}"
    return _table(caption, told, columns)


def value_alone(told: list[Row], reference: str, currency: str) -> Table:
    """What was caught, where it is not known what damage costs."""
    columns: Columns = {
        "rig": _rig,
        "change": _change("catch_change", _signed_percent),
        f"catch / {reference}'s": lambda row: _of_both(row, "value"),
        **_counted(reference),
    }
    return _table(f"Catch value per hour towed{_in(currency)}", told, columns)


def cost_alone(told: list[Row], reference: str, currency: str) -> Table:
    """What damage costs, where it is not known what the catch is worth."""
    columns: Columns = {
        "rig": _rig,
        "saved": _change("saved", _signed),
        f"damage / {reference}'s": lambda row: _of_both(row, "cost"),
        **_counted(reference),
    }
    return _table(f"What damage costs per hour towed{_in(currency)}", told, columns)


def _table(caption: str, told: list[Row], columns: Columns) -> Table:
    return Table(caption, list(columns), [[say(row) for say in columns.values()] for row in told])


def _in(currency: str) -> str:
    return f", in {currency}" if currency else ""


def _counted(reference: str) -> Columns:
    """How many hauls and trips of either."""
    return {
        f"hauls / {reference}'s": lambda row: f"{row['rig_hauls']:,} / {row['reference_hauls']:,}",
        "trips": lambda row: f"{row['rig_trips']:,} / {row['reference_trips']:,}",
    }


def _change(name: str, say: Callable[[float], str]) -> Callable[[Row], str]:
    """A change and its interval in one cell: +46 (+5 to +115)."""

    def cell(row: Row) -> str:
        change = row[name]
        if change is None:
            return UNKNOWN
        if change["low"] is None:
            return f"{say(change['estimate'])}, no interval"
        return f"{say(change['estimate'])} ({say(change['low'])} to {say(change['high'])})"

    return cell


def _rig(row: Row) -> str:
    return str(row["rig"]) if row["part"] == WHOLE_RECORD else f"{row['rig']}, {row['part']}"


def _of_both(row: Row, name: str) -> str:
    return " / ".join(
        f"{row[whose][name]['estimate']:z,.0f}" for whose in ("of_rig", "of_reference")
    )


def _bound(row: Row) -> str:
    """The change of the catch at which nothing is gained or lost."""
    share = row["break_even"]
    return UNKNOWN if share is None else _signed_percent(-float(share["estimate"]))


def _signed(amount: float) -> str:
    return f"{amount:+z,.0f}" if abs(amount) >= SAID_IN_FULL else f"{amount:+z,.1f}"


def _signed_percent(share: float) -> str:
    return f"{share * 100:+z,.0f} %"

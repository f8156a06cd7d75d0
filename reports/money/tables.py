"""The tables of money: a column is a header and what it says of a row."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import from_to, of_either
from reports.language import number, say
from reports.money.rounding import adding_up, decimals_of, decimals_of_limit
from reports.money.sentences import verdict_word
from reports.parts import Table, table_of
from reports.sentences import where
from schemas.words import WHOLE_RECORD

if TYPE_CHECKING:
    from collections.abc import Callable

    from reports.parts import Column, Row

UNKNOWN = "–"


def left_over(told: list[Row], reference: str, currency: str) -> Table:
    """What an hour brought, cost and left with each rig and, over the same fishing, the reference.

    Two lines a rig, as the fishing that both rigs met differs from rig to rig.
    """
    rows = []
    for row in told:
        share = row["mix_hours"] / row["reference_hours"]
        rows += [
            [_rig(row), *_of_one(row["of_rig"]), f"{number(share * 100, '.0f')} %"],
            [say("{reference} beside it", reference=reference), *_of_one(row["of_reference"]), ""],
        ]
    headers = [
        say("rig"),
        say("catch"),
        say("damage"),
        say("left over"),
        say("of {reference}'s hours", reference=reference),
    ]
    caption = say(
        "What an hour brought, cost and left{in_currency}, where both rigs were fished",
        in_currency=_in(currency),
    )
    return Table(caption, headers, rows)


def _of_one(of_one: Row) -> list[str]:
    """What an hour brought, cost and left, so that they add up."""
    brought, cost, left = (of_one[name]["estimate"] for name in ("value", "cost", "net"))
    return [number(each, "z,.0f") for each in adding_up(brought, cost, left, 0)]


def in_full(told: list[Row], reference: str, currency: str) -> Table:
    """Every figure of each rig over all grounds."""
    over_its_hours = say("net change over {reference}'s hours beside it", reference=reference)
    caption = say("Each rig against {reference}, per hour towed", reference=reference)
    return table_of(
        f"{caption}{_in(currency)}",
        told,
        [
            (say("rig"), _rig),
            (say("net change"), _change("net_change", _signed)),
            (say("verdict"), verdict_word),
            (say("catch may change by"), _bound),
            (say("catch changed by"), _change("catch_change", _signed_percent)),
            (say("damage saved"), _change("saved", _signed)),
            (over_its_hours, _change("over_season", _signed)),
            *_counted(reference),
        ],
    )


def by_ground(told: list[Row], reference: str, currency: str) -> Table:
    """The net change on each ground."""
    caption = say(
        "Ground by ground: each rig against {reference}, per hour towed", reference=reference
    )
    return table_of(
        f"{caption}{_in(currency)}",
        told,
        [
            (say("rig and ground"), lambda row: f"{_rig(row)}{where(row['ground'])}"),
            (say("net change"), _change("net_change", _signed)),
            (say("verdict"), verdict_word),
            *_counted(reference),
        ],
    )


def value_alone(told: list[Row], reference: str, currency: str) -> Table:
    """What was caught, where it is not known what damage costs."""
    return table_of(
        f"{say('Catch value per hour towed')}{_in(currency)}",
        told,
        [
            (say("rig"), _rig),
            (say("change"), _change("catch_change", _signed_percent)),
            (say("catch / {reference}'s", reference=reference), _of_both("value")),
            *_counted(reference),
        ],
    )


def cost_alone(told: list[Row], reference: str, currency: str) -> Table:
    """What damage costs, where it is not known what the catch is worth."""
    return table_of(
        f"{say('What damage costs per hour towed')}{_in(currency)}",
        told,
        [
            (say("rig"), _rig),
            (say("saved"), _change("saved", _signed)),
            (say("damage / {reference}'s", reference=reference), _of_both("cost")),
            *_counted(reference),
        ],
    )


def _in(currency: str) -> str:
    return say(", in {currency}", currency=currency) if currency else ""


def _counted(reference: str) -> list[Column]:
    """How many hauls and trips of either."""
    return [
        (say("hauls / {reference}'s", reference=reference), of_either("hauls")),
        (say("trips"), of_either("trips")),
    ]


def _change(name: str, figure: Callable[[float, int], str]) -> Callable[[Row], str]:
    """A change and its interval in one cell, whole where it is wide: +46 (+5 to +115)."""

    def cell(row: Row) -> str:
        change = row[name]
        if change is None:
            return UNKNOWN
        decimals = decimals_of(change)
        estimate = figure(change["estimate"], decimals)
        if change["low"] is None:
            return say("{figure}, no interval", figure=estimate)
        ends = (change["low"], change["high"])
        limits = from_to(*(figure(end, decimals_of_limit(end, decimals)) for end in ends))
        return f"{estimate} ({limits})"

    return cell


def _rig(row: Row) -> str:
    return str(row["rig"]) if row["part"] == WHOLE_RECORD else f"{row['rig']}, {row['part']}"


def _of_both(name: str) -> Callable[[Row], str]:
    """A cell with what an hour of the rig brought or cost, and one of the reference."""
    both = ("of_rig", "of_reference")
    return lambda row: " / ".join(number(row[of][name]["estimate"], "z,.0f") for of in both)


def _bound(row: Row) -> str:
    """The change of the catch at which nothing is gained or lost."""
    share = row["break_even"]
    return UNKNOWN if share is None else _signed_percent(-float(share["estimate"]))


def _signed(amount: float, decimals: int) -> str:
    """A sum of money with its sign, where it is told as more than nought."""
    told = number(amount, f"+z,.{decimals}f")
    return told if told.strip("+0.,") else number(0.0, f".{decimals}f")


def _signed_percent(share: float, _decimals: int = 0) -> str:
    return f"{number(share * 100, '+z,.0f')} %"

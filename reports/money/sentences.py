"""What a change of rig would pay, in words: what it may lose, what it did, how sure that is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.sentences import WHOLE_RECORD, WHY_UNTOLD, listed, where

if TYPE_CHECKING:
    from reports.parts import Row

Figure = dict[str, float | None]

NO_INTERVAL = "no interval can be given"
TO_EARN_BACK = 1000
SAID_IN_FULL = 10
"""A sum of money below this is said with a decimal."""


def money(amount: float, currency: str) -> str:
    """A sum of money without its sign: 1,240 EUR, 4.6 EUR."""
    return f"{_size(amount)} {currency}".strip()


def _size(amount: float) -> str:
    size = abs(amount)
    return f"{size:,.0f}" if size >= SAID_IN_FULL else f"{size:.1f}"


def ahead(change: Figure, currency: str) -> str:
    """How far ahead: 18 EUR ahead (between 4.7 and 31 ahead)."""
    estimate, low, high = (change[name] for name in ("estimate", "low", "high"))
    said = f"{money(estimate or 0.0, currency)} {_side(estimate or 0.0)}"
    if low is None or high is None:
        return f"{said} ({NO_INTERVAL})"
    if low < 0 < high:
        return f"{said} (between {_size(low)} behind and {_size(high)} ahead)"
    near, far = sorted((low, high), key=abs)
    return f"{said} (between {_size(near)} and {_size(far)} {_side(far)})"


def _side(amount: float) -> str:
    return "behind" if amount < 0 else "ahead"


def percent_of(share: float) -> int:
    """A share in percent without its sign."""
    return round(abs(share) * 100)


def is_told(row: Row) -> bool:
    """Whether there is a net change to tell."""
    return row["net_change"] is not None


def is_clear(row: Row) -> bool:
    """Whether the rig pays or costs, past doubt."""
    return row["verdict"] in {"pays", "costs"}


def may_lose(row: Row) -> str:
    """How much the catch may fall, or must rise, for the rig to come out even."""
    share = row["break_even"]
    if share is None:
        return f"{row['reference']} caught nothing of worth, so there is no share of it to lose."
    said = pays_unless(row)
    return f"{said[:1].upper()}{said[1:]} ({_may_lose(share)})."


def pays_unless(row: Row) -> str:
    """The same in few words, without the interval; it reads on from a sentence."""
    share = row["break_even"]
    if share is None:
        return f"{row['reference']} caught nothing of worth"
    percent = percent_of(share["estimate"])
    if percent == 0:
        return "it pays if its catch is worth more"
    if share["estimate"] > 0:
        return f"it pays unless it loses more than {percent:,} % of the catch's value"
    return f"it pays only if its catch is worth {percent:,} % more"


def _may_lose(share: Figure) -> str:
    """The interval of the share that may be lost; where it has both signs, each is said."""
    low, high = share["low"], share["high"]
    if low is None or high is None:
        return NO_INTERVAL
    if low < 0 < high:
        return (
            f"anything from losing {percent_of(high):,} % to having to gain {percent_of(low):,} %"
        )
    ends = sorted((percent_of(low), percent_of(high)))
    return f"between {ends[0]:,} and {ends[1]:,} %"


def what_it_did(row: Row, currency: str) -> str:
    """What an hour with the rig brought and cost beside one with the reference, and the sum."""
    of_rig, of_reference = row["of_rig"], row["of_reference"]
    caught, torn = (
        _less_or_more(of_rig[name]["estimate"] - of_reference[name]["estimate"], currency)
        for name in ("value", "cost")
    )
    return (
        f"{_in_part(row)} hour with {row['rig']} brought {caught} fish and {torn} damage than with "
        f"{row['reference']}: {ahead(row['net_change'], currency)}."
    )


def _less_or_more(change: float, currency: str) -> str:
    if _size(change) == _size(0.0):
        return "neither more nor less"
    return f"{money(change, currency)} {'less' if change < 0 else 'more'}"


def _in_part(row: Row) -> str:
    return "An" if row["part"] == WHOLE_RECORD else f"In {row['part']} an"


def of_rig(row: Row, currency: str) -> str:
    """All that is said of one rig over all grounds: what it did, the bound, how far to trust it.

    The row has a net change.
    """
    told = [what_it_did(row, currency), verdict_words(row), may_lose(row)]
    if row["verdict"] == "pays":
        told.append(earned_back(row, currency))
    return " ".join([*told, *(DOUBTS[name] for name in row["cautions"] if name in DOUBTS)])


def verdict_words(row: Row) -> str:
    """What the interval of the net change says."""
    if not is_clear(row):
        return "Whether it pays can't be told."
    side = "ahead of" if row["verdict"] == "pays" else "behind"
    return f"It came out {side} {row['reference']}."


def stood_for(rows: list[Row]) -> str:
    """The rigs of which other rigs' tears speak, in one sentence; nothing where there is none."""
    rigs = sorted({rig for row in rows for rig in row["by_all_rigs"]})
    if not rigs:
        return ""
    return (
        f"Of {listed(rigs)} fewer than five tears have all of their cost written: what a tear of "
        "any rig cost on average stands for it."
    )


def is_thin(row: Row) -> bool:
    """Whether nothing is told of a rig, and its record is too thin to expect it."""
    return not is_clear(row) and any(name in DOUBTS for name in row["cautions"])


def of_thin(rows: list[Row]) -> str:
    """The rigs whose record is too thin, in one sentence; nothing where there is none."""
    if not rows:
        return ""
    return (
        f"Whether {listed([row['rig'] for row in rows])} would pay can't be told: fewer than ten "
        "trips, or hauls side by side, of one of the two, or fewer than five hauls with damage. "
        "What they came to is in the chart and its table."
    )


def on_grounds(rows: list[Row], currency: str) -> str:
    """The grounds on which a rig clearly pays or costs; nothing where there is none."""
    clear = [row for row in rows if is_clear(row)]
    if not clear:
        return ""
    said = "; ".join(
        f"{where(row['ground']).strip()} an hour with {row['rig']} was "
        f"{ahead(row['net_change'], currency)}"
        for row in clear
    )
    return (
        f"{said[:1].upper()}{said[1:]}. Of {len(rows):,} such comparisons by ground one may stand "
        "out by luck alone."
    )


def is_wide(row: Row) -> bool:
    """Whether the net change is no better known than within what is caught in an hour."""
    low, high = row["net_change"]["low"], row["net_change"]["high"]
    return low is None or high - low >= row["of_reference"]["value"]["estimate"]


def too_few_on_grounds(rows: list[Row]) -> str:
    """The rigs and grounds of which nothing is told; nothing where there is none."""
    rigs_on: dict[str, list[str]] = {}
    for row in filter(is_wide, rows):
        rigs_on.setdefault(row["ground"], []).append(row["rig"])
    said = [f"{where(ground).strip()} ({listed(rigs)})" for ground, rigs in rigs_on.items()]
    return f"Too few to tell {listed(said)}." if said else ""


DOUBTS = {
    "few trips": "Fewer than ten trips of one of them: take it with care.",
    "few hauls": "Fewer than ten hauls of one of them were side by side.",
    "seen in few hauls": "Fewer than five hauls of one of them had damage, which settles nothing.",
    "none seen": "One of them had no damage at all: its cost is put at nought, and may be more.",
}


def earned_back(row: Row, currency: str) -> str:
    """Over how many hours a thousand is earned back, for a rig that pays."""
    low, high = row["net_change"]["low"], row["net_change"]["high"]
    price = f"{TO_EARN_BACK:,} {currency}".strip()
    return (
        f"At that, each {price} of what it costs to change over is earned back in about "
        f"{row['hours_to_earn_back']:,.0f} hours towed (between {TO_EARN_BACK / high:,.0f} and "
        f"{TO_EARN_BACK / low:,.0f})."
    )


def why_not(row: Row) -> str:
    """Why there is no figure for two rigs, in a few words."""
    return next((WHY_UNTOLD[name] for name in row["cautions"] if name in WHY_UNTOLD), "not known")


def without_a_figure(rows: list[Row]) -> list[str]:
    """The rigs of which nothing can be told, a sentence a reason."""
    by_reason: dict[str, list[str]] = {}
    for row in rows:
        by_reason.setdefault(why_not(row), []).append(row["rig"])
    return [f"No figure for {listed(rigs)}: {why}." for why, rigs in by_reason.items()]


def claim(row: Row, currency: str) -> str:
    """The finding of one rig, as the title of a chart or a line of the first screen."""
    verb = "came out ahead of" if row["verdict"] == "pays" else "fell behind"
    place = where(row["ground"])
    amount = money(row["net_change"]["estimate"], currency)
    return f"{row['rig']} {verb} {row['reference']}{place} by {amount} an hour"

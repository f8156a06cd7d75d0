"""What is said of boats: their mean, a further boat, whether they agree, and who is not in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.ratio_words import amount, span
from reports.sentences import WHOLE_RECORD, is_clear_verdict, listed, said_of

if TYPE_CHECKING:
    from reports.parts import Row

MORE_THAN_CHANCE = 0.05
"""As much difference as boats without any show in fewer than one season of twenty."""

MANY_BOATS = 10
"""Fewer can differ a good deal and chance be as good a reason. Own judgement; no source."""

WIDEST_TOLD = 100.0
"""Limits that are so many times apart are no figure to look for. Own judgement; no source."""

LEAST_TOLD, MOST_TOLD = 0.01, 1000.0

MOST_NAMED = 4
"""So many boats are named for one reason; the table names them all."""

WHY_NONE = {
    "not recorded": "nothing recorded",
    "neither fished": "fished neither",
    "rig not fished": "did not fish {rig}",
    "reference not fished": "did not fish {reference}",
    "not side by side": "the two hardly side by side",
    "none with the rig": "none at all with {rig}",
    "none with the reference": "none at all with {reference}",
    "none seen": "none recorded with one of them",
    "seen with one of them only where both were fished": "none with one of them where the two met",
    "seen in few hauls": "fewer than five hauls with any",
    "too few trips to adjust": "too few trips to compare like for like",
    "bound up with the conditions": "can't be told from the ground or the time",
}


def with_a_ratio(row: Row) -> list[Row]:
    """The boats whose own ratio could go into a mean."""
    return [boat for boat in row["boats"] if boat["log_ratio"] is not None]


def claim(row: Row, outcome: Row) -> str:
    """What the mean over boats says, and how sure."""
    mean = row["mean"]
    said = said_of({**row, "ratio": mean["ratio"]}, outcome)
    many = len(with_a_ratio(row))
    doubt = "" if is_clear_verdict(mean["verdict"]) else f": {mean['verdict']}"
    limits = (
        f"{_reach(mean)} times, which settles nothing"
        if mean["high"] > WIDEST_TOLD * mean["low"]
        else span(mean["low"], mean["high"], outcome)
    )
    return f"Over {many} boats {said} ({limits}){doubt}"


def of_mean(row: Row, outcome: Row) -> str:
    """The mean over boats, a further boat, whether they agree, which boat moves it, who is out."""
    return " ".join(
        filter(
            None,
            [
                f"{claim(row, outcome)}.",
                _further(row["mean"], outcome),
                _agree(row),
                _moved(row["mean"], outcome),
                _left_out(row),
            ],
        )
    )


def _further(mean: Row, outcome: Row) -> str:
    low, high = mean["further_low"], mean["further_high"]
    if not mean["spread"]:
        return "A further boat should see the same, as far as these can tell."
    if high > WIDEST_TOLD * low:
        return "How a further boat would do can't be told from so few."
    return f"On a further boat it might be {span(low, high, outcome)}."


def _agree(row: Row) -> str:
    """Whether the boats differ more than chance would have it."""
    mean, many = row["mean"], len(with_a_ratio(row))
    if mean["chance_of_as_much"] < MORE_THAN_CHANCE:
        return (
            "The boats differ more than chance would have it: about "
            f"{mean['share_beyond_chance'] * 100:.0f} % of how they differ is their own."
        )
    if many < MANY_BOATS:
        return "The boats differ no more than chance might have it, though so few could hide a lot."
    return "The boats differ no more than chance might have it."


def _moved(mean: Row, outcome: Row) -> str:
    ends = amount(mean["without_low"], outcome), amount(mean["without_high"], outcome)
    if ends[0] == ends[1]:
        return f"With any one boat left out it is {ends[0]}."
    told = span(mean["without_low"], mean["without_high"], outcome)
    return f"With one boat left out it is {told}; {mean['moved_most_by']} moves it most."


def _left_out(row: Row) -> str:
    """Who gives no ratio to the mean, and which way that draws it."""
    by_reason: dict[str, list[str]] = {}
    for boat in row["boats"]:
        if boat["log_ratio"] is None:
            by_reason.setdefault(why_none(boat, row), []).append(boat["vessel"])
    named = [
        f"{listed(boats) if len(boats) <= MOST_NAMED else f'{len(boats)} boats'} ({why})"
        for why, boats in by_reason.items()
    ]
    if not named:
        return ""
    reasons = {boat["why_none"] for boat in row["boats"]}
    leans = {
        "none with the rig": "lower",
        "none with the reference": "higher",
    }
    ways = [way for reason, way in leans.items() if reason in reasons]
    lean = f" With those that had none, it would be {ways[0]}." if len(ways) == 1 else ""
    return f"Not in it: {'; '.join(named)}.{lean}"


def why_none(boat: Row, row: Row) -> str:
    """Why the boat gives no ratio, in a few words; nothing where it gives one."""
    if boat["why_none"] is None:
        return ""
    words = WHY_NONE[boat["why_none"]]
    return words.format(rig=row["rig"], reference=row["reference"])


def of_two(rows: list[Row], outcome: Row) -> str:
    """The two boats' own ratios of each rig, as two are too few for a mean."""
    if not rows:
        return ""
    told = "; ".join(
        f"with {row['rig']} {listed([_own(boat) for boat in with_a_ratio(row)])}" for row in rows
    )
    return (
        f"{outcome['title']} on the only two boats that can be held to themselves, too few for a "
        f"mean over boats, as times {rows[0]['reference']}'s: {told}."
    )


def _own(boat: Row) -> str:
    part = "" if boat["part"] == WHOLE_RECORD else f", in {boat['part']}"
    return f"{boat['vessel']} {times(boat['ratio'])} ({_reach(boat)}{part})"


def _reach(told: Row) -> str:
    return f"{times(told['low'])} to {times(told['high'])}"


def times(ratio: float | None) -> str:
    """A ratio to two decimals; of those that nobody would look for, only that they are."""
    if ratio is None:
        return "–"
    if 0 < ratio < LEAST_TOLD:
        return "under 0.01"
    return f"over {MOST_TOLD:,.0f}" if ratio > MOST_TOLD else f"{ratio:.2f}"


def of_one_or_none(rows: list[Row], reference: str) -> list[str]:
    """The rigs that one boat alone can tell of, and those that none can, in any of the outcomes."""
    boats: dict[str, set[str]] = {}
    for row in rows:
        boats.setdefault(row["rig"], set()).update(b["vessel"] for b in with_a_ratio(row))
    alone = [f"{rig} ({next(iter(told))})" for rig, told in boats.items() if len(told) == 1]
    without = [rig for rig, told in boats.items() if not told]
    said = []
    if alone:
        said.append(
            f"Fished enough beside {reference} on one boat alone: {listed(alone)}. Whether "
            "another boat would see the same, the record can't tell."
        )
    if without:
        said.append(
            f"On no boat enough beside {reference} to hold the boat to itself: {listed(without)}. "
            "Fishing both in turn, on one boat and one ground, would settle it."
        )
    return said

"""What is said of changes of rig: what came with each, what followed, and what quiet days show."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.boats.sentences import times
from reports.ratio_words import amount, span
from reports.sentences import listed, where

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

WIDEST_TOLD = 100.0
"""Limits that are so many times apart settle nothing. Own judgement; no source."""

WHY_NONE = {
    "not both fished there": "nothing recorded on one side",
    "not side by side": "hardly any of it on the same ground",
    "too few trips to adjust": "too few days",
    "bound up with the conditions": "can't be told from the ground",
    "seen in few hauls": "fewer than five hauls with any on one side",
    "none seen": "none recorded on either side",
    "fewer than two days with a ratio": "fewer than two of them have a ratio",
}
FEW_DAYS = 5
"""Of fewer days without a change the first screen gives no range. Own judgement; no source."""

KIND = {True: "between trips", False: "during a trip"}


def counted(changes: Row) -> str:
    """How many changes of rig there were, how many lasted, and with how many something came."""
    lasted, of_all, many = changes["lasted"], changes["of_all"], len(changes["changes"])
    with_more = with_something_else(changes)
    said = (
        f"Of {of_all:,} change{'s' * (of_all != 1)} of rig on a boat {lasted:,} lasted, with "
        "fifteen hauls or more of one rig before it and of the other after."
    )
    if many < lasted:
        said += f" {many} of them, spread evenly over all, are looked about here."
    if not with_more:
        return f"{said} None came with a change of ground, tow length, depth or season."
    which = "It" if many == 1 else f"{'All' if with_more == many else with_more} of them"
    return (
        f"{said} {which} came with a change of ground, tow length, depth or season as well, and "
        "what followed can't be laid to the rig alone."
    )


def with_something_else(changes: Row) -> int:
    """How many of the changes that lasted came with a change of something else."""
    return sum(bool(change["came_with"]) for change in changes["changes"])


def on_first_screen(findings: Findings) -> list[str]:
    """Changes and days without one in one sentence, or none where there is nothing to tell."""
    changes, first = findings["changes"], findings["season"]["headlines"][0]
    told = [
        placebo
        for placebo in changes["placebos"]
        if placebo["outcome"] == first
        and placebo["lowest"] is not None
        and placebo["days"] >= FEW_DAYS
    ]
    if not told:
        return []
    most = max(told, key=lambda placebo: int(placebo["days"]))
    title = next(o["title"] for o in findings["outcomes"] if o["name"] == first).lower()
    return [
        f"Before and after: of {len(changes['changes']):,} changes of rig that lasted, "
        f"{with_something_else(changes) or 'none'} came with a change of ground, tow length, depth "
        f"or season as well. About {most['days']} days without a change {title} by itself ran from "
        f"{times(most['lowest'])} to {times(most['highest'])} times what it was before."
    ]


def came_with(change: Row) -> str:
    """What else changed on the day, with what it was before and after."""
    name = (
        f"On {change['vessel']} the change from {change['rig_before']} to {change['rig_after']} of "
        f"{change['day']}"
    )
    if not change["came_with"]:
        return f"{name} came with no change of ground, tow length, depth or season."
    many = change["hauls_a_side"]
    what = listed([f"a change of {each['what']}" for each in change["came_with"]])
    told = "; ".join(_before_and_after(each) for each in change["came_with"])
    return f"{name} came with {what}: over the {many} hauls before and the {many} after, {told}."


def _before_and_after(changed: Row) -> str:
    before, after = changed["before"], changed["after"]
    if changed["what"] == "ground":
        place = where(changed["ground"]).strip()
        return f"{before * 100:.0f} % of the hours {place} became {after * 100:.0f} %"
    if changed["what"] == "season":
        return f"their middles lie {after:.0f} days apart"
    unit = "h" if changed["what"] == "tow length" else "m"
    figures = ".2f" if unit == "h" else ".0f"
    thing = "tow" if unit == "h" else "depth"
    return f"the usual {thing} went from {before:{figures}} to {after:{figures}} {unit}"


def what_followed(held: Row, outcome: Row) -> str:
    """How an outcome moved after a change, and how many days without one moved as far."""
    about = held["about"]
    title = outcome["title"]
    if about["why_none"] is not None:
        return f"{title}: no ratio, {WHY_NONE[about['why_none']]}."
    said = f"{title} after it: {moved(about, outcome)}"
    if not held["days_without"]:
        return f"{said}; no day without a change to hold it against."
    days = _days(held["days_without"])
    return f"{said}; of {days} without a change {held['as_far'] or 'none'} moved as far."


def moved(about: Row, outcome: Row) -> str:
    """A ratio and its limits in words; of a side without any, what can be said."""
    if about["ratio"] is None:
        return f"none before, so at least {about['low']:.2g} times as much"
    if about["ratio"] == 0:
        high = about["high"]
        doubt = (
            "which settles nothing"
            if high is None
            else f"yet up to {high * 100:.0f} % of what it was can't be ruled out"
        )
        return f"none at all ({doubt})"
    return f"{amount(about['ratio'], outcome)} ({limits(about, outcome)})"


def limits(about: Row, outcome: Row) -> str:
    """The 95 % interval in words, or that it settles nothing."""
    low, high = about["low"], about["high"]
    if low is not None and high is not None and high > WIDEST_TOLD * low:
        return "its interval settles nothing"
    return span(low, high, outcome)


def of_pair(pair: Row, pooled: Row, outcome: Row) -> str:
    """All changes between two rigs together."""
    both = [
        f"{many} to {rig}"
        for many, rig in (
            (pair["changes_to"], pair["rig"]),
            (pair["changes_back"], pair["reference"]),
        )
        if many
    ]
    about = pooled["ratio"]
    title = outcome["title"]
    changes = f"{title} over the changes between {pair['reference']} and {pair['rig']}"
    counted_ones = f"{changes} ({listed(both)}; {pair['came_with_more']} with something else)"
    if about["why_none"] is not None:
        return f"{counted_ones}: no ratio, {WHY_NONE[about['why_none']]}."
    return (
        f"{counted_ones}: with {pair['rig']} {moved(about, outcome)}, each change held to itself, "
        f"from the {pooled['days']} that have a ratio."
    )


def of_placebo(placebo: Row, outcome: Row, hauls_a_side: int) -> str:
    """What days without a change show: how far they move, and how many seem to show a change."""
    title, kind = outcome["title"], KIND[placebo["between_trips"]]
    many = placebo["days"]
    if not many:
        return f"{title}: no day without a change {kind} has a ratio."
    about_them = (
        f"{title} about {_days(many)} without a change, {kind}, {hauls_a_side} hauls to a side"
    )
    if placebo["lowest"] is None:
        return f"{about_them}: all had none on one side."
    if many == 1:
        return f"{about_them}: the ratio was {times(placebo['lowest'])}."
    sides = placebo["none_on_a_side"]
    without = f", and {sides} had none on one side" if sides else ""
    shown = placebo["show_change"]
    said = (
        f"{about_them}: the ratio ran from {times(placebo['lowest'])} to "
        f"{times(placebo['highest'])}{without}. The intervals of {shown or 'none'} would show a "
        f"change where there was none; by chance about one in twenty would."
    )
    if placebo["too_narrow"]:
        said += (
            " That is more than chance: intervals about single days are too narrow here, those "
            "about changes as well. Go by how many days without a change moved as far."
        )
    together = placebo["together"]
    if together["why_none"] is not None:
        return said
    return f"{said} All of them together: {moved(together, outcome)}."


def _days(many: int) -> str:
    return "1 day" if many == 1 else f"{many} days"

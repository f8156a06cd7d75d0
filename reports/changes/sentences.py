"""What is said of changes of rig: what came with each, what followed, and what quiet days show."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of, ratio_cell
from reports.language import say, say_many
from reports.ratio_words import TWICE, amount, span
from reports.ratio_words import times as so_many
from reports.sentences import listed, title_of, where
from schemas.codes import CameWith, Caution, ChangeWithout
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

WIDEST_TOLD = 100.0
"""Limits that are so many times apart settle nothing. Own judgement; no source."""

WHY_NONE = {
    Caution.NOT_FISHED_BOTH: saying("nothing recorded on one side"),
    Caution.NOT_SIDE_BY_SIDE: saying("hardly any of it on the same ground"),
    Caution.TOO_FEW_TRIPS: saying("too few days"),
    Caution.NOT_TOLD_APART: saying("can't be told from the ground"),
    Caution.FEW_WITH_SOME: saying("fewer than five hauls with any on one side"),
    Caution.NONE_SEEN: saying("none recorded on either side"),
    ChangeWithout.TOO_FEW_TOLD: saying("fewer than two of them have a ratio"),
}
FEW_DAYS = 5
"""Of fewer days without a change the first screen gives no range. Own judgement; no source."""

KIND = {True: saying("between trips"), False: saying("during a trip")}

WHAT_CHANGED = {
    CameWith.GROUND: saying("ground"),
    CameWith.TOW_LENGTH: saying("tow length"),
    CameWith.DEPTH: saying("depth"),
    CameWith.SEASON: saying("time of year"),
}
CHANGE_OF = {
    CameWith.GROUND: saying("a change of ground"),
    CameWith.TOW_LENGTH: saying("a change of tow length"),
    CameWith.DEPTH: saying("a change of depth"),
    CameWith.SEASON: saying("a change of season"),
}
ANOTHER_YEAR, YEAR_APART = saying("another year"), 300.0
"""Sides that lie so many days apart are of another year, not time of year. Own judgement."""
FROM_AND_TO = {
    CameWith.GROUND: saying("{before:.0f} % of the hours {place} became {after:.0f} %"),
    CameWith.TOW_LENGTH: saying("the usual tow went from {before:.2f} to {after:.2f} h"),
    CameWith.DEPTH: saying("the usual depth went from {before:.0f} to {after:.0f} m"),
    CameWith.SEASON: saying("their middles lie {after:.0f} days apart"),
}


MOST_TOLD = 30
"""So many changes are told one by one and drawn; findings.json has them all."""


def told_in_turn(changes: Row, outcome: Row) -> list[tuple[Row, Row]]:
    """The changes that are told one by one, each with what followed in an outcome."""
    return [
        (change, held)
        for change in changes["changes"][:MOST_TOLD]
        for held in change["ratios"]
        if held["about"]["outcome"] == outcome["name"]
    ]


def what_changed(changed: Row) -> str:
    """What changed with the rig, in a word or two for a cell."""
    return say(ANOTHER_YEAR if _is_another_year(changed) else WHAT_CHANGED[changed["what"]])


def _is_another_year(changed: Row) -> bool:
    return bool(changed["what"] == CameWith.SEASON and changed["after"] >= YEAR_APART)


NONE_WITH_MORE = saying("None came with a change of ground, tow length, depth or season.")
IT_WITH_MORE = saying(
    "It came with a change of ground, tow length, depth or season as well, and what followed can't "
    "be laid to the rig alone."
)
ALL_WITH_MORE = saying(
    "All of them came with a change of ground, tow length, depth or season as well, and what "
    "followed can't be laid to the rig alone."
)


def counted(changes: Row) -> str:
    """How many changes of rig there were, how many lasted, and with how many something came."""
    lasted, many = changes["lasted"], len(changes["changes"])
    said = say_many(
        "There was {number:,} change of rig on a boat; with fifteen hauls or more of one rig "
        "before, and of the other after, {lasted:,} lasted.",
        "There were {number:,} changes of rig on a boat; with fifteen hauls or more of one rig "
        "before, and of the other after, {lasted:,} lasted.",
        changes["of_all"],
        lasted=lasted,
    )
    spread = (
        say("{many} of them, spread evenly over all, are looked about here.", many=many)
        if many < lasted
        else ""
    )
    return " ".join(filter(None, [said, spread, _with_more(changes)]))


def _with_more(changes: Row) -> str:
    """With how many of the changes that lasted something else changed."""
    with_more, many = with_something_else(changes), len(changes["changes"])
    if not with_more:
        return say(NONE_WITH_MORE)
    if with_more == many:
        return say(IT_WITH_MORE if many == 1 else ALL_WITH_MORE)
    return say_many(
        "{number} of them came with a change of ground, tow length, depth or season as well, and "
        "what followed can't be laid to the rig alone.",
        "{number} of them came with a change of ground, tow length, depth or season as well, and "
        "what followed can't be laid to the rig alone.",
        with_more,
    )


def with_something_else(changes: Row) -> int:
    """How many of the changes that lasted came with a change of something else."""
    return sum(bool(change["came_with"]) for change in changes["changes"])


def on_first_screen(findings: Findings) -> list[str]:
    """Changes and days without one in two sentences, or none where there is nothing to tell."""
    changes, first = findings["changes"], findings["season"]["headlines"][0]
    told = [
        placebo
        for placebo in changes["placebos"]
        if placebo["outcome"] == first
        and placebo["lowest"] is not None
        and _days_with_some(placebo) >= FEW_DAYS
    ]
    if not told:
        return []
    most = max(told, key=_days_with_some)
    with_more = with_something_else(changes)
    came = say(
        SOME_CAME if with_more else NONE_CAME,
        changes=len(changes["changes"]),
        with_more=with_more,
    )
    ran = say(
        SOME_RAN if most["none_on_a_side"] else EACH_RAN,
        days=_days_with_some(most),
        outcome=title_of(outcomes_of(findings)[first]),
        lowest=ratio_cell(most["lowest"]),
        highest=ratio_cell(most["highest"]),
    )
    return [f"{came} {ran}"]


def _days_with_some(placebo: Row) -> int:
    """How many days without a change had some of the outcome both before and after."""
    return int(placebo["days"] - placebo["none_on_a_side"])


EACH_RAN = saying(
    "At each of {days} days on which nothing was changed {outcome} by itself went to between "
    "{lowest} and {highest} times what it was before."
)
SOME_RAN = saying(
    "At each of {days} days on which nothing was changed, and there was some both before and "
    "after, {outcome} by itself went to between {lowest} and {highest} times what it was before."
)
NONE_CAME = saying(
    "Before and after: of {changes:,} changes of rig that lasted, none came with a change of "
    "ground, tow length, depth or season as well."
)
SOME_CAME = saying(
    "Before and after: of {changes:,} changes of rig that lasted, {with_more} came with a change "
    "of ground, tow length, depth or season as well."
)


def came_with(change: Row) -> str:
    """What else changed on the day, with what it was before and after."""
    return say(
        CAME_WITH if change["came_with"] else CAME_ALONE,
        boat=change["vessel"],
        rig_before=change["rig_before"],
        rig_after=change["rig_after"],
        day=change["day"],
        changes=listed(list(map(_change_of, change["came_with"]))),
        hauls=change["hauls_a_side"],
        told="; ".join(map(_before_and_after, change["came_with"])),
    )


def _change_of(changed: Row) -> str:
    return say(ANOTHER_YEAR if _is_another_year(changed) else CHANGE_OF[changed["what"]])


CAME_ALONE = saying(
    "On {boat} the change from {rig_before} to {rig_after} of {day} came with no change of ground, "
    "tow length, depth or season."
)
CAME_WITH = saying(
    "On {boat} the change from {rig_before} to {rig_after} of {day} came with {changes}: over the "
    "{hauls} hauls before and the {hauls} after, {told}."
)


def _before_and_after(changed: Row) -> str:
    what, before, after = changed["what"], changed["before"], changed["after"]
    if what == "ground":
        place = where(changed["ground"]).strip()
        return say(FROM_AND_TO[what], before=before * 100, place=place, after=after * 100)
    return say(FROM_AND_TO[what], before=before, after=after)


def what_followed(held: Row, outcome: Row) -> str:
    """How an outcome moved after a change, and how many days without one moved as far."""
    about, title = held["about"], say(outcome["title"])
    if about["why_none"] is not None:
        return say(
            "{outcome}: no ratio, {why}.", outcome=title, why=say(WHY_NONE[about["why_none"]])
        )
    followed = say("{outcome} after it: {moved}", outcome=title, moved=moved(about, outcome))
    return f"{followed}; {_beside_quiet_days(held)}."


def _beside_quiet_days(held: Row) -> str:
    """How many days without a change moved as far as the change did."""
    days, as_far = held["days_without"], held["as_far"]
    if not days:
        return say("no day without a change to hold it against")
    if not as_far:
        return say_many(
            "of {number} day without a change none moved as far",
            "of {number} days without a change none moved as far",
            days,
        )
    return say_many(
        "of {number} day without a change {as_far} moved as far",
        "of {number} days without a change {as_far} moved as far",
        days,
        as_far=as_far,
    )


def moved(about: Row, outcome: Row) -> str:
    """A ratio and its limits in words; of a side without any, what can be said."""
    if about["ratio"] is None:
        said = say("none before, so at least {low:.2g} times as much", low=about["low"])
        return _on_both_sides(said) if about["total_before"] else said
    if about["ratio"] == 0:
        said = _none_after(about["high"])
        return _on_both_sides(said) if about["total_after"] else said
    return f"{amount(about['ratio'], outcome, about['high'])} ({limits(about, outcome)})"


def _on_both_sides(said: str) -> str:
    """The ratio is of what was fished on both sides; elsewhere there was some."""
    return say("on what was fished on both sides {said}", said=said)


def _none_after(high: float | None) -> str:
    if high is None:
        return say("none at all (which settles nothing)")
    return say(
        NONE_UP_TO_TIMES if high >= TWICE else NONE_UP_TO_PERCENT,
        percent=high * 100,
        times=so_many(high),
    )


NONE_UP_TO_PERCENT = saying(
    "none at all (yet up to {percent:.0f} % of what it was can't be ruled out)"
)
NONE_UP_TO_TIMES = saying("none at all (yet up to {times} times what it was can't be ruled out)")


def limits(about: Row, outcome: Row) -> str:
    """The 95 % interval in words, or that it settles nothing."""
    low, high = about["low"], about["high"]
    if low is not None and high is not None and high > WIDEST_TOLD * low:
        return say("its interval settles nothing")
    return span(low, high, outcome)


def of_pair(pair: Row, pooled: Row, outcome: Row) -> str:
    """All changes between two rigs together."""
    both = [
        say("{many} from {before} to {after}", many=many, before=before, after=after)
        for many, before, after in (
            (pair["changes_to"], pair["reference"], pair["rig"]),
            (pair["changes_back"], pair["rig"], pair["reference"]),
        )
        if many
    ]
    about = pooled["ratio"]
    over_changes = say(
        "{outcome} over the changes between {reference} and {rig} ({counted}; {with_more})",
        outcome=say(outcome["title"]),
        reference=pair["reference"],
        rig=pair["rig"],
        counted=listed(both),
        with_more=_with_how_many(pair["came_with_more"], pair["changes_to"] + pair["changes_back"]),
    )
    if about["why_none"] is not None:
        none = say("no ratio, {why}", why=say(WHY_NONE[about["why_none"]]))
        return f"{over_changes}: {none}."
    held = say(
        "with {rig} {moved}, each change held to itself, from the {days} that tell anything of it",
        rig=pair["rig"],
        moved=moved(about, outcome),
        days=pooled["days"],
    )
    return f"{over_changes}: {held}."


ALONE_WITH_MORE = saying("something else changed with it")
EACH_WITH_MORE = saying("something else changed with each")


def _with_how_many(with_more: int, changes: int) -> str:
    """With how many of the changes between two rigs something else changed."""
    if not with_more:
        return say("nothing else changed with them")
    if with_more == changes:
        return say(ALONE_WITH_MORE if changes == 1 else EACH_WITH_MORE)
    return say("something else changed with {with_more} of them", with_more=with_more)


def of_placebo(placebo: Row, outcome: Row, hauls_a_side: int) -> str:
    """What days without a change show: how far they move, and how many seem to show a change."""
    title, kind = say(outcome["title"]), say(KIND[placebo["between_trips"]])
    if not placebo["days"]:
        return say(
            "{outcome}: no day without a change {kind} has a ratio.", outcome=title, kind=kind
        )
    about_them = say_many(
        "{outcome} about {number} day without a change, {kind}, {hauls} hauls to a side",
        "{outcome} about {number} days without a change, {kind}, {hauls} hauls to a side",
        placebo["days"],
        outcome=title,
        kind=kind,
        hauls=hauls_a_side,
    )
    together = placebo["together"]
    several = placebo["days"] > 1 and placebo["lowest"] is not None
    shown = _seem_to_show(placebo) if several else []
    if several and together["why_none"] is None:
        shown.append(say("All of them together: {moved}.", moved=moved(together, outcome)))
    return " ".join([f"{about_them}: {_how_far(placebo)}.", *shown])


def _how_far(placebo: Row) -> str:
    """How far the outcome moved about days without a change."""
    if placebo["lowest"] is None:
        return say("all had none on one side")
    lowest, highest = ratio_cell(placebo["lowest"]), ratio_cell(placebo["highest"])
    if placebo["days"] == 1:
        return say("the ratio was {ratio}", ratio=lowest)
    if not placebo["none_on_a_side"]:
        return say("the ratio ran from {lowest} to {highest}", lowest=lowest, highest=highest)
    return say(
        "the ratio ran from {lowest} to {highest}, and {many} had none on one side",
        lowest=lowest,
        highest=highest,
        many=placebo["none_on_a_side"],
    )


def _seem_to_show(placebo: Row) -> list[str]:
    """How many intervals would show a change where there was none, and whether by chance."""
    shown = placebo["show_change"]
    said = [_tell_of_a_change(shown) if shown else say(NONE_SHOWS)]
    if placebo["too_narrow"]:
        said.append(say(TOO_NARROW))
    return said


def _tell_of_a_change(shown: int) -> str:
    return say_many(
        "{number} of their intervals tells of a change, though nothing was changed; by chance "
        "about one in twenty does.",
        "{number} of their intervals tell of a change, though nothing was changed; by chance "
        "about one in twenty does.",
        shown,
    )


NONE_SHOWS = saying(
    "None of their intervals tells of a change; by chance about one in twenty would, though "
    "nothing was changed."
)
TOO_NARROW = saying(
    "That is more than chance: intervals about single days are too narrow here, those about "
    "changes as well. Go by how many days without a change moved as far."
)

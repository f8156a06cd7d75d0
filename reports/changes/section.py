"""The section "Before and after": changes of rig that lasted, and days without one as a placebo."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of, ratio_cell
from reports.changes.sentences import (
    KIND,
    MOST_TOLD,
    WHY_NONE,
    came_with,
    counted,
    of_pair,
    of_placebo,
    told_in_turn,
    what_changed,
    what_followed,
)
from reports.language import number, say, say_many
from reports.parts import Figure, Section, Table
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

ABOUT = saying(
    "What came after a change of rig against what came before it, on the same boat and the same "
    "ground. Whatever else changes from week to week is in it too. So the same is done about days"
    " on which nothing was changed: a change of rig has to move more than those do to mean "
    "anything. None of this goes into the verdicts above."
)
NO_QUIET_DAY = saying(
    "No boat kept one rig long enough for a day without a change to be looked at in the same way,"
    " so there is nothing to hold these changes against."
)
HOW = saying(
    "A try of fewer than five hauls is passed over. Of either side as many hauls are taken as of "
    "the other, from 15 to 40; days without a change lie well inside a spell of one rig, with as "
    "many hauls to a side as the changes have, and no haul in two of them. A change came with one"
    " of ground if more than half of the hours would have to move to another ground, of tow "
    "length if the usual tow is a quarter longer or shorter, of depth if half deeper or "
    "shallower, of season if the middles of the two sides lie more than 45 days apart. Own "
    "judgement; no source."
)
ERRORS = saying(
    "Where either side has three trips or more, trips are left out in turn for the interval; else "
    "days are, and how trips differ is not in it: such an interval can be much too narrow, which "
    "shows in the days without a change."
)
CAPTION = saying(
    "The mark is the rate after the day, times the rate before, the bar its 95 % interval; the "
    "diamond is all changes between two rigs together, times the rig named last. Below them a "
    "tick for each day without a change, and all of those together as a diamond. The dashed line "
    "at 1 is no difference. A bar with an arrow at the edge is wider than shown."
)
NO_RATIO = saying(
    "A hollow triangle at the edge: there was nothing after that change (on the left), or nothing "
    "before it (on the right), so that it has no ratio."
)


def before_and_after(findings: Findings) -> Section | None:
    """The section; None where no rig was changed for long."""
    changes = findings["changes"]
    if not changes["changes"]:
        return None
    outcomes = [
        outcome
        for name, outcome in outcomes_of(findings).items()
        if any(held["about"]["outcome"] == name for held in changes["changes"][0]["ratios"])
    ]
    return Section(
        "before-and-after",
        say("Before and after a change of rig"),
        paragraphs=[
            say(ABOUT),
            counted(changes),
            *(words for outcome in outcomes for words in _of_outcome(changes, outcome)),
            *([] if changes["without"] else [say(NO_QUIET_DAY)]),
        ],
        figures=[_figure(changes, outcome) for outcome in outcomes],
        points=[*_each_change(changes, outcomes), say(HOW), say(ERRORS)],
    )


def _of_outcome(changes: Row, outcome: Row) -> list[str]:
    """The changes of each two rigs together, then the days without a change."""
    pairs = [
        of_pair(pair, pooled, outcome)
        for pair in changes["pairs"]
        for pooled in pair["ratios"]
        if pooled["ratio"]["outcome"] == outcome["name"]
    ]
    placebos = [
        of_placebo(placebo, outcome, changes["hauls_a_side"])
        for placebo in changes["placebos"]
        if placebo["outcome"] == outcome["name"]
    ]
    return [*pairs, *placebos]


def _each_change(changes: Row, outcomes: list[Row]) -> list[str]:
    told = [_of_change(change, outcomes) for change in changes["changes"][:MOST_TOLD]]
    more = len(changes["changes"]) - MOST_TOLD
    if more > 0:
        told.append(
            say_many(
                "{number:,} more changes are in findings.json under changes.",
                "{number:,} more changes are in findings.json under changes.",
                more,
            )
        )
    return told


def _of_change(change: Row, outcomes: list[Row]) -> str:
    followed = [
        what_followed(held, outcome)
        for outcome in outcomes
        for held in change["ratios"]
        if held["about"]["outcome"] == outcome["name"]
    ]
    return " ".join([came_with(change), *followed])


def _figure(changes: Row, outcome: Row) -> Figure:
    title, unit = say(outcome["title"]), say(outcome["unit"])
    about = [held["about"] for _, held in told_in_turn(changes, outcome)]
    drawn = any(each["log_ratio"] is not None for each in about)
    captions = [CAPTION, *([NO_RATIO] if any(map(_is_at_edge, about)) else [])] if drawn else []
    return Figure(
        name=f"changes-{outcome['name'].replace('_', '-')}",
        kind="changes" if drawn else "numbers",
        outcome=outcome["name"],
        title=say("{outcome} after a change of rig, and after days without one", outcome=title),
        caption=" ".join(map(say, captions)),
        table=Table(
            say("{outcome} after a day, times that before it", outcome=title),
            [
                say("boat and day"),
                say("from"),
                say("to"),
                say("ratio"),
                say("low"),
                say("high"),
                say("{unit} before", unit=unit),
                say("{unit} after", unit=unit),
                say("came with"),
            ],
            [*_change_cells(changes, outcome), *_quiet_cells(changes, outcome)],
        ),
    )


def _is_at_edge(about: Row) -> bool:
    """Whether a change is drawn at the edge, as there was nothing before it or after it."""
    return about["why_none"] is None and not about["ratio"]


def _change_cells(changes: Row, outcome: Row) -> list[list[str]]:
    return [
        [
            f"{change['vessel']}, {change['day']}",
            change["rig_before"],
            change["rig_after"],
            *_ratio_cells(held["about"]),
            ", ".join(map(what_changed, change["came_with"])) or say("nothing else"),
        ]
        for change, held in told_in_turn(changes, outcome)
    ]


def _quiet_cells(changes: Row, outcome: Row) -> list[list[str]]:
    return [
        [
            f"{day['vessel']}, {day['day']}",
            day["rig"],
            say("no change"),
            *_ratio_cells(about),
            say(KIND[day["between_trips"]]),
        ]
        for day in changes["without"]
        for about in day["ratios"]
        if about["outcome"] == outcome["name"] and about["why_none"] is None
    ]


def _ratio_cells(about: Row) -> list[str]:
    """The ratio and its limits, and what there was on either side."""
    amounts = [number(about[name], ",.0f") for name in ("total_before", "total_after")]
    if about["why_none"] is not None:
        return [say(WHY_NONE[about["why_none"]]), "", "", *amounts]
    ratio = _none_on_a_side(about) or ratio_cell(about["ratio"])
    return [ratio, *(ratio_cell(about[name]) for name in ("low", "high")), *amounts]


def _none_on_a_side(about: Row) -> str:
    """On which side of a ratio of nought, or without end, there was none; and whether anywhere."""
    if about["ratio"] == 0:
        return say(NONE_AFTER_WHERE_BOTH if about["total_after"] else NONE_AFTER)
    if about["ratio"] is None:
        return say(NONE_BEFORE_WHERE_BOTH if about["total_before"] else NONE_BEFORE)
    return ""


NONE_AFTER, NONE_BEFORE = saying("none after"), saying("none before")
NONE_AFTER_WHERE_BOTH = saying("none after on the ground fished both times")
NONE_BEFORE_WHERE_BOTH = saying("none before on the ground fished both times")

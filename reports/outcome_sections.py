"""The sections on what happened and what was caught, an outcome each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.by_rig_and_ground import how_to_compare
from reports.cells import (
    as_told,
    count_of,
    had_none,
    of_either,
    outcomes_of,
    over_all_grounds,
    per_hours,
    rate_of,
    ratio_columns,
    ratio_of,
    short_ground,
    unit_of_rates,
)
from reports.damage_cost.written import filled_up
from reports.far_catches import far_catches_are_in
from reports.fish_groups import groups_of_fish
from reports.language import say, say_many
from reports.money.left_out import unpriced
from reports.nobody_had import of_nobody, rigs_without
from reports.on_the_mix import mix_table, mix_words
from reports.parts import Figure, Row, Section, table_of
from reports.rates_drawn import of_edges, rates_drawn
from reports.ratio_titles import in_which_parts, of_parts, ratio_title
from reports.sentences import capital, is_told, of_wider_limits, verdict_words, why_untold
from reports.stand_ins import damage_is_stood_for
from reports.standing.sentences import planned, shown_columns
from reports.weighed import weighed_words
from schemas.words import WHOLE_RECORD, saying

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.findings import Findings
    from reports.parts import Column, Table


BOTTOM_LIVING = "bottom_living_kg"


def outcome_section(name: str, about: str) -> Callable[[Findings], Section | None]:
    """A section on one outcome: the rigs against the reference, then each ground as recorded."""

    def make(findings: Findings) -> Section | None:
        outcome = outcomes_of(findings).get(name)
        if outcome is None:
            return None
        return Section(
            name=name.replace("_", "-"),
            title=say(outcome["title"]),
            paragraphs=[
                *_about(findings, name, about),
                *_record_words(findings, name),
                *(far_catches_are_in(findings) if name == BOTTOM_LIVING else []),
                *of_nobody(outcome, findings),
                *rigs_without(outcome, findings),
                *mix_words(findings, outcome),
            ],
            figures=[_ratio_figure(findings, outcome), _rate_figure(findings, outcome)],
            tables=mix_table(findings, outcome),
        )

    return make


def _about(findings: Findings, name: str, about: str) -> list[str]:
    """What the outcome is; of bottom-living fish, which of those caught count and which do not."""
    if name == "damage_events" and (stood_for := damage_is_stood_for(findings)):
        return stood_for
    told = [say(about, weighed=weighed_words(findings))]
    return [*told, *groups_of_fish(findings)] if name == BOTTOM_LIVING else told


def _record_words(findings: Findings, name: str) -> list[str]:
    """How far the record reaches for this outcome."""
    key = name if name in {"damage_events", "mending_hours", "hours_lost"} else "catch"
    record = next((r for r in findings["records"] if r["outcome"] == key), None)
    foul = findings["season"]["foul_tows"] if key == "catch" else 0
    told = _foul_left_out(foul)
    if record is None or record["recorded"] == record["hauls"]:
        return told
    missing = record["hauls"] - record["recorded"]
    if name in {"mending_hours", "hours_lost"}:
        return [filled_up(findings, name, record["hauls"], missing)]
    of_all = _of_all(record["hauls"], others=bool(foul))
    told += [
        say_many(
            "{of_all}, {number:,} says nothing that can be used here; it is left out, not counted "
            "as none.",
            "{of_all}, {number:,} say nothing that can be used here; they are left out, not "
            "counted as none.",
            missing,
            of_all=of_all,
        )
    ]
    if name == "damage_events":
        return [*told, say(MOSTLY_WHEN_SOMETHING)]
    return [*told, *([say(CATCH_NOT_WHOLE)] if _has_catch_set_aside(findings) else [])]


def _of_all(hauls: int, *, others: bool) -> str:
    if others:
        return say_many("Of the {number:,} other haul", "Of the {number:,} other hauls", hauls)
    return say_many("Of {number:,} haul", "Of {number:,} hauls", hauls)


def _foul_left_out(foul: int) -> list[str]:
    """That the catch of foul tows is not compared; nothing where none is marked so."""
    if not foul:
        return []
    return [
        say_many(
            "{number:,} haul is marked foul; what it caught is left out.",
            "{number:,} hauls are marked foul; what they caught is left out.",
            foul,
        )
    ]


def _has_catch_set_aside(findings: Findings) -> bool:
    return bool(findings["rows"].get("catches", {"set_aside": 0})["set_aside"])


CATCH_NOT_WHOLE = saying(
    "Where a row of a haul's catch was set aside, all of that haul's catch is left out, as the "
    "rest is not the whole: see what was set aside."
)


MOSTLY_WHEN_SOMETHING = saying(
    "A boat that writes mostly when something happened makes the rates too high, and draws the "
    "rigs together."
)


def _ratio_figure(findings: Findings, outcome: Row) -> Figure:
    reference = findings["season"]["reference_rig"]
    effects = over_all_grounds(findings["effects"], outcome["name"])
    title = say(
        "{outcome}: each rig against {reference}",
        outcome=say(outcome["title"]),
        reference=reference,
    )
    return Figure(
        name=f"ratio-{outcome['name'].replace('_', '-')}",
        kind="ratio",
        outcome=outcome["name"],
        title=ratio_title(effects, outcome, reference),
        alone=title + in_which_parts(effects),
        caption=say(
            "Each rig's rate as a multiple of {reference}'s, like for like; the bar is the 95 % "
            "interval, the dashed line at 1 is no difference, and the upright tick is the raw "
            "comparison, which takes no account of where each rig was fished. Left of 1 is {less}, "
            "right of 1 is {more}.",
            reference=reference,
            less=say(outcome["less"]),
            more=say(outcome["more"]),
        )
        + of_parts(effects)
        + of_wider_limits(effects)
        + (f" {say(FROM_NONE_ON)}" if any(is_told(e) and had_none(e) for e in effects) else ""),
        table=table_of(
            title,
            map(as_told, effects),
            [
                (say("rig"), lambda effect: effect["rig"]),
                (say("part of the record"), _part),
                *ratio_columns(),
                (say("raw ratio"), ratio_of("raw_ratio")),
                (say("hauls / {reference}'s", reference=reference), of_either("hauls")),
                (say("trips"), of_either("trips")),
                (say("verdict"), _verdict),
                *shown_columns({outcome["matters"]}, planned(findings)),
            ],
        ),
    )


FROM_NONE_ON = saying(
    "A bar with an arrow and no mark is of a rig that had none: its interval begins at nought."
)


def _verdict(effect: Row) -> str:
    return verdict_words(effect) if is_told(effect) else why_untold(effect)


def _rate_figure(findings: Findings, outcome: Row) -> Figure:
    rows = [r for r in findings["rates"] if r["outcome"] == outcome["name"]]
    grounds = findings["season"]["grounds"]
    ordered = sorted(
        (r for r in rows if r["ground"] in grounds),
        key=lambda r: (grounds.index(r["ground"]), r["rig"]),
    )
    title, hours = say(outcome["title"]), per_hours(outcome)
    per_hour = unit_of_rates(outcome)
    per_hours_towed = say("per hour") if hours == 1 else say("per {hours} hours", hours=hours)
    return Figure(
        name=f"rate-{outcome['name'].replace('_', '-')}",
        kind="rate",
        outcome=outcome["name"],
        title=say("{outcome} by ground and rig, as recorded", outcome=title),
        caption=" ".join(
            [
                say("{per_hour}, with 95 % intervals.", per_hour=capital(per_hour)),
                *how_to_compare(findings, outcome["name"], WITHIN_A_GROUND),
                *of_edges(rates_drawn(findings, outcome)),
            ]
        ),
        table=table_of(
            say("{outcome}: {per_hour}, as recorded", outcome=title, per_hour=per_hour),
            ordered,
            [
                (say("ground"), lambda rate: short_ground(rate["ground"])),
                (say("rig"), lambda rate: rate["rig"]),
                (say("hauls"), count_of("hauls")),
                (say("trips"), count_of("trips")),
                (say("hours"), count_of("tow_hours")),
                (say("total"), count_of("total")),
                (per_hours_towed, rate_of("rate", outcome)),
                (say("from"), rate_of("low", outcome)),
                (say("to"), rate_of("high", outcome)),
            ],
        ),
    )


WITHIN_A_GROUND = saying("Compare rigs within a ground, not across grounds.")


def further(findings: Findings) -> Section | None:
    """The other outcomes, in a table: mending, time lost, debris, value, single species."""
    told = {"damage_events", "bottom_living_kg", "other_kg"}
    effects = {
        outcome["name"]: shown
        for outcome in findings["outcomes"]
        if outcome["name"] not in told and (shown := _over_all(findings, outcome["name"]))
    }
    if not effects:
        return None
    paragraphs = [
        say(
            "Like for like, over all grounds, each judged by itself. There are many comparisons "
            "here: about one in twenty stands out by luck alone."
        ),
        *[
            words
            for name in ("mending_hours", "hours_lost")
            for words in _record_words(findings, name)
            if name in outcomes_of(findings)
        ],
        *filter(None, [unpriced(findings) if "value" in outcomes_of(findings) else ""]),
    ]
    return Section(
        "further", say("What else was recorded"), paragraphs, tables=_in_short(findings, effects)
    )


def _over_all(findings: Findings, outcome: str) -> list[Row]:
    """Each rig over all grounds: the whole record, or where that is not told the part that is."""
    effects = over_all_grounds(findings["effects"], outcome)
    told = {effect["rig"] for effect in effects if is_told(effect)}
    return [effect for effect in effects if is_told(effect) or effect["rig"] not in told]


def _in_short(findings: Findings, effects: dict[str, list[Row]]) -> list[Table]:
    """Each rig against the reference, a table an outcome; of one rig all outcomes in one."""
    reference, outcomes = findings["season"]["reference_rig"], outcomes_of(findings)
    rigs = {effect["rig"] for of_outcome in effects.values() for effect in of_outcome}
    if len(rigs) == 1:
        caption = say("{rig}: times {reference}'s", rig=min(rigs), reference=reference)
        return [
            _table_in_short(
                caption,
                say("of"),
                lambda effect: say(outcomes[effect["outcome"]]["title"]),
                [effect for of_outcome in effects.values() for effect in of_outcome],
                findings,
            )
        ]
    return [
        _table_in_short(
            say(
                "{outcome}: times {reference}'s",
                outcome=say(outcomes[name]["title"]),
                reference=reference,
            ),
            say("rig"),
            lambda effect: effect["rig"],
            of_outcome,
            findings,
        )
        for name, of_outcome in effects.items()
    ]


def _table_in_short(
    caption: str, of: str, named: Callable[[Row], str], effects: list[Row], findings: Findings
) -> Table:
    """The effects under what each row is named by; with the part of the record where not whole."""
    reference, outcomes = findings["season"]["reference_rig"], outcomes_of(findings)
    matters = {outcomes[effect["outcome"]]["matters"] for effect in effects}
    in_parts = any(effect["part"] != WHOLE_RECORD for effect in effects)
    columns: list[Column] = [
        (of, named),
        *([(say("part of the record"), _part)] if in_parts else []),
        *ratio_columns(),
        (say("hauls / {reference}'s", reference=reference), of_either("hauls")),
        (say("verdict"), _verdict),
        *shown_columns(matters, planned(findings)),
    ]
    return table_of(caption, map(as_told, effects), columns)


def _part(effect: Row) -> str:
    """The part of the record that an effect is of."""
    return say(WHOLE_RECORD) if effect["part"] == WHOLE_RECORD else str(effect["part"])

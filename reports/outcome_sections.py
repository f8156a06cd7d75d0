"""The sections on what happened and what was caught, an outcome each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of, rate_cell, ratio_cell, short_ground
from reports.language import number, say, say_many
from reports.money.left_out import unpriced
from reports.on_the_mix import mix_table, mix_words
from reports.parts import Figure, Row, Section, Table
from reports.sentences import (
    ALL_GROUNDS,
    WHOLE_RECORD,
    capital,
    claim,
    is_clear,
    is_told,
    listed,
    of_wider_limits,
    surety,
    verdict_words,
    why_untold,
)
from reports.standing.sentences import plan_of, planned, shown_cells, shown_headers
from schemas.outcomes import fixed_outcome
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.findings import Findings


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
                say(about),
                *_record_words(findings, name),
                *mix_words(findings, outcome),
            ],
            figures=[_ratio_figure(findings, outcome), _rate_figure(findings, outcome)],
            tables=mix_table(findings, outcome),
        )

    return make


def _record_words(findings: Findings, name: str) -> list[str]:
    """How far the record reaches for this outcome."""
    key = name if name in {"damage_events", "mending_hours", "hours_lost"} else "catch"
    record = next((r for r in findings["records"] if r["outcome"] == key), None)
    if record is None or record["recorded"] == record["hauls"]:
        return []
    missing = record["hauls"] - record["recorded"]
    of_all = say_many("Of {number:,} haul", "Of {number:,} hauls", record["hauls"])
    if name in {"mending_hours", "hours_lost"}:
        return [_untold_of_damaged(name, record["hauls"], missing)]
    told = [
        say_many(
            "{of_all}, {number:,} says nothing that can be used here; it is left out, not counted "
            "as none.",
            "{of_all}, {number:,} say nothing that can be used here; they are left out, not "
            "counted as none.",
            missing,
            of_all=of_all,
        )
    ]
    return [*told, say(MOSTLY_WHEN_SOMETHING)] if name == "damage_events" else told


def _untold_of_damaged(name: str, damaged: int, missing: int) -> str:
    """How many damaged hauls do not say what the damage cost, and what comes of that."""
    return say_many(
        "{of_damaged}, {number:,} says nothing of {outcome}; it is left out, so the figures are "
        "too low, and a rig whose damage was written up less looks the better for it. A boat that "
        "wrote it of fewer than half its damaged hauls is left out whole.",
        "{of_damaged}, {number:,} say nothing of {outcome}; they are left out, so the figures are "
        "too low, and a rig whose damage was written up less looks the better for it. A boat that "
        "wrote it of fewer than half its damaged hauls is left out whole.",
        missing,
        outcome=say(fixed_outcome(name).title).lower(),
        of_damaged=say_many(
            "Of {number:,} haul with damage", "Of {number:,} hauls with damage", damaged
        ),
    )


MOSTLY_WHEN_SOMETHING = saying(
    "A boat that writes mostly when something happened makes the rates too high, and draws the "
    "rigs together."
)


def _ratio_figure(findings: Findings, outcome: Row) -> Figure:
    reference = findings["season"]["reference_rig"]
    effects = [
        e
        for e in findings["effects"]
        if e["outcome"] == outcome["name"] and e["ground"] == ALL_GROUNDS
    ]
    plans = planned(findings)
    clear = [e for e in effects if is_clear(e)]
    title = (
        claim(max(clear, key=surety), outcome)
        if clear
        else say("No rig stands out clearly against {reference}", reference=reference)
    )
    return Figure(
        name=f"ratio-{outcome['name'].replace('_', '-')}",
        kind="ratio",
        outcome=outcome["name"],
        title=title,
        alone=say(
            "{outcome}: each rig against {reference}",
            outcome=say(outcome["title"]),
            reference=reference,
        )
        + _in_which_parts(effects),
        caption=say(
            "Each rig's rate as a multiple of {reference}'s, like for like; the bar is the 95 % "
            "interval, the dashed line at 1 is no difference, and the upright tick is the raw "
            "comparison, which takes no account of where each rig was fished. Left of 1 is {less}, "
            "right of 1 is {more}.",
            reference=reference,
            less=say(outcome["less"]),
            more=say(outcome["more"]),
        )
        + of_wider_limits(effects),
        table=Table(
            say(
                "{outcome}: each rig against {reference}",
                outcome=say(outcome["title"]),
                reference=reference,
            ),
            [
                say("rig"),
                say("part of the record"),
                say("ratio"),
                say("from"),
                say("to"),
                say("raw ratio"),
                say("hauls / {reference}'s", reference=reference),
                say("trips"),
                say("verdict"),
                *shown_headers(),
            ],
            [_effect_cells(e, plan_of(e, plans)) for e in effects],
        ),
    )


def _in_which_parts(effects: list[Row]) -> str:
    """The parts of the record in which rigs could be compared, where it is not the whole."""
    parts = sorted({e["part"] for e in effects if is_told(e)} - {WHOLE_RECORD})
    return say(", in {part}", part=listed(parts)) if parts else ""


def _effect_cells(effect: Row, plan: Row | None) -> list[str]:
    told = is_told(effect)
    return [
        effect["rig"],
        say(WHOLE_RECORD) if effect["part"] == WHOLE_RECORD else effect["part"],
        *(ratio_cell(effect[name] if told else None) for name in ("ratio", "low", "high")),
        ratio_cell(effect["raw_ratio"]) if told else "–",
        _of_both(effect, "hauls"),
        _of_both(effect, "trips"),
        verdict_words(effect) if told else why_untold(effect),
        *shown_cells(plan),
    ]


def _of_both(effect: Row, what: str) -> str:
    """The hauls, or the trips, of the rig and of the reference."""
    return " / ".join(number(effect[f"{of}_{what}"], ",") for of in ("rig", "reference"))


def _rate_figure(findings: Findings, outcome: Row) -> Figure:
    rows = [r for r in findings["rates"] if r["outcome"] == outcome["name"]]
    grounds = findings["season"]["grounds"]
    ordered = sorted(
        (r for r in rows if r["ground"] in grounds),
        key=lambda r: (grounds.index(r["ground"]), r["rig"]),
    )
    title, unit = say(outcome["title"]), say(outcome["unit"])
    per_hour = say("{unit} per hour towed", unit=unit).strip()
    return Figure(
        name=f"rate-{outcome['name'].replace('_', '-')}",
        kind="rate",
        outcome=outcome["name"],
        title=say("{outcome} by ground and rig, as recorded", outcome=title),
        caption=say(
            "{per_hour}, with 95 % intervals. Compare rigs within a ground, not across grounds; a "
            "bar with an arrow at the edge is wider than shown; a dot without a bar has no "
            "interval.",
            per_hour=capital(per_hour),
        ),
        table=Table(
            say("{outcome}: {per_hour}, as recorded", outcome=title, per_hour=per_hour),
            [
                say("ground"),
                say("rig"),
                say("hauls"),
                say("hours"),
                say("total"),
                say("per hour"),
                say("from"),
                say("to"),
            ],
            [_rate_cells(rate) for rate in ordered],
        ),
    )


def _rate_cells(rate: Row) -> list[str]:
    return [
        short_ground(rate["ground"]),
        rate["rig"],
        number(rate["hauls"], ","),
        number(rate["tow_hours"], ",.0f"),
        number(rate["total"], ",.0f"),
        *(rate_cell(rate[name]) for name in ("rate", "low", "high")),
    ]


def further(findings: Findings) -> Section | None:
    """The other outcomes, in a table: mending, time lost, debris, value, single species."""
    told = {"damage_events", "bottom_living_kg", "other_kg"}
    others = (o for o in findings["outcomes"] if o["name"] not in told)
    tables = [table for outcome in others if (table := _in_short(findings, outcome)) is not None]
    if not tables:
        return None
    paragraphs = [
        say(
            "Like for like, over all grounds. There are many comparisons here; now and then one in "
            "twenty will stand out by luck alone."
        ),
        *[
            words
            for name in ("mending_hours", "hours_lost")
            for words in _record_words(findings, name)
            if name in outcomes_of(findings)
        ],
        *filter(None, [unpriced(findings) if "value" in outcomes_of(findings) else ""]),
    ]
    return Section("further", say("What else was recorded"), paragraphs, tables=tables)


def _in_short(findings: Findings, outcome: Row) -> Table | None:
    """Each rig against the reference in an outcome without a section; None if nothing is told."""
    reference, plans = findings["season"]["reference_rig"], planned(findings)
    cells = [
        [
            e["rig"],
            *(ratio_cell(e[name] if is_told(e) else None) for name in ("ratio", "low", "high")),
            _of_both(e, "hauls"),
            verdict_words(e) if is_told(e) else why_untold(e),
            *shown_cells(plan_of(e, plans)),
        ]
        for e in findings["effects"]
        if e["ground"] == ALL_GROUNDS and e["outcome"] == outcome["name"]
    ]
    if not cells:
        return None
    return Table(
        say("{outcome}: times {reference}'s", outcome=say(outcome["title"]), reference=reference),
        [
            say("rig"),
            say("ratio"),
            say("from"),
            say("to"),
            say("hauls / {reference}'s", reference=reference),
            say("verdict"),
            *shown_headers(),
        ],
        cells,
    )

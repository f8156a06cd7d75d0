"""The sections on what happened and what was caught, an outcome each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of, rate_cell, ratio_cell, short_ground
from reports.parts import Figure, Row, Section, Table
from reports.sentences import ALL_GROUNDS, claim, is_clear, is_told
from schemas.outcomes import fixed_outcome

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
            title=outcome["title"],
            paragraphs=[about, *_record_words(findings, name)],
            figures=[_ratio_figure(findings, outcome), _rate_figure(findings, outcome)],
        )

    return make


def _record_words(findings: Findings, name: str) -> list[str]:
    """How far the record reaches for this outcome."""
    key = name if name in {"damage_events", "mending_hours", "hours_lost"} else "catch"
    record = next((r for r in findings["records"] if r["outcome"] == key), None)
    if record is None or record["recorded"] == record["hauls"]:
        return []
    missing = record["hauls"] - record["recorded"]
    if name in {"mending_hours", "hours_lost"}:
        title = fixed_outcome(name).title.lower()
        return [
            f"Of {record['hauls']:,} hauls with damage, {missing:,} say nothing of {title}; they "
            "are left out, so the figures are somewhat too low."
        ]
    return [
        f"Of {record['hauls']:,} hauls, {missing:,} say nothing that can be used here; they are "
        "left out, not counted as none."
    ]


def _ratio_figure(findings: Findings, outcome: Row) -> Figure:
    reference = findings["season"]["reference_rig"]
    effects = [
        e
        for e in findings["effects"]
        if e["outcome"] == outcome["name"] and e["ground"] == ALL_GROUNDS
    ]
    clear = [e for e in effects if is_clear(e)]
    title = (
        claim(max(clear, key=lambda e: abs(e["log_ratio"] or 0)), outcome)
        if clear
        else f"No rig stands out clearly against {reference}"
    )
    return Figure(
        name=f"ratio-{outcome['name'].replace('_', '-')}",
        kind="ratio",
        outcome=outcome["name"],
        title=title,
        caption=(
            f"Each rig's rate as a multiple of {reference}'s, like for like; the bar is the 95 % "
            "interval, the dashed line at 1 is no difference, and the upright tick is the "
            "raw comparison, which takes no account of where each rig was fished. Left of 1 is "
            f"{outcome['less']}, right of 1 is {outcome['more']}."
        ),
        table=Table(
            f"{outcome['title']}: each rig against {reference}",
            [
                "rig",
                "part of the record",
                "ratio",
                "from",
                "to",
                "raw ratio",
                "hauls",
                "trips",
                "verdict",
            ],
            [_effect_cells(e) for e in effects if is_told(e)]
            + [
                [
                    e["rig"],
                    e["part"],
                    "–",
                    "–",
                    "–",
                    "–",
                    f"{e['hauls']:,}",
                    f"{e['trips']:,}",
                    "not side by side",
                ]
                for e in effects
                if not is_told(e)
            ],
        ),
    )


def _effect_cells(effect: Row) -> list[str]:
    return [
        effect["rig"],
        effect["part"],
        ratio_cell(effect["ratio"]),
        ratio_cell(effect["low"]),
        ratio_cell(effect["high"]),
        ratio_cell(effect["raw_ratio"]),
        f"{effect['hauls']:,}",
        f"{effect['trips']:,}",
        effect["verdict"],
    ]


def _rate_figure(findings: Findings, outcome: Row) -> Figure:
    rows = [r for r in findings["rates"] if r["outcome"] == outcome["name"]]
    grounds = findings["season"]["grounds"]
    ordered = sorted(
        (r for r in rows if r["ground"] in grounds),
        key=lambda r: (grounds.index(r["ground"]), r["rig"]),
    )
    unit = f"{outcome['unit']} per hour".strip()
    return Figure(
        name=f"rate-{outcome['name'].replace('_', '-')}",
        kind="rate",
        outcome=outcome["name"],
        title=f"{outcome['title']} by ground and rig, as recorded",
        caption=(
            f"{unit[:1].upper()}{unit[1:]} towed, with 95 % intervals. Compare rigs within a "
            "ground, not across grounds; a bar that runs off the edge is wider than shown."
        ),
        table=Table(
            f"{outcome['title']}: {unit} towed, as recorded",
            ["ground", "rig", "hauls", "hours", "total", "per hour", "from", "to"],
            [
                [
                    short_ground(r["ground"]),
                    r["rig"],
                    f"{r['hauls']:,}",
                    f"{r['tow_hours']:,.0f}",
                    f"{r['total']:,.0f}",
                    rate_cell(r["rate"]),
                    rate_cell(r["low"]),
                    rate_cell(r["high"]),
                ]
                for r in ordered
            ],
        ),
    )


def further(findings: Findings) -> Section | None:
    """The other outcomes, in a table: mending, time lost, debris, value, single species."""
    told = {"damage_events", "bottom_living_kg", "other_kg"}
    outcomes = [o for o in findings["outcomes"] if o["name"] not in told]
    effects = [e for e in findings["effects"] if e["ground"] == ALL_GROUNDS and is_told(e)]
    tables = []
    for outcome in outcomes:
        cells = [
            [
                e["rig"],
                ratio_cell(e["ratio"]),
                ratio_cell(e["low"]),
                ratio_cell(e["high"]),
                e["verdict"],
            ]
            for e in effects
            if e["outcome"] == outcome["name"]
        ]
        if cells:
            reference = findings["season"]["reference_rig"]
            tables.append(
                Table(
                    f"{outcome['title']}: times {reference}'s",
                    ["rig", "ratio", "from", "to", "verdict"],
                    cells,
                )
            )
    if not tables:
        return None
    paragraphs = [
        "Like for like, over all grounds. There are many comparisons here; now and then one in "
        "twenty will stand out by luck alone.",
        *[
            words
            for name in ("mending_hours", "hours_lost")
            for words in _record_words(findings, name)
            if name in outcomes_of(findings)
        ],
    ]
    return Section(
        "further", "Mending, stones, money and single species", paragraphs, tables=tables
    )

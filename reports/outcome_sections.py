"""The sections on what happened and what was caught, an outcome each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of, rate_cell, ratio_cell, short_ground
from reports.on_the_mix import mix_table, mix_words
from reports.parts import Figure, Row, Section, Table
from reports.sentences import ALL_GROUNDS, claim, is_clear, is_told, surety, why_untold
from reports.standing.sentences import SHOWN_HEADERS, plan_of, planned, shown_cells
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
            paragraphs=[
                about,
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
    if name in {"mending_hours", "hours_lost"}:
        title = fixed_outcome(name).title.lower()
        return [
            f"Of {record['hauls']:,} hauls with damage, {missing:,} say nothing of {title}; they "
            "are left out, so the figures are too low, and a rig whose damage was written up less "
            "looks the better for it. A boat that wrote it of fewer than half its damaged hauls is "
            "left out whole."
        ]
    told = [
        f"Of {record['hauls']:,} hauls, {missing:,} say nothing that can be used here; they are "
        "left out, not counted as none."
    ]
    if name == "damage_events":
        told.append(
            "A boat that writes mostly when something happened makes the rates too high, and draws "
            "the rigs together."
        )
    return told


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
                f"hauls / {reference}'s",
                "trips",
                "verdict",
                *SHOWN_HEADERS,
            ],
            [_effect_cells(e, plan_of(e, plans)) for e in effects],
        ),
    )


def _effect_cells(effect: Row, plan: Row | None) -> list[str]:
    told = is_told(effect)
    return [
        effect["rig"],
        effect["part"],
        *(ratio_cell(effect[name] if told else None) for name in ("ratio", "low", "high")),
        ratio_cell(effect["raw_ratio"]) if told else "–",
        f"{effect['rig_hauls']:,} / {effect['reference_hauls']:,}",
        f"{effect['rig_trips']:,} / {effect['reference_trips']:,}",
        effect["verdict"] if told else why_untold(effect),
        *shown_cells(plan),
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
    effects = [e for e in findings["effects"] if e["ground"] == ALL_GROUNDS]
    plans = planned(findings)
    tables = []
    for outcome in outcomes:
        cells = [
            [
                e["rig"],
                *(ratio_cell(e[name] if is_told(e) else None) for name in ("ratio", "low", "high")),
                f"{e['rig_hauls']:,} / {e['reference_hauls']:,}",
                e["verdict"] if is_told(e) else why_untold(e),
                *shown_cells(plan_of(e, plans)),
            ]
            for e in effects
            if e["outcome"] == outcome["name"]
        ]
        if cells:
            reference = findings["season"]["reference_rig"]
            tables.append(
                Table(
                    f"{outcome['title']}: times {reference}'s",
                    [
                        *("rig", "ratio", "from", "to", f"hauls / {reference}'s", "verdict"),
                        *SHOWN_HEADERS,
                    ],
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
    unpriced = findings["unpriced_species"]
    if unpriced and "value" in outcomes_of(findings):
        many = f" and {len(unpriced) - 8} more" if len(unpriced) > 8 else ""
        paragraphs.append(
            f"No price is known of {', '.join(unpriced[:8])}{many}: in the value of the catch they "
            "count as nothing."
        )
    return Section("further", "What else was recorded", paragraphs, tables=tables)

"""The rigs on a mix of grounds, in the section of an outcome: a sentence each, and a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import rate_cell, ratio_cell, short_ground
from reports.parts import Row, Table
from reports.ratio_words import span
from reports.sentences import listed, said_of

if TYPE_CHECKING:
    from pipeline.findings import Findings

OF_THE_SEASON = "of the season"
WHOSE = {
    OF_THE_SEASON: "the season's mix of grounds",
    "named by the season": "the mix of grounds named in season.toml",
}
MEANS = (
    "A rig may matter on one ground and not on another. On a mix of grounds each rig has a rate of "
    "its own on each, put together by the same mix for both; judged each by itself. "
)


def mix_words(findings: Findings, outcome: Row) -> list[str]:
    """What the mixes are, and what each rig comes to on them; nothing where there is no mix."""
    rows = _rows(findings, outcome)
    mixes = {row["mix"]: row["weights"] for row in rows}
    if not mixes:
        return []
    told = [
        f"{WHOSE[whose][:1].upper()}{WHOSE[whose][1:]} is {_mix(weights)}."
        for whose, weights in mixes.items()
    ]
    return [
        MEANS + " ".join(told),
        *[_sentence(row, outcome) for row in rows if row["low"] is not None],
    ]


def mix_table(findings: Findings, outcome: Row) -> list[Table]:
    """The rigs on the mixes, also those of which nothing can be said and why."""
    rows = _rows(findings, outcome)
    if not rows:
        return []
    reference = findings["season"]["reference_rig"]
    unit = f"{outcome['unit']} per hour".strip()
    return [
        Table(
            f"{outcome['title']} on a mix of grounds, {unit} towed: each rig against {reference}",
            [
                *("rig", "mix", "over", "of the mix", "rate", f"{reference}'s"),
                *("ratio", "from", "to", "verdict"),
            ],
            [
                [
                    row["rig"],
                    row["mix"],
                    ", ".join(map(short_ground, row["grounds"])) or "–",
                    f"{row['share'] * 100:.0f} %",
                    rate_cell(row["rate"]),
                    rate_cell(row["reference_rate"]),
                    *(ratio_cell(row[name]) for name in ("ratio", "low", "high")),
                    row["reason"] or row["verdict"],
                ]
                for row in rows
            ],
        )
    ]


def _rows(findings: Findings, outcome: Row) -> list[Row]:
    return [row for row in findings["on_the_mix"] if row["outcome"] == outcome["name"]]


def _mix(weights: dict[str, float]) -> str:
    largest = sorted(weights.items(), key=lambda item: -item[1])
    return listed([f"{short_ground(ground)} {share * 100:.0f} %" for ground, share in largest])


def _sentence(row: Row, outcome: Row) -> str:
    """One rig on one mix: over what, how much, how sure, and what was not seen."""
    whole = f"on {WHOSE[row['mix']]}"
    grounds = listed([short_ground(ground) for ground in row["grounds"]])
    over = f"over {grounds}, {row['share'] * 100:.0f} % of {WHOSE[row['mix']]},"
    said = said_of(row, outcome)
    place = over if row["missing"] else whole
    none = (
        f" One of the two had none on {listed([short_ground(g) for g in row['none_on']])}."
        if row["none_on"]
        else ""
    )
    return (
        f"{place[:1].upper()}{place[1:]} {said} "
        f"({span(row['low'], row['high'], outcome)}): {row['verdict']}.{none}"
    )

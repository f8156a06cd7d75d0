"""What the costs of damage rest on: which boats wrote what of how many tears, and what is taken."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.sentences import listed

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

MOST_BOATS = 6
"""So many boats are named; of more it is said how many."""

WRITTEN = {"mending_hours": "mending", "hours_lost": "hours lost"}
TAKEN = (
    "A tear of which it is not written is taken to be like the others with that rig, not to have "
    "cost nothing: on a ground like those there, like for like those on that boat. What a boat "
    "wrote of fewer than half its torn hauls is not used; like for like, such a boat is left out."
)


def written_sentences(findings: Findings) -> str:
    """Of how many tears and by which boats it is written what they took, and by how many hands."""
    boats: dict[str, list[Row]] = {}
    for row in findings["costs"]["written"]:
        boats.setdefault(row["amount"], []).append(row)
    if not boats:
        return ""
    tears = _sum(boats["hands"], "tears")
    said = [f"{words} of {_written(boats[name], tears)}" for name, words in WRITTEN.items()]
    lacking = any(_sum(boats[name], "counted") < tears for name in WRITTEN)
    in_money = _sum(boats["mending_cost"], "counted") > 0
    told = _sum(boats["hands"], "told")
    return " ".join(
        [
            f"Of {tears:,} tears it is written what they took: {'; '.join(said)}.",
            *([TAKEN] if lacking else []),
            *([_hands(told)] if in_money and told < tears else []),
        ]
    )


def _sum(boats: list[Row], name: str) -> int:
    return sum(row[name] for row in boats)


def _written(boats: list[Row], tears: int) -> str:
    """Of how many tears it is written, and by whom."""
    counted = _sum(boats, "counted")
    wrote = [row["vessel"] for row in boats if row["counted"]]
    if not wrote:
        return "none"
    many = "all" if counted == tears else f"{counted:,}"
    named = listed(wrote) if len(wrote) <= MOST_BOATS else f"{len(wrote)} boats"
    if len(wrote) == len(boats):
        return f"{many}, by {'every boat' if len(boats) > 1 else named}"
    return f"{many}, by {named} alone"


def _hands(told: int) -> str:
    """How many tell the hands that mended, by which the cost of mending goes."""
    return (
        f"How many hands mended is written of {f'{told:,}' if told else 'none'}: elsewhere, where "
        "there is no bill either, one hand is taken, so the cost may be too low."
    )

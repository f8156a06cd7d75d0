"""What is not in the money, and why: parts of a tear's cost, and species without a price."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.language import say
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

MOST_NAMED = 8
"""So many species are named in a sentence; the rest are counted."""

NO_COST = saying(
    "What damage costs is not known, so nothing can be said of what pays. It takes hours lost, and "
    "a repair cost in the hauls, or mending hours and what an hour of mending costs (mending_hour "
    "under [costs] in season.toml)."
)
TOO_LITTLE_OF_COST = saying("What damage costs is not known, so nothing can be said of what pays.")
MENDING, LOST = "mending_cost", "hours_lost"
NOBODY_WROTE = {
    MENDING: saying("What mending costs is left out, as nobody wrote it."),
    LOST: saying("What hours lost cost is left out, as nobody wrote them."),
}
TOO_FEW_WROTE = {
    MENDING: saying(
        "What mending costs is left out: it is known of {told:,} of {tears:,} tears, and of a boat "
        "it counts only where it is known of half its damaged hauls or more."
    ),
    LOST: saying(
        "What hours lost cost is left out: they were written of {told:,} of {tears:,} tears, and "
        "of a boat they count only where it wrote them of half its damaged hauls or more."
    ),
}
ALL_NOUGHT = {
    MENDING: saying("What mending costs is left out, as all that was written of it is nought."),
    LOST: saying("What hours lost cost is left out, as all that was written of them is nought."),
}
NO_WORTH = saying(
    "What hours lost cost is left out, as nothing says what one is worth: hour_lost under [costs] "
    "in season.toml would, or prices of the catch."
)
NO_MENDING_HOUR = saying(
    "What mending costs is left out, as nothing says what an hour of it costs: mending_hour under "
    "[costs] in season.toml would, or the repair's own cost of half the damaged hauls."
)
WORTH_NOTHING = saying("What hours lost cost is left out, as an hour lost is worth nothing here.")


def no_cost(findings: Findings) -> str:
    """Why it is not known what damage costs, and what it takes."""
    told = sum(row["told"] for row in findings["costs"]["written"] if row["amount"] in NOBODY_WROTE)
    if not told:
        return say(NO_COST)
    return " ".join([say(TOO_LITTLE_OF_COST), *left_out(findings)])


def left_out(findings: Findings) -> list[str]:
    """Of each part of a tear's cost that is not in the money, why it is not."""
    known = findings["money"]["terms"]["parts"]
    return [_why(part, findings) for part in NOBODY_WROTE if part not in known]


def without_hours_lost(findings: Findings) -> str:
    """That the hours which tears cost are not in the money, where hardly any are written."""
    terms, boats = findings["money"]["terms"], _written(LOST, findings)
    if LOST in terms["parts"] or terms["hour_lost"] == 0:
        return ""
    told, tears = (sum(row[name] for row in boats) for name in ("told", "tears"))
    return say(NO_HOURS_LOST, told=told, tears=tears) if tears else ""


NO_HOURS_LOST = saying(
    "Money is told without fishing hours lost (written of {told:,} of {tears:,} tears), which may "
    "turn it."
)


def _why(part: str, findings: Findings) -> str:
    terms, boats = findings["money"]["terms"], _written(part, findings)
    told, tears = (sum(row[name] for row in boats) for name in ("told", "tears"))
    if part == LOST and terms["hour_lost"] is None:
        return say(NO_WORTH)
    if part == MENDING and terms["mending_hour"] is None and _only_an_hour_lacks(findings):
        return say(NO_MENDING_HOUR)
    if not told:
        return say(NOBODY_WROTE[part])
    if part == LOST and terms["hour_lost"] == 0:
        return say(WORTH_NOTHING)
    if _is_kept(boats):
        return say(ALL_NOUGHT[part])
    return say(TOO_FEW_WROTE[part], told=told, tears=tears)


def _written(amount: str, findings: Findings) -> list[Row]:
    """Boat by boat, of how many tears it was written."""
    return [row for row in findings["costs"]["written"] if row["amount"] == amount]


def _is_kept(boats: list[Row]) -> bool:
    """Whether a boat wrote it of so many of its tears that it counts."""
    return any(2 * row["told"] >= row["tears"] for row in boats)


def _only_an_hour_lacks(findings: Findings) -> bool:
    """Whether the hours of mending are known, and too few bills to make do without their cost."""
    bills, hours = _written(MENDING, findings), _written("mending_hours", findings)
    return _is_kept(hours) and not _is_kept(bills)


def unpriced(findings: Findings) -> str:
    """The species that were kept and have no price; nothing where all have one."""
    species = findings["unpriced_species"]
    if not species:
        return ""
    named = ", ".join(species[:MOST_NAMED])
    if len(species) > MOST_NAMED:
        named = say("{named} and {number} more", named=named, number=len(species) - MOST_NAMED)
    return say(
        "No price is known of {species}: in the value of the catch they count as nothing.",
        species=named,
    )

"""What stands over a chart of ratios, and of which part of the record they are."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.language import say
from reports.sentences import claim, in_part, is_clear, is_headline, is_told, listed, surety
from schemas.words import WHOLE_RECORD, saying

if TYPE_CHECKING:
    from reports.parts import Row


def ratio_title(effects: list[Row], outcome: Row, reference: str) -> str:
    """What stands out most; what is no headline, that it is judged by itself.

    Where nothing does it is said of which part of the record that is, if not of the whole; where
    no ratio is told, that there was no comparison.
    """
    clear = [effect for effect in effects if is_clear(effect)]
    if clear:
        surest = max(clear, key=surety)
        said = claim(surest, outcome)
        return said if is_headline(surest) else say("{claim}, judged by itself", claim=said)
    parts = {effect["part"]: effect for effect in effects if is_told(effect)}
    if not parts:
        return say("No rig could be held to {reference}", reference=reference)
    one = next(iter(parts.values())) if len(parts) == 1 else None
    return say(
        "No rig stands out clearly against {reference}{part}",
        reference=reference,
        part=in_part(one) if one else "",
    )


def of_parts(effects: list[Row]) -> str:
    """Of which rigs the ratio is of a part of the record alone; behind a caption."""
    told = [e for e in effects if is_told(e) and e["part"] != WHOLE_RECORD]
    by_part: dict[str, list[str]] = {}
    for effect in told:
        by_part.setdefault(effect["part"], []).append(effect["rig"])
    return "".join(
        f" {say(OF_A_PART, rigs=listed(rigs), part=part)}" for part, rigs in by_part.items()
    )


OF_A_PART = saying("That of {rigs} is of {part} alone, and not of the whole record.")


def in_which_parts(effects: list[Row]) -> str:
    """The parts of the record in which rigs could be compared, where it is not the whole."""
    parts = sorted({e["part"] for e in effects if is_told(e)} - {WHOLE_RECORD})
    return say(", in {part}", part=listed(parts)) if parts else ""

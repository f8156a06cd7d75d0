"""Which rigs can't be told from the reference, and in which outcomes."""

from __future__ import annotations

from typing import Any

from reports.first_screen import not_told_apart
from schemas.outcomes import HEADLINES, fixed_outcome

DAMAGE, FISH = HEADLINES
OUTCOMES = {name: vars(fixed_outcome(name)) for name in HEADLINES}


def effect(rig: str, outcome: str, *, apart: bool, part: str = "whole record") -> dict[str, Any]:
    cautions = ["not side by side"] if apart else []
    return {"rig": rig, "outcome": outcome, "part": part, "cautions": cautions}


def test_a_rig_apart_in_one_outcome_is_told_so_of_that_one() -> None:
    effects = [
        effect("chain", DAMAGE, apart=False),
        effect("chain", FISH, apart=True),
        effect("discs", DAMAGE, apart=True),
        effect("discs", FISH, apart=True),
    ]
    in_fish, in_both = not_told_apart(effects, "rope", OUTCOMES)
    assert in_fish.startswith("In bottom-living fish: chain and rope were hardly fished side by")
    assert in_both.startswith("discs and rope were hardly fished side by side")


def test_where_none_is_apart_nothing_is_said() -> None:
    assert not_told_apart([effect("chain", DAMAGE, apart=False)], "rope", OUTCOMES) == []

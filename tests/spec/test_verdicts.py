"""What a verdict is made of, and what is said where there is too little to tell."""

from __future__ import annotations

import re
from dataclasses import asdict
from functools import partial
from math import log

import pytest

from pipeline.rates.evidence import Evidence
from pipeline.rates.limits import limits_of_fit
from pipeline.rates.looks import Judging
from pipeline.rates.tally import Tally
from pipeline.rates.verdict import verdict
from reports.standing.sentences import could_have_shown
from schemas.outcomes import fixed_outcome
from tests.spec.text_tables import cases_under, number

cases = partial(cases_under, "verdicts.md")


@pytest.mark.parametrize("case", cases("By the interval"), ids=str)
def test_a_verdict_is_by_the_interval_the_support_and_what_matters(case: dict[str, str]) -> None:
    said = verdict(
        number(case["from"]),
        number(case["to"]),
        can_tell=case["can be told"] == "yes",
        matters=float(case["matters"]),
    )
    assert said == case["says"]


def tally(cell: str) -> Tally:
    """Hauls with any, of how many, in how many hours."""
    some, hauls, hours = re.findall(r"\d+", cell)
    return Tally(int(hauls), int(some), float(hours), float(some))


@pytest.mark.parametrize("case", cases("Seen in few hauls"), ids=str)
def test_what_was_seen_in_few_hauls_is_clear_where_their_numbers_are_too(
    case: dict[str, str],
) -> None:
    own, other = tally(case["rig"]), tally(case["reference"])
    evidence = Evidence(own, other, case["counted"] == "yes", once=case["once"] == "yes")
    assert evidence.says(number(case["from"]), number(case["to"]), matters=2.0) == case["says"]


@pytest.mark.parametrize("case", cases("Among many"), ids=str)
def test_among_many_comparisons_more_is_asked(case: dict[str, str]) -> None:
    judging = Judging(int(case["comparisons"]), together=case["looks"] == "together")
    found = limits_of_fit(
        log(float(case["ratio"])), float(case["error"]), float(case["trips"]) - 1, judging
    )
    matters = judging.matters_of("damage_events")
    together = verdict(found.low_together, found.high_together, can_tell=True, matters=matters)
    alone = verdict(found.low, found.high, can_tell=True, matters=matters)
    assert (together, alone) == (case["says"], case["says alone"])


@pytest.mark.parametrize("case", cases("Too little to tell"), ids=str)
def test_what_could_have_been_shown_is_said(case: dict[str, str]) -> None:
    halving, mattering = (
        number(case[f"hauls for {name}"]) for name in ("a halving", "what matters")
    )
    lower, matters = number(case["lower"]), float(case["matters"])
    plan = {
        "lower": lower,
        "could_show_halving": lower is not None and lower >= 1 / 2,
        "could_show_what_matters": lower is not None and lower >= 1 / matters,
        "higher": number(case["higher"]),
        "hauls_for_halving": None if halving is None else int(halving),
        "matters": matters,
        "hauls_for_what_matters": None if mattering is None else int(mattering),
        "trips_per_haul": 0.1,
        "halving_reads": number(case["a halving reads"]) or 0.5,
        "matters_reads": 1 / matters,
        "by_chance": case["by chance"] == "yes",
        "reference": "rope",
    }
    assert could_have_shown(plan, asdict(fixed_outcome("damage_events"))) == case["says"]

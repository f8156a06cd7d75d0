"""The flow of rows adds up: what is recorded is in the model or named beside it."""

from __future__ import annotations

import pytest

from reports.study.flow import Flow, OutcomeFlow, flow_table


def steps(outcome: OutcomeFlow) -> dict[str, str]:
    """The hauls of each step of the outcome, by its words."""
    flow = Flow(100, 0, [], 100, 10, 2, [outcome])
    return {row[1]: row[2] for row in flow_table(flow).rows if row[0] == outcome.title}


@pytest.mark.parametrize(
    ("foul", "modelled", "told"),
    [
        ("used", 90, {"recorded": "90", "not recorded": "10", "in the model": "90"}),
        (
            "left out",
            88,
            {
                "recorded": "90",
                "not recorded, or a foul tow": "10",
                "in the model": "88",
                "recorded, and not in the model": "2",
            },
        ),
    ],
)
def test_hauls_that_leave_on_the_way_are_named(
    foul: str, modelled: int, told: dict[str, str]
) -> None:
    flow = OutcomeFlow("Fish", 90, 10, foul == "left out", (modelled, 10), None, [])
    assert steps(flow) == told

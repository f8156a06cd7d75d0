"""Where every haul counts as damaged but those that the log calls whole, the pages say so."""

from __future__ import annotations

from typing import Any

import pytest

from pipeline.sharing.shared_findings import damage_is_stood_for as is_stood_for
from reports.stand_ins import damage_is_stood_for

SAID = (
    "Damaged here is a haul with anything but 0 under TROUBLE; whether its net tore is not known."
)


def read_from(**differs: object) -> dict[str, Any]:
    """Findings of a season in which damage was read so."""
    read = {"column": "damaged", "headers": ["TROUBLE"], "value": None, "words": {"0": "no"}}
    return {"method": {"stand_ins": [read | {"otherwise": "yes"} | differs]}}


@pytest.mark.parametrize(
    ("differs", "said"),
    [
        ({}, [SAID]),
        ({"words": {}}, [SAID.replace("0 under", "a blank under")]),
        ({"otherwise": None, "words": {"0": "no", "1": "yes"}}, []),
        ({"headers": [], "value": "no", "words": {}, "otherwise": None}, []),
        ({"column": "ground"}, []),
    ],
)
def test_it_is_said_that_trouble_is_no_tear(differs: dict[str, Any], said: list[str]) -> None:
    findings = read_from(**differs)
    assert damage_is_stood_for(findings) == said
    assert is_stood_for(findings) == bool(said)


def test_nothing_is_said_where_nobody_asked_what_was_read() -> None:
    assert damage_is_stood_for({}) == []

"""How the fishing hours of parts are told, and parts by their size."""

from __future__ import annotations

from typing import Any

import pytest

from reports.gear_words import says_its_size
from reports.rig_drawing.section import Run, Section
from reports.rig_drawing.words import key_of
from reports.rigs.sentences import part_sentences, wear_sentences


def part_of(section: str, part: str, hours: float, since: str) -> dict[str, Any]:
    before = hours - 132
    return {
        "vessel": "Skua",
        "section": section,
        "part": part,
        "hours": hours,
        "hours_before": before,
        "since": since,
    }


def test_parts_of_one_name_with_unlike_hours_are_told_by_their_section() -> None:
    """The wings' discs came over, those of the bosom are new; the chain came over all along."""
    hours = [
        part_of("bosom", "disc", 132, "b"),
        part_of("bosom", "chain", 502, "a"),
        part_of("wing", "disc", 502, "a"),
        part_of("wing", "chain", 502, "a"),
    ]
    assert wear_sentences({"part_hours": hours}) == [
        "Skua: chain and disc (wing) 502, since a; disc (bosom) 132, since b."
    ]


@pytest.mark.parametrize(
    ("name", "diameter_mm", "told"),
    [
        ("16 mm chain", 16.0, True),
        ("16mm chain", 16.0, True),
        ("chain 16 MM", 16.0, True),
        ("chain", 16.0, False),
        ("16 mm chain", 13.0, False),
        ("116 mm disc", 16.0, False),
        ("1.16 mm wire", 16.0, False),
        ("12.5 mm chain", 12.5, True),
        ("16 inch disc", 16.0, False),
    ],
)
def test_a_name_tells_its_size_or_not(name: str, diameter_mm: float, *, told: bool) -> None:
    assert says_its_size(name, diameter_mm) == told


def test_a_size_that_the_name_tells_is_told_once() -> None:
    part = {"part": "16 mm chain", "diameter_mm": 16.0, "material": "steel", "section": "wing"}
    unknown = {"mass_from": None, "share_kept": None, "lacks": None}
    assert part_sentences({"parts": [part | unknown]}) == ["16 mm chain of steel: mass not known."]
    runs = tuple(Run(name, "chain", 16.0, "DIN 766") for name in ("16 mm chain", "chain"))
    assert key_of(Section("wing", None, (), (), runs, ())) == (
        "16 mm chain on the fishing line; chain 16\u00a0mm on the fishing line"
    )

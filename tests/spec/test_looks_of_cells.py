"""How cells are set: figures and dates on one line, words in a column wide enough to read."""

from __future__ import annotations

import pytest

from reports.looks_of_cells import look_of_cell


@pytest.mark.parametrize(
    ("cell", "look"),
    [
        ("2031-01-07", "figures"),
        ("0.71 to 1.97", "figures"),
        ("-105 to 1,086", "figures"),
        ("–", ""),
        ("", ""),
        ("mixed ground", ""),
        ("too little to tell", "words"),
        ("+10 % (-9 % to +35 %)", "figures"),
        ("17 of 20 hauls told of damage", "words"),
        (
            "hauls: deck log, row 2, rig_version is blank, and no fitting was in force",
            "long-words",
        ),
    ],
)
def test_look_of_a_cell(cell: str, look: str) -> None:
    assert look_of_cell(cell) == look

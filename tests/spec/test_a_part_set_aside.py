"""A rig of which a row of parts was set aside weighs at least what is left, and says so."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pipeline.rig_facts import season_rigs
from reports.rig_drawing.line import fishing_line
from reports.rig_drawing.section import section_of
from reports.rig_drawing.words import side_told
from reports.rigs.sheet import rig_sheet

if TYPE_CHECKING:
    from pathlib import Path
    from typing import Any

    Row = dict[str, Any]

PARTS = "rig_version,section,part,line,material,count,each_kg,diameter_mm,width_mm"


def whole_weight(folder: Path, *rows: str) -> dict[str, object]:
    """The weights of the whole of the rig that `rig_with` makes of these rows."""
    return next(row for row in rig_with(folder, *rows)["weights"] if row["section"] == "whole")


def rig_with(folder: Path, *rows: str) -> Row:
    """What is known of rig a, with 10 kg of chain in each section and these rows beside."""
    chains = [f"a,{section},chain,main,steel,1,10,," for section in ("wing", "bunt", "bosom")]
    files = {
        "hauls": ["vessel,trip,haul,rig_version,ground,tow_hours", "Skua,1,1,a,sand,3"],
        "rig_versions": [
            "rig_version,ground_gear,fishing_line_m,ground_gear_m,toggle_mm",
            "a,rockhopper,24.6,24,300",
        ],
        "rig_parts": [PARTS, *chains, *rows],
    }
    for name, lines in files.items():
        (folder / f"{name}.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    (rig,) = season_rigs(folder).rows
    return rig


def test_a_part_set_aside_makes_the_weight_at_least_the_rest(tmp_path: Path) -> None:
    whole = whole_weight(tmp_path, "a,bunt,discs,main,rubber,17.5,2,,")
    assert (whole["mass_air_kg"], whole["at_least"]) == (50.0, True)
    assert whole["missing"] == ["bunt, discs: its row was set aside"]


def test_a_part_that_stands_twice_is_missing_nothing(tmp_path: Path) -> None:
    whole = whole_weight(tmp_path, "a,bunt,chain,main,steel,1,10,,")
    assert (whole["mass_air_kg"], whole["at_least"]) == (50.0, False)


LARGE_AND_SMALL = ("main,rubber,30,,300,60", "main,rubber,40,,120,50")


@pytest.mark.parametrize("section", ["bosom", "wing"])
def test_no_gap_is_told_by_the_lengths_of_a_section_of_which_a_part_was_set_aside(
    section: str, tmp_path: Path
) -> None:
    discs = [f"a,{section},disc,{disc}" for disc in LARGE_AND_SMALL]
    rig = rig_with(tmp_path, "a,bosom,bobbin,main,rubber,4,,200,180", *discs)
    known = {row["section"]: row["largest_diameter_mm"] for row in rig["weights"]}
    assert (known[section], known["whole"]) == (None, None)
    where = rig["geometry"]
    assert (where["gap_mm"] is None) == (section == "bosom")
    drawn = section_of(rig, section)
    line = fishing_line(rig, drawn)
    assert line.gap_mm is None
    assert side_told(drawn, line, None).endswith(
        "Not drawn: chain, disc. A row of its parts was set aside, so that it may be thicker."
    )
    sheet = " ".join(rig_sheet(rig).split())
    unknown = "its largest part, and its gap by its lengths, are"
    if section == "wing":
        unknown = "its largest part is"
    assert (
        f"> a is not weighed wholly. Rows of its parts were set aside ({section}, disc), so that "
        f"{unknown} not known; rigseason check SEASON says why."
    ) in sheet
    assert "disc: its row was set aside." in sheet
    assert "on: main." in sheet


def test_both_of_two_parts_count_where_each_has_a_name_of_its_own(tmp_path: Path) -> None:
    discs = [
        f"a,bosom,{name},{disc}"
        for name, disc in zip(("discs", "small discs"), LARGE_AND_SMALL, strict=True)
    ]
    rig = rig_with(tmp_path, *discs)
    largest = {row["section"]: row["largest_diameter_mm"] for row in rig["weights"]}
    assert (largest["bosom"], rig["geometry"]["gear_diameter_mm"]) == (300.0, 300.0)
    assert {row["kind"] for row in rig["parts"]} == {"chain", "disc"}

"""A rig of which a row of parts was set aside weighs at least what is left, and says so."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.rig_facts import season_rigs

if TYPE_CHECKING:
    from pathlib import Path

PARTS = "rig_version,section,part,line,material,count,each_kg"


def whole_weight(folder: Path, *rows: str) -> dict[str, object]:
    """The whole of rig a, with 10 kg of chain in each section and these rows beside."""
    chains = [f"a,{section},chain,main,steel,1,10" for section in ("wing", "bunt", "bosom")]
    files = {
        "hauls": ["vessel,trip,haul,rig_version,ground,tow_hours", "Skua,1,1,a,sand,3"],
        "rig_versions": ["rig_version,ground_gear", "a,chain"],
        "rig_parts": [PARTS, *chains, *rows],
    }
    for name, lines in files.items():
        (folder / f"{name}.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    (rig,) = season_rigs(folder).rows
    return next(row for row in rig["weights"] if row["section"] == "whole")


def test_a_part_set_aside_makes_the_weight_at_least_the_rest(tmp_path: Path) -> None:
    whole = whole_weight(tmp_path, "a,bunt,discs,main,rubber,17.5,2")
    assert (whole["mass_air_kg"], whole["at_least"]) == (50.0, True)
    assert whole["missing"] == ["bunt, discs: the mass of one, or its diameter and width"]


def test_a_part_that_stands_twice_is_missing_nothing(tmp_path: Path) -> None:
    whole = whole_weight(tmp_path, "a,bunt,chain,main,steel,1,10")
    assert (whole["mass_air_kg"], whole["at_least"]) == (50.0, False)

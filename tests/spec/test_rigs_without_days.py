"""A log without days still tells which rigs were fished."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.run_season import run_season

if TYPE_CHECKING:
    from pathlib import Path


def test_rigs_of_hauls_without_a_day_are_among_the_rigs(tmp_path: Path) -> None:
    rows = [
        f"Skua,{trip},{haul},{rig},sand,3,{events}"
        for trip in range(1, 9)
        for haul, (rig, events) in enumerate((("a", 1), ("b", trip % 2)), start=1)
    ]
    log = "\n".join(["vessel,trip,haul,rig_version,ground,tow_hours,damage_events", *rows])
    (tmp_path / "hauls.csv").write_text(log + "\n", encoding="utf-8")
    findings = run_season(tmp_path).findings
    assert [(rig["rig_version"], rig["hauls"]) for rig in findings["rigs"]] == [("a", 8), ("b", 8)]
    assert findings["rigs"][0]["part_hours"] == []

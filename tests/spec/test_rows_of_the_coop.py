"""Which rigs have a row in the co-op's tables by rig and ground."""

from __future__ import annotations

from typing import Any

from reports.coop.sections import shared_tables


def cell(rig: str | None, ground: str | None, hours: float | None) -> dict[str, Any]:
    return {"rig": rig, "ground": ground, "shown": hours is not None, "tow_hours": hours}


def season(*cells: dict[str, Any]) -> dict[str, Any]:
    return {
        "season": {"grounds": ["mud", "sand"], "rectangles": [], "hauls": None},
        "rigs": [{"rig_version": rig} for rig in ("chain", "discs", "rope")],
        "outcomes": [],
        "unknown_damage": {"any": False, "hauls": None},
        "sharing": {"hidden": 1},
        "cells": [
            {**each, "damage_events_per_hour_at_most": None}
            for each in (cell(None, None, 90.0), cell(None, "mud", 50.0), *cells)
        ],
    }


def test_a_rig_of_which_every_cell_is_hidden_is_named_and_has_no_row() -> None:
    found = shared_tables(
        season(cell("chain", "mud", 40.0), cell("discs", "mud", None), cell("rope", "sand", None))
    )
    assert found is not None
    (table,) = found.tables
    assert table.rows == [["all rigs", "90", "50", "–"], ["chain", "–", "40", "–"]]
    assert "Of discs and rope every cell is hidden, so that they have no row here." in (
        found.paragraphs
    )


def test_where_each_rig_has_a_cell_that_is_shown_nothing_is_said_of_rows() -> None:
    of_all = [cell(rig, "mud", 10.0) for rig in ("chain", "discs", "rope")]
    found = shared_tables(season(*of_all, cell("rope", "sand", None)))
    assert found is not None
    assert [row[0] for row in found.tables[0].rows] == ["all rigs", "chain", "discs", "rope"]
    assert not any("no row" in said for said in found.paragraphs)

"""Which notes say nothing of the net, and what they mean where a blank one means no damage."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pipeline.notes.silent import says_nothing_of_the_net
from pipeline.run_season import run_season

if TYPE_CHECKING:
    from pathlib import Path

SILENT = (
    "wind NW 6", "few prawns in it", "jellies thick", "shifted for traffic", "good haul",
    "hauled early", "tide strong", "fine day, 12 boxes plaice", "fog, steamed to the north",
)  # fmt: skip
OF_THE_NET = (
    "came fast", "hung up 2 hrs", "lot of mud", "port wing?", "net needs looking at", "foul",
    "stones", "mended", "brought up an anchor", "will see in daylight", "doors crossed", "all ok?",
)  # fmt: skip


@pytest.mark.parametrize("note", SILENT)
def test_talk_of_wind_fish_and_the_day_says_nothing_of_the_net(note: str) -> None:
    assert says_nothing_of_the_net(note)


@pytest.mark.parametrize("note", OF_THE_NET)
def test_what_may_have_torn_the_net_or_is_in_doubt_is_no_such_talk(note: str) -> None:
    assert not says_nothing_of_the_net(note)


def season(folder: Path, settings: str) -> Path:
    """Four hauls: two notes of other things, one that came fast, one that tore."""
    notes = ("wind NW 6", "dull", "came fast", "belly torn out of her")
    rows = [f"Skua,1,{at},4,bobbins-14,{note}" for at, note in enumerate(notes, 1)]
    header = "vessel,trip,haul,tow_hours,rig_version,damage_note"
    (folder / "hauls.csv").write_text("\n".join([header, *rows]) + "\n", encoding="utf-8")
    (folder / "season.toml").write_text(settings, encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    ("settings", "known"),
    [('[notes]\nblank_means = "no damage"\n', {"a silent note": 2, "the note": 1}), ("", {})],
    ids=["blank means no damage", "blank is not known"],
)
def test_they_mean_no_damage_where_a_blank_note_does(
    tmp_path: Path, settings: str, known: dict[str, int]
) -> None:
    told = run_season(season(tmp_path, settings)).findings["notes"]["told_by"]
    assert told.get("a silent note", 0) == known.get("a silent note", 0)
    assert told["the note"] == 1
    assert told["nothing"] == 3 - known.get("a silent note", 0)

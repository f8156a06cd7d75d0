"""What is said of two rigs in one tow: on the first screen, the terminal and in their section."""

from __future__ import annotations

import csv
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

import polars as pl
import pytest

from pipeline.rates.looks import Judging
from pipeline.rates.twin_tows import find_twin_tows
from pipeline.run_season import run_season
from reports.advice.opening import opening
from reports.in_short import in_short
from reports.one_tow import two_rigs_in_one_tow
from schemas.codes import OtherWay, WayNote

if TYPE_CHECKING:
    from pathlib import Path

    from pipeline.findings import Findings

TOWS, TRIPS = 24, 2
FIRST_SHOT = datetime(2031, 4, 2, 5, 40)
NETS = {"P": "discs-8", "S": "hoppers-14"}
SPARED = (
    "From 24 tows that fished both hoppers-14 and discs-8 at once, in 2 trips: hoppers-14 damaged "
    "the net 83 % less often per hour towed than discs-8 (between 25 and 98 % less often)."
)


def tow(number: int) -> list[dict[str, object]]:
    """Both nets of a tow: half of the tows tear the discs, every twelfth the hoppers."""
    torn = {"discs-8": number % 2 == 0, "hoppers-14": number % 12 == 0}
    shot = FIRST_SHOT + timedelta(hours=5 * number + 150 * (number * TRIPS // TOWS))
    return [
        {
            "vessel": "Fulmar",
            "trip": number * TRIPS // TOWS + 1,
            "haul": f"{number}{side}",
            "shot_at": shot.isoformat(sep=" "),
            "tow_hours": 4,
            "rig_version": rig,
            "ground": "stones",
            "damaged": ("no", "yes")[torn[rig]],
        }
        for side, rig in NETS.items()
    ]


def season(folder: Path, **change: object) -> Path:
    """The season's folder; `change` is what all hauls have instead."""
    folder.mkdir()
    rows = [{**net, **change} for number in range(TOWS) for net in tow(number)]
    with (folder / "hauls.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    return folder


@pytest.fixture(scope="module")
def findings(tmp_path_factory: pytest.TempPathFactory) -> Findings:
    return run_season(season(tmp_path_factory.mktemp("twin") / "season")).findings


def test_a_trial_of_two_trips_has_its_answer_on_the_first_screen(findings: Findings) -> None:
    said = {line.label: line.says for line in opening(findings)}
    assert said["Keep"] == "discs-8 for now: no other rig was shown to be better both ways."
    assert said["In one tow"] == SPARED
    assert f"  {SPARED}" in in_short(findings).splitlines()


def test_its_section_tells_how_the_range_was_found(findings: Findings) -> None:
    section = two_rigs_in_one_tow(findings)
    assert section is not None
    assert SPARED in section.paragraphs
    (figure,) = section.figures
    (row,) = figure.table.rows
    assert "|".join(row) == "hoppers-14|discs-8|2|24|0|10|2|0.17|0.02|0.75"
    assert figure.kind == "one-tow"
    assert "Clopper and Pearson" in section.points[0]


def test_it_is_a_way_in_which_a_headline_is_tried(tmp_path: Path) -> None:
    """Where there are trips enough for a headline, that is; a tow a trip makes them so."""
    folder = season(tmp_path / "season")
    rows = pl.read_csv(folder / "hauls.csv", infer_schema=False)
    in_twelve = pl.col("haul").str.strip_chars("PS").cast(pl.Int64) // 2
    rows.with_columns(trip=in_twelve).write_csv(folder / "hauls.csv")
    (headline,) = run_season(folder).findings["sensitivity"]
    ways = {way["way"]: way for way in headline["ways"]}
    assert ways[OtherWay.WITHIN_TOWS]["ratio"] == pytest.approx(1 / 6)
    assert ways[OtherWay.WITHIN_TOWS]["note"] == WayNote.OF_ITS_OWN
    assert OtherWay.WITHIN_TOWS not in headline["changed_by"]


def test_a_season_without_twin_tows_says_nothing_of_them(tmp_path: Path) -> None:
    findings = run_season(season(tmp_path / "season", shot_at="2031-04-02")).findings
    assert findings["twin_tows"] == []
    assert two_rigs_in_one_tow(findings) is None


def test_the_studys_hauls_name_their_tow_so_that_the_ratio_can_be_found_again(
    tmp_path: Path,
) -> None:
    results = run_season(season(tmp_path / "season"), tmp_path / "out", readers=("study",))
    hauls = pl.read_csv(tmp_path / "out" / "study" / "hauls.csv")
    by_tow = hauls.group_by("tow").agg(pl.col("rig_version").sort(), pl.col("tow_hours").sum())
    assert by_tow.height == TOWS
    assert by_tow["rig_version"].to_list() == [sorted(NETS.values())] * TOWS
    shot = pl.lit(FIRST_SHOT) + pl.duration(hours=pl.col("tow"))
    again = find_twin_tows(
        hauls.with_columns(shot_at=shot, bottom_living_kg=pl.lit(None)), "discs-8", Judging()
    )
    assert [row.ratio for row in again] == [row["ratio"] for row in results.findings["twin_tows"]]


def with_sides(folder: Path, *, changed: bool) -> Findings:
    """The season with each net's side: P is port, and in the second trip starboard if changed."""
    rows = pl.read_csv(season(folder) / "hauls.csv", infer_schema=False)
    turned = (pl.col("trip") == "2") if changed else pl.lit(value=False)
    to_port = pl.col("haul").str.ends_with("P") != turned
    side = pl.when(to_port).then(pl.lit("port")).otherwise(pl.lit("starboard"))
    rows.with_columns(side.alias("net_side")).write_csv(folder / "hauls.csv")
    return run_season(folder).findings


def test_a_rig_that_was_always_on_one_side_is_told_to_be_maybe_the_side(tmp_path: Path) -> None:
    findings = with_sides(tmp_path / "season", changed=False)
    section = two_rigs_in_one_tow(findings)
    assert section is not None
    assert section.paragraphs[-1] == (
        f"{SPARED[:-1]}, but hoppers-14 was always on one side, or nearly: it may be the side."
    )
    assert section.points[-1] == (
        "hoppers-14 was the net nearer port, of the two, in 0 of 24 tows with discs-8: that is too "
        "seldom changed to part the side from the rig, and what the side does is in the figure."
    )


def test_sides_that_changed_are_told_and_what_was_made_of_them(tmp_path: Path) -> None:
    section = two_rigs_in_one_tow(with_sides(tmp_path / "season", changed=True))
    assert section is not None
    assert section.paragraphs[-1] == SPARED
    assert section.points[-1] == (
        "hoppers-14 was the net nearer port, of the two, in 12 of 24 tows with discs-8: as so few "
        "tows had any, sides are not held alike, and what a side does is in the figure as far as "
        "they were not shared evenly."
    )


def test_where_sides_are_not_written_it_is_said_how_to_write_them(findings: Findings) -> None:
    section = two_rigs_in_one_tow(findings)
    assert section is not None
    assert section.points[-1].startswith(
        "On which side a net was towed is not written of all tows (net_side)"
    )

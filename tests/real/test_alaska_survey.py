"""The survey of the Gulf of Alaska and the Aleutian Islands, 1991 to 2017: its known answers.

Source of the hauls: bottom-trawl survey of the US Alaska Fisheries Science Center (NOAA), public
domain. Source of the answers: worked out beside the data by a Poisson fit of single hauls with
log hours as offset, adjusted for region, errors clustered by vessel and cruise (HC1), and by
plain counts; they stand in the README that lies with the files.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from pipeline import run_season

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pipeline.findings import Findings

WHERE = "RIGSEASON_REAL_DATA"
ROOT = Path(__file__).parents[2]
SEASON = Path(__file__).parent / "alaska_survey"


def data_folder() -> Path | None:
    """Return where the files lie: where the environment says, else beside the project."""
    places = [Path(os.environ[WHERE])] if os.environ.get(WHERE) else []
    places.append(ROOT / "../shared/real_data/alaska_survey")
    return next((place.resolve() for place in places if (place / "haul.csv").is_file()), None)


pytestmark = [
    pytest.mark.real,
    pytest.mark.skipif(
        data_folder() is None,
        reason=f"the survey's files are neither in ${WHERE} nor in ../shared/real_data",
    ),
]

# Region, rig: hauls, hours towed, hauls with trouble.
KNOWN = {
    ("AI", "64"): (1_546, 557.1109, 230),
    ("AI", "129"): (2_836, 747.0130, 413),
    ("GOA", "64"): (2_233, 776.9452, 217),
    ("GOA", "129"): (6_412, 1_741.0781, 677),
}


@pytest.fixture(scope="module")
def findings() -> Iterator[Findings]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(WHERE, str(data_folder()))
        yield run_season(SEASON).findings


def effect(findings: Findings, part: str) -> dict[str, Any]:
    """Return the effect of rig 129 against 64 on trouble, both regions together."""
    (found,) = [
        each
        for each in findings["effects"]
        if (each["outcome"], each["ground"], each["part"]) == ("damage_events", "all", part)
    ]
    assert (found["rig"], found["reference"]) == ("129", "64")
    return found


@pytest.mark.parametrize(("table", "read"), [("hauls", 13_027), ("catches", 315_048)])
def test_every_row_is_used_or_set_aside(findings: Findings, table: str, read: int) -> None:
    rows = findings["rows"][table]
    assert rows["read"] == read
    assert rows["read"] == rows["used"] + rows["set_aside"]


def test_rows_set_aside_are_told_one_for_one(findings: Findings) -> None:
    told = sum(each["rows"] for each in findings["set_aside"])
    assert told == sum(rows["set_aside"] for rows in findings["rows"].values())


@pytest.mark.parametrize(("region", "rig"), KNOWN)
def test_hauls_hours_and_troubles_are_the_known_ones(
    findings: Findings, region: str, rig: str
) -> None:
    (rate,) = [
        each
        for each in findings["rates"]
        if (each["outcome"], each["ground"], each["rig"]) == ("damage_events", region, rig)
    ]
    hauls, hours, troubles = KNOWN[region, rig]
    assert rate["hauls"] == hauls
    assert rate["tow_hours"] == pytest.approx(hours, abs=1e-4)
    assert rate["total"] == troubles
    assert rate["rate"] == pytest.approx(troubles / hours, rel=1e-6)


def test_whole_record_gives_the_known_ratio(findings: Findings) -> None:
    found = effect(findings, "whole record")
    assert found["log_ratio"] == pytest.approx(0.312574, abs=5e-7)
    assert found["std_error"] == pytest.approx(0.094796, abs=5e-7)
    assert (found["hauls"], found["trips"]) == (13_027, 56)


def test_whole_record_is_not_announced_as_a_difference(findings: Findings) -> None:
    # Before 1999 there is only rig 64, after 2002 only 129: the 37 % is of the years, not the rig.
    found = effect(findings, "whole record")
    assert "not side by side" in found["cautions"]
    assert found["verdict"] == "too little to tell"


def test_years_side_by_side_show_no_difference(findings: Findings) -> None:
    found = effect(findings, "1999 to 2002")
    assert found["log_ratio"] == pytest.approx(0.057940, abs=5e-7)
    assert found["std_error"] == pytest.approx(0.131948, abs=5e-7)
    assert (found["hauls"], found["trips"]) == (2_086, 10)
    assert found["verdict"] not in {"lower", "higher"}
    assert "not side by side" not in found["cautions"]

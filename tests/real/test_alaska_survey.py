"""The survey of the Gulf of Alaska and the Aleutian Islands, 1991 to 2017: its known answers.

Source of the hauls: bottom-trawl survey of the US Alaska Fisheries Science Center (NOAA), public
domain. Source of the answers: worked out beside the data by a Poisson fit of single hauls with
log hours as offset, adjusted for region, errors clustered by vessel and cruise (HC1), and by
plain counts; they stand in the README that lies with the files. Errors by leaving out each cruise
are worked out here, from single hauls, beside the known ones.
"""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import polars as pl
import pytest
import statsmodels.api as sm

from pipeline import run_season
from reports.contents import report_contents
from reports.editions import EDITIONS
from tests.outside.left_out import left_out_errors

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


def single_hauls(first_year: int, last_year: int) -> tuple[float, float, float]:
    """The log ratio of 129 to 64, and its errors clustered by cruise and by leaving one out."""
    hauls = pl.read_csv(Path(str(data_folder())) / "haul.csv", infer_schema_length=None).filter(
        pl.col("START_TIME").str.slice(0, 4).cast(pl.Int64).is_between(first_year, last_year)
    )
    total = (hauls["PERFORMANCE"] != 0).to_numpy().astype(float)
    design = np.column_stack(
        [
            np.ones(hauls.height),
            (hauls["ACCESSORIES"] == 129).to_numpy().astype(float),
            (hauls["REGION"] == "GOA").to_numpy().astype(float),
        ]
    )
    cruise = hauls.select(pl.struct("VESSEL", "CRUISE").rank("dense").alias("cruise"))["cruise"]
    trip = cruise.to_numpy().astype(np.int64)
    fit = sm.GLM(
        total,
        design,
        family=sm.families.Poisson(),
        offset=np.log(hauls["DURATION"].to_numpy()),
    ).fit(tol=1e-12, cov_type="cluster", cov_kwds={"groups": trip, "use_correction": True})
    left_out = left_out_errors(design, total, fit.mu, trip)
    return float(fit.params[1]), float(fit.bse[1]), float(left_out[1])


@pytest.mark.parametrize(
    ("years", "part", "known"),
    [
        ((1991, 2017), "whole record", (0.312574, 0.094796)),
        ((1999, 2002), "1999 to 2002", (0.057940, 0.131948)),
    ],
)
def test_errors_are_by_leaving_out_each_cruise(
    findings: Findings, years: tuple[int, int], part: str, known: tuple[float, float]
) -> None:
    log_ratio, clustered, left_out = single_hauls(*years)
    assert (log_ratio, clustered) == pytest.approx(known, abs=5e-7)
    found = effect(findings, part)
    assert found["errors"] == "one trip left out at a time"
    assert (found["log_ratio"], found["std_error"]) == pytest.approx(
        (log_ratio, left_out), abs=1e-7
    )


def test_whole_record_gives_the_known_ratio(findings: Findings) -> None:
    found = effect(findings, "whole record")
    assert found["log_ratio"] == pytest.approx(0.312574, abs=5e-7)
    assert (found["hauls"], found["trips"]) == (13_027, 56)


def test_whole_record_is_not_announced_as_a_difference(findings: Findings) -> None:
    # Before 1999 there is only rig 64, after 2002 only 129: the 37 % is of the years, not the rig.
    found = effect(findings, "whole record")
    assert "not side by side" in found["cautions"]
    assert found["verdict"] == "too little to tell"


def test_years_side_by_side_show_no_difference(findings: Findings) -> None:
    found = effect(findings, "1999 to 2002")
    assert found["log_ratio"] == pytest.approx(0.057940, abs=5e-7)
    assert (found["hauls"], found["trips"]) == (2_086, 10)
    assert found["verdict"] not in {"lower", "higher"}
    assert "not side by side" not in found["cautions"]


def first_screen(findings: Findings) -> str:
    """All words of the first screen."""
    contents = report_contents(findings, EDITIONS["study"])
    cards = [" ".join([line.words, *line.sides]) for card in contents.cards for line in card.lines]
    table = [cell for row in contents.by_ground.rows for cell in row] if contents.by_ground else []
    return " ".join([contents.lead, *cards, *contents.untold, *table])


def test_the_first_screen_has_the_ratio_side_by_side_and_none_over_all_years(
    findings: Findings,
) -> None:
    words = first_screen(findings)
    part = effect(findings, "1999 to 2002")
    of_part = [part[name] for name in ("ratio", "low", "high")]
    told = [f"{abs(1 - ratio) * 100:.0f} %" for ratio in of_part]
    assert f"{told[0]} more often (anything from {told[1]} less often to {told[2]} more" in words
    assert "in 1999 to 2002" in words
    for outcome in ("damage_events", "bottom_living_kg"):
        (whole,) = (
            each
            for each in findings["effects"]
            if (each["outcome"], each["ground"], each["part"]) == (outcome, "all", "whole record")
        )
        for ratio in (whole["ratio"], whole["raw_ratio"]):
            way = "more" if ratio > 1 else "less"
            assert not re.search(rf"\b{abs(1 - ratio) * 100:.0f} % {way}", words)


def test_changes_of_rig_are_named_with_what_came_with_them(findings: Findings) -> None:
    changes = findings["changes"]["changes"]
    assert len(changes) == findings["changes"]["of_all"] == 10
    came_with = {
        (change["vessel"], change["day"]): [each["what"] for each in change["came_with"]]
        for change in changes
    }
    # On boat 94 the rig was changed over two winters, and the survey had gone to the other region.
    assert came_with["94", "2000-05-21"] == ["ground", "depth", "season"]
    assert came_with["94", "2001-05-20"] == ["ground", "depth", "season"]
    assert came_with["94", "2002-06-30"] == came_with["94", "2002-07-05"] == []


def test_the_placebo_is_shown_beside_the_changes(findings: Findings) -> None:
    (during,) = (
        placebo
        for placebo in findings["changes"]["placebos"]
        if placebo["outcome"] == "damage_events" and not placebo["between_trips"]
    )
    assert during["days"] > 30
    assert during["lowest"] < 0.5
    assert during["highest"] > 2
    assert during["together"]["low"] < 1 < during["together"]["high"]
    (section,) = (
        section
        for section in report_contents(findings, EDITIONS["study"]).sections
        if section.name == "before-and-after"
    )
    lowest, highest = f"{during['lowest']:.2f}", f"{during['highest']:.2f}"
    told = f"the ratio ran from {lowest} to {highest}"
    assert any(told in words for words in section.paragraphs)
    assert f"went to between {lowest} and {highest} times" in first_screen(findings)
    # From ground to ground the fish change faster than the days of one trip tell.
    fish = [p for p in findings["changes"]["placebos"] if p["outcome"] == "bottom_living_kg"]
    assert [p["too_narrow"] for p in fish if not p["between_trips"]] == [True]
    assert [figure.kind for figure in section.figures] == ["changes", "changes"]


def test_hauls_about_a_change_are_those_of_the_survey(findings: Findings) -> None:
    # Worked out anew from the survey's file: boat 57, the last 40 hauls with 64, then 40 with 129.
    hauls = (
        pl.read_csv(Path(str(data_folder())) / "haul.csv", infer_schema_length=None)
        .filter(pl.col("VESSEL") == 57)
        .sort("START_TIME")
    )
    before = hauls.filter(pl.col("ACCESSORIES") == 64).tail(40)
    after = hauls.filter(pl.col("START_TIME") >= "2001-05-20").head(40)
    (change,) = (c for c in findings["changes"]["changes"] if c["vessel"] == "57")
    about = change["ratios"][0]["about"]
    troubles = [int((side["PERFORMANCE"] != 0).sum()) for side in (before, after)]
    assert [about["total_before"], about["total_after"]] == troubles
    assert set(before["REGION"]) == set(after["REGION"]) == {"GOA"}
    rates = [
        trouble / float(side["DURATION"].sum())
        for trouble, side in zip(troubles, (before, after), strict=True)
    ]
    assert about["ratio"] == pytest.approx(rates[1] / rates[0], rel=1e-6)

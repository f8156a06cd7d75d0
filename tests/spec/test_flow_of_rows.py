"""The flow of rows adds up: what is recorded is in the model or named beside it."""

from __future__ import annotations

from re import findall
from typing import TYPE_CHECKING

import pytest

from pipeline import run_season
from reports.advice.to_do import NO_CHECKS, to_look_over
from reports.study.flow import Flow, OutcomeFlow, RigFlow, flow_of, flow_table
from reports.study.flow_drawing import TRUNK, _fitted, _Way, flow_drawing
from reports.study.section import flow_section

if TYPE_CHECKING:
    from pathlib import Path

    from pipeline.findings import Findings


def steps(outcome: OutcomeFlow) -> dict[str, str]:
    """The hauls of each step of the outcome, by its words."""
    flow = Flow(100, 0, [], 100, 10, 2, [outcome])
    return {row[1]: row[2] for row in flow_table(flow).rows if row[0] == outcome.title}


@pytest.mark.parametrize(
    ("foul", "modelled", "told"),
    [
        (None, 90, {"recorded": "90", "not recorded": "10", "in the model": "90"}),
        (
            4,
            88,
            {
                "recorded": "90",
                "not recorded": "10",
                "foul tows, left out": "4",
                "in the model": "88",
                "recorded, and not in the model": "2",
            },
        ),
    ],
)
def test_hauls_that_leave_on_the_way_are_named(
    foul: int | None, modelled: int, told: dict[str, str]
) -> None:
    flow = OutcomeFlow("Fish", 90, 10, foul, (modelled, 10), None, [])
    assert steps(flow) == told


def test_why_hauls_are_not_in_the_model_stands_beside_them() -> None:
    why = ["depth_band 200–400 m: none of the outcome there"]
    flow = OutcomeFlow(
        "Damage",
        90,
        0,
        foul=None,
        modelled=(88, 10),
        reference=None,
        rigs=[],
        kept_out=why,
    )
    assert steps(flow)[f"recorded, and not in the model: {why[0]}"] == "2"


def test_a_rig_compared_in_a_part_is_not_called_not_compared() -> None:
    part = RigFlow("129", 995, 8, 70.0, "1999 to 2002", told=True, beside="in 1999 to 2002")
    whole = RigFlow("129", 9248, 41, 70.0, "not side by side", told=False, partly=True)
    assert list(
        steps(
            OutcomeFlow(
                "Damage",
                90,
                0,
                foul=None,
                modelled=None,
                reference=None,
                rigs=[whole, part],
            )
        )
    )[2:] == [
        "129: not over the whole record: not side by side",
        "129: in 1999 to 2002",
    ]


def a_season(folder: Path) -> Findings:
    """Forty trips with two rigs in turn; deep down, where two hauls were made, nothing tore."""
    rows = ["vessel,trip,haul,rig_version,ground,tow_hours,shot_at,depth_m,damaged"]
    for at in range(320):
        trip, deep = at // 8, at in {3, 11}
        torn = "yes" if at % 5 == 0 and not deep else "no"
        rig, depth = ("rope", "discs")[trip % 2], 300 if deep else 40
        day = f"2031-{1 + trip // 8:02}-{1 + trip % 8 * 3:02}"
        rows.append(f"Skua,{trip},{at},{rig},sand,3,{day} 06:00,{depth},{torn}")
    (folder / "hauls.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    (folder / "season.toml").write_text('[season]\nreference_rig = "rope"\n', encoding="utf-8")
    return run_season(folder).findings


def test_the_hauls_of_the_rigs_are_those_in_the_model(tmp_path: Path) -> None:
    findings = a_season(tmp_path)
    (outcome,) = flow_of(findings).outcomes
    assert (outcome.recorded, outcome.modelled) == (320, (318, 40))
    assert outcome.reference is not None
    assert [outcome.reference.hauls, *(rig.hauls for rig in outcome.rigs)] == [159, 159]
    assert len(outcome.kept_out) == 1
    drawn = flow_drawing(findings)
    assert "2 not in it" in drawn
    assert "foul" not in drawn


def test_foul_tows_are_told_apart_from_hauls_without_a_catch(tmp_path: Path) -> None:
    rows = ["vessel,trip,haul,rig_version,ground,tow_hours,valid,damaged"]
    rows += [
        f"Skua,{at // 8},{at},{('rope', 'discs')[at // 8 % 2]},sand,3,{'no' if foul else 'yes'},no"
        for at in range(160)
        for foul in [at in {3, 8, 11}]
    ]
    fish = [f"Skua,{at // 8},{at},PLE,{20 + at % 9}" for at in range(160) if at not in {40, 41}]
    (tmp_path / "hauls.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    catches = "\n".join(["vessel,trip,haul,species,kept_kg", *fish]) + "\n"
    (tmp_path / "catches.csv").write_text(catches, encoding="utf-8")
    (tmp_path / "season.toml").write_text('[season]\nreference_rig = "rope"\n', encoding="utf-8")
    findings = run_season(tmp_path).findings
    damage, caught = flow_of(findings).outcomes
    assert (damage.unrecorded, damage.foul) == (0, None)
    assert (caught.recorded, caught.unrecorded, caught.foul) == (155, 2, 3)
    assert "3 foul tows" in flow_drawing(findings)
    assert flow_section(findings).paragraphs == [
        "Foul tows, as recorded: 2 of 80 with discs and 1 of 80 with rope. They are not told like "
        "for like, and count for damage and not for fish."
    ]


def test_of_rigs_whose_parts_nobody_wrote_down_no_check_is_due(tmp_path: Path) -> None:
    assert [rig["stretch"] for rig in a_season(tmp_path)["rigs"]] == [[], []]


@pytest.mark.parametrize(
    ("part", "line", "due"),
    [("traveller", "", True), ("wire", "Traveller", True), ("wire", "ground gear", False)],
)
def test_a_check_against_the_traveller_is_asked_for_where_the_parts_have_one(
    part: str, line: str, *, due: bool, tmp_path: Path
) -> None:
    (tmp_path / "rig_versions.csv").write_text("rig_version\ndiscs\nrope\n", encoding="utf-8")
    parts = f"discs,bosom,disc,40,\ndiscs,bosom,{part},1,{line}\nrope,bosom,chain,1,toggles\n"
    parts = f"rig_version,section,part,count,line\n{parts}"
    (tmp_path / "rig_parts.csv").write_text(parts, encoding="utf-8")
    findings = a_season(tmp_path)
    checked = {rig["rig_version"]: rig["stretch"] for rig in findings["rigs"]}
    assert checked["rope"] == []
    assert [row["checks"] for row in checked["discs"]] == [0] * due
    assert (NO_CHECKS in to_look_over(findings)) == due


def test_each_outcome_branches_off_from_the_good_hauls() -> None:
    way = _Way()
    way.step(_fitted(["good hauls"]))
    for title in ("damage", "fish"):
        way.branch(_fitted([title]), 100.0)
        way.step(_fitted(["rigs"]))
    down = [
        (float(x), float(y1), float(y2))
        for x, y1, x2, y2 in findall(
            r'<line x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="([\d.]+)"', "".join(way.drawn)
        )
        if x == x2
    ]
    trunk = [(start, end) for x, start, end in down if x == TRUNK]
    assert len(trunk) == 2
    assert trunk[0][1] == trunk[1][0]

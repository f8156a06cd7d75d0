"""`report --show-model` and `--reference`: the whole model, and any rig held against any other."""

from __future__ import annotations

import json
import re
from importlib import import_module, metadata
from typing import TYPE_CHECKING, Any

import pytest

from pipeline import run_season
from pipeline.problems import SeasonUnusableError, WrongUsageError
from pipeline.rates.by_statsmodels import MadeAgain
from reports.standing.models import shown_models
from tests.spec.season_texts import valid_season
from tests.spec.test_commands import run

if TYPE_CHECKING:
    from pathlib import Path


BY_STATSMODELS = re.compile(
    r"by statsmodels: version (\S+), estimates at most (\S+) apart; .* are (\S+) to (\S+) of these"
)


@pytest.fixture(scope="module")
def findings(demo: Path) -> dict[str, Any]:
    told: dict[str, Any] = json.loads(
        (demo / "report" / "findings.json").read_text(encoding="utf-8")
    )
    return told


def test_the_command_prints_the_model_and_writes_nothing(
    rigseason: list[str], demo: Path, tmp_path: Path, findings: dict[str, Any]
) -> None:
    season = str(demo / "season")
    done = run(rigseason, "report", season, "--show-model", "damage_events", cwd=tmp_path)
    assert done.returncode == 0
    told = BY_STATSMODELS.search(" ".join(done.stdout.split()))
    assert told is not None
    again = MadeAgain(told[1], *map(float, told.groups()[1:]))
    assert again.version == metadata.version("statsmodels")
    assert again.apart < 1e-9
    assert 0 < again.narrowest <= again.widest
    assert done.stdout.rstrip() == shown_models(findings, "damage_events", lambda _: again)
    assert list(tmp_path.iterdir()) == []


def test_where_statsmodels_finds_no_fit_that_is_told(findings: dict[str, Any]) -> None:
    shown = shown_models(findings, "damage_events", _not_made)
    assert "fitted anew by statsmodels: it finds no fit" in " ".join(shown.split())


def test_the_model_is_told_whole(findings: dict[str, Any]) -> None:
    shown = shown_models(findings, "damage_events", _not_made)
    for words in (
        "formula: log of mean net damage",
        "trips (clusters)",
        "leaving out",
        "adjusted for: ",
    ):
        assert words in shown
    (model,) = [
        m
        for m in findings["standing"]["models"]
        if m["name"] == "damage_events · all · whole record"
    ]
    for term in model["terms"]:
        line = next(line for line in shown.splitlines() if line.startswith(term["term"]))
        if term["estimate"] is not None:
            assert f"{term['estimate']:.4f}" in line
            assert f"{term['std_error']:.4f}" in line


def test_a_rig_that_was_not_side_by_side_gets_no_ratio_there_either(
    findings: dict[str, Any],
) -> None:
    shown = shown_models(findings, "damage_events", _not_made)
    (line,) = [li for li in shown.splitlines() if li.startswith("rig_version: bobbins-14-b")]
    assert line.split() == ["rig_version:", "bobbins-14-b", "not", "told"]
    assert "bobbins-14-b (not side by side with the reference)" in " ".join(shown.split())


def test_every_effect_leads_to_its_model_and_every_model_to_the_code(
    findings: dict[str, Any],
) -> None:
    models = {model["name"]: model for model in findings["standing"]["models"]}
    fitted = [e for e in findings["effects"] if e["log_ratio"] is not None]
    assert fitted
    for effect in fitted:
        assert effect["ground"] == models[effect["model"]]["ground"]
    for place in {place for model in models.values() for place in model["code"]}:
        module, _, function = place.rpartition(".")
        assert callable(getattr(import_module(module), function))


def test_an_outcome_without_a_model_is_wrong_usage(findings: dict[str, Any]) -> None:
    with pytest.raises(WrongUsageError, match="did you mean 'damage_events'"):
        shown_models(findings, "damage_event", _not_made)


def test_any_rig_can_be_the_reference(demo: Path, findings: dict[str, Any]) -> None:
    turned = run_season(demo / "season", reference="rockhopper-16").findings
    assert turned["season"]["reference_rig"] == "rockhopper-16"

    def effect(of: dict[str, Any], rig: str) -> dict[str, Any]:
        (found,) = [
            e
            for e in of["effects"]
            if (e["outcome"], e["rig"], e["ground"]) == ("damage_events", rig, "all")
        ]
        return dict(found)

    one, other = effect(findings, "rockhopper-16"), effect(turned, "bobbins-14")
    assert other["log_ratio"] == pytest.approx(-one["log_ratio"], rel=1e-8)
    assert other["std_error"] == pytest.approx(one["std_error"], rel=1e-8)


def test_a_reference_that_was_not_fished_is_named(tmp_path: Path) -> None:
    season = valid_season().write_csv(tmp_path / "season")
    with pytest.raises(SeasonUnusableError, match="--reference is 'skids', which no good haul"):
        run_season(season, reference="skids")


def test_run_json_says_how_many_looks_there_were_and_how_they_were_allowed_for(
    demo: Path, findings: dict[str, Any]
) -> None:
    told = json.loads((demo / "report" / "run.json").read_text(encoding="utf-8"))
    assert told["many_looks"] == findings["standing"]["looks"]
    judged = [e for e in findings["effects"] if e["p_adjusted"] is not None]
    assert told["many_looks"]["comparisons"] == len(judged)
    assert told["many_looks"]["allowed_for"] is True


@pytest.mark.parametrize(
    ("setting", "says"),
    [
        ("smallest_that_matters = { damage_event = 1.5 }", "did you mean 'damage_events'"),
        ("smallest_that_matters = { damage_events = 0.5 }", "takes a number of more than 1"),
        ("ground_mix = { stone = 0.4, sand = 0.6 }", "did you mean 'stones'"),
        ("ground_mix = { stones = -0.4, sand = 1 }", "a share is 0 or more"),
        ("ground_mix = { stones = 0, sand = 0.0 }", "one must have more"),
        ("ground_mix = { stones = nan }", "finite number"),
        ('ground_mix = { stones = "half" }', "takes a number"),
        ('many_looks = "both"', "'together' or 'alone'"),
    ],
)
def test_settings_that_say_nothing_are_told(setting: str, says: str, tmp_path: Path) -> None:
    season = valid_season()
    season.settings = f"[model]\n{setting}\n"
    with pytest.raises(SeasonUnusableError, match=says):
        run_season(season.write_csv(tmp_path / "season"))


def test_what_matters_is_the_seasons_to_say(tmp_path: Path) -> None:
    season = valid_season()
    season.settings = (
        '[model]\nsmallest_that_matters = { damage_events = 1.5 }\nmany_looks = "alone"\n'
    )
    told = run_season(season.write_csv(tmp_path / "season")).findings
    matters = {outcome["name"]: outcome["matters"] for outcome in told["outcomes"]}
    assert matters["damage_events"] == 1.5
    assert matters["bottom_living_kg"] == 1.25
    assert told["standing"]["looks"]["allowed_for"] is False
    assert told["standing"]["looks"]["confidence"] == 0.95


def _not_made(_: dict[str, Any]) -> None:
    """As if statsmodels had found no fit."""

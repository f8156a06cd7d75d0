"""A season that says nothing of a setting does not gainsay the one that does."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pipeline.good_rows import check_season
from pipeline.intake.settings import parse_settings
from pipeline.intake.whole_settings import differing_settings, whole_settings
from schemas.settings import Checks, Settings, Sharing
from tests.spec.co_op_folders import one_of, write_season_texts

if TYPE_CHECKING:
    from pathlib import Path

SAID = {
    "season": {"reference_rig": "discs-6", "currency": "GBP"},
    "units": {"depth": "fathom", "size": "inch"},
    "costs": {"mending_hour": 18},
    "model": {"many_looks": "alone"},
    "checks": {"hours_between_length_checks": 100},
}
OTHERWISE = {
    "season": {"reference_rig": "chain-13"},
    "units": {"depth": "m"},
    "costs": {"mending_hour": 20},
}


def test_what_one_season_says_holds_though_the_other_is_silent() -> None:
    of_each = {"2031": parse_settings(SAID), "2032": Settings()}
    for seasons in (of_each, dict(reversed(of_each.items()))):
        whole = whole_settings(Settings(), seasons, "both")
        assert whole.model_dump(include=set(SAID), exclude={"season": {"title"}}) == (
            of_each["2031"].model_dump(include=set(SAID), exclude={"season": {"title"}})
        )
        assert differing_settings(Settings(), seasons) == ()


def test_only_where_two_say_different_things_is_it_as_if_none_had() -> None:
    of_each = {"a": parse_settings(SAID), "b": Settings(), "c": parse_settings(OTHERWISE)}
    whole = whole_settings(Settings(), of_each, "three")
    assert whole.season.reference_rig is None
    assert whole.costs.mending_hour is None
    assert (whole.units.depth, whole.units.size) == ("m", "inch")
    told = [sentence.split(", and")[0] for sentence in differing_settings(Settings(), of_each)]
    assert told == [
        f"The seasons differ in [{key}"
        for key in ("season] reference_rig", "costs] mending_hour", "units] depth")
    ]


def test_what_is_said_as_it_would_be_left_out_is_said() -> None:
    of_each = {"a": parse_settings(SAID), "b": parse_settings({"units": {"depth": "m"}})}
    assert whole_settings(Settings(), of_each, "two").units.depth == "m"
    assert len(differing_settings(Settings(), of_each)) == 1


@pytest.mark.parametrize("said", [{"min_vessels": 2}, {"consent": ["Tern"]}])
def test_who_says_nothing_of_sharing_keeps_its_usual_bounds(said: dict[str, object]) -> None:
    of_each = {"skua": parse_settings({"sharing": said}), "tern": Settings()}
    assert whole_settings(Settings(), of_each, "co-op").sharing == Sharing()
    (told,) = differing_settings(Settings(), of_each)
    assert told.startswith(f"The seasons differ in [sharing] {min(said)}, ")
    alike = dict.fromkeys(("skua", "tern"), of_each["skua"])
    assert whole_settings(Settings(), alike, "co-op").sharing == of_each["skua"].sharing


def test_the_longest_tow_stays_each_seasons_own(tmp_path: Path) -> None:
    seasons = {"skua": one_of("Skua"), "tern": one_of("Tern")}
    for season in seasons.values():
        season.set_cell("hauls", 2, "tow_hours", "30")
    seasons["skua"].settings = "[checks]\nlongest_tow_hours = 48\n"
    folder, season = check_season(write_season_texts(tmp_path / "co-op", seasons))
    gone = season.set_aside.filter(table="hauls", column="tow_hours")
    assert gone["source_file"].to_list() == ["tern/hauls.csv"]
    assert folder.settings.checks == Checks()
    assert season.together == ()

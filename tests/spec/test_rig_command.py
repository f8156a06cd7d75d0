"""What `rig` tells of the invented season: all rigs, a sheet that fits a screen, a swap."""

from __future__ import annotations

import os
import re
import subprocess
from typing import TYPE_CHECKING

import pytest

from tests.spec.run_here import run_here
from tests.spec.season_texts import valid_season

if TYPE_CHECKING:
    from pathlib import Path

SCREEN_LINES, SCREEN_COLUMNS = 44, 80
RIGS = (
    "bobbins-14",
    "bobbins-14-b",
    "chain-13",
    "discs-6",
    "discs-8-trial",
    "grass-60",
    "rockhopper-16",
    "rounded-70",
)
WITHOUT_TRAVELLER = ("chain-13", "grass-60", "rounded-70")


def rig(rigseason: list[str], demo: Path, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*rigseason, "rig", str(demo / "season"), *words],
        env=os.environ,
        capture_output=True,
        text=True,
        check=False,
    )


def rig_here(demo: Path, *words: str) -> subprocess.CompletedProcess[str]:
    return run_here("rig", str(demo / "season"), *words, cwd=demo)


def test_all_rigs_stand_at_a_glance(rigseason: list[str], demo: Path) -> None:
    done = rig(rigseason, demo)
    assert done.returncode == 0
    lines = done.stdout.splitlines()
    assert [line.split()[0] for line in lines[3 : 3 + len(RIGS)]] == list(RIGS)
    assert max(map(len, lines)) <= SCREEN_COLUMNS


@pytest.mark.parametrize("name", RIGS)
def test_a_sheet_fits_a_screen(demo: Path, name: str) -> None:
    done = rig_here(demo, name)
    assert done.returncode == 0
    lines = done.stdout.splitlines()
    assert lines[0].startswith(f"{name}, ")
    assert max(map(len, lines)) <= SCREEN_COLUMNS
    assert len(lines) <= SCREEN_LINES
    for part in (
        "Weight, kg",
        "Counted: the parts recorded, on: ground gear.",
        "± holds 19 times in 20",
        "Fishing line, and the clear gap between the top of the gear and the line",
        "Fishing hours",
        "Taken for granted",
    ):
        assert part in done.stdout, part
    assert ("less traveller" in done.stdout) == (name not in WITHOUT_TRAVELLER)


def test_a_chain_that_is_past_the_limit_is_told_with_its_caution(demo: Path) -> None:
    """1.4 %: of the invented season, by its checks."""
    said = " ".join(rig_here(demo, "bobbins-14").stdout.split())
    assert "Past 1 % by the end of the record on Grey Linnet: pull both tight" in said
    assert "Nobody under or in the bight of a chain or wire that is pulled tight." in said
    assert "bobbins over" not in said
    assert re.search(r"bobbins-14 \*.* 1\.4!\n", rig_here(demo).stdout)
    assert "they lie right over" in " ".join(rig_here(demo, "discs-6").stdout.split())


def test_a_swap_says_how_much_chain_to_add(demo: Path) -> None:
    """63.1 m: by hand, section by section, in `swaps.md`."""
    done = rig_here(demo, "--swap", "bobbins-14", "rockhopper-16")
    assert done.returncode == 0
    assert "Add 63.1 m of 13 × 36 mm chain" in done.stdout
    assert "1,752 links" in done.stdout
    assert "-208 ± 92" in done.stdout
    assert "local rules decide" in " ".join(done.stdout.split())
    assert max(map(len, done.stdout.splitlines())) <= SCREEN_COLUMNS


def test_the_other_way_round_no_chain_could_come_off(demo: Path) -> None:
    done = rig_here(demo, "--swap", "rockhopper-16", "bobbins-14")
    assert "Take off" not in done.stdout
    told = " ".join(done.stdout.split())
    assert "bobbins-14 carries no chain that could come off" in told
    assert "as much as 63 m of 13 mm chain (anything from 35 to 91 m)" in told
    assert "heavier in water" in told


@pytest.mark.parametrize(
    "words", [("bobins-14",), ("--swap", "bobbins-14", "bobins-14")], ids=["sheet", "swap"]
)
def test_a_rig_that_the_season_lacks_is_told_with_the_nearest(
    rigseason: list[str], demo: Path, words: tuple[str, ...]
) -> None:
    done = rig(rigseason, demo, *words)
    assert done.returncode == 2
    assert (
        "'bobins-14' is no rig version of this season (did you mean 'bobbins-14'?)" in done.stderr
    )
    assert done.stdout == ""


def test_it_does_not_wait_for_models_and_charts(rigseason: list[str], demo: Path) -> None:
    done = subprocess.run(
        [rigseason[0], "-X", "importtime", *rigseason[1:], "rig", str(demo / "season")],
        capture_output=True,
        text=True,
        check=True,
    )
    loaded = {line.rpartition("|")[2].strip() for line in done.stderr.splitlines()}
    assert "polars" in loaded
    for heavy in ("statsmodels", "altair", "vl_convert", "shapely"):
        assert heavy not in loaded, heavy


def test_rigs_of_which_only_the_names_are_known_say_what_would_tell_more(tmp_path: Path) -> None:
    (tmp_path / "hauls.csv").write_text(
        "vessel,trip,haul,rig_version,ground,tow_hours\nSkua,1,1,a,sand,3\n", encoding="utf-8"
    )
    done = [run_here("rig", str(tmp_path), *words, cwd=tmp_path) for words in ((), ("a",))]
    assert [told.returncode for told in done] == [0, 0]
    brief, sheet = (told.stdout for told in done)
    assert "rig_parts what they weigh" in " ".join(brief.split())
    assert "* the reference" not in brief
    assert sheet.startswith("a: 1 haul, 3 fishing hours")


@pytest.mark.parametrize(
    ("settings", "starred"),
    [("", "rubber-10"), ('[season]\nreference_rig = "bobbins-12"\n', "bobbins-12")],
)
def test_the_reference_has_its_star_whether_it_is_named_or_the_most_fished(
    settings: str, starred: str, tmp_path: Path
) -> None:
    season = valid_season()
    season.settings = settings
    folder = season.write_csv(tmp_path / "season")
    brief = run_here("rig", str(folder), cwd=tmp_path).stdout
    assert re.findall(r"^(\S+) \* ", brief, re.MULTILINE) == [starred]

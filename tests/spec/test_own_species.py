"""What the report says of the species that a season's own table marks, and how it calls them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import polars as pl
import pytest

from pipeline.good_rows import check_season
from pipeline.joining.species import built_in_species, fish_groups, weighed
from reports.cells import species_word
from reports.outcome_sections import CATCH_NOT_WHOLE, outcome_section
from reports.sentences import title_of
from schemas.outcomes import fixed_outcome, outcome
from tests.spec.two_rigs_in_turn import season_with

if TYPE_CHECKING:
    from pathlib import Path

CAUGHT = pl.DataFrame(
    {
        "species": ["PLE", "10110", "COD", "10110"],
        "kept_kg": [30.0, 20.0, 90.0, None],
        "discarded_kg": [None, 5.0, 1.0, 8.0],
    }
)
GROUPS: dict[str, Any] = {
    "bottom_living": ["European plaice", "10110"],
    "other": ["Atlantic cod"],
    "neither": [],
    "said_by_season": 0,
}
ABOUT = "Fish; {weighed}."


def test_which_of_the_fish_caught_count_is_told_by_weight(tmp_path: Path) -> None:
    own = [["PLE", "", ""], ["COD", "cod", "yes"], ["SQU", "squid", "no"], ["SOL", "", "yes"]]
    season = season_with("SQU", 30, own)
    season.tables["catches"].append(["1", "1", "NHA", "5"])
    season.tables["species"].append(["NHA", "", ""])
    _, checked = check_season(season.write_csv(tmp_path / "season"))
    assert fish_groups(checked) == {
        "bottom_living": ["European plaice", "cod"],
        "other": ["squid", built_in_name("NHA")],
        "neither": [],
        "said_by_season": 2,
    }


def test_a_species_of_which_nobody_says_where_it_lives_is_in_neither_group(tmp_path: Path) -> None:
    _, checked = check_season(season_with("SQU", 30).write_csv(tmp_path / "season"))
    assert fish_groups(checked)["neither"] == ["SQU"]


def built_in_name(code: str) -> str:
    name: str = built_in_species().filter(species=code)["name"].item()
    return name


@pytest.mark.parametrize(
    ("of", "said"),
    [
        (
            {},
            "Of what was caught these count so, by weight: European plaice and species 10110. As "
            "other fish count: Atlantic cod.",
        ),
        (
            {"bottom_living": [], "neither": ["SQU"], "said_by_season": 1},
            "None of what was caught counts so. As other fish count: Atlantic cod. In neither "
            "group, as no list says if they live on the bottom: SQU. The season's own table of "
            "species says so.",
        ),
        (
            {"bottom_living": ["plaice"], "other": [f"fish {n}" for n in "abcdefghijklmnop"]}
            | {"said_by_season": 1},
            "Of what was caught these count so, by weight: plaice. As other fish count: fish a, "
            "fish b, fish c, fish d, fish e, fish f, fish g, fish h, fish i, fish j, fish k, fish "
            "l and 4 more. Of 1 of them the season's own table of species says so, of the others "
            "the program's list.",
        ),
    ],
)
def test_the_section_names_the_fish_that_count_and_those_that_do_not(
    of: dict[str, Any], said: str
) -> None:
    paragraphs = section_with(fish_groups=GROUPS | of)
    assert paragraphs[:2] == ["Fish; kept and discarded together.", said]


@pytest.mark.parametrize(
    ("column", "said"),
    [
        ("kept_kg", "what was kept alone, as what was thrown back is nowhere written"),
        ("discarded_kg", "what was thrown back alone, as what was kept is nowhere written"),
        (None, "kept and discarded together"),
    ],
)
def test_the_section_says_which_weights_there_are(column: str | None, said: str) -> None:
    alone = CAUGHT if column is None else CAUGHT.select("species", column)
    caught = pl.concat([CAUGHT.clear(), alone], how="diagonal")
    (paragraph, *_) = section_with(weighed=weighed(caught))
    assert paragraph == f"Fish; {said}."


@pytest.mark.parametrize("set_aside", [0, 6])
def test_hauls_without_a_whole_catch_are_tied_to_what_was_set_aside(set_aside: int) -> None:
    paragraphs = section_with(rows={"catches": {"set_aside": set_aside}})
    assert any("3 say nothing" in words for words in paragraphs)
    assert (CATCH_NOT_WHOLE in paragraphs) is (set_aside > 0)


def section_with(**told: object) -> list[str]:
    """The paragraphs on bottom-living fish of a season of one rig."""
    findings = {
        "season": {"reference_rig": "rope", "grounds": ["sand"], "foul_tows": 0},
        "outcomes": [{**vars(fixed_outcome("bottom_living_kg")), "matters": 1.25}],
        "records": [{"outcome": "catch", "hauls": 13, "recorded": 10, "set_aside": 0}],
        "rows": {"catches": {"set_aside": 0}},
        "effects": [],
        "rates": [],
        "by_year": [],
        "rigs": [],
        "on_the_mix": [],
        "standing": {"planning": []},
        "weighed": ["kept_kg", "discarded_kg"],
        "far_catches": [],
        "fish_groups": GROUPS,
        **told,
    }
    section = outcome_section("bottom_living_kg", ABOUT)(findings)
    assert section is not None
    return section.paragraphs


def test_a_species_that_is_a_number_only_is_called_a_species() -> None:
    named = {"10110": "", "21720": "Pacific cod"}
    titles = [title_of(vars(outcome(f"kg:{code}", named))) for code in named]
    assert titles == ["species 10110", "Pacific cod"]
    assert [species_word(name) for name in ("10110", "plaice")] == ["species 10110", "plaice"]

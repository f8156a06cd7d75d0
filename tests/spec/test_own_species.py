"""What the report says of the species that a season's own table marks, and how it calls them."""

from __future__ import annotations

import polars as pl
import pytest

from pipeline.joining.species import own_species, weighed
from reports.cells import species_word
from reports.outcome_sections import CATCH_NOT_WHOLE, outcome_section
from reports.sentences import title_of
from schemas.outcomes import fixed_outcome, outcome

OWN = pl.DataFrame(
    {
        "species": ["PLE", "10110", "COD", "SOL", "XXX"],
        "name": ["plaice", None, "cod", "sole", None],
        "bottom_living": [True, True, False, True, None],
    }
)
CAUGHT = pl.DataFrame(
    {
        "species": ["PLE", "10110", "COD", "10110"],
        "kept_kg": [30.0, 20.0, 90.0, None],
        "discarded_kg": [None, 5.0, 1.0, 8.0],
    }
)


def test_the_marked_species_are_counted_and_the_most_caught_of_them_named() -> None:
    assert own_species(OWN, CAUGHT) == {
        "species": 5,
        "said": 4,
        "bottom_living": 3,
        "other": 1,
        "most": ["10110", "plaice"],
    }
    assert own_species(None, CAUGHT) is None


@pytest.mark.parametrize(
    ("own", "said"),
    [
        (
            own_species(OWN, CAUGHT),
            "What lives on the bottom and can pass under a ground gear; kept and discarded "
            "together. Species marked so in the season's table: 3 of 5, by weight first of all "
            "species 10110 and plaice; counted as other fish: 1.",
        ),
        (own_species(OWN.with_columns(bottom_living=pl.lit(None, pl.Boolean)), CAUGHT), "Fish."),
        (None, "Fish."),
    ],
)
def test_the_section_says_which_species_are_meant(own: dict[str, object] | None, said: str) -> None:
    paragraphs = section_with(own_species=own)
    assert paragraphs[0] == said


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
    own = own_species(OWN, CAUGHT)
    (paragraph, *_) = section_with(own_species=own, weighed=weighed(caught))
    assert paragraph.startswith(
        f"What lives on the bottom and can pass under a ground gear; {said}. "
    )


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
        **told,
    }
    section = outcome_section("bottom_living_kg", "Fish.")(findings)
    assert section is not None
    return section.paragraphs


def test_a_species_that_is_a_number_only_is_called_a_species() -> None:
    named = {"10110": "", "21720": "Pacific cod"}
    titles = [title_of(vars(outcome(f"kg:{code}", named))) for code in named]
    assert titles == ["species 10110", "Pacific cod"]
    assert [species_word(name) for name in ("10110", "plaice")] == ["species 10110", "plaice"]

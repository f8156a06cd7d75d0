"""What a season is called whose `season.toml` gives it no title."""

from __future__ import annotations

import pytest

from reports.language import language_of, told_in
from reports.season_words import season_title

CASES = [
    ("its own", {"title": "Spring trial", "vessels": ["Skua"]}, "Spring trial", "Spring trial"),
    ("one boat", {"title": "", "vessels": ["Skua"]}, "Skua", "Skua"),
    ("two boats", {"title": "", "vessels": ["Petrel", "Skua"]}, "Petrel and Skua", "Petrel y Skua"),
    (
        "more",
        {"title": "", "vessels": list("ABCD")},
        "A season of 4 boats",
        "Una temporada de 4 barcos",
    ),
    ("a co-op's", {"title": "", "boats": None}, "A season", "Una temporada"),
    ("no hauls", {"title": "", "vessels": []}, "A season", "Una temporada"),
]


@pytest.mark.parametrize(
    ("season", "english", "spanish"), [c[1:] for c in CASES], ids=[c[0] for c in CASES]
)
def test_a_season_without_a_title_is_called_by_its_boats(
    season: dict[str, object], english: str, spanish: str
) -> None:
    assert season_title(season) == english
    with told_in(language_of("es")):
        assert season_title(season) == spanish

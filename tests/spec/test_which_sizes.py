"""What is said of the sizes that a rig loses, and of which seasons nothing is."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from pipeline.problems import SeasonUnusableError
from pipeline.run_season import run_season
from reports.sizes.section import which_sizes
from reports.sizes.sentences import of_species
from reports.study.methods import methods_paragraphs
from schemas.codes import Caution, Verdict
from synthetic_data import write_season
from tests.spec.test_lean_seasons import HAULS, haul
from tests.spec.test_methods import Season, made

if TYPE_CHECKING:
    from pathlib import Path

    from pipeline.findings import Findings
    from reports.parts import Section

Row = dict[str, Any]
HEADER = "vessel,trip,haul,species,where,length_cm,count,share_measured"
PER_HOUR = {"bobbins": (4, 4, 4, 4), "discs": (1, 2, 3, 4)}
"""Plaice of 20, 25, 30 and 35 cm: discs lose the small ones."""


def measured(at: int, share: float = 0.5, **cells: object) -> list[str]:
    """The lengths of one haul, of which the share was measured."""
    row = {**haul(at), **cells}
    of_rig = PER_HOUR[row["rig_version"]]
    return [
        f"{row['vessel']},{row['trip']},{row['haul']},PLE,codend,{cm},"
        f"{many * row['tow_hours'] + (at * at + 3 * cm * at) % 7},{share}"
        for cm, many in zip((20, 25, 30, 35), of_rig, strict=True)
    ]


def lengths(*rows: str) -> str:
    return "\n".join([HEADER, *(rows or [line for at in range(HAULS) for line in measured(at)])])


def catches(*without: int) -> str:
    caught = (haul(at) for at in range(HAULS))
    rows = [
        f"{r['vessel']},{r['trip']},{r['haul']},{'HAD' if r['haul'] in without else 'PLE'},20"
        for r in caught
    ]
    return "\n".join(["vessel,trip,haul,species,kept_kg", *rows])


SEASON = Season(settings="[season]\nreference_rig = 'bobbins'\n", files=(("lengths", lengths()),))


def of_lengths(*rows: str, settings: str = "", caught: str = "") -> Findings:
    files = (("lengths", lengths(*rows)), *([("catches", caught)] if caught else []))
    return made(replace(SEASON, settings=SEASON.settings + settings, files=files))


@pytest.fixture(scope="module")
def findings() -> Findings:
    return made(SEASON)


def section_of(found: Findings) -> Section:
    section = which_sizes(found)
    assert section is not None
    return section


def test_what_is_clear_is_said_with_how_much_how_sure_and_on_what_it_rests(
    findings: Findings,
) -> None:
    section = section_of(findings)
    assert section.paragraphs == [
        "Does a rig lose the small fish first? Where fish were measured, each rig's catch of each "
        "size is held against bobbins's: fish per hour towed, like for like.",
        "European plaice: against bobbins, discs lost more of the small ones than of the large. "
        "Per hour towed on all grounds it caught 59 % fewer under 25 cm, and 2 % more from 35 cm "
        "on. Twice the length makes that 3.13 times as much, and anything from 2.82 to 3.46 times "
        "would fit; 1 is no change. It rests on 60 hauls on 20 trips.",
    ]
    (figure,) = section.figures
    assert figure.title == "European plaice: more of the small ones lost with discs"
    assert [row[1] for row in figure.table.rows] == [
        "under 25 cm",
        "from 25 to under 30 cm",
        "from 30 to under 35 cm",
        "from 35 cm on",
    ]


def test_where_nothing_is_clear_that_is_said_and_on_what_it_rests() -> None:
    alike = [line for at in range(HAULS) for line in measured(at, rig_version="bobbins")]
    section = section_of(of_lengths(*alike))
    fish = sum(int(line.split(",")[6]) for line in alike)
    assert section.paragraphs[1:] == [
        "European plaice: no rig clearly lost more of the small ones than of the large, or kept "
        f"more. That rests on {fish:,} fish measured in 60 hauls."
    ]
    assert section.figures[0].title == "European plaice: no rig clearly lost more of the small ones"


def test_a_slope_that_is_clear_by_itself_alone_may_be_luck(findings: Findings) -> None:
    (species,) = findings["by_length"]["species"]
    (slope,) = species["slopes"]
    unsure = {**species, "slopes": [{**slope, "verdict": Verdict.TOO_LITTLE}]}
    looks = {**findings["by_length"], "slopes": 7}
    assert of_species(unsure, {"by_length": looks})[-1] == (
        "European plaice: discs may have lost more of the small ones than of the large, or kept "
        "more; among 7 such questions that may be luck."
    )


def test_of_rigs_one_after_the_other_it_says_not_to_go_by_it(findings: Findings) -> None:
    (species,) = findings["by_length"]["species"]
    after = [{**each, "cautions": [Caution.ONE_AFTER_OTHER]} for each in species["effects"]]
    (said,) = of_species({**species, "effects": after}, findings)
    assert said.endswith("what else changed with the weeks is in it: do not go by it.")


def test_the_methods_say_how_it_was_done_only_where_it_was(findings: Findings) -> None:
    (said,) = (p for p in methods_paragraphs(findings) if "bands of length" in p)
    assert "(edges of about as many fish each, all rigs together, for European plaice)" in said
    assert "Verdicts allow for their number (ratios: 4; slopes: 1) by equal parts of 5 %" in said
    named = of_lengths(settings="[model]\nlength_edges_cm = { PLE = [27] }\nmany_looks = 'alone'\n")
    (said,) = (p for p in methods_paragraphs(named) if "bands of length" in p)
    assert "(edges named by the season for European plaice)" in said
    assert "Verdicts are each at 95 % by itself." in said
    assert not any("bands of length" in p for p in methods_paragraphs(made(Season())))


def test_without_lengths_nothing_is_said_or_drawn() -> None:
    bare = made(Season())
    assert which_sizes(bare) is None
    assert bare["by_length"]["species"] == []


def test_a_haul_whose_fish_were_not_measured_is_left_out_and_one_without_any_is_none() -> None:
    """Haul 7 caught plaice and had none measured; haul 9 caught none, and its haddock was."""
    rows = [line for at in range(HAULS) if at not in {7, 9} for line in measured(at)]
    haddock = measured(9)[0].replace("PLE", "HAD")
    found = of_lengths(*rows, haddock, caught=catches(9))
    said = section_of(found).points
    assert "European plaice: 1 haul that caught some had none measured, and is left out." in said
    assert (
        "European plaice: 1 haul counts as none, as it caught none and other fish of it were "
        "measured." in said
    )


def test_a_row_that_cannot_be_right_leaves_out_its_haul_and_so_does_a_share_that_is_blank() -> None:
    """A share of 0, a count below 0, a share left blank where the boat writes it."""
    rows = [line for at in range(HAULS) for line in measured(at)]
    rows[4] = rows[4].replace(",0.5", ",0")
    rows[8] = ",".join([*rows[8].split(",")[:6], "-3", "0.5"])
    rows[12] = rows[12].removesuffix("0.5")
    found = of_lengths(*rows, caught=catches())
    (species,) = found["by_length"]["species"]
    assert found["rows"]["lengths"] == {"read": 240, "used": 238, "set_aside": 2}
    assert (species["measured"], species["not_measured"], species["not_known"]) == (57, 2, 1)


def test_lengths_of_a_haul_that_was_set_aside_go_with_it() -> None:
    foul = replace(SEASON, change=lambda row: row | {"tow_hours": 0 if row["haul"] == 7 else 3})
    found = made(foul)
    assert found["rows"]["lengths"]["set_aside"] == 4
    assert found["by_length"]["species"][0]["measured"] == HAULS - 1


def test_half_measured_is_whole_and_twice_as_many_and_no_share_is_all() -> None:
    def ratios(share: str, times: int) -> list[float]:
        halves = (line.rsplit(",", 2) for at in range(HAULS) for line in measured(at))
        rows = [f"{head},{int(count) * times},{share}" for head, count, _ in halves]
        (species,) = of_lengths(*rows)["by_length"]["species"]
        return [effect["ratio"] for effect in species["effects"]]

    assert ratios("0.5", 1) == ratios("1", 2) == ratios("", 2)


def test_only_fish_from_the_places_named_count() -> None:
    rows = [line for at in range(HAULS) for line in measured(at)]
    bag = [line.replace("codend", "bag") for line in rows]
    named = of_lengths(*rows, *bag, settings="[model]\nlengths_from = ['codend']\n")
    assert named["by_length"] == made(SEASON)["by_length"]


def test_edges_that_the_season_names_are_the_edges_and_a_strange_species_is_refused() -> None:
    named = of_lengths(settings="[model]\nlength_edges_cm = { PLE = [27] }\n")
    (species,) = named["by_length"]["species"]
    assert [band["outcome"] for band in species["bands"]] == ["cm:PLE:-27", "cm:PLE:27-"]
    with pytest.raises(SeasonUnusableError) as told:
        of_lengths(settings="[model]\nlength_edges_cm = { PLAICE = [27] }\n")
    assert "[model] length_edges_cm names 'PLAICE', which is in no list" in told.value.sentences[0]


def test_it_is_in_the_studys_tables_and_not_among_what_a_co_op_shares(tmp_path: Path) -> None:
    season = tmp_path / "season"
    write_season(season, hauls=400, seed=5)
    run_season(season, tmp_path / "out", readers=["coop", "study"])
    shared = json.loads((tmp_path / "out" / "co-op" / "findings.json").read_text("utf-8"))
    assert "by_length" not in shared
    assert "cm:" not in json.dumps(shared)
    tables = {table.stem for table in (tmp_path / "out" / "study" / "tables").glob("by_length*")}
    assert {"by_length.species.effects", "by_length.species.slopes"} <= tables


def test_two_rigs_in_one_tow_are_held_to_each_other_within_it() -> None:
    at_once = replace(
        SEASON,
        change=lambda row: (
            row
            | {
                "vessel": "Skua",
                "trip": 1,
                "rig_version": ("discs", "bobbins")[row["haul"] % 2],
                "shot_at": f"2031-{1 + row['haul'] // 56:02}-{1 + row['haul'] // 2 % 28:02} 06:00",
            }
        ),
    )
    nets = [
        line
        for at in range(HAULS)
        for line in measured(at, vessel="Skua", trip=1, rig_version=("discs", "bobbins")[at % 2])
    ]
    section = section_of(made(replace(at_once, files=(("lengths", lengths(*nets)),))))
    (said,) = (p for p in section.paragraphs if "at once" in p)
    assert said == (
        "European plaice: against bobbins, discs lost more of the small ones than of the large. "
        "Twice the length makes that 3.15 times as much, and anything from 2.56 to 3.88 times "
        "would fit; 1 is no change. That is from 30 tows that fished both at once, each held to "
        "itself."
    )
    assert [row[3] for row in section.tables[0].rows] == ["30"] * len(section.tables[0].rows)

"""What is wrong with a season is said in plain sentences, and nothing else of it is lost."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pipeline.checking.check_season import sentence_of
from pipeline.good_rows import check_season
from pipeline.note_words import readings_of
from pipeline.problems import SeasonUnusableError
from reports.check_summary import check_summary
from tests.spec.season_texts import valid_season
from tests.spec.spoilt_seasons import Case, cases, write_spoilt

if TYPE_CHECKING:
    from pathlib import Path

SET_ASIDE = "A row is set aside"
REMARKED = "A row is used, with a remark"
UNUSABLE = "The season can't be used"


def of(kind: str) -> pytest.MarkDecorator:
    """Each case of that kind as a test of its own."""
    return pytest.mark.parametrize("case", cases(kind), ids=lambda case: case.wrong)


def test_nothing_is_said_of_the_season_in_which_nothing_is_wrong(tmp_path: Path) -> None:
    season = valid_season()
    _, checked = check_season(season.write_csv(tmp_path / "season"))
    assert checked.set_aside.is_empty()
    assert checked.remarks.is_empty()
    assert (
        checked.rows_read
        == {name: len(rows) - 1 for name, rows in season.tables.items()}
        == {name: table.height for name, table in checked.tables.items()}
    )


@of(SET_ASIDE)
def test_the_row_is_set_aside_with_its_sentence_and_no_other_row_is(
    case: Case, tmp_path: Path
) -> None:
    _, checked = check_season(write_spoilt(case.written, tmp_path))
    said = [sentence_of(row) for row in checked.set_aside.iter_rows(named=True)]
    assert sorted(said) == sorted(case.sentences)
    assert checked.remarks.is_empty()
    _all_other_rows_are_used(checked.counts, len(said))


def test_what_went_with_a_haul_is_told_after_what_is_wrong_by_itself(tmp_path: Path) -> None:
    spoilt = "hauls row 2, tow_hours: -4; then catches new row: Skua, 9, 9, PLE, 10, , "
    _, checked = check_season(write_spoilt(spoilt, tmp_path))
    assert checked.set_aside["value"].to_list() == ["-4", "Skua/9/9", *["Skua/1/1"] * 2]


@of(REMARKED)
def test_the_row_is_used_and_remarked_on(case: Case, tmp_path: Path) -> None:
    _, checked = check_season(write_spoilt(case.written, tmp_path))
    said = [sentence_of(row) for row in checked.remarks.iter_rows(named=True)]
    assert said == list(case.sentences)
    assert checked.set_aside.is_empty()
    _all_other_rows_are_used(checked.counts, 0)


@of(UNUSABLE)
def test_the_season_is_refused_with_every_sentence(case: Case, tmp_path: Path) -> None:
    path = write_spoilt(case.written, tmp_path)
    with pytest.raises(SeasonUnusableError) as refusal:
        check_season(path)
    said = [sentence.replace(str(tmp_path), "FOLDER") for sentence in refusal.value.sentences]
    assert said == list(case.sentences)


@pytest.mark.parametrize("kind", [SET_ASIDE, REMARKED, UNUSABLE])
def test_every_sentence_begins_with_a_place_and_has_one_end(kind: str) -> None:
    for case in cases(kind):
        for sentence in case.sentences:
            assert sentence.endswith((".", "?"))
            assert not sentence.endswith(("..", "?.", "!."))
            assert kind == UNUSABLE or ".csv, row " in sentence


@pytest.mark.parametrize(
    ("reference", "said"),
    [
        (None, ""),
        ("bobbins-14", ""),
        (
            "bobins-14",
            "season.toml: [season] reference_rig is 'bobins-14', which no haul was fished with "
            "(did you mean 'bobbins-14'?); put it right, as no report can be made so.",
        ),
    ],
)
def test_check_tells_of_a_reference_that_was_never_fished(
    reference: str | None, said: str, tmp_path: Path
) -> None:
    season = valid_season().write_csv(tmp_path / "season")
    if reference is not None:
        settings = f'[season]\nreference_rig = "{reference}"\n'
        (season / "season.toml").write_text(settings, encoding="utf-8")
    folder, checked = check_season(season)
    told = check_summary(checked, readings_of(folder, checked), folder.settings)
    lines = [line for line in told.splitlines() if "reference_rig" in line]
    assert lines == [said] * bool(said)


@pytest.mark.parametrize(("who", "said"), [("Ada", 0), ("", 1)])
def test_check_tells_of_a_changed_row_of_a_review_that_has_no_name(
    who: str, said: int, tmp_path: Path
) -> None:
    season = valid_season()
    vessel, trip, haul = season.tables["hauls"][1][:3]
    path = season.write_csv(tmp_path / "season")
    review = f"vessel,trip,haul,damaged,who\n{vessel},{trip},{haul},yes,{who}\n"
    (path / "damage_review.csv").write_text(review, encoding="utf-8")
    folder, checked = check_season(path)
    told = check_summary(checked, readings_of(folder, checked), folder.settings)
    line = "One changed row of damage_review without a name in who: not counted until there is one."
    assert told.splitlines().count(line) == said


def _all_other_rows_are_used(counts: dict[str, dict[str, int]], set_aside: int) -> None:
    for count in counts.values():
        assert count["read"] == count["used"] + count["set_aside"]
    assert sum(count["set_aside"] for count in counts.values()) == set_aside

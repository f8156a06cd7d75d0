"""Every code of the findings has its words wherever the report may meet it."""

from __future__ import annotations

import ast
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import polars as pl
import pytest

from pipeline.findings import plain
from pipeline.rates import answers, model_table, over_boats, window_ratios
from reports import doubts, first_screen, sentences
from reports import one_tow as of_tows
from reports.advice import opening
from reports.boats import sentences as of_boats
from reports.changes import sentences as of_changes
from reports.does_it_hold import sentences as of_ways
from reports.money import sentences as of_money
from reports.rigs import measures as of_measures
from reports.study import error_words, methods
from schemas.codes import (
    BoatWithout,
    CameWith,
    Caution,
    ChangeWithout,
    ErrorsBy,
    HoursClaim,
    InTurn,
    MeasureWithout,
    MoneyVerdict,
    NoModel,
    NoSlope,
    OffTheLine,
    OtherWay,
    Stands,
    TowsWithout,
    Verdict,
    WayNote,
)
from schemas.words import WHOLE_RECORD

if TYPE_CHECKING:
    from collections.abc import Container, Iterator

ROOT = Path(__file__).parents[2]
BY_FIT = {ErrorsBy.TRIP, ErrorsBy.SANDWICH, ErrorsBy.MODEL}
"""How the errors of a fit are come by; limits where one rig had none come without a fit."""

MORE_ALIKE = {OtherWay.SIDE_BY_SIDE, OtherWay.WITHIN_TRIPS, OtherWay.WITHIN_TOWS}
"""Ways of comparing fewer hauls, but more alike."""
GAINSAY = {*MORE_ALIKE, OtherWay.WITHOUT_FAR}
"""Ways that may gainsay a headline."""

REACHES = {
    "verdicts": (sentences.VERDICT_WORDS, {*Verdict}),
    "money": (of_money.VERDICTS, {*MoneyVerdict}),
    "money on the first screen": (first_screen.MONEY_MARKS, {*MoneyVerdict}),
    "what pays with less catch": (of_money.UNLESS_LESS, {*MoneyVerdict}),
    "what pays with more catch": (of_money.ONLY_IF_MORE, {*MoneyVerdict}),
    "advice otherwise": (opening.BUT_OTHERWISE, GAINSAY),
    "doubts otherwise": (doubts.NOT_SO, GAINSAY),
    "boats": (
        of_boats.WHY_NONE,
        {*BoatWithout, *over_boats.BARS, *over_boats.BARS_OF_WEIGHTS},
    ),
    "changes of rig": (
        of_changes.WHY_NONE,
        {*ChangeWithout, *window_ratios.UNTOLD, *window_ratios.UNTOLD_OF_WEIGHTS},
    ),
    "rigs in one tow": (of_tows.WHY_NONE, {*TowsWithout}),
    "what was left out in turn": (of_tows.IN_TURN, {*InTurn}),
    "what changed": (of_changes.WHAT_CHANGED, {*CameWith}),
    "a change of what": (of_changes.CHANGE_OF, {*CameWith}),
    "from what to what": (of_changes.FROM_AND_TO, {*CameWith}),
    "measures": (of_measures.WHY_UNTOLD, {*MeasureWithout} - {MeasureWithout.MOVES_WITH}),
    "rigs off the line": (of_measures.OFF_THE_LINE, {*OffTheLine}),
    "other ways": (of_ways.WAY_WORDS, {*OtherWay}),
    "other ways in methods": (methods.WAY_NAMES, {*OtherWay}),
    "why no other way": (of_ways.NOTE_WORDS, {*WayNote}),
    "stands": (of_ways.STANDS, {*Stands} - {Stands.HOLDS}),
    "damage and hours": (of_ways.HOURS_WORDS, {*HoursClaim}),
    "why no slope": (of_ways.WHY_NO_SLOPE, {*NoSlope}),
    "why no model": (of_ways.NO_MODEL, {*NoModel}),
    "errors": (error_words.ERROR_WORDS, {*ErrorsBy}),
    "errors of a model": (model_table.CORRECTION, BY_FIT),
    "freedom of a model": (model_table.FREEDOM, BY_FIT),
    "errors in a method": (answers.METHOD_WORDS, BY_FIT),
}
"""Each map of codes to words, and the codes that can reach it; those it lacks have their own way:
what measures move together is named, and of a headline that holds it is said in how many ways."""


@pytest.mark.parametrize(("words", "codes"), REACHES.values(), ids=REACHES.keys())
def test_every_code_that_can_reach_a_map_has_words(words: dict[str, str], codes: set[str]) -> None:
    assert set(words) == codes
    assert all(words.values())


def test_a_caution_is_either_a_doubt_or_why_there_is_no_figure() -> None:
    qualify, why = set(sentences.CAUTION_WORDS), set(sentences.WHY_UNTOLD)
    assert qualify | why == {*Caution}
    assert not qualify & why
    assert set(of_money.DOUBTS) == qualify | {Caution.NONE_SEEN}


@pytest.mark.parametrize("caution", list(sentences.WHY_UNTOLD))
def test_what_keeps_a_figure_back_is_said_by_name(caution: Caution) -> None:
    effect = {"cautions": [caution.value], "part": WHOLE_RECORD}
    assert sentences.why_untold(effect) not in {"", sentences.TOO_LITTLE}


def test_no_caution_is_typed_anew() -> None:
    typed = {
        (str(file.relative_to(ROOT)), text)
        for room in ("pipeline", "reports")
        for file in (ROOT / room).rglob("*.py")
        for text in _literals(file.read_text(encoding="utf-8"))
        if text in set(Caution)
    }
    assert typed == set()


def _literals(code: str) -> Iterator[str]:
    """The strings of some code but for those that are marked as words to say."""
    tree = ast.parse(code)
    said = {id(each) for call in ast.walk(tree) if _is_said(call) for each in ast.walk(call)}
    for each in ast.walk(tree):
        if isinstance(each, ast.Constant) and isinstance(each.value, str) and id(each) not in said:
            yield each.value


def _is_said(call: ast.AST, names: Container[str] = ("say", "saying")) -> bool:
    return isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.func.id in names


@dataclass(frozen=True)
class Told:
    verdict: Verdict
    cautions: tuple[Caution, ...]


def test_findings_hold_words_and_no_codes() -> None:
    told = plain({"rows": [Told(Verdict.LOWER, (Caution.FEW_TRIPS, Caution.FEW_HAULS))]})
    assert told == {"rows": [{"verdict": "lower", "cautions": ["few trips", "few hauls"]}]}
    table = pl.DataFrame(told["rows"])
    assert table.schema == {"verdict": pl.String, "cautions": pl.List(pl.String)}

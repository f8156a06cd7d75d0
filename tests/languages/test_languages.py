"""The report in other languages: every word of it is translated, nothing is told beside them."""

from __future__ import annotations

import ast
import gettext
import html
import json
import re
from datetime import date
from string import Formatter
from typing import TYPE_CHECKING

import pytest

from reports.editions import EDITIONS
from reports.language import (
    IN_ENGLISH,
    Language,
    day_of,
    language_of,
    number,
    say,
    say_many,
    told_in,
)
from reports.page import season_page
from schemas.tables import TABLES
from schemas.words import LANGUAGES
from tests.languages.catalogue import (
    SAID,
    SAID_LATER,
    forms,
    place,
    translation,
    untranslated,
    words_of_the_report,
)
from tests.spec.test_commands import run

if TYPE_CHECKING:
    from pathlib import Path

    from babel.messages import Message

    from pipeline.findings import Findings

OTHERS = LANGUAGES[1:]


@pytest.mark.parametrize("tag", OTHERS)
def test_every_message_is_translated_and_no_other(tag: str) -> None:
    ours = translation(tag)
    assert {m.id for m in ours if m.id} == {m.id for m in words_of_the_report() if m.id}
    assert untranslated(ours) == []


@pytest.mark.parametrize("tag", OTHERS)
def test_a_translation_has_the_places_and_the_edges_of_the_english(tag: str) -> None:
    assert [m.id for m in translation(tag) if m.id and not _is_alike(m)] == []


def _is_alike(message: Message) -> bool:
    """The same places with the same forms, the same space at either end."""
    english, theirs = forms(message.id), forms(message.string)
    alike = [_places(each) for each in english]
    edges = [_edges(each) for each in english]
    return (
        _places(theirs[0]) in alike
        and _places(theirs[-1]) == alike[-1]
        and all(_edges(each) in edges for each in theirs)
    )


def _edges(words: str) -> tuple[bool, bool]:
    return words[:1].isspace(), words[-1:].isspace()


def _places(words: str) -> set[tuple[str, str]]:
    return {(name, form or "") for _, name, form, _ in Formatter().parse(words) if name}


def test_every_file_of_a_language_can_be_asked_for(root: Path) -> None:
    files = {file.stem for file in (root / "reports" / "languages").glob("*.po")}
    assert files == set(OTHERS)
    assert all(place(tag).exists() for tag in OTHERS)


def test_words_are_given_so_that_they_can_be_collected(root: Path) -> None:
    hidden = [
        f"{file.relative_to(root)}:{call.lineno}"
        for file in (root / "reports").rglob("*.py")
        for call in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(call, ast.Call)
        and isinstance(call.func, ast.Name)
        and call.func.id in {**SAID, **SAID_LATER}
        and call.args
        and isinstance(call.args[0], ast.IfExp | ast.JoinedStr | ast.BinOp)
        and any(isinstance(part, ast.Constant) for part in ast.walk(call.args[0]))
        and not _chooses_among_constants(call.args[0])
    ]
    assert hidden == []


def _chooses_among_constants(choice: ast.expr) -> bool:
    """One constant or another, by their names."""
    return isinstance(choice, ast.IfExp) and not any(
        isinstance(each, ast.Constant) for each in (choice.body, choice.orelse)
    )


class Bracketed(gettext.NullTranslations):
    """Every message in brackets: what stands outside of them on a page was never said.

    Each clause has its own, as a drawing leaves out the second.
    """

    def gettext(self, message: str) -> str:
        return re.sub(r"[^;()]+", r"⟦\g<0>⟧", message)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return self.gettext(msgid1 if n == 1 else msgid2)


@pytest.mark.parametrize("reader", EDITIONS)
def test_nothing_on_a_page_is_told_beside_the_language(demo: Path, reader: str) -> None:
    inner = "co-op/" if reader == "coop" else ""
    findings: Findings = json.loads((demo / f"report/{inner}findings.json").read_text("utf-8"))
    with told_in(Language("en", Bracketed())):
        page = season_page(findings, EDITIONS[reader])
    beside = outside(read_aloud(page))
    names = sorted(map(re.escape, names_in(findings)), key=len, reverse=True)
    left = re.sub("|".join([*names, *NO_WORDS]), " ", beside)
    assert re.findall(r"[A-Za-z]{2,}", left) == []


def read_aloud(page: str) -> str:
    """All that a page says to the eye or the ear, but for the names of tables, columns, files."""
    body = re.sub(
        r"<(script|style|code)\b.*?</\1>", "", page[page.index("<body") :], flags=re.DOTALL
    )
    body = re.sub(r"<span class=\"whole\">([^<]*)</span>|<wbr>", r"\1", body)
    told = re.findall(r">([^<]+)(?=<)|aria-label=\"([^\"]*)\"", body)
    return html.unescape("\n".join("".join(each) for each in told))


def outside(text: str) -> str:
    """What stands outside of all brackets."""
    depth, kept = 0, []
    for letter in text:
        depth += (letter == "⟦") - (letter == "⟧")
        kept.append(letter if depth == 0 and letter != "⟧" else " ")
    assert depth == 0
    return "".join(kept)


NAMED = {
    *("rig", "rig_version", "reference", "reference_rig", "vessel", "vessels", "trip", "part"),
    *("note", "notes", "damage_note", "source_file", "species", "currency", "grounds", "section"),
    *("title", "what_changed", "term", "code", "asked_for", "cell", "column", "table", "name"),
}
NO_WORDS = (
    r"'[^'\n]*'",
    *TABLES,
    *(column for table in TABLES.values() for column in table.column_names),
    r"\b(?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Sept|Oct|Nov|Dec)\b",
    r"[\w.]*\d[\w./:-]*",
    r"\b(?:kg|mm|cm|kn|min|EUR|python|rigseason|hauls|vl-convert-python)\b",
)
"""Cells as they were written, names that are the same in every language, months, figures, units."""


def names_in(told: object, *, named: bool = False) -> set[str]:
    """The names in the findings: of rigs, boats, trips, parts of the record; and the notes."""
    if isinstance(told, dict):
        of_versions = set(told) if "polars" in told else set()
        return of_versions.union(
            *(names_in(value, named=key in NAMED) for key, value in told.items())
        )
    if isinstance(told, list):
        return set().union(*(names_in(value, named=named) for value in told))
    return {told} if named and isinstance(told, str) and len(told) > 1 else set()


def test_figures_and_days_are_written_as_the_language_does() -> None:
    with told_in(language_of("es")):
        assert number(1234567.5, ",.1f") == "1.234.567,5"
        assert say("{hours:,.0f} hours", hours=12345.0).startswith("12.345 ")
        assert day_of(date(2031, 9, 5)) == "5 sept 2031"
    assert number(1234567.5, ",.1f") == "1,234,567.5"


@pytest.mark.parametrize(
    ("value", "written"),
    [(4410.7, "4,410"), (2.65082e6, "2,650,000"), (0.0000903, "0.0000903"), (44.1, "44.1")],
)
def test_powers_of_ten_are_written_out(value: float, written: str) -> None:
    assert number(value, ".3g") == written
    assert say("{many:.3g} kg", many=value) == f"{written} kg"
    assert day_of(date(2031, 9, 5)) == "5 Sep 2031"


def test_one_and_many_are_told_apart() -> None:
    with told_in(IN_ENGLISH):
        said = [say_many("{number:,} haul", "{number:,} hauls", hauls) for hauls in (1, 2, 1200)]
    assert said == ["1 haul", "2 hauls", "1,200 hauls"]


def test_what_is_said_afterwards_is_in_english_again() -> None:
    with told_in(language_of("es")):
        pass
    assert say("Contents") == "Contents"


def test_a_language_that_is_not_there_is_named_in_one_sentence(
    rigseason: list[str], tmp_path: Path
) -> None:
    asked = ("report", "a-season", "--out", "a-report", "--language", "ess")
    done = run(rigseason, *asked, cwd=tmp_path)
    assert done.returncode == 2
    assert done.stderr.splitlines() == [
        "There is no report in 'ess' (did you mean 'es'?); --language takes en, es."
    ]

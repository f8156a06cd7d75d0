"""The words of the report, collected from its code, and the files of what they are elsewhere.

`python -m tests.languages.catalogue` brings every file of `reports/languages` up to date: new words
are added without a translation, words that are said no longer go, and it is told how many wait.
"""

from __future__ import annotations

import ast
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from babel.messages import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import read_po, write_po

from schemas.words import LANGUAGES

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

ROOT = Path(__file__).parents[2]
SAID = {"say": 1, "say_many": 2}
SAID_LATER = {"saying": 1}
"""The functions by which words are known, and how many of their arguments are words. Outside the
report `say` tells of progress."""
ROOMS = {"reports": {**SAID, **SAID_LATER}, "schemas": SAID_LATER, "pipeline": SAID_LATER}
HEAD = "# What the report says in this language; tests/languages/catalogue.py collects it."

Message = str | tuple[str, ...]


def place(tag: str) -> Path:
    """Where the translation to a language lies."""
    return ROOT / "reports" / "languages" / f"{tag}.po"


def words_of_the_report() -> Catalog:
    """Every message that the report may say."""
    words = Catalog()
    for room, functions in ROOMS.items():
        for file in sorted((ROOT / room).rglob("*.py")):
            for message in words_of_code(file.read_text(encoding="utf-8"), functions):
                words.add(message, locations=[(str(file.relative_to(ROOT)), 0)])
    templates = extract_from_dir(
        ROOT / "reports" / "templates", [("**.html", "jinja2")], keywords={"say": None}
    )
    for file_name, _, message, _, _ in templates:
        words.add(message, locations=[(f"reports/templates/{file_name}", 0)])
    return words


def words_of_code(code: str, functions: Mapping[str, int]) -> Iterator[Message]:
    """The literal words that these functions are given, in their order."""
    for call in ast.walk(ast.parse(code)):
        if isinstance(call, ast.Call) and isinstance(call.func, ast.Name):
            given = call.args[: functions.get(call.func.id, 0)]
            told = [
                each.value
                for each in given
                if isinstance(each, ast.Constant) and isinstance(each.value, str)
            ]
            if any(told) and len(told) == len(given):
                yield tuple(told) if len(told) > 1 else told[0]


def translation(tag: str) -> Catalog:
    """What a language says for them; empty where it has no file yet."""
    path = place(tag)
    if not path.exists():
        return Catalog(locale=tag, header_comment=HEAD, fuzzy=False)
    with path.open("rb") as file:
        return read_po(file, locale=tag)


def untranslated(catalogue: Catalog) -> list[str]:
    """The messages that have no translation, or one that is only guessed."""
    return [
        str(message.id)
        for message in catalogue
        if message.id and (message.fuzzy or not all(forms(message.string)))
    ]


def forms(string: str | tuple[str, ...] | list[str] | None) -> list[str]:
    """The words of a message, of one and of many where it has both."""
    return [string or ""] if string is None or isinstance(string, str) else list(string)


def main() -> None:
    """Bring the files up to date."""
    words = words_of_the_report()
    for tag in LANGUAGES[1:]:
        catalogue = translation(tag)
        words.creation_date = catalogue.creation_date
        catalogue.msgid_bugs_address = catalogue.last_translator = catalogue.language_team = ""
        catalogue.revision_date = catalogue.creation_date
        catalogue.update(words, no_fuzzy_matching=True)
        catalogue.obsolete.clear()
        with place(tag).open("wb") as file:
            write_po(file, catalogue, omit_header=False, sort_by_file=True, include_lineno=False)
        wanting = len(untranslated(catalogue))
        sys.stdout.write(f"{tag}: {len(catalogue)} messages, {wanting} without a translation\n")


if __name__ == "__main__":
    main()

"""Why a row was set aside can be told in any language: its sentence is known again by its words."""

from __future__ import annotations

import gettext
import re
from functools import cache

import pytest

from reports.language import Language, told_in
from reports.reason_words import REASONS as SENTENCES
from reports.reason_words import reason_said, without_its_cell
from tests.languages.catalogue import words_of_the_report
from tests.spec.spoilt_seasons import cases

SENTENCE = re.compile(r"[^:]*?(?:: (?:'.*?' )?|, \w+ (?=is blank))(?P<reason>.*?)\.?", re.DOTALL)
"""Behind the place and the cell stands the reason; of a blank cell, behind the column."""

REASONS = sorted(
    {
        found["reason"]
        for kind in ("A row is set aside", "A row is used, with a remark")
        for case in cases(kind)
        for sentence in case.sentences
        if (found := SENTENCE.fullmatch(sentence))
    }
)


class Asked(gettext.NullTranslations):
    """A language that says everything in English and keeps what it was asked for."""

    def __init__(self) -> None:
        super().__init__()
        self.messages: list[str] = []

    def gettext(self, message: str) -> str:
        """The message as it is."""
        self.messages.append(message)
        return message


class Shouted(gettext.NullTranslations):
    """A language in which every message is in capitals, but for what has its place in it."""

    def gettext(self, message: str) -> str:
        """The message in capitals."""
        return message.upper()


@cache
def known_messages() -> set[str]:
    """What translators have before them."""
    return {str(message.id) for message in words_of_the_report() if message.id}


@pytest.mark.parametrize("reason", REASONS)
def test_a_reason_is_said_by_messages_that_translators_know(reason: str) -> None:
    asked = Asked()
    with told_in(Language("x", asked)):
        assert reason_said(reason) == reason
    assert set(asked.messages) <= known_messages()


@pytest.mark.parametrize(
    ("reason", "said"),
    [
        ("is the same row again (rows 8, 12 are alike); delete one",
         "IS THE SAME ROW AGAIN (ROWS 8, 12 ARE ALIKE); DELETE ONE"),
        ("is a rig that rig_versions does not describe (did you mean 'bobbins-14'?); add it there "
         "or put it right",
         "IS A RIG THAT RIG_VERSIONS DOES NOT DESCRIBE (DID YOU MEAN 'bobbins-14'?); ADD IT THERE "
         "OR PUT IT RIGHT"),
        ("min (400.0 h) must be more than 0 h; put it right or leave it blank; also ground 'clay' "
         "is of a haul; also the row is blank",
         "min (400.0 h) MUST BE MORE THAN 0 h; PUT IT RIGHT OR LEAVE IT BLANK; ALSO ground 'clay' "
         "IS OF A HAUL; ALSO THE ROW IS BLANK"),
        ("is no column of hauls (did you mean 'tow_hours'?)",
         "IS NO COLUMN OF hauls (DID YOU MEAN 'tow_hours'?)"),
    ],
)  # fmt: skip
def test_values_stay_as_they_are(reason: str, said: str) -> None:
    with told_in(Language("x", Shouted())):
        assert reason_said(reason) == said


def test_every_sentence_with_places_is_before_the_translators() -> None:
    assert set(SENTENCES) <= known_messages()


@pytest.mark.parametrize(
    ("reason", "said"),
    [
        ("min (400.0 h) is longer than a tow of 24 h", "is longer than a tow of 24 h"),
        ("is blank, and the row is of no use without it",) * 2,
    ],
)
def test_where_the_cell_is_not_told_its_unit_is_not_either(reason: str, said: str) -> None:
    assert without_its_cell(reason) == said

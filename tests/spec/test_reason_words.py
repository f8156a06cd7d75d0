"""Why a row was set aside can be told in any language: its sentence is known again by its words."""

from __future__ import annotations

import gettext
import re
from functools import cache

import pytest

from reports.language import Language, language_of, told_in
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


@pytest.mark.parametrize(
    ("reason", "said"),
    [
        ("bad is left out, as it can't be used: No haul can be used: no row is whole (rows read: "
         "1) (and 1 more; see rigseason check bad).",
         "bad queda fuera, porque no se puede usar: No se puede usar ningún lance: no hay ninguna "
         "fila completa (filas leídas: 1) (y 1 más; véase rigseason check bad)."),
        ("leads round to bobbins itself (bobbins from discs from bobbins); put right which came "
         "first, as until then no hours are carried over to its parts",
         "da la vuelta hasta volver a bobbins (bobbins a partir de discs a partir de bobbins); hay "
         "que corregir cuál fue primero, porque hasta entonces no se pasan horas a sus piezas"),
        ("is of a haul that another season has too and tells otherwise (A/hauls.csv, row 10); take "
         "the wrong one out",
         "es de un lance que también está en otra temporada y ahí dice otra cosa (A/hauls.csv, "
         "fila 10); hay que quitar el equivocado"),
        ("the discs in the wing of rope cannot be weighed without the mass of one, or its width; "
         "until then the rig weighs at least what the rest does",
         "no se puede pesar la pieza discs en wing de rope sin la masa de una o su ancho; hasta "
         "entonces el armado pesa al menos lo que pesa el resto"),
        ("vessel: the same for all that had any", "vessel: igual en todos los que tuvieron algo"),
        ("quarter: not recorded of any that had any",
         "quarter: no anotado en ninguno de los que tuvieron algo"),
        ("must be 0 EUR or more; put it right",
         "debe ser 0 EUR o más; hay que corregirlo"),
        ("worked out from shot_at and hauled_at, is longer than a tow of 24 h; put it right, or "
         "raise longest_tow_hours under [checks] in season.toml",
         "calculado con shot_at y hauled_at, es más largo que un arrastre de 24 h; hay que "
         "corregirlo, o subir longest_tow_hours en [checks] de season.toml"),
    ],
)  # fmt: skip
def test_what_stands_in_a_sentence_is_told_in_its_language_too(reason: str, said: str) -> None:
    with told_in(language_of("es")):
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

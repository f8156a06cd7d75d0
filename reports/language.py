"""The language that a report is told in: its words go through `say`, its figures through `number`.

A message is a plain English sentence with places for its values, `{hours:,.0f} hours towed`; what
it is in another language stands in `languages/`, a file a language, in the form of GNU gettext.
Words that are written down before they are said (a constant, the title of an outcome) are put in
`saying`, by which they are found for the translator, and go through `say` where they are told.
"""

from __future__ import annotations

import gettext
import re
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import cache
from importlib.resources import files
from io import BytesIO
from string import Formatter
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

ENGLISH = "en"


@dataclass(frozen=True)
class Language:
    """A language: its tag (BCP 47), its sentences, and how it writes figures."""

    tag: str
    sentences: gettext.NullTranslations = field(default_factory=gettext.NullTranslations)
    decimal_mark: str = "."
    thousands_mark: str = ","

    def figure(self, written: str) -> str:
        """A figure as this language writes it, of one written with a point and commas."""
        return written.translate({ord("."): self.decimal_mark, ord(","): self.thousands_mark})

    @property
    def of_charts(self) -> dict[str, Any]:
        """The same for the axes of charts, as d3-format has it."""
        return {
            "decimal": self.decimal_mark,
            "thousands": self.thousands_mark,
            "grouping": [3],
            "currency": ["", ""],
        }

    @property
    def of_days(self) -> dict[str, Any]:
        """Its months and days for the axes of charts, as d3-time-format has them."""
        from babel.dates import get_day_names, get_month_names

        locale = self.tag.replace("-", "_")
        months = get_month_names("wide", "stand-alone", locale)
        short_months = get_month_names("abbreviated", "stand-alone", locale)
        days = get_day_names("wide", "stand-alone", locale)
        short_days = get_day_names("abbreviated", "stand-alone", locale)
        return {
            "dateTime": "%x %X",
            "date": "%Y-%m-%d",
            "time": "%H:%M:%S",
            "periods": ["AM", "PM"],
            "months": [months[month] for month in range(1, 13)],
            "shortMonths": [short_months[month] for month in range(1, 13)],
            "days": [days[day] for day in SUNDAY_FIRST],
            "shortDays": [short_days[day] for day in SUNDAY_FIRST],
        }


IN_ENGLISH = Language(ENGLISH)
_spoken: ContextVar[Language] = ContextVar("spoken")


SUNDAY_FIRST = (6, 0, 1, 2, 3, 4, 5)
"""The days of the week as charts count them; of Unicode's names Monday is 0."""


@cache
def language_of(tag: str) -> Language:
    """The language of a tag of `LANGUAGES`; of English nothing is read."""
    if tag == ENGLISH:
        return IN_ENGLISH
    from babel import Locale
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    text = (files("reports") / "languages" / f"{tag}.po").read_bytes()
    compiled = BytesIO()
    write_mo(compiled, read_po(BytesIO(text), locale=tag))
    compiled.seek(0)
    symbols = Locale.parse(tag, sep="-").number_symbols["latn"]
    return Language(
        tag, gettext.GNUTranslations(compiled), str(symbols["decimal"]), str(symbols["group"])
    )


@contextmanager
def told_in(spoken: Language) -> Iterator[None]:
    """Everything that is said meanwhile is said in this language."""
    before = _spoken.set(spoken)
    try:
        yield
    finally:
        _spoken.reset(before)


def spoken() -> Language:
    """The language that is spoken now."""
    return _spoken.get(IN_ENGLISH)


def say(message: str, /, **values: object) -> str:
    """The message in the language that is spoken, with the values in their places."""
    if not message:  # gettext answers nothing with the head of its file
        return ""
    return _filled(spoken().sentences.gettext(message), values)


def say_many(one: str, many: str, number: int, /, **values: object) -> str:
    """The message for this number of things, which has its place at {number}."""
    message = spoken().sentences.ngettext(one, many, number)
    return _filled(message, {"number": number, **values})


def number(value: float, form: str = "") -> str:
    """A figure in a form of `format`, as the language writes it: 1,240.5 or 1.240,5.

    Powers of ten are written out: 4,410 and not 4.41e+03.
    """
    return spoken().figure(_written(value, form))


def _written(value: object, form: str) -> str:
    written = format(value, form)
    return format(Decimal(written), ",f") if POWER.fullmatch(written) else written


POWER = re.compile(r"-?[\d.,]+e[+-]\d+")


def day_of(day: date | str, form: str = "d MMM y") -> str:
    """A day, or that of a moment in ISO 8601, in a form of Unicode's locale data (LDML).

    So it is 5 Mar 2031.
    """
    from babel.dates import format_date

    told = date.fromisoformat(day[:10]) if isinstance(day, str) else day
    return format_date(told, form, locale=spoken().tag.replace("-", "_"))


class _Filler(Formatter):
    """Puts values into a message; figures as the language writes them."""

    def format_field(self, value: object, format_spec: str) -> str:
        written = _written(value, format_spec)
        return spoken().figure(written) if isinstance(value, float) or format_spec else written


def _filled(message: str, values: Mapping[str, object]) -> str:
    nothing: Sequence[object] = ()
    return _Filler().vformat(message, nothing, values) if values else message

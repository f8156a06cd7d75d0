"""Stretches of time in a note, and times of day: 2 hrs, 1h30, hour and a half, 0600 until 0845."""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from pipeline.notes.number_words import (
    NUMBER,
    ONE_AND_A_HALF,
    PARTS_OF_AN_HOUR,
    PARTS_OF_ONE,
    WORDS,
)
from pipeline.notes.time_forms import FORMS
from pipeline.notes.time_needs import (
    BOTH,
    HOURS,
    MINUTES,
    OF_FIGURES,
    OF_HOURS,
    OF_WORDS,
    SHORT_HOURS,
    SHORT_MINUTES,
    UNIT,
)
from pipeline.notes.time_words import SPOKEN_HOUR

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

MOST_HOURS = 400.0
"""Longer than a trip: what says more was no stretch of time (own judgement, no source)."""

LEAST_SHARED_MINUTES = 10
"""A number from this on that shares the unit of another is of minutes, a smaller one of hours."""
DAY = 24
HALF_A_DAY = 12

HALF_DAY = re.compile("half .*day")
FIGURE = re.compile(r"\d")
DOTTED = re.compile(r"(\d{1,2})\.([1-4]0)")
WITH_A_UNIT = {HOURS, MINUTES, SHORT_MINUTES, SHORT_HOURS}
MINUTE_GROUPS = ("minutes", "few_minutes", "five")

A_UNIT = re.compile(
    r" ?(?:ft|feet|foot|fathoms?|fms?|yds?|yards?|metres?|meters?|cm|mm|inch(?:es)?|kn|knots?|kgs?|"
    r"kilos?|tons?|tonnes?|baskets?|boxes|mesh(?:es)?|bars?)\b"
)
A_RANGE_IN_M = re.compile(r"(?:from )?[\d.]+ ?(?:-|to) ?[\d.]+ ?m")
OF_A_TEAR = re.compile(r" (?:long|wide|in|of|tear|rip|hole|across|x)\b")
"""Behind numbers these make them a size."""

OF_IT = "(?:of (?:it|them|that|those|this|which) )?"
TO_DO = (
    r"(?:lost|gone|(?:was |were )?(?:sew|mend|lac|repair|fix|splic|rig|clear|steam|runn?ing|wash|"
    r"cutt)|(?:more|mair) (?:sew|mend|steam|sitting|wait|lost)|(?:of )?(?:off (?:the )?|not )fishin"
    r"|t(?:o|ae) (?:sew|mend|rep|lac|fix|close|splic|rig|clear|get|steam|put|make)|on the (?:twine|"
    r"needle|wing|belly|square|bag|wire|net|port|stbd|starboard)|more to|with the needle)"
)
COUNTED = ("floats", "float", "cans", "bobbins", "discs", "disks", "links", "hoppers", "toggles")
UNCOUNTED = "".join(f"(?<!{thing} )" for thing in COUNTED)
"""Floats lost 6 is no time."""
SHARED = tuple(
    re.compile(form)
    for form in (
        # two hours to get her out and five to sew; 3 hrs down, 2 of it sewing; not a right mess
        rf"(?:,|;|:|\+|&|\b(?:and|an|then|say|which|another|anither)) ?(?!an? )"
        rf"(?P<number>{NUMBER}) "
        rf"(?={OF_IT}{TO_DO})",
        # 2 hours mending out of 5 lost
        rf"out of (?P<number>{NUMBER})(?= lost)",
        # sewed up 2 hr, lost 4; first took 20 mins, second took 35
        rf"\b(?:{UNCOUNTED}lost|took|rep|mend(?:ing|ed)?|sewing|other in|down|then) "
        rf"(?:me |us |him |them |it |like |about )?(?:another )?(?P<number>{NUMBER})"
        rf"(?= ?(?:$|[.,;)])| (?:altogether|in all|total|all told)\b)",
        # six hours in and six out
        rf"\b(?:in|there|over) ?(?:and|an|&|,) (?P<number>{NUMBER})(?= (?:out|back|home)\b(?! of))",
        # 20 minutes each, in total 40
        rf"\b(?:in total|in all|total|altogether)[,:]? (?P<number>{NUMBER})(?= ?(?:$|[.,;)]))",
        # waited 5 hrs, mending took another 2
        r"\b(?:took|take|takes|so|then|lost|mending|sewing|waiting) an(?:other|ither) "
        r"(?P<number>[1-9](?:[.,]5)?|two|three)(?= ?(?:$|[.,;)])| after)",
        # 1 hr 40 to sort, another 20
        r"\banother (?P<number>[1-5][05])(?= ?(?:$|[.,;]))",
        # p wing 40; square 1 hr
        r"\b(?:wing|belly|square|bag|codend|c/e|sq|bunt|bosom)s? ?[-:=] ?(?P<number>[1-9][05])"
        r"(?= ?(?:[.,;]|$))",
    )
)
"""Numbers that share the unit of another time in the note."""


compiled = cache(re.compile)
"""A form is made ready when a note first holds what it needs: all of them take a tenth of a second,
and most runs of the program read no note."""


class Stretch(NamedTuple):
    """A stretch of time from letter to letter of a note, in hours; or a time of day, in `clock`."""

    start: int
    end: int
    hours: float | None
    clock: float | None = None


def stretches(note: str) -> list[Stretch]:
    """All stretches of time and times of day in a plain note, in their order."""
    holds = _holds(note)
    if not holds:
        return []
    found: list[Stretch] = []
    for needs, form in FORMS:
        if needs in holds:
            for match in compiled(form).finditer(note):
                start, end = _span(match)
                taken = any(start < other.end and other.start < end for other in found)
                if taken or _a_size(note, start, end):
                    continue
                stretch = _stretch(match, start, end)
                if stretch is not None:
                    found.append(stretch)
    if any(stretch.hours for stretch in found):
        found += _sharing(note, found)
    return sorted(_without_loose_words(note, found))


def _without_loose_words(note: str, found: list[Stretch]) -> list[Stretch]:
    """The times without half a day, where hours stand beside it: lost half a day, 6 hrs."""
    closely = [each for each in found if not HALF_DAY.match(note, each.start, each.end)]
    return closely if any(each.hours for each in closely) else found


def _a_size(note: str, start: int, end: int) -> bool:
    """Whether what looks like a time is a length or a weight: from 12 to 16 ft, 2-6 m in belly."""
    if A_UNIT.match(note, end) and note[end - 1].isdigit():
        return True
    return A_RANGE_IN_M.fullmatch(note, start, end) is not None and bool(OF_A_TEAR.match(note, end))


def _sharing(note: str, found: list[Stretch]) -> Iterator[Stretch]:
    """Numbers that share the unit of another time: two hours to clear her and five to sew."""
    for form in SHARED:
        for match in form.finditer(note):
            start, end = match.span("number")
            if not any(start < other.end and other.start < end for other in found):
                shared = number(match["number"])
                of_minutes = shared >= LEAST_SHARED_MINUTES
                yield Stretch(start, end, shared / 60 if of_minutes else shared)


def _holds(note: str) -> set[str]:
    """What a note holds of what the forms of a time need."""
    holds = {needs for needs, what in OF_WORDS.items() if what.search(note)}
    if FIGURE.search(note):
        holds.update(needs for needs, what in OF_FIGURES.items() if what.search(note))
    if not holds.isdisjoint(WITH_A_UNIT):
        holds.add(UNIT)
    if HOURS in holds:
        holds.update(needs for needs, what in OF_HOURS.items() if what.search(note))
        if MINUTES in holds or SHORT_MINUTES in holds:
            holds.add(BOTH)
    return holds


def _span(match: re.Match[str]) -> tuple[int, int]:
    """From which letter to which a form has found a time; the word before a decimal is none."""
    start, end = match.span()
    return match.end("behind") if "behind" in match.re.groupindex else start, end


def number(text: str) -> float:
    """A number as a skipper writes it: 2, 1,5, 1 1/2, 1/2, two, a, two and a half."""
    whole, part = text.strip().removesuffix(" and a half"), 0.0
    if whole != text.strip():
        part = PARTS_OF_ONE["1/2"]
    for sign, value in PARTS_OF_ONE.items():
        if whole.endswith(sign):
            part, whole = value, whole.removesuffix(sign).rstrip().removesuffix("and").rstrip()
    if whole in ONE_AND_A_HALF:
        return ONE_AND_A_HALF[whole]
    if whole in WORDS:
        return WORDS[whole] + part
    return part + (float(whole.replace(",", ".")) if whole else 0.0)


def _stretch(match: re.Match[str], start: int, end: int) -> Stretch | None:
    """The stretch of time or time of day that a form has found, if it can be one."""
    told = {name: words for name, words in match.groupdict().items() if words is not None}
    of_day = told.get("of_day") or told.get("since")
    if of_day is not None:
        clock = _clock(of_day)
        return Stretch(start, end, None, clock) if clock < DAY else None
    hours = _hours(told)
    return Stretch(start, end, hours) if hours is not None and hours <= MOST_HOURS else None


def _hours(told: dict[str, str]) -> float | None:
    """The hours in the pieces of a form."""
    if "to" in told:
        start = told.get("from") or told.get("from_the") or told.get("from_spoken")
        start = start or told["until_spoken"]
        return _between(start, told["to"])
    if "low" in told:
        return _middle(told)
    by_piece = next((piece for piece in BY_PIECE if piece in told), None)
    if by_piece is not None:
        return BY_PIECE[by_piece](told)
    whole = _dotted(told["hours"]) if "hours" in told else float("an_hour" in told)
    part = PARTS_OF_AN_HOUR[told["part"].replace("-", " ")] if "part" in told else 0.0
    minutes = number(next((told[name] for name in MINUTE_GROUPS if name in told), "0"))
    minutes *= int(told.get("times", "1"))
    minutes += number(told.get("first_minutes", "0"))
    if "quarters" in told:
        minutes += 15 * number(told["quarters"])
    if "less_a_quarter" in told:
        part -= 0.25
    return whole + part + (minutes - number(told.get("less", "0"))) / 60


BY_PIECE: dict[str, Callable[[dict[str, str]], float]] = {
    "days": lambda told: number(told["days"]) * DAY,
    "half_day": lambda _: DAY / 2,
    "man_hours": lambda told: number(told["man_hours"]) / number(told["hands"]),
    "or_more": lambda told: (1 + WORDS[told["or_more"]]) / 2,
    "or_part": lambda told: 1 + PARTS_OF_AN_HOUR[told["or_part"].removeprefix("and a ")] / 2,
}
"""The hours of a form that is known by a piece of its own."""


def _dotted(text: str) -> float:
    """A number of hours; 2.30 is two and thirty minutes, as nobody writes a nought for nothing."""
    dotted = DOTTED.fullmatch(text)
    return int(dotted[1]) + int(dotted[2]) / 60 if dotted else number(text)


def _between(start: str, end: str) -> float:
    """The hours from one time of day to another; a spoken one says not which half of the day."""
    both_written = start[0].isdigit() and end[0].isdigit() and min(len(start), len(end)) > 2
    hours = (_clock(end) - _clock(start)) % (DAY if both_written else HALF_A_DAY)
    half_before = start.startswith("half ") and hours >= HALF_A_DAY - 1
    return hours - (HALF_A_DAY - 1) if half_before else hours


def _middle(told: dict[str, str]) -> float | None:
    """The middle of a range in hours; None where it runs backwards."""
    low, high = number(told["low"]), number(told["high"])
    if not 0 < low <= high:
        return None
    return (low + high) / 2 / (1 if "of_hours" in told else 60)


def _clock(text: str) -> float:
    """The time of day in hours from 0640, 6:40, 06.40, half six, twenty to five."""
    if text.endswith("m"):
        return _clock(text[:-2].strip()) % HALF_A_DAY + (HALF_A_DAY if text[-2] == "p" else 0)
    digits = re.sub(r"\D", "", text)
    if len(digits) > 2:
        return int(digits[:-2]) + int(digits[-2:]) / 60
    spoken = SPOKEN_HOUR.fullmatch(text)
    if spoken is None:
        return float(digits or DAY)
    hour, past = spoken["hour"], spoken["past"]
    whole = {"noon": 12.0, "midday": 12.0, "midnight": 0.0}.get(hour) or _number_of_day(hour)
    return whole + _past(past)


def _number_of_day(hour: str) -> float:
    return number(hour) if hour in WORDS or hour.isdigit() else 0.0


def _past(words: str | None) -> float:
    """The hours that half, quarter past, twenty to add."""
    if words is None:
        return 0.0
    if words.startswith("half"):
        return 0.5
    minutes, way = words.rsplit(" ", 1)
    hours = 0.25 if minutes == "quarter" else number(minutes) / 60
    return hours if way == "past" else -hours

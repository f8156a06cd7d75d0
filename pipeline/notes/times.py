"""Stretches of time in a note, and times of day: 2 hrs, 1h30, hour and a half, 0600 until 0845."""

from __future__ import annotations

import re
from typing import NamedTuple

MOST_HOURS = 400.0
"""Longer than a trip: what says more was no stretch of time (own judgement, no source)."""

DAY = 24

WORDS = {
    "a": 1, "an": 1, "one": 1, "wan": 1, "yin": 1, "ane": 1, "two": 2, "twa": 2, "three": 3,
    "tree": 3, "dree": 3,
    "four": 4, "fower": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "fifteen": 15, "twenty": 20, "thirty": 30, "thirty-five": 35,
    "forty": 40, "forty-five": 45, "fifty": 50,
}  # fmt: skip
PARTS_OF_ONE = {"1/2": 0.5, "1/4": 0.25, "3/4": 0.75}
PARTS_OF_AN_HOUR = PARTS_OF_ONE | {
    "half": 0.5,
    "quarter": 0.25,
    "three quarter": 0.75,
    "three quarters": 0.75,
}

NO_NUMBER_BEFORE = r"(?<![\w.,/:])"
FRACTION = "1/2|1/4|3/4"
IN_WORDS = "|".join(sorted(WORDS, key=len, reverse=True))
NUMBER = (
    rf"(?:\d{{1,4}}(?:[.,]\d+)?(?: ?(?:{FRACTION}|and (?:a half|{FRACTION})))?"
    rf"|{FRACTION}|\b(?:{IN_WORDS})\b(?: 1/2| 1/4| 3/4)?)"
)
HOUR = r"(?:hours?|hrs?|hr\.|h|oors?|ours|uur|timer|stunden?|horas?|heures?)"
WHOLE_MINUTE = r"(?:minutes?|mins?|min\.|meenits?|minits?|minuts?|minuten)"
MINUTE = rf"(?:{WHOLE_MINUTE}|m)"
AND = r"(?:,|and|an|n|&|\+|'n'|og|en)"
PART = rf"(?:a |the )?(?P<part>half|quarter|three[- ]quarters?|{FRACTION})"
TIME_OF_DAY = r"[0-2]\d[:.]?[0-5]\d"
NO_MEASURE_BEHIND = r"(?!\d|[.,:/]\d|\s?(?:m|kg|kilos?|meshes|boxes|fm|w)\b)"

FORMS = tuple(
    re.compile(form)
    for form in (
        # 0600 until 0845
        rf"(?<![\d.,:])(?P<from>{TIME_OF_DAY})\s?(?:h|hrs)?\s?(?:-|to|till|until)\s?"
        rf"(?P<to>{TIME_OF_DAY})(?!\d|[.,:]\d)",
        # 2-3 hrs, 30 to 40 min
        rf"{NO_NUMBER_BEFORE}(?P<low>{NUMBER})\s?(?:-|to|or|tae)\s?(?P<high>{NUMBER})\s?"
        rf"(?:(?P<of_hours>{HOUR})|{MINUTE})(?![\w/])",
        # 1h30, 1 hr 30 min
        rf"{NO_NUMBER_BEFORE}(?P<hours>{NUMBER})\s?(?:{HOUR}|t)\s?(?P<minutes>\d{{1,2}})"
        rf"(?:\s?{MINUTE})?(?![\w/.,:%]\w|\w)",
        # 1 hr and 30 min
        rf"{NO_NUMBER_BEFORE}(?P<hours>{NUMBER})\s?{HOUR}\s?{AND}\s?(?P<minutes>\d{{1,2}})\s?"
        rf"{MINUTE}(?!\w)",
        # hour and a half, 2 hrs and a quarter
        rf"{NO_NUMBER_BEFORE}(?:(?P<hours>{NUMBER})\s?)?(?P<an_hour>{HOUR})\s?{AND}\s?{PART}(?!\w)",
        # 2 and a half hours, one and three quarter hours
        rf"{NO_NUMBER_BEFORE}(?P<hours>{NUMBER})\s(?:and|an|n|&)\s?(?:a\s)?"
        rf"(?P<part>half|quarter|three[- ]quarters?)\s?{HOUR}(?!\w)",
        # 1 hr 3/4
        rf"{NO_NUMBER_BEFORE}(?P<hours>{NUMBER})\s?{HOUR}\s(?P<part>{FRACTION})(?![\w/])",
        # half an hour, three quarters of an hour
        rf"(?<!\d ){NO_NUMBER_BEFORE}{PART}(?:\s(?:of|o))?(?:\s(?:a|an))?\s?{HOUR}(?!\w)",
        # 2 hrs
        rf"{NO_NUMBER_BEFORE}(?P<hours>{NUMBER})\s?{HOUR}(?!\w)",
        # 45 min
        rf"(?<![\w.,/:-])(?P<minutes>{NUMBER})\s?{WHOLE_MINUTE}(?!\w)",
        # 45m
        rf"{NO_NUMBER_BEFORE}(?P<minutes>\d{{1,2}})m(?![\w/])",
        # an hour, with its number in no words
        r"(?<![\w.,/:-])(?P<an_hour>hour|oor)(?![\w-])",
        # a decimal behind mend or lost
        r"(?:(?<=mend )|(?<=mend: )|(?<=lost )|(?<=lost: )|(?<=mending ))(?P<hours>\d{1,2}[.,]\d+)"
        r"(?![\w.,]?\w| ?(?:m|km|t|kg|h|mile))",
        # a decimal before them
        rf"{NO_NUMBER_BEFORE}(?P<hours>\d{{1,2}}[.,]\d+)(?= (?:lost|mend))",
        # 6:40
        r"(?<![\d.,:])(?P<of_day>\d{1,2}:[0-5]\d)(?!\d|[.,:]\d)",
        # 0640
        rf"(?<![\d.,:/])(?P<of_day>[0-2]\d[0-5]\d){NO_MEASURE_BEHIND}",
    )
)
"""How skippers write a time; what an earlier form has taken, a later one does not read again."""

MAY_HOLD_A_TIME = re.compile(rf"\d|\b{HOUR}\b|{HOUR}\b|{MINUTE}\b")
"""Most notes hold no time, and this tells so at once."""


class Stretch(NamedTuple):
    """A stretch of time from letter to letter of a note, in hours; or a time of day, in `clock`."""

    start: int
    end: int
    hours: float | None
    clock: float | None = None


def stretches(note: str) -> list[Stretch]:
    """All stretches of time and times of day in a plain note, in their order."""
    if not MAY_HOLD_A_TIME.search(note):
        return []
    found: list[Stretch] = []
    taken = [False] * len(note)
    for form in FORMS:
        for match in form.finditer(note):
            start, end = match.span()
            stretch = None if any(taken[start:end]) else _stretch(match)
            if stretch is not None:
                found.append(stretch)
                taken[start:end] = [True] * (end - start)
    return sorted(found)


def number(text: str) -> float:
    """A number as a skipper writes it: 2, 1,5, 1 1/2, 1/2, two, a, two and a half."""
    whole, part = text.strip().removesuffix(" and a half"), 0.0
    if whole != text.strip():
        part = PARTS_OF_ONE["1/2"]
    for sign, value in PARTS_OF_ONE.items():
        if whole.endswith(sign):
            part, whole = value, whole.removesuffix(sign).rstrip().removesuffix("and").rstrip()
    if whole in WORDS:
        return WORDS[whole] + part
    return part + (float(whole.replace(",", ".")) if whole else 0.0)


def _stretch(match: re.Match[str]) -> Stretch | None:
    """The stretch of time or time of day that a form has found, if it can be one."""
    told = {name: words for name, words in match.groupdict().items() if words is not None}
    if "of_day" in told:
        clock = _clock(told["of_day"])
        return Stretch(*match.span(), None, clock) if clock < DAY else None
    hours = _hours(told)
    return Stretch(*match.span(), hours) if hours is not None and hours <= MOST_HOURS else None


def _hours(told: dict[str, str]) -> float | None:
    """The hours in the pieces of a form."""
    if "from" in told:
        return (_clock(told["to"]) - _clock(told["from"])) % DAY
    if "low" in told:
        return _middle(told)
    whole = number(told["hours"]) if "hours" in told else float("an_hour" in told)
    part = PARTS_OF_AN_HOUR[told["part"].replace("-", " ")] if "part" in told else 0.0
    return whole + part + number(told.get("minutes", "0")) / 60


def _middle(told: dict[str, str]) -> float | None:
    """The middle of a range in hours; None where it runs backwards."""
    low, high = number(told["low"]), number(told["high"])
    if not 0 < low <= high:
        return None
    return (low + high) / 2 / (1 if "of_hours" in told else 60)


def _clock(text: str) -> float:
    """The time of day in hours from 0640, 6:40 or 06.40."""
    digits = re.sub(r"\D", "", text)
    return int(digits[:-2]) + int(digits[-2:]) / 60

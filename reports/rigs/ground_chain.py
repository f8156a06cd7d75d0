"""What is said of a rig's ground chain, or wire, against its traveller, boat by boat."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from pipeline.rigs.stretching.stretch import CHECK_NOW, GOES_ON, NOT_SURE, TOO_FEW
from reports.gear_words import section_name
from reports.language import day_of, number, say
from reports.rigs.strand import the_strand
from reports.sentences import capital, listed
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from reports.parts import Row

HEADERS = [
    saying("boat"),
    saying("last check"),
    saying("per 100 h, checks"),
    saying("foretold for the end of the record"),
]
SHORT_HEADERS = [
    "boat",
    "last check",
    "per 100 h,\nchecks",
    "end of\nrecord,\nforetold",
    "fishing hours\nto the limit",
]

KNOWN_CLOSELY = timedelta(days=31)
"""A day to come is told by its month, unless it is known to so many days."""

TIPS_FROM_PERCENT = 0.5
"""Below this difference nothing is said of tipping: a tape's error is as much."""

RIGHT_OVER_DEG = 89.9

CAUTION = saying("Nobody under or in the bight of a chain or wire that is pulled tight.")

IN_SIGHT = timedelta(days=365)
"""A day further ahead is not told: the rig lies as good as idle."""

_ROUNDING = 1e-9


def chains(rig: Row) -> list[Row]:
    """The rows of `stretch`, sections and wholes, those that are most out first.

    Each has beside its own columns `last_difference_m`; `evened` and `part_evened` at the last
    check; and `left_percent`, which that check left. Of a chain that goes on in a later version
    that is the `latest_percent`.
    """
    checks = {
        (row["vessel"], row["section"], row["checked_on"]): row for row in rig["length_checks"]
    }
    rows = [
        _with_check(row, checks.get((row["vessel"], row["section"], row["last_checked_on"])))
        for row in rig["stretch"]
    ]
    return sorted(rows, key=lambda row: abs(row["latest_percent"] or 0.0), reverse=True)


def wholes(rig: Row) -> list[Row]:
    """The rows of `chains` on whole gears, if any boat has checked that rig."""
    rows = [row for row in chains(rig) if row["section"] == "whole"]
    return rows if any(row["last_checked_on"] for row in rows) else []


def _that_hang_there(rows: Iterable[Row]) -> list[Row]:
    """Those that are still of this rig, and did not go on in a later version of it."""
    return [row for row in rows if GOES_ON not in row["advice"]]


def _with_check(row: Row, check: Row | None) -> Row:
    evened = check is not None and check["evened"]
    part_evened = check is not None and check["ends_spell"] and not evened
    latest = row["latest_percent"]
    left = 0.0 if evened else None if part_evened else row["last_difference_percent"]
    return row | {
        "last_difference_m": check["difference_m"] if check is not None else None,
        "evened": evened,
        "part_evened": part_evened,
        "left_percent": left,
        "latest_percent": latest if latest is not None else left,
    }


def short_cells(row: Row) -> list[str]:
    """One boat's row under `SHORT_HEADERS`, all but hours in %."""
    about, span = _hours(row)
    return [row["vessel"], _last_check(row), _rate(row), _at_end(row), f"{about}{span}"]


def cells(row: Row, record_ends: str | None) -> list[str]:
    """One boat's row under `HEADERS`; of days none is told that lies before the record's end."""
    about, span = _hours(row)
    told = [row["vessel"], _last_check(row), _rate(row)]
    if GOES_ON in row["advice"]:
        return [*told, about]
    known = row["hours_to_limit"] is not None and not row["past_limit"]
    limit = (
        say("limit in about {hours} fishing hours{span}", hours=about, span=span)
        if known
        else about
    )
    day = _day(row, date.fromisoformat(record_ends)) if record_ends else ""
    if day:
        limit = say("{limit}, {day} at its own last pace", limit=limit, day=day)
    return [*told, f"{_at_end(row)}; {limit}"]


def _last_check(row: Row) -> str:
    """What was found, when, and whether it was evened."""
    if row["last_checked_on"] is None:
        return say("never")
    found = row["last_difference_percent"]
    evened = say("evened") if row["evened"] else say("part evened") if row["part_evened"] else ""
    said = [percent(found) if found is not None else "", row["last_checked_on"][:10], evened]
    return " ".join(word for word in said if word)


def _rate(row: Row) -> str:
    """The rate with its interval and the number of checks; one that may be nothing is not told."""
    rate, low, high = row["percent_per_100_hours"], row["low"], row["high"]
    if rate is None:
        told = "–"
    elif low is None:
        told = number(rate, "z.2f")
    elif low < 0:
        told = say("hardly known")
    else:
        told = f"{number(rate, 'z.2f')} ± {number((high - low) / 2, 'z.2f')}"
    return f"{told}, {row['checks']}"


def _at_end(row: Row) -> str:
    worked_out = row["difference_now_percent"]
    return "–" if worked_out is None else percent(worked_out)


def _hours(row: Row) -> tuple[str, str]:
    """Fishing hours to the limit, and between how many; that it is past, or not in sight."""
    if GOES_ON in row["advice"]:
        return say("now part of {rig}", rig=row["goes_on_as"]), ""
    if row["past_limit"]:
        return say("past it"), ""
    hours, low, high = (row[f"hours_to_limit{end}"] for end in ("", "_low", "_high"))
    if hours is None:
        return ("–" if TOO_FEW in row["advice"] else say("not in sight")), ""
    about = number(hours, "z,.0f")
    if low is None:
        return about, ""
    if high is None:
        return about, " " + say("({low:z,.0f} or never)", low=low)
    return about, " " + say("({low:z,.0f} to {high:z,.0f})", low=low, high=high)


def _day(row: Row, record_ends: date) -> str:
    """When the limit is reached, and between when: by the day only if it is known that closely.

    Nothing where that is not after the record's end, or not in sight.
    """
    day, early, late = (
        date.fromisoformat(str(row[name])) if row[name] is not None else None
        for name in ("day_of_limit", "earliest_day", "latest_day")
    )
    if day is None or not record_ends < day <= record_ends + IN_SIGHT:
        return ""
    if early is not None and early <= record_ends:
        early = record_ends + timedelta(days=1)
    closely = early is not None and late is not None and late - early <= KNOWN_CLOSELY
    form = "d MMM y" if closely else "MMM y"
    told, earliest, latest = (one and day_of(one, form) for one in (day, early, late))
    if earliest is None or earliest == told == latest:
        return str(told)
    if latest is None:
        return say(OR_NEVER if earliest == told else FROM_A_DAY, day=told, early=earliest)
    return say(BETWEEN_DAYS, day=told, early=earliest, late=latest)


BETWEEN_DAYS = saying("{day} ({early} to {late})")
FROM_A_DAY, OR_NEVER = saying("{day} ({early} or never)"), saying("{day} or never")


def percent(value: float) -> str:
    """To a tenth, and no minus before nothing."""
    return number(round(value, 1) + 0, "z.1f")


def chain_sentences(rig: Row) -> list[str]:
    """What to do about a rig's ground chains, and what the checks are too few to tell."""
    of_boats = _that_hang_there(wholes(rig))
    if not of_boats:
        return []
    sections = [row for row in _that_hang_there(chains(rig)) if row["section"] != "whole"]
    to_do = [*_past(of_boats), *_past_by_section(sections, of_boats), *_due(of_boats)]
    return [*to_do, *([say(CAUTION)] if to_do else []), *_untold(of_boats), *_tips(rig, of_boats)]


def out_on(rig: Row) -> list[str]:
    """The boats on which the whole ground chain is past the limit, or a check of it is due."""
    return sorted(
        row["vessel"]
        for row in _that_hang_there(wholes(rig))
        if _amount_past(row) or CHECK_NOW in row["advice"]
    )


def any_past(rig: Row) -> bool:
    """Whether the chain is past the limit on any boat, the whole or a section."""
    return any(row["past_limit"] for row in rig["stretch"])


def _past(of_boats: Sequence[Row]) -> list[str]:
    """Whole gears past the limit: longer chains together, then each longer traveller."""
    longer: dict[str, list[str]] = {}
    for row in of_boats:
        if _amount_past(row) > 0:
            measured = _amount_past(row) == row["left_percent"]
            longer.setdefault(PAST_MEASURED if measured else PAST_AT_THE_END, []).append(
                row["vessel"]
            )
    limit = of_boats[0]["limit_percent"]
    return [
        *(say(words, limit=limit, boats=listed(on)) for words, on in longer.items()),
        *(
            say(
                "On {boat} the traveller is the longer, by {percent} %: measure again; if it is "
                "so, it was made up wrong.",
                boat=row["vessel"],
                percent=percent(-_amount_past(row)),
            )
            for row in of_boats
            if _amount_past(row) < 0
        ),
    ]


PAST_MEASURED = saying(
    "Past {limit:g} % when last measured on {boats}: pull both tight, make them length for length."
)
PAST_AT_THE_END = saying(
    "Past {limit:g} % by the end of the record on {boats}: pull both tight, make them length for "
    "length."
)


def _past_by_section(sections: Sequence[Row], of_boats: Sequence[Row]) -> list[str]:
    """Sections past the limit where the whole is not, or is to the other side."""
    said_of = {row["vessel"]: _amount_past(row) for row in of_boats}
    return [
        _section(row)
        for row in sorted(sections, key=lambda row: row["vessel"])
        if _amount_past(row) and _amount_past(row) * said_of.get(row["vessel"], 0.0) <= 0
    ]


def _amount_past(row: Row) -> float:
    """The difference in % that is past the limit, measured before worked out; 0 if none is."""
    if not row["past_limit"]:
        return 0.0
    limit = row["limit_percent"] - _ROUNDING
    known = (row["left_percent"], row["difference_now_percent"])
    return next((each for each in known if each is not None and abs(each) > limit), 0.0)


def _section(row: Row) -> str:
    past = _amount_past(row)
    place = say("{section} of {boat}", section=section_name(row["section"]), boat=row["vessel"])
    known = {"place": capital(place), "percent": percent(abs(past))}
    if row["left_percent"] != past:
        return say(TOO_LONG_BY_NOW if past > 0 else TOO_SHORT_BY_NOW, **known)
    return say(
        TOO_LONG if past > 0 else TOO_SHORT,
        **known,
        millimetres=abs(1000 * row["last_difference_m"]),
        day=row["last_checked_on"][:10],
    )


TOO_LONG = saying(
    "{place}: {millimetres:z.0f} mm ({percent} %) too long when measured on {day}: make it length "
    "for length."
)
TOO_SHORT = saying(
    "{place}: the traveller is the longer, by {millimetres:z.0f} mm ({percent} %) when measured on "
    "{day}: measure again; if it is so, it was made up wrong."
)
TOO_LONG_BY_NOW = saying(
    "{place}: {percent} % too long by the end of the record, as worked out: measure it, and make "
    "it length for length."
)
TOO_SHORT_BY_NOW = saying(
    "{place}: the traveller is the longer, by {percent} % by the end of the record, as worked out: "
    "measure again; if it is so, it was made up wrong."
)


def _due(of_boats: Iterable[Row]) -> list[str]:
    due = [row["vessel"] for row in of_boats if CHECK_NOW in row["advice"]]
    return [say("A check is due on {boats}.", boats=listed(due))] if due else []


def _untold(of_boats: Sequence[Row]) -> list[str]:
    """On which boats a rate, or how sure it is, can't be told."""
    boats = {
        words: [row["vessel"] for row in of_boats if advice in row["advice"]]
        for advice, words in UNTOLD.items()
    }
    return [say(words, boats=listed(names)) for words, names in boats.items() if names]


UNTOLD = {
    TOO_FEW: saying("Too few checks to tell how fast it stretches: {boats}."),
    NOT_SURE: saying("Too few checks to tell how sure the rate is: {boats}."),
}


def _tips(rig: Row, of_boats: Iterable[Row]) -> list[str]:
    """What the largest difference does to the traveller, the discs and the fishing line."""
    tipped = [
        row
        for row in of_boats
        if row["tip_deg"] is not None and row["latest_percent"] >= TIPS_FROM_PERCENT
    ]
    if not tipped:
        return []
    worst = max(tipped, key=lambda row: row["latest_percent"])
    words = LIE_OVER if worst["tip_deg"] >= RIGHT_OVER_DEG else TIPS
    return [
        say(
            words,
            percent=percent(worst["latest_percent"]),
            shift_mm=worst["traveller_shift_mm"],
            tip_deg=worst["tip_deg"],
            strand=the_strand(rig),
        )
    ]


LIE_OVER = saying(
    "Spread evenly, {percent} % pulls the traveller {shift_mm:.0f} mm forward of {strand}, as far "
    "as the discs let it: they lie right over. The fishing line goes forward with it; its gap and "
    "drop back are told for the two length for length."
)
TIPS = saying(
    "Spread evenly, {percent} % pulls the traveller {shift_mm:.0f} mm forward of {strand} and tips "
    "the discs some {tip_deg:z.0f}°. The fishing line goes forward with it; its gap and drop back "
    "are told for the two length for length."
)

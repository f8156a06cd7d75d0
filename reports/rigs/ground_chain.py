"""What is said of a rig's ground chain against its traveller, boat by boat and by section."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pipeline.rigs.stretching.stretch import CHECK_NOW, NOT_SURE, TOO_FEW
from reports.sentences import listed

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

Row = dict[str, Any]

HEADERS = ["boat", "last check", "per 100 h, checks", "by the end of the record"]
SHORT_HEADERS = [
    "boat",
    "last check",
    "per 100 h,\nchecks",
    "end of\nrecord",
    "fishing hours\nto the limit",
]

TIPS_FROM_PERCENT = 0.5
"""Below this difference nothing is said of tipping: a tape's error is as much."""

RIGHT_OVER_DEG = 89.9

PULL_TIGHT = "pull both tight, make them length for length"
AGAIN = "measure again; if it is so, it was made up wrong"
CAUTION = "Nobody under or in the bight of a chain that is pulled tight."

_ROUNDING = 1e-9


def chains(rig: Row) -> list[Row]:
    """The rows of `stretch`, sections and wholes, those that are most out first.

    Each has beside its own columns `last_difference_m`; `evened` and `part_evened` at the last
    check; `left_percent`, which that check left; and `latest_percent`, the latest that is known:
    worked out for the end of the record, else as the last check left it.
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


def _with_check(row: Row, check: Row | None) -> Row:
    evened = check is not None and check["evened"]
    part_evened = check is not None and check["ends_spell"] and not evened
    found, now = row["last_difference_percent"], row["difference_now_percent"]
    left = 0.0 if evened else None if part_evened else found
    return row | {
        "last_difference_m": check["difference_m"] if check is not None else None,
        "evened": evened,
        "part_evened": part_evened,
        "left_percent": left,
        "latest_percent": now if now is not None else left,
    }


def short_cells(row: Row) -> list[str]:
    """One boat's row under `SHORT_HEADERS`, all but hours in %."""
    about, span = _hours(row)
    return [row["vessel"], _last_check(row), _rate(row), _at_end(row), f"{about}{span}"]


def cells(row: Row) -> list[str]:
    """One boat's row under `HEADERS`."""
    about, span = _hours(row)
    known = row["hours_to_limit"] is not None and not row["past_limit"]
    limit = f"limit in about {about} fishing hours{span}" if known else about
    day = f", {_day(row)} at its own last pace" if row["day_of_limit"] is not None else ""
    return [row["vessel"], _last_check(row), _rate(row), f"{_at_end(row)}; {limit}{day}"]


def _last_check(row: Row) -> str:
    """What was found, when, and whether it was evened."""
    if row["last_checked_on"] is None:
        return "never"
    found = row["last_difference_percent"]
    evened = "evened" if row["evened"] else "part evened" if row["part_evened"] else ""
    said = [percent(found) if found is not None else "", row["last_checked_on"][:10], evened]
    return " ".join(word for word in said if word)


def _rate(row: Row) -> str:
    """The rate with its interval and the number of checks; one that may be nothing is not told."""
    rate, low, high = row["percent_per_100_hours"], row["low"], row["high"]
    if rate is None:
        return f"–, {row['checks']}"
    if low is None:
        return f"{rate:z.2f}, {row['checks']}"
    if low < 0:
        return f"hardly known, {row['checks']}"
    return f"{rate:z.2f} ± {(high - low) / 2:z.2f}, {row['checks']}"


def _at_end(row: Row) -> str:
    worked_out = row["difference_now_percent"]
    return "–" if worked_out is None else percent(worked_out)


def _hours(row: Row) -> tuple[str, str]:
    """Fishing hours to the limit, and between how many; that it is past, or not in sight."""
    if row["past_limit"]:
        return "past it", ""
    hours, low, high = (row[f"hours_to_limit{end}"] for end in ("", "_low", "_high"))
    if hours is None:
        return ("–" if TOO_FEW in row["advice"] else "not in sight"), ""
    if low is None:
        return f"{hours:z,.0f}", ""
    latest = "or never" if high is None else f"to {high:z,.0f}"
    return f"{hours:z,.0f}", f" ({low:z,.0f} {latest})"


def _day(row: Row) -> str:
    """The day of the limit, and between which days."""
    early, late = row["earliest_day"], row["latest_day"]
    if early is None:
        return str(row["day_of_limit"])
    return f"{row['day_of_limit']} ({early} {f'to {late}' if late else 'or never'})"


def percent(value: float) -> str:
    """To a tenth, and no minus before nothing."""
    return f"{round(value, 1) + 0:z.1f}"


def chain_sentences(rig: Row) -> list[str]:
    """What to do about a rig's ground chains, and what the checks are too few to tell."""
    of_boats = wholes(rig)
    if not of_boats:
        return []
    sections = [row for row in chains(rig) if row["section"] != "whole"]
    to_do = [*_past(of_boats), *_past_by_section(sections, of_boats), *_due(of_boats)]
    return [*to_do, *([CAUTION] if to_do else []), *_untold(of_boats), *_tips(of_boats)]


def out_on(rig: Row) -> list[str]:
    """The boats on which the whole ground chain is past the limit, or a check of it is due."""
    return sorted(
        row["vessel"] for row in wholes(rig) if _amount_past(row) or CHECK_NOW in row["advice"]
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
            when = "when last measured" if measured else "by the end of the record"
            longer.setdefault(when, []).append(row["vessel"])
    limit = of_boats[0]["limit_percent"]
    return [
        *(f"Past {limit:g} % {when} on {listed(on)}: {PULL_TIGHT}." for when, on in longer.items()),
        *(
            f"On {row['vessel']} the traveller is the longer, by {percent(-_amount_past(row))} %: "
            f"{AGAIN}."
            for row in of_boats
            if _amount_past(row) < 0
        ),
    ]


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
    limit = row["limit_percent"] - _ROUNDING
    known = (row["left_percent"], row["difference_now_percent"])
    return next((each for each in known if each is not None and abs(each) > limit), 0.0)


def _section(row: Row) -> str:
    past = _amount_past(row)
    place, much = f"{row['section'].capitalize()} of {row['vessel']}", f"{percent(abs(past))} %"
    if row["left_percent"] != past:
        when, then = "by the end of the record, as worked out", "measure it, and make it length for"
    else:
        much = f"{abs(1000 * row['last_difference_m']):z.0f} mm ({much})"
        when, then = f"when measured on {row['last_checked_on'][:10]}", "make it length for"
    if past > 0:
        return f"{place}: {much} too long {when}: {then} length."
    return f"{place}: the traveller is the longer, by {much} {when}: {AGAIN}."


def _due(of_boats: Iterable[Row]) -> list[str]:
    due = [row["vessel"] for row in of_boats if CHECK_NOW in row["advice"]]
    return [f"A check is due on {listed(due)}."] if due else []


def _untold(of_boats: Sequence[Row]) -> list[str]:
    """On which boats a rate, or how sure it is, can't be told."""
    said = {
        "Too few checks to tell how fast it stretches": TOO_FEW,
        "Too few checks to tell how sure the rate is": NOT_SURE,
    }
    boats = {
        words: [row["vessel"] for row in of_boats if advice in row["advice"]]
        for words, advice in said.items()
    }
    return [f"{words}: {listed(names)}." for words, names in boats.items() if names]


def _tips(of_boats: Iterable[Row]) -> list[str]:
    """What the largest difference does to the traveller, the discs and the fishing line."""
    tipped = [
        row
        for row in of_boats
        if row["tip_deg"] is not None and row["difference_now_percent"] >= TIPS_FROM_PERCENT
    ]
    if not tipped:
        return []
    worst = max(tipped, key=lambda row: row["difference_now_percent"])
    tips = (
        f", as far as the {worst['tips']}s let it: they lie right over"
        if worst["tip_deg"] >= RIGHT_OVER_DEG
        else f" and tips the {worst['tips']}s some {worst['tip_deg']:z.0f}°"
    )
    return [
        f"Spread evenly, {percent(worst['difference_now_percent'])} % pulls the traveller "
        f"{worst['traveller_shift_mm']:.0f} mm forward of the ground chain{tips}. The fishing line "
        "goes forward with it; its gap and drop back are told for an even chain."
    ]

"""The section "What would pay": each rig in money, ground by ground, and what is not in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.language import say
from reports.money.in_view import off_the_edge
from reports.money.left_out import left_out, no_cost, unpriced
from reports.money.sentences import (
    claim,
    is_clear,
    is_thin,
    is_told,
    is_wide,
    money,
    of_rig,
    of_thin,
    on_grounds,
    stood_for,
    too_few_on_grounds,
    without_a_figure,
)
from reports.money.tables import by_ground, cost_alone, in_full, left_over, value_alone
from reports.nobody_had import nobody_had
from reports.parts import Figure, Row, Section, Table
from reports.plain_words import ADVICE_CAUTION
from reports.sentences import factor_words, listed
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings

ABOUT = saying(
    "Catch value per hour towed, less what damage costs per hour: how often the net tore, times "
    "what a tear of the rig costs, which is mending or the repair's bill, and the fishing hours "
    "lost to it. The catch and how often it tore are told like for like in {factors}, as far as "
    "the trips bear it, over the hours that {reference} was towed on the same ground, by the same "
    "boat and in the same part of the record as the other rig; what a tear costs is as it was "
    "recorded of each rig, wherever it tore. The intervals hold 19 times in 20, as far as the "
    "record tells; they come from drawing the season's trips anew, a thousand times."
)
NOT_IN_IT = saying(
    "Not in it, because nobody recorded them: fuel, ice, wear of doors and warps, the crew's "
    "share, and what the rig itself costs."
)
NOT_WHY = saying(
    "It says what went with a rig, not why: a skipper may use it on days that differ in ways "
    "nobody wrote down."
)
NO_VALUE = {
    "catches": saying(
        "What the catch is worth is not known, so nothing can be said of what pays. It takes a "
        "table of catches and a table of prices."
    ),
    "prices": saying(
        "What the catch is worth is not known, so nothing can be said of what pays. It takes a "
        "table of prices."
    ),
    "": saying("What the catch is worth is not known, so nothing can be said of what pays."),
}
"""By the table that is missing."""
HOUR_LOST = {
    "setting": saying("An hour lost is reckoned at {money}, as season.toml says."),
    "catch": saying(
        "An hour lost is reckoned at {money}, what the season's catch was worth per hour towed."
    ),
}
WITHOUT_PRICE = saying(
    "What a rig brought or lost of that fish is not in the money here; its price would put it in."
)


def what_would_pay(findings: Findings) -> Section | None:
    """The section; None where there is only one rig."""
    if len(findings["rigs"]) < 2:
        return None
    rows, currency = findings["money"]["rigs"], findings["season"]["currency"]
    over_all = [row for row in rows if row["ground"] == ALL_GROUNDS]
    told = sorted(filter(is_told, over_all), key=_surest_first)
    of_grounds = _of_grounds(rows, findings)
    missing = _missing(rows, findings)
    narrow = [row for row in of_grounds if not is_wide(row)]
    apart = [] if missing else without_a_figure([row for row in over_all if not is_told(row)])
    said = [
        *(of_rig(row, currency) for row in told if not is_thin(row)),
        on_grounds(of_grounds, currency),
        too_few_on_grounds(of_grounds),
        of_thin([row for row in told if is_thin(row)]),
        stood_for([row for row in over_all if row["saved"] is not None]),
        *apart,
        _without_price(rows, findings),
    ]
    return Section(
        "what-would-pay",
        say("What would pay"),
        paragraphs=[*missing, *filter(None, said)],
        figures=[_figure(told, findings)] if told else [],
        tables=_partly_known(over_all, findings) if missing else _tables(told, narrow, findings),
        points=_points(findings) if rows else [],
    )


def _points(findings: Findings) -> list[str]:
    """How it was reckoned, and what is not in it."""
    about = say(
        ABOUT,
        factors=listed(factor_words(_held_alike(findings))) or say("nothing"),
        reference=findings["season"]["reference_rig"],
    )
    reckoned, foul = _reckoned_at(findings), _of_foul_tows(findings["money"]["terms"])
    not_in_it = f"{say(NOT_IN_IT)} {say(ROUNDED)}"
    return [about, *reckoned, *foul, not_in_it, f"{say(NOT_WHY)} {say(ADVICE_CAUTION)}"]


def _held_alike(findings: Findings) -> list[str]:
    """The factors that any rig's money was adjusted for; where none is told, those asked for."""
    asked = findings["season"]["adjusted_for"]
    told = [row["adjusted_for"] for row in findings["money"]["rigs"] if is_told(row)]
    return [name for name in asked if not told or any(name in factors for factors in told)]


def _of_grounds(rows: list[Row], findings: Findings) -> list[Row]:
    """The rigs that are told on a ground of its own, in the order of the grounds."""
    grounds = findings["season"]["grounds"]
    return sorted(
        (row for row in rows if row["ground"] in grounds and is_told(row)),
        key=lambda row: (grounds.index(row["ground"]), row["rig"]),
    )


def _surest_first(row: Row) -> tuple[bool, float, int]:
    """Those that pay, then those that cost, the most money first; the rest by their hauls.

    To the hundredth, so that what is equal in print does not change places with the last digit.
    """
    told = is_clear(row)
    return not told, -round(row["net_change"]["estimate"], 2) if told else 0.0, -row["rig_hauls"]


def _missing(rows: list[Row], findings: Findings) -> list[str]:
    """What would have to be recorded for a verdict."""
    known = _known(rows)
    table = next((name for name in NO_VALUE if name in findings["missing_tables"]), "")
    value = [] if "value" in known else [say(NO_VALUE[table])]
    return [*value, *([] if "damage_cost" in known else [no_cost(findings)])]


def _without_price(rows: list[Row], findings: Findings) -> str:
    """Of what fish the catch's value does not tell, where it is told."""
    named = unpriced(findings) if "value" in _known(rows) else ""
    return f"{named} {say(WITHOUT_PRICE)}" if named else ""


def _known(rows: list[Row]) -> set[str]:
    """What the season knows in money: value, damage_cost."""
    return {name for row in rows for name in row["known"]}


def _reckoned_at(findings: Findings) -> list[str]:
    """What an hour lost and one of mending are reckoned at, from where, and what is left out."""
    terms, currency = findings["money"]["terms"], findings["season"]["currency"]
    said = []
    if terms["hour_lost"] is not None:
        words = HOUR_LOST[terms["hour_lost_from"]]
        said.append(say(words, money=money(terms["hour_lost"], currency)))
    if terms["mending_hour"] is not None:
        said.append(
            say(
                "An hour of mending is reckoned at {money} a hand, as season.toml says, where the "
                "repair's own cost was not written down.",
                money=money(terms["mending_hour"], currency),
            )
        )
    elif terms["hour_lost"] is not None:
        said.append(say("Mending counts only where the repair's own cost was written down."))
    if terms["parts"]:
        said += left_out(findings)
    return [" ".join(said)] if said else []


def _of_foul_tows(terms: Row) -> list[str]:
    """Whether the catch that foul tows did not bring is in it."""
    said = []
    if counted := terms["foul_hauls"]:
        said.append(say("Foul tows, {tows:,} in all, count with what they brought.", tows=counted))
    if lacking := terms["foul_without_record"]:
        said.append(
            say(
                "Foul tows without a catch record, {tows:,} in all, are not in it: write a row of "
                "nought where a tow brought nothing.",
                tows=lacking,
            )
        )
    return [" ".join(said)] if said else []


ROUNDED = saying("Figures of a sum are rounded so that it adds up as it is told.")
CAPTION = saying(
    "Catch less damage, per hour towed, against {reference}: the mark is this season's, the bar is "
    "the 95 % interval, the dashed line is no difference. Right of it the rig came out ahead. The "
    "catch and how often the net tore are like for like; what a tear cost is as recorded."
)


def _figure(told: list[Row], findings: Findings) -> Figure:
    season = findings["season"]
    reference, currency = season["reference_rig"], season["currency"]
    clear = [row for row in told if is_clear(row)]
    return Figure(
        name="net-change",
        kind="money",
        outcome="value",
        title=claim(clear[0], currency)
        if clear
        else say(
            "No rig is clearly ahead of {reference} in money, or behind it", reference=reference
        ),
        caption=" ".join(filter(None, [say(CAPTION, reference=reference), off_the_edge(told)])),
        table=in_full(told, reference, currency),
    )


def _tables(told: list[Row], on_ground: list[Row], findings: Findings) -> list[Table]:
    season = findings["season"]
    both = ((left_over, told), (by_ground, on_ground))
    return [make(rows, season["reference_rig"], season["currency"]) for make, rows in both if rows]


def _partly_known(rows: list[Row], findings: Findings) -> list[Table]:
    """What is known where the catch's value or the damage's cost is not; of no damage no table."""
    season = findings["season"]
    tables = {"catch_change": value_alone, "saved": cost_alone}
    if nobody_had("damage_events", findings):
        del tables["saved"]
    return [
        make(told, season["reference_rig"], season["currency"])
        for change, make in tables.items()
        if (told := [row for row in rows if row[change] is not None])
    ]

"""How a value stands in a cell of a table."""

from __future__ import annotations

from math import floor, log10
from typing import TYPE_CHECKING

from reports.language import number, say
from reports.sentences import GROUND_NAMES, is_told
from schemas.outcomes import BY_NUMBER
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.findings import Findings
    from reports.parts import Column, Row

GROUND_CELLS = {**GROUND_NAMES, ALL_GROUNDS: saying("all")}
GROUND_COLUMNS = {
    **GROUND_CELLS,
    "mixed": saying("mixed"),
    "hard": saying("hard"),
    "rocky": saying("rocky"),
}


def outcomes_of(findings: Findings) -> dict[str, Row]:
    """The outcomes that were recorded, by name."""
    return {outcome["name"]: outcome for outcome in findings["outcomes"]}


def over_all_grounds(rows: list[Row], outcome: str) -> list[Row]:
    """Of effects, or of rates, those of an outcome over all grounds."""
    return [row for row in rows if (row["outcome"], row["ground"]) == (outcome, ALL_GROUNDS)]


def species_word(name: str) -> str:
    """A species as it is called; where that is a number only, that it is a species."""
    return say(BY_NUMBER, code=name) if name.isdigit() else name


def short_ground(ground: str) -> str:
    """The ground without its preposition."""
    return say(GROUND_CELLS[ground]) if ground in GROUND_CELLS else ground


def column_of(ground: str) -> str:
    """The ground at the head of a column, as short as it goes."""
    return say(GROUND_COLUMNS[ground]) if ground in GROUND_COLUMNS else ground


def from_to(low: str, high: str) -> str:
    """The two ends of an interval, already written: 0.71 to 1.97."""
    return say("{low} to {high}", low=low, high=high)


def ratio_cell(value: float | None) -> str:
    """A ratio to two decimals, from ten times on to three figures; a dash where there is none.

    Of one that nobody would look for it is told only that it is.
    """
    if value is None:
        return "–"
    if 0 < value < LEAST_TOLD:
        return say("under {least:.2f}", least=LEAST_TOLD)
    if value > MOST_TOLD:
        return say("over {most:,.0f}", most=MOST_TOLD)
    return number(value, ".2f" if value < IN_THREE_FIGURES else ".1f")


LEAST_TOLD, MOST_TOLD = 0.01, 100.0
IN_THREE_FIGURES = 9.995
"""From here on a ratio with one decimal has three figures."""


def per_hours(outcome: Row) -> int:
    """Per how many hours towed a rate of the outcome is told: tears are few."""
    return PER_HOURS if outcome["counted"] else 1


def unit_of_rates(outcome: Row) -> str:
    """What a rate of the outcome is in: kg per hour towed, times per 100 hours towed."""
    unit, hours = say(outcome["unit"]), per_hours(outcome)
    if hours == 1:
        return say("{unit} per hour towed", unit=unit).strip()
    return say("{unit} per {hours} hours towed", unit=unit, hours=hours).strip()


PER_HOURS = 100


def limit_cell(value: float | None) -> str:
    """A limit of a ratio as `ratio_cell` has it; with a third decimal where it would read as 1.

    Else an interval that leaves out 1 would seem to touch it, or the other way about.
    """
    told = ratio_cell(value)
    if value is None or value == 1 or told != ratio_cell(1.0):
        return told
    return number(value, ".3f")


def ratio_columns() -> list[Column]:
    """The ratio of a row and its own limits; dashes where there are none."""
    return [
        (say("ratio"), ratio_or_none),
        (say("from"), lambda row: limit_cell(row["low"])),
        (say("to"), lambda row: limit_cell(row["high"])),
    ]


def plain_ratio_columns() -> list[Column]:
    """The ratio and its ends to two decimals, whatever they are."""
    return [
        (say("ratio"), ratio_of("ratio")),
        (say("from"), ratio_of("low")),
        (say("to"), ratio_of("high")),
    ]


def ratio_of(name: str) -> Callable[[Row], str]:
    """A cell with the ratio, or the limit of one, that a row has under this name."""
    return lambda row: ratio_cell(row[name])


def count_of(name: str) -> Callable[[Row], str]:
    """A cell with the count, or the whole amount, that a row has under this name."""
    return lambda row: number(row[name], ",.0f")


def figure_of(name: str, form: str) -> Callable[[Row], str]:
    """A cell with the figure that a row has under this name, in a form; a dash for none."""
    return lambda row: "–" if row[name] is None else number(row[name], form)


def of_either(what: str) -> Callable[[Row], str]:
    """A cell with the hauls, or the trips, of the rig and of the reference: 120 / 340."""
    return lambda row: " / ".join(number(row[f"{of}_{what}"], ",") for of in ("rig", "reference"))


def ratio_or_none(row: Row) -> str:
    """The ratio of a row; of a rig that had none in how many hauls, as 0.00 reads as no risk."""
    if not had_none(row):
        return ratio_cell(row["ratio"])
    return say("none of {hauls:,}", hauls=row["rig_hauls"])


def had_none(row: Row) -> bool:
    """Whether an effect is of a rig that had none at all."""
    return row["ratio"] == 0 and row.get("rig_total") == 0


def interval_columns(looks: Row) -> list[Column]:
    """The 95 % interval, and where more is asked of a headline that by which it is judged."""
    columns: list[Column] = [("95 %", lambda row: _interval(row["low"], row["high"]))]
    if looks["allowed_for"] and looks["comparisons"] > 1:
        together = f"{number(looks['confidence'] * 100, '.4g')} %"
        columns.append((together, lambda row: _interval(row["low_together"], row["high_together"])))
    return columns


def _interval(low: float | None, high: float | None) -> str:
    if low is None and high is None:
        return limit_cell(None)
    return from_to(limit_cell(low), limit_cell(high))


def as_told(effect: Row) -> Row:
    """The effect, without its ratios where it is not told."""
    if is_told(effect):
        return effect
    return effect | dict.fromkeys(("ratio", "low", "high", "raw_ratio"))


def rate_cell(value: float | None) -> str:
    """A rate to three figures, noughts at its end among them; a dash where there is none."""
    if value is None:
        return "–"
    if value == 0:
        return "0"
    told = float(f"{value:.3g}")
    return number(told, f",.{max(0, 2 - floor(log10(abs(told))))}f")


def rate_of(name: str, outcome: Row) -> Callable[[Row], str]:
    """A cell with the rate of an outcome that a row has, per as many hours as it is told in."""
    hours = per_hours(outcome)
    return lambda row: rate_cell(None if row[name] is None else row[name] * hours)


SMALLEST_P = 0.001


def p_cell(p_value: float | None) -> str:
    """A p-value to three decimals."""
    if p_value is None:
        return "–"
    if p_value < SMALLEST_P:
        return f"< {number(SMALLEST_P)}"
    return number(p_value, ".3f")

"""What each rig did on each ground at a glance: a table with a shade and a figure a cell."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import PER_HOURS, column_of, outcomes_of
from reports.far_catches import far_catches_are_in
from reports.language import number, say
from reports.parts import Section, Table
from reports.sentences import is_told, listed
from schemas.codes import Caution
from schemas.words import ALL_GROUNDS, WHOLE_RECORD, saying

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.findings import Findings
    from reports.parts import Row

FEW_HAULS = 5
"""A rate of fewer hauls is not shown: this project's own judgement, no source."""
LESS_THAN_TEN = 10
BOTTOM_LIVING = "bottom_living_kg"
FIRST = "damage_events"
"""The outcome of which the table stands first on the page."""
PALEST = 1 / 9
"""The shade of the least that is shown: what is too few has none."""
AS_RECORDED = saying("As recorded, with the hauls in brackets; the stronger the colour, the more.")
TOO_FEW = saying(
    "Fewer than {few} hauls are too few for a figure here; folded tables have them, with a range."
)
NONE_SEEN = saying(
    "Where none was seen, as in {figure}, it may yet be as much as the second figure."
)
DOWN_A_COLUMN = saying(
    "Compare rigs down a column, on one ground. Days, depths and boats still differ there: further "
    "down it is told like for like."
)
ON_SINGLE_GROUNDS = saying(
    "{rigs} can be compared with {reference} on single grounds only: over all grounds they were "
    "hardly side by side in the hauls that tell of it."
)
NOT_HERE = saying(
    "Do not compare {rigs} with {reference} here: they were hardly fished side by side, on the "
    "same ground and boat in the same stretch of time."
)


NOT_TOLD_HERE = saying(
    "Do not compare {rigs} with {reference} here: in the hauls that tell of it they were hardly "
    "side by side, on the same ground and boat in the same stretch of time."
)


def by_rig_and_ground(
    outcome: str, name: str, title: str, per_hours: int, cell_says: str
) -> Callable[[Findings], Section | None]:
    """Makes the section of that outcome, in so much per so many hours towed.

    `cell_says` has places for the {unit} and the {hours}.
    """

    def section(findings: Findings) -> Section | None:
        known = outcomes_of(findings).get(outcome)
        if known is None:
            return None
        unit = known["unit"]
        said = say(cell_says, unit=say(unit), hours=per_hours)
        table = _table(findings, outcome, said, per_hours)
        return Section(name, say(title), _about(findings, outcome, per_hours), tables=[table])

    return section


def _about(findings: Findings, outcome: str, per_hours: int) -> list[str]:
    """How the table is read and its rigs are compared, so far as the table before it has not said.

    Of the cells that are explained it has one at least.
    """
    told = [
        _how_to_read(findings, outcome, per_hours),
        *how_to_compare(findings, outcome, DOWN_A_COLUMN),
        *(far_catches_are_in(findings) if outcome == BOTTOM_LIVING else []),
    ]
    if outcome == FIRST or FIRST not in outcomes_of(findings):
        return told
    before = _words_about(findings, FIRST, PER_HOURS)
    return [words for words in told if words not in before]


def _words_about(findings: Findings, outcome: str, per_hours: int) -> list[str]:
    compared = how_to_compare(findings, outcome, DOWN_A_COLUMN)
    return [_how_to_read(findings, outcome, per_hours), *compared]


def _how_to_read(findings: Findings, outcome: str, per_hours: int) -> str:
    """What stands in the cells of the table, of the kinds that it has."""
    grounds = findings["season"]["grounds"]
    rates = [r for r in findings["rates"] if r["outcome"] == outcome and r["ground"] in grounds]
    few = [rate for rate in rates if rate["hauls"] < FEW_HAULS]
    none_seen = [r for r in rates if r["hauls"] >= FEW_HAULS and _is_none_with_a_limit(r)]
    return " ".join(
        [
            say(AS_RECORDED),
            *([say(TOO_FEW, few=FEW_HAULS)] if few else []),
            *(say(NONE_SEEN, figure=_figures(rate, per_hours)) for rate in none_seen[:1]),
        ]
    )


def how_to_compare(findings: Findings, outcome: str, comparing: str) -> list[str]:
    """How rigs are compared, in these words, where any can be; and which can't be."""
    effects = [effect for effect in findings["effects"] if effect["outcome"] == outcome]
    over_all = [
        effect
        for effect in effects
        if (effect["ground"], effect["part"]) == (ALL_GROUNDS, WHOLE_RECORD)
    ]
    apart = [effect["rig"] for effect in over_all if Caution.NOT_SIDE_BY_SIDE in effect["cautions"]]
    untold = {e["rig"] for e in over_all if Caution.UNTOLD_SIDE_BY_SIDE in e["cautions"]}
    on_grounds = {e["rig"] for e in effects if e["ground"] != ALL_GROUNDS and is_told(e)}
    rigs = {
        ON_SINGLE_GROUNDS: [rig for rig in apart if rig in on_grounds],
        NOT_HERE: [rig for rig in apart if rig not in on_grounds | untold],
        NOT_TOLD_HERE: [rig for rig in apart if rig in untold - on_grounds],
    }
    several = len(findings["rigs"]) > 1
    return [
        *([say(comparing)] if several and (not apart or len(apart) < len(over_all)) else []),
        *(
            say(words, rigs=listed(of), reference=findings["season"]["reference_rig"])
            for words, of in rigs.items()
            if of
        ),
    ]


def _table(findings: Findings, outcome: str, said: str, per_hours: int) -> Table:
    rates = {(r["rig"], r["ground"]): r for r in findings["rates"] if r["outcome"] == outcome}
    grounds = findings["season"]["grounds"]
    rigs = [rig["rig_version"] for rig in findings["rigs"]]
    shown = [
        rate["rate"]
        for (_, ground), rate in rates.items()
        if ground in grounds and rate["hauls"] >= FEW_HAULS
    ]
    most = max(shown, default=0.0) or 1.0
    rows, shades = [], []
    for rig in rigs:
        of_rig = [rates.get((rig, ground)) for ground in grounds]
        rows.append([rig, *(_cell(rate, per_hours) for rate in of_rig)])
        shades.append([0.0, *(_shade(rate, most) for rate in of_rig)])
    return Table(
        said,
        [say("rig"), *map(column_of, grounds)],
        rows,
        shades,
    )


def _cell(rate: Row | None, per_hours: int) -> str:
    if rate is None:
        return "–"
    if rate["hauls"] < FEW_HAULS:
        return say("few ({hauls:,})", hauls=rate["hauls"])
    return f"{_figures(rate, per_hours)} ({number(rate['hauls'], ',')})"


def _figures(rate: Row, per_hours: int) -> str:
    """The rate; where none was seen, nought and how much it may yet be."""
    if _is_none_with_a_limit(rate):
        return f"0–{_figure(rate['high'] * per_hours)}"
    return _figure(rate["rate"] * per_hours)


def _is_none_with_a_limit(rate: Row) -> bool:
    return rate["rate"] == 0 and rate["high"] is not None


def _figure(value: float) -> str:
    return number(value, ",.0f" if value >= LESS_THAN_TEN else ",.1f")


def _shade(rate: Row | None, most: float) -> float:
    if rate is None or rate["hauls"] < FEW_HAULS:
        return 0.0
    return float(max(rate["rate"] / most, PALEST))


damage_by_rig_and_ground = by_rig_and_ground(
    "damage_events",
    "damage-by-rig-and-ground",
    saying("Damage by rig and ground"),
    PER_HOURS,
    saying("How often the net was damaged per {hours} hours towed"),
)
fish_by_rig_and_ground = by_rig_and_ground(
    BOTTOM_LIVING,
    "fish-by-rig-and-ground",
    saying("Bottom-living fish by rig and ground"),
    1,
    saying("Bottom-living fish, {unit} per hour towed"),
)

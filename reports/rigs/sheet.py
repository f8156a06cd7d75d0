"""What `rig` tells on a terminal: all rigs at a glance, and one rig's sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.nearest import did_you_mean
from pipeline.problems import WrongUsageError
from pipeline.rigs.swap.swaps import swap as swap_of
from pipeline.rigs.weight.weights import ROW_SET_ASIDE
from reports.gear_words import section_of_sides
from reports.rigs.fishing_line import CLEAR_GAP, line_sentences, taken_for_granted
from reports.rigs.ground_chain import (
    SHORT_HEADERS,
    any_past,
    chain_sentences,
    percent,
    short_cells,
    wholes,
)
from reports.rigs.sentences import change_sentences, counted, part_sentences, wear_sentences
from reports.rigs.strand import strand
from reports.rigs.swap_sheet import swap_sheet
from reports.rigs.weight_words import HOLDS, a_metre, in_air, in_water
from reports.sentences import capital
from reports.terminal import columns, paragraph, titled

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from pipeline.rig_facts import SeasonRigs
    from reports.parts import Row

MOST_BOATS = 8
"""So many boats stand on a sheet that fits a screen; the report has them all."""


def told_of_rigs(known: SeasonRigs, rig_version: str | None, swap: tuple[str, str] | None) -> str:
    """All rigs, the sheet of one, or a swap of two; of all that was asked.

    Raises `WrongUsageError` for a rig version that the season does not have.
    """
    rigs = {rig["rig_version"]: rig for rig in known.rows}
    if rig_version is None and swap is None:
        return all_rigs(known.title, known.rows)
    told = []
    if rig_version is not None:
        told.append(rig_sheet(rigs[_one_of(rigs, rig_version)]))
    if swap is not None:
        told.append(_swap(known, *(_one_of(rigs, rig) for rig in swap)))
    return "\n\n".join(told)


def _one_of(rigs: Iterable[str], rig_version: str) -> str:
    if rig_version not in rigs:
        message = (
            f"{rig_version!r} is no rig version of this season{did_you_mean(rig_version, rigs)}; "
            f"it has {', '.join(rigs) or 'none'}."
        )
        raise WrongUsageError(message)
    return rig_version


def _swap(known: SeasonRigs, from_rig: str, to_rig: str) -> str:
    facts = known.facts
    try:
        changes = swap_of(from_rig, to_rig, facts.weights, facts.geometry, facts.parts)
    except LookupError as error:
        message = f"A swap cannot be worked out: {error.args[0]}."
        raise WrongUsageError(message) from error
    return swap_sheet(changes)


MORE_THAN = "> {kilos}"
"""How a weight is written in a narrow table of which more is wanting."""

LEGEND = (
    f"* the reference. In water: the whole gear in sea water ({HOLDS}), > at least; across: its "
    f"largest part; toggles, and the {CLEAR_GAP}, in mm; slack: how much longer the line is than "
    "the gear; chain: ground chain less traveller, on the boat where they differ most, as last "
    "measured where that is fresh or past the limit, or the pace hardly known, else as foretold "
    "for the end of the record; ! past the limit, the whole or a section."
)
ONLY_NAMES = (
    "Nothing is known of these rigs but their names: a table rig_versions would tell their "
    "lengths, rig_parts what they weigh, length_checks how their ground chains stretch."
)


def all_rigs(title: str, rigs: Sequence[Row]) -> str:
    """One line a rig version."""
    headers = ["", "kg in water", "kg/m", "mm across", "toggles", "gap", "slack m", "chain %"]
    rows = [[_named(rig), *_weight(rig), *_line(rig), _chain(rig)] for rig in rigs]
    return "\n".join(
        [
            *([title, ""] if title else []),
            *columns(headers, rows),
            "",
            *paragraph(LEGEND if any(any(row[1:]) for row in rows) else ONLY_NAMES),
            *(line for rig in rigs for line in paragraph(_wanting(rig))),
            "",
            "One rig's sheet: rigseason rig SEASON RIG_VERSION",
            "One in place of another: rigseason rig SEASON --swap FROM TO",
        ]
    )


def rig_sheet(rig: Row) -> str:
    """Everything that is known of one rig version."""
    kept = "Parts: how the mass of one was got, what share of its weight it keeps in water"
    line = " ".join([*line_sentences(rig), *taken_for_granted(rig)])
    line_title = f"Fishing line, and the {CLEAR_GAP}"
    return "\n".join(
        [
            _heading(rig),
            *_lengths(rig),
            *_weights(rig),
            *titled(kept, part_sentences(rig)),
            *titled(line_title, [line] if line else []),
            *_stretch(rig),
            *titled("Fishing hours", wear_sentences(rig)),
            *titled("What changed", change_sentences(rig)),
        ]
    )


def _heading(rig: Row) -> str:
    gear = f", {rig['ground_gear']}" if rig["ground_gear"] else ""
    if not rig["hauls"]:
        return f"{rig['rig_version']}{gear}: not fished yet"
    hauls = f"{rig['hauls']:,} haul{'s' * (rig['hauls'] != 1)}"
    return f"{rig['rig_version']}{gear}: {hauls}, {rig['tow_hours']:,.0f} fishing hours"


def _lengths(rig: Row) -> list[str]:
    """The lengths that are recorded, on one line."""
    said = [
        f"{name} {rig[column]:g} {unit}"
        for name, column, unit in (
            ("ground gear", "ground_gear_m", "m"),
            ("fishing line", "fishing_line_m", "m"),
            ("toggles", "toggle_mm", "mm"),
            ("wing ends", "wing_end_spread_m", "m apart"),
        )
        if rig[column] is not None
    ]
    return [", ".join(said).capitalize()] if said else []


def _named(rig: Row) -> str:
    return f"{rig['rig_version']}{' *' if rig['is_reference'] else ''}"


def _whole(rig: Row) -> Row | None:
    """The weights of the whole rig, where any part of it could be weighed."""
    return next(
        (
            row
            for row in rig["weights"]
            if row["section"] == "whole" and row["weight_water_kg"] is not None
        ),
        None,
    )


def _weight(rig: Row) -> list[str]:
    whole = _whole(rig)
    if whole is None:
        return ["", "", ""]
    return [
        in_water(whole, MORE_THAN),
        a_metre(whole, MORE_THAN),
        _number(whole["largest_diameter_mm"], "z,.0f"),
    ]


def _line(rig: Row) -> list[str]:
    where = rig["geometry"] or {}
    return [
        _number(where.get("toggle_mm"), "z,.0f"),
        _number(where.get("gap_mm"), "z,.0f"),
        _number(where.get("slack_m"), "+z.2f"),
    ]


def _chain(rig: Row) -> str:
    latest = next((row["latest_percent"] for row in wholes(rig)), None)
    return "" if latest is None else percent(latest) + ("!" if any_past(rig) else "")


def _wanting(rig: Row) -> str:
    whole = _whole(rig)
    if whole is None or not whole["at_least"]:
        return ""
    end = f": {ROW_SET_ASIDE}"
    gone = [words.removesuffix(end) for words in whole["missing"] if words.endswith(end)]
    wanting = [words for words in whole["missing"] if not words.endswith(end)]
    said = f"> {rig['rig_version']} is not weighed wholly"
    said += f"; wanting: {'; '.join(wanting)}." if wanting else "."
    return " ".join([said, _set_aside(rig, gone)]) if gone else said


def _set_aside(rig: Row, gone: list[str]) -> str:
    """What is not known of a rig of which rows of parts, by section and name, were set aside."""
    where = rig["geometry"] or {}
    no_gap = where.get("toggle_mm") is not None and where.get("gear_diameter_mm") is None
    unknown = "its largest part" + (", and its gap by its lengths," if no_gap else "")
    are = "are" if no_gap else "is"
    return (
        f"Rows of its parts were set aside ({'; '.join(gone)}), so that {unknown} {are} not known; "
        "rigseason check SEASON says why."
    )


def _weights(rig: Row) -> list[str]:
    rows = [
        [
            section_of_sides(row["section"], row["sides"]),
            in_air(row),
            in_water(row),
            a_metre(row),
            _number(row["largest_diameter_mm"], "z,.0f"),
        ]
        for row in rig["weights"]
        if row["weight_water_kg"] is not None
    ]
    if not rows:
        return ["", "No part of it that could be weighed is recorded."]
    headers = ["Weight, kg", "in air", "in sea water", "a m in water", "mm across"]
    return [
        "",
        *columns(headers, rows),
        *paragraph(f"{counted(rig)} {HOLDS}."),
        *paragraph(_wanting(rig)),
    ]


def _stretch(rig: Row) -> list[str]:
    """The boats whose chain and traveller differ most first."""
    of_boats = wholes(rig)
    if not of_boats:
        return []
    more = len(of_boats) - MOST_BOATS
    limit = of_boats[0]["limit_percent"]
    return [
        "",
        f"{capital(strand(rig))} less traveller, whole gear, in % of the traveller; limit "
        f"{limit:g} %",
        *columns(SHORT_HEADERS, [short_cells(row) for row in of_boats[:MOST_BOATS]]),
        *([f"and {more} boats more, in the report"] if more > 0 else []),
        *(line for said in chain_sentences(rig) for line in paragraph(said, "  ")),
    ]


def _number(value: float | None, form: str) -> str:
    return "" if value is None else f"{value:{form}}"

"""What `rig` tells on a terminal: all rigs at a glance, and one rig's sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.nearest import did_you_mean
from pipeline.problems import WrongUsageError
from pipeline.rigs.swap.swaps import swap as swap_of
from reports.rigs.sentences import (
    STRETCH_HEADERS,
    change_sentences,
    line_sentences,
    part_sentences,
    section_word,
    stretch_cells,
    stretch_sentences,
    taken_for_granted,
    wear_sentences,
)
from reports.rigs.swap_sheet import swap_sheet
from reports.terminal import columns, paragraph, titled

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from pipeline.rig_facts import SeasonRigs
    from reports.rigs.sentences import Row

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


def all_rigs(title: str, rigs: Sequence[Row]) -> str:
    """One line a rig version."""
    headers = ["", "kg in water", "kg/m", "mm across", "toggles", "gap", "slack m", "chain %"]
    rows = [[_named(rig), *_weight(rig), *_line(rig), _chain(rig)] for rig in rigs]
    return "\n".join(
        [
            title,
            "",
            *columns(headers, rows),
            "",
            *paragraph(
                "* the reference. In water: the whole gear in sea water, ± one standard "
                "deviation; across: its largest part; toggles and gap under the fishing line in "
                "mm; slack: how much longer the line is than the gear; chain: how much longer the "
                "ground chain is than the traveller by now, on the boat where it is the most."
            ),
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
    return "\n".join(
        [
            _heading(rig),
            *_lengths(rig),
            *_weights(rig),
            *titled(kept, part_sentences(rig)),
            *titled("Fishing line", [line] if line else []),
            *_stretch(rig),
            *titled("Fishing hours", wear_sentences(rig)),
            *titled("What changed", change_sentences(rig)),
        ]
    )


def _heading(rig: Row) -> str:
    gear = f", {rig['ground_gear']}" if rig["ground_gear"] else ""
    if not rig["hauls"]:
        return f"{rig['rig_version']}{gear}: not fished yet"
    return (
        f"{rig['rig_version']}{gear}: {rig['hauls']:,} hauls, {rig['tow_hours']:,.0f} fishing hours"
    )


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
    least = ">" if whole["at_least"] else ""
    return [
        f"{least}{whole['weight_water_kg']:,.0f} ± {whole['weight_sd_kg']:,.0f}",
        _number(whole["weight_water_kg_per_m"], ".1f"),
        _number(whole["largest_diameter_mm"], ",.0f"),
    ]


def _line(rig: Row) -> list[str]:
    where = rig["geometry"] or {}
    return [
        _number(where.get("toggle_mm"), ",.0f"),
        _number(where.get("gap_mm"), ",.0f"),
        _number(where.get("slack_m"), "+.2f"),
    ]


def _chain(rig: Row) -> str:
    now = [row["difference_now_percent"] for row in _whole_stretch(rig)]
    return _number(max((percent for percent in now if percent is not None), default=None), ".1f")


def _whole_stretch(rig: Row) -> list[Row]:
    return [row for row in rig["stretch"] if row["section"] == "whole"]


def _wanting(rig: Row) -> str:
    whole = _whole(rig)
    if whole is None or not whole["at_least"]:
        return ""
    return f"> {rig['rig_version']} weighs more; wanting: {'; '.join(whole['missing'])}."


def _weights(rig: Row) -> list[str]:
    rows = [
        [
            section_word(row["section"], row["sides"]),
            f"{'at least ' if row['at_least'] else ''}{row['mass_air_kg']:,.0f} kg",
            f"{row['weight_water_kg']:,.1f} ± {row['weight_sd_kg']:,.1f} kg",
            _number(row["weight_water_kg_per_m"], ".1f", " kg"),
            _number(row["largest_diameter_mm"], ",.0f", " mm"),
        ]
        for row in rig["weights"]
        if row["weight_water_kg"] is not None
    ]
    if not rows:
        return ["", "No part of it that could be weighed is recorded."]
    headers = ["Weight", "in air", "in sea water", "a metre, in water", "largest part"]
    return ["", *columns(headers, rows), *paragraph(_wanting(rig))]


def _stretch(rig: Row) -> list[str]:
    """The boats whose chain is the longest first."""
    wholes = sorted(
        _whole_stretch(rig), key=lambda row: row["difference_now_percent"] or 0.0, reverse=True
    )
    if not any(row["checks"] for row in wholes):
        return []
    more = len(wholes) - MOST_BOATS
    return [
        "",
        f"Ground chain longer than traveller, whole gear; limit {wholes[0]['limit_percent']:g} %",
        *columns(STRETCH_HEADERS, [stretch_cells(row) for row in wholes[:MOST_BOATS]]),
        *([f"and {more} boats more, in the report"] if more > 0 else []),
        *(line for said in stretch_sentences(wholes) for line in paragraph(said, "  ")),
    ]


def _number(value: float | None, form: str, unit: str = "") -> str:
    return "" if value is None else f"{value:{form}}{unit}"

"""What is said of an outcome that no haul of the record had, with any rig or with one of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import had_none, over_all_grounds, per_hours, rate_cell, unit_of_rates
from reports.counts import haul_count
from reports.language import say
from reports.sentences import claim, is_told, listed, title_of
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

NONE = saying("No {outcome} in {hauls} of which it is known, with any rig.")
UP_TO = saying("What can't be ruled out, in {unit}: up to {rates}.")
WITH = saying("{rate} with {rig}")

IN_SO_MANY = saying(
    "{rig}: none in {hauls}; {reference}: {total:,.0f} in {of_reference}. That none was seen does "
    "not mean that there can be none."
)


def nobody_had(outcome: str, findings: Findings) -> bool:
    """Whether the outcome was recorded, and no haul had any."""
    rates = over_all_grounds(findings["rates"], outcome)
    return bool(rates) and all(rate["total"] == 0 for rate in rates)


def of_nobody(outcome: Row, findings: Findings) -> list[str]:
    """That no haul had any, of how many, and what rates are not ruled out by that; else nothing."""
    name = outcome["name"]
    if not nobody_had(name, findings):
        return []
    rates = over_all_grounds(findings["rates"], name)
    hauls = sum(rate["hauls"] for rate in rates)
    said = say(NONE, outcome=title_of(outcome), hauls=haul_count(hauls))
    with_limits = [
        say(WITH, rate=rate_cell(rate["high"] * per_hours(outcome)), rig=rate["rig"])
        for rate in rates
        if rate["high"] is not None
    ]
    if not with_limits:
        return [said]
    unit = unit_of_rates(outcome)
    return [f"{said} {say(UP_TO, unit=unit, rates=listed(with_limits))}"]


def rigs_without(outcome: Row, findings: Findings) -> list[str]:
    """Of each rig that had none, in how many hauls, beside the reference, and what may yet be."""
    return [
        f"{claim(effect, outcome)}. "
        + say(
            IN_SO_MANY,
            rig=effect["rig"],
            hauls=haul_count(effect["rig_hauls"]),
            reference=effect["reference"],
            total=effect["reference_total"],
            of_reference=haul_count(effect["reference_hauls"]),
        )
        for effect in over_all_grounds(findings["effects"], outcome["name"])
        if is_told(effect) and had_none(effect)
    ]

"""What is said of rigs that one boat alone can tell of, and of those that no boat can, and why."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.boats.sentences import boats_named, why_none, with_a_ratio
from reports.cells import outcomes_of
from reports.language import say, say_many
from reports.sentences import listed, title_of
from schemas.codes import BoatWithout, Caution
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.findings import Findings
    from reports.parts import Row

FISHED_APART = {
    BoatWithout.NEITHER_FISHED,
    BoatWithout.RIG_NOT_FISHED,
    BoatWithout.REFERENCE_NOT_FISHED,
    Caution.NOT_SIDE_BY_SIDE,
    Caution.NOT_TOLD_APART,
}
"""What fishing both in turn would mend."""

ON_ONE_ALONE = saying(
    "Fished enough beside {reference} on one boat alone: {rigs}. Whether another boat would see "
    "the same, the record can't tell."
)
ON_NONE = saying("No boat by itself gives a ratio to {reference} for {rigs}: {why}.")
IN_OUTCOME = saying("in {outcome} {why}")
IN_TURN = saying("Fishing both in turn, on one boat and one ground, would tell more.")
TRIPS_WANTED = saying(
    "A boat's model wants {spare} trips more than it has terms: with {rigs} on {grounds} that is "
    "{trips} trips."
)
SPARE_TRIPS_WANTED = saying("A boat's model wants {spare} trips more than it has terms.")


def of_one_or_none(findings: Findings) -> list[str]:
    """The rigs that one boat alone can tell of, and those that none can, in any of the outcomes."""
    rows: list[Row] = findings["boats"]
    boats: dict[str, set[str]] = {}
    for row in rows:
        boats.setdefault(row["rig"], set()).update(b["vessel"] for b in with_a_ratio(row))
    alone = [f"{rig} ({next(iter(told))})" for rig, told in boats.items() if len(told) == 1]
    without = [rig for rig, told in boats.items() if not told]
    said = []
    if alone:
        reference = findings["season"]["reference_rig"]
        said.append(say(ON_ONE_ALONE, reference=reference, rigs=listed(alone)))
    if without:
        said.append(_of_none([row for row in rows if row["rig"] in without], findings))
    return said


def _of_none(rows: list[Row], findings: Findings) -> str:
    """Why no boat has a ratio of its own, the rigs of one reason together, and what would help."""
    reference = findings["season"]["reference_rig"]
    alike: dict[str, list[str]] = {}
    for rig in dict.fromkeys(row["rig"] for row in rows):
        of_rig = [row for row in rows if row["rig"] == rig]
        alike.setdefault(_why(of_rig, findings), []).append(rig)
    said = [
        say(ON_NONE, reference=reference, rigs=listed(rigs), why=why) for why, rigs in alike.items()
    ]
    reasons = {boat["why_none"] for row in rows for boat in row["boats"]}
    if reasons & FISHED_APART:
        said.append(say(IN_TURN))
    if Caution.TOO_FEW_TRIPS in reasons:
        said.append(_trips_wanted(findings))
    return " ".join(said)


def _why(rows: list[Row], findings: Findings) -> str:
    """Which boats have no ratio for which reason; by outcome where the reasons differ."""
    outcomes = outcomes_of(findings)
    of_outcome = {row["outcome"]: _boats_by_reason(row) for row in rows}
    if len(set(of_outcome.values())) == 1:
        return next(iter(of_outcome.values()))
    return "; ".join(
        say(IN_OUTCOME, outcome=title_of(outcomes[name]), why=why)
        for name, why in of_outcome.items()
    )


def _boats_by_reason(row: Row) -> str:
    by_reason: dict[str, list[str]] = {}
    for boat in row["boats"]:
        by_reason.setdefault(why_none(boat, row), []).append(boat["vessel"])
    return "; ".join(f"{boats_named(boats)} ({why})" for why, boats in by_reason.items())


def _trips_wanted(findings: Findings) -> str:
    """How many trips a boat's model wants; in figures where the ground is what it keeps to last."""
    spare = findings["method"]["support"]["spare_trips"]
    factors = [name for name in findings["season"]["adjusted_for"] if name != "vessel"]
    if factors[:1] not in ([], ["ground"]):
        return say(SPARE_TRIPS_WANTED, spare=spare)
    rigs: Sequence[str] = findings["rigs"]
    grounds = len(findings["season"]["grounds"]) if factors else 1
    return say(
        TRIPS_WANTED,
        spare=spare,
        rigs=say_many("one rig version", "{number} rig versions", len(rigs)),
        grounds=say_many("one ground", "{number} grounds", grounds),
        trips=spare + len(rigs) + grounds - 1,
    )

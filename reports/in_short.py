"""The answer in a few lines, for the terminal, in English as all that is told there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.lead import lead, only_by_itself
from reports.sentences import claim, headline_findings, listed
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from pipeline.findings import Findings

MOST_NAMED = 10
"""So many rigs are named on a terminal; the report names them all."""


def in_short(findings: Findings) -> str:
    """The answer in a few lines, for the terminal."""
    outcomes = {outcome["name"]: outcome for outcome in findings["outcomes"]}
    lines = [rows_in_short(findings), ""]
    clear = headline_findings(findings)
    lines += [f"  {claim(effect, outcomes[effect['outcome']])}." for effect in clear]
    if not clear:
        lines.append(f"  {lead(findings)}")
    else:
        headlines = [e for e in findings["effects"] if e["p_adjusted"] is not None]
        many = findings["standing"]["looks"]["comparisons"]
        lines += [f"  {words}" for words in only_by_itself(headlines, outcomes, many)]
    apart = sorted(
        {
            e["rig"]
            for e in findings["effects"]
            if e["ground"] == ALL_GROUNDS
            and e["outcome"] in findings["season"]["headlines"]
            and "not side by side" in e["cautions"]
        }
    )
    if apart:
        reference = findings["season"]["reference_rig"]
        shown = apart[:MOST_NAMED]
        more = [f"{len(apart) - MOST_NAMED} more"] if len(apart) > MOST_NAMED else []
        lines.append(f"  Hardly fished side by side with {reference}: {listed([*shown, *more])}.")
    return "\n".join(lines)


def rows_in_short(findings: Findings) -> str:
    """How many rows were used: all that is told where nobody but a co-op is to read the report.

    What its page may show of the rigs stands there; figures beside it could give away more.
    """
    rows = findings["rows"]["hauls"]
    lines = [
        f"{findings['season']['title']}: {rows['used']:,} of {rows['read']:,} hauls used, "
        f"{rows['set_aside']:,} set aside.",
        *_set_aside_elsewhere(findings),
        *findings["seasons_left_out"],
    ]
    return "\n".join(lines)


def _set_aside_elsewhere(findings: Findings) -> list[str]:
    """Rows of other tables that were not used: a review that is lost is a person's work."""
    told = [
        f"{counts['set_aside']:,} of {name}"
        for name, counts in findings["rows"].items()
        if name != "hauls" and counts["set_aside"]
    ]
    return [f"Set aside too: {listed(told)}; why stands in set-aside.csv."] if told else []

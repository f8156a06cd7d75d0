"""The answer in a few lines, for the terminal, in English as all that is told there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.advice.decide import no_ground_is_named
from reports.advice.opening import NO_GROUND
from reports.doubts import not_in_turn, not_so_otherwise
from reports.fish_left_out import fish_left_out
from reports.language import say
from reports.lead import lead, only_by_itself
from reports.one_tow import clear_in_one_tow
from reports.rigs_apart import rigs_apart, untold_words
from reports.said_again import of_rigs_said_again
from reports.season_words import season_title
from reports.sentences import claim, headline_findings, is_headline, is_told, listed

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
    if no_ground_is_named(findings):
        lines.append(f"  {say(NO_GROUND)}")
    told = [effect for effect in findings["effects"] if is_headline(effect) and is_told(effect)]
    doubts = [*not_so_otherwise(told, findings), *not_in_turn(told)]
    lines += [f"  {words}" for words in (*doubts, *fish_left_out(findings))]
    lines += [f"  {words}" for words in clear_in_one_tow(findings)]
    apart, reference = rigs_apart(findings), findings["season"]["reference_rig"]
    for words, rigs in (("Hardly fished", apart.hardly), ("Too few hauls or trips", apart.few)):
        if rigs:
            lines.append(f"  {words} side by side with {reference}: {_first_of(rigs)}.")
    for titles, rigs in apart.untold.items():
        lines.append(f"  {untold_words(_first_of(rigs), reference, titles)}")
    return "\n".join(lines)


def _first_of(rigs: list[str]) -> str:
    """The rigs by name, as many as are named, and how many more there are."""
    more = [f"{len(rigs) - MOST_NAMED} more"] if len(rigs) > MOST_NAMED else []
    return listed([*rigs[:MOST_NAMED], *more])


def rows_in_short(findings: Findings) -> str:
    """How many rows were used: all that is told where nobody but a co-op is to read the report.

    What its page may show of the rigs stands there; figures beside it could give away more.
    """
    rows = findings["rows"]["hauls"]
    lines = [
        f"{season_title(findings['season'])}: {rows['used']:,} of {rows['read']:,} hauls used, "
        f"{rows['set_aside']:,} set aside.",
        *_set_aside_elsewhere(findings),
        *findings["seasons_left_out"],
    ]
    return "\n".join(lines)


def _set_aside_elsewhere(findings: Findings) -> list[str]:
    """Rows of other tables that were not used: a review that is lost is a person's work."""
    again = of_rigs_said_again(findings)
    others = {
        name: counts["set_aside"] - again.get(name, 0)
        for name, counts in findings["rows"].items()
        if name != "hauls"
    }
    return [
        *_so_many_of("Set aside too: {}; why stands in set-aside.csv.", others),
        *_so_many_of("Said again, alike, of rigs that another season describes: {}.", again),
    ]


def _so_many_of(words: str, rows: dict[str, int]) -> list[str]:
    """The words with how many rows of which tables; nothing where there are none."""
    told = [f"{many:,} of {name}" for name, many in rows.items() if many]
    return [words.format(listed(told))] if told else []

"""The rigs on a mix of grounds, in the section of an outcome: a sentence each, and a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import rate_of, ratio_columns, short_ground, unit_of_rates
from reports.language import number, say
from reports.parts import Row, table_of
from reports.ratio_words import span
from reports.sentences import by_itself, factor_words, is_headline, is_told, listed, said_of
from schemas.words import ALL_GROUNDS, WHOLE_RECORD, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Column, Table

OF_THE_SEASON, NAMED = "of the season", "named by the season"

MIX_IS = {
    OF_THE_SEASON: saying("The season's mix of grounds is {mix}."),
    NAMED: saying("The mix of grounds named in season.toml is {mix}."),
}
ON_THE_MIX = {
    OF_THE_SEASON: saying("On the season's mix of grounds {said} ({span}): {verdict}."),
    NAMED: saying("On the mix of grounds named in season.toml {said} ({span}): {verdict}."),
}
OVER_A_PART = {
    OF_THE_SEASON: saying(
        "Over {grounds}, {percent:.0f} % of the season's mix of grounds, {said} ({span}): "
        "{verdict}."
    ),
    NAMED: saying(
        "Over {grounds}, {percent:.0f} % of the mix of grounds named in season.toml, {said} "
        "({span}): {verdict}."
    ),
}
MEANS = saying(
    "A rig may matter on one ground and not on another. On a mix of grounds each rig has a rate of "
    "its own on each, put together by the same mix for both; judged each by itself."
)

GO_BY_THE_OTHER = saying(
    "Where a verdict is another than that over all grounds, go by that one: it allows for all "
    "headline comparisons."
)


def mix_words(findings: Findings, outcome: Row) -> list[str]:
    """What the mixes are, and what each rig comes to on them; nothing where there is no mix."""
    rows = _rows(findings, outcome)
    mixes = {row["mix"]: row["weights"] for row in rows}
    if not any(row["low"] is not None for row in rows):
        return []
    told = [say(MIX_IS[whose], mix=_mix(weights)) for whose, weights in mixes.items()]
    return [
        " ".join([say(MEANS), *told, *_go_by_the_other(rows, findings)]),
        *[
            " ".join([_sentence(row, outcome), *_alike_in(row, findings)])
            for row in rows
            if row["low"] is not None
        ],
    ]


ALIKE = saying("On each ground it is held alike in {held}.")
ALIKE_BUT = saying(
    "On each ground it is held alike in {held}, but not in {lacking}, as the ratio over all "
    "grounds is: for that there are too few trips."
)
NOT_ALIKE = saying(
    "It is not held alike in {lacking}, as the ratio over all grounds is: for that there are too "
    "few trips."
)


def _alike_in(row: Row, findings: Findings) -> list[str]:
    """What the ratio on a mix is held alike in beside the ground, and what only the other is."""
    held, lacking = row["adjusted_for"], not_alike_on_the_mix(row, findings)
    if not held and not lacking:
        return []
    words = (ALIKE_BUT if lacking else ALIKE) if held else NOT_ALIKE
    return [say(words, held=listed(factor_words(held)), lacking=listed(factor_words(lacking)))]


def not_alike_on_the_mix(row: Row, findings: Findings) -> list[str]:
    """The factors that a ratio over all grounds is held alike in, and that on the mix is not."""
    alike = (
        effect["adjusted_for"]
        for effect in findings["effects"]
        if is_told(effect)
        and (effect["ground"], effect["part"]) == (ALL_GROUNDS, WHOLE_RECORD)
        and all(effect[name] == row[name] for name in ("outcome", "rig"))
    )
    return [name for name in next(alike, []) if name not in {"ground", *row["adjusted_for"]}]


def _go_by_the_other(rows: list[Row], findings: Findings) -> list[str]:
    """Which verdict goes, where one on a mix is another than the headline of the same two."""
    headlines = {
        (effect["outcome"], effect["rig"]): effect["verdict"]
        for effect in findings["effects"]
        if is_headline(effect) and is_told(effect)
    }
    differ = any(
        headlines.get((row["outcome"], row["rig"]), row["verdict"]) != row["verdict"]
        for row in rows
        if row["low"] is not None
    )
    return [say(GO_BY_THE_OTHER)] if differ and findings["standing"]["looks"]["allowed_for"] else []


def mix_table(findings: Findings, outcome: Row) -> list[Table]:
    """The rigs on the mixes, also those of which nothing can be said and why."""
    rows = _rows(findings, outcome)
    if not any(row["low"] is not None for row in rows):
        return []
    reference = findings["season"]["reference_rig"]
    caption = say(
        "{outcome} on a mix of grounds, {unit}: each rig against {reference}",
        outcome=say(outcome["title"]),
        unit=unit_of_rates(outcome),
        reference=reference,
    )
    columns: list[Column] = [
        (say("rig"), lambda row: row["rig"]),
        (say("mix"), lambda row: say(row["mix"])),
        (say("over"), lambda row: ", ".join(map(short_ground, row["grounds"])) or "–"),
        (say("of the mix"), lambda row: _percent(row["share"])),
        (say("rate"), rate_of("rate", outcome)),
        (say("{reference}'s", reference=reference), rate_of("reference_rate", outcome)),
        *ratio_columns(),
        (say("alike in"), lambda row: listed(factor_words(row["adjusted_for"])) or "–"),
        (say("verdict"), _verdict),
    ]
    return [table_of(caption, rows, columns)]


def _verdict(row: Row) -> str:
    """The verdict, or why there is no ratio."""
    return say(row["reason"]) if row["reason"] else by_itself(row["verdict"])


def _percent(share: float) -> str:
    return f"{number(share * 100, '.0f')} %"


def _rows(findings: Findings, outcome: Row) -> list[Row]:
    return [row for row in findings["on_the_mix"] if row["outcome"] == outcome["name"]]


def _mix(weights: dict[str, float]) -> str:
    largest = sorted(weights.items(), key=lambda item: -item[1])
    return listed([f"{short_ground(ground)} {_percent(share)}" for ground, share in largest])


def _sentence(row: Row, outcome: Row) -> str:
    """One rig on one mix: over what, how much, how sure, and what was not seen."""
    whose = row["mix"]
    said = say(
        OVER_A_PART[whose] if row["missing"] else ON_THE_MIX[whose],
        grounds=listed(list(map(short_ground, row["grounds"]))),
        percent=row["share"] * 100,
        said=said_of(row, outcome),
        span=span(row["low"], row["high"], outcome),
        verdict=by_itself(row["verdict"]),
    )
    if not row["none_on"]:
        return said
    none_on = listed(list(map(short_ground, row["none_on"])))
    return f"{said} {say('One of the two had none on {grounds}.', grounds=none_on)}"

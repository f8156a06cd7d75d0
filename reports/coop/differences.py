"""The co-op's section on which differences hold, from the shared findings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import (
    as_told,
    outcomes_of,
    plain_ratio_columns,
    ratio_cell,
    ratio_of,
    short_ground,
)
from reports.coop.words import over_all
from reports.language import say, say_many
from reports.parts import Figure, Fold, Section, table_of
from reports.sentences import (
    is_clear_alone,
    is_told,
    listed,
    of_wider_limits,
    title_of,
    verdict_words,
    where,
    why_untold,
)
from schemas.codes import Verdict
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Column, Row, Table

TIMES_REFERENCE = saying("{outcome}: times {reference}'s")


def differences(findings: Findings) -> Section:
    """Each rig against the reference over all hauls, where enough boats fished both."""
    sharing, outcomes, effects = findings["sharing"], outcomes_of(findings), findings["effects"]
    silent = [effect for effect in effects if not _tells(effect)]
    folded = _table(silent, findings)
    too_little = say_many(
        "{number} comparison that tells too little",
        "{number} comparisons that tell too little",
        len(silent),
    )
    figures = [
        _ratio_figure(findings, outcomes[name])
        for name in findings["season"]["headlines"]
        if over_all(findings, name)
    ]
    return Section(
        "differences",
        say("Which differences hold over boats"),
        [
            say(
                "A difference is shown where the hours of both rigs are, and {boats} boats or more "
                "fished both, none of them more than {percent:g} % of the hours of either, or of "
                "what the comparison weighs.",
                boats=sharing["min_vessels"],
                percent=100 * sharing["max_share"],
            ),
            *_about_the_table(findings),
        ],
        figures=figures,
        tables=[*_table([e for e in effects if _tells(e)], findings), *_had_all_told(findings)],
        folds=[Fold(too_little, tables=folded)] if folded else [],
    )


def _tells(effect: Row) -> bool:
    """Whether its verdict says more than that it is too little to tell."""
    too_little = effect["verdict"] == Verdict.TOO_LITTLE and not is_clear_alone(effect)
    return is_told(effect) and not too_little


def _table(effects: list[Row], findings: Findings) -> list[Table]:
    """These effects, the verdict beside the rig; no table where none has a ratio at all."""
    if not effects or not _has_a_ratio(findings):
        return []
    outcomes = outcomes_of(findings)
    columns: list[Column] = [
        (say("rig"), lambda effect: effect["rig"]),
        (say("verdict"), lambda e: verdict_words(e) if is_told(e) else why_untold(e)),
        (say("of"), lambda effect: title_of(outcomes[effect["outcome"]])),
        (say("ground"), lambda effect: short_ground(effect["ground"])),
        *plain_ratio_columns(),
        (say("raw ratio"), ratio_of("raw_ratio")),
    ]
    return [table_of(_caption(findings), map(as_told, effects), columns)]


def _had_all_told(findings: Findings) -> list[Table]:
    """Between what the ratios on damage lie, whatever happened in the hauls that do not tell."""
    ratios = findings["unknown_damage"]["ratios"]
    if not ratios:
        return []
    recorded = {effect["rig"]: effect["ratio"] for effect in over_all(findings, "damage_events")}
    columns: list[Column] = [
        (say("rig"), lambda row: row["rig"]),
        (say("as recorded"), lambda row: ratio_cell(recorded.get(row["rig"]))),
        (say("at least"), ratio_of("at_least")),
        (say("at most"), ratio_of("at_most")),
    ]
    caption = say(HAD_ALL_TOLD, reference=findings["season"]["reference_rig"])
    return [table_of(caption, ratios, columns)]


HAD_ALL_TOLD = saying(
    "Net damage, times {reference}'s over all grounds, had every haul told of it: at least, were a "
    "rig's silent hauls all sound and {reference}'s all damaged, and at most, the other way about"
)


def _has_a_ratio(findings: Findings) -> bool:
    """Whether the table of ratios has a figure at all."""
    return any(map(is_told, findings["effects"]))


def _about_the_table(findings: Findings) -> list[str]:
    """Why there is no ratio in the table at all; or what a dash in it means, where it has one."""
    effects, reference = findings["effects"], findings["season"]["reference_rig"]
    if effects and not _has_a_ratio(findings):
        reasons = listed(list(dict.fromkeys(map(why_untold, effects))))
        return [say(NO_RATIO, reference=reference, reasons=reasons)]
    if any(is_told(effect) and effect["raw_ratio"] is None for effect in effects):
        return [say(RAW_RATIO)]
    return []


NO_RATIO = saying(
    "Against {reference} there is no ratio to show, over all grounds or on any: {reasons}."
)
RAW_RATIO = saying(
    "The raw ratio is that of the rates tabled below; a dash: its rates are not tabled."
)


def _caption(findings: Findings) -> str:
    """What the table of ratios is of, and on which grounds any may be shown."""
    season, places = findings["season"], {effect["ground"] for effect in findings["effects"]}
    shown = [ground for ground in season["grounds"] if ground in places]
    if ALL_GROUNDS not in places:
        words = ON_GROUNDS_ALONE
    elif len(shown) == len(season["grounds"]):
        words = ON_EACH
    else:
        words = ON_SOME if len(shown) > 1 else ON_ONE if shown else ON_NONE
    grounds = listed([where(ground).strip() for ground in shown])
    return say(words, reference=season["reference_rig"], grounds=grounds)


ON_EACH = saying("Each rig against {reference}, like for like, over all grounds and on each")
ON_SOME = saying(
    "Each rig against {reference}, like for like, over all grounds, {grounds}, the grounds that "
    "may be shown"
)
ON_ONE = saying(
    "Each rig against {reference}, like for like, over all grounds and {grounds}, the one ground "
    "that may be shown"
)
ON_NONE = saying(
    "Each rig against {reference}, like for like, over all grounds; of single grounds none may be "
    "shown"
)
ON_GROUNDS_ALONE = saying("Each rig against {reference}, like for like, {grounds}")


def _ratio_figure(findings: Findings, outcome: Row) -> Figure:
    reference, title = findings["season"]["reference_rig"], say(outcome["title"])
    return Figure(
        name=f"ratio-{outcome['name'].replace('_', '-')}",
        kind="ratio",
        outcome=outcome["name"],
        title=say("{outcome}, each rig against {reference}", outcome=title, reference=reference),
        caption=say(
            "The bar is the 95 % interval, the dashed line at 1 is no difference, the upright tick "
            "the raw comparison, which takes no account of where each rig was fished."
        )
        + of_wider_limits(over_all(findings, outcome["name"])),
        table=table_of(
            say(TIMES_REFERENCE, outcome=title, reference=reference),
            over_all(findings, outcome["name"]),
            [(say("rig"), lambda effect: effect["rig"]), *plain_ratio_columns()],
        ),
    )

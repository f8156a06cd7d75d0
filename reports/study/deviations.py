"""What departs from the program's own way, and what was asked and could not be done."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.rates.model_table import NOT_ON_RECORD, SAME_FOR_ALL, TOO_FEW_TRIPS
from reports.doubts import CLASS_WORDS, class_words, goes_with
from reports.language import number, say, say_many
from reports.sentences import factor_words, is_told, listed, title_of, why_untold
from reports.stand_ins import stands_for
from reports.study.methods import headline_models
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.findings import Findings
    from reports.parts import Row

THE_SEASONS_OWN = {("season", key) for key in ("title", "currency", "time_zone", "reference_rig")}
"""What every season says of itself, from which nothing departs."""
ITS_OWN_SECTIONS = {"costs"}

MISSING = {
    "catches": saying("No table of catches, so nothing is said of fish."),
    "prices": saying("No table of prices, so nothing is said of the worth of a catch."),
    "rig_versions": saying("No table of rig versions, so a rig is only its name."),
    "rig_parts": saying("No table of rig parts, so nothing is said of weights."),
}
OF_THE_SEASON = "of the season"
"""The mix on which every season is compared; others are of its settings."""


def departures(findings: Findings) -> list[str]:
    """What was done otherwise than the program does where nothing is said, a sentence each."""
    method = findings["method"]
    said = [*map(stands_for, method["stand_ins"])]
    said += [_set_otherwise(row) for row in method["settings"] if _departs(row)]
    if method["reference_by"] == "option":
        said.append(
            say(
                "The reference, {reference}, was named for this run (--reference), not by the "
                "season.",
                reference=findings["season"]["reference_rig"],
            )
        )
    if method["own_note_words"]:
        said.append(say("Notes were read with words of the season's own (note_words.toml)."))
    said += [
        say_many(
            "{number:,} notes were read over by a person ({who}).",
            "{number:,} notes were read over by a person ({who}).",
            many,
            who=who,
        )
        for who, many in findings["notes"]["read_by_persons"].items()
    ]
    return [*said, *map(_put_right, method["corrections"])]


def _departs(setting: Row) -> bool:
    """Whether a setting departs from the program's own way, and is told of here."""
    own = (setting["section"], setting["key"]) in THE_SEASONS_OWN
    return not own and setting["section"] not in ITS_OWN_SECTIONS


def _set_otherwise(setting: Row) -> str:
    return say(
        "[{section}] {key} is set to {value}; otherwise {otherwise}.",
        section=setting["section"],
        key=setting["key"],
        value=_value(setting["set"]),
        otherwise=_value(setting["otherwise"]),
    )


def _put_right(correction: Row) -> str:
    return say_many(
        "{table}, {column}: one cell was put right by {who} ({why}).",
        "{table}, {column}: {number:,} cells were put right by {who} ({why}).",
        correction["cells"],
        **{name: correction[name] for name in ("table", "column", "who", "why")},
    )


def not_done(findings: Findings) -> list[str]:
    """What was asked, or is done where the record has it, and could not be; a sentence each."""
    said = [say(MISSING[name]) for name in findings["missing_tables"] if name in MISSING]
    if findings["unpriced_species"]:
        species = ", ".join(findings["unpriced_species"])
        said.append(say("Kept and without a price: {species}.", species=species))
    if "damage_events" not in {outcome["name"] for outcome in findings["outcomes"]}:
        said.append(say("Nothing was recorded of net damage."))
    said += not_adjusted(headline_models(findings), findings)
    return [*said, *_not_compared(findings), *_not_on_the_mix(findings)]


NOT_ADJUSTED = {
    SAME_FOR_ALL: saying(
        "Not adjusted for {factors}{where}: all hauls that the ratios rest on were alike in that."
    ),
    NOT_ON_RECORD: saying(
        "Not adjusted for {factors}{where}: no haul that the ratios rest on has that on record."
    ),
    TOO_FEW_TRIPS: saying("Not adjusted for {factors}{where}: there are too few trips for that."),
}
"""By the reason in the model's table."""
ALIKE_IN_CLASSES = saying(
    "Not adjusted for {factors}{where}: all hauls that the ratios rest on were alike in that as "
    "far as {classes} tell. What else the rigs' hauls differed in there is in the ratios too."
)
"""Of a factor that is told in classes: hauls of one quarter may be weeks apart."""

BOUND = saying(
    "No term for {factor}{where}: in these hauls it went wholly with {other}, and the two can't be "
    "told apart."
)


def not_adjusted(models: list[Row], findings: Findings) -> list[str]:
    """The factors that were asked for and are not in these models, once a reason, and why."""
    titles = {outcome["name"]: title_of(outcome) for outcome in findings["outcomes"]}
    lacking: dict[tuple[str, str], list[str]] = {}
    bound: dict[tuple[str, str], list[str]] = {}
    for model in models:
        for factor in model["asked_for"]:
            for why in NOT_ADJUSTED:
                if why.format(factor) in model["left_out"]:
                    lacking.setdefault((why, factor), []).append(_model_words(model, titles))
        for factor, others in goes_with(model["left_out"]).items():
            pair = factor, listed(factor_words(others))
            bound.setdefault(pair, []).append(_model_words(model, titles))
    alike: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for (why, factor), named in lacking.items():
        in_classes = why == SAME_FOR_ALL and factor in CLASS_WORDS
        words = ALIKE_IN_CLASSES if in_classes else NOT_ADJUSTED[why]
        alike.setdefault((words, tuple(named)), []).append(factor)

    def where(named: Sequence[str]) -> str:
        return "" if len(named) == len(models) else say(" in {models}", models=listed([*named]))

    return [
        say(
            words,
            factors=listed(factor_words(factors)),
            classes=listed(class_words(factors)),
            where=where(named),
        )
        for (words, named), factors in alike.items()
    ] + [
        say(BOUND, factor=listed(factor_words([factor])), other=other, where=where(named))
        for (factor, other), named in bound.items()
    ]


def _model_words(model: Row, titles: dict[str, str]) -> str:
    """What a model is of: the outcome, with the rig and part of the record if it is of one."""
    outcome = titles[model["outcome"]]
    if model["rig"] is None:
        return outcome
    return say("{outcome} ({rig}, {part})", outcome=outcome, rig=model["rig"], part=model["part"])


def _not_compared(findings: Findings) -> list[str]:
    """The rigs that have no ratio to the reference in a headline outcome, and why."""
    season = findings["season"]
    untold: dict[tuple[str, str, bool], list[str]] = {}
    titles = {outcome["name"]: title_of(outcome) for outcome in findings["outcomes"]}
    asked = [
        effect
        for effect in findings["effects"]
        if effect["ground"] == ALL_GROUNDS and effect["outcome"] in season["headlines"]
    ]
    in_a_part = {(effect["outcome"], effect["rig"]) for effect in asked if is_told(effect)}
    for effect in asked:
        if not is_told(effect):
            partly = (effect["outcome"], effect["rig"]) in in_a_part
            key = titles[effect["outcome"]], why_untold(effect), partly
            untold.setdefault(key, []).append(effect["rig"])
    return [
        say(
            NOT_OVER_THE_WHOLE if partly else NOT_COMPARED,
            outcome=title,
            reference=season["reference_rig"],
            rigs=listed(rigs),
            why=why,
        )
        for (title, why, partly), rigs in untold.items()
    ]


NOT_COMPARED = saying("In {outcome} not compared with {reference}: {rigs} ({why}).")
NOT_OVER_THE_WHOLE = saying(
    "In {outcome} compared with {reference} in a part of the record only: {rigs} (over the whole "
    "of it: {why})."
)


def _not_on_the_mix(findings: Findings) -> list[str]:
    """The rigs that have no ratio on the mix of grounds that the settings name, and why."""
    return [
        say(
            "Held to the mix of grounds of the settings, {rig} has no ratio in {outcome}: {why}.",
            rig=row["rig"],
            outcome=row["outcome"],
            why=say(row["reason"]),
        )
        for row in findings["on_the_mix"]
        if row["mix"] != OF_THE_SEASON
        and row["ratio"] is None
        and row["reason"]
        and row["outcome"] in findings["season"]["headlines"]
    ]


def _value(value: object) -> str:
    """A value of the settings, as it is; of a list or a table what is in it."""
    if isinstance(value, dict):
        return listed([f"{name} {_value(told)}" for name, told in value.items()]) or say("none")
    if isinstance(value, list):
        return ", ".join(map(_value, value)) or say("none")
    if isinstance(value, float):
        return number(value, "g")
    return say("none") if value in {None, ""} else str(value)

"""What departs from the program's own way, and what was asked and could not be done."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.sentences import ALL_GROUNDS, is_told, listed, why_untold
from reports.study.methods import cells_put_right, headline_models, upper

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

THE_SEASONS_OWN = {("season", key) for key in ("title", "currency", "time_zone", "reference_rig")}
"""What every season says of itself, from which nothing departs."""
ITS_OWN_SECTIONS = {"costs"}

MISSING = {
    "catches": "no table of catches, so nothing is said of fish",
    "prices": "no table of prices, so nothing is said of the worth of a catch",
    "rig_versions": "no table of rig versions, so a rig is only its name",
    "rig_parts": "no table of rig parts, so nothing is said of weights",
}


def departures(findings: Findings) -> list[str]:
    """What was done otherwise than the program does where nothing is said, a sentence each."""
    method, notes = findings["method"], findings["notes"]
    said = [
        f"[{row['section']}] {row['key']} is set to {_value(row['set'])}; otherwise "
        f"{_value(row['otherwise'])}."
        for row in method["settings"]
        if (row["section"], row["key"]) not in THE_SEASONS_OWN
        and row["section"] not in ITS_OWN_SECTIONS
    ]
    if method["reference_by"] == "option":
        said.append(
            f"The reference, {findings['season']['reference_rig']}, was named for this run "
            "(--reference), not by the season."
        )
    if method["own_note_words"]:
        said.append("Notes were read with words of the season's own (note_words.toml).")
    said += [
        f"{many:,} notes were read over by a person ({who})."
        for who, many in notes["read_by_persons"].items()
    ]
    said += [
        f"{row['table']}, {row['column']}: {cells_put_right(row['cells'])} by {row['who']} "
        f"({row['why']})."
        for row in method["corrections"]
    ]
    return said


def not_done(findings: Findings) -> list[str]:
    """What was asked, or is done where the record has it, and could not be; a sentence each."""
    season = findings["season"]
    said = [f"{upper(MISSING[name])}." for name in findings["missing_tables"] if name in MISSING]
    if findings["unpriced_species"]:
        said.append(f"Kept and without a price: {', '.join(findings['unpriced_species'])}.")
    recorded = {outcome["name"] for outcome in findings["outcomes"]}
    if "damage_events" not in recorded:
        said.append("Nothing was recorded of net damage.")
    said += [
        f"{model['name']}: {words}."
        for model in headline_models(findings)
        for words in _factors_left_out(model)
    ]
    untold: dict[tuple[str, str], list[str]] = {}
    for effect in findings["effects"]:
        asked = effect["ground"] == ALL_GROUNDS and effect["outcome"] in season["headlines"]
        if asked and not is_told(effect):
            title = next(o["title"] for o in findings["outcomes"] if o["name"] == effect["outcome"])
            untold.setdefault((title.lower(), why_untold(effect)), []).append(effect["rig"])
    said += [
        f"In {title} not compared with {season['reference_rig']}: {listed(rigs)} ({why})."
        for (title, why), rigs in untold.items()
    ]
    said += [
        f"Held to the mix of grounds of the settings, {row['rig']} has no ratio in "
        f"{row['outcome']}: {row['reason']}."
        for row in findings["on_the_mix"]
        if row["mix"] != OF_THE_SEASON
        and row["ratio"] is None
        and row["reason"]
        and row["outcome"] in season["headlines"]
    ]
    return said


OF_THE_SEASON = "of the season"
"""The mix on which every season is compared; others are of its settings."""


def _factors_left_out(model: Row) -> list[str]:
    """Of a model, why a factor that was asked for is not in it."""
    missing = set(model["asked_for"]) - set(model["adjusted_for"])
    return [words for words in model["left_out"] if words.split(":")[0] in missing]


def _value(value: object) -> str:
    if isinstance(value, dict):
        return listed([f"{name} {told:g}" for name, told in value.items()]) or "none"
    if isinstance(value, list):
        return (
            ", ".join(f"{each:g}" if isinstance(each, float) else each for each in value) or "none"
        )
    if isinstance(value, float):
        return f"{value:g}"
    return "none" if value in {None, ""} else str(value)

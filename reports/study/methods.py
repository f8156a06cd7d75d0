"""The methods of this run as a paragraph to print; each sentence only where it is true of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.sentences import ALL_GROUNDS, WHOLE_RECORD, factor_words, is_told, listed, period
from reports.study.error_words import error_sentences

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

TOLD_BY = {
    "the record": "the columns of the record",
    "the note": "the skipper's note",
    "a person": "a person who read the note over",
    "a blank note": "a blank note, which in this season means no damage",
}
REFERENCE_BY = {
    "season": "named in the season's settings",
    "option": "named for this run",
    "most hours": "the one with the most hours towed, as none was named",
}
OUTCOME_WORDS = {
    "damage_events": "Net damage is how many times a haul damaged the net; where a record says "
    "only yes or no, yes is once.",
    "bottom_living_kg": "Bottom-living fish is the weight of the species that rest on, crawl over "
    "or bury themselves in the seabed, kept and discarded together, of hauls that "
    "are not marked foul and whose catch is recorded.",
}
CALIBRATED = (
    "How often intervals of this procedure hold what was put in was found on invented seasons of "
    "two rigs, with and without a halving, over rare and common events, few and many trips, one "
    "boat and several, rigs changed by the haul and by the trip, and trips more and less unlike; "
    "the table is tests/calibration/RESULTS.md in the program's source. It says nothing of a "
    "season whose laws are others."
)
NOT_CALIBRATED = (
    "The program's calibration on invented seasons is of errors by trip, and does not speak for "
    "these."
)


def methods_paragraphs(findings: Findings) -> list[str]:
    """The methods, a paragraph a thought: the record, outcomes, comparison, errors, checks."""
    compared = len(findings["rigs"]) > 1
    paragraphs = [_record(findings), _outcomes(findings)]
    if compared:
        paragraphs += [_comparison(findings), error_sentences(findings), _judging(findings)]
        paragraphs.append(_tried(findings))
    else:
        only = findings["season"]["reference_rig"]
        paragraphs.append([f"Only one rig version was fished, {only}, so rates are not compared."])
    if compared and any(is_told(effect) for effect in findings["effects"]):
        by_trip = findings["season"]["errors"] == "trip"
        paragraphs.append([CALIBRATED if by_trip else NOT_CALIBRATED])
    paragraphs.append([software_sentence(findings)])
    return [" ".join(sentences) for sentences in paragraphs if sentences]


def _record(findings: Findings) -> list[str]:
    season, rows = findings["season"], findings["rows"]["hauls"]
    boats = season["vessels"]
    by = f"one boat, {boats[0]}," if len(boats) == 1 else f"{len(boats)} boats"
    days = f" ({period(season)})" if season["first_day"] else ""
    rigs = len(findings["rigs"])
    versions = "one rig version" if rigs == 1 else f"{rigs} rig versions"
    said = [
        f"The record is that of {season['title']}{days}: {season['hauls']:,} hauls of {by} on "
        f"{_trips(season['trips'])}, {season['tow_hours']:,.0f} hours towed, with {versions}."
    ]
    if "(invented)" in season["title"]:
        said.append("It is an invented record.")
    if rows["set_aside"]:
        said.append(
            f"Of {rows['read']:,} rows of hauls that were read, {rows['set_aside']:,} were set "
            "aside by checks that are the same for every row; each stands with its reason in "
            "set-aside.csv."
        )
    else:
        said.append(f"All {rows['read']:,} rows of hauls that were read could be used.")
    cells = sum(row["cells"] for row in findings["method"]["corrections"])
    if cells:
        said.append(f"{upper(cells_put_right(cells))} by name and with a reason before that.")
    return said


def _outcomes(findings: Findings) -> list[str]:
    names = {outcome["name"] for outcome in findings["outcomes"]}
    said = [
        words
        for name, words in OUTCOME_WORDS.items()
        if name in names and name in findings["season"]["headlines"]
    ]
    notes = findings["notes"]
    told_by = {by: hauls for by, hauls in notes["told_by"].items() if by in TOLD_BY and hauls}
    if "damage_events" in names and told_by:
        told = [f"{TOLD_BY[by]} ({hauls:,} hauls)" for by, hauls in told_by.items()]
        said.append(f"Damage was told by {listed(told)}.")
    if "damage_events" in names and notes["unknown_hauls"]:
        said.append(
            f"Of {notes['unknown_hauls']:,} hauls nobody knows whether the net was damaged; they "
            "are left out of its rates."
        )
    return [*said, *_notes(notes, own_words=findings["method"]["own_note_words"])]


def _notes(notes: Row, *, own_words: bool) -> list[str]:
    if not notes["read_by_program"]:
        return []
    sure = ", ".join(f"{notes['sure'][word]:,} {word}" for word in _in_order(notes["sure"]))
    said = [
        f"{notes['read_by_program']:,} notes were read by the program, by rules and by what words "
        "weigh, from the note alone: the reader does not know the rig."
    ]
    if sure:
        said.append(f"How sure it was of damage or none: {sure}.")
    if notes["not_understood"]:
        said.append(f"{notes['not_understood']:,} it did not understand.")
    if own_words:
        said.append("The season has words of its own for notes (note_words.toml).")
    persons = [f"{name} ({many:,})" for name, many in notes["read_by_persons"].items()]
    return [*said, *([f"Read by persons: {listed(persons)}."] if persons else [])]


def _in_order(sure: Row) -> list[str]:
    return [word for word in ("sure", "likely", "guess") if sure.get(word)]


def _comparison(findings: Findings) -> list[str]:
    season, method = findings["season"], findings["method"]
    models = headline_models(findings)
    said = [
        f"Each other rig version is held against {season['reference_rig']}, "
        f"{REFERENCE_BY[method['reference_by']]}."
    ]
    bounds = method["support"]
    said.append(
        "A ratio is given only where at least "
        f"{bounds['share'] * 100:.0f} % of the hours of one of the two were fished under "
        "conditions (ground, boat, stretch of the record) that the other met as well, with "
        f"{bounds['hauls']} hauls and {bounds['trips']} trips of each there; failing that in the "
        "whole record, in the stretches in which both were in use."
    )
    if not models:
        return [*said, "No headline model could be fitted."]
    said.append(
        "Rates per hour towed are compared by Poisson regression with the log of hours towed as "
        "offset, all rigs in one model: "
        f"{'; '.join(dict.fromkeys(model['formula'].split(';')[0] for model in models))}."
    )
    if any(model["outcome"] == "bottom_living_kg" for model in models):
        said.append(
            "Weights are no counts: of them the Poisson likelihood is taken for the mean alone "
            "(pseudo-likelihood)."
        )
    asked = season["adjusted_for"]
    if not asked:
        said.append("Nothing was adjusted for, as the season asks.")
    elif "depth_band" in asked and any("depth_band" in m["adjusted_for"] for m in models):
        edges = ", ".join(f"{edge:g}" for edge in method["depth_band_edges_m"])
        said.append(f"Depth is in bands, with edges at {edges} m.")
    return [*said, *_not_adjusted(models), *_in_parts(findings)]


def headline_models(findings: Findings) -> list[Row]:
    """The models of headline outcomes over all grounds, in the order of the headlines."""
    return [
        model
        for outcome in findings["season"]["headlines"]
        for model in findings["standing"]["models"]
        if model["ground"] == ALL_GROUNDS and model["outcome"] == outcome
    ]


def _not_adjusted(models: list[Row]) -> list[str]:
    """The factors that were asked for and are in none of the models."""
    asked = list(dict.fromkeys(factor for model in models for factor in model["asked_for"]))
    without = [f for f in asked if not any(f in model["adjusted_for"] for model in models)]
    if not without:
        return []
    return [
        f"Not adjusted for, though asked: {listed(factor_words(without))}; why stands under "
        "Deviations."
    ]


def _in_parts(findings: Findings) -> list[str]:
    parts = sorted({e["part"] for e in headline_effects(findings)} - {WHOLE_RECORD})
    if not parts:
        return []
    rigs = sorted({e["rig"] for e in headline_effects(findings) if e["part"] != WHOLE_RECORD})
    return [f"{listed(rigs)} could be compared in a part of the record only: {listed(parts)}."]


def headline_effects(findings: Findings) -> list[Row]:
    """The headline comparisons that are told, over all grounds."""
    return [e for e in findings["effects"] if e["p_adjusted"] is not None and is_told(e)]


def _judging(findings: Findings) -> list[str]:
    looks = findings["standing"]["looks"]
    many = looks["comparisons"]
    if not headline_effects(findings):
        return []
    outcomes = [o for o in findings["outcomes"] if o["name"] in findings["season"]["headlines"]]
    matters = [
        f"{outcome['matters']:g} times either way in {outcome['title'].lower()}"
        for outcome in outcomes
    ]
    verdicts = (
        "A rig is called lower or higher where its interval leaves out 1, no different where the "
        f"interval lies within what matters ({listed(matters)}), and else too little to tell."
    )
    if many < 2:
        return [f"There is one headline comparison. {verdicts}"]
    if not looks["allowed_for"]:
        return [
            f"There are {many} headline comparisons, each judged at 95 % by itself, as the season "
            f"asks: nothing allows for their number. {verdicts}"
        ]
    return [
        f"There are {many} headline comparisons, counted before anything was fitted; verdicts "
        f"allow for all of them by equal parts of 5 % (Bonferroni), that is by intervals at "
        f"{looks['confidence'] * 100:.2f} %. {verdicts}"
    ]


def _tried(findings: Findings) -> list[str]:
    said = []
    ways = list(
        dict.fromkeys(
            way["way"]
            for row in findings["sensitivity"]
            for way in row["ways"]
            if way["ratio"] is not None
        )
    )
    if ways:
        said.append(f"Each headline was tried in other ways: {listed(ways)}.")
    if findings["notes"]["supposed"]:
        said.append(
            "Net damage was reckoned twice more, for the ends of what the unknown hauls allow: "
            "those of a rig all damaged and those of the reference all sound, and contrariwise."
        )
    seeds = {m["residual_seed"] for m in findings["diagnostics"]["models"] if m["residuals"]}
    if seeds:
        drawn = ", ".join(str(seed) for seed in sorted(seeds))
        said.append(f"Residuals are quantile residuals, drawn with the seed {drawn}.")
    pooled = next((row for row in findings["boats"] if row["mean"]), None)
    if pooled:
        said.append(f"Over boats: {pooled['method']}.")
    if any(
        held["about"]["log_ratio"] is not None
        for change in findings["changes"]["changes"]
        for held in change["ratios"]
    ):
        said.append(
            "Before and after each lasting change of rig is shown beside the same at days without "
            "one; it enters no verdict."
        )
    if any(row["net_change"] for row in findings["money"]["rigs"]):
        said.append("What would pay is reckoned with intervals from trips drawn anew.")
    return said


def software_sentence(findings: Findings) -> str:
    """With which programs it was reckoned."""
    software = findings["method"]["software"]
    own = f"rigseason {software['rigseason']}" if software["rigseason"] else "rigseason"
    others = [
        f"{name} {told}"
        for name, told in software.items()
        if told and name not in {"rigseason", "python"}
    ]
    return f"Reckoned with {own} on Python {software['python']}, with {listed(others)}."


def _trips(trips: int) -> str:
    return "one trip" if trips == 1 else f"{trips:,} trips"


def cells_put_right(cells: int) -> str:
    """How many cells were corrected."""
    return "one cell was put right" if cells == 1 else f"{cells:,} cells were put right"


def upper(words: str) -> str:
    """The words as they begin a sentence."""
    return f"{words[:1].upper()}{words[1:]}"

"""The methods of this run as a paragraph to print; each sentence only where it is true of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.language import number, say
from reports.sentences import factor_words, is_told, listed, title_of
from reports.study.error_words import error_sentences
from reports.study.further_methods import further_sentences
from reports.study.record_methods import outcome_sentences, record_sentences
from schemas.codes import Caution, OtherWay
from schemas.outcomes import outcome
from schemas.words import ALL_GROUNDS, WHOLE_RECORD, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

HELD_AGAINST = {
    "season": saying(
        "Each other rig version is held against {reference}, named in the season's settings."
    ),
    "option": saying("Each other rig version is held against {reference}, named for this run."),
    "most hours": saying(
        "Each other rig version is held against {reference}, the one with the most hours towed, as "
        "none was named."
    ),
}
SIDE_BY_SIDE = saying(
    "A ratio is given only where at least {percent:.0f} % of the hours of one of the two were "
    "fished under conditions (ground, boat, stretch of the record) that the other met as well, "
    "with {hauls} hauls and {trips} trips of each there; failing that in the whole record, in the "
    "stretches in which both were in use."
)
SPARE_TRIPS = saying(
    "Errors are by trip, for which a model wants {spare_trips} trips more than it has terms (two "
    "rigs on two grounds, all by the same boat, are three terms and want seven trips)."
)
MORE_TRIPS = saying(
    "There are too few trips for that. Fewer terms want fewer (adjust under [model]); errors from "
    "the model want none, and take hauls of one trip for independent, which makes intervals too "
    "narrow where they are not."
)
POISSON = saying(
    "Rates per hour towed are compared by Poisson regression with the log of hours towed as "
    "offset, in one model all rigs that had any: {formulas}."
)
WEIGHTS = saying(
    "Weights are no counts: of them the Poisson likelihood is taken for the mean alone "
    "(pseudo-likelihood)."
)
VERDICTS = saying(
    "A rig is called lower or higher where its interval leaves out 1, no different where the "
    "interval lies within what matters ({matters}), and else too little to tell. Where fewer than "
    "five hauls of either had any, the exact limits of their numbers of hauls with some, in their "
    "hours (Clopper and Pearson), must leave out 1 as well, and weights are too little to tell."
)
EACH_BY_ITSELF = saying(
    "There are {comparisons} headline comparisons, each judged at 95 % by itself, as the season "
    "asks: nothing allows for their number."
)
TOGETHER = saying(
    "There are {comparisons} headline comparisons, counted before anything was fitted; verdicts "
    "allow for all of them by equal parts of 5 % (Bonferroni), that is by intervals at "
    "{percent:.4g} %."
)
UNKNOWN_HAULS = saying(
    "Net damage was reckoned twice more, for the ends of what the unknown hauls allow: those of a "
    "rig all damaged and those of the reference all sound, and contrariwise."
)
BEFORE_AND_AFTER = saying(
    "Before and after each lasting change of rig is shown beside the same at days without one; it "
    "enters no verdict."
)
BEFORE_AND_AFTER_ALONE = saying(
    "Before and after each lasting change of rig is shown; the record has no such days without one "
    "to hold beside them. It enters no verdict."
)
CALIBRATED = saying(
    "How often intervals of this procedure hold what was put in was found on invented seasons of "
    "two rigs, with and without a halving, over rare and common events, counted and as yes or no, "
    "few and many trips, one boat and several, rigs changed by the haul and by the trip, and trips "
    "more and less unlike; "
    "the table is tests/calibration/RESULTS.md in the program's source. It says nothing of a "
    "season whose laws are others."
)
NOT_CALIBRATED = saying(
    "The program's calibration on invented seasons is of errors by trip, and does not speak for "
    "these."
)


def methods_paragraphs(findings: Findings) -> list[str]:
    """The methods, a paragraph a thought: the record, outcomes, comparison, errors, checks."""
    paragraphs = [record_sentences(findings), outcome_sentences(findings)]
    if len(findings["rigs"]) > 1:
        paragraphs += [_comparison(findings), error_sentences(findings), _judging(findings)]
        paragraphs += [_tried(findings), further_sentences(findings), _calibrated(findings)]
    else:
        alone = say(
            "Only one rig version was fished, {rig}, so rates are not compared.",
            rig=findings["season"]["reference_rig"],
        )
        paragraphs += [[alone], further_sentences(findings)]
    paragraphs.append([software_sentence(findings)])
    return [" ".join(sentences) for sentences in paragraphs if sentences]


def _comparison(findings: Findings) -> list[str]:
    """Against which rig, where there is a ratio at all, and by which models."""
    method, models = findings["method"], headline_models(findings)
    support = method["support"]
    said = [
        say(HELD_AGAINST[method["reference_by"]], reference=findings["season"]["reference_rig"]),
        say(SIDE_BY_SIDE, percent=support["share"] * 100, **support),
    ]
    if findings["season"]["errors"] == "trip":
        said.append(say(SPARE_TRIPS, **support))
    if not models:
        return [*said, *_no_model(findings)]
    said.append(say(POISSON, formulas="; ".join(dict.fromkeys(map(formula_of, models)))))
    if any(model["outcome"] == "bottom_living_kg" for model in models):
        said.append(say(WEIGHTS))
    return [*said, *_adjusted(findings, models), *_in_parts(findings)]


def formula_of(model: Row) -> str:
    """The model in words; its terms are called as in the table of the model."""
    named = outcome(model["outcome"])
    unit = f" ({say(named.unit)})" if named.unit else ""
    return say(
        "log of mean {outcome} = log of hours towed + intercept + {terms}",
        outcome=f"{say(named.title).lower()}{unit}",
        terms=" + ".join(["rig_version", *model["adjusted_for"]]),
    )


def headline_models(findings: Findings) -> list[Row]:
    """The models of headline outcomes over all grounds, in the order of the headlines."""
    return [
        model
        for outcome in findings["season"]["headlines"]
        for model in findings["standing"]["models"]
        if model["ground"] == ALL_GROUNDS and model["outcome"] == outcome
    ]


def _no_model(findings: Findings) -> list[str]:
    """That nothing was fitted, and what would let it, where trips were too few."""
    too_few = any(
        Caution.TOO_FEW_TRIPS in effect["cautions"]
        for effect in findings["effects"]
        if effect["ground"] == ALL_GROUNDS and effect["outcome"] in findings["season"]["headlines"]
    )
    return [say("No headline model could be fitted."), *([say(MORE_TRIPS)] if too_few else [])]


def _adjusted(findings: Findings, models: list[Row]) -> list[str]:
    """How depth is told, and the factors that were asked for and are in none of the models."""
    if not findings["season"]["adjusted_for"]:
        return [say("Nothing was adjusted for, as the season asks.")]
    said = []
    if any("depth_band" in model["adjusted_for"] for model in models):
        edges = [number(edge, "g") for edge in findings["method"]["depth_band_edges_m"]]
        said.append(say("Depth is in bands, with edges at {edges} m.", edges=", ".join(edges)))
    asked = list(dict.fromkeys(factor for model in models for factor in model["asked_for"]))
    without = [f for f in asked if not any(f in model["adjusted_for"] for model in models)]
    if without:
        said.append(
            say(
                "Not adjusted for, though asked: {factors}; why stands under Deviations.",
                factors=listed(factor_words(without)),
            )
        )
    return said


def _in_parts(findings: Findings) -> list[str]:
    """Which rigs could be compared in a part of the record only, and in which."""
    in_part = [e for e in headline_effects(findings) if e["part"] != WHOLE_RECORD]
    if not in_part:
        return []
    rigs, parts = (sorted({effect[name] for effect in in_part}) for name in ("rig", "part"))
    return [
        say(
            "{rigs} could be compared in a part of the record only: {parts}.",
            rigs=listed(rigs),
            parts=listed(parts),
        )
    ]


def headline_effects(findings: Findings) -> list[Row]:
    """The headline comparisons that are told, over all grounds."""
    return [e for e in findings["effects"] if e["p_adjusted"] is not None and is_told(e)]


def _judging(findings: Findings) -> list[str]:
    """How many comparisons there are, whether that is allowed for, and what verdicts mean."""
    if not headline_effects(findings):
        return []
    heads = findings["season"]["headlines"]
    matters = [
        say("{times:g} times either way in {outcome}", times=o["matters"], outcome=title_of(o))
        for o in findings["outcomes"]
        if o["name"] in heads
    ]
    return [_looks(findings["standing"]["looks"]), say(VERDICTS, matters=listed(matters))]


def _looks(looks: Row) -> str:
    if looks["comparisons"] < 2:
        return say("There is one headline comparison.")
    return say(
        TOGETHER if looks["allowed_for"] else EACH_BY_ITSELF,
        comparisons=looks["comparisons"],
        percent=looks["confidence"] * 100,
    )


WAY_NAMES = {
    OtherWay.SCATTER: saying("more scatter than chance"),
    OtherWay.RANDOM_TRIPS: saying("trip as random effect"),
    OtherWay.TRIMMED: saying("without the longest and heaviest hauls"),
    OtherWay.WITHOUT_FAR: saying("without hauls whose catch is far beyond the others"),
    OtherWay.SIDE_BY_SIDE: saying("side by side only"),
    OtherWay.WITHIN_TRIPS: saying("within trips that fished both"),
    OtherWay.WITHIN_TOWS: saying("within tows that fished both at once"),
    OtherWay.YES_OR_NO: saying("each haul as damaged or not"),
    OtherWay.UNKNOWN_SOUND: saying("unknown hauls as sound"),
    OtherWay.TWO_PARTS: saying("how often and how much apart"),
}


IN_ALL_WAYS = saying("Each headline was tried in other ways: {ways}.")
IN_SOME_WAYS = saying(
    "Headlines were tried in other ways, all of them where no number stands behind: {ways}."
)


def _other_ways(findings: Findings) -> list[str]:
    """The other ways, each with how many of the headlines had it where that is not all of them."""
    titles = {outcome["name"]: title_of(outcome) for outcome in findings["outcomes"]}
    tried = findings["sensitivity"]
    done: dict[OtherWay, list[str]] = {}
    for row in tried:
        for way in row["ways"]:
            if way["ratio"] is not None:
                done.setdefault(way["way"], []).append(titles[row["outcome"]])
    ways = [
        say(WAY_NAMES[way])
        if len(of) == len(tried)
        else say(
            "{way} ({many} of {all}, in {outcomes})",
            way=say(WAY_NAMES[way]),
            many=len(of),
            all=len(tried),
            outcomes=listed([*dict.fromkeys(of)]),
        )
        for way, of in done.items()
    ]
    in_all = all(len(of) == len(tried) for of in done.values())
    return [say(IN_ALL_WAYS if in_all else IN_SOME_WAYS, ways=listed(ways))] if ways else []


def _tried(findings: Findings) -> list[str]:
    """In which other ways the headlines were looked at, as far as they were."""
    said = _other_ways(findings)
    if findings["notes"]["supposed"]:
        said.append(say(UNKNOWN_HAULS))
    seeds = {m["residual_seed"] for m in findings["diagnostics"]["models"] if m["residuals"]}
    if seeds:
        drawn = ", ".join(map(str, sorted(seeds)))
        said.append(
            say("Residuals are quantile residuals, drawn with the seed {seeds}.", seeds=drawn)
        )
    pooled = next((row for row in findings["boats"] if row["mean"]), None)
    if pooled:
        said.append(say("Over boats: {method}.", method=say(pooled["method"])))
    if any(
        held["about"]["log_ratio"] is not None
        for change in findings["changes"]["changes"]
        for held in change["ratios"]
    ):
        quiet = bool(findings["changes"]["without"])
        said.append(say(BEFORE_AND_AFTER if quiet else BEFORE_AND_AFTER_ALONE))
    if any(row["net_change"] for row in findings["money"]["rigs"]):
        said.append(say("What would pay is reckoned with intervals from trips drawn anew."))
    return said


def _calibrated(findings: Findings) -> list[str]:
    """What is known of how often such intervals hold."""
    if not any(is_told(effect) for effect in findings["effects"]):
        return []
    return [say(CALIBRATED if findings["season"]["errors"] == "trip" else NOT_CALIBRATED)]


def software_sentence(findings: Findings) -> str:
    """With which programs it was reckoned."""
    software = findings["method"]["software"]
    own = f"rigseason {software['rigseason']}" if software["rigseason"] else "rigseason"
    others = [
        f"{name} {told}"
        for name, told in software.items()
        if told and name not in {"rigseason", "python"}
    ]
    return say(
        "Reckoned with {own} on Python {python}, with {others}.",
        own=own,
        python=software["python"],
        others=listed(others),
    )

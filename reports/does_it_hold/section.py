"""The section "Does it hold?": each headline in other ways, the trips it rests on, the model."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import count_of, figure_of, interval_columns, outcomes_of, ratio_of, short_ground
from reports.does_it_hold.sentences import (
    WAY_WORDS,
    at_the_worst_end,
    hours_words,
    influence_words,
    lies_off,
    note_words,
    scatter_words,
    stands_words,
    summed_up,
    title,
    title_in_part,
)
from reports.language import say
from reports.parts import Figure, Section, Trial, table_of
from reports.sentences import verdict_among_all
from reports.unknown_hauls import rigs_undone, supposed_effects
from schemas.codes import CLEAR
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

ABOUT = saying(
    "Each headline was reckoned again in other ways. A finding that stands says the same in all of "
    "them; one that does not is no ground to spend money on."
)
LAWS = saying(
    "Hauls that may scatter more than chance: the negative binomial, its variance growing as the "
    "square of the mean, of the sums by trip and like hauls. Trips that may differ: the Poisson "
    "model with a gamma effect of each trip. Both have the errors of their own law and the same "
    "factors as the headline; weights are told in lots of so many kilos, such that they scatter "
    "within a trip as counts do, which is this program's own judgement."
)
LEFT_OUT = saying(
    "Without the longest and heaviest: hauls beyond the longest 19 in 20, or with more fish than "
    "19 in 20 of their rig, are left out. How often and how much apart: hauls with any per hour, "
    "times the weight of a haul that has any; tried where one haul in twenty has none."
)
SIDE_BY_SIDE = saying(
    "Side by side only: hauls of the two rigs under conditions that both met (ground, boat and "
    "stretch of the record), and these held alike as far as the trips allow. Where it differs, the "
    "ratio as told rests on hauls that the model alone makes comparable."
)
WITHIN_TRIPS = saying(
    "Within the trips that fished both: each trip is held to itself, so that weeks, weather and "
    "whatever else sets trips apart fall out, with the same factors held alike in the trip. It is "
    "the Poisson model with an effect of each trip; errors by leaving out one trip at a time, t on "
    "those trips less one. Where a trial fished its rigs in turn it is the strictest way."
)
YES_OR_NO = saying(
    "Each haul as damaged or not: a rate model counts, and where the log says only whether a haul "
    "had damage, it draws ratios towards 1, the more the more hauls have some. This way has the "
    "law of such hauls (binomial, complementary log-log link; the luck of trips, gamma by law, is "
    "allowed for), with its own errors, as much wider as trips make those of the ratio as told."
)
REST = saying(
    "What a trip does to a ratio is found by one step from the whole fit, not by fitting anew."
)
RESIDUALS = saying(
    "The place of each haul in the law that the model gives it, as a randomised quantile residual "
    "(Dunn & Smyth 1996; the draw's seed is {seed}). The dot is the mean of a group of hauls, the "
    "bar its 95 % interval from trip to trip; a group lies off where the bar misses the line at 0."
)
OFF_IN_ORANGE = saying("Orange: a group that lies off.")
NO_BAR = saying("A dot without a bar: too few trips for an interval.")
WEIGHT_LAW = saying(
    "Weights are given a gamma law when there are any, beside the share of hauls with none."
)
BY_WORDS = {
    "fitted": saying("tenth of what is fitted"),
    "ground": saying("ground"),
    "boat": saying("boat"),
    "time": saying("time"),
}
ALL_HAULS, AS_TOLD = saying("all"), saying("as told above")


def does_it_hold(findings: Findings) -> Section | None:
    """The section; None where there is neither a headline to try nor a model to look at."""
    outcomes = outcomes_of(findings)
    told = [
        {**row, "outcome_title": outcomes[row["outcome"]]["title"]}
        for row in findings["sensitivity"]
    ]
    models = findings["diagnostics"]["models"]
    if not told and not any(model["why"] is None for model in models):
        return None
    return Section(
        "does-it-hold",
        say("Does it hold?"),
        [
            *([say(ABOUT), *summed_up(told)] if told else []),
            *at_the_worst_end(rigs_undone(supposed_effects(findings))),
            *hours_words(findings["diagnostics"]["hours"], {row["part"] for row in told}),
        ],
        trials=[_trial(row, outcomes[row["outcome"]], findings) for row in _clear_first(told)],
        folded=[residual_figure(m, outcomes[m["outcome"]]) for m in models if m["why"] is None],
        points=[
            *(
                map(say, (LAWS, LEFT_OUT, SIDE_BY_SIDE, WITHIN_TRIPS, YES_OR_NO, REST))
                if told
                else ()
            ),
            *(scatter_words(model, outcomes[model["outcome"]]) for model in models),
        ],
    )


def _clear_first(rows: list[Row]) -> list[Row]:
    return sorted(rows, key=lambda row: row["verdict"] not in CLEAR)


def _trial(row: Row, outcome: Row, findings: Findings) -> Trial:
    key = ("outcome", "rig", "part")
    trips = [
        trip
        for trip in findings["diagnostics"]["influential_trips"]
        if all(trip[name] == row[name] for name in key)
    ]
    return Trial(
        title=title(row, outcome),
        says=stands_words(row),
        clear=row["verdict"] in CLEAR,
        table=table_of(
            say(
                "{outcome}: {rig}'s, times {reference}'s",
                outcome=say(outcome["title"]),
                rig=row["rig"],
                reference=row["reference"],
            ),
            [row, *row["ways"]],
            [
                (
                    say("reckoned"),
                    lambda way: say(WAY_WORDS[way["way"]] if "way" in way else AS_TOLD),
                ),
                (say("ratio"), ratio_of("ratio")),
                *interval_columns(findings["standing"]["looks"]),
                (say("verdict"), _verdict),
            ],
        ),
        rests=influence_words(trips),
    )


def _verdict(way: Row) -> str:
    verdict = verdict_among_all(way) if way["verdict"] else ""
    return "; ".join(filter(None, [verdict, note_words(way.get("note"))]))


def residual_figure(model: Row, outcome: Row) -> Figure:
    """How the hauls lie about one model, by group."""
    title = title_in_part(model, outcome)
    return Figure(
        name=f"residuals-{model['outcome'].replace('_', '-')}",
        kind="residuals",
        outcome=model["outcome"],
        title=say("{outcome}: how the hauls lie about the model", outcome=title),
        caption=_caption(model, outcome),
        table=table_of(
            say("{outcome}: residuals, 0 with a spread of 1 where the model holds", outcome=title),
            (model["residuals"], *model["groups"]),
            [
                (say("hauls by"), _by),
                (say("group"), _group),
                (say("hauls"), count_of("hauls")),
                (say("mean"), figure_of("mean", "+z.2f")),
                (say("from"), figure_of("low", "+z.2f")),
                (say("to"), figure_of("high", "+z.2f")),
                (say("spread"), ratio_of("spread")),
            ],
        ),
    )


def _caption(model: Row, outcome: Row) -> str:
    """What is drawn: of colours and of dots without a bar only where there are some."""
    groups = model["groups"]
    said = [say(RESIDUALS, seed=model["residual_seed"])]
    if any(map(lies_off, groups)):
        said.append(say(OFF_IN_ORANGE))
    if any(group["low"] is None for group in groups):
        said.append(say(NO_BAR))
    if not outcome["counted"]:
        said.append(say(WEIGHT_LAW))
    return " ".join(said)


def _by(group: Row) -> str:
    """What hauls are grouped by; all of them are by nothing."""
    return say(BY_WORDS.get(group["by"], ALL_HAULS))


def _group(group: Row) -> str:
    if group["by"] not in BY_WORDS:
        return say(ALL_HAULS)
    return short_ground(group["group"]) if group["by"] == "ground" else str(group["group"])

"""The section "Does it hold?": each headline in other ways, the trips it rests on, the model."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of, ratio_cell, short_ground
from reports.does_it_hold.sentences import (
    CLEAR,
    WAY_WORDS,
    hours_words,
    influence_words,
    note_words,
    scatter_words,
    stands_words,
    summed_up,
    title,
)
from reports.parts import Figure, Section, Table, Trial

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

ABOUT = (
    "Each headline was reckoned again in other ways. A finding that stands says the same in all of "
    "them; one that hangs on the way is not to be spent money on."
)
LAWS = (
    "Hauls that may scatter more than chance: the negative binomial, its variance growing as the "
    "square of the mean, of the sums by trip and like hauls. Trips that may differ: the Poisson "
    "model with a gamma effect of each trip. Both have the errors of their own law and the same "
    "factors as the headline; weights are told in lots of so many kilos, such that they scatter "
    "within a trip as counts do, which is this program's own judgement."
)
LEFT_OUT = (
    "Without the longest and heaviest: hauls beyond the longest 19 in 20, or with more fish than "
    "19 in 20, are left out. How often and how much apart: hauls with any per hour, times the "
    "weight of a haul that has any; tried where one haul in twenty has none."
)
REST = "What a trip does to a ratio is found by one step from the whole fit, not by fitting anew."
RESIDUALS = (
    "The place of each haul in the law that the model gives it, as a randomised quantile residual "
    "(Dunn & Smyth 1996; the draw's seed is {seed}). The dot is the mean of a group of hauls, the "
    "bar its 95 % interval from trip to trip; a group lies off where the bar misses the line at 0."
)
WEIGHT_LAW = (
    " Weights are given a gamma law when there are any, beside the share of hauls with none."
)
BY_WORDS = {"fitted": "tenth of what is fitted", "ground": "ground", "boat": "boat", "time": "time"}


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
        "Does it hold?",
        [
            *([ABOUT, *summed_up(told)] if told else []),
            *hours_words(findings["diagnostics"]["hours"]),
        ],
        trials=[_trial(row, outcomes[row["outcome"]], findings) for row in _clear_first(told)],
        folded=[_figure(m, outcomes[m["outcome"]]) for m in models if m["why"] is None],
        points=[
            *([LAWS, LEFT_OUT, REST] if told else []),
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
        table=Table(
            f"{outcome['title']}: {row['rig']}'s, times {row['reference']}'s",
            ["reckoned", "ratio", "from", "to", "verdict"],
            [_cells("as told above", row), *(_cells(WAY_WORDS[w["way"]], w) for w in row["ways"])],
        ),
        rests=influence_words(trips),
    )


def _cells(name: str, row: Row) -> list[str]:
    note = note_words(row.get("note"))
    said = f"{row['verdict']}; {note}" if row["verdict"] and note else row["verdict"] or note
    return [name, *(ratio_cell(row[each]) for each in ("ratio", "low", "high")), said]


def _figure(model: Row, outcome: Row) -> Figure:
    about = RESIDUALS.format(seed=model["residual_seed"])
    return Figure(
        name=f"residuals-{model['outcome'].replace('_', '-')}",
        kind="residuals",
        outcome=model["outcome"],
        title=f"{outcome['title']}: how the hauls lie about the model",
        caption=about if outcome["counted"] else about + WEIGHT_LAW,
        table=Table(
            f"{outcome['title']}: residuals, 0 with a spread of 1 where the model holds",
            ["hauls by", "group", "hauls", "mean", "from", "to", "spread"],
            [_group_cells(group) for group in (model["residuals"], *model["groups"])],
        ),
    )


def _group_cells(group: Row) -> list[str]:
    by = group["by"]
    name = short_ground(group["group"]) if by == "ground" else group["group"]
    return [
        BY_WORDS.get(by, "all"),
        name,
        f"{group['hauls']:,}",
        *(_signed(group[each]) for each in ("mean", "low", "high")),
        ratio_cell(group["spread"]),
    ]


def _signed(value: float | None) -> str:
    return "–" if value is None else f"{value:+z.2f}"

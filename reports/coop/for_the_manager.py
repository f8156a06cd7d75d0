"""What whoever makes a co-op's report is told on the terminal, and no file of it says."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.check_season import sentence_of
from pipeline.checking.names_alike import ALIKE
from pipeline.checking.nearly_alike import NEARLY
from pipeline.rows import SEASON
from pipeline.seasons.boats import ANOTHER_BOAT
from pipeline.sharing.consent import agreeing_twice
from pipeline.sharing.periods import parts_of_some_boats
from pipeline.sharing.shared_boats import WhyNotShown, not_shown
from reports.cells import outcomes_of
from reports.coop.words import gainsaid, rigs_of
from reports.doubts import not_so_otherwise
from reports.language import day_of
from reports.sentences import is_headline, is_told, listed
from reports.terminal import so_many
from schemas.codes import OtherWay
from schemas.words import UNKNOWN_GROUND

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.findings import Findings
    from pipeline.rows import CheckedSeason
    from pipeline.run_season import SeasonResults
    from pipeline.sharing.periods import Part
    from reports.parts import Row
    from schemas.settings import Sharing


def for_the_manager(results: SeasonResults, untold: Findings | None = None) -> list[str]:
    """A line on each thing to look at before the report is handed on.

    `untold` are the shared findings where the terminal has told nothing of the rigs: it says then
    what the page says against its differences.
    """
    sharing = results.folder.settings.sharing
    boats = results.season.tables["hauls"]["vessel"].n_unique()
    if boats < sharing.min_vessels:
        return [
            f"The hauls are of {so_many(boats, 'boat', 'boats')}, fewer than min_vessels "
            f"({sharing.min_vessels}) under [sharing]: nothing of them can be shown to others."
        ]
    return [
        *(_gainsaid(untold) if untold else []),
        *(_made_by_far_catches(results.findings) if untold else []),
        *agreeing_twice(sharing),
        *agreed_and_not_shown(results.findings, sharing),
        *_boats_that_may_be_one(results.season),
        *parts_not_of_all(results.season.tables["hauls"], sharing),
        *grounds_of_few_boats(results.season.tables["hauls"], sharing.min_vessels),
    ]


def _made_by_far_catches(findings: Findings) -> list[str]:
    """The headlines that catches make which may be slips; no page of a co-op can say whose."""
    told = [effect for effect in findings["effects"] if is_headline(effect) and is_told(effect)]
    return not_so_otherwise(told, findings, [OtherWay.WITHOUT_FAR])


def _gainsaid(shared: Findings) -> list[str]:
    """What hauls that are more alike say against the differences that the page has."""
    return [line for name in shared["season"]["headlines"] for line in gainsaid(shared, name)]


def agreed_and_not_shown(findings: Findings, sharing: Sharing) -> list[str]:
    """A line on the boats that agreed to stand in the report and do not, by why, with the rigs."""
    heads = findings.get("season", {}).get("headlines", ())
    rows = [row for row in findings.get("boats", ()) if row["outcome"] in heads]
    kept_back: dict[tuple[WhyNotShown, tuple[str, ...]], list[Row]] = {}
    for row in rows:
        for why, boats in not_shown(row, sharing).items():
            kept_back.setdefault((why, tuple(boats)), []).append(row)
    return [
        f"{listed(list(boats))} agreed to stand in the report and {_do(boats)} not with "
        f"{rigs_of(of, rows, outcomes_of(findings))}: "
        f"{WHY_NOT_SHOWN[why].format(boats=sharing.min_vessels)}."
        for (why, boats), of in kept_back.items()
        if boats
    ]


def _do(boats: Sequence[str]) -> str:
    return "does" if len(boats) == 1 else "do"


WHY_NOT_SHOWN = {
    WhyNotShown.NO_RATIO: "a boat's own ratio can't be told there (its own page says why)",
    WhyNotShown.NO_MEAN: "there is no mean over boats that may be shown, and no boat without it",
    WhyNotShown.FEW_LETTERS: "fewer boats than {boats} that agreed to a letter have a ratio there",
    WhyNotShown.FEW_LEFT: "fewer than {boats} other boats with a ratio would be left, which could "
    "be worked out; let all agree there, or fewer",
}


def parts_not_of_all(hauls: pl.DataFrame, sharing: Sharing) -> list[str]:
    """That parts of the record are not of all boats: beside a report without, this gives them away.

    They are in no file by name; the page says when they were.
    """
    parts = parts_of_some_boats(hauls, sharing)
    if not parts:
        return []
    vessels = hauls["vessel"].unique().sort().to_list()
    told = "; ".join(_part_words(part, vessels, sharing) for part in parts)
    return [
        f"Not every boat fished in all of the record: {told}. Beside a report that has not such a "
        "part, be it an earlier one, this one gives away what those boats did then: hand on one of "
        "the two, and of a new year none until every boat's is in it."
    ]


MOST_MISSING = 4
"""So many boats are named that did not fish in a part of the record; of more, their number."""


def _part_words(part: Part, vessels: list[str], sharing: Sharing) -> str:
    """When it was, and the boats that it is of; or, if they are many, those that it is not of."""
    when = f"in {part.year}"
    if part.month is not None:
        when = f"from {day_of(date(part.year, part.month, 1), 'MMMM y')} on"
    if len(part.boats) < sharing.min_vessels:
        few = f"fewer than min_vessels ({sharing.min_vessels})"
        return f"{when} {listed(list(part.boats))} alone, {few}"
    missing = [boat for boat in vessels if boat not in part.boats]
    if len(missing) > MOST_MISSING:
        return f"{when} {len(part.boats)} of {len(vessels)} boats"
    return f"{when} all but {listed(missing)}"


def grounds_of_few_boats(hauls: pl.DataFrame, min_vessels: int) -> list[str]:
    """A line on each ground that is hidden as few boats fished it, which hides others with it."""
    of_few = (
        hauls.filter(pl.col("ground").is_not_null())
        .group_by("ground")
        .agg(pl.col("vessel").n_unique().alias("boats"))
        .filter(pl.col("boats") < min_vessels)
    )
    unknown = hauls.filter(pl.col("ground") == UNKNOWN_GROUND)
    return [
        _without_ground(unknown, min_vessels)
        if ground == UNKNOWN_GROUND
        else f"Ground {ground!r} was fished by fewer boats than {min_vessels}: it is hidden, and "
        "others may be with it, so that no total gives it away. Where it is another ground by the "
        "trade, map it with words under [hauls.columns]."
        for ground in of_few["ground"].sort()
    ]


def _without_ground(hauls: pl.DataFrame, min_vessels: int) -> str:
    """Whose hauls have no ground, how many, what that hides with them, and what to do."""
    of = SEASON if SEASON in hauls.columns else "vessel"
    counts = hauls[of].value_counts().sort(of)
    told = listed(
        [f"{so_many(many, 'haul', 'hauls')} of {name}" for name, many in counts.iter_rows()]
    )
    return (
        f"No ground stands in {told}: hauls without a ground are of fewer boats than "
        f"{min_vessels}, so they are hidden, and others may be with them, so that no total gives "
        "them away. Write the ground in that log; a report without those hauls hides less."
    )


def _boats_that_may_be_one(season: CheckedSeason) -> list[str]:
    """What `check` says of boats' names that are nearly another's: one boat more opens cells."""
    of_names = season.remarks.filter(
        (pl.col("table") == "hauls")
        & (pl.col("column") == "vessel")
        & pl.any_horizontal(
            pl.col("reason").str.starts_with(asked.split("{}")[0])
            for asked in (ALIKE, NEARLY, ANOTHER_BOAT)
        )
    )
    each_once = of_names.unique(["value", "reason"], keep="first", maintain_order=True)
    return [sentence_of(row) for row in each_once.iter_rows(named=True)]

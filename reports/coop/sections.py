"""The sections of the co-op's page, all from the shared findings."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from pipeline.sharing.contributions import DAMAGE_HOURS
from pipeline.sharing.reader import PROTECTED
from pipeline.sharing.why_set_aside import FEW_ROWS
from reports.boats.section import FURTHER_OF_RIG, MEAN_OF_RIG
from reports.cells import outcomes_of, rate_cell, ratio_cell, short_ground
from reports.coop.differences import TIMES_REFERENCE
from reports.coop.words import (
    hidden_words,
    over_boats_words,
    pooled,
    tells_of_a_further_boat,
    what_means_hide,
)
from reports.language import day_of, number, say, say_many
from reports.outcome_sections import MOSTLY_WHEN_SOMETHING
from reports.parts import Figure, Section, Table
from reports.plain_words import CAN_TELL, FOUL_TOWS, HOW_TO_READ, NO_FOUL_TOWS
from reports.sentences import like_for_like, listed, title_of
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

HIDDEN, NOBODY = saying("hidden"), "–"
PER_100_HOURS = 100
STRONGER = saying("The stronger the colour, the more.")
WHY_HIDDEN = saying(
    "Hidden: the cell is of too few boats or mostly one boat's, or it would give such a cell away. "
    "Which of these it is, is not said, as that would tell of the boats there."
)
DASH = saying("A dash: nobody fished there.")
NO_ROW = saying("Of {rigs} every cell is hidden, so that they have no row here.")
NONE_SEEN = saying(
    "0–{most}: none was seen there, and as many as the second figure can't be ruled out."
)
LEFT_OUT = (
    saying(
        "Left out altogether: trips, hauls, days and positions; what was written in notes; boats' "
        "names and their own figures, but for boats that agreed to it; catches of single species, "
        "what would pay, what single changes of rig did, checks of length, and how mending adds "
        "up over a rig's hours. Hours, kilos and ratios are rounded to three figures."
    ),
    saying(
        "Two reports on one season, with other bounds or with hauls added, may together tell what "
        "each hides: hand on one."
    ),
)

DAMAGE_PER_100_HOURS = saying("Net damage, times per 100 hours")
DAMAGE_OF_KNOWN = saying("Net damage, times per 100 hours of which it is known")
HOURS_KNOWN = saying("Hours towed of which it is known whether the net was damaged")
SOME_UNKNOWN = saying(
    "Some hauls do not tell whether the net was damaged; they are left out of the rates of damage, "
    "not counted as none."
)

MOST_RECTANGLES = 24
"""So many are named."""


def over_boats(findings: Findings) -> Section | None:
    """The mean over boats and how far they differ; the boats themselves where they agreed."""
    outcomes = outcomes_of(findings)
    figures, said = [], []
    for name in findings["season"]["headlines"]:
        rows = pooled(findings, name)
        if rows:
            figures.append(_forest(rows, outcomes[name]))
        for row in rows:
            words = over_boats_words(row, outcomes[name])
            said.append(f"{row['rig']}, {title_of(outcomes[name])}. {' '.join(words)}")
    if not figures:
        return None
    about = say(
        "Here each boat is held to itself alone, and the mean is over boats, so that it says what "
        "a boat like these may look for. A boat's own ratio stands only where the boat agreed to "
        "it, by name or under a letter, which is another one with each rig and in each report."
    )
    paragraphs = [about, *said, *what_means_hide(findings)]
    return Section("over-boats", say("How far boats agree"), paragraphs, figures=figures)


def _forest(rows: list[Row], outcome: Row) -> Figure:
    lines = [line for row in rows for line in _forest_cells(row)]
    title, reference = say(outcome["title"]), rows[0]["reference"]
    return Figure(
        name=f"boats-{outcome['name'].replace('_', '-')}",
        kind="boats",
        outcome=outcome["name"],
        title=say("{outcome}, over boats, against {reference}", outcome=title, reference=reference),
        caption=of_forest(rows),
        table=Table(
            say(TIMES_REFERENCE, outcome=title, reference=reference),
            [say("rig"), say("ratio"), say("from"), say("to")],
            lines,
        ),
    )


def of_forest(rows: list[Row]) -> str:
    """What is drawn of boats: of a further boat and of single ones only where they are shown."""
    said = [say("The diamond is the mean over boats, the thick bar its 95 % interval.")]
    if any(tells_of_a_further_boat(row["mean"]) for row in rows):
        said.append(say("The thin line: where a further boat might lie."))
    if any(row["boats"] for row in rows):
        said.append(say("Above the mean: the boats that agreed to be shown."))
    if any(boat["low"] is None for row in rows for boat in row["boats"]):
        said.append(say(UNDER_A_LETTER))
    return " ".join([*said, say("The dashed line at 1 is no difference.")])


UNDER_A_LETTER = saying(
    "Under a letter a ratio stands to two figures and without its interval, by whose width it "
    "could be told whose it is."
)


def _forest_cells(row: Row) -> list[list[str]]:
    mean, ends = row["mean"], ("ratio", "low", "high")
    told = tells_of_a_further_boat(mean)
    further = [ratio_cell(mean[name]) for name in ("further_low", "further_high")]
    return [
        *(
            [f"{row['rig']}, {boat['vessel']}", *(ratio_cell(boat[name]) for name in ends)]
            for boat in row["boats"]
        ),
        [say(MEAN_OF_RIG, rig=row["rig"]), *(ratio_cell(mean[name]) for name in ends)],
        *([[say(FURTHER_OF_RIG, rig=row["rig"]), "", *further]] if told else []),
    ]


def shared_tables(findings: Findings) -> Section | None:
    """Hours, tears and fish by rig and ground, with hidden cells marked; None where all are."""
    if not any(cell["shown"] for cell in findings["cells"]):
        return None
    outcomes = outcomes_of(findings)
    kinds = [("tow_hours", say("Hours towed"), 1)]
    unknown = findings["unknown_damage"]["any"]
    if "damage_events" in outcomes:
        if findings["unknown_damage"]["hauls"] is not None:
            kinds.append((DAMAGE_HOURS, say(HOURS_KNOWN), 1))
        kinds.append(("damage_events_per_hour", damage_rates(findings), PER_100_HOURS))
    kinds += [
        (f"{name}_per_hour", say("{fish}, kg an hour", fish=say(outcomes[name]["title"])), 1)
        for name in ("bottom_living_kg", "other_kg")
        if name in outcomes
    ]
    tables = [_heat_table(findings, *kind) for kind in kinds]
    paragraphs = [
        _legend(findings),
        *(_of_unknown_damage(findings) if unknown else []),
        *_without_a_row(findings),
        *where_fished(findings["season"]),
    ]
    return Section("tables", say("Rig by ground, over all boats"), paragraphs, tables=tables)


def damage_rates(findings: Findings) -> str:
    """What the rates of damage are of, where not all hauls tell of it."""
    return say(DAMAGE_OF_KNOWN if findings["unknown_damage"]["any"] else DAMAGE_PER_100_HOURS)


def _of_unknown_damage(findings: Findings) -> list[str]:
    """How many hauls do not tell of damage, where it may be told, and what that does to rates."""
    hauls, unknown = findings["season"]["hauls"], findings["unknown_damage"]["hauls"]
    if hauls is None or unknown is None:
        return [f"{say(SOME_UNKNOWN)} {say(MOSTLY_WHEN_SOMETHING)}"]
    many = say_many(
        "{of_all}, {number:,} does not tell whether the net was damaged; it is left out of the "
        "rates of damage, not counted as none.",
        "{of_all}, {number:,} do not tell whether the net was damaged; they are left out of the "
        "rates of damage, not counted as none.",
        unknown,
        of_all=say_many("Of {number:,} haul", "Of {number:,} hauls", hauls),
    )
    return [f"{many} {say(MOSTLY_WHEN_SOMETHING)}"]


def _with_a_row(findings: Findings) -> list[str]:
    """The rigs of which any cell is shown."""
    seen = {cell["rig"] for cell in findings["cells"] if cell["shown"]}
    return [rig["rig_version"] for rig in findings["rigs"] if rig["rig_version"] in seen]


def _without_a_row(findings: Findings) -> list[str]:
    """That other rigs have no row, which would say nothing but that it is hidden."""
    seen = _with_a_row(findings)
    others = [r["rig_version"] for r in findings["rigs"] if r["rig_version"] not in seen]
    return [say(NO_ROW, rigs=listed(others))] if others else []


def _legend(findings: Findings) -> str:
    """What the marks of the tables' cells mean, of those that they have."""
    cells, season = findings["cells"], findings["season"]
    rows = {None, *_with_a_row(findings)}
    laid_out = len(rows) * (1 + len(season["grounds"]))
    drawn = sum(cell["rig"] in rows for cell in cells)
    none_seen = (cell["damage_events_per_hour_at_most"] for cell in cells)
    most = next(filter(None, none_seen), None)
    return " ".join(
        [
            say(STRONGER),
            *([say(WHY_HIDDEN)] if findings["sharing"]["hidden"] else []),
            *([say(DASH)] if drawn < laid_out else []),
            *([say(NONE_SEEN, most=rate_cell(most * PER_100_HOURS))] if most else []),
        ]
    )


def where_fished(season: Row) -> list[str]:
    """In which rectangles, or squares of a degree elsewhere, enough boats fished."""
    if not season["rectangles"]:
        return []
    squares = [" " in name for name in season["rectangles"]]
    by = BY_SQUARE if all(squares) else BY_BOTH if any(squares) else BY_RECTANGLE
    return [say(by, rectangles=_named(season["rectangles"]))]


BY_RECTANGLE = saying(
    "Fished by enough boats, by ICES rectangle: {rectangles}. Others are not named, and no place "
    "is told closer."
)
BY_SQUARE = saying(
    "Fished by enough boats, by square of one degree, named by its south-west corner: "
    "{rectangles}. Others are not named, and no place is told closer."
)
BY_BOTH = saying(
    "Fished by enough boats, by ICES rectangle, and outside their area by square of one degree, "
    "named by its south-west corner: {rectangles}. Others are not named, and no place is told "
    "closer."
)
"""A square has a blank in its name; which of the three the season's places are."""


def _named(rectangles: list[str]) -> str:
    """The rectangles by name, as many as can be read; the others are counted."""
    more = len(rectangles) - MOST_RECTANGLES
    if more <= 0:
        return listed(rectangles)
    others = say("{more} more, all named in findings.json", more=more)
    return listed([*rectangles[:MOST_RECTANGLES], others])


def _heat_table(findings: Findings, name: str, caption: str, times_: int) -> Table:
    cells = {(cell["rig"], cell["ground"]): cell for cell in findings["cells"]}
    rigs = [None, *_with_a_row(findings)]
    grounds = [None, *findings["season"]["grounds"]]
    inner = [cell[name] for key, cell in cells.items() if cell[name] and None not in key]
    most = max(inner, default=1.0)
    rows, shades = [], []
    for rig in rigs:
        own = [cells.get((rig, ground)) for ground in grounds]
        rows.append([rig or say("all rigs"), *(cell_words(cell, name, times_) for cell in own)])
        shades.append([0.0, *(_shade(cell, name, most) for cell in own)])
    headers = [say("rig"), *map(ground_words, grounds)]
    return Table(caption, headers, rows, shades)


def cell_words(cell: Row | None, name: str, times_: int) -> str:
    """What stands in a cell: its figure, that it is hidden, or that there is none."""
    if cell is None:
        return NOBODY
    if not cell["shown"]:
        return say(HIDDEN)
    value = cell[name]
    if name in {"tow_hours", DAMAGE_HOURS}:
        return number(value, ",.0f")
    figure = rate_cell(None if value is None else value * times_)
    most = cell[f"{name}_at_most"] if value == 0 and f"{name}_at_most" in cell else None
    return figure if most is None else say("0–{most}", most=rate_cell(most * times_))


def ground_words(ground: str | None) -> str:
    """The ground of a cell; of a total, all of them."""
    return say("all grounds") if ground is None else short_ground(ground)


def _shade(cell: Row | None, name: str, most: float) -> float:
    """How strong the colour of an inner cell is; totals and cells without a figure are not."""
    if cell is None or cell["rig"] is None or cell["ground"] is None:
        return 0.0
    return float((cell[name] or 0.0) / most)


def what_was_hidden(findings: Findings) -> Section:
    """By which rule cells were hidden, what was left out, and what was set aside."""
    sharing = findings["sharing"]
    rule = say(
        "A cell is hidden if fewer than {boats} boats are in it, or one boat has more than "
        "{percent:g} % of its hours; and as many more as it takes that no total gives a hidden one "
        "away, not even to a boat that knows its own part.",
        boats=sharing["min_vessels"],
        percent=100 * sharing["max_share"],
    )
    if sharing["hidden"]:
        rule = f"{rule} {say(TRIED, protected=100 * PROTECTED)}"
    rows = [
        [
            row["table"],
            say(row["why"]),
            say("fewer than {rows}", rows=FEW_ROWS)
            if row["rows"] is None
            else number(row["rows"], ","),
        ]
        for row in findings["set_aside"]
    ]
    headers = [say("table"), say("why"), say("rows")]
    return Section(
        "hidden",
        say("What was hidden"),
        [rule, hidden_words(sharing), *map(say, LEFT_OUT), *_of_some_boats(findings["season"])],
        tables=[Table(say("Rows set aside, by kind of reason"), headers, rows)] if rows else [],
    )


def _of_some_boats(season: Row) -> list[str]:
    """That a part of the record is not of all boats, and which."""
    parts = [_part_words(**part) for part in season["not_of_all_boats"]]
    return [say(NOT_OF_ALL_BOATS, parts=listed(parts))] if parts else []


def _part_words(year: int, from_month: int | None) -> str:
    if from_month is None:
        return str(year)
    return say("the time from {month} on", month=day_of(date(year, from_month, 1), "MMMM y"))


NOT_OF_ALL_BOATS = saying(
    "Not all boats have hauls in {parts}. Beside a report that has none of it this one may tell "
    "what those did that have: hand on one of the two."
)


TRIED = saying(
    "That was tried by solving for each hidden cell: none can be told to within {protected:g} %."
)


def how_to_read_shared(findings: Findings) -> Section:
    """What the words mean, and what the report can and cannot tell.

    A boat's own page has no verdicts, so that there is nothing to say of them.
    """
    effects = findings.get("effects", [])  # a boat's own page has none
    over_all = [e["adjusted_for"] for e in effects if e["ground"] == ALL_GROUNDS]
    not_here = ("Could have shown", *(["Clear means"] if "boat" in findings else []))
    points = [words for words in HOW_TO_READ if not words.startswith(not_here)]
    season = findings["season"]
    foul = season.get("foul_tows", season.get("marks_foul_tows", True))
    points.append(FOUL_TOWS if foul else NO_FOUL_TOWS)
    return Section(
        "how-to-read",
        say("How to read this"),
        points=[
            *map(say, points),
            *map(like_for_like, over_all[:1]),
            *map(say, CAN_TELL),
        ],
    )

"""The sections of the co-op's page, all from the shared findings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.sharing.reader import PROTECTED
from reports.boats.sentences import times
from reports.cells import outcomes_of, rate_cell, ratio_cell, short_ground
from reports.coop.words import over_all, over_boats_words, pooled, what_means_hide
from reports.parts import Figure, Section, Table
from reports.plain_words import CAN_TELL, HOW_TO_READ
from reports.sentences import is_told, listed, why_untold

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

HIDDEN, NOBODY = "hidden", "–"
PER_100_HOURS = 100
LEGEND = (
    "Hidden: the cell is of too few boats or mostly one boat's, or it would give such a cell away. "
    "Which of these it is, is not said, as that would tell of the boats there. A dash: nobody "
    "fished there. The darker a cell, the more."
)
LEFT_OUT = (
    "Left out altogether: trips, hauls, days and positions; what was written in notes; boats' "
    "names and their own figures, but for boats that agreed to it; catches of single species, what "
    "would pay, what single changes of rig did, checks of length, and how mending adds up. Ratios "
    "are rounded to three figures.",
    "Two reports on one season, with other bounds or with hauls added, may together tell what each "
    "hides: hand on one.",
)


def differences(findings: Findings) -> Section:
    """Each rig against the reference over all hauls, where enough boats fished both."""
    sharing, reference = findings["sharing"], findings["season"]["reference_rig"]
    outcomes = outcomes_of(findings)
    figures = [
        _ratio_figure(findings, outcomes[name])
        for name in findings["season"]["headlines"]
        if over_all(findings, name)
    ]
    rows = [_effect_cells(effect, outcomes) for effect in findings["effects"]]
    caption = f"Each rig against {reference}, like for like, over all grounds and on each"
    headers = ["rig", "of", "ground", "ratio", "from", "to", "raw ratio", "verdict"]
    return Section(
        "differences",
        "Which differences hold over boats",
        [
            f"A difference is shown where at least {sharing['min_vessels']} boats fished both "
            f"rigs, none of them more than {100 * sharing['max_share']:g} % of the hours of "
            "either, or of what the comparison weighs."
        ],
        figures=figures,
        tables=[Table(caption, headers, rows)] if rows else [],
    )


def _ratio_figure(findings: Findings, outcome: Row) -> Figure:
    reference, title = findings["season"]["reference_rig"], outcome["title"]
    return Figure(
        name=f"ratio-{outcome['name'].replace('_', '-')}",
        kind="ratio",
        outcome=outcome["name"],
        title=f"{title}, each rig against {reference}",
        caption="The bar is the 95 % interval, the dashed line at 1 is no difference, the upright "
        "tick the raw comparison, which takes no account of where each rig was fished.",
        table=Table(
            f"{title}: times {reference}'s",
            ["rig", "ratio", "from", "to"],
            [
                [effect["rig"], *(ratio_cell(effect[name]) for name in ("ratio", "low", "high"))]
                for effect in over_all(findings, outcome["name"])
            ],
        ),
    )


def _effect_cells(effect: Row, outcomes: dict[str, Row]) -> list[str]:
    told = is_told(effect)
    return [
        effect["rig"],
        outcomes[effect["outcome"]]["title"].lower(),
        short_ground(effect["ground"]),
        *(times(effect[name] if told else None) for name in ("ratio", "low", "high", "raw_ratio")),
        effect["verdict"] if told else why_untold(effect),
    ]


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
            said.append(f"{row['rig']}, {outcomes[name]['title'].lower()}. {' '.join(words)}")
    if not figures:
        return None
    about = (
        "Here each boat is held to itself alone, and the mean is over boats, so that it says what "
        "a boat like these may look for. A boat's own ratio stands only where the boat agreed to "
        "it, by name or under a letter, which is another one in each report."
    )
    paragraphs = [about, *said, *what_means_hide(findings)]
    return Section("over-boats", "How far boats agree", paragraphs, figures=figures)


def _forest(rows: list[Row], outcome: Row) -> Figure:
    lines = [line for row in rows for line in _forest_cells(row)]
    return Figure(
        name=f"boats-{outcome['name'].replace('_', '-')}",
        kind="boats",
        outcome=outcome["name"],
        title=f"{outcome['title']}, over boats, against {rows[0]['reference']}",
        caption="The diamond is the mean over boats, the thick bar its 95 % interval, the thin "
        "line where a further boat might lie, where that is shown; above it the boats that agreed "
        "to be shown. The dashed line at 1 is no difference.",
        table=Table(
            f"{outcome['title']}: times {rows[0]['reference']}'s",
            ["rig", "ratio", "from", "to"],
            lines,
        ),
    )


def _forest_cells(row: Row) -> list[list[str]]:
    mean, ends = row["mean"], ("ratio", "low", "high")
    further = [times(mean[name]) for name in ("further_low", "further_high")]
    return [
        *(
            [f"{row['rig']}, {boat['vessel']}", *(times(boat[name]) for name in ends)]
            for boat in row["boats"]
        ),
        [f"{row['rig']}, mean over boats", *(times(mean[name]) for name in ends)],
        *([[f"{row['rig']}, a further boat", "", *further]] if mean["further_low"] else []),
    ]


def shared_tables(findings: Findings) -> Section:
    """Hours, tears and fish by rig and ground, with the cells that are hidden marked."""
    outcomes = outcomes_of(findings)
    kinds = [("tow_hours", "Hours towed", 1)]
    if "damage_events" in outcomes:
        kinds.append(("damage_events_per_hour", "Net damage, times per 100 hours", PER_100_HOURS))
    kinds += [
        (f"{name}_per_hour", f"{outcomes[name]['title']}, kg an hour", 1)
        for name in ("bottom_living_kg", "other_kg")
        if name in outcomes
    ]
    tables = [_heat_table(findings, *kind) for kind in kinds]
    paragraphs = [LEGEND, *_where(findings["season"])]
    return Section("tables", "Rig by ground, over all boats", paragraphs, tables=tables)


def _where(season: Row) -> list[str]:
    """In which rectangles enough boats fished."""
    if not season["rectangles"]:
        return []
    return [
        f"Fished by enough boats, by ICES rectangle: {listed(season['rectangles'])}. Others are "
        "not named, and no place is told closer."
    ]


def _heat_table(findings: Findings, name: str, caption: str, times_: int) -> Table:
    cells = {(cell["rig"], cell["ground"]): cell for cell in findings["cells"]}
    rigs = [None, *(rig["rig_version"] for rig in findings["rigs"])]
    grounds = [None, *findings["season"]["grounds"]]
    inner = [cell[name] for key, cell in cells.items() if cell[name] and None not in key]
    most = max(inner, default=1.0)
    rows, shades = [], []
    for rig in rigs:
        own = [cells.get((rig, ground)) for ground in grounds]
        rows.append([rig or "all rigs", *(cell_words(cell, name, times_) for cell in own)])
        shades.append([0.0, *(_shade(cell, name, most) for cell in own)])
    headers = ["rig", *map(ground_words, grounds)]
    return Table(caption, headers, rows, shades)


def cell_words(cell: Row | None, name: str, times_: int) -> str:
    """What stands in a cell: its figure, that it is hidden, or that there is none."""
    if cell is None:
        return NOBODY
    if not cell["shown"]:
        return HIDDEN
    value = cell[name]
    if name == "tow_hours":
        return f"{value:,.0f}"
    return rate_cell(None if value is None else value * times_)


def ground_words(ground: str | None) -> str:
    """The ground of a cell; of a total, all of them."""
    return "all grounds" if ground is None else short_ground(ground)


def _shade(cell: Row | None, name: str, most: float) -> float:
    """How dark an inner cell is; totals and cells without a figure are not."""
    if cell is None or cell["rig"] is None or cell["ground"] is None:
        return 0.0
    return float((cell[name] or 0.0) / most)


def what_was_hidden(findings: Findings) -> Section:
    """By which rule cells were hidden, what was left out, and what was set aside."""
    sharing = findings["sharing"]
    rule = (
        f"A cell is hidden if fewer than {sharing['min_vessels']} boats are in it, or one boat has "
        f"more than {100 * sharing['max_share']:g} % of its hours; and as many more as it takes "
        "that no total gives a hidden one away, not even to a boat that knows its own part. That "
        "was tried by solving for each hidden cell: none can be told to within "
        f"{100 * PROTECTED:g} %."
    )
    rows = [
        [row["table"], row["why"], "fewer than 10" if row["rows"] is None else f"{row['rows']:,}"]
        for row in findings["set_aside"]
    ]
    return Section(
        "hidden",
        "What was hidden",
        [rule, sharing["said"], *LEFT_OUT],
        tables=[Table("Rows set aside, by kind of reason", ["table", "why", "rows"], rows)]
        if rows
        else [],
    )


def how_to_read_shared(_: Findings) -> Section:
    """What the words mean, and what the report can and cannot tell."""
    points = [words for words in HOW_TO_READ if not words.startswith("Could have shown")]
    return Section("how-to-read", "How to read this", points=[*points, *CAN_TELL])

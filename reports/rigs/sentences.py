"""What is said of one rig: its line, its chain, its wear, what changed. From `findings.json`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pipeline.rigs.line.geometry import ASSUMPTIONS
from pipeline.rigs.stretching.stretch import CHECK_NOW, EVEN_NOW
from reports.sentences import listed

if TYPE_CHECKING:
    from collections.abc import Iterable

Row = dict[str, Any]

LIES_WORDS = {
    "aft": "It hangs {drop_back:.0f} mm aft of the gear's middle, {height:.0f} mm off the ground.",
    "above": "It hangs straight above the gear's middle, {height:.0f} mm off the ground.",
    "forward": "It is too short: it lies {forward:.0f} mm forward of the gear's middle, where it "
    "chafes and the gear picks up the netting.",
    "slack hangs": "It is longer than the toggles can use: they lie straight aft and the rest "
    "hangs slack.",
    "drawn tight": "It is shorter than the toggles allow: drawn tight forward of the gear, it "
    "carries the pull, chafes, and the gear picks up the netting.",
    "on the gear": "It lies on the gear.",
}

SHARE_WORDS = {
    "weighed": "weighed",
    "weighed elsewhere": "weighed on a like part",
    "trade rule": "the trade's rule",
    "density": "by density",
}

OTHERWISE = {"trade rule": "by the trade's rule", "density": "by density"}

SAME_M = 0.005
LAID_OVER_DEG = 75.0
TIPS_FROM_PERCENT = 0.5
"""Below this difference nothing is said of tipping: a tape's error is as much."""

WHAT_TO_DO = "pull both tight, make them length for length"


def section_word(section: str, sides: int | None) -> str:
    """`wing, each side`, `bosom`, `whole`."""
    return f"{section}, each side" if sides is not None and sides > 1 else section


def line_sentences(rig: Row) -> list[str]:
    """Where the fishing line hangs, its gap, and what would close it."""
    where = rig["geometry"]
    if where is None:
        return []
    said = []
    if where["slack_m"] is not None:
        said.append(f"The fishing line is {_longer(where['slack_m'])} the ground gear.")
    if where["lies"] is not None:
        forward = -where["drop_back_mm"]
        said.append(LIES_WORDS[where["lies"]].format(**where_known(where), forward=forward))
    return [*said, *_gap(where), *_at_other_slack(where)]


def where_known(where: Row) -> dict[str, float]:
    """The numbers that a sentence on the line's place may need."""
    return {
        "drop_back": where["drop_back_mm"] or 0.0,
        "height": where["height_mm"] or 0.0,
    }


def _longer(slack_m: float) -> str:
    if abs(slack_m) < SAME_M:
        return "as long as"
    return f"{abs(slack_m):.2f} m {'longer' if slack_m > 0 else 'shorter'} than"


def _gap(where: Row) -> list[str]:
    """The gap as measured, with the worked-out one beside it; measured goes first."""
    if where["gap_mm"] is None:
        return []
    worked_out = where["gap_by_geometry_mm"]
    if where["gap_from"] == "measured":
        beside = f", {worked_out:.0f} mm by its lengths" if worked_out is not None else ""
        return [f"The gap under it is {where['gap_mm']:.0f} mm as measured{beside}."]
    if not worked_out:
        return ["By its lengths there is no gap under it: seen from ahead the gear hides the line."]
    return [f"The gap under it is {worked_out:.0f} mm by its lengths; nobody measured it."]


def _at_other_slack(where: Row) -> list[str]:
    """At how much slack the gap closes, and the line lies straight aft."""
    if not where["straight_aft_m"] or where["slack_m"] is None:
        return []
    closes, aft = where["gap_closed_at_slack_m"], where["straight_aft_m"]
    if closes is None:
        return [f"With {aft:.2f} m of slack it would lie straight aft."]
    return [f"{closes:.2f} m of slack would close the gap, {aft:.2f} m lay the line straight aft."]


def assumption_sentences(rigs: Iterable[Row]) -> list[str]:
    """What the worked-out lines of these rigs rest on, each sentence once."""
    used = {key for rig in rigs if rig["geometry"] for key in rig["geometry"]["assumes"] or []}
    if any(row["tip_deg"] is not None for rig in rigs for row in rig["stretch"]):
        used.add("traveller holes")
    return [sentence for key, sentence in ASSUMPTIONS.items() if key in used]


IN_SHORT = {
    "toggles from the core": "toggles measured from the gear's middle",
    "on the seabed": "gear flat on the ground",
    "largest diameter": "as thick as its thickest part",
    "even curve": "line and gear as far apart all along",
    "no sag": "no sag between toggles",
    "usual turn": "a gear that turns 2.4 radians, as no wing end spread is recorded",
    "catenary": "a catenary from wing end to wing end",
    "spread too wide": "a gear that turns 2.4 radians, as the spread recorded cannot be",
    "spread without a length": "a gear that turns 2.4 radians, as its length is not recorded",
}


def taken_for_granted(rig: Row) -> list[str]:
    """What the line's place rests on, in one short sentence."""
    where = rig["geometry"]
    keys = [key for key in IN_SHORT if where is not None and key in (where["assumes"] or [])]
    return [f"Taken for granted: {listed([IN_SHORT[key] for key in keys])}."] if keys else []


STRETCH_HEADERS = ["boat", "% per 100 h, checks", "now", "limit about"]


def stretch_cells(row: Row) -> list[str]:
    """One boat's ground chain as a row under `STRETCH_HEADERS`."""
    rate, now = row["percent_per_100_hours"], row["difference_now_percent"]
    span = f" ({row['low']:.2f}–{row['high']:.2f})" if row["low"] is not None else ""
    return [
        row["vessel"],
        f"{rate:.2f}{span}, {row['checks']}" if rate is not None else f"–, {row['checks']}",
        f"{now:.1f} %" if now is not None else "–",
        _limit_about(row),
    ]


def _limit_about(row: Row) -> str:
    """The day of the limit, and between which days; that it is past."""
    if row["past_limit"]:
        return "past it"
    if row["day_of_limit"] is None:
        return "–"
    early, late = row["earliest_day"], row["latest_day"]
    if early is None:
        return str(row["day_of_limit"])
    return f"{row['day_of_limit']} ({early} to {late or '?'})"


def stretch_sentences(rows: Iterable[Row]) -> list[str]:
    """What to do about the ground chains of a rig, boat by boat."""
    wholes = list(rows)
    past = [row for row in wholes if EVEN_NOW in row["advice"]]
    due = [row["vessel"] for row in wholes if CHECK_NOW in row["advice"]]
    said = []
    if past:
        boats = listed([row["vessel"] for row in past])
        said.append(f"Past {past[0]['limit_percent']:g} % on {boats}: {WHAT_TO_DO}.")
    if due:
        said.append(f"A check is due on {listed(due)}.")
    worst = max(wholes, key=lambda row: row["difference_now_percent"] or 0.0, default=None)
    return said + ([_tips(worst)] if worst is not None and _is_tipped(worst) else [])


def _is_tipped(row: Row) -> bool:
    return (
        row["traveller_shift_mm"] is not None and row["difference_now_percent"] >= TIPS_FROM_PERCENT
    )


def _tips(row: Row) -> str:
    """What the difference does to the traveller and the discs."""
    tip = row["tip_deg"]
    over = "lays the {0}s over" if tip is not None and tip >= LAID_OVER_DEG else "tips the {0}s {1}"
    tips = f" and {over.format(row['tips'], f'some {tip:.0f}°')}" if tip is not None else ""
    return (
        f"Spread evenly, {row['difference_now_percent']:.1f} % pulls the traveller "
        f"{row['traveller_shift_mm']:.0f} mm forward of the ground chain{tips}."
    )


def wear_sentences(rig: Row) -> list[str]:
    """Fishing hours on the parts, boat by boat; those that came over from an earlier version."""
    by_boat: dict[str, list[Row]] = {}
    for row in rig["part_hours"]:
        by_boat.setdefault(row["vessel"], []).append(row)
    plain = [
        f"{vessel} {parts[0]['hours']:,.0f}"
        for vessel, parts in by_boat.items()
        if not any(part["hours_before"] for part in parts)
    ]
    carried = [
        _carried(vessel, parts)
        for vessel, parts in by_boat.items()
        if any(part["hours_before"] for part in parts)
    ]
    return ([f"On every part: {listed(plain)}."] if plain else []) + carried


def _carried(vessel: str, parts: list[Row]) -> str:
    by_hours: dict[tuple[float, str], set[str]] = {}
    for part in parts:
        by_hours.setdefault((part["hours"], part["since"]), set()).add(part["part"])
    said = [
        f"{listed(sorted(words))} {hours:,.0f}, since {since}"
        for (hours, since), words in sorted(by_hours.items(), reverse=True)
    ]
    return f"{vessel}: {'; '.join(said)}."


def change_sentences(rig: Row) -> list[str]:
    """What changed from the version before: in the skipper's words, and by the tables."""
    if not rig.get("changed_from"):
        return []
    own = f": {rig['what_changed']}" if rig.get("what_changed") else ""
    said = [f"From {rig['changed_from']}{own}."]
    if rig["changes"]:
        said.append(f"By the tables: {'; '.join(_change(row) for row in rig['changes'])}.")
    return said


def _change(row: Row) -> str:
    place = f"{row['section']} {row['part']} " if row["part"] else ""
    if row["what"] == "added":
        return f"{place}added ({row['after']})"
    if row["what"] == "taken off":
        return f"{place}taken off ({row['before']})"
    name, unit = _plain(row["what"])
    return f"{place}{name} from {row['before']} to {row['after']}{unit}"


def _plain(column: str) -> tuple[str, str]:
    """A column's name in plain words, and its unit with a space before it."""
    name, _, unit = column.rpartition("_")
    if unit in {"mm", "m", "kg"}:
        return name.replace("_", " "), f" {unit}"
    return column.replace("_", " "), ""


def part_sentences(rig: Row) -> list[str]:
    """Each kind of part once: how its mass was got, what it keeps in water, and who says so."""
    alike: dict[tuple[object, ...], list[Row]] = {}
    for part in rig["parts"]:
        alike.setdefault((part["part"], part["diameter_mm"], part["material"]), []).append(part)
    return [_part(parts) for parts in alike.values()]


def _part(parts: list[Row]) -> str:
    part = parts[0]
    size = f", {part['diameter_mm']:g} mm" if part["diameter_mm"] else ""
    material = f" of {part['material']}" if part["material"] else ""
    how = listed(sorted({each["mass_from"] for each in parts if each["mass_from"]}))
    return f"{part['part']}{material}{size}: {how or 'mass not known'}{_kept(parts)}."


def _kept(parts: list[Row]) -> str:
    """The share kept in water; the trade's rule and the density both where they differ."""
    part = next((each for each in parts if each["share_kept"] is not None), None)
    if part is None:
        return ""
    own = round(100 * part["share_kept"])
    others = {"trade rule": part["share_by_rule"], "density": part["share_by_density"]}
    beside = [
        f"{100 * share:.0f} % {OTHERWISE[name]}"
        for name, share in others.items()
        if share is not None and name != part["share_from"] and round(100 * share) != own
    ]
    kept = f"; keeps {own} %, {SHARE_WORDS[part['share_from']]}"
    return kept + (f" ({listed(beside)})" if beside else "")

"""What is said of one rig's parts: how they were weighed, their hours, what changed."""

from __future__ import annotations

from typing import Any

from reports.sentences import listed

Row = dict[str, Any]

MASS_WORDS = {
    "weighed": "weighed",
    "weighed elsewhere": "weighed on a like part",
    "chain table": "by the table for its size",
    "chain geometry": "worked out from the shape of its links",
    "wire rope": "worked out from its diameter, as wire rope",
    "fibre rope": "worked out from its diameter, as fibre rope",
    "solid": "worked out from its size",
    "hollow shell": "worked out from its size, as a hollow one",
}
"""How a part's mass was got, by the words of `mass_from`."""

SHARE_WORDS = {
    "weighed": "weighed",
    "weighed elsewhere": "weighed on a like part",
    "trade rule": "by the trade's rule",
    "density": "by density",
}
"""How the share that a part keeps in water was got, by the words of `share_from`."""


def section_word(section: str, sides: int | None) -> str:
    """`wing, each side`, `bosom`, `whole`."""
    return f"{section}, each side" if sides is not None and sides > 1 else section


def wear_sentences(rig: Row) -> list[str]:
    """Fishing hours on the parts, boat by boat; those that came over from an earlier version."""
    by_boat: dict[str, list[Row]] = {}
    for row in rig["part_hours"]:
        by_boat.setdefault(row["vessel"], []).append(row)
    plain = [
        f"{vessel} {parts[0]['hours']:z,.0f}"
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
        f"{listed(sorted(words))} {hours:z,.0f}, since {since}"
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


def counted(rig: Row) -> str:
    """Of which lines the recorded parts are."""
    lines = sorted({part["line"] or "no line named" for part in rig["parts"]})
    return f"Counted: the parts recorded, on: {listed(lines)}." if lines else ""


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
    return f"{part['part']}{material}{size}: {_mass_from(parts)}{_kept(parts)}."


def _mass_from(parts: list[Row]) -> str:
    how = {part["mass_from"] for part in parts if part["mass_from"]}
    if not how:
        return "mass not known"
    if how == {"weighed", "weighed elsewhere"}:
        weighed = {part["section"] for part in parts if part["mass_from"] == "weighed"}
        where = "one section" if len(weighed) == 1 else "some sections"
        return f"weighed in {where} and taken over to the others"
    return listed([MASS_WORDS[word] for word in sorted(how)])


def _kept(parts: list[Row]) -> str:
    """The share kept in water; the trade's rule and the density both where they differ."""
    part = next((each for each in parts if each["share_kept"] is not None), None)
    if part is None:
        return ""
    own = round(100 * part["share_kept"])
    others = {"trade rule": part["share_by_rule"], "density": part["share_by_density"]}
    beside = [
        f"{'lifts ' if share < 0 else ''}{100 * abs(share):z.0f} % {SHARE_WORDS[name]}"
        for name, share in others.items()
        if share is not None and name != part["share_from"] and round(100 * share) != own
    ]
    keeps = f"floats: lifts {-own} % of its own weight" if own < 0 else f"keeps {own} %"
    return f"; {keeps}, {SHARE_WORDS[part['share_from']]}" + (
        f" ({listed(beside)})" if beside else ""
    )

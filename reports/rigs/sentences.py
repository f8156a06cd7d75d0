"""What is said of one rig's parts: how they were weighed, their hours, what changed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.rigs.weight.weights import ROW_SET_ASIDE
from reports.gear_words import ground_gear_name, says_its_size, section_name
from reports.language import number, say
from reports.sentences import listed
from schemas.words import saying

if TYPE_CHECKING:
    from reports.parts import Row

MASS_WORDS = {
    "weighed": saying("weighed"),
    "weighed elsewhere": saying("weighed on a like part"),
    "chain table": saying("by the table for its size"),
    "chain geometry": saying("worked out from the shape of its links"),
    "wire rope": saying("worked out from its diameter, as wire rope"),
    "fibre rope": saying("worked out from its diameter, as fibre rope"),
    "solid": saying("worked out from its size"),
    "hollow shell": saying("worked out from its size, as a hollow one"),
}
"""How a part's mass was got, by the words of `mass_from`."""

SHARE_WORDS = {
    "weighed": saying("weighed"),
    "weighed elsewhere": saying("weighed on a like part"),
    "trade rule": saying("by the trade's rule"),
    "density": saying("by density"),
}
"""How the share that a part keeps in water was got, by the words of `share_from`."""

CHANGE_WORDS = {
    "ground_gear": saying("ground gear from {before} to {after}"),
    "fishing_line_m": saying("fishing line from {before} to {after} m"),
    "ground_gear_m": saying("ground gear from {before} to {after} m"),
    "toggle_mm": saying("toggle from {before} to {after} mm"),
    "gap_mm": saying("gap from {before} to {after} mm"),
    "wing_end_spread_m": saying("wing end spread from {before} to {after} m"),
    "material": saying("material from {before} to {after}"),
    "count": saying("count from {before} to {after}"),
    "diameter_mm": saying("diameter from {before} to {after} mm"),
    "width_mm": saying("width from {before} to {after} mm"),
    "bore_mm": saying("bore from {before} to {after} mm"),
    "length_m": saying("length from {before} to {after} m"),
    "each_kg": saying("each from {before} to {after} kg"),
    "weight_kept_in_water": saying("weight kept in water from {before} to {after}"),
}
"""What changed, by the columns of `rig_versions` and `rig_parts`."""


def wear_sentences(rig: Row) -> list[str]:
    """Fishing hours on the parts, boat by boat; those that came over from an earlier version."""
    by_boat: dict[str, list[Row]] = {}
    for row in rig["part_hours"]:
        by_boat.setdefault(row["vessel"], []).append(row)
    plain = [
        f"{vessel} {number(parts[0]['hours'], 'z,.0f')}"
        for vessel, parts in by_boat.items()
        if not any(part["hours_before"] for part in parts)
    ]
    carried = [
        _carried(vessel, parts)
        for vessel, parts in by_boat.items()
        if any(part["hours_before"] for part in parts)
    ]
    on_all = [say("On every part: {boats}.", boats=listed(plain))] if plain else []
    return on_all + carried


def _carried(vessel: str, parts: list[Row]) -> str:
    """The hours of each part; one of which some have other hours is told by its section too."""
    hours_of: dict[str, set[tuple[float, str]]] = {}
    for part in parts:
        hours_of.setdefault(part["part"], set()).add((part["hours"], part["since"]))
    by_hours: dict[tuple[float, str], set[str]] = {}
    for part in parts:
        name = part["part"]
        if len(hours_of[name]) > 1:
            name = say("{part} ({section})", part=name, section=section_name(part["section"]))
        by_hours.setdefault((part["hours"], part["since"]), set()).add(name)
    said = [
        say(
            "{parts} {hours:z,.0f}, since {since}",
            parts=listed(sorted(words)),
            hours=hours,
            since=since,
        )
        for (hours, since), words in sorted(by_hours.items(), reverse=True)
    ]
    return f"{vessel}: {'; '.join(said)}."


def change_sentences(rig: Row) -> list[str]:
    """What changed from the version before: in the skipper's words, and by the tables."""
    if not rig.get("changed_from"):
        return []
    said = [_from(rig["changed_from"], rig.get("what_changed"))]
    if rig["changes"]:
        changes = "; ".join(_change(row) for row in rig["changes"])
        said.append(say("By the tables: {changes}.", changes=changes))
    return said


def _from(version: str, what_changed: str | None) -> str:
    if not what_changed:
        return say("From {version}.", version=version)
    return say("From {version}: {what_changed}.", version=version, what_changed=what_changed)


def _change(row: Row) -> str:
    if not row["part"]:
        return _what_changed(row)
    return say(
        "{section} {part} {change}",
        section=section_name(row["section"]),
        part=row["part"],
        change=_what_changed(row),
    )


def _what_changed(row: Row) -> str:
    what = row["what"]
    if what == "added":
        return say("added ({after})", after=row["after"])
    if what == "taken off":
        return say("taken off ({before})", before=row["before"])
    before, after = (_value(what, row[end]) for end in ("before", "after"))
    return say(CHANGE_WORDS[what], before=before, after=after)


def _value(column: str, text: str) -> str:
    """The value of a column as it is told, of its text."""
    if column == "ground_gear":
        return ground_gear_name(text)
    return text if column == "material" else number(float(text), "g")


def counted(rig: Row) -> str:
    """Of which lines the recorded parts are."""
    parts = [part for part in rig["parts"] if not _is_set_aside(part)]
    lines = sorted({part["line"] or say("no line named") for part in parts})
    if not lines:
        return ""
    return say("Counted: the parts recorded, on: {lines}.", lines=listed(lines))


def part_sentences(rig: Row) -> list[str]:
    """Each kind of part once: how its mass was got, what it keeps in water, and who says so."""
    alike: dict[tuple[object, ...], list[Row]] = {}
    for part in rig["parts"]:
        alike.setdefault((part["part"], part["diameter_mm"], part["material"]), []).append(part)
    return [_part(parts) for parts in alike.values()]


def _part(parts: list[Row]) -> str:
    told = [_mass_from(parts), *_kept(parts)]
    return f"{_named(parts[0])}: {'; '.join(told)}."


def _named(part: Row) -> str:
    """Its name, what it is of and how large it is: discs of rubber, 152 mm."""
    material, size = part["material"], part["diameter_mm"]
    name = say("{part} of {material}", **part) if material else part["part"]
    if not size or says_its_size(part["part"], size):
        return str(name)
    return say("{name}, {size:g} mm", name=name, size=size)


def _is_set_aside(part: Row) -> bool:
    """Whether nothing is known of the part but that there is one."""
    return part.get("lacks") == ROW_SET_ASIDE


def _mass_from(parts: list[Row]) -> str:
    how = {part["mass_from"] for part in parts if part["mass_from"]}
    if not how:
        return say(ROW_SET_ASIDE) if all(map(_is_set_aside, parts)) else say("mass not known")
    if how == {"weighed", "weighed elsewhere"}:
        weighed = {part["section"] for part in parts if part["mass_from"] == "weighed"}
        if len(weighed) == 1:
            return say("weighed in one section and taken over to the others")
        return say("weighed in some sections and taken over to the others")
    return listed([say(MASS_WORDS[word]) for word in sorted(how)])


def _kept(parts: list[Row]) -> list[str]:
    """The share kept in water; the trade's rule and the density both where they differ."""
    part = next((each for each in parts if each["share_kept"] is not None), None)
    if part is None:
        return []
    own = round(100 * part["share_kept"])
    others = {"trade rule": part["share_by_rule"], "density": part["share_by_density"]}
    beside = [
        say(
            LIFTS_BESIDE if share < 0 else KEEPS_BESIDE,
            percent=100 * abs(share),
            how=say(SHARE_WORDS[name]),
        )
        for name, share in others.items()
        if share is not None and name != part["share_from"] and round(100 * share) != own
    ]
    keeps = FLOATS if own < 0 else KEEPS
    told = say(keeps, percent=abs(own), how=say(SHARE_WORDS[part["share_from"]]))
    return [f"{told} ({listed(beside)})" if beside else told]


KEEPS = saying("keeps {percent} %, {how}")
FLOATS = saying("floats: lifts {percent} % of its own weight, {how}")
KEEPS_BESIDE, LIFTS_BESIDE = (
    saying("{percent:z.0f} % {how}"),
    saying("lifts {percent:z.0f} % {how}"),
)
"""The share that another way would give."""

"""What the drawings of a rig say in words: figures, keys, descriptions."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reports.rig_drawing.line import FishingLine
    from reports.rig_drawing.section import Section


NO_BREAK = "\u00a0"
"""A figure and its unit stay on one line."""


def mm(value: float) -> str:
    """A length in whole millimetres."""
    return f"{round(value):,}{NO_BREAK}mm"


def metres(value: float) -> str:
    """A length in metres, to a centimetre where it has any."""
    return f"{round(value, 2):g}{NO_BREAK}m"


def gap_lines(over: FishingLine) -> list[str]:
    """The gap and whence it is known, a line each; no line if it is not known."""
    if over.gap_mm is None:
        return []
    lines = [f"gap {mm(over.gap_mm)}", over.gap_from or "worked out"]
    drawn_mm = over.gap_drawn_mm
    if over.gap_from == "measured" and drawn_mm is not None and mm(drawn_mm) != mm(over.gap_mm):
        lines.append(f"drawn: {mm(drawn_mm)}")
    return lines


def key_of(section: Section) -> str:
    """The parts that are drawn, with their sizes."""
    pieces = [
        f"{piece.name} {mm(piece.diameter_mm)}"
        + (f", {mm(piece.width_mm)} wide" if piece.width_mm is not None else ", width not known")
        for piece in section.kinds_of_pieces
    ]
    shown = [run for run in (section.body, section.core, *section.alongside) if run is not None]
    runs = [f"{run.name} {mm(run.diameter_mm)}" for run in shown]
    at_line = [
        f"{run.name} {mm(run.diameter_mm)} on the fishing line" for run in section.on_the_line
    ]
    return "; ".join(dict.fromkeys([*pieces, *runs, *at_line]))


def lean_in_words(over: FishingLine) -> str:
    """Where the line is, in a sentence."""
    if over.placed is None:
        return "Where the fishing line stands is not known."
    drop_back_mm, height_mm = over.placed
    if round(abs(drop_back_mm)) == 0:
        where = "no drop back"
    else:
        aft = "behind" if drop_back_mm > 0 else "forward of"
        where = f"{mm(abs(drop_back_mm))} {aft} the core of the gear"
    lean = (
        "" if over.angle_deg is None else f", the toggles {abs(over.angle_deg):z.0f}° from upright"
    )
    return f"The fishing line is {mm(height_mm)} above the seabed, {where}{lean}."


def side_told(section: Section, over: FishingLine, stretch_m: float | None) -> str:
    """What the side view shows, for those who cannot see it."""
    told = ["Drawn to scale."]
    if stretch_m is not None:
        told.append(f"From ahead, {metres(stretch_m)} of the {section.name}: {key_of(section)}.")
    if over.gear_mm is not None:
        told.append(f"From the side, the largest part is {mm(over.gear_mm)} in diameter.")
    if over.toggle_mm is not None:
        told.append(f"The toggles are {mm(over.toggle_mm)} long.")
    told.append(lean_in_words(over))
    if over.gap_mm is not None:
        told.append(f"{', '.join(gap_lines(over)).capitalize()}.")
    return " ".join((*told, *side_notes(section, over)))


def side_notes(section: Section, over: FishingLine) -> list[str]:
    """What the reader must know of the side view, a sentence each."""
    notes = []
    if over.placed is None:
        known = over.toggle_mm is not None
        notes.append(f"How the toggles lean is not known{'' if known else ', nor their length'}.")
    if over.lies == "slack hangs":
        notes.append("The line is too long for the toggles: the rest of its slack hangs.")
    if over.lies == "drawn tight":
        notes.append("The line is too short for the toggles: they stand straight forward.")
    if section.body is not None and section.body.kind == "chain" and over.gap_mm is not None:
        notes.append("The gap is reckoned from the iron of the chain; its links stand higher.")
    if section.left_out:
        notes.append(f"Not drawn: {', '.join(dict.fromkeys(section.left_out))}.")
    return notes

"""What the drawings of a rig say in words: figures, keys, descriptions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.gear_words import says_its_size, section_name
from reports.language import say
from reports.sentences import capital
from schemas.words import saying

if TYPE_CHECKING:
    from reports.rig_drawing.line import FishingLine
    from reports.rig_drawing.section import Piece, Run, Section


MILLIMETRES = saying("{length:,}\u00a0mm")
METRES = saying("{length:g}\u00a0m")
"""Lengths: a figure and its unit stay on one line."""

GAP_FROM = {"measured": saying("measured"), "worked out": saying("worked out")}


def mm(value: float) -> str:
    """A length in whole millimetres."""
    return say(MILLIMETRES, length=round(value))


def metres(value: float) -> str:
    """A length in metres, to a centimetre where it has any."""
    return say(METRES, length=round(value, 2))


def gap_lines(over: FishingLine) -> list[str]:
    """The gap and whence it is known, a line each; no line if it is not known."""
    if over.gap_mm is None:
        return []
    lines = [say("gap {gap}", gap=mm(over.gap_mm)), say(GAP_FROM[over.gap_from or "worked out"])]
    drawn_mm = over.gap_drawn_mm
    if over.gap_from == "measured" and drawn_mm is not None and mm(drawn_mm) != mm(over.gap_mm):
        lines.append(say("drawn: {gap}", gap=mm(drawn_mm)))
    return lines


def key_of(section: Section) -> str:
    """The parts that are drawn, with their sizes."""
    pieces = [_piece(piece) for piece in section.kinds_of_pieces]
    shown = [run for run in (section.body, section.core, *section.alongside) if run is not None]
    runs = [_sized(run) for run in shown]
    at_line = [say("{part} on the fishing line", part=_sized(run)) for run in section.on_the_line]
    return "; ".join(dict.fromkeys([*pieces, *runs, *at_line]))


def _sized(part: Piece | Run) -> str:
    """A part by its name and diameter: spacers 150 mm."""
    if says_its_size(part.name, part.diameter_mm):
        return part.name
    return f"{part.name} {mm(part.diameter_mm)}"


def _piece(piece: Piece) -> str:
    if piece.width_mm is None:
        return say("{part}, width not known", part=_sized(piece))
    return say("{part}, {width} wide", part=_sized(piece), width=mm(piece.width_mm))


def lean_in_words(over: FishingLine) -> str:
    """Where the line is, in a sentence."""
    if over.placed is None:
        return say("Where the fishing line stands is not known.")
    drop_back_mm, height_mm = over.placed
    known = {"height": mm(height_mm), "place": _place(drop_back_mm)}
    if over.angle_deg is None:
        return say("The fishing line is {height} above the seabed, {place}.", **known)
    return say(
        "The fishing line is {height} above the seabed, {place}, the toggles {lean:z.0f}° from "
        "upright.",
        **known,
        lean=abs(over.angle_deg),
    )


def _place(drop_back_mm: float) -> str:
    """Where the line is to the core of the gear."""
    if round(abs(drop_back_mm)) == 0:
        return say("no drop back")
    return say(BEHIND if drop_back_mm > 0 else FORWARD, distance=mm(abs(drop_back_mm)))


BEHIND = saying("{distance} behind the core of the gear")
FORWARD = saying("{distance} forward of the core of the gear")


def side_told(section: Section, over: FishingLine, stretch_m: float | None) -> str:
    """What the side view shows, for those who cannot see it."""
    told = [say("Drawn to scale.")]
    if stretch_m is not None:
        told.append(
            say(
                "From ahead, {length} of the {section}: {parts}.",
                length=metres(stretch_m),
                section=section_name(section.name),
                parts=key_of(section),
            )
        )
    if over.gear_mm is not None:
        told.append(
            say(
                LARGEST_DRAWN if section.lacks_a_row else LARGEST,
                diameter=mm(over.gear_mm),
            )
        )
    if over.toggle_mm is not None:
        told.append(say("The toggles are {length} long.", length=mm(over.toggle_mm)))
    told.append(lean_in_words(over))
    if over.gap_mm is not None:
        told.append(f"{capital(', '.join(gap_lines(over)))}.")
    return " ".join((*told, *side_notes(section, over)))


LARGEST = saying("From the side, the largest part is {diameter} in diameter.")
LARGEST_DRAWN = saying("From the side, the largest part that is drawn is {diameter} in diameter.")


def side_notes(section: Section, over: FishingLine) -> list[str]:
    """What the reader must know of the side view, a sentence each."""
    notes = []
    if over.placed is None:
        notes.append(say(NO_LENGTH if over.toggle_mm is None else NO_LEAN))
    if over.lies == "slack hangs":
        notes.append(say("The line is too long for the toggles: the rest of its slack hangs."))
    if over.lies == "drawn tight":
        notes.append(say("The line is too short for the toggles: they stand straight forward."))
    if section.body is not None and section.body.kind == "chain" and over.gap_mm is not None:
        notes.append(say("The gap is reckoned from the iron of the chain; its links stand higher."))
    if section.left_out:
        parts = ", ".join(dict.fromkeys(section.left_out))
        notes.append(say("Not drawn: {parts}.", parts=parts))
    if section.lacks_a_row:
        notes.append(say("A row of its parts was set aside, so that it may be thicker."))
    return notes


NO_LEAN = saying("How the toggles lean is not known.")
NO_LENGTH = saying("How the toggles lean is not known, nor their length.")

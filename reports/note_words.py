"""What one note was read as, in words and for programs."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from pipeline.notes.reading import FIELDS

if TYPE_CHECKING:
    from pipeline.notes.reading import Reading

HOURS = {"mending_hours", "hours_lost"}
WIDTH = 15


def told_of_note(reading: Reading) -> str:
    """The reading line by line: what, how sure, and the words it rests on."""
    lines = [_line("damaged", reading.damaged.value or "unknown", reading)]
    if reading.damaged.value is None and not reading.damaged.words:
        lines = ["damaged        unknown: the note does not say, or was not understood"]
    for field in FIELDS[1:]:
        value = getattr(reading, field).value
        if value not in (None, ()):
            lines.append(_line(field, _said(field, value), reading))
    return "\n".join(lines)


def note_as_json(note: str, reading: Reading) -> str:
    """The reading for programs: each thing with its value, words and how sure it is."""
    told: dict[str, Any] = {"note": note}
    for field in FIELDS:
        each = getattr(reading, field)
        value = list(each.value) if isinstance(each.value, tuple) else each.value
        told[field] = "unknown" if field == "damaged" and value is None else value
    told["words"] = {field: list(getattr(reading, field).words) for field in FIELDS}
    told["sure"] = {
        field: getattr(reading, field).sure for field in FIELDS if _is_told(field, told)
    }
    return json.dumps(told, indent=1, ensure_ascii=False)


def _is_told(field: str, told: dict[str, Any]) -> bool:
    return field == "damaged" or told[field] not in (None, [])


def _line(field: str, said: str, reading: Reading) -> str:
    told = getattr(reading, field)
    words = ", ".join(f"'{word}'" for word in told.words)
    return f"{field.replace('_', ' '):{WIDTH}}{said:22} {told.sure:7} {words}".rstrip()


def _said(field: str, value: object) -> str:
    if isinstance(value, tuple):
        return ", ".join(value)
    return f"{value:g} h" if field in HOURS else str(value)

"""Read a TOML file of a season; what can't be read is told in one sentence, with what it may be."""

from __future__ import annotations

import re
import tomllib
from typing import TYPE_CHECKING, Any

from pipeline.plain_text import plain
from pipeline.problems import SeasonUnusableError

if TYPE_CHECKING:
    from pathlib import Path

PLACE = re.compile(r"(.*) \(at line (\d+), column (\d+)\)")
USUAL_CAUSES = (
    'Text, headers too, wants straight quotation marks on both sides, "Bottom"; a list square '
    'brackets, ["Date", "Shot"]; what tells of one column braces, on one line, with commas '
    'between, { from = "Depth", unit = "fathom" }; a decimal a point; a path / in place of \\; and '
    "a section or key may stand only once."
)


def read_toml(path: Path) -> dict[str, Any]:
    """What the file at `path` says; raises `SeasonUnusableError` with what is wrong with it."""
    try:
        text = path.read_text(encoding="utf-8-sig")
        return tomllib.loads(text)
    except UnicodeDecodeError as error:
        raise SeasonUnusableError(f"{path.name} is not UTF-8 text; save it as UTF-8.") from error
    except OSError as error:
        raise SeasonUnusableError(f"{path.name} can't be opened: {error.strerror}.") from error
    except tomllib.TOMLDecodeError as error:
        raise SeasonUnusableError(_told_where(error, path.name, text)) from error
    except (RecursionError, ValueError) as error:
        raise SeasonUnusableError(f"{path.name} holds what no season does.") from error


def _told_where(error: tomllib.TOMLDecodeError, name: str, text: str) -> str:
    """The line that can't be read, from where on, and what that mostly is."""
    place = PLACE.fullmatch(str(error))
    if place is None:
        return f"{name} can't be read as TOML: {error}. {USUAL_CAUSES}"
    what, number, column = place.groups()
    line = text.split("\n")[int(number) - 1].rstrip("\r")
    rest = line[int(column) - 1 :].strip()
    there = f" from '{rest}' on" if rest else ""
    told = f"{name}, line {number}: '{line.strip()}' can't be read as TOML{there} ({what})."
    return f"{plain(told)} {USUAL_CAUSES}"

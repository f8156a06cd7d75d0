"""What no code reads: as vulture finds it, but for the fields that are read by their names.

What is found goes into `findings.json` by the names of its fields; pages and templates take it from
there by these names, in which vulture sees no reader. `python -m tests.habits.dead_code` tells what
is left. What only programs are to read, and what Python and libraries call by name, stands in
`pyproject.toml`.
"""

from __future__ import annotations

import ast
import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from vulture.config import make_config
from vulture.core import Vulture

if TYPE_CHECKING:
    from collections.abc import Iterator

    from vulture.core import Item

ROOT = Path(__file__).parents[2]
LETTERS_TO_GO_BY = 4
"""A name made of parts is known by what is written of it, if that is as much as this."""


def unread() -> tuple[list[str], set[str]]:
    """Where which code is read by nobody; and names that are passed by though something reads them.

    Passed by are the names that `pyproject.toml` lists for vulture.
    """
    config = make_config(["--config", str(ROOT / "pyproject.toml")])
    finder = Vulture(ignore_decorators=config["ignore_decorators"])
    finder.scavenge([str(ROOT / room) for room in config["paths"]])
    by_name = _read_by_name()
    found = [
        item
        for item in finder.get_unused_code(config["min_confidence"])
        if not (_is_field(item) and by_name.fullmatch(item.name))
    ]
    passed_by = set(config["ignore_names"])
    told = [item.get_report() for item in found if item.name not in passed_by]
    return told, passed_by - {item.name for item in found}


def _is_field(item: Item) -> bool:
    """Whether it is a field of a class, which has its type beside its name."""
    line = item.filename.read_text(encoding="utf-8").splitlines()[item.first_lineno - 1]
    return line.startswith(f"    {item.name}: ")


def _read_by_name() -> re.Pattern[str]:
    """The names that stand in quotes in the code of the report, or behind a dot in a template."""
    names = {
        name
        for file in (ROOT / "reports").rglob("*.py")
        for name in _quoted(ast.parse(file.read_text(encoding="utf-8")))
    }
    for template in (ROOT / "reports" / "templates").rglob("*.html"):
        names.update(re.findall(r"\.(\w+)\b", template.read_text(encoding="utf-8")))
    return re.compile("|".join(sorted(names)))


def _quoted(code: ast.Module) -> Iterator[str]:
    """Each name in quotes, as a pattern; a name that is made of parts has holes in it."""
    for each in ast.walk(code):
        if isinstance(each, ast.Constant) and isinstance(each.value, str):
            if each.value.isidentifier():
                yield each.value
        elif isinstance(each, ast.JoinedStr):
            parts = [part.value if isinstance(part, ast.Constant) else "" for part in each.values]
            written = "".join(map(str, parts))
            if len(written) >= LETTERS_TO_GO_BY and re.fullmatch(r"\w+", written):
                yield "".join(str(part) or r"\w+" for part in parts)


if __name__ == "__main__":
    dead, needless = unread()
    told = [*dead, *(f"{name} need not be passed by" for name in sorted(needless))]
    sys.stdout.writelines(f"{line}\n" for line in told)
    sys.exit(bool(dead or needless))

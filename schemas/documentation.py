"""The season folder in words, made from columns and settings, for README and DEVELOPERS.

`python -m schemas.documentation README.md DEVELOPERS.md` puts it into the files, between the two
comment lines that name it.
"""

from __future__ import annotations

import ast
import inspect
import json
import re
import sys
from itertools import pairwise
from pathlib import Path
from textwrap import dedent
from types import NoneType, UnionType
from typing import TYPE_CHECKING, Annotated, Literal, Union, cast, get_args, get_origin

from pydantic import BaseModel

from schemas.settings import SECTIONS, ColumnSource, Reading, Settings, TableSource
from schemas.tables import TABLES

if TYPE_CHECKING:
    from pydantic.fields import FieldInfo

    from schemas.column import Column


def tables_in_brief() -> str:
    """A table of the tables: what one row is, what names it, what it feeds."""
    rows = [
        f"| `{table.name}` | {table.one_row_is} | {', '.join(table.key)} | {table.feeds} |"
        for table in TABLES.values()
    ]
    return "\n".join(["| table | one row is | named by | feeds |", "|---|---|---|---|", *rows])


def columns_in_full() -> str:
    """Every column of every table, with its unit, its bounds and an example."""
    parts = []
    for table in TABLES.values():
        rows = [
            f"| `{column.name}` | {column.meaning} | {column.unit or column.kind} "
            f"| {_bounds(column)} | {column.example} |"
            for column in table.columns
        ]
        parts += [
            f"### `{table.name}`: one row is {table.one_row_is}",
            "",
            "| column | meaning | unit or kind | must be | example |",
            "|---|---|---|---|---|",
            *rows,
            "",
        ]
    return "\n".join(parts).rstrip()


def _bounds(column: Column) -> str:
    """What a value must be, in words."""
    said = ["filled"] if column.required else []
    if column.words:
        said.append(", ".join(column.words))
    if column.above is not None:
        said.append(f"more than {column.above:g}")
    if column.least is not None:
        said.append(f"{column.least:g} or more")
    if column.most is not None:
        said.append(f"{column.most:,.0f} or less")
    if column.only_kept:
        said.append("else left blank")
    return "; ".join(said)


def settings_in_full() -> str:
    """Every key of `season.toml`, section by section, with what holds where it is left out."""
    of_season = (type(getattr(Settings(), name)) for name in SECTIONS)
    sections: list[type[BaseModel]] = [*of_season, TableSource, Reading, ColumnSource]
    parts = []
    for section in sections:
        meanings = _meanings(section)
        rows = [
            f"| `{field.alias or name}` | {meanings[name]} | {_kind(field.annotation)} "
            f"| {_limits(field)} | {_left_out(field.default)} |"
            for name, field in section.model_fields.items()
        ]
        parts += [
            f"### {(section.__doc__ or '').rstrip('.')}",
            "",
            "| key | meaning | takes | must be | left out |",
            "|---|---|---|---|---|",
            *rows,
            "",
        ]
    return "\n".join(parts).rstrip()


def _meanings(section: type[BaseModel]) -> dict[str, str]:
    """What its class says below each key: read when it is asked for, which no run does."""
    (written,) = ast.parse(dedent(inspect.getsource(section))).body
    said = {}
    for line, below in pairwise(cast(ast.ClassDef, written).body):
        if isinstance(line, ast.AnnAssign) and isinstance(below, ast.Expr):
            said[ast.unparse(line.target)] = " ".join(ast.literal_eval(below.value).split())
    return said


def _kind(annotation: object) -> str:
    """What a key takes, in words."""
    origin, within = get_origin(annotation), get_args(annotation)
    if origin is Literal:
        return " or ".join(f'`"{word}"`' for word in within)
    if origin is Annotated:
        return _kind(within[0])
    if origin is tuple:
        return f"list of {_several(within[0])}"
    if origin is dict:
        return f"table of {_several(within[1])}"
    if origin is UnionType or origin is Union:
        return " or ".join(_kind(each) for each in within if each is not NoneType)
    return KINDS.get(annotation, "section")


def _several(annotation: object) -> str:
    kind = _kind(annotation)
    return f"{kind}s" if kind == KINDS[float] else kind


KINDS: dict[object, str] = {str: "text", float: "number", int: "count"}


def _limits(field: FieldInfo) -> str:
    """What a number must be, in words."""
    said = [
        words.format(getattr(limit, name))
        for limit in field.metadata
        for name, words in LIMITS.items()
        if hasattr(limit, name)
    ]
    return "; ".join(said)


LIMITS = {"gt": "more than {:g}", "ge": "{:g} or more", "le": "{:,.15g} or less"}


def _left_out(default: object) -> str:
    """What holds where the key is left out; blank where its meaning says so, or nothing does."""
    if default in (None, "", (), {}) or isinstance(default, BaseModel):
        return ""
    return f"`{_as_toml(default)}`"


def _as_toml(value: object) -> str:
    if isinstance(value, tuple):
        return f"[{', '.join(map(_as_toml, value))}]"
    return f"{value:g}" if isinstance(value, float) else json.dumps(value)


GENERATED = {
    "tables-in-brief": tables_in_brief,
    "settings-in-full": settings_in_full,
    "columns-in-full": columns_in_full,
}


def with_generated_parts(text: str) -> str:
    """The text with each generated part put between its two comment lines, anew."""
    for name, make in GENERATED.items():
        begin, end = f"<!-- {name}: made from schemas -->", f"<!-- end of {name} -->"
        pattern = re.compile(f"{re.escape(begin)}.*?{re.escape(end)}", re.DOTALL)
        part = f"{begin}\n{make()}\n{end}".replace("\\", r"\\")
        text = pattern.sub(part, text)
    return text


def main(paths: list[str]) -> None:
    """Renew the generated parts of these files."""
    for path in map(Path, paths):
        path.write_text(with_generated_parts(path.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])

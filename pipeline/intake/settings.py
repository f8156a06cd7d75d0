"""Read `season.toml` into settings; a key that is not known is named with the nearest that is."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any
from zoneinfo import available_timezones

import polars as pl
from pydantic import BaseModel, ValidationError

from pipeline.intake.species_across import SPECIES
from pipeline.intake.toml_file import read_toml
from pipeline.intake.units import UNITS, WAYS_OF_WRITING
from pipeline.nearest import did_you_mean
from pipeline.plain_text import plain
from pipeline.problems import SeasonUnusableError
from pipeline.rows import ROW_COLUMNS
from schemas.outcomes import OUTCOMES, SPECIES_PREFIX
from schemas.settings import SECTIONS, TABLE_SECTIONS, ColumnSource, Settings, TableSource
from schemas.tables import TABLES
from schemas.words import ALL_GROUNDS, GROUNDS, UNKNOWN_GROUND

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from pydantic_core import ErrorDetails

    from schemas.column import Column


def read_settings(path: Path | None) -> Settings:
    """The settings in the file at `path`, or the defaults where there is no file.

    Raises `SeasonUnusableError` with a sentence per problem.
    """
    if path is None:
        return Settings()
    return parse_settings(plain(read_toml(path)), path.name)


def parse_settings(document: dict[str, Any], file_name: str = "season.toml") -> Settings:
    """The settings in a parsed document; raises `SeasonUnusableError`."""
    known = (*SECTIONS, *TABLE_SECTIONS)
    strangers = [
        f"{file_name}: there is no section [{name}]{did_you_mean(name, known)}."
        for name in document
        if name not in known
    ]
    if strangers:
        raise SeasonUnusableError(strangers)
    sections = {name: document[name] for name in SECTIONS if name in document}
    tables = {name: document[name] for name in TABLE_SECTIONS if name in document}
    try:
        settings = Settings.model_validate({**sections, "tables": tables})
    except ValidationError as error:
        raise SeasonUnusableError(
            [f"{file_name}: {_sentence(problem)}" for problem in _worth_saying(error)]
        ) from error
    problems = [
        f"{file_name}: {sentence}"
        for name, source in settings.tables.items()
        for sentence in _mapping_problems(name, source, settings.season.grounds)
    ]
    problems += _ground_problems(settings.season.grounds, file_name)
    problems += _outcome_problems(settings.model.smallest_that_matters, file_name)
    problems += _mix_problems(settings, file_name)
    problems += _rig_name_problems(settings.rigs.names, file_name)
    zone = settings.season.time_zone
    if zone is not None and zone not in available_timezones():
        problems.append(
            f"{file_name}: there is no time zone {zone!r}"
            f"{did_you_mean(zone, available_timezones())}."
        )
    if problems:
        raise SeasonUnusableError(problems)
    return settings


OUR_NAMES = (
    *ROW_COLUMNS,
    *("pattern", "stretch", "own", "fitted", "rows", "alike", "first", "new", "corrected", "cell"),
    *("next_from", "begins", "by_the_clock", "all"),
)
"""What the program calls its own columns beside those of the season."""


def _ground_problems(grounds: tuple[str, ...], file_name: str) -> list[str]:
    """Grounds of the season's own that would be taken for something else."""
    return [
        f"{file_name}: [season] grounds may not name {ground!r}."
        for ground in grounds
        if ground.strip().lower() in {"", ALL_GROUNDS, UNKNOWN_GROUND} or grounds.count(ground) > 1
    ]


def _mix_problems(settings: Settings, file_name: str) -> list[str]:
    """A mix of grounds that there is none of."""
    mix, known = settings.model.ground_mix, (*GROUNDS, *settings.season.grounds)
    said = [
        f"names {ground!r}{did_you_mean(ground, known)}, which is none of {', '.join(known)}"
        for ground in mix
        if ground not in known
    ]
    said += [
        f"gives {ground!r} a share of {share:g}; a share is 0 or more"
        for ground, share in mix.items()
        if share < 0
    ]
    if mix and not said and sum(mix.values()) <= 0:
        said.append("gives every ground a share of 0; one must have more")
    return [f"{file_name}: [model] ground_mix {sentence}." for sentence in said]


def _rig_name_problems(names: dict[str, dict[str, str]], file_name: str) -> list[str]:
    """Rigs that would be called nothing."""
    return [
        f"{file_name}: [rigs.names] {season}: the name of {rig!r} is blank; write one, or take it "
        "out."
        for season, called in names.items()
        for rig, name in called.items()
        if not name.strip()
    ]


def _worth_saying(error: ValidationError) -> list[ErrorDetails]:
    """Of a value that fits none of several forms, the problem that is about its keys comes first.

    A column may be a header or a table of keys; of the two complaints the second one helps.
    """
    problems = error.errors(include_url=False)
    helpful = [p for p in problems if not (p["loc"][-1] == "str" and len(problems) > 1)]
    return helpful or problems


def _sentence(problem: ErrorDetails) -> str:
    path = [str(part) for part in problem["loc"]]
    if path[0] == "tables" and len(path) > 1:
        path = path[1:]
    path = [part for part in path if part not in UNION_TAGS]
    where = "[" + ".".join(path[:-1]) + "]" if len(path) > 1 else "the file"
    if problem["type"] == "extra_forbidden":
        known = _keys_at(path[:-1])
        return f"{where} has no key {path[-1]!r}{did_you_mean(path[-1], known)}."
    takes = TAKES.get(problem["type"], OTHERWISE).format(**problem.get("ctx", {}))
    if problem["type"] == "tuple_type" and problem["loc"][-1] in UNION_TAGS:
        takes = TEXT_OR_LIST
    return f"{where}, {path[-1]}: {takes} (it says {_short(_as_toml(problem['input']))})."


UNION_TAGS = ("ColumnSource", "str", "tuple[str, ...]", "constrained-str")
"""What the checker calls the forms that a value may have; no user wrote these words."""

TAKES = {
    "string_type": "takes text",
    "float_parsing": "takes a number",
    "float_type": "takes a number",
    "int_parsing": "takes a whole number",
    "int_type": "takes a whole number",
    "int_from_float": "takes a whole number",
    "bool_parsing": "takes true or false",
    "bool_type": "takes true or false",
    "tuple_type": "takes a list",
    "dict_type": 'takes keys of its own, as in {{ a = "b" }}',
    "model_type": 'takes keys of its own, as in {{ from = "Header" }}',
    "finite_number": "takes a finite number",
    "greater_than": "takes a number of more than {gt:g}",
    "greater_than_equal": "takes a number of {ge:g} or more",
    "less_than": "takes a number of less than {lt:g}",
    "less_than_equal": "takes a number of {le:g} or less",
    "literal_error": "takes {expected}",
    "string_too_short": "takes text that is not blank",
    "too_short": "takes a list with something in it",
    "string_pattern_mismatch": "takes one sign, such as a semicolon or a tab",
}
TEXT_OR_LIST = "takes text, or a list of it"
OTHERWISE = "can't be used as it is"
"""What is said of a value that fits none of these."""


def _as_toml(value: object) -> str:
    return str(value).lower() if isinstance(value, bool) else repr(value)


def _short(text: str, longest: int = 60) -> str:
    return text if len(text) <= longest else f"{text[: longest - 1]}…"


def _keys_at(path: list[str]) -> list[str]:
    """The keys that the section at this path may have."""
    model: type[BaseModel] = Settings
    for depth, part in enumerate(path):
        if depth == 0 and part in TABLE_SECTIONS:
            model = TableSource
        elif part == "columns":
            model = ColumnSource
        elif part in model.model_fields:
            inner = model.model_fields[part].annotation
            if isinstance(inner, type) and issubclass(inner, BaseModel):
                model = inner
    return [field.alias or name for name, field in model.model_fields.items()]


def _mapping_problems(name: str, source: TableSource, own_grounds: tuple[str, ...]) -> list[str]:
    """What a mapping says that no table can hold."""
    table = TABLES[name]
    sentences = []
    sentences += [
        f"[{name}] keep names {kept!r}, which the program uses itself; rename that column."
        for kept in source.keep
        if kept in OUR_NAMES
    ]
    sentences += [
        f"[{name}] keep names {kept!r} twice."
        for kept in dict.fromkeys(source.keep)
        if source.keep.count(kept) > 1
    ]
    sentences += _across_problems(name, source)
    for column_name in source.columns:
        if column_name not in table.column_names:
            near = did_you_mean(column_name, table.column_names)
            sentences.append(f"[{name}.columns] has no column {column_name!r}{near}.")
            continue
        column, how = table.column(column_name), source.column_source(column_name)
        if how.value is not None and not how.value.strip():
            sentences.append(
                f"[{name}.columns] {column_name}: its value is blank; write one, or take it out."
            )
        sentences += _unit_problems(name, column, how)
        sentences += _word_problems(name, column, how, own_grounds)
        sentences += _format_problems(name, column, how)
    return sentences


def _outcome_problems(names: Iterable[str], file_name: str) -> list[str]:
    """Outcomes that there are none of."""
    known = [each.name for each in OUTCOMES]
    return [
        f"{file_name}: [model] smallest_that_matters names {name!r}{did_you_mean(name, known)}, "
        f"which is none of {', '.join(known)}, nor {SPECIES_PREFIX} and a species."
        for name in names
        if name not in known and not name.startswith(SPECIES_PREFIX)
    ]


def _word_problems(
    table_name: str, column: Column, how: ColumnSource, own_grounds: tuple[str, ...]
) -> list[str]:
    """Words that a mapping leads to and no cell of the column may hold."""
    if not column.words:
        return []
    own = (*own_grounds, UNKNOWN_GROUND) if column.name == "ground" else ()
    known = [word.lower() for word in (*column.words, *own)]
    led_to = [*how.words.values(), *([how.otherwise] if how.otherwise else [])]
    return [
        f"[{table_name}.columns] {column.name}: {word!r} is not a {column.name} that is known"
        f"{did_you_mean(word, known)}; it may be {', '.join(known)}."
        for word in dict.fromkeys(led_to)
        if word and word.lower() not in known
    ]


A_DAY = pl.Series(["2031-03-04 05:30"]).str.to_datetime("%Y-%m-%d %H:%M")
"""Of a way of writing days, one that can't be read back tells nothing."""


def _format_problems(table_name: str, column: Column, how: ColumnSource) -> list[str]:
    """A way of writing days and times that can't be read."""
    if column.kind != "moment":
        return []
    return [
        f"[{table_name}.columns] {column.name}: {form!r} is no way of writing a day and time "
        'that can be read here; one that can is "%d/%m/%Y %H:%M", without a time zone.'
        for form in how.formats
        if not _can_be_read(form)
    ]


def _can_be_read(form: str) -> bool:
    """Whether a day that is so written is read again as that day, without a time zone."""
    try:
        read = A_DAY.dt.to_string(form).str.to_datetime(form, strict=False)
    except pl.exceptions.PolarsError:
        return False
    zoned = any(sign in form for sign in ("%z", "%Z", "%+", "%s"))
    return not zoned and read.dt.year().equals(A_DAY.dt.year())


def _unit_problems(table_name: str, column: Column, how: ColumnSource) -> list[str]:
    where = f"[{table_name}.columns] {column.name}"
    known = UNITS.get(column.unit, {})
    if how.times is not None and (column.kind != "number" or how.unit in WAYS_OF_WRITING):
        return [f"{where}: times is for a plain number; take it out."]
    if how.unit is None or how.unit in known:
        return []
    near, takes = did_you_mean(how.unit, known), ", ".join(known) or "no unit"
    if not near and column.unit not in {"", *WAYS_OF_WRITING}:
        takes += f"; of anything else say with times how many {column.unit} one is"
    return [f"{where}: unknown unit {how.unit!r}{near}; it takes {takes}."]


def _across_problems(name: str, source: TableSource) -> list[str]:
    """What a log with a column for each species can't say."""
    if not source.across:
        return []
    table = TABLES[name]
    if SPECIES not in table.key or len(table.key) == 1:
        return [f"[{name}] has no column for each species; take its across out."]
    weighed = [column.name for column in table.columns if column.kind in {"number", "count"}]
    sentences = [
        f"[{name}.across] has no column {column!r}{did_you_mean(column, weighed)}; it may be "
        f"{', '.join(weighed)}."
        for column in source.across
        if column not in weighed
    ]
    sentences += [
        f"[{name}.across] {column}: names no species and its header; name one, or take it out."
        for column, by_species in source.across.items()
        if not by_species
    ]
    sentences += [
        f"[{name}.columns] {column}: its header stands under [{name}.across]; name it in one place."
        for column in (SPECIES, *source.across)
        if column in source.columns and (column == SPECIES or _has_header(source, column))
    ]
    return sentences


def _has_header(source: TableSource, column: str) -> bool:
    """Whether the mapping of a column says where it comes from, not only how it is read."""
    said = source.columns[column]
    return isinstance(said, str) or said.header is not None or said.value is not None

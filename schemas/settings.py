"""What `season.toml` may say, key by key, with what holds where it says nothing."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from schemas.tables import TABLES


class _Section(BaseModel):
    """A section takes the keys named here and no others."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, populate_by_name=True, allow_inf_nan=False
    )


Number = Annotated[float, Field(strict=True)]
Count = Annotated[int, Field(strict=True)]
"""Strict, as true and false would be taken for 1 and 0."""
Edges = Annotated[tuple[Annotated[Number, Field(gt=0, lt=500)], ...], Field(min_length=1)]
MatteringRatio = Annotated[Number, Field(gt=1, le=100)]


class About(_Section):
    """`[season]`: what the season is."""

    title: str = ""
    """What the report is called; left out, by its boats."""
    currency: str = ""
    """Of prices, costs and bills."""
    time_zone: str | None = None
    """The zone of the log's times, as `Europe/Lisbon`, where clocks are put forward and back."""
    reference_rig: str | None = None
    """The rig that others are held against; left out, the most fished."""
    grounds: tuple[str, ...] = ()
    """Grounds of the season's own, beside mud, sand, stones, mixed, hard and rocky."""


class Costs(_Section):
    """`[costs]`: what an hour is worth, in the season's currency."""

    mending_hour: Number | None = Field(default=None, ge=0, le=1_000_000)
    """What one hand's hour of mending costs."""
    hour_lost: Number | None = Field(default=None, ge=0, le=1_000_000)
    """What a lost hour of fishing is worth; left out, the value of the catch per hour towed."""


class Model(_Section):
    """`[model]`: how rates are compared."""

    adjust: tuple[str, ...] = ("ground", "vessel", "depth_band", "quarter")
    """What rates are adjusted for: these, `year`, or a column that `[hauls] keep` names. Left out,
    `year` is added where the record runs over several."""
    errors: Literal["trip", "model"] = "trip"
    """Whether the standard errors of events are clustered by trip, or those of the model."""
    depth_band_edges_m: tuple[Number, ...] = (50.0, 100.0, 200.0, 400.0, 800.0)
    """Where one band of depth ends and the next begins."""
    species: tuple[str, ...] | None = None
    """Species with a result of their own; left out, the ten with the most kilos."""
    length_edges_cm: dict[str, Edges] = {}
    """By species, where one band of length ends and the next begins, such as a minimum landing
    size; left out, bands of about as many fish each."""
    lengths_from: tuple[str, ...] = ()
    """What `where` says of measured fish that were caught; left out, all of them were."""
    smallest_that_matters: dict[str, MatteringRatio] = {}
    """By outcome, the ratio (more than 1, 100 or less) beyond which, either way, a difference is
    worth knowing: 2 is a doubling or a halving. Left out, what `schemas/outcomes.py` says."""
    ground_mix: dict[str, Number] = {}
    """By ground, its share of a mix on which rigs are compared beside the season's own; the parts
    need not add to one."""
    many_looks: Literal["together", "alone"] = "together"
    """Whether headline verdicts hold all together, or each alone; to be settled beforehand."""


class Units(_Section):
    """`[units]`: what the skipper's page is told in; all else is in kilos, metres, millimetres."""

    weight: Literal["kg", "stone"] = "kg"
    """Of fish; the weights of a rig stay in kilos."""
    depth: Literal["m", "fathom"] = "m"
    """Of water."""
    size: Literal["mm", "inch"] = "mm"
    """Of a rig's parts, in tables; its sheet and drawing stay in millimetres."""


class Sharing(_Section):
    """`[sharing]`: what must hold before a figure of several boats is shown."""

    min_vessels: Count = Field(default=3, ge=2)
    """A cell of fewer boats is hidden."""
    max_share: Number = Field(default=0.8, gt=0, le=1)
    """A cell is hidden of which one boat has a larger share of the hours."""
    consent: tuple[str, ...] = ()
    """Boats that agree to stand in the co-op's report with their own ratios, by name."""
    consent_under_letter: tuple[str, ...] = ()
    """Boats that agree to it under a letter, another one with each rig and in each report."""

    @property
    def by_name(self) -> tuple[str, ...]:
        """The boats that stand by name: of one in both lists the more careful holds, the letter."""
        return tuple(boat for boat in self.consent if boat not in self.consent_under_letter)

    @property
    def agreeing(self) -> tuple[str, ...]:
        """The boats that agree to stand there, by name or under a letter, each once."""
        return tuple(dict.fromkeys((*self.consent, *self.consent_under_letter)))


class Checks(_Section):
    """`[checks]`: bounds that differ from season to season."""

    longest_tow_hours: Number = Field(default=24.0, gt=0)
    """A longer tow is set aside."""
    most_length_difference_percent: Number = Field(default=1.0, gt=0, le=20)
    """Ground chain against traveller, in percent of the length: from here on, even them."""
    hours_between_length_checks: Number = Field(default=200.0, gt=0)
    """After so many fishing hours without a length check the season is reminded of one."""


class Notes(_Section):
    """`[notes]`: how this season's notes were kept."""

    blank_means: Literal["unknown", "no damage"] = "unknown"
    """What it means that a haul has no note, or one that says nothing of the net, and that nothing
    else tells of damage."""


class Rigs(_Section):
    """`[rigs]`, for a folder of season folders: rigs of one name in two of them."""

    same: tuple[str, ...] = ()
    """Rig versions that are one rig, though two seasons describe it otherwise."""
    names: dict[str, dict[str, str]] = {}
    """By season folder, what a rig version of it is called here."""


class Reading(_Section):
    """`[TABLE.read]`: how the file is written."""

    encoding: str = "utf-8"
    """How its letters are kept."""
    separator: str | None = Field(default=None, pattern=r"^[\t !#-~]$")
    """The one sign between two cells; left out, the one that its first lines show."""
    decimal: Literal[".", ","] = "."
    """The sign between whole and part."""
    missing: tuple[str, ...] = ("",)
    """Cells that say nothing, beside blank ones."""
    skip_lines: Count = Field(default=0, ge=0)
    """So many lines stand before that of the headers."""


Names = Annotated[tuple[str, ...], Field(min_length=1)]


class ColumnSource(_Section):
    """One line of `[TABLE.columns]`: where a column comes from and how to read it."""

    header: str | Names | None = Field(default=None, alias="from")
    """The header it stands under, or several whose cells are joined by a blank; left out, the
    column's own name."""
    value: str | None = None
    """What holds in every row, where the file has no such column."""
    unit: str | None = None
    """The unit of the file's numbers; left out, the column's own."""
    times: Number | None = Field(default=None, gt=0)
    """What one of the file's is, in that unit: 40 where it counts boxes of 40 kg."""
    format: str | Names | None = None
    """How a day and time are written, in the signs of `strftime`: `%d/%m/%y %H%M`. Where several
    ways stand in one column a list, tried in order."""
    words: dict[str, str] = {}
    """By word of the file, what it means here."""
    otherwise: str | None = Field(default=None, alias="else")
    """What any other word means; a blank cell stays blank."""

    @property
    def headers(self) -> tuple[str, ...]:
        """The headers that it reads; none where the value is given outright."""
        if self.header is None:
            return ()
        return (self.header,) if isinstance(self.header, str) else self.header

    @property
    def formats(self) -> tuple[str, ...]:
        """The ways of writing a day and time that it names; none where nothing is said."""
        if self.format is None:
            return ()
        return (self.format,) if isinstance(self.format, str) else self.format


class TableSource(_Section):
    """`[TABLE]`: where a table lies and how its columns are called there."""

    file: str | None = None
    """The file, or a pattern over many: `logs/*.csv`; left out, the one of the table's name."""
    sheet: str | Names | None = None
    """The sheet of a workbook, a pattern over many, or a list of them: `M*`; they are read as one
    table, in the workbook's order. A pattern leaves out sheets that are called as another table."""
    keep: tuple[str, ...] = ()
    """Further columns of the file; those of `hauls` can be adjusted for."""
    fill_down: tuple[str, ...] = ()
    """Columns of ours, or headers, that are written on the first row only of several, as on paper:
    a blank cell there says what the nearest one above it says. `["trip", "Date"]`."""
    read: Reading = Reading()
    """How the file is written: `[TABLE.read]`, below."""
    columns: dict[str, str | ColumnSource] = {}
    """By column of ours, their header, or what it takes to read it: `[TABLE.columns]`, below."""
    across: dict[str, dict[str, str]] = {}
    """Where each species has a column of its own: by column of ours, species and its header."""

    @property
    def sheets(self) -> tuple[str, ...]:
        """The sheets that it names; none where nothing is said."""
        if self.sheet is None:
            return ()
        return (self.sheet,) if isinstance(self.sheet, str) else self.sheet

    def column_source(self, column: str) -> ColumnSource:
        """Where this column comes from; a column that is not named stands under its own name."""
        source = self.columns.get(column, column)
        if isinstance(source, str):
            return ColumnSource.model_validate({"from": source})
        if source.header is None and source.value is None:
            return source.model_copy(update={"header": column})
        return source

    @property
    def across_headers(self) -> frozenset[str]:
        """The headers that stand for a species each."""
        return frozenset(
            name for by_species in self.across.values() for name in by_species.values()
        )

    @property
    def headers(self) -> frozenset[str]:
        """The headers that it asks for by name, those of `across` aside."""
        mapped = (self.column_source(name).headers for name in self.columns)
        return frozenset((*self.keep, *(header for headers in mapped for header in headers)))


class Settings(_Section):
    """The whole of `season.toml`."""

    season: About = About()
    costs: Costs = Costs()
    model: Model = Model()
    units: Units = Units()
    sharing: Sharing = Sharing()
    checks: Checks = Checks()
    notes: Notes = Notes()
    rigs: Rigs = Rigs()
    tables: dict[str, TableSource] = {}

    def source(self, table: str) -> TableSource:
        """Where the table comes from; by default from a file of its own name.

        A review of notes is written by the program, with the letters and numbers of the log.
        """
        if table == "damage_review" and table not in self.tables:
            log = self.source("hauls").read
            return TableSource(read=Reading(encoding=log.encoding, decimal=log.decimal))
        return self.tables.get(table, TableSource())

    def with_source(self, table: str, source: TableSource) -> Settings:
        """The same, but for where this table comes from."""
        return self.model_copy(update={"tables": {**self.tables, table: source}})


SECTIONS = tuple(name for name in Settings.model_fields if name != "tables")
"""The sections that are not a table's."""

TABLE_SECTIONS = tuple(TABLES)

"""Write the report's folder, whole or not at all."""

from __future__ import annotations

import hashlib
import json
import re
import tempfile
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import duckdb
import polars as pl

from pipeline.problems import WrongUsageError
from pipeline.rates.rate_table import RATE_SCHEMA
from reports.coop.folder import (
    FOLDER,
    READER,
    Shared,
    boat_pages,
    coop_folder,
    counts_set_aside,
    save_shared_tables,
    settings_to_share,
)
from reports.editions import EDITIONS
from reports.page import NO_GEAR, draw, gear_drawings, page_of
from reports.pictures import DRAWN_HERE
from reports.spreadsheets import for_spreadsheets
from reports.study.figures import begin_figures, chart_figures, finish_figures, gear_figures
from reports.study.study_folder import (
    STUDY,
    compared_hauls,
    is_study_folder,
    make_study,
    write_study,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from pipeline.findings import Findings
    from pipeline.joining.database import Database
    from pipeline.run_season import SeasonResults
    from reports.pictures import Pictures

FINDINGS, SET_ASIDE, RESULTS, RUN = (
    "findings.json",
    "set-aside.csv",
    "results.duckdb",
    "run.json",
)
COOP_FILES = {FINDINGS, SET_ASIDE, RESULTS, RUN, EDITIONS[READER].page}
FILES = {FINDINGS, SET_ASIDE, RESULTS, RUN, *(edition.page for edition in EDITIONS.values())}

BOAT_PAGE = r"boat-[a-z0-9-]+\.html"


def write_report(
    results: SeasonResults,
    database: Database,
    out: Path,
    say: Callable[[str], None],
    readers: Sequence[str],
    boats: Sequence[str] = (),
    pictures: Pictures = DRAWN_HERE,
) -> None:
    """Write a report to the folder `out`: a page for each reader, and what they are drawn from.

    They are made in a folder beside it that takes its place when all are there. For the co-op alone
    there is nothing in it but what may be shared; with other readers, or pages of `boats`, that is
    in a folder of its own. Raises `WrongUsageError` if `out` can't be written; `check_place` and
    `check_boats` have seen to the rest.
    """
    say("Drawing the report")
    of_the_season = [reader for reader in readers if reader != READER]
    made_at = datetime.now(UTC)
    with _taking_the_place_of(out) as folder:
        gear = gear_drawings(results.findings) if of_the_season else NO_GEAR
        figures = make_study(folder / STUDY) if STUDY in readers else None
        own = begin_figures(gear_figures(gear), figures, pictures) if figures else []
        drawn = {
            reader: draw(results.findings, EDITIONS[reader], pictures, gear)
            for reader in of_the_season
        }
        shared = Shared(results, database, pictures) if READER in readers else None
        if drawn:
            _write_season(results, database, folder, made_at)
        if figures:
            hauls = compared_hauls(database)
            write_study(folder / STUDY, results.findings, hauls, made_at.date())
        for reader, page in drawn.items():
            edition = EDITIONS[reader]
            if reader == STUDY and figures:
                own += begin_figures(chart_figures(page), figures, pictures)
            (folder / edition.page).write_text(page_of(page, edition), encoding="utf-8")
        if shared is not None:
            _write_shared(results, shared, folder / coop_folder(readers, boats), made_at)
            for boat, name in boat_pages(boats).items():
                (folder / name).write_text(shared.page_of(boat), encoding="utf-8")
        if figures:
            say("Making pictures of the study's figures")
            finish_figures(own)


@contextmanager
def _taking_the_place_of(out: Path) -> Iterator[Path]:
    """A folder beside `out` that takes its place when all is in it.

    Raises `WrongUsageError` if it can't be written.
    """
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=out.parent, prefix=f".{out.name}-") as beside:
            folder = Path(beside) / out.name
            folder.mkdir()
            yield folder
            _take_the_place(folder, out, Path(beside) / "earlier")
    except (OSError, duckdb.Error) as error:
        why = getattr(error, "strerror", None) or "is the disk full?"
        raise WrongUsageError(f"{out} can't be written: {why}.") from error


def _write_season(
    results: SeasonResults, database: Database, folder: Path, made_at: datetime
) -> None:
    """What the pages on the whole season are drawn from."""
    (folder / FINDINGS).write_text(as_json(results.findings), encoding="utf-8")
    set_aside = for_spreadsheets(results.season.set_aside)
    (folder / SET_ASIDE).write_text(set_aside.write_csv(quote_style="always"), encoding="utf-8")
    _save_tables(results, database, folder / RESULTS)
    (folder / RUN).write_text(as_json(_run(results, made_at)), encoding="utf-8")


def _write_shared(results: SeasonResults, shared: Shared, folder: Path, made_at: datetime) -> None:
    """The co-op's page, and the same four files beside it, of what may be shared."""
    folder.mkdir(exist_ok=True)
    (folder / EDITIONS[READER].page).write_text(shared.page(), encoding="utf-8")
    (folder / FINDINGS).write_text(as_json(shared.shared), encoding="utf-8")
    counts = counts_set_aside(shared.shared).write_csv(quote_style="always")
    (folder / SET_ASIDE).write_text(counts, encoding="utf-8")
    save_shared_tables(shared.shared, folder / RESULTS)
    run = {**_made_with(results, made_at), "settings": settings_to_share(results)}
    (folder / RUN).write_text(as_json(run), encoding="utf-8")


def shared_in(out: Path, readers: Sequence[str], boats: Sequence[str]) -> Findings:
    """What may be shared of the season, as it was written beside the co-op's page."""
    findings = out / coop_folder(readers, boats) / FINDINGS
    told: Findings = json.loads(findings.read_text(encoding="utf-8"))
    return told


def to_hand_on(out: Path, readers: Sequence[str], boats: Sequence[str]) -> str:
    """Which folder of a report for a co-op may go from hand to hand, and what else must not."""
    inner = coop_folder(readers, boats)
    if not inner:
        return f"To hand on: the folder {out}, whole."
    others = [
        *(["what names boats and hauls"] if set(readers) != {READER} else []),
        *(["a boat's page, which is for that boat"] if boats else []),
    ]
    return f"To hand on: the folder {out / inner}, whole. Beside it lies {' and '.join(others)}."


def pages_of(out: Path, readers: Sequence[str], boats: Sequence[str]) -> list[Path]:
    """Where the pages of a report lie: the readers' in their order, then those of boats."""
    inner = {READER: coop_folder(readers, boats)}
    return [
        *(out / inner.get(reader, "") / EDITIONS[reader].page for reader in readers),
        *(out / page for page in boat_pages(boats).values()),
    ]


def _take_the_place(folder: Path, out: Path, earlier: Path) -> None:
    """Move the folder to `out`; an earlier report goes only when the new one stands."""
    if out.exists():
        out.rename(earlier)
    try:
        folder.rename(out)
    except OSError:
        if earlier.exists():
            earlier.rename(out)
        raise


def check_place(out: Path) -> None:
    """Raise `WrongUsageError` if something else than a report, or a folder of one, is at `out`.

    A device or a pipe is no folder either: a report that took its place would be the end of it.
    """
    try:
        is_folder = out.is_dir()
        is_other = out.exists() and not is_folder
        entries = list(out.iterdir()) if is_folder else []
    except OSError as error:
        raise WrongUsageError(f"{out} can't be written: {error.strerror}.") from error
    if is_other:
        raise WrongUsageError(f"{out} is a file; name a folder for the report.")
    within = next(above for above in out.absolute().parents if above.exists())
    if not within.is_dir():
        raise WrongUsageError(f"{within} is a file, so there can be no folder {out}; name another.")
    others = sorted(entry.name for entry in entries if not _is_of_a_report(entry))
    if others:
        raise WrongUsageError(
            f"{out} holds other things ({others[0]}); name a new folder for the report, or "
            "that of an earlier report to put it in its place."
        )


def _is_of_a_report(entry: Path) -> bool:
    """Whether a report writes a file of this name, or this is a folder of one of its readers."""
    if entry.is_dir() and entry.name == FOLDER:
        return {file.name for file in entry.iterdir()} <= COOP_FILES
    if entry.is_dir():
        return is_study_folder(entry)
    return entry.name in FILES or bool(re.fullmatch(BOAT_PAGE, entry.name))


def as_json(contents: dict[str, Any]) -> str:
    """JSON that reads back to the same numbers; nothing that is not a number is written as one.

    A line for each name at the top: indented to the last number it takes twice as long.
    """
    lines = (
        f"{json.dumps(name)}: {json.dumps(value, ensure_ascii=False, allow_nan=False)}"
        for name, value in contents.items()
    )
    return "{\n" + ",\n".join(lines) + "\n}\n"


def _save_tables(results: SeasonResults, database: Database, path: Path) -> None:
    """Every table of the run: those of the season, those made on the way, and the results."""
    findings = results.findings
    database.put("set_aside", results.season.set_aside)
    database.put("remarks", results.season.remarks)
    database.put("rates", pl.DataFrame(findings["rates"], schema=RATE_SCHEMA))
    if findings["effects"]:
        database.put("effects", pl.DataFrame(findings["effects"], infer_schema_length=None))
    if on_the_mix := findings["on_the_mix"]:
        flat = [{**row, "weights": list(row["weights"].values())} for row in on_the_mix]
        database.put("on_the_mix", pl.DataFrame(flat, infer_schema_length=None))
    told = [
        {name: value for name, value in effect.items() if name not in {"points", "left_out"}}
        for effect in findings["measures"]
    ]
    if told:
        database.put("measures", pl.DataFrame(told, infer_schema_length=None))
    database.save(path)


def _run(results: SeasonResults, made_at: datetime) -> dict[str, Any]:
    """How the report came about: versions, settings, inputs, counts, timings."""
    folder = results.folder
    return {
        **_made_with(results, made_at),
        "settings": folder.settings.model_dump(mode="json", by_alias=True, exclude_defaults=True),
        "inputs": {folder.label(file): _hash(file) for file in folder.files},
        "reference_rig": results.findings["season"]["reference_rig"],
        "many_looks": results.findings["standing"]["looks"],
        "rows": results.season.counts,
        "seconds": results.seconds,
    }


def _made_with(results: SeasonResults, made_at: datetime) -> dict[str, Any]:
    """When the report was made, and by which versions."""
    software = results.findings["method"]["software"]
    return {
        "made_at": made_at.isoformat(timespec="seconds"),
        "python": software["python"],
        "versions": {name: told for name, told in software.items() if name != "python"},
    }


def _hash(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()

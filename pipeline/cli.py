"""The front door: it only parses, and tells what came of it.

Exit codes: 0 done; 1 the season cannot be used; 2 wrong usage. Results go to standard output,
progress to standard error.
"""

from __future__ import annotations

import gc
import os
import signal
import sys
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from pipeline.begin_reading import begin_reading
from pipeline.nearest import did_you_mean
from pipeline.own_process import begin_own_process
from pipeline.problems import RigseasonError, WrongUsageError
from pipeline.second_process import second_process
from schemas.words import LANGUAGES, READERS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator


def _such_as(*commands: str) -> str:
    """What stands below the help of a command: how it is called, a line each."""
    return "\n".join(["Such as:", *(f"  rigseason {command}" for command in commands)])


app = typer.Typer(
    help="From trawl haul records to a season report: which rig cuts net damage, which keeps the "
    "bottom-living fish, and how sure that is.",
    epilog=_such_as("demo", "check my-season", "report my-season --out my-report"),
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode="rich",
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)

STOPPED, STOPPED_WORDS = 130, "Stopped; nothing was written."

# Our matrices are small: threads of the algebra wait for one another, on busy cores for most of the
# time.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

Season = Annotated[
    Path,
    typer.Argument(
        help="A season folder, one workbook with a sheet a table, or a folder of season folders."
    ),
]


def main() -> None:
    """Run the command; a problem is told in plain sentences, never as a traceback."""
    for name in (signal.SIGINT, signal.SIGTERM, getattr(signal, "SIGHUP", signal.SIGTERM)):
        signal.signal(name, _stop)
    begin_own_process()
    gc.disable()  # a run is short, and looking for garbage in it costs more than is found
    try:
        app()
    except RigseasonError as error:
        _give_up(error.sentences, error.exit_code)
    except SystemExit as leaving:
        if leaving.code == STOPPED:  # typer makes that of a stop by hand
            _give_up([STOPPED_WORDS], STOPPED)
        raise
    except KeyboardInterrupt:
        _give_up([STOPPED_WORDS], STOPPED)
    except OSError as error:
        place = error.filename or "The output"
        _give_up([f"{place} can't be read or written: {error.strerror}."], 1)
    except MemoryError:
        _give_up(["There is not enough memory for this season; nothing was written."], 1)
    except Exception as error:
        if os.environ.get("RIGSEASON_TRACEBACK") and not _signals:
            raise
        _give_up_for(error)
    finally:
        gc.freeze()  # likewise at the end


_signals: list[int] = []
"""The signals by which it was stopped."""


def _stop(number: int, _: object) -> NoReturn:
    """Stop as if by hand, so that nothing half written stays behind."""
    _signals.append(number)
    raise KeyboardInterrupt


def _give_up_for(error: Exception) -> NoReturn:
    """For what nobody foresaw; a database that is stopped in a query makes an error of that."""
    if _signals:
        _give_up([STOPPED_WORDS], STOPPED)
    _give_up(
        [
            f"rigseason failed where it should not ({type(error).__name__}: {error}); nothing was "
            "written. Please report it, with what RIGSEASON_TRACEBACK=1 shows."
        ],
        1,
    )


def _give_up(sentences: list[str], exit_code: int) -> NoReturn:
    sys.stderr.writelines(f"{sentence}\n" for sentence in sentences)
    sys.exit(exit_code)


@app.command(epilog=_such_as("demo", "demo --seed 3 --out my-demo", "demo --co-op"))
def demo(
    out: Annotated[
        Path, typer.Option(help="Folder to write the invented season and its report to.")
    ] = Path("rigseason-demo"),
    seed: Annotated[int, typer.Option(help="Another seed invents another season.")] = 1,
    hauls: Annotated[int, typer.Option(min=60, help="How many hauls to invent.")] = 1500,
    co_op: Annotated[
        bool,
        typer.Option("--co-op", help="A co-op instead: five boats, each with its season folders."),
    ] = False,
) -> None:
    """Write an invented season of four boats and the report on it."""
    with second_process() as second, _progress() as say:
        from pipeline.demo import write_demo

        told = write_demo(out, seed=seed, hauls=hauls, say=say, co_op=co_op, second=second)
    typer.echo(told)


@app.command(epilog=_such_as("check my-season", "check my-season --all"))
def check(
    season: Season,
    every: Annotated[
        bool, typer.Option("--all", help="Name every row set aside, not one of each kind.")
    ] = False,
) -> None:
    """Read and check a season: what is used, what is set aside, and why."""
    from pipeline.good_rows import check_season
    from pipeline.intake.not_used import headers_not_used
    from pipeline.note_words import readings_of
    from reports.check_summary import check_summary

    with _progress() as say:
        folder, checked = check_season(season, say)
        readings = readings_of(folder, checked)
        not_used = headers_not_used(folder)
    typer.echo(check_summary(checked, readings, folder.settings, not_used, every=every))


@app.command(
    epilog=_such_as(
        "rig my-season",
        "rig my-season bobbins-14",
        "rig my-season --swap bobbins-14 rockhopper-16",
    )
)
def rig(
    season: Season,
    rig_version: Annotated[
        str | None, typer.Argument(help="The rig whose sheet is wanted; left out, all in brief.")
    ] = None,
    swap: Annotated[
        tuple[str, str] | None,
        typer.Option(metavar="FROM TO", help="What changes when TO is fished in place of FROM."),
    ] = None,
) -> None:
    """What each rig weighs, where its fishing line hangs, how its ground chain has stretched."""
    from pipeline.rig_facts import season_rigs
    from reports.rigs.sheet import told_of_rigs

    with _progress() as say:
        known = season_rigs(season, say)
    typer.echo(told_of_rigs(known, rig_version, swap))


@app.command(
    epilog=_such_as(
        "note my-season",
        "note 'came fast, port wing torn, 2 hrs'",
        "note --file notes.csv --column remarks --out read.csv",
    )
)
def note(
    what: Annotated[
        str | None,
        typer.Argument(
            metavar="[SEASON|TEXT]", help="A season whose notes to look over, or one note to read."
        ),
    ] = None,
    file: Annotated[Path | None, typer.Option(help="A CSV file with one note a row.")] = None,
    column: Annotated[str, typer.Option(help="Its column with the notes.")] = "damage_note",
    out: Annotated[
        Path | None,
        typer.Option(help="The file to write; for a season, else its damage_review.csv."),
    ] = None,
    words: Annotated[
        Path | None, typer.Option(help="A note_words.toml with words of your own.")
    ] = None,
    json: Annotated[bool, typer.Option("--json", help="One note's reading for programs.")] = False,
) -> None:
    """What damage notes say, on which words that rests, and how sure it is."""
    if (what is None) == (file is None):
        raise WrongUsageError(
            "Give a season, one note in quotes, or --file; see rigseason note -h."
        )
    if file is not None:
        if out is None:
            raise WrongUsageError("Name the file to write with --out.")
        _note_file(file, column, out, words)
    elif what is not None and _lies_there(what):
        if words is not None:
            raise WrongUsageError(
                "A season's own words of notes stand in its folder, in note_words.toml; --words is "
                "for a note or a file of notes."
            )
        _note_season(Path(what), out)
    elif what is not None and _looks_like_a_path(what):
        raise WrongUsageError(f"There is no folder or workbook {what}.")
    elif what is not None:
        _note_text(what, words, as_json=json)
        if not set(" \t\n") & set(what.strip()):
            typer.echo("There is no folder or workbook of that name: read as a note.", err=True)


def _lies_there(what: str) -> bool:
    """Whether it is the path of a folder or file."""
    try:
        return bool(what.strip()) and Path(what).exists()
    except (OSError, ValueError):
        return False


def _looks_like_a_path(what: str) -> bool:
    """Whether it is hardly a note: one word that leads through a folder that is there."""
    return not set(" \t\n,;") & set(what) and "/" in what and _lies_there(str(Path(what).parent))


def _note_text(text: str, words: Path | None, *, as_json: bool) -> None:
    from pipeline.note_words import words_in
    from pipeline.notes.reading import read_note
    from reports.note_words import note_as_json, told_of_note

    reading = read_note(text, words_in(words))
    typer.echo(note_as_json(text, reading) if as_json else told_of_note(reading))


def _note_file(file: Path, column: str, out: Path, words: Path | None) -> None:
    from pipeline.note_file import read_note_file
    from pipeline.note_words import words_in
    from reports.terminal import so_many

    with _progress() as say:
        rows, told = read_note_file(file, column, out, words_in(words), say)
    of_them = so_many(told, "of which says", "of which say")
    typer.echo(f"{so_many(rows, 'note', 'notes')}, {of_them} whether the net was damaged: {out}")


def _note_season(season: Path, out: Path | None) -> None:
    from pipeline.good_rows import check_season
    from pipeline.note_review import review_of
    from pipeline.note_words import readings_of
    from reports.review_file import (
        need_whole_reviews,
        review_place,
        review_reading,
        told_of_review,
        write_review,
    )

    with _progress() as say:
        folder, checked = check_season(season, say)
        place = review_place(folder, out)
        reading = review_reading(folder, place)
        need_whole_reviews(checked, place, reading)
        say("Reading the damage notes")
        review = review_of(checked, readings_of(folder, checked))
        write_review(review, place, reading)
    typer.echo(told_of_review(review, place))


@app.command(
    epilog=_such_as(
        "report my-season --out report-2031",
        "report my-season --out trial --for study --reference discs-8",
        "report our-boats --out co-op-2031 --for coop",
        "report my-season --show-model damage_events",
    )
)
def report(
    season: Season,
    out: Annotated[Path | None, typer.Option(help="Folder to write; whole or not at all.")] = None,
    readers: Annotated[
        list[str] | None,
        typer.Option("--for", metavar="|".join(READERS), help="The reader; several with commas."),
    ] = None,
    reference: Annotated[
        str | None, typer.Option(help="The rig to hold others against, if not the season's own.")
    ] = None,
    boats: Annotated[
        list[str] | None,
        typer.Option("--boat", metavar="NAME", help="With --for coop: a page for this boat alone."),
    ] = None,
    language: Annotated[
        str, typer.Option(metavar="|".join(LANGUAGES), help="The language of the pages.")
    ] = LANGUAGES[0],
    show_model: Annotated[
        str | None,
        typer.Option(metavar="OUTCOME", help="Print the whole model of an outcome, term by term."),
    ] = None,
) -> None:
    """Compare the rigs of a season and write the report."""
    if out is None and show_model is None:
        raise WrongUsageError("Name the folder to write with --out.")
    told_to = _readers(readers or list(READERS[:1]))
    own_pages = list(dict.fromkeys(boats or []))
    if own_pages and "coop" not in told_to:
        raise WrongUsageError("A boat's own page lies beside the co-op's: add --for coop.")
    if language not in LANGUAGES:
        raise WrongUsageError(
            f"There is no report in {language!r}{did_you_mean(language, LANGUAGES)}; --language "
            f"takes {', '.join(LANGUAGES)}."
        )
    with second_process() as second, _progress() as say:
        begun = begin_reading(season, say, second)
        from pipeline.run_season import run_season
        from reports.language import language_of, told_in

        with told_in(language_of(language)):
            results = run_season(season, out, say, reference, told_to, own_pages, second, begun)
    from reports.in_short import in_short, rows_in_short

    if show_model is not None:
        from pipeline.rates.by_statsmodels import made_again
        from reports.standing.models import shown_models

        again = partial(made_again, results.fitted)
        typer.echo(shown_models(results.findings, show_model, again))
    if out is not None:
        shared_alone = told_to == ["coop"]
        typer.echo(rows_in_short(results.findings) if shared_alone else in_short(results.findings))
        from reports.folder import pages_of, shared_in, to_hand_on

        if "coop" in told_to:
            from reports.coop.for_the_manager import for_the_manager

            untold = shared_in(out, told_to, own_pages) if shared_alone else None
            for line in for_the_manager(results, untold):
                typer.echo(line)
        pages = map(str, pages_of(out, told_to, own_pages))
        typer.echo(f"\nThe report: {', '.join(pages)}")
        if "coop" in told_to:
            typer.echo(to_hand_on(out, told_to, own_pages))


def _readers(asked: list[str]) -> list[str]:
    """The readers asked for, each once; several may stand in one word: skipper,study."""
    named = [name.strip() for words in asked for name in words.split(",")]
    for name in named:
        if name not in READERS:
            raise WrongUsageError(
                f"There is no report for {name!r}{did_you_mean(name, READERS)}; --for takes "
                f"{', '.join(READERS)}."
            )
    return list(dict.fromkeys(named))


@contextmanager
def _progress() -> Iterator[Callable[[str], None]]:
    """Tells each step on standard error: a line that moves on a terminal, plain lines elsewhere."""
    from rich.console import Console

    console = Console(stderr=True)
    with console.status("Starting") as status:

        def say(step: str) -> None:
            if console.is_terminal:
                status.update(step)
            else:
                console.print(f"{step} …")

        yield say


if __name__ == "__main__":
    main()

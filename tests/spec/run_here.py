"""A command in the tests' own process: what it says and gives back, without a start of Python."""

from __future__ import annotations

from contextlib import chdir
from subprocess import CompletedProcess
from typing import TYPE_CHECKING

from typer.testing import CliRunner

from pipeline.cli import app
from pipeline.problems import RigseasonError

if TYPE_CHECKING:
    from pathlib import Path


def run_here(*words: str, cwd: Path) -> CompletedProcess[str]:
    """As `run` of `test_commands.py` gives it; what no command should raise is raised here too."""
    with chdir(cwd):
        done = CliRunner().invoke(app, words)
    if isinstance(done.exception, RigseasonError):
        sentences = "".join(f"{sentence}\n" for sentence in done.exception.sentences)
        return CompletedProcess(words, done.exception.exit_code, done.stdout, sentences)
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        raise done.exception
    return CompletedProcess(words, done.exit_code, done.stdout, done.stderr)

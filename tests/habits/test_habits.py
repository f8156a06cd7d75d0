"""The habits of the house, each by the tool that holds it."""

from __future__ import annotations

import subprocess
import sysconfig
from pathlib import Path

import pytest

from tests.habits.dead_code import unread

ROOT = Path(__file__).parent.parent.parent
TOOLS = Path(sysconfig.get_path("scripts"))

HABITS = {
    "style": ["ruff", "check", "--quiet", "."],
    "format": ["ruff", "format", "--check", "--quiet", "."],
    "types": ["mypy"],
    "rooms": ["lint-imports"],
    "unused dependencies": ["deptry", "."],
}


@pytest.mark.parametrize("command", HABITS.values(), ids=HABITS.keys())
def test_habit(command: list[str]) -> None:
    done = subprocess.run(
        [str(TOOLS / command[0]), *command[1:]],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_no_code_is_dead_and_no_name_passed_by_in_vain() -> None:
    dead, needless = unread()
    assert dead == []
    assert needless == set()


def test_no_file_grows_so_long_that_a_reader_gets_lost() -> None:
    tracked = subprocess.run(
        ["git", "ls-files", "*.py", "*.sql"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    files = tracked.stdout.split() or [
        str(path.relative_to(ROOT))
        for room in ("pipeline", "schemas", "reports", "synthetic_data", "tests")
        for path in (ROOT / room).rglob("*.py")
    ]
    lengths = {
        name: len((ROOT / name).read_text(encoding="utf-8").splitlines())
        for name in files
        if (ROOT / name).exists()
    }
    assert lengths
    assert {name: length for name, length in lengths.items() if length > 400} == {}


def test_every_room_of_the_pipeline_says_what_it_is_for() -> None:
    for package in [p.parent for p in ROOT.glob("pipeline/*/__init__.py")]:
        text = (package / "__init__.py").read_text(encoding="utf-8")
        assert text.startswith('"""'), package

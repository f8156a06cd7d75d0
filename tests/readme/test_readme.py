"""What the README shows is what the program does."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from demo_answers import demo_answers

from schemas.documentation import with_generated_parts

ROOT = Path(__file__).parent.parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("page", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_the_season_folder_is_described_as_the_schemas_have_it(page: str) -> None:
    assert with_generated_parts(page) == page


def test_the_demonstration_gives_the_answers_of_the_readme(demo: Path) -> None:
    assert demo_answers(demo) in README


def test_the_python_of_the_readme_runs(demo: Path) -> None:
    (code,) = re.findall(r"```python\n(.*?)```", README, re.DOTALL)
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=demo.parent,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert "damage_events rockhopper-16" in done.stdout


def test_the_season_toml_of_the_readme_is_valid() -> None:
    import tomllib

    from pipeline.intake.settings import parse_settings

    text = "".join(re.findall(r"```toml\n(.*?)```", README, re.DOTALL))
    settings = parse_settings(tomllib.loads(text))
    assert settings.source("hauls").column_source("depth_m").unit == "fathom"


def test_every_command_is_in_the_readme() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "pipeline.cli", "--help"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    commands = re.findall(r"^│ (\w+)  ", done.stdout, re.MULTILINE)
    assert set(commands) >= {"demo", "check", "report"}
    for command in commands:
        assert f"rigseason {command}" in README


def test_every_file_that_the_developers_page_names_is_there() -> None:
    named = re.findall(r"`((?:schemas|pipeline|reports|tests|synthetic_data)/[\w./]*)`", DEVELOPERS)
    assert named
    assert [name for name in named if not (ROOT / name).exists()] == []

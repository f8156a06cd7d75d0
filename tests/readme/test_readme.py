"""What the README shows is what the program does."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import duckdb
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


def test_the_headlines_of_the_demonstration_are_those_of_the_readme(demo: Path) -> None:
    findings = json.loads((demo / "report" / "findings.json").read_text(encoding="utf-8"))
    (many,) = re.findall(r"among (\d+) comparisons, that leaves rockhopper-16, in damage", README)
    assert findings["standing"]["looks"]["comparisons"] == int(many)
    judged = [effect for effect in findings["effects"] if effect["p_adjusted"] is not None]
    of_all, alone = (
        {(e["rig"], e["outcome"]) for e in judged if e[verdict] in {"lower", "higher"}}
        for verdict in ("verdict", "verdict_alone")
    )
    damage, fish = "damage_events", "bottom_living_kg"
    assert of_all == {("rockhopper-16", damage), ("rockhopper-16", fish)}
    assert alone - of_all == {("chain-13", damage), ("grass-60", damage), ("grass-60", fish)}


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
    assert "bottom_living_kg rockhopper-16" in done.stdout


def test_the_season_toml_of_the_readme_is_valid() -> None:
    from pipeline.intake.settings import parse_settings

    blocks = re.findall(r"```toml\n(.*?)```", README, re.DOTALL)
    (across,) = (block for block in blocks if "[catches.across]" in block)
    text = "".join(block for block in blocks if "[harm]" not in block and block != across)
    settings = parse_settings(tomllib.loads(text))
    assert settings.source("hauls").column_source("depth_m").unit == "fathom"
    assert settings.source("catches").column_source("kept_kg").times == 40
    in_place = parse_settings(tomllib.loads(across))
    assert in_place.source("catches").across["kept_kg"]["HAD"] == "Haddock"


def test_the_words_of_the_readme_are_read_as_the_readme_says() -> None:
    from pipeline.notes.own_words import lexicon_with
    from pipeline.notes.reading import read_note

    ours, spanish = (
        lexicon_with(tomllib.loads(block), "note_words.toml")
        for block in re.findall(r"```toml\n(.*?)```", README, re.DOTALL)
        if "[harm]" in block
    )
    note = "the breeks gralloched on the auld boiler"
    read, without = read_note(note, ours), read_note(note)
    assert (read.damaged.value, read.parts.value, read.cause.value) == (
        "yes",
        ("belly",),
        ("fast",),
    )
    assert without != read
    of_spanish = {
        "vientre rajado": "yes",
        "salió limpio": "no",
        "sin averías": "no",
        "mucho fango en el saco": None,
    }
    read_so = {note: read_note(note, spanish).damaged.value for note in of_spanish}
    assert read_so == of_spanish


def test_the_query_of_the_readme_names_the_notes_behind_the_belly(demo: Path) -> None:
    (query,) = re.findall(r"```sql\n(.*?)```", README, re.DOTALL)
    with duckdb.connect(str(demo / "report" / "results.duckdb"), read_only=True) as results:
        found = results.sql(query).fetchall()
    assert len(found) > 10
    assert all(re.search("bell|bait", note, re.IGNORECASE) for _, _, note in found)


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

"""A command loads no more than it needs; a program that only calls this one is left as it is."""

from __future__ import annotations

import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from tests.spec.season_texts import valid_season

if TYPE_CHECKING:
    from pathlib import Path

AS_A_COMMAND = """
import sys
from pipeline.cli import main
sys.argv = ["rigseason", {command!r}, {season!r}]
try:
    main()
except SystemExit as leaving:
    assert not leaving.code, leaving.code
heavy = {{"pandas", "hypothesis", "scipy", "statsmodels", "altair", "vl_convert"}}
print("loaded:", *sorted(heavy & set(sys.modules)))
"""
AS_A_LIBRARY = """
import sys
from pipeline.good_rows import check_season
check_season({season!r})
import pandera.pandas as pa
import pandas as pd
pa.DataFrameSchema({{"hauls": pa.Column(int)}}).validate(pd.DataFrame({{"hauls": [1]}}))
print("both")
"""


@pytest.mark.parametrize("command", ["check", "rig"])
def test_a_command_that_draws_nothing_loads_nothing_that_draws_or_fits(
    command: str, tmp_path: Path
) -> None:
    valid_season().write_csv(tmp_path / "season")
    assert _last_line_of(AS_A_COMMAND, tmp_path, command=command) == "loaded:"


def test_a_program_of_someone_elses_still_has_pandera_for_pandas(tmp_path: Path) -> None:
    valid_season().write_csv(tmp_path / "season")
    assert _last_line_of(AS_A_LIBRARY, tmp_path) == "both"


def _last_line_of(script: str, folder: Path, **named: str) -> str:
    """What a script on the folder's season prints last, run by itself."""
    code = script.format(season=str(folder / "season"), **named)
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=folder
    )
    return done.stdout.rstrip().rpartition("\n")[2]

"""What several folders of tests share: the demonstration, made once."""

from __future__ import annotations

import gc
import os
import subprocess
import sys
from pathlib import Path

import pytest
from filelock import FileLock

# As the command line does; every core has tests of its own.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

ROOT = Path(__file__).parent.parent
SAID = "said"
"""What the command said, in a file beside the folder."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The longest tests, which draw many seasons, come first: last, one core would stand idle."""
    items.sort(key=lambda item: item.path.parent.name != "properties")


def pytest_collection_finish() -> None:
    """What thousands of tests are told by stays to the end: no look for garbage goes through it."""
    gc.freeze()


@pytest.fixture(scope="session")
def root() -> Path:
    return ROOT


@pytest.fixture(scope="session")
def rigseason() -> list[str]:
    """The command, as it is run in this environment."""
    return [sys.executable, "-m", "pipeline.cli"]


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory, rigseason: list[str]) -> Path:
    """The folder that `rigseason demo` writes, by its own command; one for all that test at once.

    No test writes into it.
    """
    own = tmp_path_factory.getbasetemp()
    common = (own.parent if "PYTEST_XDIST_WORKER" in os.environ else own) / "demo"
    out = common / "rigseason-demo"
    with FileLock(f"{common}.lock"):
        if not (common / SAID).exists():
            common.mkdir()
            _write_demo(out, rigseason)
    return out


def _write_demo(out: Path, rigseason: list[str]) -> None:
    done = subprocess.run(
        [*rigseason, "demo", "--out", str(out)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    (out.parent / SAID).write_text(done.stdout, encoding="utf-8")

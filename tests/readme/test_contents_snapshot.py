"""The words of the whole report on the demonstration, kept: a change is seen before it is made."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import TYPE_CHECKING

from reports.contents import report_contents
from reports.page import season_page

if TYPE_CHECKING:
    from pathlib import Path

    from syrupy.assertion import SnapshotAssertion


def test_the_words_of_the_report(demo: Path, snapshot: SnapshotAssertion) -> None:
    findings = json.loads((demo / "report/findings.json").read_text(encoding="utf-8"))
    assert asdict(report_contents(findings)) == snapshot


def test_the_page_is_made_of_the_findings_alone(demo: Path) -> None:
    findings = json.loads((demo / "report/findings.json").read_text(encoding="utf-8"))
    written = (demo / "report/season-report.html").read_text(encoding="utf-8")
    assert season_page(findings) == written


def test_the_page_is_light(demo: Path) -> None:
    assert (demo / "report/season-report.html").stat().st_size < 2_000_000

"""The words of the whole report on the demonstration, kept: a change is seen before it is made."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import TYPE_CHECKING

import pytest

from reports.contents import report_contents
from reports.editions import EDITIONS
from reports.page import season_page

if TYPE_CHECKING:
    from pathlib import Path

    from syrupy.assertion import SnapshotAssertion

    from reports.editions import Edition


@pytest.fixture(params=EDITIONS)
def edition(request: pytest.FixtureRequest) -> Edition:
    return EDITIONS[request.param]


@pytest.fixture
def folder(demo: Path, edition: Edition) -> Path:
    return demo / "report/co-op" if edition.reader == "coop" else demo / "report"


def test_the_words_of_the_report(
    folder: Path, snapshot: SnapshotAssertion, edition: Edition
) -> None:
    findings = json.loads((folder / "findings.json").read_text(encoding="utf-8"))
    if "method" in findings:
        findings["method"]["software"] = dict.fromkeys(findings["method"]["software"], "0")
    assert asdict(report_contents(findings, edition)) == snapshot


def test_the_page_is_made_of_the_findings_alone(folder: Path, edition: Edition) -> None:
    findings = json.loads((folder / "findings.json").read_text(encoding="utf-8"))
    written = (folder / edition.page).read_text(encoding="utf-8")
    assert season_page(findings, edition) == written


def test_the_page_is_light(folder: Path, edition: Edition) -> None:
    assert (folder / edition.page).stat().st_size < 2_000_000

"""What all page tests share: one browser, in which every test has a page of its own."""

from __future__ import annotations

import os
import shutil
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import sync_playwright

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """The browser that page tests need; required where RIGSEASON_PAGES says so.

    To start it takes longer than to open a page, and pages that it opens know nothing of each
    other.
    """
    found = shutil.which("chromium")
    if found is None:
        assert os.environ.get("RIGSEASON_PAGES") != "required", "no chromium on this machine"
        pytest.skip("Chromium is not installed, so no page can be opened")
    with (
        sync_playwright() as playwright,
        playwright.chromium.launch(executable_path=found, args=FLAGS) as browser,
    ):
        yield browser

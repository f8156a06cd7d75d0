"""The page without a mouse or a finger: every stop can be seen, and every chart be read."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.pages.test_page_in_a_browser import COOP, DESK, REPORT, SKIPPER, opened

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

pytestmark = pytest.mark.page

STOP = """() => {
  const at = document.activeElement, look = getComputedStyle(at);
  const box = at.getBoundingClientRect();
  return {
    what: at.matches('a, summary, .wide, .chart') ? at.tagName : `no stop: ${at.outerHTML}`,
    seen: look.outlineStyle !== 'none' && box.bottom > 0 && box.top < innerHeight,
    named: Boolean((at.getAttribute('aria-label') || at.textContent).trim()),
  };
}"""


@pytest.mark.parametrize("report", [SKIPPER, REPORT, COOP], ids=["skipper", "study", "coop"])
def test_every_stop_is_named_and_can_be_seen(chromium: Browser, demo: Path, report: str) -> None:
    with opened(chromium, demo / report, DESK) as (page, _):
        stops = []
        for _press in range(25):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement === document.body"):
                break
            stops.append(page.evaluate(STOP))
    assert len(stops) > 10
    assert {stop["what"] for stop in stops} <= {"A", "SUMMARY", "DIV"}
    assert all(stop["seen"] and stop["named"] for stop in stops)


def test_what_is_folded_opens_and_shuts(chromium: Browser, demo: Path) -> None:
    with opened(chromium, demo / SKIPPER, DESK) as (page, _):
        folded = page.locator("details.folded").first
        folded.locator("summary").first.focus()
        states = []
        for _press in range(2):
            page.keyboard.press("Enter")
            states.append(folded.evaluate("each => each.open"))
    assert states == [True, False]


def test_arrows_go_from_mark_to_mark_of_a_chart(chromium: Browser, demo: Path) -> None:
    with opened(chromium, demo / REPORT, DESK) as (page, _):
        chart = page.locator("#ratio-damage-events .chart")
        chart.focus()
        told = []
        for key in ("ArrowRight", "ArrowRight", "ArrowLeft"):
            page.keyboard.press(key)
            told.append(page.locator("#tip").inner_text())
        page.keyboard.press("Escape")
        hidden = page.locator("#tip").is_hidden()
    assert all(told)
    assert told[0] == told[2] != told[1]
    assert hidden

"""What stands below the skipper's first screen, in a real browser."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.pages.test_page_in_a_browser import DESK, SKIPPER, SMALL_PHONE, opened

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

pytestmark = pytest.mark.page

INSIDE = """figure => {
  const frame = figure.querySelector('path.background').getBoundingClientRect();
  return [...figure.querySelectorAll('[aria-roledescription="point"]')].filter(mark => {
    const { left, right, top, bottom } = mark.getBoundingClientRect();
    const [x, y] = [(left + right) / 2, (top + bottom) / 2];
    return x < frame.left || x > frame.right || y < frame.top || y > frame.bottom;
  }).length;
}"""


def test_the_page_stays_short_until_something_is_unfolded(chromium: Browser, demo: Path) -> None:
    with opened(chromium, demo / SKIPPER, SMALL_PHONE) as (page, _):
        assert page.evaluate("document.documentElement.scrollHeight") < 15_000
        page.evaluate("document.querySelectorAll('details').forEach(each => each.open = true)")
        assert page.evaluate("document.documentElement.scrollHeight") > 30_000
        assert page.evaluate("document.documentElement.scrollWidth") <= SMALL_PHONE["width"]


def test_every_mark_of_strips_and_map_says_its_rig_first(chromium: Browser, demo: Path) -> None:
    with opened(chromium, demo / SKIPPER, SMALL_PHONE) as (page, _):
        figures = page.locator('[id^="strip-"], #map-of-hauls')
        assert figures.count() == 5
        for figure in figures.all():
            marks = figure.locator(
                '[aria-roledescription="point"], [aria-roledescription="bar"], '
                '[aria-roledescription="rect mark"]'
            )
            said = marks.evaluate_all("all => all.map(mark => mark.ariaLabel)")
            assert len(said) > 50
            rigs = {words.split(":")[0] for words in said}
            assert rigs <= {
                row.split("\n")[0].split(" ")[0]
                for row in page.locator("#damage-by-rig-and-ground tbody th").all_inner_texts()
            }


def test_no_haul_is_drawn_outside_the_map(chromium: Browser, demo: Path) -> None:
    with opened(chromium, demo / SKIPPER, SMALL_PHONE) as (page, _):
        figure = page.locator("#map-of-hauls")
        assert figure.locator('[aria-roledescription="point"]').count() > 300
        assert figure.evaluate(INSIDE) == 0


def test_a_touched_trip_says_its_figures(chromium: Browser, demo: Path) -> None:
    with opened(chromium, demo / SKIPPER, SMALL_PHONE) as (page, said):
        bar = page.locator('[id^="strip-"] [aria-roledescription="bar"]').first
        bar.dispatch_event("click")
        assert "hauls with damage" in page.locator("#tip").inner_text()
        assert page.locator('[id^="strip-"] .dim').count() > 50
        marked = page.locator(".chart .touched").evaluate_all("all => all.map(m => m.ariaLabel)")
        assert set(marked) == {page.locator("#tip").inner_text()}
        assert said == []


def test_a_rig_is_drawn_at_a_tap(chromium: Browser, demo: Path) -> None:
    with opened(chromium, demo / SKIPPER, SMALL_PHONE) as (page, _):
        sheet = page.locator("details.rig-sheet").first
        assert not sheet.locator("svg").first.is_visible()
        sheet.locator("summary").first.click()
        assert sheet.locator("svg").first.is_visible()


def test_a_link_to_what_is_folded_unfolds_it(chromium: Browser, demo: Path) -> None:
    with opened(chromium, demo / SKIPPER, DESK) as (page, said):
        page.locator("nav summary").click()
        page.locator('nav a[href="#how-to-read"]').click()
        assert page.locator("#how-to-read li").first.is_visible()
        assert said == []

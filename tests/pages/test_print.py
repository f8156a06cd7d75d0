"""The pages on paper: nothing runs off the side of an A4 sheet, and no chart is cut in two."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.pages.test_odd_seasons import CUT_OFF, OPEN_ALL
from tests.pages.test_page_in_a_browser import COOP, REPORT, SKIPPER, opened

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

pytestmark = pytest.mark.page

SHEET = {"width": round((210 - 2 * 16) / 25.4 * 96), "height": round((297 - 2 * 16) / 25.4 * 96)}
"""A4 within its margins, in the pixels of CSS; Chromium lays a page out to this width."""
PAPER = 1.02
"""A chart may be as tall as a sheet, but for rounding."""


@pytest.mark.parametrize(
    ("report", "most_sheets"),
    [(SKIPPER, 11), (REPORT, 52), (COOP, 6)],
    ids=["skipper", "study", "coop"],
)
def test_a_page_is_whole_on_paper(
    chromium: Browser, demo: Path, report: str, most_sheets: int
) -> None:
    with opened(chromium, demo / report, SHEET) as (page, _):
        page.emulate_media(media="print")
        cut_off = page.evaluate(CUT_OFF)
        charts = page.locator(".chart svg").evaluate_all(
            "all => all.map(each => each.getBoundingClientRect().height)"
        )
        printed = page.pdf(format="A4", prefer_css_page_size=True)
    assert cut_off == []
    assert max(charts) <= SHEET["height"] * PAPER
    assert 1 <= printed.count(b"/Type /Page\n") <= most_sheets


@pytest.mark.parametrize("report", [SKIPPER, REPORT, COOP], ids=["skipper", "study", "coop"])
def test_every_table_is_whole_on_paper_once_it_is_unfolded(
    chromium: Browser, demo: Path, report: str
) -> None:
    with opened(chromium, demo / report, SHEET) as (page, _):
        page.emulate_media(media="print")
        page.evaluate(OPEN_ALL)
        right = page.locator("table").evaluate_all(
            "all => all.map(each => each.getBoundingClientRect().right)"
        )
        named = page.locator(".wide:not(:has(.unseen))").evaluate_all(
            "all => all.map(each => [each.ariaLabel, getComputedStyle(each, '::before').content])"
        )
    assert max(right) <= SHEET["width"] + 1
    assert len(named) > 3
    assert all(f'"{words}"' == content.replace('\\"', '"') for words, content in named)


def test_paper_says_once_what_folded_is_and_has_net_damage_unfolded(
    chromium: Browser, demo: Path
) -> None:
    with opened(chromium, demo / SKIPPER, SHEET) as (page, _):
        notice, chart = page.locator("p.on-paper"), page.locator("#ratio-damage-events .chart")
        on_screen = notice.is_visible(), chart.is_visible()
        page.emulate_media(media="print")
        on_paper = notice.is_visible(), chart.is_visible()
        marked = page.locator("#damage-events > details > summary, #notes > details > summary")
        marks = marked.evaluate_all("all => all.map(each => getComputedStyle(each).listStyleType)")
        notices = notice.count()
    assert on_screen == (False, False)
    assert on_paper == (True, True)
    assert marks[0] == "none" != marks[1]
    assert notices == 1


def test_a_tall_chart_stands_on_paper_in_halves_and_on_the_screen_whole(
    chromium: Browser, demo: Path
) -> None:
    with opened(chromium, demo / REPORT, SHEET) as (page, _):
        whole = page.locator("#rate-damage-events .chart:not(.halves)")
        halves = page.locator("#rate-damage-events .halves")
        on_screen = whole.is_visible(), halves.is_visible()
        high = whole.bounding_box()
        page.emulate_media(media="print")
        on_paper = whole.is_visible(), halves.is_visible()
        less_high = halves.bounding_box()
    assert (on_screen, on_paper) == ((True, False), (False, True))
    assert high is not None
    assert less_high is not None
    assert less_high["height"] < 0.7 * high["height"]

"""The pages on paper: nothing runs off the side of an A4 sheet, and no chart is cut in two."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.pages.test_odd_seasons import CUT_OFF, OPEN_ALL
from tests.pages.test_page_in_a_browser import COOP, REPORT, SKIPPER, opened

if TYPE_CHECKING:
    from pathlib import Path

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
def test_a_page_is_whole_on_paper(chromium: str, demo: Path, report: str, most_sheets: int) -> None:
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
    chromium: str, demo: Path, report: str
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


def test_a_folded_part_says_on_paper_that_it_is_folded(chromium: str, demo: Path) -> None:
    with opened(chromium, demo / SKIPPER, SHEET) as (page, _):
        said = "each => getComputedStyle(each, '::after').content"
        folded = page.locator("main details:not([open]) > summary")
        on_screen = folded.first.evaluate(said)
        page.emulate_media(media="print")
        contents = folded.evaluate_all(f"all => all.map({said})")
        words = folded.evaluate_all("all => all.map(each => each.dataset.onPaper)")
        page.locator("main details").first.evaluate("each => { each.open = true; }")
        opened_up = page.locator("main details[open] > summary").first.evaluate(said)
    assert on_screen == opened_up == "none"
    assert set(words) == {"(folded; open it before printing)"}
    assert all("attr(data-on-paper)" in each or words[0] in each for each in contents)

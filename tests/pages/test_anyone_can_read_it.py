"""What keeps people from reading a page: axe-core's rules of WCAG 2.2 A and AA, in a real browser.

Source: W3C, Web Content Accessibility Guidelines 2.2, 2023; the rules are Deque's axe-core, as
axe-playwright-python brings them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from axe_playwright_python.sync_playwright import Axe

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

pytestmark = pytest.mark.page

RULES = {
    "runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]},
    "resultTypes": ["violations"],  # of thousands that pass it would say where each stands
}
PAGES = {
    "skipper": "report/season-report.html",
    "coop": "report/co-op/co-op-report.html",
}
TEXT = {"include": [["body"]], "exclude": [[".chart svg"]]}
"""All but the insides of charts, whose thousands of marks take minutes; other tests hold that
each mark has its words. The study's page is not looked at for the same reason."""
NO_SHADOWS = "* { background-image: none !important; }"
"""Against the shadow at the edge of a table that scrolls axe can tell no contrast of its cells."""
OPEN_ALL = "document.querySelectorAll('details').forEach(each => { each.open = true; })"


@pytest.mark.parametrize(
    ("page", "scheme", "width"), [("skipper", "light", 320), ("coop", "dark", 1280)]
)
def test_nothing_keeps_people_from_reading_it(
    chromium: Browser, demo: Path, page: str, scheme: str, width: int
) -> None:
    with chromium.new_page(
        viewport={"width": width, "height": 800}, color_scheme=scheme, bypass_csp=True
    ) as shown:
        shown.goto((demo / PAGES[page]).as_uri())
        shown.evaluate(OPEN_ALL)
        shown.add_style_tag(content=NO_SHADOWS)
        found = Axe().run(shown, context=TEXT, options=RULES).response["violations"]
    assert [(each["id"], each["nodes"][0]["html"][:120]) for each in found] == []

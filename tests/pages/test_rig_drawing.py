"""Drawings of rigs in a real browser: nothing runs into anything else, nothing is cut off."""

from __future__ import annotations

import base64
import hashlib
from html import escape
from importlib.resources import files
from typing import TYPE_CHECKING, Any

import pytest

from reports.rig_drawing.plan_view import plan_view
from reports.rig_drawing.side_view import side_view
from tests.pages.boxes import overlap, within
from tests.spec.drawn_rigs import RIGS

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

pytestmark = pytest.mark.page

PHONE = {"width": 390, "height": 844}
LEAST_TEXT_PX = 11.0

MEASURE = """() => [...document.querySelectorAll('svg.rig-drawing')].map(svg => {
  const box = e => { const r = e.getBoundingClientRect();
                     return [r.left, r.top, r.right, r.bottom] };
  const drawn = [...svg.querySelectorAll('*')].filter(
    e => e.getBBox && !e.closest('[clip-path]') && !e.closest('clipPath') && e.tagName != 'g');
  return {title: svg.querySelector('title').textContent, box: box(svg),
          drawn: drawn.map(e => [e.tagName, e.getAttribute('class'), box(e)]),
          texts: [...svg.querySelectorAll('text')].map(e => {
            const b = e.getBBox(), m = svg.getScreenCTM();
            return [e.textContent, [b.x, b.y, b.x + b.width, b.y + b.height],
                    parseFloat(getComputedStyle(e).fontSize) * m.a] }),
          solid: [...svg.querySelectorAll('.rig-dot, .rig-solid')].map(e => {
            const b = e.getBBox(); return [b.x, b.y, b.x + b.width, b.y + b.height] })}
})"""


def page_of_drawings() -> str:
    style = (files("reports") / "templates" / "season-report.css").read_text(encoding="utf-8")
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    policy = f"default-src 'none'; style-src 'sha256-{digest}'"
    drawings = (
        f"<h3>{escape(name)}</h3><figure>{side_view(rig)}</figure>"
        f"<figure>{side_view(rig, 'wing')}</figure><figure>{plan_view(rig)}</figure>"
        for name, rig in RIGS.items()
    )
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">'
        f'<meta name="viewport" content="width=device-width"><title>Rigs</title>'
        f"<style>{style}</style></head><body><main>{''.join(drawings)}</main></body></html>"
    )


@pytest.fixture(scope="module")
def measured(
    chromium: Browser, tmp_path_factory: pytest.TempPathFactory
) -> tuple[list[dict[str, Any]], list[str]]:
    """Every drawing as it is laid out on a phone, and whatever the browser complains of."""
    path: Path = tmp_path_factory.mktemp("rigs") / "rigs.html"
    path.write_text(page_of_drawings(), encoding="utf-8")
    said: list[str] = []
    with chromium.new_page(viewport=PHONE) as page:
        page.on("console", lambda message: said.append(message.text))
        page.goto(path.as_uri())
        return page.evaluate(MEASURE), said


def test_every_drawing_is_there_and_the_browser_has_no_complaint(
    measured: tuple[list[dict[str, Any]], list[str]],
) -> None:
    drawings, said = measured
    assert len(drawings) == 3 * len(RIGS)
    assert said == []


def test_nothing_reaches_out_of_a_drawing(
    measured: tuple[list[dict[str, Any]], list[str]],
) -> None:
    outside = [
        (drawing["title"], tag, look)
        for drawing in measured[0]
        for tag, look, box in drawing["drawn"]
        if not within(box, drawing["box"])
    ]
    assert outside == []


def test_no_text_runs_into_another_or_into_an_arrow_head_or_the_line(
    measured: tuple[list[dict[str, Any]], list[str]],
) -> None:
    clashes = []
    for drawing in measured[0]:
        texts = drawing["texts"]
        for place, (words, box, _) in enumerate(texts):
            clashes += [
                (drawing["title"], words, others)
                for others, other, _ in texts[place + 1 :]
                if overlap(box, other)
            ]
            clashes += [
                (drawing["title"], words, "a solid mark")
                for mark in drawing["solid"]
                if overlap(box, mark)
            ]
    assert clashes == []


def test_text_is_large_enough_to_read_on_a_phone(
    measured: tuple[list[dict[str, Any]], list[str]],
) -> None:
    sizes = [size for drawing in measured[0] for _, _, size in drawing["texts"]]
    assert min(sizes) >= LEAST_TEXT_PX

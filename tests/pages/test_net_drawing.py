"""The net drawn and its section in a real browser, on a phone and on a wide page."""

from __future__ import annotations

import base64
import hashlib
from importlib.resources import files
from itertools import combinations
from typing import TYPE_CHECKING, Any

import pytest

from reports.language import language_of, told_in
from reports.net_drawing.legend import legend
from reports.net_drawing.shades import Shades
from reports.net_drawing.views import from_above, from_below
from reports.net_drawing.words import PartRate
from schemas.words import LANGUAGES, NET_PARTS
from tests.pages.boxes import overlap, within

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

pytestmark = pytest.mark.page

PHONE, WIDE = {"width": 390, "height": 844}, {"width": 1280, "height": 900}
LEAST_TEXT_PX = 11.0
SIDE = ("wing", "bunt", "belly")
NETS = {
    "never torn": {},
    "all sides told": dict.fromkeys(NET_PARTS, PartRate(1.44, 0.66, 0.88)),
    "often": dict.fromkeys(NET_PARTS, PartRate(188.0, 88.8, 0.001)),
    "some sides told": {
        part: PartRate(0.3 * at, 0.2 if part in SIDE else 0.0, 0.0)
        for at, part in enumerate(NET_PARTS)
    },
    "<script>document.title = 'run'</script>": dict.fromkeys(NET_PARTS, PartRate(44.4, 22.2, 11.1)),
}

MEASURE = """() => [...document.querySelectorAll('svg.rig-drawing')].map(svg => {
  const box = e => { const r = e.getBoundingClientRect();
                     return [r.left, r.top, r.right, r.bottom] };
  const drawn = [...svg.querySelectorAll('*')].filter(e => e.getBBox && e.tagName != 'g');
  const solid = '.net-part:not(.net-key):not(.net-whole_net), .net-rope, .net-dot';
  const m = svg.getScreenCTM();
  const inside = (e, x, y) => { const p = svg.createSVGPoint(); p.x = x; p.y = y;
    return e.isPointInFill(p) && getComputedStyle(e).fill != 'none' || e.isPointInStroke(p) };
  const reach = e => { const o = e.getBBox();
    const mitre = 2 * parseFloat(getComputedStyle(e).strokeWidth);
    return [o.x - mitre, o.y - mitre, o.x + o.width + mitre, o.y + o.height + mitre] };
  const solids = [...svg.querySelectorAll(solid)].map(e => [e, reach(e)]);
  const covered = t => { const b = t.getBBox(); const hits = [];
    for (const [e, o] of solids) {
      if (o[0] > b.x + b.width || o[1] > b.y + b.height || o[2] < b.x || o[3] < b.y) continue;
      for (let i = 0; i <= 12; i++) for (let j = 2; j <= 6; j++)
        if (inside(e, b.x + b.width * i / 12, b.y + b.height * j / 8)) {
          hits.push(e.getAttribute('class')); i = 99; break } }
    for (const e of svg.querySelectorAll('line'))
      for (let i = 0; i <= 60; i++) {
        const at = a => { const [from, to] = [1, 2].map(n => parseFloat(e.getAttribute(a + n)));
                          return from + (to - from) * i / 60 };
        if (at('x') > b.x + 1 && at('x') < b.x + b.width - 1
            && at('y') > b.y + 2 && at('y') < b.y + b.height - 2) { hits.push('line'); break } }
    return hits };
  return {title: svg.querySelector('title').textContent, box: box(svg),
          drawn: drawn.map(e => [e.tagName, e.getAttribute('class'), box(e)]),
          texts: [...svg.querySelectorAll('text')].map(e => [e.textContent, box(e),
            parseFloat(getComputedStyle(e).fontSize) * m.a, covered(e)]),
          fills: [...new Set([...svg.querySelectorAll('.net-part')].map(
            e => getComputedStyle(e).fill))]}
})"""


def drawings_in(tag: str) -> list[str]:
    """The drawings of every net, in that language."""
    shades = Shades(0.3)
    with told_in(language_of(tag)):
        return [
            f'<div class="net-views">{from_above(name, torn, shades)}'
            f"{from_below(name, torn, shades)}{legend(name, shades)}</div>"
            for name, torn in NETS.items()
        ]


def page_of_nets() -> str:
    style = "".join(
        (files("reports") / "templates" / name).read_text(encoding="utf-8")
        for name in ("season-report.css", "net-drawing.css")
    )
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    policy = f"default-src 'none'; style-src 'sha256-{digest}'"
    drawings = [drawing for tag in LANGUAGES for drawing in drawings_in(tag)]
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">'
        f'<meta name="viewport" content="width=device-width"><title>Nets</title>'
        f'<meta name="color-scheme" content="light dark">'
        f"<style>{style}</style></head><body><main>{''.join(drawings)}</main></body></html>"
    )


@pytest.fixture(scope="module")
def measured(chromium: Browser, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """Every drawing as it is laid out, by page and theme, and whatever the browser complains of."""
    path: Path = tmp_path_factory.mktemp("nets") / "nets.html"
    path.write_text(page_of_nets(), encoding="utf-8")
    found: dict[str, Any] = {"said": []}
    for name, size, theme in (
        ("phone", PHONE, "light"),
        ("phone, dark", PHONE, "dark"),
        ("wide", WIDE, "light"),
    ):
        with chromium.new_page(viewport=size, color_scheme=theme) as page:
            page.on("console", lambda message: found["said"].append(message.text))
            page.goto(path.as_uri())
            found[name] = page.evaluate(MEASURE)
            found[f"{name} overflow"] = page.evaluate(
                "document.documentElement.scrollWidth - document.documentElement.clientWidth"
            )
    return found


pages = pytest.mark.parametrize("page", ["phone", "phone, dark", "wide"])


@pages
def test_every_drawing_is_there_and_the_browser_has_no_complaint(
    measured: dict[str, Any], page: str
) -> None:
    assert len(measured[page]) == 3 * len(NETS) * len(LANGUAGES)
    assert measured["said"] == []
    assert measured[f"{page} overflow"] == 0


@pages
def test_nothing_reaches_out_of_a_drawing(measured: dict[str, Any], page: str) -> None:
    outside = [
        (drawing["title"], tag, look)
        for drawing in measured[page]
        for tag, look, box in drawing["drawn"]
        if not within(box, drawing["box"])
    ]
    assert outside == []


@pages
def test_no_text_runs_into_another(measured: dict[str, Any], page: str) -> None:
    clashes = [
        (drawing["title"], words, others)
        for drawing in measured[page]
        for (words, box, *_), (others, other, *_) in combinations(drawing["texts"], 2)
        if overlap(box, other)
    ]
    assert clashes == []


@pages
def test_no_text_lies_on_the_net_or_under_a_leader(measured: dict[str, Any], page: str) -> None:
    covered = [
        (drawing["title"], words, hits)
        for drawing in measured[page]
        for words, _, _, hits in drawing["texts"]
        if hits
    ]
    assert covered == []


@pages
def test_text_is_large_enough_to_read(measured: dict[str, Any], page: str) -> None:
    sizes = [size for drawing in measured[page] for _, _, size, _ in drawing["texts"]]
    assert min(sizes) >= LEAST_TEXT_PX


def test_the_views_stand_one_above_the_other_on_a_phone_and_side_by_side_on_a_wide_page(
    measured: dict[str, Any],
) -> None:
    above, below = (drawing["box"] for drawing in measured["phone"][:2])
    assert below[1] >= above[3]
    above, below = (drawing["box"] for drawing in measured["wide"][:2])
    assert below[0] >= above[2]
    assert below[1] == pytest.approx(above[1])


def test_shades_turn_round_with_the_page(measured: dict[str, Any]) -> None:
    # The key holds all of them: none, then five.
    light, dark = (measured[page][2]["fills"] for page in ("phone", "phone, dark"))
    assert len(light) == len(dark) == 6
    assert light[1:] == dark[:0:-1]

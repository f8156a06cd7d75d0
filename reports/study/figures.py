"""Every picture of the study's page as a file of its own: SVG, and PNG made of the same SVG.

A drawing of ours takes its looks from the page's style sheet; in a file of its own it brings those
rules with it, its colours written out, since few programs but browsers read variables.
"""

from __future__ import annotations

import re
from functools import cache
from html import unescape
from importlib.resources import files
from typing import TYPE_CHECKING

from reports.language import say
from reports.net_drawing.shades import STEPS
from reports.rig_drawing.svg import MARGIN, TEXT_PX, element, number, together, wrapped
from reports.rigs.section import rig_sheet_name
from reports.tears.section import tear_sheet_name
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from reports.page import Drawn, GearDrawings
    from reports.pictures import Pictures

TITLE_PX, TITLE_LINE, CHART_MARGIN = 14.0, 19.0, 14.0
"""The letters of a chart's title, from line to line, and what is left free about it."""
TITLE_LOOK = f"font: bold {TITLE_PX}px Helvetica, Arial, sans-serif"
OF_A_NET = saying("{rig}, damage by part of the net")
OURS = re.compile(r"\.(rig|net|tear)-")
RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
MIX = re.compile(r"color-mix\(in srgb, (#\w{6}|#\w{3}) (\d+)%, (#\w{6}|#\w{3})\)")
VARIABLE = re.compile(r"var\((--[\w-]+)\)")


def begin_figures(
    svgs: dict[str, str], folder: Path, pictures: Pictures
) -> list[Callable[[], None]]:
    """Write figures by their name into the folder, as SVG; the promise of each in pixels beside it.

    They are to be called for from the last on, as a second process begins with the first. Raises
    `OSError` if they can't be written.
    """
    for name, svg in svgs.items():
        (folder / f"{name}.svg").write_text(svg, encoding="utf-8")
    return [pictures.png(svg, folder / f"{name}.png") for name, svg in svgs.items()]


def finish_figures(promised: Sequence[Callable[[], None]]) -> None:
    """Call for the pixels of figures; raises `OSError` if they can't be written."""
    for written in reversed(promised):
        written()


def gear_figures(gear: GearDrawings) -> dict[str, str]:
    """Each rig from its sides and each torn net, which wait for no chart, by name on the page."""
    rigs = {
        f"{rig_sheet_name(rig)}-{view}": standing_alone(svg)
        for rig, views in gear.rigs.items()
        for view, svg in views.items()
    }
    nets = {
        tear_sheet_name(rig): standing_alone(_one_of(views, say(OF_A_NET, rig=rig)))
        for rig, views in gear.nets.items()
    }
    return rigs | nets


def chart_figures(drawn: Drawn) -> dict[str, str]:
    """The charts of a page, each as an SVG that stands by itself, and its other drawings."""
    titles = {
        figure.name: figure.alone or figure.title
        for section in drawn.contents.sections
        for figure in section.all_figures
    }
    charts = {name: titled(svg(), titles[name]) for name, svg in drawn.charts.items()}
    return charts | {name: standing_alone(svg) for name, svg in drawn.own_drawings.items()}


def _one_of(views: Sequence[str], title: str) -> str:
    """One drawing of a net from above and from below, and of the key under both."""
    (left, high), (right, as_high), (_, key_high) = map(_size, views)
    under = max(high, as_high)
    places = ((0.0, 0.0), (left, 0.0), (0.0, under))
    placed = (_put_at(view, x, y) for view, (x, y) in zip(views, places, strict=True))
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" role="img" '
        f'viewBox="0 0 {number(left + right)} {number(under + key_high)}">'
        f"{element('title', title)}{''.join(placed)}</svg>"
    )


def _put_at(view: str, x: float, y: float) -> str:
    """A drawing within another. Nothing reaches beyond it, and to cut it there takes long."""
    width, height = map(number, _size(view))
    where = f'x="{number(x)}" y="{number(y)}" width="{width}" height="{height}"'
    return view.replace("<svg", f'<svg {where} overflow="visible"', 1)


def on_white(svg: str, from_top: float = 0) -> str:
    """The picture on white, so that it can be read wherever it is put."""
    paper = f'<rect y="{from_top}" width="100%" height="100%" fill="#fff" stroke="none"/>'
    return svg.replace(">", f">{paper}", 1)


def titled(svg: str, title: str, from_left: float = CHART_MARGIN) -> str:
    """The picture on white, its title above it: no heading of a page goes with the file."""
    width, height = _size(svg)
    lines = wrapped(title, (width - 2 * from_left) * TEXT_PX / TITLE_PX)
    above = CHART_MARGIN + len(lines) * TITLE_LINE
    whole = re.sub(
        r' height="[^"]*" viewBox="[^"]*"',
        f' height="{height + above}" viewBox="0 {-above} {width} {height + above}"',
        svg,
        count=1,
    )
    words = (
        element(
            "text",
            line,
            x=from_left,
            y=place * TITLE_LINE + TITLE_LINE - above,
            style=f"{TITLE_LOOK}; fill: {_ink()}; stroke: none",
        )
        for place, line in enumerate(lines)
    )
    return on_white(whole, from_top=-above).replace("/>", f"/>{together(words)}", 1)


def standing_alone(svg: str) -> str:
    """A drawing of ours with its size, the rules of its looks, and its title where all see it."""
    width, height = _size(svg)
    sized = svg.replace("viewBox", f'color="{_ink()}" width="{width}" height="{height}" viewBox', 1)
    title = unescape(re.findall(r"<title[^>]*>([^<]*)", svg)[0])
    ruled = sized.replace("<title", f"<style>{drawing_rules()}</style><title", 1)
    return titled(ruled, title, MARGIN)


def _size(svg: str) -> tuple[float, float]:
    """How wide and high a picture is, in its units."""
    width, height = re.findall(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)[0]
    return float(width), float(height)


@cache
def drawing_rules() -> str:
    """The style sheet's rules for drawings of ours, on white paper, without variables."""
    style = _style()
    found = [
        (selector.strip(), body.strip())
        for selector, body in RULE.findall(_outside_media(style))
        if OURS.search(selector) and not selector.strip().startswith(".tear-")
    ]
    return "\n".join(
        f"{chosen} {{ {_plain(body, colours)} }}"
        for selector, body in found
        for chosen, colours in _by_shade(selector, body)
    )


def _by_shade(selector: str, body: str) -> list[tuple[str, dict[str, str]]]:
    """A rule as it is; of one that takes the shade of a part, a rule for each shade."""
    colours = _colours()
    if "var(--tear)" not in body:
        return [(selector, colours)]
    return [
        (
            f".tear-{shade}{selector}, .tear-{shade} {selector}",
            colours | {"--tear": colours[f"--tear-{shade}"] if shade else colours["--paper"]},
        )
        for shade in range(STEPS + 1)
    ]


def _plain(body: str, colours: dict[str, str]) -> str:
    named = VARIABLE.sub(lambda match: colours[match[1]], body)
    return MIX.sub(lambda match: _mixed(match[1], int(match[2]) / 100, match[3]), named)


def _mixed(first: str, share: float, second: str) -> str:
    """So much of the first colour in the second, each of red, green and blue by itself."""
    parts = zip(_channels(first), _channels(second), strict=True)
    return "#" + "".join(f"{round(a * share + b * (1 - share)):02x}" for a, b in parts)


def _channels(colour: str) -> list[int]:
    digits = colour.lstrip("#")
    whole = digits if len(digits) > 3 else "".join(2 * digit for digit in digits)
    return [int(whole[at : at + 2], 16) for at in (0, 2, 4)]


@cache
def _colours() -> dict[str, str]:
    """The page's colours by day, on white paper."""
    roots = re.findall(r":root \{([^}]*)\}", _outside_media(_style()))
    named = re.findall(r"(--[\w-]+):\s*(#\w+)", " ".join(roots))
    return {**dict(named), "--paper": "#fff"}


def _ink() -> str:
    return _colours()["--ink"]


@cache
def _style() -> str:
    folder = files("reports") / "templates"
    sheets = [
        (folder / name).read_text(encoding="utf-8")
        for name in ("season-report.css", "net-drawing.css")
    ]
    return re.sub(r"/\*.*?\*/", "", "".join(sheets), flags=re.DOTALL)


def _outside_media(style: str) -> str:
    """The rules that hold whatever they are shown on."""
    return re.sub(r"@\w+[^{]*\{(?:[^{}]*\{[^{}]*\})*[^{}]*\}", "", style)

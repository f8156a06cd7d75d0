"""Every picture of the study's page as a file of its own: SVG, and PNG made of the same SVG.

A drawing of ours takes its looks from the page's style sheet; in a file of its own it brings those
rules with it, its colours written out, since few programs but browsers read variables.
"""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, NamedTuple

from reports.net_drawing.shades import STEPS
from reports.rig_drawing.svg import TEXT_PX, element, together, wrapped

if TYPE_CHECKING:
    from collections.abc import Callable

    from reports.page import Drawn
    from reports.pictures import Pictures

NET_VIEWS = ("from-above", "from-below", "key")
TITLE_PX, TITLE_LINE, MARGIN = 14.0, 19.0, 14.0
"""The letters of a chart's title, from line to line, and what is left free about it."""
OURS = re.compile(r"\.(rig|net|tear)-")
RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
MIX = re.compile(r"color-mix\(in srgb, (#\w{6}|#\w{3}) (\d+)%, (#\w{6}|#\w{3})\)")
VARIABLE = re.compile(r"var\((--[\w-]+)\)")


class PromisedFigure(NamedTuple):
    """A figure as SVG, and the promise of it in pixels."""

    svg: str
    png: Callable[[], bytes]


def promised_figures(svgs: dict[str, str], pictures: Pictures) -> dict[str, PromisedFigure]:
    """Figures by their name; the pixels are asked for at once."""
    return {name: PromisedFigure(svg, pictures.png(svg)) for name, svg in svgs.items()}


def chart_figures(drawn: Drawn) -> dict[str, str]:
    """The charts of a page, each as an SVG that stands by itself, by its name on the page."""
    titles = {
        figure.name: figure.alone or figure.title
        for section in drawn.contents.sections
        for figure in section.all_figures
    }
    return {name: titled(svg(), titles[name]) for name, svg in drawn.charts.items()}


def own_figures(drawn: Drawn) -> dict[str, str]:
    """Likewise the pictures that we draw ourselves, which wait for nothing."""
    figures = {name: standing_alone(svg) for name, svg in drawn.own_drawings.items()}
    for section in drawn.contents.sections:
        for sheet in section.sheets:
            for view, svg in drawn.gear.rigs.get(sheet.rig, {}).items():
                figures[f"{sheet.name}-{view}"] = standing_alone(svg)
        for torn in section.tears:
            for view, svg in zip(NET_VIEWS, drawn.gear.nets.get(torn.rig, []), strict=False):
                figures[f"{torn.name}-{view}"] = standing_alone(svg)
    return figures


def on_white(svg: str, from_top: float = 0) -> str:
    """The picture on white, so that it can be read wherever it is put."""
    paper = f'<rect y="{from_top}" width="100%" height="100%" fill="#fff" stroke="none"/>'
    return svg.replace(">", f">{paper}", 1)


def titled(svg: str, title: str) -> str:
    """The chart on white, its title above it: no heading of a page goes with the file."""
    width, height = map(float, re.findall(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)[0])
    lines = wrapped(title, (width - 2 * MARGIN) * TEXT_PX / TITLE_PX)
    above = MARGIN + len(lines) * TITLE_LINE
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
            x=MARGIN,
            y=place * TITLE_LINE + TITLE_LINE - above,
            fill=_ink(),
            font_family="Helvetica, Arial, sans-serif",
            font_size=TITLE_PX,
            font_weight="bold",
        )
        for place, line in enumerate(lines)
    )
    return on_white(whole, from_top=-above).replace("/>", f"/>{together(words)}", 1)


def standing_alone(svg: str) -> str:
    """A drawing of ours with its size and the rules of its looks."""
    width, height = re.findall(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)[0]
    sized = svg.replace("<svg", f'<svg width="{width}" height="{height}" color="{_ink()}"', 1)
    return on_white(sized).replace("<title", f"<style>{drawing_rules()}</style><title", 1)


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

"""A tall chart of many panels for paper: its upper panels beside its lower ones, of one drawing.

On a phone panels stand one below another. On paper a chart so tall leaves sheets half empty, its
letters too small to read: there its two halves are seen through windows, side by side.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from markupsafe import Markup

FEWEST_PANELS, TALL = 4, 1.5
"""A chart of fewer panels, or not so many times as tall as it is wide, is left whole."""
NAME_ABOVE = 28.0
"""How far above a panel its name, and the room about it, begins."""
ABOVE_FIGURES = 5.5
"""How far below the top of the axis its figures begin, clear of those beside the last panel."""
VIEW = re.compile(r'<svg[^>]*? viewBox="0 0 ([\d.]+) ([\d.]+)"')
ALL_OF_IT = re.compile(r'<g (fill="none"[^>]*? transform="translate\([\d.]+,([\d.]+)\)")')
PANELS = "role-scope cell"
PANEL_TOP = re.compile(
    r'<g transform="translate\(0,([\d.]+)\)"><path class="background" aria-hidden="true" '
    r'd="M0,0h[1-9]'
)
AXIS_TOP = re.compile(r'role-column-footer[^>]*><g transform="translate\(0,([\d.]+)\)')


class Windows(NamedTuple):
    """Where the panels are cut in two, and where the axis begins that both halves go by."""

    wide: float
    high: float
    cut: float
    axis: float | None


def in_halves(svg: str, name: str) -> tuple[str, str]:
    """The SVG of a page, and its halves side by side for paper; of a chart not so tall, nothing."""
    windows = _windows(svg)
    if windows is None:
        return svg, ""
    whole = f"{name}-whole"
    wide, high, cut, axis = windows
    under = "" if axis is None else _window(whole, wide, axis, high)
    upper, lower = _window(whole, wide, 0, cut), _window(whole, wide, cut, high)
    halves = Markup("<div>{}{}</div><div>{}</div>").format(upper, under, lower)
    return ALL_OF_IT.sub(rf'<g id="{whole}" \1', svg, count=1), halves


def _windows(svg: str) -> Windows | None:
    """The windows on a chart that is tall enough; None on others."""
    view, all_of_it = VIEW.search(svg), ALL_OF_IT.search(svg)
    if view is None or all_of_it is None:
        return None
    wide, high = map(float, view.groups())
    down = float(all_of_it[2])
    found = set(map(float, PANEL_TOP.findall(svg.partition(PANELS)[2])))
    tops = [down + top - NAME_ABOVE for top in sorted(found)]
    if len(tops) < FEWEST_PANELS or high < TALL * wide:
        return None
    axis = AXIS_TOP.search(svg)
    axis_top = None if axis is None else down + float(axis[1]) + ABOVE_FIGURES
    under = 0.0 if axis_top is None else high - axis_top
    return Windows(
        wide, high, min(tops[1:], key=lambda cut: max(cut + under, high - cut)), axis_top
    )


def _window(whole: str, wide: float, top: float, bottom: float) -> Markup:
    """A part of the chart, from one height to another."""
    return Markup('<svg viewBox="0 {} {} {}"><use href="#{}"/></svg>').format(
        f"{top:g}", f"{wide:g}", f"{bottom - top:g}", whole
    )

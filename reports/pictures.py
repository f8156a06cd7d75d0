"""Pictures out of Vega-Lite and SVG, drawn by a second process beside the words.

vl_convert lets nothing else run in its process while it draws, and takes a second to begin. So the
second process draws while this one writes the pages. A picture is promised at once, and there when
the promise is called.
"""

from __future__ import annotations

import json
import os
import re
from contextlib import suppress
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import vl_convert

from pipeline.second_process import HERE
from reports.language import IN_ENGLISH, spoken

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.second_process import Here
    from reports.parts import Row

PNG_SCALE, MOST_ACROSS = 2.0, 840
"""Pixels to a unit, and across at most: as wide as most charts are, which is sharp in a printed
column; for what is to be larger there is the SVG."""
WIDTH = re.compile(r'<svg[^>]* width="([\d.]+)"')

EMPTY: Row = {"data": {"values": []}, "mark": "point"}

FONT_FOLDERS = ("/usr/share/fonts", "/usr/local/share/fonts", "~/.local/share/fonts", "~/.fonts")
"""Where a Linux keeps its fonts; elsewhere vl_convert finds them by itself."""
NO_FONTS = "<fontconfig><dir>{folder}</dir></fontconfig>"


@cache
def load_fonts() -> None:
    """Load the fonts, once: those that vl_convert brings along, and then this machine's.

    It takes the first that has a letter, and opens a file of the machine's anew for every letter,
    which takes half of the time of a picture; its own it holds in memory. Unless fontconfig knows
    of none it loads the machine's before its own.
    """
    asked = os.environ.get("FONTCONFIG_FILE")
    with TemporaryDirectory() as folder:
        none = Path(folder) / "fonts.conf"
        none.write_text(NO_FONTS.format(folder=folder), encoding="utf-8")
        os.environ["FONTCONFIG_FILE"] = str(none)
        for each in map(Path, FONT_FOLDERS):
            with suppress(RuntimeError):  # a user may have no home
                vl_convert.register_font_directory(str(each.expanduser()))
    del os.environ["FONTCONFIG_FILE"]
    if asked is not None:
        os.environ["FONTCONFIG_FILE"] = asked


def svg_of(spec: str, figures: Row | None = None, days: Row | None = None) -> str:
    """The chart of a Vega-Lite specification, as an SVG that stands by itself.

    Figures and days are written as in English, or by locales as Vega takes them.
    """
    load_fonts()
    svg = vl_convert.vegalite_to_svg(spec, format_locale=figures, time_format_locale=days)
    return str(svg)


def png_of(svg: str) -> bytes:
    """The picture in pixels."""
    load_fonts()
    (width,) = map(float, WIDTH.findall(svg)[:1])
    return bytes(vl_convert.svg_to_png(svg, scale=min(PNG_SCALE, MOST_ACROSS / width)))


def write_png(svg: str, place: Path) -> None:
    """Write the picture in pixels to `place`, so that it need not be handed from one to another."""
    place.write_bytes(png_of(svg))


def begin_drawing() -> None:
    """Draw an empty chart: what draws takes most of a second until it has begun."""
    svg_of(json.dumps(EMPTY))


class Pictures:
    """Promises pictures, which `drawing` draws: a second process, or this one as each is called."""

    def __init__(self, drawing: Here = HERE) -> None:
        self._drawing = drawing
        self._charts: dict[tuple[str, str], Callable[[], str]] = {}

    def begin(self) -> None:
        """Let a second process begin what draws, while there is nothing to draw yet."""
        self._drawing.promised(begin_drawing)

    def chart(self, spec: Row) -> Callable[[], str]:
        """The promise of a chart as SVG; what several readers are shown is drawn once."""
        language, written = spoken(), json.dumps(spec)
        key = language.tag, written
        if key not in self._charts:
            locales = () if language is IN_ENGLISH else (language.of_charts, language.of_days)
            self._charts[key] = self._drawing.promised(svg_of, written, *locales)
        return self._charts[key]

    def png(self, svg: str, place: Path) -> Callable[[], None]:
        """The promise of an SVG in pixels, written to `place`; both processes can make some.

        Raises `OSError` when it is called, if it can't be written.
        """
        return self._drawing.by_either(write_png, svg, place)


DRAWN_HERE = Pictures()

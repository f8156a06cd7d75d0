"""Pictures are the same whether a second process draws them or this one."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest

from pipeline.second_process import second_process
from reports.language import language_of, told_in
from reports.pictures import DRAWN_HERE, Pictures, load_fonts, png_of

if TYPE_CHECKING:
    from pathlib import Path

CHART = {
    "data": {"values": [{"tow_hours": 1234.5}]},
    "mark": "point",
    "encoding": {"x": {"field": "tow_hours", "type": "quantitative"}},
}
OTHER = {**CHART, "mark": "tick"}
SQUARE = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><rect width="9"/></svg>'
WORD = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="90" height="20">'
    '<text y="15" font-family="Helvetica, Arial, sans-serif">{}</text></svg>'
)
PNG = b"\x89PNG\r\n\x1a\n"
"""How a PNG begins: its specification, third edition, section 5.2."""


@pytest.mark.parametrize("tag", ["en", "es"])
def test_a_second_process_draws_what_this_one_would(tag: str, tmp_path: Path) -> None:
    with told_in(language_of(tag)), second_process() as second:
        pictures = Pictures(second)
        promised = [pictures.chart(CHART), pictures.chart(OTHER)]
        written = pictures.png(SQUARE, tmp_path / "square.png")
        drawn = [picture() for picture in promised]
        written()
        assert drawn == [DRAWN_HERE.chart(chart)() for chart in (CHART, OTHER)]
    assert drawn[0] != drawn[1]
    assert (tmp_path / "square.png").read_bytes() == png_of(SQUARE)
    assert png_of(SQUARE).startswith(PNG)


def test_a_picture_that_can_not_be_written_is_told_wherever_it_was_made(tmp_path: Path) -> None:
    with second_process() as second:
        written = Pictures(second).png(SQUARE, tmp_path / "no such folder" / "square.png")
        with pytest.raises(FileNotFoundError):
            written()


def test_a_chart_that_two_readers_are_shown_is_drawn_once() -> None:
    pictures = Pictures()
    assert pictures.chart(CHART) is pictures.chart(dict(CHART))
    assert pictures.chart(CHART) is not pictures.chart(OTHER)


def test_figures_are_written_as_the_language_has_them() -> None:
    with told_in(language_of("es")):
        spanish = DRAWN_HERE.chart(CHART)()
    assert ">1,200<" in DRAWN_HERE.chart(CHART)()
    assert ">1.200<" in spanish


@pytest.mark.parametrize("asked", [None, "/etc/fonts/of_our_own.conf"])
def test_what_other_programs_are_told_of_fonts_stays_as_it_was(
    asked: str | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("FONTCONFIG_FILE", raising=False)
    if asked is not None:
        monkeypatch.setenv("FONTCONFIG_FILE", asked)
    load_fonts.cache_clear()
    load_fonts()
    assert os.environ.get("FONTCONFIG_FILE") == asked


@pytest.mark.parametrize(("units", "pixels"), [(9, 18), (410, 820), (540, 840), (720, 840)])
def test_a_picture_has_two_pixels_to_a_unit_as_far_as_it_fits_in_a_column(
    units: int, pixels: int
) -> None:
    drawn = png_of(SQUARE.replace('width="9" height', f'width="{units}" height'))
    assert int.from_bytes(drawn[16:20]) == pixels


def test_letters_are_drawn() -> None:
    drawn = {png_of(WORD.format(word)) for word in ("", "net", "сеть")}
    assert len(drawn) == 3

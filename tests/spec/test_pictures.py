"""Pictures are the same whether a second process draws them or this one, and come to an end."""

from __future__ import annotations

import subprocess
import sys
from functools import partial

import pytest

from reports.language import language_of, told_in
from reports.pictures import DRAWN_HERE, Pictures, SecondProcess, drawn_beside

CHART = {
    "data": {"values": [{"tow_hours": 1234.5}]},
    "mark": "point",
    "encoding": {"x": {"field": "tow_hours", "type": "quantitative"}},
}
OTHER = {**CHART, "mark": "tick"}
SQUARE = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><rect width="9"/></svg>'
PNG = b"\x89PNG\r\n\x1a\n"
"""How a PNG begins: its specification, third edition, section 5.2."""


@pytest.mark.parametrize("tag", ["en", "es"])
def test_a_second_process_draws_what_this_one_would(tag: str) -> None:
    with told_in(language_of(tag)), drawn_beside() as pictures:
        promised = [pictures.chart(CHART), pictures.chart(OTHER), pictures.png(SQUARE)]
        drawn = [picture() for picture in promised]
        assert drawn == [DRAWN_HERE.chart(CHART)(), DRAWN_HERE.chart(OTHER)(), _png_here()]
    assert drawn[0] != drawn[1]
    assert bytes(drawn[2]).startswith(PNG)


def test_a_chart_that_two_readers_are_shown_is_drawn_once() -> None:
    pictures = Pictures()
    assert pictures.chart(CHART) is pictures.chart(dict(CHART))
    assert pictures.chart(CHART) is not pictures.chart(OTHER)


def test_figures_are_written_as_the_language_has_them() -> None:
    with told_in(language_of("es")):
        spanish = DRAWN_HERE.chart(CHART)()
    assert ">1,200<" in DRAWN_HERE.chart(CHART)()
    assert ">1.200<" in spanish


@pytest.mark.parametrize("process", ["", "import sys; sys.stdin.readline()"])
def test_what_a_process_that_ends_can_not_draw_is_drawn_here(process: str) -> None:
    with SecondProcess(_running(process)) as second:
        pictures = Pictures(second)
        assert pictures.chart(CHART)() == DRAWN_HERE.chart(CHART)()
        assert pictures.png(SQUARE)() == _png_here()


def test_a_second_process_ends_with_its_block_whatever_it_is_at() -> None:
    process = _running("import time; time.sleep(600)")
    with SecondProcess(process) as second:
        Pictures(second).chart(CHART)
        assert process.poll() is None
    assert process.poll() is not None


def test_where_no_process_can_be_had_all_is_drawn_here(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "executable", "/no/such/python")
    with drawn_beside() as pictures:
        assert pictures is DRAWN_HERE


def _png_here() -> bytes:
    return DRAWN_HERE.png(SQUARE)()


def _running(script: str) -> subprocess.Popen[str]:
    run = partial(subprocess.Popen, stdin=subprocess.PIPE, stdout=subprocess.PIPE)
    return run([sys.executable, "-c", script], encoding="utf-8")

"""Where a line may end: names, dates and percentages stay whole; long names break at joints."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import escape

from reports.unbroken import LONGEST_WHOLE, unbroken


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("sand 23 %, stones", 'sand <span class="whole">23 %,</span> stones'),
        ("bobbins-14-b tore", '<span class="whole">bobbins-14-b</span> tore'),
        ("from 2031-06-17 on", 'from <span class="whole">2031-06-17</span> on'),
        ("bottom-living fish", "bottom-living fish"),
        ("-5.7 (-84 to +57)", "-5.7 (-84 to +57)"),
        ("x" * 200, "x" * 200),
        ("pipeline.rates.chosen_errors", "pipeline.<wbr>rates.<wbr>chosen_<wbr>errors"),
        (
            "<b>8-x & 3 %",
            '<span class="whole">&lt;b&gt;8-x</span> &amp; <span class="whole">3 %</span>',
        ),
    ],
)
def test_what_stays_on_one_line_and_where_a_long_name_breaks(text: str, written: str) -> None:
    assert str(unbroken(text)) == written


def test_a_name_too_long_for_a_line_may_break_at_its_hyphens() -> None:
    name = "discs-8-" + "x" * LONGEST_WHOLE
    assert str(unbroken(name)) == name


@given(st.text())
def test_every_text_is_escaped_and_none_is_lost(text: str) -> None:
    written = str(unbroken(text))
    for put_in in ('<span class="whole">', "</span>", "<wbr>"):
        written = written.replace(put_in, "")
    assert written == str(escape(text))

"""The drawing of a net: each part there, as dark as it tears often, port where port is."""

from __future__ import annotations

import re
from gettext import NullTranslations
from importlib.resources import files
from itertools import pairwise
from math import floor, log10
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reports.language import Language, language_of, told_in
from reports.net_drawing.legend import legend
from reports.net_drawing.panels import lower_panel, upper_panel
from reports.net_drawing.shades import ROUND_STEPS, STEPS, Shades, rate_words, shades_of
from reports.net_drawing.shape import FISHING_LINE, GROUND_GEAR, HEADLINE, SELVEDGE
from reports.net_drawing.views import from_above, from_below
from reports.net_drawing.words import LOWER, PART_WORDS, UPPER, WHOLE_NET, PartRate, part_word
from reports.rig_drawing.svg import WIDTH, width_of
from schemas.words import NET_PARTS

if TYPE_CHECKING:
    from collections.abc import Callable

SVG = "{http://www.w3.org/2000/svg}"
SHADES = Shades(0.5)
RATES = {part: PartRate(0.2 + 0.2 * at, 0.0, 0.0) for at, part in enumerate(NET_PARTS)}
views = pytest.mark.parametrize(
    ("view", "parts"), [(from_above, UPPER), (from_below, LOWER)], ids=["above", "below"]
)
positive = st.floats(1e-6, 1e6)


def looks(svg: str) -> list[list[str]]:
    return [e.get("class", "").split() for e in ET.fromstring(svg).iter()]


def texts(svg: str) -> list[str]:
    return [e.text or "" for e in ET.fromstring(svg).iter(f"{SVG}text")]


def left_of(svg: str, look: str) -> list[float]:
    """The leftmost place of each path of that class."""
    paths = (e for e in ET.fromstring(svg).iter() if look in e.get("class", "").split())
    return [
        min(float(x) for x in re.findall(r"(-?[\d.]+) -?[\d.]+", path.get("d", "")))
        for path in paths
    ]


def test_the_two_views_have_every_part_that_a_note_can_name() -> None:
    assert {*UPPER, *LOWER, WHOLE_NET} == set(NET_PARTS)


@views
def test_each_part_has_its_shade_and_its_name_with_its_figure(
    view: Callable[..., str], parts: tuple[str, ...]
) -> None:
    svg = view("rope", RATES, SHADES)
    for part in (*parts, WHOLE_NET):
        rate = RATES[part].per_100_h
        of_part = [look for look in looks(svg) if f"net-{part}" in look]
        assert of_part
        assert all(SHADES.look(rate) in look for look in of_part)
        assert f"{part.replace('_', ' ')} {rate:.2f}" in texts(svg)


class LongWords(NullTranslations):
    """A language whose names of parts are long."""

    def gettext(self, message: str) -> str:
        return f"{message} {message}" if message in PART_WORDS.values() else message


@views
@pytest.mark.parametrize(
    "language", [language_of("en"), language_of("es"), Language("xx", LongWords())]
)
def test_names_stay_on_the_drawing(
    view: Callable[..., str], parts: tuple[str, ...], language: Language
) -> None:
    # What is told of the two sides is all figures; the browser measures it in tests/pages.
    with told_in(language):
        drawn = [view("rope", RATES, SHADES), legend("rope", SHADES)]
    for svg in drawn:
        spans = [span_of(text) for text in ET.fromstring(svg).iter(f"{SVG}text")]
        assert len(spans) >= STEPS
        assert [span for span in spans if not -0.01 <= span[0] < span[1] <= WIDTH + 0.01] == []
    for part in parts:
        words = " ".join(texts(drawn[0]))
        with told_in(language):
            assert f"{part_word(part)} {rate_words(RATES[part].per_100_h)}" in words


def span_of(text: ET.Element) -> tuple[float, float]:
    """From where to where a text goes at most."""
    wide, at = width_of(text.text or ""), float(text.get("x", 0))
    start = at - {None: 0.0, "middle": 0.5, "end": 1.0}[text.get("text-anchor")] * wide
    return start, start + wide


@pytest.mark.parametrize("view", [from_above, from_below])
def test_a_view_that_stands_alone_says_its_unit(view: Callable[..., str]) -> None:
    assert "damaged hauls per 100 hours towed" in texts(view("rope", RATES, SHADES))


def test_port_is_on_the_left_from_above_and_on_the_right_from_below() -> None:
    torn = {"wing": PartRate(2.0, 2.0, 0.3)}
    for view, first, second in ((from_above, "tear-4", "tear-1"), (from_below, "tear-1", "tear-4")):
        svg = view("rope", torn, SHADES)
        sides = [look for look in looks(svg) if "net-half" in look]
        assert [look[-1] for look in sides] == [first, second]
        left, right = left_of(svg, "net-half")
        assert left < right
        assert len([look for look in looks(svg) if "net-wing" in look]) == len(sides)
        words = texts(svg)
        assert "P 2.00  S 0.30" in words
    by_name = {e.text: float(e.get("x", 0)) for e in ET.fromstring(svg).iter(f"{SVG}text")}
    assert by_name["starboard"] < by_name["port"]


def test_a_part_whose_side_is_never_told_is_shaded_whole() -> None:
    assert not any("net-half" in look for look in looks(from_above("rope", RATES, SHADES)))


def test_a_net_that_never_tore_is_white_and_says_none() -> None:
    svg = from_below("rope", {}, SHADES)
    shades = {word for look in looks(svg) for word in look if word.startswith("tear-")}
    assert shades == {"tear-0"}
    assert "bunt 0" in texts(svg)
    told = ET.fromstring(svg).find(f"{SVG}desc")
    assert told is not None
    assert told.text is not None
    assert "per 100 hours towed: none." in told.text


def test_what_is_drawn_is_told_to_those_who_cannot_see_it() -> None:
    svg = ET.fromstring(from_above("rope", {"wing": PartRate(2.0, 2.0, 0.3)}, SHADES))
    title, told = svg.find(f"{SVG}title"), svg.find(f"{SVG}desc")
    assert title is not None
    assert told is not None
    assert title.text == "rope, the net from above"
    assert "wing 2.00, port 2.00, starboard 0.30." in (told.text or "")
    assert svg.get("aria-labelledby") == title.get("id")
    assert svg.get("aria-describedby") == told.get("id")


def test_a_rig_may_have_any_name() -> None:
    name = "<script>alert(1)</script>\"'&"
    for svg in (
        *(view(name, RATES, SHADES) for view in (from_above, from_below)),
        legend(name, SHADES),
    ):
        assert "<script" not in svg
        ET.fromstring(svg)


@given(rates=st.lists(st.tuples(positive, st.integers(1, 50)), min_size=1, max_size=9))
def test_steps_are_round_and_reach_the_highest_rate_that_is_firm(
    rates: list[tuple[float, int]],
) -> None:
    shades = shades_of(rates)
    firm = [rate for rate, hauls in rates if hauls >= 3] or [rate for rate, _ in rates]
    assert max(firm) <= STEPS * shades.step * (1 + 1e-6)
    assert max(firm) > 0.5 * STEPS * shades.step
    size = 10.0 ** floor(log10(shades.step * (1 + 1e-9)))
    assert min(abs(shades.step / size - step) for step in ROUND_STEPS) < 1e-6


@given(one=positive, other=positive, step=positive)
def test_what_tears_more_often_is_never_paler(one: float, other: float, step: float) -> None:
    low, high = sorted((one, other))
    shades = Shades(step)
    assert 1 <= shades.level(low) <= shades.level(high) <= STEPS


def test_a_rate_at_the_end_of_a_step_is_of_that_step() -> None:
    shades = Shades(0.6)
    assert [shades.level(rate) for rate in (0, 1e-9, 0.6, 0.61, 1.2, 1.8, 3.0, 99)] == [
        0, 1, 1, 2, 2, 3, 5, 5,
    ]  # fmt: skip


def test_one_haul_of_a_rig_hardly_fished_does_not_stretch_the_scale() -> None:
    assert shades_of([(2.71, 38), (25.0, 1)]).step == pytest.approx(0.6)


def test_the_key_names_the_ends_of_the_steps_and_the_unit() -> None:
    words = texts(legend("rope", Shades(0.6)))
    assert [word for word in words if re.match(r"[\d.]+$", word)] == [
        "0",
        "0.6",
        "1.2",
        "1.8",
        "2.4",
    ]
    assert "damaged hauls per 100 hours towed" in words
    assert "drawn after no one net, and not to scale" in words


@pytest.mark.parametrize(
    ("rate", "words"),
    [
        (0, "0"),
        (0.0049, ">0"),
        (0.005, "0.01"),
        (0.434, "0.43"),
        (9.994, "9.99"),
        (9.996, "10.0"),
        (99.96, "100"),
        (1234, "1,234"),
    ],
)
def test_rates_are_written_as_short_as_they_tell_something(rate: float, words: str) -> None:
    assert rate_words(rate) == words


def test_the_net_has_the_shape_of_a_trawl() -> None:
    # The headline lies forward of the fishing line at the bosom, that forward of nothing but the
    # belly; the ground gear forward of the fishing line; the net narrows from square to lengthener.
    assert HEADLINE[-1][1] < GROUND_GEAR[-1][1] < FISHING_LINE[-1][1]
    widths = [out for out, _ in SELVEDGE]
    assert all(fore > aft for fore, aft in pairwise(widths[:7]))
    for out, down in FISHING_LINE:
        assert out < _half_width(down)
    for panel in (upper_panel(), lower_panel()):
        assert panel[0].part == "wing"
        assert panel[-1].part == "codend"


def _half_width(down: float) -> float:
    """How wide the net is there, on straight lines between the places of its edge."""
    for (fore, fore_down), (aft, aft_down) in pairwise(SELVEDGE):
        if down <= aft_down:
            return fore + (aft - fore) * max(0.0, down - fore_down) / (aft_down - fore_down)
    return SELVEDGE[-1][0]


def shades_in_css(theme: str) -> list[str]:
    css = (files("reports") / "templates" / "net-drawing.css").read_text(encoding="utf-8")
    light, dark = css.split("@media", 1)
    found: list[str] = re.findall(r"--tear-\d: (#\w{6})", light if theme == "light" else dark)
    return found


def lightness(colour: str) -> float:
    """CIE L*, 0 to 100, of a colour of the sRGB space (IEC 61966-2-1; CIE 15)."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    ]
    luminance = sum(w * part for w, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))
    return 116 * luminance ** (1 / 3) - 16


def test_shades_are_told_apart_without_their_colour() -> None:
    # In print, and by eyes that see no hues: each step is darker than the one before; on a dark
    # page each is lighter.
    light = [lightness(colour) for colour in ("#fdfcf8", *shades_in_css("light"))]
    dark = [lightness(colour) for colour in ("#16191b", *shades_in_css("dark"))]
    assert len(light) == len(dark) == STEPS + 1
    assert all(before - after > 7 for before, after in pairwise(light))
    assert all(after - before > 7 for before, after in pairwise(dark))

"""The drawings of the rigs of `rig_drawing.md` are true to scale and say what the findings hold."""

from __future__ import annotations

import re
from gettext import NullTranslations
from itertools import pairwise
from math import dist
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reports.language import Language, language_of, told_in
from reports.rig_drawing.plan_view import plan_view
from reports.rig_drawing.side_view import side_view
from reports.rig_drawing.svg import WIDTH, identity, width_of, wrapped
from schemas.words import GROUND_GEARS
from tests.spec.drawn_rigs import GEAR_M, RIGS, SAYS

SVG = "{http://www.w3.org/2000/svg}"
TEXT = f"{SVG}text"
PX = 0.011
"""Coordinates are written to a hundredth."""

each_rig = pytest.mark.parametrize("name", RIGS)
placed = [n for n, rig in RIGS.items() if (rig["geometry"] or {}).get("height_mm") is not None]
each_placed = pytest.mark.parametrize("name", placed)


class Drawing:
    """What a drawing holds, by the classes of its elements."""

    def __init__(self, svg: str | None) -> None:
        assert svg is not None
        self.root = ET.fromstring(svg)
        self.texts = [e.text or "" for e in self.root.iter(f"{SVG}text")]
        self.plain = [text.replace("\u00a0", " ") for text in self.texts]

    def numbers(self, look: str) -> list[dict[str, float]]:
        found = (e for e in self.root.iter() if look in e.get("class", "").split())
        return [{k: float(v) for k, v in e.items() if re.fullmatch(r"-?[\d.]+", v)} for e in found]

    def one(self, look: str) -> dict[str, float]:
        (found,) = self.numbers(look)
        return found

    @property
    def px_per_unit(self) -> float:
        """By the scale bar and the figure at its end."""
        bar = self.one("rig-scale")
        (figure,) = (
            (element.text or "").split()[0]
            for element in self.root.iter(f"{SVG}text")
            if 0 < float(element.get("x", 0)) - bar["x2"] < 10
            and abs(float(element.get("y", 0)) - bar["y2"]) < 10
        )
        return (bar["x2"] - bar["x1"]) / float(figure.replace(",", ""))

    def points(self, look: str) -> list[tuple[float, float]]:
        steps = next(e for e in self.root.iter() if look in e.get("class", "").split()).get("d", "")
        pairs = (pair.split() for pair in steps.removeprefix("M").split("L"))
        return [(float(x), float(y)) for x, y in pairs]


def side(name: str, section: str = "bosom") -> Drawing:
    return Drawing(side_view(RIGS[name], section))


def plan(name: str) -> Drawing:
    return Drawing(plan_view(RIGS[name]))


def test_every_kind_of_ground_gear_is_drawn() -> None:
    assert {rig["ground_gear"] for rig in RIGS.values()} == set(GROUND_GEARS)


@each_rig
def test_the_largest_part_stands_on_the_seabed_and_measures_its_diameter_by_the_scale_bar(
    name: str,
) -> None:
    drawing = side(name)
    circle = drawing.one("rig-largest")
    diameter_mm = RIGS[name]["geometry"]["gear_diameter_mm"]
    assert 2 * circle["r"] == pytest.approx(diameter_mm * drawing.px_per_unit, abs=2 * PX)
    seabed = drawing.numbers("rig-seabed")[-1]
    assert circle["cy"] + circle["r"] == pytest.approx(seabed["y1"], abs=2 * PX)


@each_placed
def test_the_line_is_a_dot_at_its_height_and_drop_back(name: str) -> None:
    drawing, geometry = side(name), RIGS[name]["geometry"]
    dot, core = drawing.one("rig-dot"), drawing.one("rig-largest")
    seabed = drawing.numbers("rig-seabed")[-1]
    scale = drawing.px_per_unit
    assert dot["cx"] - core["cx"] == pytest.approx(geometry["drop_back_mm"] * scale, abs=2 * PX)
    assert seabed["y1"] - dot["cy"] == pytest.approx(geometry["height_mm"] * scale, abs=2 * PX)


@each_placed
def test_toggles_are_as_long_as_they_are(name: str) -> None:
    drawing, geometry = side(name), RIGS[name]["geometry"]
    lengths = [dist((t["x1"], t["y1"]), (t["x2"], t["y2"])) for t in drawing.numbers("rig-toggle")]
    if geometry["toggle_mm"] == 0:
        assert max(lengths, default=0.0) == pytest.approx(0.0, abs=2 * PX)
    else:
        expected = geometry["toggle_mm"] * drawing.px_per_unit
        assert lengths[-1] == pytest.approx(expected, abs=4 * PX)


@each_rig
def test_figures_in_the_side_view_are_those_of_the_findings(name: str) -> None:
    drawing, geometry = side(name), RIGS[name]["geometry"]
    assert f"{geometry['gear_diameter_mm']:.0f} mm" in drawing.plain
    if geometry["toggle_mm"]:
        assert f"toggle {geometry['toggle_mm']:.0f} mm" in drawing.plain
    if geometry["gap_mm"] is not None:
        assert f"gap {geometry['gap_mm']:.0f} mm" in drawing.plain
        assert geometry["gap_from"] in drawing.plain
    drop_back_mm = geometry["drop_back_mm"]
    if drop_back_mm:
        text = "drop back {:.0f} mm" if drop_back_mm > 0 else "{:.0f} mm forward"
        assert text.format(abs(drop_back_mm)) in drawing.plain


@each_rig
def test_what_the_reader_must_know_stands_in_the_drawing_and_in_its_description(name: str) -> None:
    drawing = side(name)
    assert SAYS[name] in " ".join(drawing.plain)
    description = (drawing.root.findtext(f"{SVG}desc") or "").replace("\u00a0", " ")
    if not SAYS[name].startswith("toggle"):
        assert SAYS[name].lower() in description.lower()
    assert name in (drawing.root.findtext(f"{SVG}title") or "")


def test_pieces_are_as_far_apart_as_the_section_is_long_for_them() -> None:
    drawing = side("rockhopper-16")
    scale = drawing.px_per_unit
    discs = [r for r in drawing.numbers("rig-rubber") if r.get("width", 0) > 69 * scale]
    tall = sorted(r["x"] for r in discs if r["height"] == pytest.approx(406 * scale, abs=PX))
    assert len(tall) > 3
    for before, after in pairwise(tall):
        assert (after - before) / scale == pytest.approx(3300 / 13, abs=0.2)


def test_pieces_that_add_up_to_more_than_the_section_touch() -> None:
    drawing = side("discs touching")
    boxes = sorted((r["x"], r["width"]) for r in drawing.numbers("rig-rubber") if "width" in r)
    for before, after in pairwise(boxes):
        assert after[0] == pytest.approx(before[0] + before[1], abs=2 * PX)


def spans(drawing: Drawing) -> list[tuple[float, float]]:
    """From where to where each text of a drawing goes at most."""
    texts = [(e, width_of(e.text or ""), float(e.get("x", 0))) for e in drawing.root.iter(TEXT)]
    before = {None: 0.0, "middle": 0.5, "end": 1.0}
    starts = [(at - before[e.get("text-anchor")] * wide, wide) for e, wide, at in texts]
    return [(start, start + wide) for start, wide in starts]


class LongWords(NullTranslations):
    """A language that says everything twice over."""

    def gettext(self, message: str) -> str:
        return f"{message} {message}"


@each_rig
@pytest.mark.parametrize("language", [language_of("es"), Language("xx", LongWords())])
def test_how_long_the_words_are_changes_no_scale(name: str, language: Language) -> None:
    in_english = side(name).one("rig-largest"), plan(name).points("rig-gear")
    with told_in(language):
        drawings = side(name), plan(name)
    assert (drawings[0].one("rig-largest")["r"], drawings[1].points("rig-gear")) == (
        in_english[0]["r"],
        in_english[1],
    )


@each_rig
@pytest.mark.parametrize("tag", ["en", "es"])
def test_words_stay_on_the_drawing(name: str, tag: str) -> None:
    with told_in(language_of(tag)):
        drawings = side(name), plan(name)
    for drawing in drawings:
        for start, end in spans(drawing):
            assert -PX <= start < end <= WIDTH + PX


def test_a_section_of_smaller_discs_has_its_line_lower() -> None:
    rig = RIGS["rockhopper-16"]
    smaller = [
        p | {"diameter_mm": 306.0} if p["diameter_mm"] == 406 and p["section"] == "wing" else p
        for p in rig["parts"]
    ]
    drawing = Drawing(side_view(rig | {"parts": smaller}, "wing"))
    height = drawing.numbers("rig-seabed")[-1]["y1"] - drawing.one("rig-dot")["cy"]
    expected = (rig["geometry"]["height_mm"] - 50) * drawing.px_per_unit
    assert height == pytest.approx(expected, abs=2 * PX)


@each_rig
def test_from_above_the_gear_has_its_length_its_spread_and_its_turn(name: str) -> None:
    drawing, rig = plan(name), RIGS[name]
    points, scale = drawing.points("rig-gear"), drawing.px_per_unit
    assert sum(dist(a, b) for a, b in pairwise(points)) / scale == pytest.approx(GEAR_M, rel=3e-3)
    spread_m = dist(points[0], points[-1]) / scale
    if rig["wing_end_spread_m"] is not None:
        assert spread_m == pytest.approx(rig["wing_end_spread_m"], rel=1e-3)
        assert f"spread {rig['wing_end_spread_m']:.3g} m, measured" in drawing.plain
    else:
        assert f"spread {spread_m:.3g} m, assumed" in drawing.plain


@each_placed
def test_from_above_the_fishing_line_is_drawn_to_scale(name: str) -> None:
    drawing, rig = plan(name), RIGS[name]
    drop_back_mm = rig["geometry"]["drop_back_mm"]
    if round(drop_back_mm) == 0:
        assert drawing.numbers("rig-behind") == []
        return
    gear, line = drawing.points("rig-gear"), drawing.points("rig-behind")
    aft_px = max(y for _, y in line) - max(y for _, y in gear)
    assert aft_px == pytest.approx(drop_back_mm / 1000 * drawing.px_per_unit, abs=2 * PX)
    assert f"{abs(drop_back_mm):.0f} mm" in " ".join(drawing.plain)


@each_rig
def test_from_above_sections_have_their_lengths_and_weights(name: str) -> None:
    drawing, rig = plan(name), RIGS[name]
    rows = {row["section"]: row for row in rig["weights"]}
    words = " ".join(drawing.plain)
    if all(rows[section]["gear_m"] for section in ("wing", "bunt", "bosom")):
        for section in ("wing", "bunt", "bosom"):
            assert f"{section}, {rows[section]['gear_m']:g} m" in words
            kg = rows[section]["weight_water_kg"]
            assert (f"{kg:,.0f} kg" if abs(kg) >= 10 else f"{kg:.1f} kg") in words
    else:
        assert "Not every section's length is known" in words


def test_a_gear_without_bunts_is_told_apart_where_its_sections_make_its_length() -> None:
    rows = [{"section": "wing", "gear_m": 9.0}, {"section": "bosom", "gear_m": 6.0}]
    rig = {"rig_version": "discs-200", "ground_gear_m": 24.0, "weights": rows}
    words = " ".join(Drawing(plan_view(rig)).plain)
    assert "wing, 9 m" in words
    assert "bosom, 6 m" in words
    assert "bunt" not in words
    assert "Not every section's length is known" not in words
    longer = rig | {"ground_gear_m": 30.0}
    assert "Not every section's length is known" in " ".join(Drawing(plan_view(longer)).plain)


@pytest.mark.parametrize("section", ["wing", "bosom"])
def test_a_gear_of_one_section_is_drawn(section: str) -> None:
    gear_m = {"wing": 18.0, "bosom": 9.0}[section]
    rows = [{"section": section, "gear_m": 9.0}]
    rig = {"rig_version": "rope", "ground_gear_m": gear_m, "weights": rows}
    assert f"{section}, 9 m" in " ".join(Drawing(plan_view(rig)).plain)


@each_rig
def test_a_drawing_has_no_style_no_script_and_no_address_and_ids_of_its_own(name: str) -> None:
    ids: list[str] = []
    for svg in (side_view(RIGS[name]), side_view(RIGS[name], "wing"), plan_view(RIGS[name])):
        assert svg is not None
        drawing = Drawing(svg)
        for element in drawing.root.iter():
            assert element.tag.removeprefix(SVG) not in {"script", "style", "a", "image", "use"}
            assert not {"style", "href"} & set(element.keys())
            assert not any(key.startswith("on") for key in element.attrib)
            ids += [element.get("id", "")] if "id" in element.attrib else []
        for target in re.findall(r"url\(#([^)]*)\)", svg):
            assert f'id="{target}"' in svg
    assert len(ids) == len(set(ids))


@given(st.lists(st.tuples(st.text(), st.text()), unique=True, min_size=2, max_size=4))
def test_no_two_names_share_an_id(names: list[tuple[str, str]]) -> None:
    assert len({identity(*name) for name in names}) == len(names)


def test_names_that_look_alike_have_ids_of_their_own_on_any_disk() -> None:
    names = [
        "a b",
        "a-b",
        "a--b",
        "A b",
        "a B",
        "a_b",
        "-a-b",
        "a-b-",
        "",
        "-",
        "e\u0301",
        "\u0435",
    ]
    names += ["n" * 200, "n" * 199, "N" * 200, "n" * 80, "n" * 81]
    ids = [identity(name) for name in names] + [identity("a", "b"), identity("", "")]
    assert len({each.lower() for each in ids}) == len(ids)
    assert all(re.fullmatch(r"[a-z0-9_-]{1,100}", each) for each in ids)


def test_an_ordinary_name_can_be_read_in_its_id() -> None:
    assert identity("bobbins-14") == "bobbins-14"
    assert identity("rig-plan", "bobbins-14") == "rig-plan--bobbins-14"
    assert identity("Bold Thistle").startswith("bold-thistle_")


@given(st.text(alphabet="abW網 ", max_size=200), st.floats(20, 400))
def test_wrapped_lines_fit(text: str, width: float) -> None:
    assert all(width_of(line) <= width for line in wrapped(text, width))


NOTHING: list[dict[str, Any]] = [
    {},
    {"rig_version": "a", "parts": [], "weights": [], "geometry": None},
    {"parts": [{"section": "bosom", "part": "shoes", "kind": None, "pieces": 2}]},
    {"parts": [{"section": "bosom", "part": "chain", "kind": "chain", "length_m": 3.0}]},
]


@pytest.mark.parametrize("rig", NOTHING)
def test_where_nothing_can_be_drawn_there_is_no_drawing(rig: dict[str, Any]) -> None:
    assert side_view(rig) is None
    assert plan_view(rig) is None


def test_the_largest_part_alone_is_enough_for_a_side_view() -> None:
    part = {"section": "bosom", "part": "bobbins", "kind": "bobbin", "diameter_mm": 356.0}
    drawing = Drawing(side_view({"parts": [part]}))
    assert "356 mm" in drawing.plain


@pytest.mark.parametrize("name", ["chain-13", "discs-6", "bobbins-14", "other gear"])
def test_any_value_may_be_missing(name: str) -> None:
    rig = RIGS[name]
    for key in rig:
        _still_drawn(rig | {key: None})
    for key in rig["geometry"]:
        _still_drawn(rig | {"geometry": rig["geometry"] | {key: None}})
    for table in ("parts", "weights"):
        for key in rig[table][0]:
            _still_drawn(rig | {table: [row | {key: None} for row in rig[table]]})
            bare = [{k: v for k, v in row.items() if k != key} for row in rig[table]]
            _still_drawn(rig | {table: bare})


def _still_drawn(rig: dict[str, Any]) -> None:
    for section in ("wing", "bosom"):
        if (svg := side_view(rig, section)) is not None:
            Drawing(svg)
    if (svg := plan_view(rig)) is not None:
        Drawing(svg)

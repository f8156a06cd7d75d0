"""Seasons with names, numbers and places that nobody expects: the page holds, in a real browser."""

from __future__ import annotations

import csv
from typing import TYPE_CHECKING, Any

import pytest

from pipeline.run_season import run_season
from schemas.words import READERS
from tests.pages.test_page_in_a_browser import DESK, SMALL_PHONE, opened

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

pytestmark = pytest.mark.page

Row = dict[str, Any]

RIGS = (
    "bobbins",
    '<script>alert("rig")</script>',
    "o'brien's \"best\" & <b>bold</b>",
    "שרשרת כבדה",
    "سلسلة ثقيلة",
    "x" * 200,
    ("all its discs and chains and the day that it was made written into its name " * 3)[:200],
    *(f"rig {number}" for number in range(53)),
)
BOATS = ("Skua", "Tern & <i>Sons</i>", "طائر البحر")
SPECIES = ("PLE", "<b>ZZZ</b>", "a fish that nobody knows")
OPEN_ALL = "document.querySelectorAll('details').forEach(each => { each.open = true; })"
CUT_OFF = """() => [...document.querySelectorAll('body *')].filter(each => {
  if (each.closest('.wide, svg, .unseen, [hidden]') || !each.clientWidth) return false;
  const right = each.getBoundingClientRect().right;
  const hidden = getComputedStyle(each).overflowX !== 'visible';
  return right > innerWidth + 1 || (hidden && each.scrollWidth > each.clientWidth + 1);
}).map(each => each.outerHTML.slice(0, 120))"""


def haul(at: int) -> Row:
    """A haul across 180°: sixty rigs by turns, then the first four."""
    trip = at // 3
    east = 179.6 + at % 9 * 0.1
    return {
        "vessel": BOATS[trip % 3],
        "trip": trip,
        "haul": at,
        "shot_at": f"2031-{1 + at // 84:02}-{1 + at % 28:02} {6 + at // 28 % 3 * 4:02}:00",
        "tow_hours": 2 + at % 4,
        "rig_version": RIGS[trip % 60] if at < 180 else RIGS[trip % 4],
        "ground": ("stones", "sand")[at % 2],
        "latitude": round(52 + at % 7 * 0.1, 1),
        "longitude": round(east - 360 if east > 180 else east, 1),
        "damaged": ("no", "yes")[at % 5 == 0],
        "damage_note": ("", "<script>alert('note')</script> port wing torn, 2 hrs")[at % 5 == 0],
    }


def write(folder: Path, hauls: list[Row]) -> Path:
    """The season's tables, with a catch of each species in each haul."""
    key = ("vessel", "trip", "haul")
    catches = [
        {**{name: row[name] for name in key}, "species": species, "kept_kg": 10 + row["haul"] % 50}
        for row in hauls
        for species in SPECIES
    ]
    lengths = [
        {**{name: row[name] for name in key}, "species": "PLE", "where": "codend"}
        | {"length_cm": cm, "count": 1 + (row["haul"] * cm) % 5}
        for row in hauls
        for cm in (20, 30, 40)
    ]
    folder.mkdir()
    for name, rows in {"hauls": hauls, "catches": catches, "lengths": lengths}.items():
        with (folder / f"{name}.csv").open("w", newline="", encoding="utf-8") as file:
            writer = csv.DictWriter(file, list(rows[0]))
            writer.writeheader()
            writer.writerows(rows)
    return folder


@pytest.fixture(scope="module")
def odd(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return report(tmp_path_factory, [haul(at) for at in range(240)])


@pytest.fixture(scope="module")
def lone(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return report(tmp_path_factory, [haul(0)])


def report(tmp_path_factory: pytest.TempPathFactory, hauls: list[Row]) -> Path:
    folder = tmp_path_factory.mktemp("odd")
    run_season(write(folder / "season", hauls), folder / "report", readers=READERS)
    return folder / "report"


PAGES = ("season-report.html", "study-report.html", "co-op/co-op-report.html")


@pytest.mark.parametrize("season", ["odd", "lone"])
@pytest.mark.parametrize("page_name", PAGES)
def test_nothing_is_run_or_hidden_or_cut_off(
    chromium: Browser, request: pytest.FixtureRequest, season: str, page_name: str
) -> None:
    path = request.getfixturevalue(season) / page_name
    for viewport in (SMALL_PHONE, DESK):
        with opened(chromium, path, viewport) as (page, said):
            page.on("dialog", lambda dialog: said.append(dialog.message))
            page.evaluate(OPEN_ALL)
            page.wait_for_timeout(200)
            assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]
            assert page.evaluate(CUT_OFF) == []
            assert page.locator("script").count() == 1
            assert said == []


@pytest.mark.parametrize("page_name", PAGES[:2])
def test_every_rig_stands_there_by_its_whole_name(
    chromium: Browser, odd: Path, page_name: str
) -> None:
    with opened(chromium, odd / page_name, DESK) as (page, _):
        page.evaluate(OPEN_ALL)
        words = page.locator("body").inner_text()
    assert [rig for rig in RIGS if rig.strip() not in words] == []


def test_hauls_across_180_degrees_lie_side_by_side_on_the_map(chromium: Browser, odd: Path) -> None:
    across = """figure => [...figure.querySelectorAll('[aria-roledescription="point"]')].map(
      mark => mark.getBoundingClientRect()).map(box => box.x + box.width / 2)"""
    with opened(chromium, odd / PAGES[0], DESK) as (page, _):
        places = page.locator("#map-of-hauls").evaluate(across)
        width = page.locator("#map-of-hauls .chart").bounding_box()
    assert width is not None
    assert len({round(place / 5) for place in places}) == 9
    assert max(places) - min(places) > width["width"] / 4

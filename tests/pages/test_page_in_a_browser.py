"""The report as its reader meets it: opened from disk in a real browser."""

from __future__ import annotations

import json
import re
from contextlib import contextmanager
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.page

PHONE = {"width": 390, "height": 844}
SMALL_PHONE = {"width": 360, "height": 740}
DESK = {"width": 1280, "height": 900}
SKIPPER, REPORT = "report/season-report.html", "report/study-report.html"
COOP = "report/co-op/co-op-report.html"


@contextmanager
def opened(
    chromium: Browser, path: Path, viewport: dict[str, int], *, scripts: bool = True
) -> Iterator[tuple[Page, list[str]]]:
    """The page, and whatever it says to the console or asks of a network."""
    with chromium.new_page(viewport=viewport, java_script_enabled=scripts) as page:
        said: list[str] = []
        page.on("console", lambda message: said.append(message.text))
        page.on("pageerror", lambda error: said.append(str(error)))
        page.on(
            "request",
            lambda request: said.append(request.url) if not request.url.startswith("file:") else 0,
        )
        page.goto(path.as_uri())
        yield page, said


@pytest.mark.parametrize("report", [SKIPPER, REPORT, COOP], ids=["skipper", "study", "coop"])
@pytest.mark.parametrize("viewport", [SMALL_PHONE, DESK], ids=["phone", "desk"])
def test_it_opens_without_a_network_or_a_complaint_and_never_scrolls_sideways(
    chromium: Browser, demo: Path, viewport: dict[str, int], report: str
) -> None:
    with opened(chromium, demo / report, viewport) as (page, said):
        width = page.evaluate("document.documentElement.scrollWidth")
        page.wait_for_timeout(200)
    assert said == []
    assert width <= viewport["width"]


def test_what_was_compared_and_the_headline_effects_come_first_on_a_phone(
    chromium: Browser, demo: Path
) -> None:
    with opened(chromium, demo / REPORT, PHONE) as (page, _):
        lead = page.locator(".lead")
        box = page.locator("#headline-effects tbody tr").first.bounding_box()
        text = lead.inner_text()
        size = page.evaluate(
            "parseFloat(getComputedStyle(document.querySelector('.lead')).fontSize)"
        )
    assert box is not None
    assert box["y"] + box["height"] < PHONE["height"]
    assert "rockhopper-16" in text
    assert "Bottom-living fish with rockhopper-16: 22 % less" in text
    assert "between" in text
    assert size >= 18


CLEAR = {"lower", "higher"}


def rounded(ratio: float) -> str:
    """A ratio as tables have it: three figures, or two decimals; over 100 no more than that."""
    return f"{ratio:.2f}" if ratio < 10 else f"{ratio:.1f}" if ratio <= 100 else "over 100"


def test_the_headline_effects_are_those_of_the_findings_rounded(
    chromium: Browser, demo: Path
) -> None:
    findings = json.loads((demo / "report/findings.json").read_text(encoding="utf-8"))
    titles = {outcome["name"]: outcome["title"].lower() for outcome in findings["outcomes"]}
    expected = {
        (effect["rig"], titles[effect["outcome"]]): [
            rounded(effect["ratio"]),
            f"{rounded(effect['low'])} to {rounded(effect['high'])}",
            f"{rounded(effect['low_together'])} to {rounded(effect['high_together'])}",
            "< 0.001" if effect["p_value"] < 0.001 else f"{effect['p_value']:.3f}",
            f"{effect['rig_hauls']:,} / {effect['reference_hauls']:,}",
            f"{effect['rig_trips']:,} / {effect['reference_trips']:,}",
            "clear by itself only"
            if effect["verdict"] not in CLEAR and effect["verdict_alone"] in CLEAR
            else effect["verdict"],
        ]
        for effect in findings["effects"]
        if effect["p_adjusted"] is not None
    }
    with opened(chromium, demo / REPORT, DESK) as (page, _):
        rows = page.eval_on_selector_all(
            "#headline-effects tbody tr", "all => all.map(r => [...r.cells].map(c => c.innerText))"
        )
    assert len(rows) == findings["standing"]["looks"]["comparisons"]
    assert {(row[0], row[1]): row[2:] for row in rows} == expected


def test_all_that_a_skipper_is_to_do_stands_on_one_screen_of_a_phone(
    chromium: Browser, demo: Path
) -> None:
    with opened(chromium, demo / SKIPPER, SMALL_PHONE) as (page, _):
        boxes = [line.bounding_box() for line in page.locator("#answer .to-do > div").all()]
        boxes.append(page.locator("#answer .caution").bounding_box())
        labels = page.locator("#answer .to-do dt").all_inner_texts()
        sizes = page.eval_on_selector_all(
            "#answer .to-do dd p:first-child",
            "all => all.map(p => parseFloat(getComputedStyle(p).fontSize))",
        )
    assert labels == ["Weigh", "Keep", "Mind", "Look over", "Write down"]
    assert all(box is not None and box["y"] + box["height"] <= 740 for box in boxes)
    assert min(sizes) >= 19


def test_what_a_skipper_is_to_do_is_one_printed_page(chromium: Browser, demo: Path) -> None:
    with opened(chromium, demo / SKIPPER, DESK) as (page, _):
        page.emulate_media(media="print")
        page.evaluate(
            "document.querySelectorAll('main > :not(#answer), footer').forEach(e => e.remove())"
        )
        printed = page.pdf(format="A4", prefer_css_page_size=True)
    assert printed.count(b"/Type /Page\n") == 1


def test_charts_are_pictures_where_scripts_are_off(chromium: Browser, demo: Path) -> None:
    findings = json.loads((demo / "report/findings.json").read_text(encoding="utf-8"))
    with opened(chromium, demo / REPORT, PHONE, scripts=False) as (page, _):
        pictures = page.locator(".chart:not(.halves) svg")
        marks = page.locator('.chart [aria-roledescription="point"]')
        clear = [e for e in findings["measures"] if e["verdict"] in {"lower", "higher"}]
        checked = [
            rig
            for rig in findings["rigs"]
            if sum(check["section"] == "whole" for check in rig["length_checks"]) > 1
        ]
        pooled = {row["outcome"] for row in findings["boats"] if row["mean"]}
        looked_at = [each for each in findings["diagnostics"]["models"] if each["residuals"]]
        sized = findings["by_length"]["species"]
        # The flow of rows, a ratio and a rate chart of three outcomes, how mending adds up, what
        # would pay; each clear line, the checks of each rig, the boats of each outcome, the
        # residuals of each, the sizes of each species, and of each outcome the changes of rig that
        # have a ratio.
        changed = {
            held["about"]["outcome"]
            for change in findings["changes"]["changes"]
            for held in change["ratios"]
            if held["about"]["log_ratio"] is not None
        }
        more = (clear, checked, pooled, looked_at, sized, changed)
        assert pictures.count() == 9 + sum(map(len, more))
        assert marks.count() > 100
        assert pictures.first.is_visible()


def test_a_ratio_chart_has_a_line_where_rigs_are_alike(chromium: Browser, demo: Path) -> None:
    with opened(chromium, demo / REPORT, PHONE) as (page, _):
        for chart in page.locator('[id^="ratio-"] svg').all():
            assert chart.locator('[stroke-dasharray="4,3"]').count() == 1


def test_a_touched_mark_says_its_numbers_and_its_rig_stands_out_in_every_chart(
    chromium: Browser, demo: Path
) -> None:
    with opened(chromium, demo / REPORT, DESK) as (page, said):
        mark = page.locator('#ratio-damage-events [aria-label^="rockhopper-16:"]').first
        mark.scroll_into_view_if_needed()
        mark.dispatch_event("click")
        tip = page.locator("#tip")
        assert tip.is_visible()
        assert "net damage 0." in tip.inner_text()
        dimmed = page.locator(".chart .dim")
        assert dimmed.count() > 100
        assert page.locator('.chart .dim[aria-label^="rockhopper-16:"]').count() == 0
        page.keyboard.press("Escape")
        assert not tip.is_visible()
        assert dimmed.count() == 0
        assert said == []


def test_every_chart_has_its_numbers_in_a_table(chromium: Browser, demo: Path) -> None:
    with opened(chromium, demo / REPORT, DESK) as (page, _):
        figures = page.locator("figure")
        for at in range(figures.count()):
            assert figures.nth(at).locator("details table tbody tr").count() > 0


def test_on_a_phone_no_caption_of_a_table_is_cut_off(chromium: Browser, demo: Path) -> None:
    with opened(chromium, demo / REPORT, PHONE) as (page, _):
        page.evaluate("document.querySelectorAll('details').forEach(each => each.open = true)")
        ends = page.evaluate(
            "[...document.querySelectorAll('caption span')]"
            ".map(each => each.getBoundingClientRect().right)"
        )
    assert len(ends) > 10
    assert max(ends) <= PHONE["width"]


def test_a_wide_table_shows_that_it_scrolls_and_keeps_its_first_column_in_sight(
    chromium: Browser, demo: Path
) -> None:
    with opened(chromium, demo / REPORT, SMALL_PHONE, scripts=False) as (page, _):
        wide = page.locator("#headline-effects .wide")
        assert wide.evaluate("each => each.scrollWidth > each.clientWidth")
        look = wide.evaluate("each => getComputedStyle(each).backgroundAttachment")
        wide.evaluate("each => { each.scrollLeft = 200; }")
        first = page.locator("#headline-effects tbody th").first.bounding_box()
        left = wide.bounding_box()
    assert look == "local, scroll"
    assert first is not None
    assert left is not None
    assert first["x"] == pytest.approx(left["x"], abs=1)


LETTERS = """() => [...document.querySelectorAll('.chart svg')].map(chart => {
  const letters = [...chart.querySelectorAll('text')].map(text => {
    const { a, b } = text.getScreenCTM();
    return parseFloat(getComputedStyle(text).fontSize) * Math.hypot(a, b);
  });
  return [chart.closest('figure').id, Math.min(...letters)];
})"""


@pytest.mark.parametrize("report", [SKIPPER, REPORT, COOP], ids=["skipper", "study", "coop"])
def test_no_letter_of_a_chart_is_small_on_the_narrowest_phone(
    chromium: Browser, demo: Path, report: str
) -> None:
    with opened(chromium, demo / report, SMALL_PHONE) as (page, _):
        page.evaluate("document.querySelectorAll('details').forEach(each => each.open = true)")
        letters = page.evaluate(LETTERS)
    assert len(letters) > 3
    assert [(name, px) for name, px in letters if px < 10] == []


@pytest.mark.parametrize("report", [SKIPPER, REPORT, COOP], ids=["skipper", "study", "coop"])
def test_on_a_wide_screen_no_table_has_to_be_scrolled(
    chromium: Browser, demo: Path, report: str
) -> None:
    with opened(chromium, demo / report, DESK) as (page, _):
        page.evaluate("document.querySelectorAll('details').forEach(each => each.open = true)")
        over = page.locator(".wide").evaluate_all(
            "all => all.filter(e => e.scrollWidth > e.clientWidth + 1).map(e => e.ariaLabel)"
        )
        width = page.evaluate("document.documentElement.scrollWidth")
        beyond = page.locator("table").evaluate_all(
            "all => all.filter(e => e.offsetWidth > e.closest('main').offsetWidth).length"
        )
    assert over == []
    assert width <= DESK["width"]
    assert beyond > 0 or report == COOP


def test_no_date_of_a_table_is_broken(chromium: Browser, demo: Path) -> None:
    with opened(chromium, demo / SKIPPER, SMALL_PHONE) as (page, _):
        page.evaluate("document.querySelectorAll('details').forEach(each => each.open = true)")
        dates = page.locator("td", has_text=re.compile(r"^\d{1,2} \w{3} \d{4}$"))
        looks = dates.evaluate_all("all => all.map(each => getComputedStyle(each).whiteSpace)")
    assert len(looks) > 100
    assert set(looks) == {"nowrap"}


def test_what_a_folded_table_is_called_is_seen_once(chromium: Browser, demo: Path) -> None:
    with opened(chromium, demo / SKIPPER, DESK) as (page, _):
        page.evaluate("document.querySelectorAll('details').forEach(each => each.open = true)")
        twice = page.evaluate(
            "[...document.querySelectorAll('caption:not(.unseen)')].filter(each => "
            "each.closest('details')?.querySelector('summary').innerText === each.innerText).length"
        )
        unseen = page.locator("caption.unseen").count()
    assert twice == 0
    assert unseen > 5


def test_no_heading_of_what_damage_costs_stands_over_nothing(chromium: Browser, demo: Path) -> None:
    with opened(chromium, demo / REPORT, PHONE) as (page, _):
        figures = page.locator("#damage-cost figure").all()
        captions = [figure.locator("figcaption > p").inner_text() for figure in figures]
    assert len(captions) == 2
    assert all(captions)


def test_links_of_the_contents_lead_somewhere(chromium: Browser, demo: Path) -> None:
    with opened(chromium, demo / REPORT, DESK) as (page, _):
        targets = page.eval_on_selector_all("a[href^='#']", "all => all.map(a => a.hash)")
        assert targets
        for target in targets:
            assert page.locator(target).count() == 1


def test_each_page_says_in_its_title_and_its_first_line_whom_it_is_for(
    chromium: Browser, demo: Path
) -> None:
    kinds = {
        SKIPPER: "Season report – for the skipper",
        REPORT: "Season report – study",
        COOP: "Season report – for the co-op",
    }
    for report, kind in kinds.items():
        with opened(chromium, demo / report, PHONE) as (page, _):
            assert page.title().endswith(f" · {kind}")
            assert page.locator(".kind").inner_text().startswith(kind)


@pytest.mark.parametrize("report", [SKIPPER, COOP], ids=["skipper", "coop"])
def test_on_a_phone_why_rows_were_set_aside_is_read_without_scrolling(
    chromium: Browser, demo: Path, report: str
) -> None:
    with opened(chromium, demo / report, SMALL_PHONE) as (page, _):
        page.evaluate("document.querySelectorAll('details').forEach(each => each.open = true)")
        wide = page.locator(":is(#set-aside, #hidden) .wide:has(.few-columns)")
        over = wide.evaluate_all("all => all.map(each => each.scrollWidth - each.clientWidth)")
    assert over
    assert max(over) <= 1


@pytest.mark.parametrize("viewport", [SMALL_PHONE, DESK], ids=["phone", "desk"])
def test_no_percentage_date_or_short_name_is_parted_at_the_end_of_a_line(
    chromium: Browser, demo: Path, viewport: dict[str, int]
) -> None:
    with opened(chromium, demo / SKIPPER, viewport) as (page, _):
        page.evaluate("document.querySelectorAll('details').forEach(each => each.open = true)")
        parted = page.locator(".whole").evaluate_all(
            "all => all.filter(each => each.getClientRects().length > 1"
            " && !each.closest('[id$=by-rig-and-ground]')).map(each => each.textContent)"
        )
        whole = page.locator(".whole").count()
    assert whole > 500
    assert parted == []


def test_text_from_a_log_is_never_run(chromium: Browser, demo: Path, tmp_path: Path) -> None:
    findings = json.loads((demo / "report/findings.json").read_text(encoding="utf-8"))
    trap = "<img src=x onerror=\"document.title='run'\"><script>document.title='run'</script>"
    findings["season"]["title"] = trap
    findings["set_aside"][0]["value"] = trap
    for table in ("rigs", "rig_by_ground"):
        for row in findings[table]:
            row["rig_version"] = row["rig_version"].replace("rounded-70", f"rounded{trap}")
    for table in ("rates", "effects"):
        for row in findings[table]:
            row["rig"] = row["rig"].replace("rounded-70", f"rounded{trap}")
    from reports.editions import EDITIONS
    from reports.page import season_page

    path = tmp_path / "trapped.html"
    path.write_text(season_page(findings, EDITIONS["study"]), encoding="utf-8")
    with opened(chromium, path, DESK) as (page, said):
        page.wait_for_timeout(200)
        assert page.title() != "run"
        assert page.locator("main img").count() == 0
        assert said == []

"""The page: one HTML file that opens from disk, needs no network and runs under a strict policy."""

from __future__ import annotations

import base64
import hashlib
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any, NamedTuple

from altair.utils.schemapi import debug_mode
from jinja2 import Environment, PackageLoader, StrictUndefined

from reports.boats.chart import boats_chart
from reports.cells import outcomes_of
from reports.changes.chart import changes_chart
from reports.charts import in_page, one_tow_chart, rate_chart, ratio_chart
from reports.contents import report_contents
from reports.damage_cost.chart import adding_up_chart
from reports.does_it_hold.charts import residual_chart
from reports.first_screen import key_to
from reports.halves import in_halves
from reports.haul_map.chart import map_chart
from reports.language import say, spoken
from reports.looks_of_cells import look_of_cell
from reports.money.charts import money_chart
from reports.pictures import DRAWN_HERE
from reports.plain_names import plainly_named
from reports.plain_words import ADVICE_CAUTION
from reports.rig_drawing.plan_view import plan_view
from reports.rig_drawing.side_view import side_view
from reports.rigs.charts import length_chart, measure_chart
from reports.season_strip.chart import strip_chart
from reports.sizes.chart import sizes_chart
from reports.study.flow_drawing import flow_drawing
from reports.tears.drawings import net_drawings
from reports.unbroken import unbroken

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.findings import Findings
    from reports.editions import Edition
    from reports.marks import Marks
    from reports.parts import Contents, Figure
    from reports.pictures import Pictures


OF_THE_SEASON = {"money": money_chart, "adding-up": adding_up_chart, "map": map_chart}
"""Charts that are of no single outcome."""
OF_ONE = {
    "lengths": lambda findings, _, rig: length_chart(findings, rig),
    "strip": strip_chart,
    "sizes": sizes_chart,
}
"""Charts that are of one rig, or of one boat's trips."""
OF_AN_OUTCOME = {
    "ratio": ratio_chart,
    "one-tow": one_tow_chart,
    "rate": rate_chart,
    "boats": boats_chart,
    "changes": changes_chart,
}


OWN_DRAWINGS = {"flow": flow_drawing}
"""Figures that we draw ourselves."""


class GearDrawings(NamedTuple):
    """Each rig by view, and each rig's torn net, as SVG."""

    rigs: dict[str, dict[str, str]]
    nets: dict[str, list[str]]


NO_GEAR = GearDrawings({}, {})
"""A reader who is shown what boats share is shown none."""


class Drawn(NamedTuple):
    """A report to one reader, drawn: its contents, and its pictures as SVG by figure or by rig.

    Charts are promised: each is there when it is called.
    """

    contents: Contents
    charts: dict[str, Callable[[], str]]
    own_drawings: dict[str, str]
    gear: GearDrawings


def season_page(findings: Findings, edition: Edition, pictures: Pictures = DRAWN_HERE) -> str:
    """The report to one reader as one page of HTML, a pure function of the findings."""
    return page_of(draw(findings, edition, pictures), edition)


def draw(
    findings: Findings,
    edition: Edition,
    pictures: Pictures = DRAWN_HERE,
    gear: GearDrawings | None = None,
) -> Drawn:
    """The report to one reader with everything in it drawn, or asked of `pictures`.

    `gear` is that of the findings, where it was drawn for another reader. altair checks nothing of
    its charts as they grow, which takes a third of its time: the tests draw them all.
    """
    findings = plainly_named(findings)
    contents = report_contents(findings, edition)
    figures = [figure for section in contents.sections for figure in section.all_figures]
    told, whole = edition.units(findings), edition.screen is None
    with debug_mode(arg=False):
        specs = {figure.name: _chart(figure, told, contents.marks) for figure in figures}
    return Drawn(
        contents,
        {name: pictures.chart(spec) for name, spec in specs.items() if spec is not None},
        {f.name: OWN_DRAWINGS[f.kind](findings) for f in figures if f.kind in OWN_DRAWINGS},
        (gear or gear_drawings(findings)) if whole else NO_GEAR,
    )


def page_of(drawn: Drawn, edition: Edition) -> str:
    """The page of a report that was drawn.

    All words are escaped by the template; only our own style, script, charts and drawings, which
    escape theirs, go into it as they are.
    """
    charts = {name: in_halves(in_page(svg(), name), name) for name, svg in drawn.charts.items()}
    style = _asset("season-report.css") + _asset("net-drawing.css")
    script = _asset("season-report.js")
    return (
        _templates()
        .get_template("season-report.html")
        .render(
            language=spoken().tag,
            contents=drawn.contents,
            kind=edition.kind,
            opening=edition.opening,
            pictures={name: svg for name, (svg, _) in charts.items()} | drawn.own_drawings,
            on_paper={name: halves for name, (_, halves) in charts.items() if halves},
            drawings={rig: list(views.values()) for rig, views in drawn.gear.rigs.items()},
            nets=drawn.gear.nets,
            style=style,
            script=script,
            policy=_policy(style, script),
            advice_caution=ADVICE_CAUTION,
        )
    )


@cache
def _templates() -> Environment:
    templates = Environment(
        loader=PackageLoader("reports"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    templates.globals["say"] = say
    templates.globals["key_to"] = key_to
    templates.filters["look_of_cell"] = look_of_cell
    templates.filters["unbroken"] = unbroken
    return templates


def _chart(figure: Figure, findings: Findings, marks: Marks) -> dict[str, Any] | None:
    """The chart of a figure; none where its numbers stand alone, or we draw it ourselves."""
    if figure.kind == "numbers" or figure.kind in OWN_DRAWINGS:
        return None
    if figure.kind in OF_ONE:
        return OF_ONE[figure.kind](findings, marks, figure.of)
    if figure.kind in OF_THE_SEASON:
        return OF_THE_SEASON[figure.kind](findings, marks)
    if figure.kind == "residuals":
        return residual_chart(findings, figure.outcome)
    outcome = outcomes_of(findings)[figure.outcome]
    if figure.kind == "measure":
        return measure_chart(findings, outcome, marks, figure.of)
    return OF_AN_OUTCOME[figure.kind](findings, outcome, marks)


def gear_drawings(findings: Findings) -> GearDrawings:
    """Every rig, and where its nets tore, for the readers that are shown them."""
    findings = plainly_named(findings)
    rigs = {rig["rig_version"]: _drawings(rig) for rig in findings["rigs"]}
    return GearDrawings(rigs, net_drawings(findings))


def _drawings(rig: dict[str, Any]) -> dict[str, str]:
    """The rig from ahead and from the side, and from above, as far as it can be drawn."""
    views = {"from-the-side": side_view(rig), "from-above": plan_view(rig)}
    return {view: svg for view, svg in views.items() if svg is not None}


def _asset(name: str) -> str:
    return (files("reports") / "templates" / name).read_text(encoding="utf-8")


def _policy(style: str, script: str) -> str:
    """A content security policy that admits this style and this script and nothing else."""
    return (
        f"default-src 'none'; style-src '{_digest(style)}'; script-src '{_digest(script)}'; "
        "base-uri 'none'; form-action 'none'"
    )


def _digest(text: str) -> str:
    return f"sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}"

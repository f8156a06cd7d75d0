"""The page: one HTML file that opens from disk, needs no network and runs under a strict policy."""

from __future__ import annotations

import base64
import hashlib
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from jinja2 import Environment, PackageLoader, StrictUndefined

from reports.advice.words import RANGE_WORDS
from reports.boats.chart import boats_chart
from reports.changes.chart import changes_chart
from reports.charts import rate_chart, ratio_chart, still_picture
from reports.contents import report_contents
from reports.damage_cost.chart import adding_up_chart
from reports.does_it_hold.charts import residual_chart
from reports.money.charts import money_chart
from reports.plain_words import ADVICE_CAUTION
from reports.rig_drawing.plan_view import plan_view
from reports.rig_drawing.side_view import side_view
from reports.rigs.charts import length_chart, measure_chart
from reports.tears.drawings import net_drawings

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.editions import Edition
    from reports.marks import Marks
    from reports.parts import Figure


OF_THE_SEASON = {"money": money_chart, "adding-up": adding_up_chart}
"""Charts that are of no single outcome."""
OF_AN_OUTCOME = {
    "ratio": ratio_chart,
    "rate": rate_chart,
    "boats": boats_chart,
    "changes": changes_chart,
}


def season_page(findings: Findings, edition: Edition) -> str:
    """The report to one reader as one page of HTML, a pure function of the findings.

    All words are escaped by the template; only our own style, script, charts and drawings, which
    escape theirs, go into it as they are.
    """
    contents = report_contents(findings, edition)
    pictures = {
        figure.name: picture
        for section in contents.sections
        for figure in section.all_figures
        if (picture := _picture(figure, findings, contents.marks)) is not None
    }
    style = _asset("season-report.css") + _asset("net-drawing.css")
    script = _asset("season-report.js")
    environment = Environment(
        loader=PackageLoader("reports"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return environment.get_template("season-report.html").render(
        contents=contents,
        opening=edition.opening,
        pictures=pictures,
        drawings=_rig_drawings(findings) if edition.screen is None else {},
        nets=net_drawings(findings) if edition.screen is None else {},
        style=style,
        script=script,
        policy=_policy(style, script),
        advice_caution=ADVICE_CAUTION,
        range_words=RANGE_WORDS,
    )


def _picture(figure: Figure, findings: Findings, marks: Marks) -> str | None:
    spec = _chart(figure, findings, marks)
    return None if spec is None else still_picture(spec, figure.name)


def _chart(figure: Figure, findings: Findings, marks: Marks) -> dict[str, Any] | None:
    """The chart of a figure; none where its numbers stand alone."""
    if figure.kind == "numbers":
        return None
    if figure.kind == "lengths":
        return length_chart(findings, figure.of)
    if figure.kind in OF_THE_SEASON:
        return OF_THE_SEASON[figure.kind](findings, marks)
    if figure.kind == "residuals":
        return residual_chart(findings, figure.outcome)
    outcome = next(o for o in findings["outcomes"] if o["name"] == figure.outcome)
    if figure.kind == "measure":
        return measure_chart(findings, outcome, marks, figure.of)
    return OF_AN_OUTCOME[figure.kind](findings, outcome, marks)


def _rig_drawings(findings: Findings) -> dict[str, list[str]]:
    return {rig["rig_version"]: _drawings(rig) for rig in findings["rigs"]}


def _drawings(rig: dict[str, Any]) -> list[str]:
    """The rig from ahead and from the side, and from above, as far as it can be drawn."""
    return [svg for svg in (side_view(rig), plan_view(rig)) if svg is not None]


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

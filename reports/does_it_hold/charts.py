"""How the hauls lie about a model: the mean residual of groups of hauls, in a panel a kind."""

from __future__ import annotations

from typing import TYPE_CHECKING

import altair as alt

from reports.charts import NO_DIFFERENCE, layered, panels, whole
from reports.does_it_hold.sentences import group_name, lies_off
from reports.language import say
from reports.marks import COLOURS
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

PANEL_WIDTH, PANEL_HEIGHT = 320, 90
PANELS = {
    "fitted": saying("by what is fitted, low to high"),
    "ground": saying("by ground"),
    "boat": saying("by boat"),
    "time": saying("by time"),
}
GROUP_SAYS = {
    "fitted": saying("fitted {group}: {mean:+.2f} over {hauls:,} hauls"),
    "ground": saying("ground {group}: {mean:+.2f} over {hauls:,} hauls"),
    "boat": saying("boat {group}: {mean:+.2f} over {hauls:,} hauls"),
    "time": saying("time {group}: {mean:+.2f} over {hauls:,} hauls"),
}
MOST_GROUPS = 24
"""Of more boats than this the ones with most hauls are drawn; the table has them all."""
AS_A_RULE, OFF = COLOURS[:2]
"""Seen on white paper and on a dark screen."""


def residual_chart(findings: Findings, outcome: str) -> Row | None:
    """The residuals of an outcome's model, or None where there is no model."""
    model = next(m for m in findings["diagnostics"]["models"] if m["outcome"] == outcome)
    rows = [
        {
            "panel": say(panel),
            "group": group_name(group),
            "mean": group["mean"],
            "low": group["low"],
            "high": group["high"],
            "off": lies_off(group),
            "says": say(
                GROUP_SAYS[by],
                group=group_name(group),
                mean=group["mean"],
                hauls=group["hauls"],
            ),
        }
        for by, panel in PANELS.items()
        for group in _most([g for g in model["groups"] if g["by"] == by])
    ]
    if not rows:
        return None
    x = alt.X("group:N", title=None, axis=alt.Axis(labelAngle=-60, labelLimit=90))
    y = alt.Y("mean:Q", title=say("mean residual"), axis=alt.Axis(tickCount=4))
    colour = alt.Color(
        "off:N", scale=alt.Scale(domain=[False, True], range=[AS_A_RULE, OFF]), legend=None
    )
    base = alt.Chart().encode(x=x, color=colour, description="says:N")
    layers = layered(
        alt.Chart().mark_rule(**NO_DIFFERENCE).encode(y=alt.YDatum(0)),
        base.mark_rule(strokeWidth=2).encode(y="low:Q", y2="high:Q"),
        base.mark_point(filled=True, size=45, opacity=1).encode(y=y),
        width=PANEL_WIDTH,
        height=PANEL_HEIGHT,
    )
    order = [say(panel) for panel in PANELS.values()]
    return whole(panels(layers, "panel", order, apart="x"), rows=rows)


def _most(groups: list[Row]) -> list[Row]:
    """The groups with most hauls, in their own order."""
    kept = sorted(groups, key=lambda group: -group["hauls"])[:MOST_GROUPS]
    return [group for group in groups if group in kept]

"""The chart of a species' sizes: a panel a rig, its ratio to the reference over length."""

from __future__ import annotations

from typing import TYPE_CHECKING

import altair as alt

from reports.cells import ratio_cell
from reports.charts import NO_DIFFERENCE, by_rig, layered, panels, ratio_ends, ratio_ticks, whole
from reports.language import say
from reports.sentences import in_part
from reports.sizes.section import told_effects
from reports.sizes.sentences import band_words, fish_of

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.marks import Marks
    from reports.parts import Row

HEIGHT = 110
UNDER_ONE_ANOTHER = 2
"""A figure on an upright axis takes half the room of one that stands beside the next."""


def sizes_chart(findings: Findings, marks: Marks, of: str) -> Row | None:
    """Each rig's ratio in each band of a species' lengths, with its interval."""
    (species,) = (s for s in findings["by_length"]["species"] if s["species"] == of)
    rows = [_dot(effect, species) for effect in told_effects(species)]
    if not rows:
        return None
    ratios, lows, highs = ([row[name] for row in rows] for name in ("ratio", "low", "high"))
    ends = ratio_ends(ratios, lows, highs)
    scale = alt.Scale(type="log", domain=ends, clamp=True, nice=False)
    axis = alt.Axis(values=ratio_ticks(ends, UNDER_ONE_ANOTHER * HEIGHT), format="~g")
    colour, shape = by_rig(marks)
    x = alt.X(
        "length:Q",
        title=say("length (cm)"),
        scale=alt.Scale(zero=False),
        axis=alt.Axis(tickCount=5),
    )
    base = alt.Chart().encode(x=x, color=colour, description="says:N")
    layers = layered(
        alt.Chart().mark_rule(**NO_DIFFERENCE).encode(y=alt.Y(datum=1, scale=scale)),
        base.mark_rule(strokeWidth=3).encode(
            y=alt.Y("low:Q", scale=scale, axis=axis, title=say("times")), y2="high:Q"
        ),
        base.mark_point(filled=True, size=110, opacity=1).encode(
            y=alt.Y("ratio:Q", scale=scale), shape=shape
        ),
        height=HEIGHT,
    )
    shown = {row["rig"] for row in rows}
    return whole(panels(layers, "rig", [rig for rig in marks.rigs if rig in shown]), rows=rows)


def _dot(effect: Row, species: Row) -> Row:
    (band,) = (band for band in species["bands"] if band["outcome"] == effect["outcome"])
    return {
        "rig": effect["rig"],
        "length": band["length_cm"],
        **{name: effect[name] for name in ("ratio", "low", "high")},
        "says": say(
            "{rig}: {fish} {band}, {ratio} times {reference}'s, between {low} and {high}",
            rig=effect["rig"],
            fish=fish_of(species),
            band=band_words(band),
            reference=effect["reference"],
            **{name: ratio_cell(effect[name]) for name in ("ratio", "low", "high")},
        )
        + in_part(effect),
    }

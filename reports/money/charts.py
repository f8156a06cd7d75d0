"""The net change per hour of each rig: its mark and an interval, with nought as a line."""

from __future__ import annotations

from typing import TYPE_CHECKING

import altair as alt

from reports.charts import NO_DIFFERENCE, STEP, by_rig, layered, rig_by_rig, whole, width_beside
from reports.language import say
from reports.money.in_view import reach
from reports.money.sentences import ahead, is_told, verdict_word
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.marks import Marks
    from reports.parts import Row


def money_chart(findings: Findings, marks: Marks) -> Row | None:
    """Each rig's net change against the reference, over all grounds, in money per hour."""
    currency = findings["season"]["currency"]
    reference = findings["season"]["reference_rig"]
    told = [
        row for row in findings["money"]["rigs"] if row["ground"] == ALL_GROUNDS and is_told(row)
    ]
    if not told:
        return None
    edge = reach(told)
    rows = [_row(row, currency) for row in told]
    scale = alt.Scale(domain=[-edge, edge], clamp=True, nice=False)
    colour, shape = by_rig(marks)
    base = alt.Chart().encode(y=rig_by_rig(marks), color=colour, description="says:N")
    unit = say(
        "{currency} per hour towed, against {reference}", currency=currency, reference=reference
    )
    axis = alt.Axis(
        tickCount=5,
        format=",.2~f",
        title=[unit.strip(), say("← behind · ahead →")],
    )
    chart = layered(
        alt.Chart(alt.NamedData(name="nought"))
        .mark_rule(**NO_DIFFERENCE)
        .encode(x=alt.X("at:Q", scale=scale)),
        base.mark_rule(strokeWidth=3).encode(x=alt.X("low:Q", scale=scale, axis=axis), x2="high:Q"),
        base.transform_filter(f"abs(datum.change) <= {edge}")
        .mark_point(filled=True, size=130, opacity=1)
        .encode(x=alt.X("change:Q", scale=scale), shape=shape),
        height={"step": STEP + 4},
        width=width_beside(row["rig"] for row in rows),
    )
    return whole(chart, rows=rows, nought=[{"at": 0}])


def _row(row: Row, currency: str) -> Row:
    change = row["net_change"]
    return {
        "rig": row["rig"],
        "change": change["estimate"],
        "low": change["low"],
        "high": change["high"],
        "says": f"{row['rig']}: {ahead(change, currency)}; {verdict_word(row)}",
    }

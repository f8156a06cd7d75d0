"""`report --show-model`: the whole table of a model, as plain text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.nearest import did_you_mean
from pipeline.problems import WrongUsageError
from reports.sentences import ALL_GROUNDS
from reports.standing.section import p_cell
from reports.terminal import columns, paragraph

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

HEADERS = ["term", "estimate", "error", "freedom", "t", "p", "ratio", "from", "to"]
LARGEST = 1e4
"""A ratio or limit from here on is written with its power of ten."""


def shown_models(findings: Findings, outcome: str) -> str:
    """The models of an outcome over all grounds; raises `WrongUsageError` if there is none."""
    models = findings["standing"]["models"]
    names = list(dict.fromkeys(model["outcome"] for model in models))
    if outcome not in names:
        known = f"; there is one of {', '.join(names)}" if names else ""
        raise WrongUsageError(
            f"There is no model of {outcome!r}{did_you_mean(outcome, names)}{known}."
        )
    shown = [m for m in models if m["outcome"] == outcome and m["ground"] == ALL_GROUNDS]
    lines = [line for model in shown for line in [*_table(model), ""]]
    grounds = list(
        dict.fromkeys(
            m["ground"] for m in models if m["outcome"] == outcome and m["ground"] != ALL_GROUNDS
        )
    )
    if grounds:
        lines += paragraph(
            f"Those of single grounds ({', '.join(grounds)}) are in findings.json under standing, "
            "models."
        )
    return "\n".join(lines).rstrip()


def model_facts(model: Row) -> dict[str, str]:
    """What a model is of and how it was fitted, by a word for each."""
    return {
        "formula": model["formula"],
        "rigs against": model["reference"],
        "hauls": f"{model['hauls']:,} in {model['trips']:,} trips (clusters)",
        "sums": f"{model['total']:,.6g} in {model['tow_hours']:,.6g} hours towed",
        "errors": model["errors"],
        "limits": f"95 %, by {model['freedom']}",
        "adjusted for": ", ".join(model["adjusted_for"]) or "nothing",
        "left out": "; ".join(model["left_out"]) or "nothing",
        "worked out in": ", ".join(model["code"]),
    }


def _table(model: Row) -> list[str]:
    return [
        model["name"],
        "",
        *(
            line
            for name, told in model_facts(model).items()
            for line in paragraph(f"{name}: {told}", "  ")
        ),
        "",
        *columns(HEADERS, [model_cells(term) for term in model["terms"]]),
    ]


def model_cells(term: Row) -> list[str]:
    """A term as cells under `HEADERS`; "not told" where its ratio may not be."""
    if term["estimate"] is None:
        return [term["term"], "not told", *[""] * (len(HEADERS) - 2)]
    return [
        term["term"],
        f"{term['estimate']:.4f}",
        f"{term['std_error']:.4f}",
        "" if term["freedom"] is None else f"{term['freedom']:.0f}",
        "" if term["t"] is None else f"{term['t']:.2f}",
        p_cell(term["p_value"]),
        *(_ratio(term[name]) for name in ("ratio", "low", "high")),
    ]


def _ratio(value: float | None) -> str:
    if value is None:
        return "–"
    return f"{value:.3f}" if value < LARGEST else f"{value:.1e}"

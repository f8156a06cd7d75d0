"""`report --show-model`: the whole table of a model, as plain text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.nearest import did_you_mean
from pipeline.problems import WrongUsageError
from pipeline.rates.model_table import CORRECTION, NEVER_LESS, OF_YES_OR_NO
from reports.cells import p_cell
from reports.language import number, say
from reports.reason_words import reason_said
from reports.terminal import columns, paragraph
from schemas.outcomes import outcome
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.findings import Findings
    from pipeline.rates.by_statsmodels import MadeAgain
    from reports.parts import Row

HEADERS = [
    saying("term"),
    saying("estimate"),
    saying("error"),
    saying("freedom"),
    "t",
    "p",
    saying("ratio"),
    saying("from"),
    saying("to"),
]
ERRORS = {
    "".join(parts): parts
    for errors in CORRECTION.values()
    for parts in ((errors,), (errors, NEVER_LESS), (errors, NEVER_LESS, OF_YES_OR_NO))
}
"""The sentences on how errors were come by, and what each is made of."""

BY_STATSMODELS = "fitted anew by statsmodels"
WHERE_WORKED_OUT = saying("worked out in")
LARGEST = 1e4
"""A ratio or limit from here on is written with its power of ten."""


def shown_models(findings: Findings, outcome: str, again: Callable[[Row], MadeAgain | None]) -> str:
    """The models of an outcome over all grounds, each with how far it is if made `again`.

    Raises `WrongUsageError` if there is none.
    """
    models = findings["standing"]["models"]
    names = list(dict.fromkeys(model["outcome"] for model in models))
    if outcome not in names:
        known = f"; there is one of {', '.join(names)}" if names else ""
        raise WrongUsageError(
            f"There is no model of {outcome!r}{did_you_mean(outcome, names)}{known}."
        )
    shown = [m for m in models if m["outcome"] == outcome and m["ground"] == ALL_GROUNDS]
    lines = [line for model in shown for line in [*_table(model, again(model)), ""]]
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
        say("formula"): _formula(model),
        say("rigs against"): model["reference"],
        say("hauls"): say("{hauls:,} in {trips:,} trips (clusters)", **model),
        say("sums"): say("{total:,.6g} in {tow_hours:,.6g} hours towed", **model),
        say("errors"): "".join(map(say, ERRORS.get(model["errors"], (model["errors"],)))),
        say("limits"): say("95 %, by {freedom}", freedom=say(model["freedom"])),
        **_not_told(model),
        say("adjusted for"): ", ".join(model["adjusted_for"]) or say("nothing"),
        say("left out"): "; ".join(map(reason_said, model["left_out"])) or say("nothing"),
        say(WHERE_WORKED_OUT): ", ".join(model["code"]),
    }


def _not_told(model: Row) -> dict[str, str]:
    """Why terms of the table are not told, where any is not."""
    terms = [
        f"{_named(term)} ({say(term['untold'])})"
        for term in model["terms"]
        if term["estimate"] is None
    ]
    return {say("not told"): "; ".join(terms)} if terms else {}


def _formula(model: Row) -> str:
    """The model in words, as the findings have it in English."""
    named = outcome(model["outcome"])
    title = say(named.title).lower()
    return say(
        "log of mean {outcome} = log of hours towed + {terms}; Poisson likelihood",
        outcome=f"{title} ({say(named.unit)})" if named.unit else title,
        terms=" + ".join([say("intercept"), "rig_version", *model["adjusted_for"]]),
    )


def _table(model: Row, again: MadeAgain | None) -> list[str]:
    facts = {**model_facts(model), BY_STATSMODELS: _by_statsmodels(again)}
    return [
        model["name"],
        "",
        *(line for name, told in facts.items() for line in paragraph(f"{name}: {told}", "  ")),
        "",
        *columns(
            [say(header) for header in HEADERS], [model_cells(term) for term in model["terms"]]
        ),
    ]


def _by_statsmodels(again: MadeAgain | None) -> str:
    """How far the same model fitted by statsmodels is from ours, in a sentence."""
    if again is None:
        return "it finds no fit"
    return (
        f"version {again.version}, estimates at most {again.apart:.0e} apart; its errors, "
        f"clustered by trip (HC1), are {again.narrowest:.2f} to {again.widest:.2f} of these"
    )


def model_cells(term: Row) -> list[str]:
    """A term as cells under `HEADERS`; "not told" where its ratio may not be."""
    if term["estimate"] is None:
        return [_named(term), say("not told"), *[""] * (len(HEADERS) - 2)]
    return [
        _named(term),
        number(term["estimate"], ".4f"),
        number(term["std_error"], ".4f"),
        "" if term["freedom"] is None else number(term["freedom"], ".0f"),
        "" if term["t"] is None else number(term["t"], ".2f"),
        p_cell(term["p_value"]),
        *(_ratio(term[name]) for name in ("ratio", "low", "high")),
    ]


def _named(term: Row) -> str:
    return say("intercept") if term["term"] == "intercept" else str(term["term"])


def _ratio(value: float | None) -> str:
    if value is None:
        return "–"
    return number(value, ".3f" if value < LARGEST else ".1e")

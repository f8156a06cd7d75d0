"""How far the findings stand: among how many looks, with what power, and by which models."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pipeline.rates.looks import ERROR, Judging, headline_comparisons
from pipeline.rates.planning import plan
from schemas.outcomes import HEADLINES

if TYPE_CHECKING:
    from collections.abc import Mapping

    import polars as pl

    from pipeline.rates.effects import Compared
    from pipeline.rates.numbered import Sums
    from schemas.settings import Model

METHODS = {
    "together": "equal parts of the allowed error for each headline comparison (Bonferroni): "
    "intervals at 1 - error/comparisons, p-values times comparisons, and verdicts from those "
    "intervals",
    "alone": "none: each headline comparison at 95 % by itself, as the season asks",
}


def judge_by(
    sums: pl.DataFrame | Mapping[str, Sums], fished: pl.DataFrame, reference: str, model: Model
) -> Judging:
    """By what this season's verdicts are judged, settled before anything is fitted.

    `sums` and `fished` are those of `compare_rigs`.
    """
    rigs = fished["rig_version"].unique().sort().to_list()
    return Judging(
        headline_comparisons(sums, rigs, reference),
        model.smallest_that_matters,
        together=model.many_looks == "together",
    )


def standing(compared: Compared, judging: Judging) -> dict[str, Any]:
    """As it goes into `findings.json`: the looks, what could have been shown, and the models."""
    once = {name: each for name, each in compared.fitted.items() if each.cells.yes_or_no}
    return {
        "looks": {
            "outcomes": list(HEADLINES),
            "comparisons": judging.comparisons,
            "allowed_for": judging.together,
            "method": METHODS["together" if judging.together else "alone"],
            "error": ERROR,
            "confidence": judging.confidence,
        },
        "planning": plan(compared.effects, judging, once),
        "models": compared.models,
    }

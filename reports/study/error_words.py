"""How the errors of the headline ratios were come by, counted from the effects themselves."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.sentences import is_told

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

ERROR_WORDS = {
    "one trip left out at a time": "errors by leaving out each trip in turn (one Newton step each, "
    "the squared changes times (G − 1)/G for G trips), with t on the degrees of freedom that the "
    "trips have for that ratio",
    "clustered by trip": "errors clustered by trip (HC1: times G/(G − 1) and (n − 1)/(n − k) for G "
    "trips, n hauls and k terms), with t on the fewer trips of the two rigs less one",
    "model": "the model's own errors and the normal",
    "exact limits": "exact limits given the events under each set of conditions that both met",
    "penalised likelihood": "Firth's penalised likelihood, as the plain one has no end",
}


def error_sentences(findings: Findings) -> list[str]:
    """Of the headline ratios: by what errors, how many of them and why; then the freedom of t."""
    effects = [e for e in findings["effects"] if e["p_adjusted"] is not None and is_told(e)]
    by_way: dict[tuple[str, str], list[Row]] = {}
    for effect in effects:
        by_way.setdefault((effect["errors"], effect["errors_reason"]), []).append(effect)
    said = [
        f"{_of(len(own), len(effects))} {ERROR_WORDS[errors]}, because {reason}."
        for (errors, reason), own in sorted(by_way.items(), key=lambda item: -len(item[1]))
    ]
    freedoms = [e["freedom"] for e in effects if e["freedom"] is not None]
    if freedoms:
        least, most = min(freedoms), max(freedoms)
        span = f"{least:.0f}" if round(least) == round(most) else f"{least:.0f} to {most:.0f}"
        said.append(f"Where t is used it has {span} degrees of freedom.")
    return said


def _of(own: int, every: int) -> str:
    if own == every:
        return "The one headline ratio has" if every == 1 else f"All {every} headline ratios have"
    return f"{own} of {every} headline ratios {'has' if own == 1 else 'have'}"

"""Rows of rigs that several seasons of a folder say alike: a repeat, and nothing that is lost."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.seasons.repeats import RIG_AGAIN

if TYPE_CHECKING:
    from pipeline.findings import Findings


def of_rigs_said_again(findings: Findings) -> dict[str, int]:
    """Rows of rigs that another season has alike, which nobody got wrong, by their table."""
    begins, ends = RIG_AGAIN.split("{}")
    again: dict[str, int] = {}
    for told in findings["set_aside"]:
        if told["reason"].startswith(begins) and told["reason"].endswith(ends):
            again[told["table"]] = again.get(told["table"], 0) + told["rows"]
    return again

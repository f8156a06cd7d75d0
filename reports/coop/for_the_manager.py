"""What whoever makes a co-op's report is told on the terminal, and no file of it says."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.sharing.consent import agreeing_twice

if TYPE_CHECKING:
    from pipeline.run_season import SeasonResults


def for_the_manager(results: SeasonResults) -> list[str]:
    """A line on each thing to look at before the report is handed on."""
    return agreeing_twice(results.folder.settings.sharing)

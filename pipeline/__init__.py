"""From haul records to findings: `from pipeline import run_season`."""

from __future__ import annotations

import sys
from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pipeline.run_season import run_season

__all__ = ["run_season"]


class _FrontDoor(ModuleType):
    """The package, with the story's function under the story's own name.

    Its heavy imports wait until it is asked for, so that `rigseason --help` opens at once. A
    property is needed because importing the module `pipeline.run_season` sets the attribute too.
    """

    @property
    def run_season(self) -> Any:
        return import_module("pipeline.run_season").run_season

    @run_season.setter
    def run_season(self, _module: ModuleType) -> None:
        """Let the import system set what it likes; the function stays."""


sys.modules[__name__].__class__ = _FrontDoor

"""Read a TOML file of a season; what can't be read is told in one sentence."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING, Any

from pipeline.problems import SeasonUnusableError

if TYPE_CHECKING:
    from pathlib import Path


def read_toml(path: Path) -> dict[str, Any]:
    """What the file at `path` says; raises `SeasonUnusableError` with what is wrong with it."""
    try:
        return tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except UnicodeDecodeError as error:
        raise SeasonUnusableError(f"{path.name} is not UTF-8 text; save it as UTF-8.") from error
    except OSError as error:
        raise SeasonUnusableError(f"{path.name} can't be opened: {error.strerror}.") from error
    except tomllib.TOMLDecodeError as error:
        raise SeasonUnusableError(f"{path.name} is not valid TOML: {error}.") from error
    except (RecursionError, ValueError) as error:
        raise SeasonUnusableError(f"{path.name} holds what no season does.") from error

"""What can go wrong, each with its exit code; a user sees the sentences, never a traceback."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable


class RigseasonError(Exception):
    """Something to tell the user, in one plain sentence per problem."""

    exit_code = 1

    def __init__(self, sentences: str | Iterable[str]) -> None:
        self.sentences = [sentences] if isinstance(sentences, str) else list(sentences)
        super().__init__("\n".join(self.sentences))


class SeasonUnusableError(RigseasonError):
    """The season cannot be used as it is."""

    exit_code = 1


class WrongUsageError(RigseasonError):
    """The command was called in a way that it does not understand."""

    exit_code = 2

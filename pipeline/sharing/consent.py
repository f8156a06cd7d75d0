"""What is said of the boats that are told to agree to stand in the co-op's report."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.nearest import did_you_mean

if TYPE_CHECKING:
    from collections.abc import Collection

    from schemas.settings import Sharing


def strangers_that_agree(sharing: Sharing, vessels: Collection[str]) -> list[str]:
    """A sentence on each boat that is said to agree and has no haul."""
    boats = sorted(vessels)
    return [
        f"season.toml: [sharing] says that {name!r} agrees, which no haul is of"
        f"{did_you_mean(name, boats)}; put it right."
        for name in sharing.agreeing
        if name not in boats
    ]


def agreeing_twice(sharing: Sharing) -> list[str]:
    """A sentence on each boat that is said to agree both by name and under a letter."""
    return [
        f"season.toml: [sharing] has {name!r} in consent and in consent_under_letter: the letter "
        "holds."
        for name in dict.fromkeys(sharing.consent)
        if name in sharing.consent_under_letter
    ]

"""What bears a verdict: how often the outcome was seen with a rig and with the reference."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from pipeline.rates.exact import ratio_limits
from pipeline.rates.poisson import CONFIDENCE
from pipeline.rates.verdict import verdict

if TYPE_CHECKING:
    from pipeline.rates.behind import Behind
    from pipeline.rates.tally import Tally
    from schemas.codes import Verdict

LEAST_WITH_SOME = 5
"""Of fewer hauls with any of the outcome on either side the interval of a fit is not enough; where
a haul has it once at most, fewer without any settle nothing. Own judgement."""


@dataclass(frozen=True)
class Evidence:
    """What the hauls of a rig (`own`) and of the reference (`other`) come to, and how they count.

    `counted` is whether the outcome is counted; `once` whether no haul had it more than once: then
    `behind` tells of the rates behind, where it can.
    """

    own: Tally
    other: Tally
    counted: bool
    once: bool
    behind: Behind | None = None

    @property
    def is_slight(self) -> bool:
        """Whether either rig had the outcome in few hauls."""
        return min(self.own.with_some, self.other.with_some) < LEAST_WITH_SOME

    @property
    def are_nearly_all(self) -> bool:
        """Whether as good as every haul had it, so that rates which differ can't show."""
        return self.once and (self.own | self.other).without < LEAST_WITH_SOME

    def says(
        self,
        low: float | None,
        high: float | None,
        *,
        matters: float,
        confidence: float = CONFIDENCE,
        side_by_side: bool = True,
        exact: bool = False,
    ) -> Verdict:
        """The verdict on limits, of this confidence, of the ratio of the two.

        Unless they are `exact`, slight evidence must be clear by exact limits too; weights have
        none, and are not told by it.
        """
        slight = self.is_slight and not exact
        if slight and self.counted and low is not None and high is not None:
            least, most = self._exact(confidence)
            low, high = min(low, least), max(high, most)
        tells = self.counted or not slight
        return verdict(
            low,
            high,
            can_tell=side_by_side and tells and not self.are_nearly_all,
            matters=matters,
            behind=partial(self._behind, confidence) if self.once else None,
        )

    def _behind(self, confidence: float) -> tuple[float, float] | None:
        """The limits of the ratio of rates, of this confidence, where there are any."""
        return None if self.behind is None else self.behind(confidence)

    def _exact(self, confidence: float) -> tuple[float, float]:
        """The exact limits of the ratio of hauls with some, per hour, as they are."""
        return ratio_limits(
            (self.own.with_some, self.own.hours),
            (self.other.with_some, self.other.hours),
            confidence,
        )

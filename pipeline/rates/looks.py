"""Many looks: what is asked of headline findings so that luck alone seldom makes one of them.

The headline comparisons are those of the headline outcomes between each rig and the reference over
all grounds, as many as were fished side by side. They are counted before anything is fitted, from
hauls and hours alone, so that what was found can't change how much is asked of it. The chance that
any of them is called lower, higher, or no different, and is not, is held to 5 % by giving each an
equal part of it (Bonferroni; Dunn, Journal of the American Statistical Association 56 (1961) 52).

Why not Holm's steps (Scandinavian Journal of Statistics 6 (1979) 65), which find a little more: the
answer here is an interval, and the two must agree. The intervals that go with his steps end at
exactly no difference for whatever is found (Strassburger & Bretz, Statistics in Medicine 27 (2008)
4914), which tells a skipper nothing of how much. Equal parts hold under any dependence, and for all
three verdicts.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from pipeline.rates.numbered import by_outcome
from pipeline.rates.support import backings
from schemas.outcomes import HEADLINES, outcome

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    import polars as pl

    from pipeline.rates.numbered import Sums

ERROR = 0.05
"""The chance of any false headline finding that is allowed for."""


@dataclass(frozen=True)
class Judging:
    """By what verdicts are judged: among how many headline comparisons, and what matters.

    `matters` has the smallest ratio that matters of outcomes for which the season sets one.
    `together` is whether headline verdicts allow for their number, or the season has settled
    beforehand that each stands alone.
    """

    comparisons: int = 1
    matters: Mapping[str, float] = field(default_factory=dict)
    together: bool = True

    @property
    def looks(self) -> int:
        """Among how many a headline finding must stand."""
        return max(self.comparisons, 1) if self.together else 1

    @property
    def confidence(self) -> float:
        """The confidence of one interval with which all of them together hold."""
        return 1 - ERROR / self.looks

    def adjusted(self, p_value: float) -> float:
        """The p-value of one of them that allows for all."""
        return min(1.0, p_value * self.looks)

    def matters_of(self, name: str) -> float:
        """The ratio beyond which, either way, a difference in this outcome is worth knowing."""
        return self.matters.get(name, outcome(name).matters)


def headline_comparisons(
    sums: pl.DataFrame | Mapping[str, Sums], rigs: Sequence[str], reference: str
) -> int:
    """How many headline comparisons the record supports, whatever is found in them.

    `sums` are those of `find_effects`; of their amounts nothing is read. `rigs` are all that were
    fished.
    """
    others = [rig for rig in rigs if rig != reference]
    return sum(
        backing.side_by_side
        for name, of_outcome in by_outcome(sums).items()
        if name in HEADLINES
        for backing in backings(of_outcome, others, reference).values()
    )

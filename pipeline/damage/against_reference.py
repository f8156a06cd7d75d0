"""Whether other parts tear with one rig than with the reference, once the net tears.

Compared are shares: of the tears whose place is told, how many name the part. How often the net
tears at all is told elsewhere, adjusted; a net maker who knows it wants to know which part to make
stronger. A rate per hour of tears that name the part would be bent wherever one skipper writes down
the place and another does not. A share is not, as long as his silence has nothing to do with which
part it was. Tears are held against each other on the same ground and the same boat only, which
mostly means the same pen.

The shares are those of Mantel and Haenszel: of each ground and boat with tears n of the rig and m
of the reference, the weight is nm/(n + m) (Greenland & Robins, Biometrics 41 (1985) 55). The
chance of no difference is the larger of two, as either alone is too small at times. The exact one
takes each tear for itself and holds with few of them: given how many tears of a ground and boat
name the part, how many of these are the rig's is hypergeometric, and the sum over all grounds and
boats follows by folding. The other takes each trip for itself, with t: the scatter of trips about
the share of their rig, each raised for having drawn that share towards itself (Bell & McCaffrey,
Survey Methodology 28 (2002) 169). Where a rig has fewer trips than the other, its trips are not
believed to scatter less than the other's, the more so the fewer they are: ten that happen to agree
say little beside sixty that do not. That last rule is our own, and so are the degrees of freedom,
one less than the fewer trips, counted as trips of even weight. How often a difference is told where
there is none, `tests/proofs/torn_parts_over_seasons.py` counts: in no kind of season clearly more
often than in one of twenty, and with few trips far less, so that little is told of few trips.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, cast

import numpy as np
from scipy.special import betaln, softmax, stdtr

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


@dataclass(frozen=True)
class AgainstReference:
    """The share of one rig's tears that name a part, and the reference's, like for like.

    `tears` and `reference_tears` are those whose place is told, on grounds and boats of both.
    `ratio` is null where the reference has none that name it. `chance` is how often chance alone
    would set the two at least so far apart, one comparison by itself.
    """

    share: float
    reference_share: float
    ratio: float | None
    tears: int
    reference_tears: int
    chance: float


@dataclass(frozen=True)
class TearsByTrip:
    """One rig's tears that name a part, and all whose place is told: conditions × trips.

    A condition is a ground and a boat. Conditions and trips stand in the same order for both rigs.
    """

    named: Floats
    told: Floats


@dataclass(frozen=True)
class _Scatter:
    """How one rig's trips differ from its share, each as it counts in the difference.

    `weight` is how much of the rig's share is the trip's; they add up to 1.
    """

    left_over: Floats
    weight: Floats

    @property
    def trips(self) -> float:
        """How many trips of even weight they are worth (Kish, Survey Sampling, 1965)."""
        return float(1 / (self.weight**2).sum())

    @property
    def of_one(self) -> float:
        """The variance of a trip of all the weight."""
        return float((self.left_over**2).sum() * self.trips)


def against_reference(
    rig: TearsByTrip, reference: TearsByTrip, errors: Literal["trip", "model"]
) -> AgainstReference:
    """The two shares over the conditions that both tore under, and the chance of no difference.

    There is at least one such condition, and each rig has two trips or more there. With errors
    from the model each tear counts for itself, and the chance is the exact one.
    """
    shared = (rig.told.sum(axis=1) > 0) & (reference.told.sum(axis=1) > 0)
    rig, reference = (
        TearsByTrip(side.named[shared], side.told[shared]) for side in (rig, reference)
    )
    share, other = _share(rig, reference), _share(reference, rig)
    chance = exact_chance(rig, reference)
    if errors == "trip":
        chance = max(chance, chance_by_trip(rig, reference))
    return AgainstReference(
        share=share,
        reference_share=other,
        ratio=share / other if other else None,
        tears=int(rig.told.sum()),
        reference_tears=int(reference.told.sum()),
        chance=chance,
    )


def exact_chance(rig: TearsByTrip, reference: TearsByTrip) -> float:
    """Twice the smaller tail of the number of the rig's tears that name the part, at most 1.

    Given are, of each condition, the tears of either rig and how many of both name the part.
    """
    likelihood, least = np.ones(1), 0
    for own, tears, other, others in zip(*_totals(rig), *_totals(reference), strict=True):
        named = own + other
        low, high = max(0, named - others), min(named, tears)
        of_condition = hypergeometric(np.arange(low, high + 1), named, tears, others)
        likelihood, least = np.convolve(likelihood, of_condition), least + low
    found = int(rig.named.sum()) - least
    tails = likelihood[: found + 1].sum(), likelihood[found:].sum()
    return min(1.0, 2 * float(min(tails)))


def hypergeometric(own: NDArray[np.int64], named: int, tears: int, others: int) -> Floats:
    """How likely `own` of the rig's `tears` are among the `named` of its tears and the `others`.

    By logarithms of binomials, which the beta function tells. scipy.stats says the same, and takes
    half a second to load.
    """
    rest = named - own
    of_rig = -betaln(own + 1, tears - own + 1)
    of_others = -betaln(rest + 1, others - rest + 1)
    return cast("Floats", softmax(of_rig + of_others))


def chance_by_trip(rig: TearsByTrip, reference: TearsByTrip) -> float:
    """The chance by t that trips alone set the two shares so far apart; both sides."""
    difference = _share(rig, reference) - _share(reference, rig)
    own, other = _scatter(rig, reference), _scatter(reference, rig)
    variance = float(((own.left_over - other.left_over) ** 2).sum())
    fewer, more = sorted((own, other), key=lambda scatter: scatter.trips)
    borrowed = max(0.0, more.of_one - fewer.of_one) / fewer.trips
    variance += borrowed * (1 - fewer.trips / more.trips)
    if not variance:
        return 0.0 if difference else 1.0
    freedom = max(1.0, fewer.trips - 1)
    return 2 * float(stdtr(freedom, -abs(difference) / np.sqrt(variance)))


def _totals(side: TearsByTrip) -> tuple[list[int], list[int]]:
    """By condition, tears that name the part and tears."""
    named, told = (counts.sum(axis=1).astype(int).tolist() for counts in (side.named, side.told))
    return named, told


def _weights(side: TearsByTrip, beside: TearsByTrip) -> Floats:
    """What one tear of each condition counts in the share, such that all of them make 1."""
    tears, others = side.told.sum(axis=1), beside.told.sum(axis=1)
    of_one = others / (tears + others)
    return np.asarray(of_one / (of_one * tears).sum())


def _share(side: TearsByTrip, beside: TearsByTrip) -> float:
    return float(_weights(side, beside) @ side.named.sum(axis=1))


def _scatter(side: TearsByTrip, beside: TearsByTrip) -> _Scatter:
    """About the share of both in each condition, moved as one for all conditions of the rig."""
    weights = _weights(side, beside)
    named = side.named.sum(axis=1) + beside.named.sum(axis=1)
    of_both = named / (side.told.sum(axis=1) + beside.told.sum(axis=1))
    weight = weights @ side.told
    left_over = weights @ (side.named - of_both[:, None] * side.told)
    left_over -= weight * left_over.sum()
    return _Scatter(np.asarray(left_over / np.sqrt(1 - weight)), weight)

"""How much catch a rig may lose and still pay, and what an interval of money says."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from schemas.codes import MoneyVerdict

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Amount = TypeVar("Amount", float, NDArray[np.float64])


def break_even(
    reference_value_per_hour: Amount, reference_cost_per_hour: Amount, cost_per_hour: Amount
) -> Amount:
    """The share of the reference's catch value that a rig may lose and still come out even.

    All are money per tow hour, numbers or arrays of them: what the reference catches, which is more
    than nought, and what damage costs with the reference and with the rig. Below nought it is what
    the rig must catch more.
    """
    return (reference_cost_per_hour - cost_per_hour) / reference_value_per_hour


def money_verdict(low: float | None, high: float | None, *, can_tell: bool) -> MoneyVerdict:
    """The verdict on a net change per hour whose 95 % interval is `low` to `high`.

    `can_tell` is whether the two rigs were fished side by side and damage seen often enough.
    """
    if not can_tell or low is None or high is None:
        return MoneyVerdict.NOT_TOLD
    if low > 0:
        return MoneyVerdict.PAYS
    return MoneyVerdict.COSTS if high < 0 else MoneyVerdict.NOT_TOLD


def hours_to_earn_back(price: float, net_change_per_hour: float) -> float | None:
    """The tow hours over which a price is earned back; None where nothing is earned."""
    return price / net_change_per_hour if net_change_per_hour > 0 else None

"""How sums of money are rounded: whole where they are not better known, and so that they add up."""

from __future__ import annotations

from reports.language import number

Figure = dict[str, float | None]

SAID_IN_FULL, NOTHING = 10, 0.05
"""A sum of money below the first is said with a decimal; below the second it is nothing."""


def sized(amount: float, decimals: int) -> str:
    """The amount without its sign."""
    return number(abs(amount), f",.{decimals}f")


def decimals_beside(*amounts: float) -> int:
    """How many decimals sums have that stand together: one if any is small, else none."""
    told = [abs(each) for each in amounts if abs(each) >= NOTHING] or [0.0]
    return 0 if min(told) >= SAID_IN_FULL else 1


def decimals_of(change: Figure, *amounts: float) -> int:
    """The same for a change and what it is the sum of; none where its interval is wide."""
    low, high = change["low"], change["high"]
    if low is not None and high is not None and high - low >= SAID_IN_FULL:
        return 0
    return decimals_beside(change["estimate"] or 0.0, *amounts)


def decimals_of_limit(limit: float, decimals: int) -> int:
    """The decimals of its change, but one where the limit would be told as nought."""
    return 1 if NOTHING <= abs(limit) < HALF else decimals


HALF = 0.5


def adding_up(more: float, less: float, left: float, decimals: int) -> tuple[float, float, float]:
    """What comes in, what goes off it and what is left, rounded so that they add up as shown.

    What is left is rounded by itself; of the other two that one gives way which is changed least.
    """
    unit = 10.0**-decimals
    into, off, over = (round(each / unit) for each in (more, less, left))
    over_by = into - off - over
    if abs(over_by) == 1:
        nearer = (into * unit - more) * over_by >= (less - off * unit) * over_by
        into, off = (into - over_by, off) if nearer else (into, off + over_by)
    return into * unit, off * unit, over * unit

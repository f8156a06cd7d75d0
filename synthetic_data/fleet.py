"""The invented boats: names, size, what each carries, and how each keeps its log."""

from dataclasses import dataclass

import numpy as np

from synthetic_data.scene import REFERENCE_RIG, ROUGH_RIG

MOST_BOATS = 30

_FIRST_NAMES = ("Grey", "Bright", "Fair", "Bold", "Quiet", "Merry")
_SECOND_NAMES = ("Linnet", "Tansy", "Plover", "Thistle", "Curlew")

# Every boat has bobbins and rockhoppers; what else is aboard differs from boat to boat.
_LIGHT_RIGS = (
    ("chain-13", "discs-6"),
    ("grass-60", "rounded-70"),
    ("grass-60", "discs-6", "discs-8-trial"),
    ("chain-13", "rounded-70"),
)
_HAULS_WEIGHT = (1.1, 0.95, 1.05, 0.9)
VOICES = len(_LIGHT_RIGS)


@dataclass(frozen=True)
class Boat:
    """One boat and its true effects on damage, debris and catch against an average boat."""

    name: str
    length_m: float
    power_kw: int
    hauls: int
    rigs: tuple[str, ...]
    voice: int
    fills_damaged: bool
    changes_rig: bool
    damage: float
    debris: float
    bottom_living: float
    other: float


def invent_fleet(boats: int, hauls: int, rng: np.random.Generator) -> list[Boat]:
    """Return the boats, whose hauls add up to ``hauls``."""
    lengths_m = np.round(rng.uniform(17.0, 27.0, boats), 1)
    powers_kw = np.round(lengths_m * rng.uniform(15.0, 21.0, boats)).astype(int)
    effects = np.exp(rng.normal(0.0, (0.2, 0.25, 0.2, 0.2), (boats, 4)))
    shares = _share_out(hauls, boats)
    changing_boat = min(3, boats - 1)
    return [
        Boat(
            name=f"{_FIRST_NAMES[i % len(_FIRST_NAMES)]} {_SECOND_NAMES[i % len(_SECOND_NAMES)]}",
            length_m=float(lengths_m[i]),
            power_kw=int(powers_kw[i]),
            hauls=int(shares[i]),
            rigs=(*_LIGHT_RIGS[i % len(_LIGHT_RIGS)], REFERENCE_RIG, ROUGH_RIG),
            voice=i % VOICES,
            fills_damaged=i % 2 == 0,
            changes_rig=i == changing_boat,
            damage=float(effects[i, 0]),
            debris=float(effects[i, 1]),
            bottom_living=float(effects[i, 2]),
            other=float(effects[i, 3]),
        )
        for i in range(boats)
    ]


def _share_out(hauls: int, boats: int) -> list[int]:
    """Split the hauls over the boats, busier boats first, to the last haul."""
    weights = np.array([_HAULS_WEIGHT[i % len(_HAULS_WEIGHT)] for i in range(boats)])
    ends = np.round(np.cumsum(weights) / weights.sum() * hauls).astype(int)
    return [int(n) for n in np.diff(ends, prepend=0)]

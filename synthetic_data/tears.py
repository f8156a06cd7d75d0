"""Where each rig tears the net, and what tears it on each ground, in this invention.

Weights of a draw: what is not named weighs one. Bobbins pick up the belly, chain and light gear
let the wings and bunts down on the stones, a soft bottom fills the cod end.
"""

import numpy as np
from numpy.typing import NDArray

from synthetic_data.scene import GROUNDS, RIG_VERSIONS

Weights = NDArray[np.float64]

_PARTS = {
    "wing": ("wing",),
    "bunt": ("bunt",),
    "belly": ("bell", "baiting"),
    "cod end": ("cod", "c/end"),
}
_PARTS_OF_GEAR = {
    "chain": {"wing": 3.0, "bunt": 2.0},
    "grass rope": {"cod end": 4.0, "wing": 1.5},
    "rope rounded": {"wing": 2.0, "cod end": 2.0},
    "rubber discs": {"wing": 2.0, "bunt": 1.5},
    "bobbins": {"belly": 5.0, "bunt": 1.5},
    "rockhopper": {"wing": 2.5, "belly": 1.5},
}
_CAUSES = {
    "stone": ("stone", "boulder"),
    "fast": ("fast", "edge", "wreck"),
    "chafe": ("chafe",),
}
_CAUSES_ON_GROUND = {
    "mud": {"stone": 0.3, "fast": 0.6},
    "sand": {"stone": 0.3, "chafe": 2.0},
    "stones": {"stone": 4.0},
    "mixed": {"stone": 1.5},
    "hard": {"fast": 2.0, "chafe": 2.0},
    "rocky": {"fast": 3.0, "stone": 1.5},
}


def part_shares(parts: tuple[str, ...]) -> Weights:
    """Share of each part among a rig's tears, summed up along the parts: rigs × parts."""
    return _summed_up(
        [_weights(parts, _PARTS, _PARTS_OF_GEAR[r.ground_gear]) for r in RIG_VERSIONS]
    )


def phrase_shares(phrases: tuple[str, ...]) -> Weights:
    """Share of each phrase among a ground's notes of damage, summed up: grounds × phrases."""
    return _summed_up([_weights(phrases, _CAUSES, _CAUSES_ON_GROUND[g.word]) for g in GROUNDS])


def drawn(shares: Weights, row: NDArray[np.int64], draw: Weights) -> NDArray[np.int64]:
    """Number of the part or phrase that each draw between nought and one falls on."""
    number: NDArray[np.int64] = (draw[:, None] >= shares[row, :-1]).sum(axis=1)
    return number


def _weights(
    texts: tuple[str, ...], stems: dict[str, tuple[str, ...]], weights: dict[str, float]
) -> list[float]:
    """Weight of each text by the stems in it."""
    return [
        float(
            np.prod(
                [
                    weight
                    for kind, weight in weights.items()
                    if any(stem in text.lower() for stem in stems[kind])
                ]
            )
        )
        for text in texts
    ]


def _summed_up(weights: list[list[float]]) -> Weights:
    shares = np.array(weights)
    summed: Weights = np.cumsum(shares / shares.sum(axis=1, keepdims=True), axis=1)
    return summed

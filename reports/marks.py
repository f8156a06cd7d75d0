"""Each rig's colour and mark, the same in every chart and table.

Colours: six of the eight of Okabe & Ito, Color Universal Design, 2008, without its black, which a
dark page swallows, and its yellow, which white paper does; then the olive and the purple of Paul
Tol's "muted" (Colour Schemes, SRON/EPS/TN/09-002, 2021). The reference rig is grey. A mark's shape
says the same, and goes on where the colours come round again, so that no colour is needed to read
a chart.
"""

from __future__ import annotations

from dataclasses import dataclass

REFERENCE_COLOUR = "#767676"
COLOURS = ("#0072B2", "#D55E00", "#009E73", "#CC79A7", "#E69F00", "#56B4E9", "#999933", "#AA4499")
SLANTING_CROSS = (
    "M0.66,-1.11L1.11,-0.66L0.45,0L1.11,0.66L0.66,1.11L0,0.45L-0.66,1.11L-1.11,0.66L-0.45,0"
    "L-1.11,-0.66L-0.66,-1.11L0,-0.45Z"
)
STAR = (
    "M0,-1.4L0.35,-0.49L1.33,-0.43L0.57,0.19L0.82,1.13L0,0.6L-0.82,1.13L-0.57,0.19L-1.33,-0.43"
    "L-0.35,-0.49Z"
)
SHAPES = ("square", "triangle-up", "diamond", "triangle-down", "cross", SLANTING_CROSS, STAR)
"""None points right or left: beside an axis that would say which way a rig moves."""


@dataclass(frozen=True)
class Marks:
    """The rigs in the order of every chart, with a colour and a shape for each."""

    rigs: tuple[str, ...]
    colours: tuple[str, ...]
    shapes: tuple[str, ...]


def marks(rigs: list[str], reference: str) -> Marks:
    """The reference first, in grey, as a circle; the others by name."""
    others = sorted(rig for rig in rigs if rig != reference)
    count = len(others)
    return Marks(
        rigs=(reference, *others),
        colours=(REFERENCE_COLOUR, *(COLOURS[at % len(COLOURS)] for at in range(count))),
        shapes=("circle", *(SHAPES[at % len(SHAPES)] for at in range(count))),
    )

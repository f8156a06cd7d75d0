"""The two views: each part in its place, shaded, with its name and figure beside it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from reports.language import say
from reports.net_drawing.labels import ABOVE, BELOW, label, sides_named, whole_net
from reports.net_drawing.panels import (
    fishing_line,
    ground_gear,
    headline,
    lower_panel,
    selvedges,
    sweeps,
    upper_panel,
)
from reports.net_drawing.shape import GROUND_GEAR, HEADLINE, across
from reports.net_drawing.words import NOT_TORN, UNIT, told_above, told_below
from reports.rig_drawing.frame import heading, way_of_tow
from reports.rig_drawing.svg import (
    MARGIN,
    Point,
    circle,
    identity,
    lines_of_text,
    path,
    picture,
    together,
)

if TYPE_CHECKING:
    from collections.abc import Mapping

    from markupsafe import Markup

    from reports.net_drawing.panels import Netting, Rope
    from reports.net_drawing.shades import Shades
    from reports.net_drawing.words import PartRate

HEIGHT_PX = 532.0
UNIT_PX = 26.0
DISC_PX = 4.2
DISCS_APART_PX = 9.6
PORT_LEFT, PORT_RIGHT = -1, 1


@dataclass(frozen=True)
class Net:
    """What is drawn: how often each part tore, and how dark that is."""

    torn: Mapping[str, PartRate]
    shades: Shades

    def of(self, part: str) -> PartRate:
        """The part's rates; none where it is not told of."""
        return self.torn.get(part, NOT_TORN)


def from_above(name: str, torn: Mapping[str, PartRate], shades: Shades) -> str:
    """The upper panel, port on the left, as SVG; `name` is the rig's, or of all rigs."""
    net = Net(torn, shades)
    return _view(
        net,
        say("{rig}, the net from above", rig=name),
        told_above(torn),
        identity("net-above", name),
        heading(say("seen from above"), 0.0),
        _rope(net, sweeps(HEADLINE)),
        _netting(net, upper_panel(), PORT_LEFT),
        _rope(net, headline()),
        _rope(net, selvedges()),
        together(label(net.of(each.part), each) for each in ABOVE),
        sides_named(PORT_LEFT),
    )


def from_below(name: str, torn: Mapping[str, PartRate], shades: Shades) -> str:
    """The lower panel, port on the right, as SVG."""
    net = Net(torn, shades)
    return _view(
        net,
        say("{rig}, the net from below", rig=name),
        told_below(torn),
        identity("net-below", name),
        heading(say("seen from below"), 0.0),
        _rope(net, sweeps(GROUND_GEAR)),
        _netting(net, lower_panel(), PORT_RIGHT),
        _rope(net, selvedges()),
        _rope(net, fishing_line()),
        _ground_gear(net),
        together(label(net.of(each.part), each) for each in BELOW),
        sides_named(PORT_RIGHT),
    )


def _view(net: Net, title: str, told: str, name: str, *drawn: Markup) -> str:
    whole = net.of("whole_net")
    look = net.shades.look(whole.per_100_h)
    return picture(
        name,
        HEIGHT_PX,
        title,
        told,
        *drawn,
        lines_of_text([say(UNIT)], Point(MARGIN, UNIT_PX), look="rig-quiet"),
        way_of_tow(0.0, up=True),
        whole_net(whole, look),
    )


def _netting(net: Net, panel: tuple[Netting, ...], port: int) -> Markup:
    """The parts of a panel, each shaded whole, or each side by itself where the side is told."""
    return together(drawn for each in panel for drawn in _part(net, each, port))


def _part(net: Net, part: Netting, port: int) -> list[Markup]:
    rate, look = net.of(part.part), f"net-part net-{part.part}"
    if not rate.side_told:
        shade = net.shades.look(rate.per_100_h)
        return [path(outline, f"{look} {shade}") for outline in part.outlines]
    left_to_right = (rate.port, rate.starboard)[::-port]
    return [
        path(side, f"{look} net-half {net.shades.look(of_side)}")
        for side, of_side in zip(part.sides, left_to_right, strict=True)
    ]


def _rope(net: Net, rope: Rope) -> Markup:
    """A line, thick enough to be shaded between two edges of ink."""
    shade = net.shades.look(net.of(rope.part).per_100_h)
    return together(
        path(steps, look)
        for look in ("net-edge", f"net-rope net-{rope.part} {shade}")
        for steps in rope.paths
    )


def _ground_gear(net: Net) -> Markup:
    """Discs along the ground gear's line, each shaded."""
    shade = net.shades.look(net.of("ground_gear").per_100_h)
    (steps,) = ground_gear().paths
    discs = across(GROUND_GEAR).along(DISCS_APART_PX)
    return path(steps, "rig-ink") + together(
        circle(disc, DISC_PX, f"net-part net-ground_gear {shade}") for disc in discs
    )

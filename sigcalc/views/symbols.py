"""Circuit symbols: schemdraw's, and those it lacks, as SVG shapes in points with y pointing down."""

from __future__ import annotations

from functools import lru_cache
from typing import Any
from xml.etree import ElementTree

import schemdraw
from schemdraw import elements as elm
from schemdraw.backends import svg as backend
from schemdraw.segments import Segment, SegmentCircle

from .style import FAINT, INK, LINE, PAPER, THIN

Place = tuple[float, float]
UNIT = 36.0
"""Points to schemdraw's unit of length; the body of a resistor is one unit long."""
LAMP = 1.35
"""Size of the LEDs, the subject of the drawing, to that of the other symbols."""


class ReversingSwitch(elm.SwitchDpdt):
    """A double-pole changeover switch in either position; schemdraw's own shows only one.

    The levers reach their contacts: up (to t1 and t3) or down (to t2 and t4).
    """

    def __init__(self, up: bool, **kwargs: Any):
        super().__init__(link=False, **kwargs)
        self.segments = [each for each in self.segments if isinstance(each, SegmentCircle)]
        side, ring = (1 if up else -1), 0.12
        for pole, throw in (("p1", "t1" if up else "t2"), ("p2", "t3" if up else "t4")):
            (x0, y0), (x1, y1) = self.anchors[pole], self.anchors[throw]
            self.segments.append(Segment([(x0 + ring, y0 + side * 0.06), (x1 - ring, y1 - side * 0.06)], lw=1.6 * LINE))
        upper, lower = ((self.anchors[pole][1] + side * 0.2) for pole in ("p1", "p2"))
        self.segments.append(Segment([(0.5, lower), (0.5, upper)], ls=":", lw=0.8 * LINE))


class Box(elm.Element2Term):
    """A box in a wire: a driver or an adapter, named by the text beside it."""

    def __init__(self, half_height: float = 0.42, **kwargs: Any):
        super().__init__(**kwargs)
        h = half_height
        self.segments.append(Segment([(0, 0), (0, h), (1, h), (1, -h), (0, -h), (0, 0), elm.elements.gap, (1, 0)]))


class Adapter(Box):
    """A box with the sign for direct current; like the battery it starts at plus."""

    def __init__(self, **kwargs: Any):
        super().__init__(half_height=0.5, **kwargs)
        self.segments.append(Segment([(0.4, -0.3), (0.4, 0.3)]))
        for low in (-0.3, -0.09, 0.12):
            self.segments.append(Segment([(0.6, low), (0.6, low + 0.18)]))


class Driver(Box):
    """A box with an arrow: current is held at one value, flowing from start to end."""

    def __init__(self, **kwargs: Any):
        super().__init__(**kwargs)
        self.segments.append(Segment([(0.15, 0), (0.85, 0)], arrow="->", arrowwidth=0.22, arrowlength=0.26))


@lru_cache(maxsize=256)
def symbol(
    kind: type[elm.Element2Term],
    start: Place,
    end: Place,
    fill: str = PAPER,
    scale: float = 1.0,
    flip: bool = False,
    arrows: float = LINE,
) -> tuple[ElementTree.Element, ...]:
    """The shapes of a two-terminal element between two places; a battery, a diode and a driver start at plus.

    An LED that is not filled is dark: the two arrows, which tell its symbol from a plain diode's, are then thin and
    hollow, for no light leaves it; those of a lit one are `arrows` wide. Kept, since a circuit that is drawn anew at
    every move of a slider has the same symbols: do not change them.
    """
    element = kind().endpoints(_units(start), _units(end)).fill(fill).scale(scale)
    shapes = _shapes(element.flip() if flip else element)
    if kind is elm.LED:
        light = {"stroke": FAINT, "stroke-width": str(THIN), "fill": PAPER}
        _style_arrows(shapes, light if fill == PAPER else {"stroke-width": str(arrows)})
    return shapes


def _style_arrows(led: tuple[ElementTree.Element, ...], changes: dict[str, str]) -> None:
    """Change the style of an LED's arrows, which come last (a shaft and a head for each)."""
    for shape in led[-4:]:
        style = dict(part.split(":") for part in shape.get("style", "").split(";") if part)
        shape.set("style", "".join(f"{name}:{value};" for name, value in (style | changes).items()))


@lru_cache(maxsize=8)
def reversing_switch(upper_pole: Place, up: bool) -> tuple[ElementTree.Element, ...]:
    """The shapes of the changeover switch; `up` says whether its levers touch the upper contacts."""
    return _shapes(ReversingSwitch(up).at(_units(upper_pole)))


def _shapes(element: elm.Element) -> tuple[ElementTree.Element, ...]:
    text_mode, backend.config.text = backend.config.text, "text"
    try:
        drawing = schemdraw.Drawing(canvas="svg", show=False)
        drawing.config(lw=LINE, color=INK, bgcolor=PAPER, inches_per_unit=UNIT / 72)
        drawing.add(element)
        return tuple(drawing.draw(show=False).getsvg())
    finally:
        backend.config.text = text_mode


def _units(place: Place) -> Place:
    """Points, y down, as schemdraw's units, y up."""
    return place[0] / UNIT, -place[1] / UNIT

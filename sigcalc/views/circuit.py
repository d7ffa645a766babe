"""Circuit diagrams: their symbols, and what all of them have in common.

Symbols are schemdraw's, and those it lacks, as SVG shapes in points with y pointing down.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Any
from xml.etree import ElementTree

import numpy as np
import schemdraw
from schemdraw import elements as elm
from schemdraw.backends import svg as backend
from schemdraw.segments import Segment, SegmentCircle

from ..design.lamp.drawer import IN_PARALLEL, Combination
from ..design.lamp.drive import BRIGHT, FEEBLE, GLARING, OVERLOADED
from ..parts.drive import ConstantCurrentDrive, Drive
from .canvas import Canvas, Place, wrapped
from .light import Light
from .phrases import current_words, drive_name, voltage_words
from .picture import plain
from .style import FAINT, INK, LINE, PAPER, THIN, tinted

UNIT = 36.0
"""Points to schemdraw's unit of length; the body of a resistor is one unit long."""
HALF = 0.7 * UNIT
"""Half the distance of a changeover switch's poles."""
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


class Reed(elm.SwitchReed):
    """A reed switch, its blades before the glass."""

    def __init__(self, **kwargs: Any):
        super().__init__(**kwargs)
        self.segments[-1].zorder = 0


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
def _reversing_switch(upper_pole: Place, up: bool) -> tuple[ElementTree.Element, ...]:
    return _shapes(ReversingSwitch(up).at(_units(upper_pole)))


def crossed_switch(canvas: Canvas, pole: Place, ends: tuple[Place, Place], up: bool, name: str) -> None:
    """A changeover switch with its cross: the outer contacts lead to wire A, the inner ones to wire B.

    `pole` is between the two poles, `ends` are where the wires A and B begin, one below the other; `up` says whether
    the levers touch the upper contacts.
    """
    (x, middle), (a, b) = pole, ends
    contacts, join, cross = x + 0.88 * UNIT, x + 48, x + 62
    upper, lower = ((middle - HALF - side * 0.4 * UNIT, middle + HALF + side * 0.4 * UNIT) for side in (1, -1))
    hop = [(cross - 6 * math.cos(angle), middle - 6 * math.sin(angle)) for angle in np.linspace(0, math.pi, 9)]
    canvas.group("cross")
    canvas.line((contacts, lower[0]), (join, lower[0]), (join, lower[1]), (contacts, lower[1]))
    canvas.line((join, middle), *hop, (b[0], middle), b)
    canvas.line((contacts, upper[1]), (cross, upper[1]), (cross, a[1]), a)
    canvas.line((contacts, upper[0]), (cross, upper[0]))
    canvas.joint((join, middle))
    canvas.joint((cross, upper[0]))
    canvas.group(name)  # after the wires, so that its rings cover their ends
    canvas.add(_reversing_switch((x, middle - HALF), up))


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


LABEL_WIDTH = 88.0
"""Points in a line beside a part."""
_ARROWS = {FEEBLE: THIN, BRIGHT: 1.5 * LINE, GLARING: 2 * LINE, OVERLOADED: 2 * LINE}
_DIM = 0.4  # of the fill of a lamp in normal light
_LENS = 11.0  # the radius of what glows


def resistor_symbols(
    canvas: Canvas, start: Place, end: Place, made_of: Combination | None = None, scale: float = 1.0
) -> None:
    """A resistor between two places, or the two that make it up, one behind the other or side by side."""
    if made_of is None:
        canvas.add(symbol(elm.ResistorIEC, start, end, scale=scale))
        return
    (x0, y0), (x1, y1) = start, end

    def place(along: float, aside: float = 0.0) -> Place:
        length = math.hypot(x1 - x0, y1 - y0)
        return x0 + along * (x1 - x0) + aside * (y1 - y0) / length, y0 + along * (y1 - y0) - aside * (x1 - x0) / length

    if made_of.arrangement != IN_PARALLEL:
        for one, other in ((0.0, 0.5), (0.5, 1.0)):
            canvas.add(symbol(elm.ResistorIEC, place(one), place(other), scale=_ONE_OF_TWO * scale))
        return
    for outer, inner in ((0.0, _FORK), (1.0, 1 - _FORK)):
        canvas.line(place(outer), place(inner))
        canvas.line(place(inner, -_ASIDE), place(inner, _ASIDE))
    for aside in (-_ASIDE, _ASIDE):
        canvas.add(symbol(elm.ResistorIEC, place(_FORK, aside), place(1 - _FORK, aside), scale=_ONE_OF_TWO * scale))


_ONE_OF_TWO, _FORK, _ASIDE = 0.7, 0.12, 9.0


def supply_column(
    canvas: Canvas,
    x: float,
    ends: tuple[float, float],
    name: list[str],
    adapter: bool,
    drive: Drive,
    ahead: bool = False,
    made_of: Combination | None = None,
) -> None:
    """A battery or adapter between two heights, plus first, with its name to the right.

    A constant-current driver is in the plus lead, ahead of any switch: it passes current one way only. A resistor is
    there where it is said to be `ahead`, as the two that it is `made_of` where it is two.
    """
    plus, minus = ends
    down = 1 if minus > plus else -1
    driver = isinstance(drive, ConstantCurrentDrive)
    if driver or ahead:
        top = (plus + minus) / 2 + down * 2
        canvas.group("driver" if driver else "resistor")
        if driver:
            canvas.add(symbol(Driver, (x, top), (x, plus)))
        else:
            resistor_symbols(canvas, (x, top), (x, plus), made_of)
        named = wrapped(drive_name(drive), 76.0, 2) if made_of is None else wrapped(made_of.parts, 76.0, 3)
        words = [*(["driver"] if driver else []), *named]
        canvas.lines((x + 24, (top + plus) / 2), words, centred=True)
        plus = top
    canvas.group("supply")
    middle = (plus + minus) / 2
    body = 18.0 if adapter else 13.5
    canvas.add(symbol(Adapter if adapter else elm.Battery, (x, plus), (x, minus)))
    for sign, y in (("+", middle - down * (body + 8)), ("−", middle + down * (body + 8))):
        canvas.text((x - 14, y + 4), sign, "middle", bold=True, size=14)
    canvas.lines((x + 24, middle), name, centred=True)


def supply_name(name: str, voltage: float) -> list[str]:
    """The supply's name in at most two lines, and its voltage where the name does not start with it."""
    volts = voltage_words(voltage)
    return wrapped(name, 76.0, 2) + ([] if plain(name).startswith(volts) else [volts])


def current_arrow(
    canvas: Canvas,
    span: tuple[float, float],
    y: float,
    current: float,
    flows: bool,
    rightwards: bool = True,
    until: str = "",
    inline: bool = False,
) -> None:
    """The current's value above a wire and `until` when it flowed, with an arrow on it when it lights something.

    Where there is no room on the wire the value is before the arrow, in one line.
    """
    canvas.group("current")
    middle = span[1] - 16 if inline else (span[0] + span[1]) / 2
    place, anchor = ((span[0] - 6, y + 4), "start") if inline else ((middle, y - 12), "middle")
    canvas.text(place, f"{current_words(current)}{until}", anchor, bold=True)
    if flows and not until:
        tail, head = (middle - 22, middle + 22) if rightwards else (middle + 22, middle - 22)
        canvas.arrow((tail, y), (head, y), width=2.6, point=12)


def lamp_symbol(canvas: Canvas, name: str, light: Light, ends: tuple[Place, Place], flip: bool = False) -> list[str]:
    """An LED with the light it gives: filled and glowing where it shines, crossed out where dead. Gives its words."""
    fill = tinted(light.fill, _DIM if light.word == FEEBLE else 1.0) if light.shines else PAPER
    middle = tuple((start + end) / 2 for start, end in zip(*ends, strict=True))
    canvas.group(f"light of {name}")
    canvas.halo(middle, _LENS, light)
    canvas.group(f"led {name} {'lit' if light.shines else 'dark'}")
    canvas.add(symbol(elm.LED, *ends, fill, LAMP, flip, _ARROWS.get(light.word, LINE)))
    if light.dead:
        x, y = middle
        for side in (-20, 20):
            canvas.line((x - 20, y - side), (x + 20, y + side))
    return light.said(name).split(", ")

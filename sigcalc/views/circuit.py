"""Circuit diagrams: symbols, what all of them have in common, and the two-lead signal with its lit lamp filled.

Symbols are schemdraw's, and those it lacks, as SVG shapes in points with y pointing down.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import lru_cache
from typing import Any, NamedTuple
from xml.etree import ElementTree

import numpy as np
import schemdraw
from schemdraw import elements as elm
from schemdraw.backends import svg as backend
from schemdraw.segments import Segment, SegmentCircle

from ..design.lamp.drawer import IN_PARALLEL, Combination
from ..design.lamp.drive import BRIGHT, DEAD, FEEBLE, GLARING, OVERLOADED, TOO_LITTLE, lamp_look
from ..design.pair.two_lead_pair import LAMPS, PairPoint
from ..errors import RangeError
from ..parts.drive import ConstantCurrentDrive, Drive, ResistorDrive
from ..parts.led import Led
from ..parts.table import need_name
from ..units import say
from .canvas import Canvas, Place, wrapped
from .light import Light
from .phrases import current_words, drive_name, two_figures, voltage_words
from .picture import Picture, plain
from .shares import SHARES_HEIGHT, Share, across_driver, across_lamp, across_resistor, shares_bar
from .style import FAINT, INK, LINE, NORMAL, PAPER, SHADE, STAGE, STAGE_BOX, THIN, Size, tinted

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


IN_WIRE_A, IN_WIRE_B, HALF_IN_EACH = "wire A", "wire B", "half in each wire"
RESISTOR_IN = (IN_WIRE_B, IN_WIRE_A, HALF_IN_EACH)
"""The wires that the resistor which both lamps share may be in: the currents are the same."""
IN_PLUS_LEAD = "plus lead"
"""Another place for it, where all of it stays on plus whichever lamp is lit: ahead of what turns the current round."""


def resistors_in(drive: Drive, where: str) -> dict[str, Drive]:
    """What is in the wires "A" and "B" or in the lead "+": the resistor whole, or half in each wire; no driver.

    Raises UnknownNameError for a place that is none of RESISTOR_IN and not IN_PLUS_LEAD.
    """
    need_name(where, "resistor_in", (*RESISTOR_IN, IN_PLUS_LEAD))
    if isinstance(drive, ConstantCurrentDrive) or not drive.si.resistance:
        return {}
    if where != HALF_IN_EACH:
        return {"+" if where == IN_PLUS_LEAD else where[-1]: drive}
    return dict.fromkeys("AB", ResistorDrive(drive.resistance / 2, drive.tolerance))


_COLUMN, _POLE, _BETWEEN = 30.0, 142.0, 50.0


class _Layout(NamedTuple):
    """Where the wires A and B begin and how high they are, and where the red lamp is; a wall has no bar of shares."""

    top: float
    bottom: float
    drop: float
    red: float
    wall: bool = False


_WALL = _Layout(24.0, 174.0, _COLUMN, 220.0, wall=True)


def signal_circuit(
    point: PairPoint,
    supply: str,
    adapter: bool = False,
    switch: bool = True,
    size: Size = NORMAL,
    reversing: str = "switch",
    full: float | None = None,
    resistor_in: str = IN_WIRE_B,
    made_of: Mapping[str, Combination] | None = None,
) -> Picture:
    """The two-lead signal at one operating point.

    Parameters
    ----------
    point: of a TwoLeadPair, with one supply voltage and one polarity
    supply: what feeds it, in words, such as "9 V alkaline"
    adapter: whether that is a wall adapter; a battery is drawn otherwise
    switch: whether what turns the current round is drawn, as the polarity has it; without it the supply turns round
    reversing: what turns the current round, "switch" or "relay"
    full: the volts at the end of the bar of shared voltage, so that its scale stays; without it the supply's
    resistor_in: the wire that the shared resistor is in, one of RESISTOR_IN, or IN_PLUS_LEAD
    made_of: the two resistors in a place that holds two: "shared" (drawn so in the plus lead), "red" or "green"

    Raises RangeError for a point that holds arrays, UnknownNameError for another place of the resistor.
    """
    sentence = signal_sentence(point, switch, reversing, resistor_in, made_of)
    slots, resistors, two = _slots(point), resistors_in(point.drive, resistor_in), made_of or {}
    bottom = 44.0 + (152.0, 176.0, 226.0)[len(slots) - 1]
    lies = _Layout(44.0, bottom, 218.0, 356.0) if switch else _Layout(44.0, bottom, 140.0, 278.0)
    ahead = "+" in resistors
    if size is STAGE and not switch and not ahead:
        lies = _WALL
    sides = (lies.red + _BETWEEN + 142, lies.bottom + 44 + SHARES_HEIGHT)
    canvas = Canvas(*(STAGE_BOX if lies.wall else sides))
    middle, forward = (lies.top + lies.bottom) / 2, point.polarity > 0
    reach = 62.0 if switch else middle - lies.top
    ends = (middle - reach, middle + reach)
    voltage = point.si.reverse_voltage + point.si.drive_voltage
    name = [voltage_words(voltage)] if lies.wall else supply_name(supply, voltage)
    supply_ends = ends if switch or forward else ends[::-1]
    supply_column(canvas, _COLUMN, supply_ends, name, adapter, point.drive, ahead, two.get("shared"))
    canvas.group("leads")
    for side, end in zip((-1, 1), ends, strict=True):
        bend, pole = _POLE - 6, middle + side * HALF
        through = [(bend, end), (bend, pole), (_POLE, pole)] if switch else [(lies.drop, end)]
        way = [(_COLUMN, end), *through]
        canvas.line(*way)
        plus = side < 0 if switch else (side < 0) == forward
        canvas.flow(*(way if plus else way[::-1]), current=moving_current(point))
    if switch:
        position = "red" if forward else "green"
        wires = (lies.drop, lies.top), (lies.drop, lies.bottom)
        crossed_switch(canvas, (_POLE, middle), wires, forward, f"switch {position}")
        canvas.lines((_POLE + 18, middle + 83), (f"reversing {reversing},", f"set to {position.upper()}"), "middle")
    _wires(canvas, lies, point, resistors)
    for lamp, x, side in (("red", lies.red, -1), ("green", lies.red + _BETWEEN, +1)):
        column = (lies.top, lies.bottom) if side < 0 else (lies.bottom, lies.top)
        _branch(canvas, lies, point, lamp, slots, x, side, column, two.get(lamp))
    if not lies.wall:
        shares_bar(canvas, (_COLUMN - 14, bottom + 44), canvas.width - 32, _shares(point, resistors), full)
    return canvas.picture(sentence, size)


def signal_sentence(
    point: PairPoint,
    switch: bool = True,
    reversing: str = "switch",
    resistor_in: str = IN_WIRE_B,
    made_of: Mapping[str, Combination] | None = None,
) -> str:
    """What `signal_circuit` says of the signal, in words, for every picture of it; same arguments, same errors."""
    if np.ndim(point.si.current) or np.ndim(point.polarity):
        raise RangeError(argument="point", need="one supply voltage and one polarity", given="arrays of them")
    two, ahead = made_of or {}, "+" in resistors_in(point.drive, resistor_in)
    what = f"resistors, {two['shared'].parts}, are" if "shared" in two else "resistor is"
    place = f" The {what} in the supply's plus lead{f', ahead of the {reversing}' if switch else ''}."
    return _sentence(point) + place * ahead


def signal_brief(point: PairPoint) -> str:
    """The same for a wall, in twelve words at the most."""
    si, (wanted, other) = point.si, LAMPS if point.polarity > 0 else LAMPS[::-1]
    led, dark, current = getattr(point.pair, wanted), getattr(point.pair, other), current_words(si.current)
    across, limit = voltage_words(si.reverse_voltage), dark.si.max_reverse_voltage
    look, times = lamp_look(led, si.current), two_figures(si.current / led.si.max_current)
    if point.lit == "none":
        return f"{current.capitalize()}: neither lamp lights."
    if look == DEAD:
        return f"{current}: {times} times too much. The {wanted} LED is dead."
    if look == OVERLOADED:
        return f"{current}: {times} times its limit. The {wanted} LED will not last."
    if si.reverse_voltage > limit and point.pair.series_diode is None:
        return f"The dark {other} LED has {across} in reverse; limit {say(limit, 'V')}."
    shows = f"too little to see {wanted}" if look == TOO_LITTLE else f"{wanted} lights"
    return f"{current}: {shows}. The {other} LED blocks {across}."


def _shares(point: PairPoint, resistors: dict[str, Drive]) -> list[Share]:
    """Where the supply's voltage is, in the order in which the current meets the parts."""
    lamp = LAMPS[point.polarity < 0]
    current, inside = point.si.current, point.si.led_voltage
    way = [
        across_resistor(each.si.resistance * current, "resistor" if len(resistors) < 2 else f"resistor {wire}")
        if (each := resistors.get(wire))
        else None
        for wire in ("+AB" if point.polarity > 0 else "+BA")
    ]
    before = [across_driver(point.si.drive_voltage)] if isinstance(point.drive, ConstantCurrentDrive) else way[:2]
    extra = getattr(point.pair.si, f"extra_{lamp}") * current
    if point.pair.series_diode is not None:
        before.append(Share("diode", point.si.reverse_voltage - inside - extra, SHADE))
    after = [
        across_resistor(extra, f"{'extra' if point.si.drive_voltage else 'resistor'} in {lamp}") if extra else None,
        *way[2:],
    ]
    return [each for each in (*before, across_lamp(inside, lamp), *after) if each is not None]


def _slots(point: PairPoint) -> list[str]:
    """What may be in a branch, from its anode end; both branches have the same places, so that the lamps align."""
    si = point.pair.si
    diode = ["diode"] if point.pair.series_diode is not None else []
    extra = ["extra"] if si.extra_red > 0 or si.extra_green > 0 else []
    return [*diode, "led", *extra]


def _wires(canvas: Canvas, lies: _Layout, point: PairPoint, resistors: dict[str, Drive]) -> None:
    """The two wires with their signs and resistors, and the current's arrow in the one that has room for it."""
    start, end, forward = lies.drop, lies.red - 26, point.polarity > 0
    centre, lamp = lies.red + _BETWEEN / 2, lies.red + (0.0 if forward else _BETWEEN)  # no dots to the dark one
    for wire, y, side, way in (("A", lies.top, -1, forward), ("B", lies.bottom, 1, not forward)):
        canvas.group(f"wire {wire}")
        canvas.line((end, y), (lies.red + _BETWEEN, y))
        canvas.joint((lies.red, y))
        canvas.text((centre, y + (22 if side > 0 else -12)), f"wire {wire} {'+' if way else '−'}", "middle")
        if wire in resistors:
            canvas.group("resistor")
            label = ((start + end) / 2 - 8, y + (26 if side > 0 else -18))
            name = drive_name(resistors[wire])
            if lies.wall:  # inside, and with the volts that no bar shares out there
                label = (label[0], y - 18 * side + 8 * (side < 0))
                ohms = resistors[wire].si.resistance
                name = f"{say(ohms, 'ohm')}, {voltage_words(ohms * point.si.current)}"
            canvas.text(label, name, "middle")
        canvas.add(symbol(elm.ResistorIEC if wire in resistors else elm.Line, (start, y), (end, y)))
        body = (start + end) / 2
        bare = ((start, body - UNIT / 2), (body + UNIT / 2, lamp)) if wire in resistors else ((start, lamp),)
        for span in bare:
            canvas.flow(*((x, y) for x in (span if way else span[::-1])), current=moving_current(point))
        canvas.joint((end, y), is_open=True)
    y, rightwards = (lies.bottom, not forward) if "A" in resistors else (lies.top, forward)
    span, flows, inline = (start + 6, end - 10), moving_current(point) > 0, len(resistors) > 1
    if inline:  # no wire has room: along the lower one
        y -= 40 if lies.wall else 20
        span = (start + (32 if lies.wall else 6), span[1])
    until = " until it burst" if point.lit != "none" and not flows else ""
    current_arrow(canvas, span, y, point.si.current, flows, rightwards, until, inline)


def burst(point: PairPoint) -> bool:
    """Whether the current has destroyed the lamp that it is to light."""
    return point.lit != "none" and lamp_look(getattr(point.pair, point.lit), point.si.current) == DEAD


def moving_current(point: PairPoint) -> float:
    """The current in A that flows on; through an LED that it has destroyed none does."""
    return 0.0 if point.lit == "none" or burst(point) else point.si.current


def _branch(
    canvas: Canvas,
    lies: _Layout,
    point: PairPoint,
    lamp: str,
    slots: list[str],
    x: float,
    side: int,
    ends: tuple[float, float],
    made_of: Combination | None,
) -> None:
    """One LED with what is in series with it: red points down from wire A to wire B, green up."""
    anchor, resistance = "end" if side < 0 else "start", getattr(point.pair.si, f"extra_{lamp}")
    heights = np.linspace(*ends, len(slots) + 1).tolist()
    for part, upper, lower in zip(slots, heights, heights[1:], strict=False):
        span, beside = ((x, upper), (x, lower)), (x + side * 18, (upper + lower) / 2 + 4)
        if part == "led":
            led: Led = getattr(point.pair, lamp)
            # turned down, schemdraw's arrows point to the right, and turned up to the left: both need the other side
            light = Light.of(led, point.si.current if point.lit == lamp else 0.0)
            words = lamp_symbol(canvas, lamp, light, span, flip=True)
            lines = [*words, *_voltage_words(point, lamp), *([] if lies.wall else wrapped(led.name, LABEL_WIDTH, 3))]
            canvas.lines((x + side * 44, (upper + lower) / 2), lines, anchor, bold_first=True, centred=True)
        elif part == "extra":
            canvas.group(f"extra {lamp}")
            if not resistance:
                canvas.line(*span)
                continue
            resistor_symbols(canvas, *span, made_of)
            words = [say(resistance, "ohm")] if made_of is None else wrapped(made_of.parts, LABEL_WIDTH, 3)
            canvas.lines((beside[0], beside[1] - 4), words, anchor, centred=True)
        else:
            canvas.group(f"diode {lamp}")
            canvas.add(symbol(elm.Diode, *span))
            canvas.text(beside, wrapped(point.pair.series_diode.name.upper(), LABEL_WIDTH, 1)[0], anchor)
        canvas.group(f"flow {lamp}")
        body = math.copysign(UNIT / 2, lower - upper) if part != "extra" or resistance else 0.0
        for start, end in ((upper, (upper + lower) / 2 - body), ((upper + lower) / 2 + body, lower)):
            canvas.flow((x, start), (x, end), current=moving_current(point) * (lamp == point.lit))


def _voltage_words(point: PairPoint, lamp: str) -> list[str]:
    if lamp == LAMPS[point.polarity < 0]:
        return [voltage_words(point.si.led_voltage)]
    across = f"{voltage_words(point.si.reverse_voltage)} reverse"
    return [across] if point.pair.series_diode is None else [across, "on its branch"]


def _sentence(point: PairPoint) -> str:
    wanted, other = LAMPS if point.polarity > 0 else LAMPS[::-1]
    led, dark = getattr(point.pair, wanted), getattr(point.pair, other)
    current, across = point.si.current, point.si.reverse_voltage
    if point.pair.series_diode is not None:
        reverse = f"the {other} branch has {voltage_words(across)} across it in reverse, which its plain diode blocks"
    else:
        reverse = f"the {other} LED is dark with {voltage_words(across)} across it in reverse"
        if across > dark.si.max_reverse_voltage:
            reverse += f", more than its limit of {say(dark.si.max_reverse_voltage, 'V')}"
    if point.lit == "none":
        return f"Neither lamp is lit: {current_words(current)} flows."
    if current > led.si.max_current:
        more = f"more than its limit of {say(led.si.max_current, 'A')}, and will not last"
        return f"{wanted.capitalize()} carries {say(current, 'A')}, {more}; {reverse}."
    if lamp_look(led, current) == TOO_LITTLE:
        return f"{wanted.capitalize()} gives too little light to see with {say(current, 'A')}; {reverse}."
    return f"{wanted.capitalize()} is lit with {say(current, 'A')}; {reverse}."

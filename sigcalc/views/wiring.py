"""Wirings drawn with symbols: reversing switches and relays at work, and four single switches."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from ..design.pair.wiring import GREEN, RED, RESISTOR_FIRST, Shown, Wiring, current_ways, reversing
from ..errors import DesignError
from ..parts.contacts import Join
from .canvas import Canvas, Place
from .circuit import elm, lamp_symbol, symbol
from .light import Light
from .picture import Picture
from .style import FAINT, INK, LINE, NORMAL, STAGE, STAGE_BOX, THIN, Size

_LAMPS = (RED, GREEN)
_WIDTH = 544.0
_TOP, _BOTTOM = 74.0, 194.0  # the rows of the two poles of a switch
_LEFT, _MIDDLE, _RIGHT = 142.0, 234.0, 326.0  # the columns of its terminals
_SUPPLY = 30.0
_LEAD_A, _LEAD_B = 28.0, 240.0
_CURRENT = 0.01  # A: how quick the dots are
_LIVE, SHORTED = 1.6 * LINE, 2.8 * LINE
# from the page to the wall: columns and rows, and between them in proportion
_COLUMNS = (
    (0.0, _SUPPLY, _LEFT, _MIDDLE, _RIGHT, 414.0, 462.0, _WIDTH),
    (0.0, 22.0, 88.0, 156.0, 224.0, 300.0, 338.0, 400.0),
)
_ROWS = (0.0, _LEAD_A, _TOP, _BOTTOM, _LEAD_B, 312.0), (0.0, 26.0, 62.0, 134.0, 168.0, 200.0)


@dataclass
class Layout:
    """Where the points of a wiring with one signal are drawn, in points.

    `rests` has for each moving contact where its tip is when it touches nothing, `routes` the corners of jumpers that
    are not straight. The lamps are between the two places of `pair`, one over the other where `lying`.
    """

    places: dict[str, Place]
    rests: list[Place]
    labels: list[tuple[Place, tuple[str, ...], str]]
    pair: tuple[Place, Place] = ((414.0, _LEAD_A), (462.0, _LEAD_B))
    lying: bool = False
    height: float = 312.0
    routes: dict[Join, tuple[Place, ...]] = field(default_factory=dict)
    wall: bool = False

    def on_wall(self) -> Layout:
        """The same, pulled together for a wall: the symbols keep their size, and only single switches are named."""
        at, (first, last) = self._on_wall, self.pair
        return Layout(
            {name: at(place) for name, place in self.places.items()},
            [*map(at, self.rests)],
            [(at(place), *words) for place, *words in self.labels] if self.lying else [],
            (at(first), (at(last)[0] - (14.0 if self.lying else 0.0), at(last)[1])),
            self.lying,
            STAGE_BOX[1],
            {joined: tuple(map(at, corners)) for joined, corners in self.routes.items()},
            wall=True,
        )

    def spot(self, x: float, y: float) -> Place:
        """Where a place of the page is in this layout."""
        return self._on_wall((x, y)) if self.wall else (x, y)

    def _on_wall(self, place: Place) -> Place:
        rows = ((0.0, 300.0), (0.0, 200.0)) if self.lying else _ROWS
        return tuple(float(np.interp(each, *ends)) for each, ends in zip(place, (_COLUMNS, rows), strict=True))

    def route(self, first: str, second: str) -> tuple[Place, ...]:
        """The places a jumper runs through; along a row of contacts it runs around them."""
        (x0, y0), (x1, y1) = self.places[first], self.places[second]
        corners = self.routes.get((first, second), ())
        if not corners and y0 == y1 and x0 != x1 and min(x0, x1) > _SUPPLY:
            inward = y0 + (26.0 if y0 < self.spot(0.0, (_TOP + _BOTTOM) / 2)[1] else -26.0)
            corners = (x0, inward), (x1, inward)
        return (x0, y0), *corners, (x1, y1)


def layout_of(wiring: Wiring) -> Layout:
    """The layout that fits the wiring's devices; raises DesignError where there is none."""
    shape = len(wiring.signals), len(wiring.sources), tuple(map(len, wiring.contacts))
    makers: dict[Any, Callable[[Wiring], Layout]] = {
        (1, 1, (3, 3)): _two_poles,
        (1, 1, (2, 2)): _two_poles,
        (1, 2, (3,)): _one_pole,
        (1, 1, (2, 2, 2, 2)): _bridge,
    }
    if shape not in makers:
        raise DesignError(
            f"wiring {wiring.name!r} has no drawing: one signal behind a two-pole switch, one changeover contact on a "
            "split supply, or four single switches can be drawn; read its table instead"
        )
    return makers[shape](wiring)


def _terminal_words(wiring: Wiring, terminal: str) -> tuple[str, ...]:
    """A terminal's name without the device's label, in two lines where it is long."""
    words = terminal.removeprefix(f"{wiring.devices[0][0]} ")
    first, _, rest = words.partition(" ")
    return (first, rest) if len(words) > 9 else (words,)


def _two_poles(wiring: Wiring) -> Layout:
    """Two rows, one for each pole: a throw on the left, the moving contact, a throw on the right.

    With jumpers crossed this is what a builder sees on the back of the switch, turned by a quarter.
    """
    (plus, minus), (_, a, b) = wiring.sources[0], wiring.signals[0]
    layout = Layout(
        {plus: (_SUPPLY, _TOP), minus: (_SUPPLY, _BOTTOM), a: (_MIDDLE, _LEAD_A), b: (_MIDDLE, _LEAD_B)}, [], []
    )
    for contact, y, side in zip(wiring.contacts, (_TOP, _BOTTOM), (1, -1), strict=True):
        columns = (_MIDDLE, _LEFT, _RIGHT) if len(contact) == 3 else (_LEFT, _MIDDLE)
        for terminal, x in zip(contact, columns, strict=True):
            layout.places[terminal] = (x, y)
            lines = _terminal_words(wiring, terminal)
            above = y - 12 - 15 * (len(lines) - 1) if side > 0 else y + 22
            beside = (x + 7, y + (-9 if side > 0 else 19))  # between wire A or B and the label of the right throw
            place = beside if x == _MIDDLE else (x - (12 if x > _MIDDLE else 0), above)
            layout.labels.append((place, lines, "start" if x >= _MIDDLE else "middle"))
        tip = 0 if len(contact) == 3 else 0.8 * (_MIDDLE - _LEFT)
        layout.rests.append((columns[0] + tip, y + side * 44))
    (_, first, *_), (_, second, *_) = wiring.contacts  # with plus and minus exchanged, their wires cross here
    layout.routes[plus, second] = (94.0, _TOP), (128.0, _BOTTOM)
    layout.routes[minus, first] = (94.0, _BOTTOM), (128.0, _TOP)
    return layout


def _one_pole(wiring: Wiring) -> Layout:
    """One changeover contact between the outer poles of a split supply; wire B goes to the middle."""
    ((plus, middle), (_, minus)), (_, a, b) = wiring.sources, wiring.signals[0]
    ((common, up, down),) = wiring.contacts
    centre, left, bend = (_TOP + _BOTTOM) / 2, _LEFT + 26, 112.0
    places = {plus: (_SUPPLY, _TOP), middle: (_SUPPLY, centre), minus: (_SUPPLY, _BOTTOM), a: (_MIDDLE, _LEAD_A)}
    places |= {b: (_MIDDLE, _LEAD_B), common: (_MIDDLE, centre), up: (left, _TOP), down: (left, _BOTTOM)}
    spots = {up: ((left, _TOP - 12), "middle"), down: ((left, _BOTTOM + 22), "middle")}
    spots |= {common: ((_MIDDLE + 10, centre + 4), "start")}
    labels = [(place, _terminal_words(wiring, terminal), anchor) for terminal, (place, anchor) in spots.items()]
    routes = {(middle, b): ((bend, centre), (bend, _LEAD_B))}
    return Layout(places, [(_LEFT + 16, centre)], labels, routes=routes)


def _bridge(wiring: Wiring) -> Layout:
    """Plus above, minus below, the pair lying between wire A on the left and wire B on the right."""
    (plus, minus), (_, a, b) = wiring.sources[0], wiring.signals[0]
    top, bottom, centre, left, right = 34.0, 262.0, 148.0, 176.0, 404.0
    places = {plus: (_SUPPLY, top), minus: (_SUPPLY, bottom), a: (left, centre), b: (right, centre)}
    layout = Layout(places, [], [], ((left + 50, centre - 30), (right - 50, centre + 30)), True, 300.0)
    corners = ((left, top, -1), (left, bottom, -1), (right, top, 1), (right, bottom, 1))
    for (common, throw), (label, _), (x, rail, side) in zip(wiring.contacts, wiring.devices, corners, strict=True):
        inward = 1 if rail == top else -1
        places |= {common: (x, rail + inward * 26), throw: (x, rail + inward * 78)}
        layout.rests.append((x - side * 30, rail + inward * 70))
        layout.labels.append(((x + side * 12, rail + inward * 52 + 4), (label,), "end" if side < 0 else "start"))
        layout.routes[plus if rail == top else minus, common] = ((x, rail),)
    return layout


@dataclass
class _Drawing:
    """A wiring being drawn: what is joined, and to what."""

    canvas: Canvas
    layout: Layout
    wiring: Wiring
    closed: tuple[Join, ...]
    shown: Shown

    def __post_init__(self) -> None:
        self.groups = self.wiring.groups(self.closed)
        self.live = {self.groups[pole] for pole in self.wiring.poles}
        ends = [(self.groups[plus], self.groups[minus]) for plus, minus in self.wiring.sources]
        self.shorted = {plus for plus, minus in ends if plus == minus}
        self.leads = self.wiring.signals[0][1:]
        ways = current_ways(self.wiring, self.closed, self.shown)
        self.steps = {pair for way in ways for pair in itertools.pairwise(way)}

    def state(self, point: str) -> str:
        """What a point is joined to: "shorted", "live" or ""."""
        group = self.groups[point]
        return "shorted" if group in self.shorted else "live" if group in self.live else ""

    def flow(self, start: str, end: str, *places: Place) -> None:
        """Dots along places between two points, the way the current flows; none where there is no current."""
        for way, along in (((start, end), places), ((end, start), places[::-1])):
            if way in self.steps:
                self.canvas.flow(*along, current=_CURRENT)

    def wire(self, point: str, *places: Place) -> None:
        """A wire at that point: thick where it is on a pole, thin and dashed where it is on none."""
        state = self.state(point)
        if state:
            self.canvas.line(*places, width=SHORTED if state == "shorted" else _LIVE)
        else:
            self.canvas.line(*places, width=LINE, dash="4 3", colour=FAINT)


def reversing_circuit(
    wiring: Wiring, closed: tuple[Join, ...], shown: Shown, resistor_first: bool = False, size: Size = NORMAL
) -> Picture:
    """A wiring with one signal, its contacts in their position, and what the lamps show.

    Wires joined to a pole of the supply are thick, a short circuit thicker still and marked;
    wires that are joined to no pole are thin and dashed.

    Parameters
    ----------
    wiring: one signal behind a two-pole switch or relay, one changeover contact on a split supply, or four switches
    closed: the terminals that the contacts join, as `wiring.closed(...)` gives them
    shown: what the signal then shows, as `design.pair.wiring.show` gives it
    resistor_first: the resistor is in the plus wire of the one supply, ahead of the switch, and not in wire B; a split
        supply has two wires that it would have to be in, and there it stays in wire B

    Raises DesignError for a wiring that has no drawing.
    """
    layout = layout_of(wiring)
    if size is STAGE:
        layout = layout.on_wall()
    canvas = Canvas(layout.spot(_WIDTH, 0.0)[0], layout.height)
    drawing = _Drawing(canvas, layout, wiring, closed, shown)
    resistor_first = resistor_first and len(wiring.sources) == 1
    for jumper in wiring.jumpers:
        canvas.group(f"jumper {jumper[0]} to {jumper[1]} {drawing.state(jumper[0]) or 'dead'}")
        drawing.wire(jumper[0], *layout.route(*jumper))
        drawing.flow(*jumper, *layout.route(*jumper))
    _draw_contacts(drawing)
    for number, (plus, minus) in enumerate(wiring.sources):
        _draw_supply(drawing, plus, minus, number)
    _draw_pair(drawing)
    _draw_leads(drawing)
    (_, y0), (x1, y1) = layout.pair
    end = layout.spot(396.0, 0.0)[0]
    ends = (end - 46, y1), (end, y1)
    if resistor_first:
        x, y = layout.places[wiring.poles[0]]
        before = 12 if layout.wall and not layout.lying else 26
        ends = (x + before, y), (x + before + 50, y)
    elif layout.lying:
        ends = (x1 + 4, (y0 + y1) / 2), (layout.places[drawing.leads[1]][0] - 4, (y0 + y1) / 2)
    canvas.group("resistor")
    canvas.add(symbol(elm.ResistorIEC, *ends))
    if not layout.lying and not layout.wall:  # there the contacts say it, and the words are many
        canvas.group("position")
        canvas.text((_LEFT, 258.0), shown.position, "middle")
    words = said(shown)
    if shown.short and resistor_first:
        canvas.text(
            (canvas.width - 4, layout.height - (5 if layout.wall else 13)),
            "ALL ACROSS THE RESISTOR",
            "end",
            bold=True,
            size=16,
        )
        words += f" {RESISTOR_FIRST}"
    elif shown.short:
        short_circuit(canvas, (canvas.width - 192, layout.height - (8 if layout.wall else 14)))
    return canvas.picture(words, size)


def said(shown: Shown) -> str:
    """What is shown, in words, with a minus that is no hyphen."""
    return re.sub("(?<= )-", "−", shown.sentence)


def brief(shown: Shown, resistor_first: bool = False) -> str:
    """The same for a wall, in twelve words at the most."""
    if shown.short:
        limit = (
            "the resistor limits it, no harm is done"
            if resistor_first
            else "only the source limits the current: switch off"
        )
        return f"Short circuit: {limit}."
    if len(shown.signals) > 1:
        lamps = (f"{name} {lamp}" for name, lamp in zip(shown.signals, shown.lamps, strict=True))
        return f"{', '.join(lamps).capitalize()}."
    if (lit := shown.lamps[0]) not in _LAMPS:
        return "Both lamps are dark: no current flows."
    a, b = (pole.replace("-", "−") for pole in shown.leads[0])
    return f"{lit.capitalize()} lights: wire A on {a}, wire B on {b}."


def reversing_brief(wiring: Wiring, shown: Shown, resistor_first: bool = False) -> str:
    """The same of a wiring that is to turn the current round: also that it does not, where one lamp is always lit."""
    lamps = {each.lamps[0] for each in reversing(wiring).states.values()}
    if lamps == {shown.lamps[0]} and lamps <= {RED, GREEN}:
        return f"{shown.lamps[0].capitalize()} lights in every position: nothing turns the current round."
    return brief(shown, resistor_first)


def _draw_contacts(drawing: _Drawing) -> None:
    """Blades, rings for the terminals, the dotted line that couples the two blades of one switch, and the labels."""
    canvas, layout = drawing.canvas, drawing.layout
    middles = []
    for contact, rest in zip(drawing.wiring.contacts, layout.rests, strict=True):
        pivot, touched = (
            layout.places[contact[0]],
            [each for each in contact[1:] if (contact[0], each) in drawing.closed],
        )
        tips = [layout.places[each] for each in touched] or [rest]  # a blade that touches nothing ends in the air
        canvas.group(f"contact {contact[0]} {'on ' + ' and '.join(touched) if touched else 'open'}")
        for tip in tips:
            canvas.line(pivot, tip, width=(3.4 if touched else 2.4) * LINE)
        for each in touched:
            drawing.flow(contact[0], each, pivot, layout.places[each])
        for terminal in contact:
            canvas.circle(layout.places[terminal], 4.2)
        middles.append(tuple(0.75 * end + 0.25 * start for end, start in zip(tips[0], pivot, strict=True)))
    if len(drawing.wiring.devices) == 1 and len(middles) > 1:
        canvas.group("link")
        canvas.line(*middles, width=THIN, dash="1.5 3")
    canvas.group("labels")
    for place, lines, anchor in layout.labels:
        canvas.lines(place, lines, anchor)


def _draw_supply(drawing: _Drawing, plus: str, minus: str, number: int) -> None:
    """A battery, its plus above, with the signs at the outer ends of a split supply."""
    canvas, places, x = drawing.canvas, drawing.layout.places, drawing.layout.places[plus][0]
    middle = (places[plus][1] + places[minus][1]) / 2
    canvas.group("supply")
    canvas.add(symbol(elm.Battery, places[plus], places[minus]))
    if number == 0:
        canvas.text((x - 15, middle - 16), "+", "middle", bold=True, size=14)
    if number == len(drawing.wiring.sources) - 1:
        canvas.text((x - 15, middle + 26), "−", "middle", bold=True, size=14)
    if not drawing.layout.wall:
        canvas.text((x + 22, middle + (-28 if drawing.layout.lying else 4)), "supply")


def _draw_pair(drawing: _Drawing) -> None:
    """The two wires from the switch to the lamps, and the lamps back to back between them."""
    canvas, layout = drawing.canvas, drawing.layout
    (x0, y0), (x1, y1) = layout.pair
    across, below = (x0 + x1) / 2, (y0 + y1) / 2 + 36
    words = {RED: (x0 - 12, below, "end"), GREEN: (x1 + 12, below, "start")}
    bars = ((x0, y0), (x1, y0)), ((x0, y1), (x1, y1))  # of wire A and of wire B
    if layout.lying:
        above, under = (40, 48) if layout.wall else (44, 54)
        words = {RED: (across, y0 - above, "middle"), GREEN: (across, y1 + under, "middle")}
        bars = ((x0, y0), (x0, y1)), ((x1, y0), (x1, y1))
    canvas.group("wires")
    taps: list[Place] = []
    for lead, bar in zip(drawing.leads, bars, strict=True):
        taps.append(tap := (bar[0][0], layout.places[lead][1]))
        drawing.wire(lead, layout.places[lead], tap)
        drawing.wire(lead, *bar)
        canvas.joint(tap)
    ends = {RED: (bars[0][0], bars[1][0]), GREEN: (bars[1][1], bars[0][1])}
    if (lit := drawing.shown.lamps[0]) in _LAMPS:
        coming, leaving = zip((layout.places[lead] for lead in drawing.leads), taps, strict=True)
        way = (*coming, *ends[RED], *leaving[::-1]) if lit == RED else (*leaving, *ends[GREEN], *coming[::-1])
        canvas.flow(*way, current=_CURRENT)
    for lamp, (x, y, anchor) in words.items():
        lit = lamp in drawing.shown.lamps
        lamp_symbol(canvas, lamp, Light.switched(lamp, lit), ends[lamp], flip=not layout.lying)
        lines = (lamp.upper(), "ON" if lit else "DARK")
        canvas.lines((x, y), (" ".join(lines),) if layout.lying else lines, anchor, bold_first=True)


def _draw_leads(drawing: _Drawing) -> None:
    """The name of each wire and the pole it is on, and an arrow the way the current flows."""
    canvas, lamp = drawing.canvas, drawing.shown.lamps[0]
    canvas.group("leads")
    for number, (lead, pole) in enumerate(zip(drawing.leads, drawing.shown.leads[0], strict=True)):
        words = f"{'' if drawing.layout.wall else 'wire '}{lead} on {pole.replace('-', '−') or 'no pole'}"
        x, y = drawing.layout.places[lead]
        if drawing.layout.lying:
            side, anchor = (6, "start") if number else (-6, "end")
            canvas.text((x + side, y + 4), words, anchor, bold=True)
            continue
        place = (x + 10, y - 13) if drawing.layout.wall and number else (x + 58, y + (24 if number else -8))
        canvas.text(place, words, bold=True)
        if lamp in _LAMPS:
            ends = (x + 20, y), (x + 46, y)
            canvas.arrow(*(ends if (lamp == RED) == (number == 0) else ends[::-1]), width=2.6, point=12)


def short_circuit(canvas: Canvas, place: Place) -> None:
    """The words in bold with a flash before them; `place` is the left end of their baseline."""
    x, y = place
    flash = ((14, -18), (2, -4), (9, -4), (4, 8), (20, -8), (12, -8), (19, -18))
    canvas.group("short circuit")
    canvas.polygon(*((x + dx, y + dy) for dx, dy in flash), fill=INK)
    canvas.text((x + 28, y + 1), "SHORT CIRCUIT", bold=True, size=16)

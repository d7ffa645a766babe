"""A two-pole changeover switch at work: from the front, from behind with its wires, and the signal that it sets."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from ...design.pair.wiring import GREEN, RED, RESISTOR_FIRST, Shown, Wiring, as_wiring, current_ways, show
from ...errors import DesignError
from ...parts.contacts import Join
from ...parts.drive import ResistorDrive
from ..canvas import Place
from ..light import Light
from ..picture import Picture
from ..style import MATERIALS, NORMAL, STAGE, STAGE_BOX, Size
from ..wiring import said
from .first_circuit import resistor_facts
from .table import Table

SWITCH_WIRINGS = {
    "crossed": "crossed double-throw switch",
    "straight": "straight instead of crossed",
    "one straight": "crossed double-throw switch, one jumper straight",
    "one missing": "crossed double-throw switch, one jumper missing",
    "exchanged": "crossed double-throw switch, supply exchanged",
    "cutting": "double-pole single-throw switch",
}
"""Short names of the X of jumpers, of four ways of getting it wrong, and of the switch that has no place for an X."""
RESISTOR = ResistorDrive("680 ohm")
_CURRENT, _SHORTED = 0.01, 1.0  # A: how quick the dots are
_FRONT = (8.0, 42.0)
_LANE = 285.0  # the height of a resistor before the switch
_LEVER = {True: "up", False: "down", None: "in the middle"}
_ORIENTATION = (
    "Seen from behind, with the lever up the lower terminals touch the middle ones: so it is in most toggle switches "
    "(common practice). Check yours with a meter."
)
_SINGLE = "With the lever down this switch is closed. Check yours with a meter."
_HOT = "Nothing limits this current: wires and battery get hot. Switch off at once and put the jumper right."


def has_hand_switch(wiring: Wiring) -> bool:
    """Whether the wiring is one that `switch_front_and_back` draws: one signal behind one two-pole hand switch."""
    (_, device), *more = wiring.devices
    poles = [len(contact) for contact in wiring.contacts]
    return (
        not more and len(wiring.sources) == 1 and poles in ([3, 3], [2, 2]) and bool({"up", "on"} & {*device.positions})
    )


def switch_front_and_back(
    up: bool | None,
    wiring: str | Wiring = "crossed",
    size: Size = NORMAL,
    bridged: bool = False,
    resistor_first: bool = False,
) -> Picture:
    """A switch from the front and from behind, its wires by the pole they are on, and the signal that it sets.

    A short circuit is marked where its two wires meet, with a flash and words.

    Parameters
    ----------
    up: whether the lever is up (a switch that only cuts is then open); None is in the middle, where the contacts
        touch nothing, or where they are `bridged`, both ends at once
    wiring: one of `SWITCH_WIRINGS`, a name in `design.pair.wiring.wirings`, or a `Wiring`, of one signal behind such
        a switch
    resistor_first: the resistor is in the wire from plus to the switch and not in wire B

    Raises UnknownNameError for another name, DesignError for a wiring without such a switch.
    """
    made = as_wiring(SWITCH_WIRINGS.get(wiring, wiring) if isinstance(wiring, str) else wiring)
    if not has_hand_switch(made):
        names = ", ".join(SWITCH_WIRINGS)
        raise DesignError(f"wiring {made.name!r} has no two-pole hand switch to draw; use one of: {names}")
    ((label, device),) = made.devices
    first, *_, last = device.positions
    ends = [first, last] if bridged and up is None else [] if up is None else [first if up else last]
    closed = tuple(dict.fromkeys(join for end in ends for join in made.closed([end])))
    touching = ", touching both ends" if len(ends) > 1 else ""
    shown = show(made, closed, f"{label} {_LEVER[up]}{touching}")
    kind = _OnWall if size is STAGE else _Scene
    table = Table(*kind.sides)
    scene = kind(table, made, closed, shown, up, resistor_first)
    scene.draw()
    warning = f" {RESISTOR_FIRST if resistor_first else _HOT}" if shown.short else ""
    return table.picture(f"{said(shown)}{warning} {_SINGLE if scene.single else _ORIENTATION}", size)


class _Scene:
    """A wiring being laid on the table: where each of its points is, and which way the current takes."""

    sides = (596.0, 412.0)
    behind, battery, signal = (222.0, 48.0), (268.0, 292.0), (440.0, 140.0)
    scale, signal_scale = 1.0, 1.0
    aside = 20.0  # from a terminal to its sign
    named = (18.0, 290.0)  # the flash before the words on a short circuit

    def __init__(
        self, table: Table, wiring: Wiring, closed: tuple[Join, ...], shown: Shown, up: bool | None, first: bool
    ):
        self.table, self.wiring, self.closed, self.shown, self.up, self.first = table, wiring, closed, shown, up, first
        self.single = len(wiring.contacts[0]) == 2
        self.groups = wiring.groups(closed)
        self.plus, self.minus = wiring.sources[0]
        self.ways = current_ways(wiring, closed, shown)
        self.short = self.ways[0] if shown.short else ()
        self.hot = bool(self.short) and not self.first
        self.amps = _SHORTED if self.hot else _CURRENT

    def draw(self) -> None:
        """Things first, then the wires over them, then the words."""
        put, shown = self.table.put, self.shown
        lights = tuple(Light.switched(colour, colour in shown.lamps) for colour in (RED, GREEN))
        self._front()
        bridged = self.up is None and len(self.closed) == 4
        lugs = put("switch_behind", self.behind, self.scale, up=self.up, bridged=bridged, single=self.single)
        battery = put("battery_9v", self.battery)
        signal = put("signal", self.signal, self.signal_scale, lights=lights, alone=self.signal_scale < 1.0)
        places = {self.plus: battery["plus"], self.minus: battery["minus"]}
        for number, contact in enumerate(self.wiring.contacts, 1):
            rows = ("common", "down") if self.single else ("common", "up", "down")
            places |= {terminal: lugs[f"{row}{number}"] for terminal, row in zip(contact, rows, strict=True)}
        places |= dict(zip(self.wiring.signals[0][1:], (signal["a"], signal["b"]), strict=True))
        for joined in self.closed:
            self.table.group("contact")
            self.table.flow(*(places[each] for each in self._along(joined)), current=self._amps(joined))
        drawn: list[tuple[Place, ...]] = []
        for joined in self.wiring.jumpers:
            route = self._route(joined, places)
            crosses = any(len(route) == len(other) and _cross(route, other) for other in drawn)
            drawn.append(over(route) if crosses else route)
            self._wire(joined, drawn[-1])
        self._solder(places)
        self._resistor()
        self._words()
        if self.hot:
            self._flash(places[self._meets_at])

    def _front(self) -> None:
        """The lever's side of the switch."""
        self.table.put("hand_switch", _FRONT, up=self.up, **({"labels": ("OFF", "ON")} if self.single else {}))

    @property
    def _meets_at(self) -> str:
        """The point at which the two poles of a short circuit meet; "" where there is none."""
        return self.short[len(self.short) // 2] if self.short else ""

    def _wire(self, joined: Join, route: tuple[Place, ...]) -> None:
        way = route if self._along(joined) == joined else route[::-1]
        self.table.wire(*way, pole=self._pole(joined), current=self._amps(joined), name=f"jumper {' to '.join(joined)}")

    def _along(self, joined: Join) -> Join:
        """The two points in the order in which the current passes them."""
        backwards = any(pair == joined[::-1] for way in self.ways for pair in itertools.pairwise(way))
        return joined[::-1] if backwards else joined

    def _amps(self, joined: Join) -> float:
        along = self._along(joined)
        return self.amps if any(pair == along for way in self.ways for pair in itertools.pairwise(way)) else 0.0

    def _pole(self, joined: Join) -> str:
        """The pole that a wire is on; of a short circuit each half has the pole that it comes from."""
        if self.short:
            middle = len(self.short) // 2
            halves = {"+": self.short[: middle + 1], "−": self.short[middle:]}
            return next((sign for sign, half in halves.items() if set(joined) <= set(half)), "")
        signs = {self.groups[self.plus]: "+", self.groups[self.minus]: "−"}
        return signs.get(self.groups[joined[0]], "")

    def _route(self, joined: Join, places: dict[str, Place]) -> tuple[Place, ...]:
        """The places a wire runs through between two of the wiring's points."""
        (x0, y0), (x1, y1) = ends = places[joined[0]], places[joined[1]]
        left, top, right = self.behind[0], self.behind[1], self.behind[0] + 168
        if joined[0] == self.plus and self.first:
            return ends[0], (x0, _LANE), (132.0, _LANE), (132.0, _LANE - 25), (x1, _LANE - 25), ends[1]
        if joined[0] in (self.plus, self.minus):
            return ends[0], (x0, y0 - 16), (x1, y0 - 28), ends[1]
        if joined[1] == self.wiring.signals[0][1]:
            corners = (left - 10, y0), (left - 10, top - 16), (right + 46, top - 16), (right + 46, y1)
            return ends[0], *corners, ends[1]
        if joined[1] == self.wiring.signals[0][2]:
            return ends[0], (right + 18, y0), (right + 18, y1), ends[1]
        if x0 == x1:
            inward = x0 + (20 if x0 < left + 84 else -20)
            return ends[0], (inward, y0 - 20), (inward, y1 + 20), ends[1]
        return ends

    def _solder(self, places: dict[str, Place]) -> None:
        """A blob of solder where wires end at a terminal, and beside each terminal the sign of the pole it is on."""
        wired = {each for joined in self.wiring.jumpers for each in joined}
        middle = self.behind[0] + 84 * self.scale
        for point in (terminal for contact in self.wiring.contacts for terminal in contact):
            (x, y), sign = places[point], "" if self._meets_at == point else self._pole((point, point))
            self.table.group(f"terminal {point} {sign}")
            if point in wired:
                self.table.circle((x, y + 1), 5.5 * self.scale, fill=MATERIALS["metal"], width=1.2)
            if sign:
                self.table.text((x + (self.aside if x > middle else 1 - self.aside), y - 8), sign, "middle", bold=True)

    def _resistor(self) -> None:
        if self.first:
            self.table.put("resistor", (140.0, _LANE - 13), **resistor_facts(RESISTOR))
            return
        x, y = self.behind[0] + 168 + 18, self.behind[1] + 130
        self.table.put("resistor_upright", (x - 13, y), **resistor_facts(RESISTOR))

    def _words(self) -> None:
        table, shown = self.table, self.shown
        table.group("names")
        table.text((_FRONT[0] + 58, 32), "from the front", "middle")
        table.text((self.behind[0] + 84, 20), "from behind", "middle")
        table.lines((self.behind[0] - 16, self.behind[1] + 36), ("touched with", "lever DOWN"), "end")
        if not self.single:
            table.lines((self.behind[0] - 16, self.behind[1] + 168), ("touched with", "lever UP"), "end")
        places = ((444.0, 56.0), (430.0, self.signal[1] + 254))
        for name, place, pole in zip("AB", places, shown.leads[0], strict=True):
            on = {self.plus: "plus", self.minus: "minus"}.get(pole, "on no pole")
            table.text(place, f"wire {name}" if self.short else f"wire {name} is {on}", bold=True)
        place = (188.0, _LANE + 29) if self.first else (self.behind[0] + 172, self.behind[1] + 240)
        table.text(place, "resistor", "middle" if self.first else "end")
        table.group("position")
        table.text((8.0, 262.0), f"lever {_LEVER[self.up]}", bold=True)
        if self.hot:
            advice = ("SHORT CIRCUIT", "This gets hot:", "switch off at once,", "put the jumper right.")
            table.lines((34.0, 296.0), advice, bold_first=True)
        elif self.short:
            table.lines((8.0, 280.0), ("all across", "the resistor"), bold_first=False)
        else:
            table.text((8.0, 280.0), f"{shown.lamps[0]} lights" if self.ways else "both lamps dark")

    def _flash(self, place: Place) -> None:
        """A flash where plus and minus meet, and the same before the words."""
        for number, (x, y) in enumerate((place, self.named)):
            bolt = ((2, -16), (-9, 3), (-2, 3), (-5, 17), (9, -5), (2, -5), (8, -16))
            self.table.group("short circuit" if number == 0 else "short circuit, named")
            self.table.polygon(*((x + dx, y + dy) for dx, dy in bolt), fill=MATERIALS["running"])


class _OnWall(_Scene):
    """The same for a wall: the switch from behind alone, big, between its battery and a signal without its track."""

    sides = STAGE_BOX
    behind, battery, signal = (138.0, 14.0), (6.0, 80.0), (286.0, 2.0)
    scale, signal_scale = 0.75, 0.82
    aside = 13.0
    named = (12.0, 40.0)
    lanes = (122.0, 104.0)  # where plus and minus come down beside the switch

    def _front(self) -> None:
        """The words tell the lever's position."""

    def _route(self, joined: Join, places: dict[str, Place]) -> tuple[Place, ...]:
        (x0, y0), (x1, y1) = ends = places[joined[0]], places[joined[1]]
        if joined[0] in (self.plus, self.minus):
            lane, over = (self.lanes[0], 62.0) if joined[0] == self.plus else (self.lanes[1], 74.0)
            under = ((lane, 184.0), (x1, 184.0)) if x1 > self.behind[0] + 63 else ((lane, y1),)
            return ends[0], (x0, over), (lane, over), *under, ends[1]
        if joined[1] == self.wiring.signals[0][1]:
            return ends[0], (146.0, y0), (146.0, 6.0), (293.0, 6.0), (293.0, y1), ends[1]
        if joined[1] == self.wiring.signals[0][2]:
            return ends[0], (276.0, y0), (276.0, y1), ends[1]
        return super()._route(joined, places)

    def _resistor(self) -> None:
        x, y = (self.lanes[0], 66.0) if self.first else (276.0, 102.0)
        self.table.put("resistor_upright", (x - 10.4, y), 0.8, **resistor_facts(RESISTOR))

    def _words(self) -> None:
        table, shown = self.table, self.shown
        table.group("position")
        table.text((6.0, 16.0), f"lever {_LEVER[self.up]}", bold=True)
        if self.hot:
            table.text((26.0, 46.0), "SHORT CIRCUIT", bold=True)
        else:
            words = ("all across", "the resistor") if self.short else ("seen from", "behind")
            table.lines((6.0, 31.0), words)
        table.group("names")
        for name, height, pole in zip("AB", (181.0, 194.5), shown.leads[0], strict=True):
            sign = {self.plus: "+", self.minus: "−"}.get(pole, "") if not self.short else ""
            table.text((313.0, height), f"{name} {sign}".strip(), bold=True)
        for lamp, height in ((RED, 31.0), (GREEN, 68.0)):
            words = (lamp.upper(), "ON" if lamp in shown.lamps else "DARK")
            table.lines((353.0, height), words, bold_first=True, centred=True)


def _cross(one: Sequence[Place], other: Sequence[Place]) -> bool:
    """Whether the middle stretches of two routes cross."""
    (a, b), (c, d) = _middle(one), _middle(other)

    def side(p: Place, q: Place, r: Place) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


def _middle(route: Sequence[Place]) -> tuple[Place, Place]:
    half = len(route) // 2
    return route[half - 1], route[half]


def over(route: Sequence[Place]) -> tuple[Place, ...]:
    """The route with a hop in the middle of its middle stretch, over the wire that it crosses there."""
    (x0, y0), (x1, y1) = _middle(route)
    angle, half = math.atan2(y1 - y0, x1 - x0), len(route) // 2
    turns = [angle + math.pi * (1 + step / 8) for step in range(9)]
    hop = ((9 * math.cos(turn) + (x0 + x1) / 2, 9 * math.sin(turn) + (y0 + y1) / 2) for turn in turns)
    return (*route[:half], *hop, *route[half:])

"""Where the terminals, poles and leads of a reversing wiring with one signal are drawn, in points."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from ..errors import DesignError
from ..parts.contacts import SwitchingDevice, Wiring

Place = tuple[float, float]

_TOP, _BOTTOM = 74.0, 194.0  # the rows of the two poles of a switch
_LEFT, _MIDDLE, _RIGHT = 142.0, 234.0, 326.0  # the columns of its terminals
_SUPPLY = 30.0
_LEAD_A, _LEAD_B = 28.0, 240.0


@dataclass(frozen=True)
class Contact:
    """One moving contact: its own terminal, the ones it can touch, and where its tip is when it touches nothing."""

    common: str
    throws: tuple[str, ...]
    rest: Place


@dataclass(frozen=True)
class Label:
    """Words beside a terminal."""

    place: Place
    lines: tuple[str, ...]
    anchor: str = "middle"


@dataclass
class Layout:
    """A place for every point of the wiring.

    `routes` has the corners of jumpers that are not straight, by their two points. `pair`
    is the upper left and lower right corner between which the two lamps hang from lead to
    lead, one over the other where `lying`.
    """

    places: dict[str, Place]
    contacts: list[Contact]
    labels: list[Label]
    pair: tuple[Place, Place] = ((414.0, _LEAD_A), (462.0, _LEAD_B))
    lying: bool = False
    height: float = 312.0
    routes: dict[frozenset[str], tuple[Place, ...]] = field(default_factory=dict)

    def route(self, first: str, second: str) -> tuple[Place, ...]:
        """The places a jumper runs through."""
        ends = self.places[first], self.places[second]
        corners = self.routes.get(frozenset((first, second)))
        if corners is not None:
            return (ends[0], *corners, ends[1])
        (x0, y0), (x1, y1) = ends
        if y0 == y1 and x0 != x1 and min(x0, x1) > _SUPPLY:  # along a row of contacts: around them
            inward = y0 + (26.0 if y0 < (_TOP + _BOTTOM) / 2 else -26.0)
            return ends[0], (x0, inward), (x1, inward), ends[1]
        return ends


def layout_of(wiring: Wiring) -> Layout:
    """The layout that fits the wiring's devices.

    Raises DesignError for a wiring with more than one signal, or with devices of a kind that has no layout.
    """
    devices = [device for _, device in wiring.devices]
    shape = len(devices), len(wiring.sources), tuple(len(device.poles) for device in devices)
    makers: dict[object, Callable[[Wiring], Layout]] = {
        (1, 1, (2,)): _two_poles,
        (1, 2, (1,)): _one_pole,
        (4, 1, (1, 1, 1, 1)): _bridge,
    }
    if len(wiring.signals) != 1 or shape not in makers:
        raise DesignError(
            f"wiring {wiring.name!r} has no drawing: one signal behind a two-pole switch, one changeover contact on a "
            "split supply, or four single switches can be drawn; read its table instead"
        )
    return makers[shape](wiring)


def moving_contacts(label: str, device: SwitchingDevice) -> list[tuple[str, tuple[str, ...]]]:
    """For each pole of a device its common terminal and its throws, with the device's label."""
    found = []
    for pole in device.poles:
        terminals = [f"{label} {each}" for each in device.terminals if each in pole]
        found.append((terminals[0], tuple(terminals[1:])))
    return found


def terminal_words(terminal: str, label: str) -> tuple[str, ...]:
    """A terminal's name without the device's label, in two lines where it is long."""
    words = terminal.removeprefix(f"{label} ")
    first, _, rest = words.partition(" ")
    return (first, rest) if len(words) > 9 else (words,)


def _two_poles(wiring: Wiring) -> Layout:
    """Two rows, one for each pole: a throw on the left, the moving contact, a throw on the right.

    With jumpers crossed this is what a builder sees on the back of the switch, turned by a quarter.
    """
    (label, device), (plus, minus) = wiring.devices[0], wiring.sources[0]
    _, a, b = wiring.signals[0]
    places = {plus: (_SUPPLY, _TOP), minus: (_SUPPLY, _BOTTOM), a: (_MIDDLE, _LEAD_A), b: (_MIDDLE, _LEAD_B)}
    contacts, labels = [], []
    for (common, throws), y, side in zip(moving_contacts(label, device), (_TOP, _BOTTOM), (1, -1), strict=True):
        columns = (_MIDDLE, _LEFT, _RIGHT) if len(throws) == 2 else (_LEFT, _MIDDLE)
        for terminal, x in zip((common, *throws), columns, strict=True):
            places[terminal] = (x, y)
            lines = terminal_words(terminal, label)
            above = y - 12 - 15 * (len(lines) - 1) if side > 0 else y + 22
            if x == _MIDDLE:  # wire A or B leaves on the outer side
                labels.append(Label((x + 7, y + (17 if side > 0 else -9)), lines, "start"))
            else:
                labels.append(Label((x, above), lines))
        tip = 0 if len(throws) == 2 else 0.8 * (_MIDDLE - _LEFT)
        contacts.append(Contact(common, throws, (places[common][0] + tip, y + side * 44)))
    return Layout(places, contacts, labels)


def _one_pole(wiring: Wiring) -> Layout:
    """One changeover contact between the outer poles of a split supply; wire B goes to the middle."""
    (label, device), ((plus, middle), (_, minus)) = wiring.devices[0], wiring.sources
    ((common, throws),) = moving_contacts(label, device)
    _, a, b = wiring.signals[0]
    centre = (_TOP + _BOTTOM) / 2
    places = {plus: (_SUPPLY, _TOP), middle: (_SUPPLY, centre), minus: (_SUPPLY, _BOTTOM)}
    places |= {a: (_MIDDLE, _LEAD_A), b: (_MIDDLE, _LEAD_B), common: (_MIDDLE, centre)}
    places |= {throws[0]: (_LEFT + 26, _TOP), throws[1]: (_LEFT + 26, _BOTTOM)}
    labels = [
        Label((_LEFT + 26, _TOP - 12), terminal_words(throws[0], label)),
        Label((_LEFT + 26, _BOTTOM + 22), terminal_words(throws[1], label)),
        Label((_MIDDLE + 10, centre + 4), terminal_words(common, label), "start"),
    ]
    bend = 112.0
    routes = {frozenset((middle, b)): ((bend, centre), (bend, _LEAD_B))}
    return Layout(places, [Contact(common, throws, (_LEFT + 16, centre))], labels, routes=routes)


def _bridge(wiring: Wiring) -> Layout:
    """Plus above, minus below, the pair lying between wire A on the left and wire B on the right."""
    plus, minus = wiring.sources[0]
    _, a, b = wiring.signals[0]
    top, bottom, centre = 34.0, 262.0, 148.0
    left, right = 176.0, 404.0
    places = {plus: (_SUPPLY, top), minus: (_SUPPLY, bottom), a: (left, centre), b: (right, centre)}
    contacts, labels, routes = [], [], {}
    corners = ((left, top, -1), (left, bottom, -1), (right, top, 1), (right, bottom, 1))
    for (label, device), (x, rail, side) in zip(wiring.devices, corners, strict=True):
        ((common, (throw,)),) = moving_contacts(label, device)
        inward = 1 if rail == top else -1
        places[common], places[throw] = (x, rail + inward * 26), (x, rail + inward * 78)
        contacts.append(Contact(common, (throw,), (x - side * 30, rail + inward * 70)))
        number, middle = label.removeprefix("switch "), rail + inward * 52
        labels.append(Label((x + side * 12, middle + 4), (f"switch {number}",), "end" if side < 0 else "start"))
        pole = plus if rail == top else minus
        routes[frozenset((pole, common))] = ((x, rail),)
    return Layout(places, contacts, labels, ((left + 50, centre - 30), (right - 50, centre + 30)), True, 300.0, routes)

"""Turning the current round: one switch or relay, four single switches, and two signals that share a wire."""

from __future__ import annotations

from dataclasses import replace

from ..design.findings import LOOK, STOP, Finding, worst
from ..design.pair import reversing, shared_return
from ..design.pair.wiring import Shown, show
from ..parts.contacts import Join, Wiring, wirings
from ..views.reversing import reversing_circuit, said
from ..views.shared_return import signals_on_wires
from .base import Panel
from .control import choice, positions, switch
from .scene import Scene

FIRST, OPEN, BRIDGED, LAST = "one end", "between, touching nothing", "between, touching both", "other end"
_CROSSED = "crossed double-throw switch"
_ONE_STRAIGHT = replace(
    wirings[_CROSSED],
    name="crossed double-throw switch, one jumper straight",
    jumpers=tuple(
        ("switch up 1", "switch down 1") if each == ("switch up 1", "switch down 2") else each
        for each in wirings[_CROSSED].jumpers
    ),
    says="a mistake: one of the two crossing jumpers runs straight",
)
# by names that the list shows whole; the drawing's sentence says the full one
ONE_SIGNAL = {
    "crossed switch": wirings[_CROSSED],
    "crossed, centre off": wirings["crossed double-throw switch, centre off"],
    "crossed relay": wirings["crossed two-pole relay"],
    "cutting switch": wirings["double-pole single-throw switch"],
    "straight jumpers": wirings["straight instead of crossed"],
    "one jumper straight": _ONE_STRAIGHT,
    "split supply": wirings["one changeover contact on a split supply"],
}
TWO_SIGNALS = {
    "shared return wire": wirings["two signals, one supply, shared return"],
    "own wires": wirings["two signals, one supply, own wires"],
    "shared, own supplies": wirings["two signals, own supplies, shared return"],
    "shared, split supply": wirings["two signals, split supply, shared return"],
    "behind one switch": wirings["two signals behind one switch"],
}


class ReversingPanel(Panel):
    """A wiring with one switch or relay, its contacts at either end or on the way."""

    height = "34em"

    def __init__(self) -> None:
        controls = [
            switch("the resistor comes before the switch"),
            choice("wiring", list(ONE_SIGNAL.items())),
            positions("contacts", [FIRST, OPEN, BRIDGED, LAST]),
        ]
        super().__init__(controls, "How is the current turned round?")

    def redraw(self) -> None:
        """Draw again; on a split supply no single place of the resistor is before the switch."""
        self["the resistor comes before the switch"].enable(len(self["wiring"].value.sources) == 1)
        super().redraw()

    def draw(self) -> Scene:
        """The wiring with its contacts as they stand."""
        wiring = self["wiring"].value
        first = self["the resistor comes before the switch"].value and len(wiring.sources) == 1
        closed, words = _contacts(wiring, self["contacts"].value)
        shown = show(wiring, closed, words)
        circuit = reversing_circuit(wiring, closed, shown, resistor_first=first, size=self.size)
        tamed = first and shown.short
        return Scene(
            (circuit,), f"{circuit.sentence} {_says(wiring)}", _findings(wiring, self["contacts"].value, tamed)
        )


def _says(wiring: Wiring) -> str:
    return f"{wiring.name.capitalize()}: {wiring.says}."


def _contacts(wiring: Wiring, where: str) -> tuple[tuple[Join, ...], str]:
    """What is joined, and the position in words."""
    ((label, device),) = wiring.devices
    first, last = device.positions[0].name, device.positions[-1].name
    if where in (FIRST, LAST):
        name = first if where == FIRST else last
        return wiring.closed([name]), f"{label} {name}"
    if where == OPEN:
        return (), f"{label} between {first} and {last}, touching nothing"
    both = dict.fromkeys((*wiring.closed([first]), *wiring.closed([last])))
    return tuple(both), f"{label} between {first} and {last}, touching both"


def _findings(wiring: Wiring, where: str, tamed: bool) -> tuple[Finding, ...]:
    """The verdict on the wiring; on the way, the verdict on contacts of that manner.

    A short circuit that is `tamed`, behind the resistor, only puts the supply across it.
    """
    found = reversing.findings(reversing.reversing(wiring))
    if where not in (OPEN, BRIDGED):
        return found
    ((_, device),) = wiring.devices
    manner = reversing.BREAK_FIRST if where == OPEN else reversing.MAKE_FIRST
    if where == BRIDGED and tamed:
        return _TAMED
    way = reversing.findings(reversing.change(wiring, device.positions[0].name, device.positions[-1].name, manner))
    # beside a short circuit on the way nothing is fine about the wiring
    return way if worst(way) == STOP and worst(found) != STOP else (*found, *way)


_TAMED = (Finding(LOOK, "changing over", reversing.RESISTOR_FIRST, "Use contacts that break before they make."),)


_SHORT = Finding(
    STOP,
    "this position",
    "The current goes past the lamps, through two closed switches on the same side: only the source limits it.",
    "Open one of these two.",
)


class FourSwitchesPanel(Panel):
    """Four single switches around the pair."""

    height = "34em"
    wiring = wirings["four-switch bridge"]
    _closed_first = ("switch 1", "switch 4")

    def __init__(self) -> None:
        controls = [
            switch("the resistor comes before the switches"),
            *(switch(f"{label} closed", label in self._closed_first) for label, _ in self.wiring.devices),
        ]
        super().__init__(controls, "Four single switches: which two light red?")

    def draw(self) -> Scene:
        """The bridge with its switches as they stand."""
        states = ["closed" if self[f"{label} closed"].value else "open" for label, _ in self.wiring.devices]
        closed = self.wiring.closed(states)
        words = ", ".join(f"{label} {state}" for (label, _), state in zip(self.wiring.devices, states, strict=True))
        shown: Shown = show(self.wiring, closed, words)
        first = self["the resistor comes before the switches"].value
        circuit = reversing_circuit(self.wiring, closed, shown, resistor_first=first, size=self.size)
        found = reversing.findings(reversing.reversing(self.wiring))
        return Scene((circuit,), circuit.sentence, (_SHORT, *found) if shown.short and not first else found)


_ONE_SWITCH = (
    Finding(
        LOOK,
        "one switch",
        "Both signals hang side by side behind one switch and always show the same.",
        "Where they are to show different colours, give each a switch and two wires of its own.",
    ),
)


class SharedReturnPanel(Panel):
    """Two signals, each with a switch of its own, and the ways of saving a wire."""

    height = "36em"

    def __init__(self) -> None:
        controls = [
            choice("wiring", list(TWO_SIGNALS.items())),
            positions("switch 1", ["up", "down"]),
            positions("switch 2", ["up", "down"]),
        ]
        super().__init__(controls, "May two signals share a wire?")

    def redraw(self) -> None:
        """Draw again; where one switch turns both signals round the other control is greyed out."""
        self["switch 2"].enable(len(self["wiring"].value.devices) > 1)
        super().redraw()

    def draw(self) -> Scene:
        """Both signals on their wires."""
        wiring = self["wiring"].value
        states = [self[label].value for label, _ in wiring.devices]
        words = ", ".join(f"{label} {state}" for (label, _), state in zip(wiring.devices, states, strict=True))
        shown = show(wiring, wiring.closed(states), words)
        picture = signals_on_wires(wiring, shown, size=self.size)
        found = _ONE_SWITCH if len(wiring.devices) < 2 else shared_return.findings(shared_return.independence(wiring))
        return Scene((picture,), said(shown), found)

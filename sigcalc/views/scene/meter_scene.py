"""A meter on a wired signal: source, resistor, hand switch, wires, the signal, and both probes on a measuring point."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import NamedTuple

from ...design.bench.circuit import LAMPS, BenchCircuit
from ...design.bench.fault import Fault
from ...design.bench.reading import MeasuringPoint
from ...errors import DesignError
from ...parts.drive import ConstantCurrentDrive
from ...parts.meter import DIODE, OHMS
from ...parts.source import Battery
from ...units import say
from ..canvas import Place, wrapped
from ..find_the_fault import lamp_looks, meter_sentence, probes, ring
from ..phrases import drive_name
from ..picture import Picture
from ..style import NORMAL, OUTLINE, PAPER, STAGE, Size
from .first_circuit import has_resistor, resistor_facts
from .meter_wall import CABLES, lights_of, meter_on_wall
from .source import kind_of, lay_source
from .table import Table
from .thing import thing

_WIDTH, _HEIGHT = 664.0, 506.0
_TOP, _BOTTOM, _MIDDLE = 146.0, 198.0, 172.0  # heights of the supply's two wires, and of wires A and B
_SWITCH, _SIGNAL, _METER = (290.0, 94.0), (512.0, 34.0), (246.0, 242.0)
_TURN_A, _TURN_B = 490.0, 470.0
_SPOTS: dict[str, Place] = {
    "+": (148.0, _TOP),
    "−": (148.0, _BOTTOM),
    "R": (276.0, _TOP),
    "A": (422.0, _TOP),
    "A0": (450.0, _TOP),
    "B": (422.0, _BOTTOM),
    "A1": (_TURN_A, 226.0),
    "B1": (_TURN_B, 242.0),
    "A2": (_SIGNAL[0] + 4, 62.0),
    "B2": (_SIGNAL[0] + 4, 116.0),
}
"""The measuring points by the letters that mark them; "A0" is the far side of the gap for a current."""
_ABOVE = ("+", "R", "A", "A0")
"""Points that a probe comes to from above; their letters are below them, and those of all others above."""
_LETTERS = {"A1": (15, -6), "B1": (-18, -2), "A2": (-14, 0), "B2": (7, 19), "A": (-6, 19), "B": (-6, -10)}
_RINGS = {
    "supply": (68.0, 172.0, 62.0, 60.0),
    "limit": (212.0, _TOP, 48.0, 16.0),
    **dict.fromkeys(("x", "contact red", "contact green"), (346.0, _MIDDLE, 30.0, 31.0)),
    "swapped": (508.0, 260.0, 22.0, 19.0),
    **dict.fromkeys(("red lamp", "red joint", "red sign", "red resistor"), (555.0, 68.0, 25.0, 23.0)),
    **dict.fromkeys(("green lamp", "green joint", "green sign", "green resistor"), (555.0, 116.0, 25.0, 23.0)),
    "mast": (555.0, 190.0, 20.0, 40.0),
    "mast hole": (555.0, 256.0, 32.0, 24.0),
}
"""Where a fault that was found is marked: by the part that it touches, the ring's middle, half width and height."""


def meter_scene(
    circuit: BenchCircuit,
    point: MeasuringPoint,
    reading: str,
    position: str,
    seen: str,
    size: Size = NORMAL,
    found: Fault | None = None,
) -> Picture:
    """What `meter_picture` shows of a signal on a hand switch, as things; the same arguments, letters and sentence.

    The wires have the pole they should be on, which a hidden fault may change: no current is drawn in them. Once it is
    `found` a ring marks its place, and a lamp that it has killed is dead.

    Raises DesignError for a signal on a relay.
    """
    if circuit.relay is not None:
        raise DesignError("circuit has a relay, and only a hand switch is drawn as a thing here; use meter_picture")
    off = point.setting in (OHMS, DIODE)
    sentence = meter_sentence(circuit, point, reading, position, seen, found)
    if size is STAGE:
        return meter_on_wall(circuit, point, reading, position, seen, off, found).picture(sentence, size)
    table, held = Table(_WIDTH, _HEIGHT), _held(point)
    for probe in held:
        _cable(table, probe)
    _supply(table, circuit, off)
    table.put("hand_switch", _SWITCH, up=position == LAMPS[0])
    _wires(table, position, off, point.place == "current")
    looks = lamp_looks(circuit, seen, off, found)
    table.put("signal", _SIGNAL, lights=lights_of(looks))
    for (lamp, look), height in zip(looks.items(), (66.0, 112.0), strict=True):
        table.group(f"lamp {lamp} {look.lower()}")
        table.lines((_SIGNAL[0] + 84, height), (lamp.upper(), look), bold_first=True)
    _points(table)
    _meter(table, point, reading, held)
    if found and found.parts:
        ring(table, found, _RINGS)
        table.words((8, 320), "ringed: what is wrong", "start", bold=True)
    return table.picture(sentence, size)


def _supply(table: Table, circuit: BenchCircuit, off: bool) -> None:
    """The source, and in its plus wire the resistor or the driver, up to the switch."""
    feeds, kind = circuit.source, kind_of(circuit.source)
    volts = feeds.si.nominal_voltage if isinstance(feeds, Battery) else feeds.si.voltage
    source = lay_source(table, kind, feeds.name, volts, _MIDDLE)
    table.group(f"supply {'off' if off else 'on'}")
    table.lines((8, 252), [*wrapped(feeds.name, 130, 2), *(["UNPLUGGED"] if off else [])])
    left, driver = _SWITCH[0], isinstance(circuit.drive, ConstantCurrentDrive)
    for pole, y, bend in (("+", _TOP, 8.0), ("−", _BOTTOM, 18.0)):
        name, colour = f"supply {pole}", "" if off else pole
        if driver:  # its two pairs of terminals are closer together than the two wires
            at = _TOP if pole == "+" else _TOP + 24
            table.wire(*source.feed(pole, (_SPOTS[pole][0], y), bend), (154, at), pole=colour, name=name)
            table.wire((272, at), (_SPOTS["R"][0], y), (left, y), pole=colour, name=name)
        else:
            table.wire(*source.feed(pole, (left, y), bend), pole=colour, name=name)
    if driver:
        table.put("driver", (158, _TOP - 13), words=say(circuit.drive.si.current, "A"))
    elif has_resistor(circuit.drive):
        table.put("resistor", (164, _TOP - 13), **resistor_facts(circuit.drive))
        table.words((212, _TOP + 28), drive_name(circuit.drive))


def _wires(table: Table, position: str, off: bool, gap: bool) -> None:
    """Wires A and B by the pole they should be on; taken off the switch, or A opened for the meter."""
    poles = ("+", "−") if position == LAMPS[0] else ("−", "+")
    foot = (_SIGNAL[0] + 26, _SIGNAL[1] + 213)
    for letter, y, turn, pole, drop in (("A", _TOP, _TURN_A, poles[0], 0), ("B", _BOTTOM, _TURN_B, poles[1], 16)):
        opened, pole = off or (gap and letter == "A"), "" if off else pole
        start = _SPOTS[letter]
        table.wire((_SWITCH[0] + 116, y), start, pole=pole, name=f"lead {letter}")
        begin = (_SPOTS["A0"][0], y) if opened else start
        name = f"wire {letter}{' opened' if opened else ''}"
        table.wire(begin, (turn, y), (turn, foot[1] + drop), (foot[0], foot[1] + drop), pole=pole, name=name)
        at = (_SPOTS[f"{letter}2"], (_SIGNAL[0] + 22, _SPOTS[f"{letter}2"][1]))
        table.line(*at, width=3, colour=OUTLINE)
        if not off:
            table.text((474, y - 6) if letter == "A" else (448, y - 6), pole, "middle", bold=True)
    if gap:
        table.joint(_SPOTS["A0"], is_open=True)


def _points(table: Table) -> None:
    """A ring and its letter at each measuring point."""
    table.group("measuring points")
    for letter, (x, y) in _SPOTS.items():
        if letter != "A0":
            dx, dy = _LETTERS.get(letter, (0, 19 if letter in _ABOVE else -10))
            table.circle((x, y), 4.4, fill=PAPER)
            table.text((x + dx, y + dy), letter, "middle", bold=True)


class _Probe(NamedTuple):
    """A probe on a point: its colour, and how it leans."""

    colour: str
    spot: str
    up: bool
    left: bool

    @property
    def corner(self) -> Place:
        """Where its drawing is laid, so that its tip is on the point."""
        (x, y), (dx, dy) = _SPOTS[self.spot], self._ends["tip"]
        return x - dx, y - dy

    @property
    def end(self) -> Place:
        """Where its cable goes in."""
        return self.corner[0] + self._ends["cable"][0], self.corner[1] + self._ends["cable"][1]

    @property
    def _ends(self) -> dict[str, Place]:
        return thing("probe", colour=self.colour, up=self.up, left=self.left).ends


def _held(point: MeasuringPoint) -> list[_Probe]:
    """The two probes of a point, none for one that is not in the drawing."""
    spots = [each if each in _SPOTS else "A0" for each in probes(point).split(" to ") if each]
    level = len({_SPOTS[each][1] for each in spots}) == 1
    lean_left = [each in ("A2", "B2", "B1") or (level and each == min(spots, key=_SPOTS.get)) for each in spots]
    return [
        _Probe(colour, spot, up=spot not in _ABOVE, left=not leans)
        for colour, spot, leans in zip(CABLES, spots, lean_left, strict=False)
    ]


def _cable(table: Table, probe: _Probe) -> None:
    """A cable from the meter's foot to a probe; under everything else, so that it hides nothing."""
    x, (left, top), (to_x, to_y) = _METER[0] + (42 if probe.colour == "black" else 108), _METER, probe.end
    foot, deep = top + 226, _HEIGHT - 6
    side = left - 60 if to_x < left + 75 else left + 190
    before = to_x, to_y + (90 if probe.up else -60)
    pulls = [(x, foot), (x, deep), (side, deep), (side, foot - 160), before, (to_x, to_y)]
    table.group(f"cable {probe.colour}")
    for width, paint in ((5.4, OUTLINE), (3.6, CABLES[probe.colour])):
        table.line(*_curve(pulls), width=width, colour=paint)


def _meter(table: Table, point: MeasuringPoint, reading: str, held: Sequence[_Probe]) -> None:
    """The meter, what it is set to and where, and its probes on their points."""
    table.put("meter", _METER, shows=reading or "not read", setting=point.setting)
    for number, words in enumerate(("meter on", point.setting, *wrapped(point.where, 210.0, 4))):
        table.words((_METER[0] + 186, 372 + 17 * number), words, "start", bold=number == 1)
    for probe in held:
        table.put("probe", probe.corner, colour=probe.colour, up=probe.up, left=probe.left)
    for probe in held:
        (x, y), name = probe.end, f"{probe.colour} probe"
        if probe.spot in ("A2", "B2"):
            table.words((x - 5, y), name, "end")
        else:
            table.words((x, y + (16 if probe.up else -8)), name)


def _curve(pulls: Sequence[Place]) -> list[Place]:
    """Places along the curve that begins and ends at the outer places and is pulled by the others (de Casteljau)."""
    along = []
    for step in range(33):
        places, share = list(pulls), step / 32
        while len(places) > 1:
            places = [
                (x0 + share * (x1 - x0), y0 + share * (y1 - y0)) for (x0, y0), (x1, y1) in itertools.pairwise(places)
            ]
        along += places
    return along

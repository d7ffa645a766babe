"""The meter on a wired signal for a wall: a large display, and large words for what is seen; the rest small."""

from __future__ import annotations

from ...design.bench.circuit import LAMPS, BenchCircuit
from ...design.bench.fault import Fault
from ...design.bench.reading import MeasuringPoint
from ...design.lamp.drive import DARK, DEAD, FEEBLE, NORMAL
from ...parts.drive import ConstantCurrentDrive
from ...parts.source import Battery
from ...units import say
from ..canvas import Place
from ..find_the_fault import lamp_looks, probes, ring
from ..light import Light
from ..meter_circuit import meter_face
from ..style import MATERIALS, OUTLINE, PAPER, STAGE_BOX, lamp_stroke
from .first_circuit import has_resistor, resistor_facts
from .source import kind_of, lay_source
from .table import Table
from .thing import thing

_GLOWS = {"ON": (NORMAL, 0.7), "DIM": (FEEBLE, 0.25), "DEAD": (DEAD, 0.0)}
CABLES = {"red": MATERIALS["red"], "black": MATERIALS["black"]}
"""The colours of the meter's two leads, by the names of its probes; red first."""
_TOP, _BOTTOM = 46.0, 77.0
_SWITCH, _SIGNAL, _FACE = (152.0, 15.0), (266.0, 3.0), (3.0, 126.0)
_SWITCHED, _SIGNALLED, _HELD = 0.6, 0.8, 0.42  # how large switch, signal and probes are drawn
_TURN_A, _TURN_B = 256.0, 246.0
_FOOT = (_SIGNAL[0] + 21.0, _SIGNAL[1] + 170.0)
_SPOTS: dict[str, Place] = {
    "+": (82.0, _TOP),
    "−": (82.0, _BOTTOM),
    "R": (144.0, _TOP),
    "A": (230.0, _TOP),
    "A0": (243.0, _TOP),
    "B": (230.0, _BOTTOM),
    "A1": (_TURN_A, 95.0),
    "B1": (_TURN_B, 105.0),
    "A2": (_SIGNAL[0] + 5, 20.0),
    "B2": (_SIGNAL[0] + 5, 80.0),
}
_LETTERS = {"A1": (15, 2), "B1": (-15, 3), "A2": (-15, 4), "B2": (-2, -8), "−": (0, -8)}
_RINGS = {
    "supply": (34.0, 66.0, 36.0, 40.0),
    "limit": (113.0, _TOP, 34.0, 14.0),
    **dict.fromkeys(("x", "contact red", "contact green"), (187.0, 60.0, 34.0, 24.0)),
    "swapped": (267.0, 181.0, 20.0, 15.0),
    **dict.fromkeys(("red lamp", "red joint", "red sign", "red resistor"), (304.0, 31.0, 20.0, 19.0)),
    **dict.fromkeys(("green lamp", "green joint", "green sign", "green resistor"), (304.0, 68.0, 20.0, 19.0)),
    "mast": (304.0, 122.0, 16.0, 32.0),
    "mast hole": (304.0, 180.0, 26.0, 17.0),
}


def lights_of(looks: dict[str, str]) -> tuple[Light, ...]:
    """The lamps as the signal's drawing takes them, by how they look."""
    return tuple(Light(lamp, *_GLOWS.get(look, (DARK, 0.0))) for lamp, look in looks.items())


def meter_on_wall(
    circuit: BenchCircuit,
    point: MeasuringPoint,
    reading: str,
    position: str,
    seen: str,
    off: bool,
    found: Fault | None = None,
) -> Table:
    """The sheet of `meter_scene` as it is laid out for a wall; `off`: the supply is unplugged."""
    table = Table(*STAGE_BOX)
    _supply(table, circuit, off)
    ends = table.put("hand_switch", _SWITCH, _SWITCHED, up=position == LAMPS[0])
    _positions(table, position)
    _wires(table, ends, position, off, point.place == "current")
    looks = lamp_looks(circuit, seen, off, found)
    table.put("signal", _SIGNAL, _SIGNALLED, lights=lights_of(looks))
    for (lamp, look), height in zip(looks.items(), (26.0, 66.0), strict=True):
        table.group(f"lamp {lamp} {look.lower()}")
        for line, words in enumerate((lamp.upper(), look)):
            table.text((_SIGNAL[0] + 64, height + 16 * line), words, bold=True, size=15)
    meter_face(table, _FACE, point, reading)
    _probes(table, point)
    _points(table)
    if found and found.parts:
        ring(table, found, _RINGS)
    return table


def _supply(table: Table, circuit: BenchCircuit, off: bool) -> None:
    """The source, and in its plus wire the resistor or the driver, up to the switch."""
    feeds, left = circuit.source, _SWITCH[0]
    volts = feeds.si.nominal_voltage if isinstance(feeds, Battery) else feeds.si.voltage
    source = lay_source(table, kind_of(feeds), feeds.name, volts, 66.0, (66.0, 70.0))
    table.group(f"supply {'off' if off else 'on'}")
    table.words((6, 118), "UNPLUGGED" if off else say(volts, "V"), "start", bold=True)
    driver = isinstance(circuit.drive, ConstantCurrentDrive)
    for pole, y, bend in (("+", _TOP, 3.0), ("−", _BOTTOM, 8.0)):
        name, colour, inner = f"supply {pole}", "" if off else pole, _TOP + (0 if pole == "+" else 12)
        if driver:  # its two pairs of terminals are closer together than the two wires
            table.wire(*source.feed(pole, (82, y), bend), (88, inner), pole=colour, name=name)
            table.wire((138, inner), (144, y), (left, y), pole=colour, name=name)
        else:
            table.wire(*source.feed(pole, (left, y), bend), pole=colour, name=name)
    if driver:
        words = say(circuit.drive.si.current, "A")
        table.put("driver", (86, _TOP - 6.5), 0.5, words=words)
        table.words((113, _TOP - 14), words)
    elif has_resistor(circuit.drive):
        table.put("resistor", (87, _TOP - 7), 0.54, **resistor_facts(circuit.drive))
        table.words((113, _TOP + 21), say(circuit.shared, "ohm"))


def _positions(table: Table, position: str) -> None:
    """The switch's two words, which are too small in its own drawing."""
    for lamp, height in zip(LAMPS, (28.0, 91.0), strict=True):
        here, colour, middle = lamp == position, lamp_stroke(lamp), _SWITCH[0] + 35
        table.group(f"switch {lamp}")
        table.rectangle((middle - 25, height - 8.5), (50, 17), fill=colour if here else PAPER, radius=8.5)
        table.text((middle, height + 4.5), lamp.upper(), "middle", bold=True, fill=PAPER if here else colour)


def _wires(table: Table, switch: dict[str, Place], position: str, off: bool, gap: bool) -> None:
    """Wires A and B by the pole they should be on; taken off the switch, or A opened for the meter."""
    poles = ("+", "−") if position == LAMPS[0] else ("−", "+")
    for letter, turn, pole, drop in (("A", _TURN_A, poles[0], 0), ("B", _TURN_B, poles[1], 13)):
        opened, pole, start = off or (gap and letter == "A"), "" if off else pole, _SPOTS[letter]
        table.wire(switch[letter.lower()], start, pole=pole, name=f"lead {letter}")
        begin = (_SPOTS["A0"][0], start[1]) if opened else start
        y = _FOOT[1] + drop
        name = f"wire {letter}{' opened' if opened else ''}"
        table.wire(begin, (turn, start[1]), (turn, y), (_FOOT[0], y), pole=pole, name=name)
        spot = _SPOTS[f"{letter}2"]
        table.line(spot, (spot[0] + 12, spot[1]), width=3, colour=OUTLINE)
    if gap:
        table.joint(_SPOTS["A0"], is_open=True)


def _points(table: Table) -> None:
    """A ring and its letter at each measuring point."""
    table.group("measuring points")
    for letter, (x, y) in _SPOTS.items():
        if letter != "A0":
            dx, dy = _LETTERS.get(letter, (0, -9))
            table.circle((x, y), 4.0, fill=PAPER)
            table.text((x + dx, y + dy), letter, "middle", bold=True)


def _probes(table: Table, point: MeasuringPoint) -> None:
    """Both probes from below on the points that are named, and their leads from the meter."""
    spots = [each if each in _SPOTS else "A0" for each in probes(point).split(" to ") if each]
    leftmost = min(spots, key=lambda each: _SPOTS[each], default="")
    for colour, spot in zip(CABLES, spots, strict=False):
        x, y = _SPOTS[spot]
        left = spot == leftmost  # the two lean away from each other
        made = thing("probe", colour=colour, up=True, left=not left)
        (tip_x, tip_y), (to_x, to_y) = (made.ends[each] for each in ("tip", "cable"))
        corner = (x - _HELD * tip_x, y - _HELD * tip_y)
        end = (corner[0] + _HELD * to_x, corner[1] + _HELD * to_y)
        black = colour == "black"
        begin, level = (_FACE[0] + (92.0 if black else 190.0), _FACE[1] + 2), _FACE[1] - (5 if black else 12)
        table.group(f"cable {colour}")
        for width, paint in ((5.0, OUTLINE), (3.4, CABLES[colour])):
            table.line(begin, (begin[0], level), (end[0], level), end, width=width, colour=paint)
        table.put("probe", corner, _HELD, colour=colour, up=True, left=not left)

"""A meter on a wired signal: source, resistor, hand switch, wires, the signal, and both probes on a measuring point.

A wall has the same in less room: the meter's display large, large words for what is seen, the rest small.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from ...design.bench.circuit import LAMPS, BenchCircuit
from ...design.bench.fault import Fault
from ...design.bench.reading import MeasuringPoint
from ...design.lamp.drive import DARK, DEAD, FEEBLE
from ...design.lamp.drive import NORMAL as USUAL
from ...errors import DesignError
from ...parts.drive import ConstantCurrentDrive
from ...parts.meter import DIODE, OHMS
from ...parts.source import Battery
from ...units import say
from ..canvas import Place, wrapped
from ..find_the_fault import lamp_looks, meter_sentence, probes, ring
from ..light import Light
from ..meter_circuit import meter_face
from ..phrases import drive_name
from ..picture import Picture
from ..style import MATERIALS, NORMAL, OUTLINE, PAPER, STAGE, STAGE_BOX, Size, lamp_stroke
from .first_circuit import has_resistor, resistor_facts
from .source import kind_of, lay_source
from .table import Table
from .thing import thing

CABLES = {"red": MATERIALS["red"], "black": MATERIALS["black"]}
"""The colours of the meter's two leads, by the names of its probes; red first."""
_GLOWS = {"ON": (USUAL, 0.7), "DIM": (FEEBLE, 0.25), "DEAD": (DEAD, 0.0)}
_SIGN, _REACH = (26.0, 213.0), 16.0  # in the signal's drawing: where wire A enters it, and how far B is below
_SWITCHES = ("x", "contact red", "contact green")


class _Layout(NamedTuple):
    """Where things are on the sheet."""

    sides: Place
    rails: tuple[float, float]  # heights of the supply's two wires, and of the wires A and B
    room: Place | None  # for the source, where it is drawn smaller
    bends: tuple[float, float]  # how far beside the source its two wires bend
    limit: tuple[float, float, float]  # the middle of the resistor or driver, and how large either is drawn
    switch: tuple[Place, float]  # its upper left corner, and how large it is drawn
    signal: tuple[Place, float]
    turns: tuple[float, float]  # where the wires A and B turn down to the mast's foot
    spots: Mapping[str, Place]  # the measuring points by their letters; "A0" is the far side of the gap for a current
    letters: Mapping[str, Place]  # where each letter is, seen from its point
    above: tuple[str, ...]  # points that a probe comes to from above
    held: float  # how large the probes are drawn
    joined: float  # from a lamp's point to the signal
    rings: Mapping[str, tuple[float, float, float, float]]
    """Where a fault that was found is marked: by the part that it touches, the ring's middle, half width and height."""
    wall: bool = False

    @property
    def foot(self) -> Place:
        """Where wire A enters the signal."""
        (x, y), scale = self.signal
        return x + scale * _SIGN[0], y + scale * _SIGN[1]


def _lamp_rings(lamp: str, *ring: float) -> dict[str, tuple[float, ...]]:
    return dict.fromkeys((f"{lamp} lamp", f"{lamp} joint", f"{lamp} sign", f"{lamp} resistor"), ring)


_PAGE = _Layout(
    sides=(664.0, 506.0),
    rails=(146.0, 198.0),
    room=None,
    bends=(8.0, 18.0),
    limit=(212.0, 1.0, 1.0),
    switch=((290.0, 94.0), 1.0),
    signal=((512.0, 34.0), 1.0),
    turns=(490.0, 470.0),
    spots={
        "+": (148.0, 146.0),
        "−": (148.0, 198.0),
        "R": (276.0, 146.0),
        "A": (422.0, 146.0),
        "A0": (450.0, 146.0),
        "B": (422.0, 198.0),
        "A1": (490.0, 226.0),
        "B1": (470.0, 242.0),
        "A2": (516.0, 62.0),
        "B2": (516.0, 116.0),
    },
    letters={
        "+": (0, 19),
        "−": (0, -10),
        "R": (0, 19),
        "A": (-6, 19),
        "B": (-6, -10),
        "A1": (15, -6),
        "B1": (-18, -2),
        "A2": (-14, 0),
        "B2": (7, 19),
    },
    above=("+", "R", "A", "A0"),
    held=1.0,
    joined=18.0,
    rings={
        "supply": (68.0, 172.0, 62.0, 60.0),
        "limit": (212.0, 146.0, 48.0, 16.0),
        **dict.fromkeys(_SWITCHES, (346.0, 172.0, 30.0, 31.0)),
        "swapped": (508.0, 260.0, 22.0, 19.0),
        **_lamp_rings("red", 555.0, 68.0, 25.0, 23.0),
        **_lamp_rings("green", 555.0, 116.0, 25.0, 23.0),
        "mast": (555.0, 190.0, 20.0, 40.0),
        "mast hole": (555.0, 256.0, 32.0, 24.0),
    },
)
_WALL = _Layout(
    sides=STAGE_BOX,
    rails=(46.0, 77.0),
    room=(66.0, 70.0),
    bends=(3.0, 8.0),
    limit=(113.0, 0.54, 0.5),
    switch=((152.0, 15.0), 0.6),
    signal=((266.0, 3.0), 0.8),
    turns=(256.0, 246.0),
    spots={
        "+": (82.0, 46.0),
        "−": (82.0, 77.0),
        "R": (144.0, 46.0),
        "A": (230.0, 46.0),
        "A0": (243.0, 46.0),
        "B": (230.0, 77.0),
        "A1": (256.0, 95.0),
        "B1": (246.0, 105.0),
        "A2": (271.0, 20.0),
        "B2": (271.0, 80.0),
    },
    letters={
        "+": (0, -9),
        "−": (0, -8),
        "R": (0, -9),
        "A": (0, -9),
        "B": (0, -9),
        "A1": (15, 2),
        "B1": (-15, 3),
        "A2": (-15, 4),
        "B2": (-2, -8),
    },
    above=(),
    held=0.42,
    joined=12.0,
    rings={
        "supply": (34.0, 66.0, 36.0, 40.0),
        "limit": (113.0, 46.0, 34.0, 10.0),
        **dict.fromkeys(_SWITCHES, (187.0, 60.0, 34.0, 24.0)),
        "swapped": (267.0, 181.0, 20.0, 15.0),
        **_lamp_rings("red", 304.0, 31.0, 20.0, 19.0),
        **_lamp_rings("green", 304.0, 68.0, 20.0, 19.0),
        "mast": (304.0, 122.0, 16.0, 32.0),
        "mast hole": (304.0, 180.0, 26.0, 17.0),
    },
    wall=True,
)
_METER, _FACE = (246.0, 242.0), (3.0, 126.0)  # on a page the meter stands, on a wall it lies on its side


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
    lies, off = _WALL if size is STAGE else _PAGE, point.setting in (OHMS, DIODE)
    table, held = Table(*lies.sides), _held(lies, point)
    if not lies.wall:
        for probe in held:
            _cable(table, probe)
    _supply(table, lies, circuit, off)
    ends = table.put("hand_switch", *lies.switch, up=position == LAMPS[0])
    if lies.wall:
        _positions(table, lies, position)
    _wires(table, lies, ends, position, off, point.place == "current")
    _lamps(table, lies, lamp_looks(circuit, seen, off, found))
    if lies.wall:
        meter_face(table, _FACE, point, reading)
        _hold(table, lies, held)
    _points(table, lies)
    if not lies.wall:
        _meter(table, point, reading)
        _hold(table, lies, held)
    if found and found.parts:
        ring(table, found, lies.rings)
        if not lies.wall:
            table.words((8, 320), "ringed: what is wrong", "start", bold=True)
    return table.picture(meter_sentence(circuit, point, reading, position, seen, found), size)


def _supply(table: Table, lies: _Layout, circuit: BenchCircuit, off: bool) -> None:
    """The source, and in its plus wire the resistor or the driver, up to the switch."""
    feeds, (top, bottom), left = circuit.source, lies.rails, lies.switch[0][0]
    volts = feeds.si.nominal_voltage if isinstance(feeds, Battery) else feeds.si.voltage
    middle = 66.0 if lies.wall else (top + bottom) / 2
    source = lay_source(table, kind_of(feeds), feeds.name, volts, middle, lies.room)
    table.group(f"supply {'off' if off else 'on'}")
    if lies.wall:
        table.words((6, 118), "UNPLUGGED" if off else say(volts, "V"), "start", bold=True)
    else:
        table.lines((8, 252), [*wrapped(feeds.name, 130, 2), *(["UNPLUGGED"] if off else [])])
    (x, large, small), driver = lies.limit, isinstance(circuit.drive, ConstantCurrentDrive)
    for pole, y, bend in zip(("+", "−"), lies.rails, lies.bends, strict=True):
        name, colour = f"supply {pole}", "" if off else pole
        if driver:  # its two pairs of terminals are closer together than the two wires
            at = top if pole == "+" else top + 24 * small
            table.wire(*source.feed(pole, (lies.spots[pole][0], y), bend), (x - 52 * small, at), pole=colour, name=name)
            table.wire((x + 52 * small, at), (lies.spots["R"][0], y), (left, y), pole=colour, name=name)
        else:
            table.wire(*source.feed(pole, (left, y), bend), pole=colour, name=name)
    if driver:
        words = say(circuit.drive.si.current, "A")
        table.put("driver", (x - 54 * small, top - 13 * small), small, words=words)
        if lies.wall:  # too small for words of its own
            table.words((x, top - 14), words)
    elif has_resistor(circuit.drive):
        table.put("resistor", (x - 48 * large, top - 13 * large), large, **resistor_facts(circuit.drive))
        words = say(circuit.shared, "ohm") if lies.wall else drive_name(circuit.drive)
        table.words((x, top + (24 if lies.wall else 28)), words)


def _positions(table: Table, lies: _Layout, position: str) -> None:
    """The switch's two words, which are too small in its own drawing."""
    for lamp, height in zip(LAMPS, (28.0, 91.0), strict=True):
        here, colour, middle = lamp == position, lamp_stroke(lamp), lies.switch[0][0] + 35
        table.group(f"switch {lamp}")
        table.rectangle((middle - 25, height - 8.5), (50, 17), fill=colour if here else PAPER, radius=8.5)
        table.text((middle, height + 4.5), lamp.upper(), "middle", bold=True, fill=PAPER if here else colour)


def _wires(table: Table, lies: _Layout, switch: Mapping[str, Place], position: str, off: bool, gap: bool) -> None:
    """Wires A and B by the pole they should be on; taken off the switch, or A opened for the meter."""
    poles, (foot, y) = ("+", "−") if position == LAMPS[0] else ("−", "+"), lies.foot
    for letter, turn, pole, drop in zip("AB", lies.turns, poles, (0.0, lies.signal[1] * _REACH), strict=True):
        opened, pole, start = off or (gap and letter == "A"), "" if off else pole, lies.spots[letter]
        table.wire(switch[letter.lower()], start, pole=pole, name=f"lead {letter}")
        begin = (lies.spots["A0"][0], start[1]) if opened else start
        name = f"wire {letter}{' opened' if opened else ''}"
        table.wire(begin, (turn, start[1]), (turn, y + drop), (foot, y + drop), pole=pole, name=name)
        lamp = lies.spots[f"{letter}2"]
        table.line(lamp, (lamp[0] + lies.joined, lamp[1]), width=3, colour=OUTLINE)
        if pole and not lies.wall:
            table.text((474 if letter == "A" else 448, start[1] - 6), pole, "middle", bold=True)
    if gap:
        table.joint(lies.spots["A0"], is_open=True)


def _lamps(table: Table, lies: _Layout, looks: Mapping[str, str]) -> None:
    """The signal with its lamps as they look, and how that is in words."""
    lights = tuple(Light(lamp, *_GLOWS.get(look, (DARK, 0.0))) for lamp, look in looks.items())
    table.put("signal", *lies.signal, lights=lights)
    x, heights = lies.signal[0][0], (26.0, 66.0) if lies.wall else (66.0, 112.0)
    for (lamp, look), height in zip(looks.items(), heights, strict=True):
        table.group(f"lamp {lamp} {look.lower()}")
        if lies.wall:
            for line, words in enumerate((lamp.upper(), look)):
                table.text((x + 64, height + 16 * line), words, bold=True, size=15)
        else:
            table.lines((x + 84, height), (lamp.upper(), look), bold_first=True)


def _points(table: Table, lies: _Layout) -> None:
    """A ring and its letter at each measuring point."""
    table.group("measuring points")
    for letter, (dx, dy) in lies.letters.items():
        x, y = lies.spots[letter]
        table.circle((x, y), 4.2, fill=PAPER)
        table.text((x + dx, y + dy), letter, "middle", bold=True)


class _Probe(NamedTuple):
    """A probe on a point: its colour, how it leans, where its drawing is laid, and where its cable goes in."""

    colour: str
    spot: str
    up: bool
    left: bool
    corner: Place
    end: Place


def _held(lies: _Layout, point: MeasuringPoint) -> list[_Probe]:
    """The two probes of a point, none for one that is not in the drawing; the two lean away from each other."""
    spots = [each if each in lies.spots else "A0" for each in probes(point).split(" to ") if each]
    level = len({lies.spots[each][1] for each in spots}) == 1
    made = []
    for colour, spot in zip(CABLES, spots, strict=False):
        leans = (level or lies.wall) and spot == min(spots, key=lies.spots.__getitem__)
        up, left = spot not in lies.above, not (leans or (not lies.wall and spot in ("A2", "B2", "B1")))
        (x, y), ends = lies.spots[spot], thing("probe", colour=colour, up=up, left=left).ends
        corner = (x - lies.held * ends["tip"][0], y - lies.held * ends["tip"][1])
        end = (corner[0] + lies.held * ends["cable"][0], corner[1] + lies.held * ends["cable"][1])
        made.append(_Probe(colour, spot, up, left, corner, end))
    return made


def _hold(table: Table, lies: _Layout, held: Sequence[_Probe]) -> None:
    """The probes on their points: on a wall with their cables, on a page with their names."""
    for probe in held:
        if lies.wall:
            x, level = (95.0, 121.0) if probe.colour == "black" else (193.0, 114.0)
            _paint(table, probe, [(x, _FACE[1] + 2), (x, level), (probe.end[0], level), probe.end])
        table.put("probe", probe.corner, lies.held, colour=probe.colour, up=probe.up, left=probe.left)
    for probe in () if lies.wall else held:
        (x, y), name = probe.end, f"{probe.colour} probe"
        if probe.spot in ("A2", "B2"):
            table.words((x - 5, y), name, "end")
        else:
            table.words((x, y + (16 if probe.up else -8)), name)


def _paint(table: Table, probe: _Probe, way: Sequence[Place]) -> None:
    """A cable along a way."""
    table.group(f"cable {probe.colour}")
    for width, colour in ((5.2, OUTLINE), (3.5, CABLES[probe.colour])):
        table.line(*way, width=width, colour=colour)


def _cable(table: Table, probe: _Probe) -> None:
    """A cable from the meter's foot to a probe; under everything else, so that it hides nothing."""
    x, (left, top), (to_x, to_y) = _METER[0] + (42 if probe.colour == "black" else 108), _METER, probe.end
    foot, deep = top + 226, _PAGE.sides[1] - 6
    side = left - 60 if to_x < left + 75 else left + 190
    before = to_x, to_y + (90 if probe.up else -60)
    _paint(table, probe, _curve([(x, foot), (x, deep), (side, deep), (side, foot - 160), before, (to_x, to_y)]))


def _meter(table: Table, point: MeasuringPoint, reading: str) -> None:
    """The meter, and what it is set to and where."""
    table.put("meter", _METER, shows=reading or "not read", setting=point.setting)
    for number, words in enumerate(("meter on", point.setting, *wrapped(point.where, 210.0, 4))):
        table.words((_METER[0] + 186, 372 + 17 * number), words, "start", bold=number == 1)


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

"""The meter on a signal drawn with symbols: its measuring points by their letters, the probes, the lamps, the display.

A relay's coil and its timer are drawn below the circuit, as blocks. A wall has the same circuit in less room: few
words, and the meter's display large.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from ..design.bench.circuit import LAMPS, BenchCircuit
from ..design.bench.fault import Fault
from ..design.bench.reading import MeasuringPoint
from ..design.lamp.drawer import Combination
from ..parts.meter import DIODE, OHMS
from ..parts.source import Adapter as WallAdapter
from ..units import say
from .canvas import Canvas, Place, text_width, wrapped
from .circuit import HALF, LAMP, Adapter, Box, Driver, Reed, crossed_switch, elm, resistor_symbols, symbol
from .find_the_fault import lamp_looks, meter_sentence, probes, ring
from .phrases import drive_name
from .picture import Picture
from .style import MATERIALS, NORMAL, PAPER, SHADE, STAGE, STAGE_BOX, STROKES, TEXT, Size, lamp_fill


class _Layout(NamedTuple):
    """Where the circuit is on its sheet; `x` has the places of points, columns and branches along it."""

    sides: Place
    rails: tuple[float, float]  # the heights of the wires A and B
    x: Mapping[str, float]
    led: float  # of a branch's height, before the LED and behind it
    behind: float  # the share of that which is wire behind the lamp's own resistor
    scales: tuple[float, float, float]  # of the LED, of the diode before it, of the resistor behind it
    board: Mapping[str, Place]  # the board's measuring points
    timer: tuple[Place, Place]  # its corner and its sides
    reed: tuple[float, float]  # from where to where its symbol goes
    pot: tuple[float, float]
    small: float  # the scale of the pot and of the coil
    from_below: tuple[float, ...]  # heights at which a probe comes from below
    wall: bool = False

    @property
    def middle(self) -> float:
        """Half way between the wires."""
        return sum(self.rails) / 2

    @property
    def spots(self) -> dict[str, Place]:
        """The circuit's measuring points by the letters that mark them; "A0" is the far side of a gap."""
        (top, bottom), x = self.rails, self.x
        upper = {"+": x["+"], "R": x["R"], "A": x["A"], "A0": x["A0"], "A1": x["A1"], "A2": x["red"]}
        lower = {"−": x["+"], "B": x["A"], "B1": x["A1"], "B2": x["red"]}
        return {name: (at, top) for name, at in upper.items()} | {name: (at, bottom) for name, at in lower.items()}

    def points(self, circuit: BenchCircuit) -> dict[str, Place]:
        """Those of the board; a coil that hangs from plus has its minus end at the output."""
        if circuit.relay is None:
            return {}
        first, last = self.board["C+"], self.board["C−"]
        ends = {"C+": last, "C−": first} if circuit.coil_from_plus else {"C+": first, "C−": last}
        return ends if circuit.timer is None else {**self.board, **ends}

    @property
    def rings(self) -> dict[str, tuple[float, float, float, float]]:
        """Where a fault is marked: by the part that it touches, the ring's middle, half width and half height."""
        (top, bottom), middle, x = self.rails, self.middle, self.x
        across, (corner, sides), tall = (x["A1"] + x["red"]) / 2, self.timer, middle - top + 14
        (first, coil), (last, _) = self.board["C+"], self.board["C−"]
        switched = ("x", "contact red", "contact green", "armature", "contact a", "contact b")
        places = {
            "supply": (x["+"], middle, 21.0, 28.0),
            "limit": (sum(self.limit) / 2, top, 31.0, 14.5),
            **dict.fromkeys(switched, (x["pole"] + 30, middle, 38.0, 50.0)),
            "swapped": ((x["A"] + x["A1"]) / 2, middle, 15.0, tall),
            "mast hole": (x["A1"], middle, 18.0, tall),
            "mast": (across, middle, 15.0, tall),
            **dict.fromkeys(("reed", "magnet"), (sum(self.reed) / 2, self.board["S1"][1], 28.0, 11.0)),
            "pot": (sum(self.pot) / 2, self.board["P1"][1], 28.0, 10.0),
            **dict.fromkeys(
                ("timer", "capacitor"), (corner[0] + sides[0] / 2, coil, sides[0] / 2 + 7, sides[1] / 2 + 5)
            ),
            "coil": ((first + last) / 2, coil, 31.0, 16.0),
        }
        for lamp, y in (("red", bottom - self.led / 2), ("green", top + self.led / 2)):
            places[f"{lamp} resistor"] = (x[lamp], y, 15.0, self.led / 4 + 11)
            places |= dict.fromkeys((f"{lamp} lamp", f"{lamp} joint", f"{lamp} sign"), (x[lamp], middle, 17.5, 24.0))
        return places

    @property
    def limit(self) -> tuple[float, float]:
        """From where to where the resistor or driver goes in the plus lead."""
        return self.x["R"] - (62.0 if self.wall else 84.0), self.x["R"] - (6.0 if self.wall else 12.0)


_PAGE = _Layout(
    sides=(528.0, 280.0),
    rails=(40.0, 184.0),
    x={"+": 30.0, "R": 148.0, "pole": 182.0, "A": 262.0, "A0": 290.0, "A1": 326.0, "red": 408.0, "green": 446.0},
    led=44.0,
    behind=1 / 3,
    scales=(LAMP, 0.7, 0.55),
    board={
        "S1": (30.0, 236.0),
        "S2": (112.0, 236.0),
        "P1": (30.0, 290.0),
        "P2": (112.0, 290.0),
        "O": (262.0, 263.0),
        "C+": (318.0, 263.0),
        "C−": (414.0, 263.0),
    },
    timer=((152.0, 222.0), (74.0, 82.0)),
    reed=(10.0, 152.0),
    pot=(10.0, 152.0),
    small=1.0,
    from_below=(184.0, 290.0),
)
_BOARD_HEIGHT = 114.0
"""What the board adds to the drawing on a page."""
_WALL = _Layout(
    sides=STAGE_BOX,
    rails=(26.0, 106.0),
    x={"+": 20.0, "R": 104.0, "pole": 134.0, "A": 204.0, "A0": 222.0, "A1": 240.0, "red": 288.0, "green": 320.0},
    led=24.0,
    behind=0.0,
    scales=(1.0, 0.6, 0.45),
    board={
        "S1": (240.0, 144.0),
        "S2": (304.0, 144.0),
        "P1": (326.0, 144.0),
        "P2": (390.0, 144.0),
        "O": (296.0, 179.0),
        "C+": (320.0, 179.0),
        "C−": (390.0, 179.0),
    },
    timer=((234.0, 167.0), (48.0, 24.0)),
    reed=(240.0, 304.0),
    pot=(326.0, 390.0),
    small=0.75,
    from_below=(106.0, 179.0),
    wall=True,
)


def meter_picture(
    circuit: BenchCircuit,
    point: MeasuringPoint,
    reading: str,
    position: str,
    seen: str,
    size: Size = NORMAL,
    found: Fault | None = None,
) -> Picture:
    """The circuit with its measuring points, the probes on one of them, the lamps as they look, and the meter.

    Parameters
    ----------
    circuit: a signal on a hand switch or a relay; a relay's coil and its timer are drawn below it, as blocks
    point: where the meter is
    reading: what it shows, "" where nothing has been measured
    position: "red" or "green", for which the switch is set
    seen: one of `visual_check.SEEN`, what the eye says with the power on, or "" where nobody has looked
    found: a fault that is to be ringed; a lamp that it has killed is dead, and before that only dark
    """
    lies, off = _WALL if size is STAGE else _PAGE, point.setting in (OHMS, DIODE)
    below = _BOARD_HEIGHT if circuit.relay and not lies.wall else 0.0
    canvas = Canvas(lies.sides[0], lies.sides[1] + below)
    _signal(canvas, lies, circuit, position, lamp_looks(circuit, seen, off, found), off, point)
    if circuit.relay:
        _board(canvas, lies, circuit)
    _flags(canvas, lies, circuit, point)
    if lies.wall:
        meter_face(canvas, (3.0, 128.0), point, reading)
    else:
        _meter(canvas, point, reading, lies.rails[1] + 38 + below)
    if found:
        ring(canvas, found, lies.rings)
    return canvas.picture(meter_sentence(circuit, point, reading, position, seen, found), size)


def signal_with_points(
    circuit: BenchCircuit,
    lit: str,
    sentence: str,
    size: Size = NORMAL,
    made_of: Mapping[str, Combination] | None = None,
) -> Picture:
    """The circuit up to the switch or relay with its measuring points, set for the lamp that is `lit`, and no meter.

    `sentence` describes it; `made_of` are the two resistors of a place that holds two: "shared", "red" or "green".
    """
    canvas = Canvas(_PAGE.sides[0], _PAGE.rails[1] + 14)
    _signal(canvas, _PAGE, circuit, lit, lamp_looks(circuit, lit), made_of=made_of)
    return canvas.picture(sentence, size)


def _signal(
    canvas: Canvas,
    lies: _Layout,
    circuit: BenchCircuit,
    position: str,
    looks: Mapping[str, str],
    off: bool = False,
    point: MeasuringPoint | None = None,
    made_of: Mapping[str, Combination] | None = None,
) -> None:
    """The whole circuit as it is while somebody measures at a point."""
    two, spots = made_of or {}, lies.spots
    _supply(canvas, lies, circuit, off, two.get("shared"))
    pole = (lies.x["pole"], lies.middle)
    crossed_switch(canvas, pole, (spots["A"], spots["B"]), position == LAMPS[0], f"switch {position}")
    if not lies.wall:
        words = "set for" if circuit.relay is None else "relay, for"
        canvas.text((pole[0] + 8, lies.rails[1] - 8), words)
        canvas.text((pole[0] + 8, lies.rails[1] + 8), position.upper(), bold=True)
    _wires(canvas, lies, off, point is not None and point.place == "current")
    for lamp, look in looks.items():
        _lamp(canvas, lies, circuit, lamp, look, two.get(lamp))
    canvas.group("measuring points")
    for letter, (x, y) in spots.items():
        if letter != "A0":
            canvas.circle((x, y), 4.0, fill=PAPER)
            canvas.text((x + 7, y + (16 if y == lies.rails[0] or lies.wall else -8)), letter, bold=True)


def _supply(canvas: Canvas, lies: _Layout, circuit: BenchCircuit, off: bool, made_of: Combination | None) -> None:
    """The supply on the left, its minus below, and the resistor or driver in its plus lead."""
    (top, bottom), column, pole, (start, end) = lies.rails, lies.x["+"], lies.x["pole"], lies.limit
    canvas.group(f"supply {'off' if off else 'on'}")
    kind = Adapter if isinstance(circuit.source, WallAdapter) else elm.Battery
    canvas.add(symbol(kind, (column, top), (column, bottom)))
    if lies.wall:
        lines = [say(circuit.source.nominal_voltage.m_as("V"), "V"), *(["OFF"] if off else [])]
        canvas.lines((column + 22, lies.middle), lines, bold_first=True, centred=True)
    else:
        lines = [*wrapped(circuit.source.name, 76.0, 2), *(["UNPLUGGED"] if off else [])]
        canvas.lines((column + 24, lies.middle - 6), lines)
    canvas.group("limit")
    if circuit.shared:
        resistor_symbols(canvas, (start, top), (end, top), made_of)
    else:
        canvas.add(symbol(Driver if circuit.driver else elm.Line, (start, top), (end, top)))
    canvas.line((column, top), (start, top))
    for begin, y, to in ((end, top, lies.middle - HALF), (column, bottom, lies.middle + HALF)):
        canvas.line((begin, y), (pole - 6, y), (pole - 6, to), (pole, to))
    if circuit.driver or circuit.shared:
        words = [drive_name(circuit.drive)] if made_of is None else wrapped(made_of.parts, 116.0, 2)
        if lies.wall:
            words = [say(circuit.shared, "ohm") if circuit.shared else say(circuit.drive.si.current, "A")]
        canvas.lines(((start + end) / 2, top + (24 if lies.wall else 28)), words, "middle")


def _wires(canvas: Canvas, lies: _Layout, off: bool, gap: bool) -> None:
    """Both wires to the mast's foot and up the mast; taken off the switch, or one opened for the meter."""
    spots = lies.spots
    canvas.group("wires")
    for letter in "AB":
        start, y = spots[letter]
        opened = off or (gap and letter == "A")
        canvas.line((spots["A0"][0] if opened else start, y), (lies.x["green"], y))
        canvas.joint(spots[f"{letter}2"])
        if opened:
            canvas.joint((spots["A0"][0], y), is_open=True)
    if not lies.wall:
        canvas.group("mast")
        canvas.lines((lies.x["A1"], lies.middle - 4), ("mast's", "foot"), "middle")


def _lamp(
    canvas: Canvas, lies: _Layout, circuit: BenchCircuit, lamp: str, look: str, made_of: Combination | None = None
) -> None:
    """The LED, filled as it looks, with its words; before it its diode, behind it its own resistor."""
    red, ohms, x, (top, bottom) = lamp == LAMPS[0], circuit.extra(lamp), lies.x[lamp], lies.rails
    (start, end), along = ((top, bottom), lies.led) if red else ((bottom, top), -lies.led)
    anode, cathode, last = (x, start + along), (x, end - along), (x, end - along * lies.behind)
    side, anchor, (large, before, behind) = (-1 if red else 1), "end" if red else "start", lies.scales
    canvas.group(f"led {lamp} {look.lower()}")
    fill = {"ON": lamp_fill(lamp), "DIM": SHADE}.get(look, PAPER)
    canvas.add(symbol(elm.LED, anode, cathode, fill, large, flip=True))
    value = [] if not ohms else [say(ohms, "ohm")] if made_of is None else wrapped(made_of.parts, 68.0, 3)
    if lies.wall:
        canvas.text((x + 29 * side, lies.middle - 1), lamp.upper(), anchor, bold=True)
        canvas.text((x + 29 * side, lies.middle + 14), look, anchor, bold=True)
        canvas.lines((x + 9 * side, end - 0.3 * along), value, anchor, centred=True)
    else:
        canvas.lines((x + 12 * side, top + 42 if red and value else bottom - 31), (lamp.upper(), look), anchor, True)
        canvas.lines((x + 12 * side, bottom - 25 if red else top + 29), value, anchor, centred=True)
    canvas.group(f"own parts {lamp}")
    canvas.add(symbol(elm.Diode if circuit.pair.series_diode else elm.Line, (x, start), anode, scale=before))
    if ohms:
        resistor_symbols(canvas, cathode, last, made_of, behind)
    canvas.line(last if ohms else cathode, (x, end))


def _board(canvas: Canvas, lies: _Layout, circuit: BenchCircuit) -> None:
    """The relay's coil and, where there is one, its timer with reed and pot; without a timer a hand feeds the coil."""
    (first, y), (last, _), timed = lies.board["C+"], lies.board["C−"], circuit.timer is not None
    canvas.group("coil")
    canvas.add(symbol(Box, (first, y), (last, y), scale=0.8 if lies.wall else 1.0))
    canvas.text(((first + last) / 2, y + 4), "coil", "middle")
    if not lies.wall:
        canvas.line((last, y), (last + 22, y))
        canvas.text((last + 26, y + 4), "plus +" if circuit.coil_from_plus else "minus −")
        if not timed:
            canvas.line((234, y), (first, y))
            canvas.text((230, y + 4), "plus +, switched by hand", "end")
    if timed:
        _timer(canvas, lies)
    canvas.group("measuring points of the board")
    letters_above = lies.board["O" if lies.wall else "P1"][1]
    for letter, (x, height) in lies.points(circuit).items():
        canvas.circle((x, height), 4.0, fill=PAPER)
        canvas.text((x, height + (-8 if height == letters_above else 16)), letter, "middle", bold=True)


def _timer(canvas: Canvas, lies: _Layout) -> None:
    """The timer's block with the reed at its trigger and the pot that sets its on-time."""
    corner, (wide, tall) = lies.timer
    y = corner[1] + tall / 2
    canvas.group("timer")
    canvas.rectangle(corner, (wide, tall))
    canvas.text((corner[0] + wide / 2, y + 4), "timer", "middle", bold=True)
    canvas.line((corner[0] + wide, y), lies.board["C+"])
    for name, kind, ends, point, scale in (
        ("reed", Reed, lies.reed, "S1", 0.7),
        ("pot", elm.ResistorIEC, lies.pot, "P1", lies.small),
    ):
        height = lies.board[point][1]
        below = 21 if name == "reed" and not lies.wall else -11
        canvas.group(name)
        canvas.add(symbol(kind, *((x, height) for x in ends), scale=scale))
        canvas.text((sum(ends) / 2, height + below), name, "middle")


def _flags(canvas: Canvas, lies: _Layout, circuit: BenchCircuit, point: MeasuringPoint) -> None:
    """The two probes: red filled, black hollow; each is named, but for a wall, where the meter's face does that."""
    letters = [each.replace("its wire", "A0") for each in probes(point).split(" to ") if each]
    canvas.group(f"probes {probes(point)}" if letters else "")
    spots = lies.spots | lies.points(circuit)
    places = [spots[letter] for letter in letters]
    level = len({y for _, y in places}) == 1
    for number, (x, y) in enumerate(places):
        out = 1 if y in lies.from_below else -1
        tip, far = y + out * 5, y + out * 19
        canvas.polygon((x, tip), (x - 7, far), (x + 7, far), fill=PAPER if number else STROKES["red"])
        if lies.wall:
            continue
        anchor = "start" if x < 60 else ("end" if (x, y) == min(places) else "start") if level else "middle"
        shift = {"start": -6, "middle": 0, "end": 6}[anchor]
        canvas.text((x + shift, y + (-24 if out < 0 else 31)), f"{('red', 'black')[number]} probe", anchor)


def _meter(canvas: Canvas, point: MeasuringPoint, reading: str, top: float) -> None:
    """The meter's face at the foot of the sheet: its setting, its display, and where the probes are."""
    canvas.group("meter")
    canvas.rectangle((12, top), (_PAGE.sides[0] - 24, 56), fill=PAPER, radius=8)
    canvas.text((26, top + 23), "meter on")
    canvas.text((26, top + 41), point.setting, bold=True)
    canvas.rectangle((150, top + 11), (110, 34), fill=SHADE, radius=3)
    canvas.text((205, top + 34), reading or "not read", "middle", bold=True, size=16 if reading else 12)
    where = wrapped(point.where, 220.0, 3)
    canvas.lines((276, top + 39 - 7.5 * len(where)), where)


def meter_face(canvas: Canvas, corner: Place, point: MeasuringPoint, reading: str) -> None:
    """The meter's face lying on its side: a display that a back row can read, its setting, and where the probes are."""
    (x, y), p = corner, MATERIALS
    canvas.group("meter")
    canvas.rectangle((x, y), (222, 70), fill=p["holster"], radius=12)
    canvas.rectangle((x + 6, y + 6), (210, 58), fill=p["black"], radius=8)
    canvas.rectangle((x + 12, y + 11), (122, 48), fill=p["display"], radius=4)
    shown = reading or "not read"
    size = min(34.0 if reading else 22.0, 112 * TEXT / text_width(shown, bold=True))
    canvas.text((x + 129, y + 35 + 0.35 * size), shown, "end", bold=True, size=size)
    where = "in wire A" if point.place == "current" else probes(point)
    for line, words in enumerate((*wrapped(point.setting, 74, 2), where)):
        canvas.text((x + 139, y + 22 + 15 * line), words, bold=True, fill=PAPER)

"""The lesson "find the fault": a signal with a meter on it, the readings beside what is right, and the faults ranked.

Measuring points are named by letters in the drawing. A relay's coil and its timer are drawn below it, as blocks.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from ..design.bench.circuit import LAMPS, BenchCircuit
from ..design.bench.fault import Fault, burnt
from ..design.bench.reading import MeasuringPoint
from ..design.lamp.drawer import Combination
from ..parts.meter import DIODE, OHMS
from ..parts.source import Adapter as WallAdapter
from ..units import say
from .canvas import Canvas, Place, wrapped
from .circuit import HALF, LAMP, Adapter, Box, Driver, Reed, crossed_switch, elm, resistor_symbols, symbol
from .phrases import drive_name
from .picture import Picture
from .style import INK, NORMAL, PAPER, SHADE, STROKES, Size, lamp_fill

_BOARD_HEIGHT = 114.0
"""What the board adds to the drawing."""
_REED, _COIL, _POT = 236.0, 263.0, 290.0
_BOARD_SPOTS: dict[str, Place] = {
    "S1": (30.0, _REED),
    "S2": (112.0, _REED),
    "P1": (30.0, _POT),
    "P2": (112.0, _POT),
    "O": (262.0, _COIL),
    "C+": (318.0, _COIL),
    "C−": (414.0, _COIL),
}
"""The measuring points of the board by the letters that mark them."""
_BOARD_PROBES = {
    "coil": ("C+", "C−"),
    "coil ohms": ("C+", "C−"),
    "timer output": ("O", "−"),
    "reed alone": ("S1", "S2"),
    "reed with a magnet": ("S1", "S2"),
    "reed under the train": ("S1", "S2"),
    "pot ohms": ("P1", "P2"),
}
"""Where the red and the black probe go, by a measuring point's place; the minus is the circuit's."""
_UPWARD = (_REED, _COIL)
"""Heights at which a probe comes from above."""


_FROM_PLUS = {"C+": _BOARD_SPOTS["C−"], "C−": _BOARD_SPOTS["C+"]}
"""A coil that hangs from plus has its minus end at the output."""


def _board(canvas: Canvas, circuit: BenchCircuit) -> None:
    """Draw it below the circuit; without a timer a hand feeds the coil."""
    timed = circuit.timer is not None
    if timed:
        _timer(canvas)
    _coil(canvas, timed, circuit.coil_from_plus)
    canvas.group("measuring points of the board")
    places = _BOARD_SPOTS | (_FROM_PLUS if circuit.coil_from_plus else {})
    for letter in places if timed else _FROM_PLUS:
        x, y = places[letter]
        canvas.circle((x, y), 4.0, fill=PAPER)
        canvas.text((x, y + (-8 if y == _POT else 16)), letter, "middle", bold=True)


def _timer(canvas: Canvas) -> None:
    """The timer's block with the reed at its trigger and the pot that sets its on-time."""
    left, right = 152.0, 226.0
    canvas.group("timer")
    canvas.rectangle((left, _REED - 14), (right - left, _POT - _REED + 28))
    canvas.text(((left + right) / 2, _COIL + 5), "timer", "middle", bold=True)
    canvas.line((right, _COIL), _BOARD_SPOTS["O"])
    canvas.group("reed")
    canvas.add(symbol(Reed, (10.0, _REED), (left, _REED), scale=0.7))
    canvas.text((81, _REED + 21), "reed", "middle")
    canvas.group("pot")
    canvas.add(symbol(elm.ResistorIEC, (10.0, _POT), (left, _POT)))
    canvas.text((81, _POT - 13), "pot", "middle")


def _coil(canvas: Canvas, timed: bool, from_plus: bool) -> None:
    """The relay's coil, from what feeds it to the supply's minus, or from plus to it."""
    (first, y), (last, _) = _BOARD_SPOTS["C+"], _BOARD_SPOTS["C−"]
    canvas.group("coil")
    canvas.line(_BOARD_SPOTS["O"] if timed else (234, y), (first, y))
    canvas.line((last, y), (last + 22, y))
    canvas.add(symbol(Box, (first, y), (last, y)))
    canvas.text(((first + last) / 2, y + 4), "coil", "middle")
    canvas.text((last + 26, y + 4), "plus +" if from_plus else "minus −")
    if not timed:
        canvas.text((230, y + 4), "plus +, switched by hand", "end")


_WIDTH, _HEIGHT, _TOP, _BOTTOM = 528.0, 280.0, 40.0, 184.0
_MIDDLE = (_TOP + _BOTTOM) / 2
_COLUMN, _POLE = 30.0, 182.0
_RED, _GREEN = 408.0, 446.0
_BESIDE_LED = 44.0  # of a branch's height, before the LED and behind it
_SPOTS: dict[str, Place] = {
    "+": (_COLUMN, _TOP),
    "−": (_COLUMN, _BOTTOM),
    "R": (148.0, _TOP),
    "A": (262.0, _TOP),
    "A0": (290.0, _TOP),
    "B": (262.0, _BOTTOM),
    "A1": (326.0, _TOP),
    "B1": (326.0, _BOTTOM),
    "A2": (_RED, _TOP),
    "B2": (_RED, _BOTTOM),
}
"""The measuring points by the letters that mark them; "A0" is the far side of the gap for a current."""
_PROBES = {
    "supply open": ("+", "−"),
    "supply": ("+", "−"),
    "limit": ("+", "R"),
    "limit ohms": ("+", "R"),
    "lead a": ("A", "−"),
    "lead b": ("B", "−"),
    "plus to a": ("+", "A"),
    "plus to b": ("+", "B"),
    "pair": ("A1", "B1"),
    "pair ohms": ("A1", "B1"),
    "diode a to b": ("A1", "B1"),
    "diode b to a": ("B1", "A1"),
    "lamps": ("A2", "B2"),
    "current": ("A", "A0"),
    **_BOARD_PROBES,
}
"""Where the red and the black probe go, by a measuring point's place."""
LOOKS = {
    "": ("?", "?"),
    "none": ("DARK", "DARK"),
    "red": ("ON", "DARK"),
    "green": ("DARK", "ON"),
    "dim red": ("DIM", "DARK"),
    "dim green": ("DARK", "DIM"),
    "both": ("ON", "ON"),
}
"""How the red and the green lamp look, by what the eye says."""


def probes(point: MeasuringPoint) -> str:
    """Where the probes go, in the drawing's letters: "A1 to B1", red first; "" for what is not in the drawing."""
    spots = _PROBES.get(point.place)
    return f"{spots[0]} to {spots[1].replace('A0', 'its wire')}" if spots else ""


def seen_words(seen: str) -> str:
    """What the eye says, in words: "red is on, green is dark"; "" where nobody has looked."""
    if not seen:
        return "nobody has looked yet"
    return ", ".join(f"{lamp} is {look.lower()}" for lamp, look in zip(LAMPS, LOOKS[seen], strict=True))


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
    below = 0.0 if circuit.relay is None else _BOARD_HEIGHT
    canvas = Canvas(_WIDTH, _HEIGHT + below)
    _signal(
        canvas, circuit, position, lamp_looks(circuit, seen, _without_power(point), found), _without_power(point), point
    )
    if below:
        _board(canvas, circuit)
    _flags(canvas, circuit, point)
    _meter(canvas, point, reading, _BOTTOM + 38 + below)
    if found:
        ring(canvas, found, _RINGS)
    return canvas.picture(meter_sentence(circuit, point, reading, position, seen, found), size)


def _without_power(point: MeasuringPoint) -> bool:
    return point.setting in (OHMS, DIODE)


def lamp_looks(circuit: BenchCircuit, seen: str, off: bool = False, found: Fault | None = None) -> dict[str, str]:
    """How each lamp looks; one that the fault found has burnt is dead."""
    killed = burnt(circuit, found) if found else ()
    looks = dict(zip(LAMPS, ("OFF", "OFF") if off else LOOKS[seen], strict=True))
    return looks | dict.fromkeys(killed, "DEAD")


_RINGS = {
    "supply": (_COLUMN, _MIDDLE, 24.0, 30.0),
    "limit": (100.0, _TOP, 32.0, 15.0),
    **dict.fromkeys(
        ("x", "contact red", "contact green", "armature", "contact a", "contact b"), (212.0, _MIDDLE, 40.0, 52.0)
    ),
    "swapped": (294.0, _MIDDLE, 16.0, 86.0),
    "mast hole": (326.0, _MIDDLE, 26.0, 86.0),
    "mast": (367.0, _MIDDLE, 16.0, 86.0),
    "red resistor": (_RED, _BOTTOM - 22, 16.0, 24.0),
    "green resistor": (_GREEN, _TOP + 22, 16.0, 24.0),
    **dict.fromkeys(("red lamp", "red joint", "red sign"), (_RED, _MIDDLE, 18.0, 26.0)),
    **dict.fromkeys(("green lamp", "green joint", "green sign"), (_GREEN, _MIDDLE, 18.0, 26.0)),
    **dict.fromkeys(("reed", "magnet"), (81.0, _REED, 30.0, 11.0)),
    "pot": (81.0, _POT, 30.0, 9.5),
    **dict.fromkeys(("timer", "capacitor"), (189.0, _COIL, 46.0, 46.0)),
    "coil": (366.0, _COIL, 34.0, 16.0),
}
"""Where a fault that was found is marked: by the part that it touches, the ring's middle, half width and height."""


def ring(canvas: Canvas, found: Fault, rings: Mapping[str, tuple[float, float, float, float]]) -> None:
    """A bold ring on a white one around each part that a fault touches, so that it is seen on anything."""
    turns = [math.tau * step / 40 for step in range(41)]
    for x, y, wide, high in sorted({rings[part] for part in found.parts}):
        canvas.group("fault")
        for width, paint in ((7.0, PAPER), (4.0, STROKES["red"])):
            along = ((x + wide * math.cos(turn), y + high * math.sin(turn)) for turn in turns)
            canvas.line(*along, width=width, colour=paint)


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
    canvas = Canvas(_WIDTH, _BOTTOM + 14)
    _signal(canvas, circuit, lit, lamp_looks(circuit, lit), made_of=made_of)
    return canvas.picture(sentence, size)


def _signal(
    canvas: Canvas,
    circuit: BenchCircuit,
    position: str,
    looks: Mapping[str, str],
    off: bool = False,
    point: MeasuringPoint | None = None,
    made_of: Mapping[str, Combination] | None = None,
) -> None:
    """The whole circuit as it is while somebody measures at a point."""
    two = made_of or {}
    _supply(canvas, circuit, off, two.get("shared"))
    _switch(canvas, position, "set for" if circuit.relay is None else "relay, for")
    _wires(canvas, off, point is not None and point.place == "current")
    for lamp, look in looks.items():
        _lamp(canvas, circuit, lamp, look, two.get(lamp))
    _spots(canvas)


def meter_sentence(
    circuit: BenchCircuit, point: MeasuringPoint, reading: str, position: str, seen: str, found: Fault | None = None
) -> str:
    """What the lamps and the meter show, in words."""
    shows = f"reads {reading}" if reading else "has not been read"
    dead = "".join(f" The {lamp} LED has burnt out." for lamp in (burnt(circuit, found) if found else ()))
    ringed = " What is wrong is ringed." if found and found.parts else ""
    return f"Set for {position}, {seen_words(seen)}. The meter, {point}, {shows}.{dead}{ringed}"


def _supply(canvas: Canvas, circuit: BenchCircuit, off: bool, made_of: Combination | None) -> None:
    """The supply on the left, its minus below, and the resistor or driver in its plus lead."""
    adapter = isinstance(circuit.source, WallAdapter)
    canvas.group(f"supply {'off' if off else 'on'}")
    canvas.add(symbol(Adapter if adapter else elm.Battery, (_COLUMN, _TOP), (_COLUMN, _BOTTOM)))
    lines = [*wrapped(circuit.source.name, 76.0, 2), *(["UNPLUGGED"] if off else [])]
    canvas.lines((_COLUMN + 24, _MIDDLE - 6), lines)
    canvas.group("limit")
    if circuit.shared:
        resistor_symbols(canvas, (64.0, _TOP), (136.0, _TOP), made_of)
    else:
        canvas.add(symbol(Driver if circuit.driver else elm.Line, (64.0, _TOP), (136.0, _TOP)))
    canvas.line((_COLUMN, _TOP), (64.0, _TOP))
    canvas.line((136.0, _TOP), (_POLE - 6, _TOP), (_POLE - 6, _MIDDLE - HALF), (_POLE, _MIDDLE - HALF))
    canvas.line((_COLUMN, _BOTTOM), (_POLE - 6, _BOTTOM), (_POLE - 6, _MIDDLE + HALF), (_POLE, _MIDDLE + HALF))
    if circuit.driver or circuit.shared:
        words = [drive_name(circuit.drive)] if made_of is None else wrapped(made_of.parts, 116.0, 2)
        canvas.lines((100.0, _TOP + 28), words, "middle")


def _switch(canvas: Canvas, position: str, words: str) -> None:
    """The changeover switch with its X, and what it is set for."""
    crossed_switch(canvas, (_POLE, _MIDDLE), (_SPOTS["A"], _SPOTS["B"]), position == LAMPS[0], f"switch {position}")
    canvas.text((_POLE + 8, _BOTTOM - 8), words)
    canvas.text((_POLE + 8, _BOTTOM + 8), position.upper(), bold=True)


def _wires(canvas: Canvas, off: bool, gap: bool) -> None:
    """Both wires to the mast's foot and up the mast; taken off the switch, or one opened for the meter."""
    canvas.group("wires")
    for letter, y in (("A", _TOP), ("B", _BOTTOM)):
        start, foot = _SPOTS[letter], _SPOTS[f"{letter}1"]
        if off or (gap and letter == "A"):
            canvas.line((_SPOTS["A0"][0], y), foot)
            canvas.joint((_SPOTS["A0"][0], y), is_open=True)
        else:
            canvas.line(start, foot)
        canvas.line(foot, (_GREEN, y))
        canvas.joint(_SPOTS[f"{letter}2"])
    canvas.group("mast")
    for lead, y in (("A1", _MIDDLE - 4), ("B1", _MIDDLE + 11)):
        canvas.text((_SPOTS[lead][0], y), "mast's" if lead == "A1" else "foot", "middle")


def _lamp(canvas: Canvas, circuit: BenchCircuit, lamp: str, look: str, made_of: Combination | None = None) -> None:
    """The LED, filled as it looks, with its words; before it its diode, behind it its own resistor."""
    red, ohms = lamp == LAMPS[0], circuit.extra(lamp)
    x, ends, along = (_RED, (_TOP, _BOTTOM), _BESIDE_LED) if red else (_GREEN, (_BOTTOM, _TOP), -_BESIDE_LED)
    anode, cathode = (x, ends[0] + along), (x, ends[1] - along)
    fill = {"ON": lamp_fill(lamp), "DIM": SHADE}.get(look, PAPER)
    canvas.group(f"led {lamp} {look.lower()}")
    canvas.add(symbol(elm.LED, anode, cathode, fill, LAMP, flip=True))
    side = (x - 12, "end") if lamp == LAMPS[0] else (x + 12, "start")
    value = [] if not ohms else [say(ohms, "ohm")] if made_of is None else wrapped(made_of.parts, 68.0, 3)
    y = _TOP + 42 if red and value else _BOTTOM - 31
    canvas.lines((side[0], y), [lamp.upper(), look], side[1], bold_first=True)
    canvas.lines((side[0], _BOTTOM - 25 if red else _TOP + 29), value, side[1], centred=True)
    end = (x, ends[1] - along / 3)
    canvas.group(f"own parts {lamp}")
    canvas.add(symbol(elm.Diode if circuit.pair.series_diode else elm.Line, (x, ends[0]), anode, scale=0.7))
    if ohms:
        resistor_symbols(canvas, cathode, end, made_of, scale=0.55)
    canvas.line(end if ohms else cathode, (x, ends[1]))


def _spots(canvas: Canvas) -> None:
    """A ring and its letter at each measuring point."""
    canvas.group("measuring points")
    for letter, (x, y) in _SPOTS.items():
        if letter != "A0":
            canvas.circle((x, y), 4.0, fill=PAPER)
            canvas.text((x + 7, y + (16 if y == _TOP else -8)), letter, bold=True)


def _flags(canvas: Canvas, circuit: BenchCircuit, point: MeasuringPoint) -> None:
    """The two probes: red filled, black hollow, each named."""
    spots = _PROBES.get(point.place)
    if spots is None:
        return
    canvas.group(f"probes {probes(point)}")
    places = [(_SPOTS | _BOARD_SPOTS | (_FROM_PLUS if circuit.coil_from_plus else {}))[letter] for letter in spots]
    same_rail, leftmost = places[0][1] == places[1][1], min(places)
    for number, (word, (x, y)) in enumerate(zip(("red", "black"), places, strict=True)):
        out = -1 if y in (_TOP, *_UPWARD) else 1
        tip, far = y + out * 6, y + out * 18
        canvas.polygon((x, tip), (x - 6, far), (x + 6, far), fill=PAPER if number else INK)
        anchor = "start" if x < 60 else ("end" if (x, y) == leftmost else "start") if same_rail else "middle"
        shift = {"start": -6, "middle": 0, "end": 6}[anchor]
        canvas.text((x + shift, y + (-24 if out < 0 else 31)), f"{word} probe", anchor)


def _meter(canvas: Canvas, point: MeasuringPoint, reading: str, top: float) -> None:
    """The meter's face at the foot of the sheet: its setting, its display, and where the probes are."""
    canvas.group("meter")
    canvas.rectangle((12, top), (_WIDTH - 24, _HEIGHT - _BOTTOM - 40), fill=PAPER, radius=8)
    canvas.text((26, top + 23), "meter on")
    canvas.text((26, top + 41), point.setting, bold=True)
    canvas.rectangle((150, top + 11), (110, 34), fill=SHADE, radius=3)
    canvas.text((205, top + 34), reading or "not read", "middle", bold=True, size=16 if reading else 12)
    where = wrapped(point.where, 220.0, 3)
    canvas.lines((276, top + 39 - 7.5 * len(where)), where)

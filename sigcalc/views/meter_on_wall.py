"""The meter on a signal drawn with symbols, as it is laid out for a wall: few words, and the meter's display large."""

from __future__ import annotations

from collections.abc import Mapping

from ..design.bench.circuit import LAMPS, BenchCircuit
from ..design.bench.fault import Fault
from ..design.bench.reading import MeasuringPoint
from ..parts.meter import DIODE, OHMS
from ..parts.source import Adapter as WallAdapter
from ..units import say
from .canvas import Canvas, Place, text_width, wrapped
from .circuit import HALF, Adapter, Box, Driver, Reed, crossed_switch, elm, resistor_symbols, symbol
from .find_the_fault import lamp_looks, meter_sentence, probes, ring
from .picture import Picture
from .style import MATERIALS, PAPER, SHADE, STAGE, STAGE_BOX, STROKES, TEXT, lamp_fill

_TOP, _BOTTOM, _MIDDLE = 26.0, 106.0, 66.0
_COLUMN, _POLE, _RED, _GREEN = 20.0, 134.0, 288.0, 320.0
_REED, _COIL = 144.0, 179.0
_SPOTS: dict[str, Place] = {
    "+": (_COLUMN, _TOP),
    "−": (_COLUMN, _BOTTOM),
    "R": (104.0, _TOP),
    "A": (204.0, _TOP),
    "A0": (222.0, _TOP),
    "B": (204.0, _BOTTOM),
    "A1": (240.0, _TOP),
    "B1": (240.0, _BOTTOM),
    "A2": (_RED, _TOP),
    "B2": (_RED, _BOTTOM),
}
_ON_BOARD: dict[str, Place] = {
    "S1": (240.0, _REED),
    "S2": (304.0, _REED),
    "P1": (326.0, _REED),
    "P2": (390.0, _REED),
    "O": (296.0, _COIL),
    "C+": (320.0, _COIL),
    "C−": (390.0, _COIL),
}
_FACE = (3.0, 128.0)
_RINGS = {
    "supply": (_COLUMN, _MIDDLE, 18.0, 24.0),
    "limit": (70.0, _TOP, 30.0, 14.0),
    **dict.fromkeys(
        ("x", "contact red", "contact green", "armature", "contact a", "contact b"), (164.0, _MIDDLE, 36.0, 48.0)
    ),
    "swapped": (222.0, _MIDDLE, 14.0, 54.0),
    "mast hole": (240.0, _MIDDLE, 16.0, 54.0),
    "mast": (264.0, _MIDDLE, 14.0, 54.0),
    "red resistor": (_RED, 91.0, 14.0, 15.0),
    "green resistor": (_GREEN, 41.0, 14.0, 15.0),
    **dict.fromkeys(("red lamp", "red joint", "red sign"), (_RED, _MIDDLE, 17.0, 22.0)),
    **dict.fromkeys(("green lamp", "green joint", "green sign"), (_GREEN, _MIDDLE, 17.0, 22.0)),
    **dict.fromkeys(("reed", "magnet"), (272.0, _REED, 26.0, 13.0)),
    "pot": (358.0, _REED, 26.0, 13.0),
    **dict.fromkeys(("timer", "capacitor"), (260.0, _COIL, 30.0, 16.0)),
    "coil": (355.0, _COIL, 28.0, 16.0),
}


def meter_on_wall(
    circuit: BenchCircuit,
    point: MeasuringPoint,
    reading: str,
    position: str,
    seen: str,
    found: Fault | None = None,
) -> Picture:
    """What `meter_picture` shows, for a wall; the same arguments, letters and sentence."""
    canvas, off = Canvas(*STAGE_BOX), point.setting in (OHMS, DIODE)
    places = _SPOTS | (_board(canvas, circuit) if circuit.relay else {})
    _supply(canvas, circuit, off)
    crossed_switch(canvas, (_POLE, _MIDDLE), (_SPOTS["A"], _SPOTS["B"]), position == LAMPS[0], f"switch {position}")
    _wires(canvas, off, point.place == "current")
    for lamp, look in lamp_looks(circuit, seen, off, found).items():
        _lamp(canvas, circuit, lamp, look)
    canvas.group("measuring points")
    for letter, (x, y) in places.items():
        if letter != "A0":
            canvas.circle((x, y), 4.0, fill=PAPER)
            side, anchor = (0, "middle") if y > _BOTTOM else (7, "start")
            canvas.text((x + side, y - 8 if y == _COIL else y + 16), letter, anchor, bold=True)
    _probes(canvas, point, places)
    meter_face(canvas, _FACE, point, reading)
    if found:
        ring(canvas, found, _RINGS)
    return canvas.picture(meter_sentence(circuit, point, reading, position, seen, found), STAGE)


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


def _supply(canvas: Canvas, circuit: BenchCircuit, off: bool) -> None:
    """The supply on the left, its minus below, and the resistor or driver in its plus lead."""
    canvas.group(f"supply {'off' if off else 'on'}")
    kind = Adapter if isinstance(circuit.source, WallAdapter) else elm.Battery
    canvas.add(symbol(kind, (_COLUMN, _TOP), (_COLUMN, _BOTTOM)))
    volts = say(circuit.source.nominal_voltage.m_as("V"), "V")
    canvas.lines((_COLUMN + 22, _MIDDLE), [volts, *(["OFF"] if off else [])], bold_first=True, centred=True)
    canvas.group("limit")
    if circuit.shared:
        resistor_symbols(canvas, (42.0, _TOP), (98.0, _TOP))
    else:
        canvas.add(symbol(Driver if circuit.driver else elm.Line, (42.0, _TOP), (98.0, _TOP)))
    canvas.line((_COLUMN, _TOP), (42.0, _TOP))
    for y, to, begin in ((_TOP, _MIDDLE - HALF, 98.0), (_BOTTOM, _MIDDLE + HALF, _COLUMN)):
        canvas.line((begin, y), (_POLE - 6, y), (_POLE - 6, to), (_POLE, to))
    if circuit.driver or circuit.shared:
        words = say(circuit.shared, "ohm") if circuit.shared else say(circuit.drive.si.current, "A")
        canvas.text((70, _TOP + 24), words, "middle")


def _wires(canvas: Canvas, off: bool, gap: bool) -> None:
    """Both wires up the mast; taken off the switch, or one opened for the meter."""
    canvas.group("wires")
    for letter in "AB":
        start, open_at = _SPOTS[letter], (_SPOTS["A0"][0], _SPOTS[letter][1])
        opened = off or (gap and letter == "A")
        canvas.line(open_at if opened else start, (_GREEN, start[1]))
        if opened:
            canvas.joint(open_at, is_open=True)


def _lamp(canvas: Canvas, circuit: BenchCircuit, lamp: str, look: str) -> None:
    """The LED, filled as it looks, with its words; before it its diode, behind it its own resistor."""
    red, ohms = lamp == LAMPS[0], circuit.extra(lamp)
    x, (start, end), along = (_RED, (_TOP, _BOTTOM), 24.0) if red else (_GREEN, (_BOTTOM, _TOP), -24.0)
    anode, cathode = (x, start + along), (x, end - along)
    canvas.group(f"led {lamp} {look.lower()}")
    fill = {"ON": lamp_fill(lamp), "DIM": SHADE}.get(look, PAPER)
    canvas.add(symbol(elm.LED, anode, cathode, fill, flip=True))
    side, anchor = (x - 29, "end") if red else (x + 29, "start")
    for number, words in enumerate((lamp.upper(), look)):
        canvas.text((side, _MIDDLE - 1 + 15 * number), words, anchor, bold=True)
    canvas.group(f"own parts {lamp}")
    canvas.add(symbol(elm.Diode if circuit.pair.series_diode else elm.Line, (x, start), anode, scale=0.6))
    if ohms:
        resistor_symbols(canvas, cathode, (x, end), scale=0.45)
        canvas.text((x - 8 if red else x + 10, end - 0.3 * along + 4), say(ohms, "ohm"), anchor)
    else:
        canvas.line(cathode, (x, end))


def _board(canvas: Canvas, circuit: BenchCircuit) -> Mapping[str, Place]:
    """The relay's coil and, where there is one, its timer with reed and pot; gives the measuring points there."""
    places = dict(_ON_BOARD)
    if circuit.coil_from_plus:
        places["C+"], places["C−"] = places["C−"], places["C+"]
    (first, y), (last, _) = _ON_BOARD["C+"], _ON_BOARD["C−"]
    canvas.group("coil")
    canvas.add(symbol(Box, (first, y), (last, y), scale=0.8))
    canvas.text(((first + last) / 2, y + 4), "coil", "middle")
    if circuit.timer is None:
        return {name: places[name] for name in ("C+", "C−")}
    canvas.group("timer")
    canvas.rectangle((234, y - 12), (48, 24))
    canvas.text((258, y + 4), "timer", "middle", bold=True)
    canvas.line((282, y), (first, y))
    for name, kind, (start, end) in (("reed", Reed, ("S1", "S2")), ("pot", elm.ResistorIEC, ("P1", "P2"))):
        canvas.group(name)
        canvas.add(symbol(kind, _ON_BOARD[start], _ON_BOARD[end], scale=0.7))
        canvas.text(((_ON_BOARD[start][0] + _ON_BOARD[end][0]) / 2, _REED - 11), name, "middle")
    return places


def _probes(canvas: Canvas, point: MeasuringPoint, places: Mapping[str, Place]) -> None:
    """The two probes: red filled, black hollow, as the meter's face names them."""
    spots = [each if each in places else "A0" for each in probes(point).split(" to ") if each]
    canvas.group(f"probes {probes(point)}")
    for number, spot in enumerate(spots):
        x, y = places[spot]
        out = 1 if y in (_BOTTOM, _COIL) else -1
        fill = PAPER if number else STROKES["red"]
        canvas.polygon((x, y + out * 5), (x - 7, y + out * 19), (x + 7, y + out * 19), fill=fill)

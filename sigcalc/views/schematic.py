"""Circuit diagram of the two-lead signal, with the lit lamp filled and named."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ..design.lamp.drive import TOO_LITTLE, lamp_look
from ..design.pair.two_lead_pair import PairPoint
from ..errors import RangeError
from ..parts.drive import ConstantCurrentDrive
from ..parts.led import Led
from ..units import say
from .canvas import Canvas, block_height, wrapped
from .circuit_parts import LABEL_WIDTH, current_arrow, lamp_symbol, part_name, supply_column, supply_name
from .phrases import current_words, drive_name, voltage_words
from .picture import Picture
from .style import NORMAL, Size
from .symbols import UNIT, elm, reversing_switch, symbol

_TOP, _COLUMN = 44.0, 30.0
_POLE, _JOIN, _CROSS, _DROP = 142.0, 190.0, 204.0, 218.0
_HALF = 0.7 * UNIT  # half the distance of the switch's poles
_RED, _BETWEEN = 356.0, 50.0
_NO_SWITCH = 78.0  # how far the rest moves to the left without a switch


@dataclass(frozen=True)
class _Layout:
    """Where things lie, in points: `shift` is how far the part right of the switch has moved."""

    point: PairPoint
    switched: bool
    bottom: float
    shift: float
    reversing: str

    @property
    def middle(self) -> float:
        return (_TOP + self.bottom) / 2

    @property
    def red(self) -> float:
        return _RED + self.shift

    @property
    def green(self) -> float:
        return self.red + _BETWEEN

    @property
    def forward(self) -> bool:
        """Whether wire A is plus, which lights red."""
        return self.point.polarity > 0


def signal_circuit(
    point: PairPoint,
    supply: str,
    adapter: bool = False,
    switch: bool = True,
    size: Size = NORMAL,
    reversing: str = "switch",
) -> Picture:
    """The two-lead signal at one operating point.

    Parameters
    ----------
    point: of a TwoLeadPair, with one supply voltage and one polarity
    supply: what feeds it, in words, such as "9 V alkaline"
    adapter: whether that is a wall adapter; a battery is drawn otherwise
    switch: whether what turns the current round is drawn, as the polarity has it; without it the supply turns round
    reversing: what turns the current round, "switch" or "relay"

    Raises RangeError for a point that holds arrays.
    """
    if np.ndim(point.si.current) or np.ndim(point.polarity):
        raise RangeError("point needs one supply voltage and one polarity, but an array came; draw one of its points")
    bottom = _TOP + (152.0, 176.0, 226.0)[len(_slots(point)) - 1]
    layout = _Layout(point, switch, bottom, 0.0 if switch else -_NO_SWITCH, reversing)
    canvas = Canvas(layout.green + 142, bottom + 44)
    _supply(canvas, layout, supply, adapter)
    if switch:
        _switch(canvas, layout)
    _wires(canvas, layout)
    for lamp in ("red", "green"):
        _branch(canvas, layout, lamp)
    return canvas.picture(_sentence(point), size)


def _slots(point: PairPoint) -> list[str]:
    """What may lie in a branch, from its anode end; both branches have the same places, so that the lamps align."""
    si = point.pair.si
    diode = ["diode"] if point.pair.series_diode is not None else []
    extra = ["extra"] if si.extra_red > 0 or si.extra_green > 0 else []
    return [*diode, "led", *extra]


def _supply(canvas: Canvas, layout: _Layout, supply: str, adapter: bool) -> None:
    """The supply's column on the left, and what leads from it to the switch (or to the wires)."""
    upright = layout.switched or layout.forward
    reach = 62.0 if layout.switched else layout.middle - _TOP
    si = layout.point.si
    name = supply_name(supply, si.reverse_voltage + si.drive_voltage)
    ends = (layout.middle - reach, layout.middle + reach)
    supply_column(canvas, _COLUMN, ends if upright else ends[::-1], name, adapter, layout.point.drive)
    canvas.group("leads")
    for side, end in ((-1, ends[0]), (1, ends[1])):
        if layout.switched:
            pole, bend = layout.middle + side * _HALF, _POLE - 6
            canvas.line((_COLUMN, end), (bend, end), (bend, pole), (_POLE, pole))
        else:
            canvas.line((_COLUMN, end), (_DROP + layout.shift, end))


def _switch(canvas: Canvas, layout: _Layout) -> None:
    """The changeover switch with its cross: the outer contacts lead to wire A, the inner ones to wire B."""
    middle, contacts = layout.middle, _POLE + 0.88 * UNIT
    outer, inner = _HALF + 0.4 * UNIT, _HALF - 0.4 * UNIT
    hop = [(_CROSS - 6 * math.cos(angle), middle - 6 * math.sin(angle)) for angle in np.linspace(0, math.pi, 9)]
    canvas.group("cross")
    ends = (middle - inner, middle + inner)
    canvas.line((contacts, ends[0]), (_JOIN, ends[0]), (_JOIN, ends[1]), (contacts, ends[1]))
    canvas.line((_JOIN, middle), *hop, (_DROP, middle), (_DROP, layout.bottom))
    canvas.line((contacts, middle + outer), (_CROSS, middle + outer), (_CROSS, _TOP), (_DROP, _TOP))
    canvas.line((contacts, middle - outer), (_CROSS, middle - outer))
    canvas.joint((_JOIN, middle))
    canvas.joint((_CROSS, middle - outer))
    position = "red" if layout.forward else "green"
    # after the wires, so that its rings cover their ends
    canvas.group(f"switch {position}")
    canvas.add(reversing_switch((_POLE, middle - _HALF), layout.forward))
    canvas.lines((_POLE + 18, middle + 83), (f"reversing {layout.reversing},", f"set to {position.upper()}"), "middle")


def _wires(canvas: Canvas, layout: _Layout) -> None:
    """The two wires with their signs, the current's arrow in wire A and the resistor in wire B."""
    start, end = _DROP + layout.shift, layout.red - 26
    si, drive = layout.point.si, layout.point.drive
    canvas.group("wire A")
    canvas.line((start, _TOP), (layout.green, _TOP))
    canvas.joint((layout.red, _TOP))
    canvas.joint((end, _TOP), is_open=True)
    current_arrow(canvas, (start + 6, end - 10), _TOP, si.current, layout.point.lit != "none", layout.forward)
    canvas.text((layout.red + _BETWEEN / 2, _TOP - 12), f"wire A {'+' if layout.forward else '−'}", "middle")
    canvas.group("wire B")
    canvas.line((end, layout.bottom), (layout.green, layout.bottom))
    canvas.joint((layout.red, layout.bottom))
    canvas.text((layout.red + _BETWEEN / 2, layout.bottom + 22), f"wire B {'−' if layout.forward else '+'}", "middle")
    resistor = not isinstance(drive, ConstantCurrentDrive) and drive.si.resistance > 0
    part = elm.ResistorIEC if resistor else elm.Line
    canvas.group("resistor" if resistor else "wire B")
    canvas.add(symbol(part, (start, layout.bottom), (end, layout.bottom)))
    canvas.joint((end, layout.bottom), is_open=True)
    if resistor:
        canvas.text(((start + end) / 2 - 8, layout.bottom + 26), drive_name(drive), "middle")


def _branch(canvas: Canvas, layout: _Layout, lamp: str) -> None:
    """One LED with what lies in series with it: red points down from wire A to wire B, green up."""
    x, side = (layout.red, -1) if lamp == "red" else (layout.green, +1)
    ends = (_TOP, layout.bottom) if lamp == "red" else (layout.bottom, _TOP)
    slots = _slots(layout.point)
    step = (ends[1] - ends[0]) / len(slots)
    resistance = getattr(layout.point.pair.si, f"extra_{lamp}")
    for number, part in enumerate(slots):
        start, end = (x, ends[0] + number * step), (x, ends[0] + (number + 1) * step)
        beside = (x + side * 18, (start[1] + end[1]) / 2 + 4)
        if part == "led":
            _lamp(canvas, layout.point, lamp, (start, end))
        elif part == "extra":
            canvas.group(f"extra {lamp}")
            canvas.add(symbol(elm.ResistorIEC if resistance else elm.Line, start, end))
            canvas.text(beside, say(resistance, "ohm") if resistance else "", _anchor(side))
        else:
            canvas.group(f"diode {lamp}")
            canvas.add(symbol(elm.Diode, start, end))
            part_name(canvas, beside, layout.point.pair.series_diode.name.upper(), 1, _anchor(side))


def _lamp(canvas: Canvas, point: PairPoint, lamp: str, ends: tuple[tuple[float, float], tuple[float, float]]) -> None:
    """The LED symbol, filled when lit, with its words beside it."""
    led: Led = getattr(point.pair, lamp)
    lit = point.lit in (lamp, "both")
    side = -1 if lamp == "red" else +1
    # turned down, schemdraw's arrows point to the right, and turned up to the left: both need the other side
    words = lamp_symbol(canvas, lamp, led, point.si.current if lit else 0.0, ends, flip=True)
    lines = [*words, *_voltage_words(point, lamp), *wrapped(led.name, LABEL_WIDTH, 3)]
    place = (ends[0][0] + side * 44, (ends[0][1] + ends[1][1]) / 2 - block_height(len(lines)) / 2 + 4)
    canvas.lines(place, lines, _anchor(side), bold_first=True)


def _voltage_words(point: PairPoint, lamp: str) -> list[str]:
    wanted = "red" if point.polarity > 0 else "green"
    if lamp != wanted:
        across = f"{voltage_words(point.si.reverse_voltage)} reverse"
        return [across] if point.pair.series_diode is None else [across, "on its branch"]
    return [voltage_words(point.si.led_voltage)]


def _anchor(side: int) -> str:
    return "end" if side < 0 else "start"


def _sentence(point: PairPoint) -> str:
    wanted, other = ("red", "green") if point.polarity > 0 else ("green", "red")
    led, dark = getattr(point.pair, wanted), getattr(point.pair, other)
    current, across = point.si.current, point.si.reverse_voltage
    if point.pair.series_diode is not None:
        reverse = f"the {other} branch has {voltage_words(across)} across it in reverse, which its plain diode blocks"
    else:
        reverse = f"the {other} LED is dark with {voltage_words(across)} across it in reverse"
        if across > dark.si.max_reverse_voltage:
            reverse += f", more than the {say(dark.si.max_reverse_voltage, 'V')} it stands"
    if point.lit == "none":
        return f"Neither lamp is lit: {current_words(current)} flows."
    if current > led.si.max_current:
        more = f"more than the {say(led.si.max_current, 'A')} it stands, and will not last"
        return f"{wanted.capitalize()} takes {say(current, 'A')}, {more}; {reverse}."
    if lamp_look(led, current) == TOO_LITTLE:
        return f"{wanted.capitalize()} gives too little light to see with {say(current, 'A')}; {reverse}."
    return f"{wanted.capitalize()} is lit with {say(current, 'A')}; {reverse}."

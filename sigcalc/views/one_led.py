"""Circuit diagram of the first lesson: a supply, a resistor or none, and an LED."""

from __future__ import annotations

import numpy as np

from ..design.lamp.drive import TOO_LITTLE, OperatingPoint, lamp_look
from ..errors import RangeError
from ..parts.drive import ConstantCurrentDrive
from ..parts.led import LIT_FROM
from ..units import say
from .canvas import Canvas, wrapped
from .circuit_parts import LABEL_WIDTH, current_arrow, label_beside, lamp_symbol, supply_column, supply_name
from .phrases import current_words, drive_name, two_figures, voltage_words
from .picture import Picture
from .style import NORMAL, Size
from .symbols import elm, symbol

_WIDTH, _TOP, _BOTTOM = 440.0, 46.0, 206.0
_COLUMN, _LED = 30.0, 286.0
_SHOWN = 3


def one_led_circuit(
    point: OperatingPoint, supply: str, adapter: bool = False, bare: bool = False, size: Size = NORMAL
) -> Picture:
    """A supply, its drive and one LED (or a string, of which up to three are drawn).

    Parameters
    ----------
    point: of one supply voltage; a negative one is drawn as a supply turned round
    supply: what feeds it, in words, such as "9 V alkaline"
    adapter: whether that is a wall adapter; a battery is drawn otherwise
    bare: no resistor has been put in: the drive's resistance is the supply's own, inside it

    Raises RangeError for a point that holds arrays.
    """
    if np.ndim(point.si.current):
        raise RangeError("point needs one supply voltage, but an array came; draw one of its points")
    canvas = Canvas(_WIDTH, 240.0)
    voltage = point.si.led_voltage + point.si.drive_voltage
    ends = (_TOP, _BOTTOM) if voltage >= 0 else (_BOTTOM, _TOP)
    inside = [f"{say(point.drive.si.resistance, 'ohm')} inside"] if bare and _has_resistor(point) else []
    supply_column(canvas, _COLUMN, ends, supply_name(supply, abs(voltage)) + inside, adapter, point.drive)
    _upper_wire(canvas, point, _has_resistor(point) and not bare)
    canvas.group("lower wire")
    canvas.line((_COLUMN, _BOTTOM), (_LED, _BOTTOM))
    _string(canvas, point)
    return canvas.picture(_sentence(point, bare), size)


def _has_resistor(point: OperatingPoint) -> bool:
    return not isinstance(point.drive, ConstantCurrentDrive) and point.drive.si.resistance > 0


def _upper_wire(canvas: Canvas, point: OperatingPoint, resistor: bool) -> None:
    """The wire from the supply to the LED: the resistor, if there is one, and the current's arrow."""
    middle = 150.0
    canvas.group("resistor" if resistor else "upper wire")
    canvas.add(symbol(elm.ResistorIEC if resistor else elm.Line, (_COLUMN, _TOP), (middle + 40, _TOP)))
    canvas.line((middle + 40, _TOP), (_LED, _TOP))
    if resistor:
        canvas.lines(((_COLUMN + middle + 40) / 2, _TOP - 16), (drive_name(point.drive),), "middle")
    elif not isinstance(point.drive, ConstantCurrentDrive):
        canvas.lines(((_COLUMN + middle + 40) / 2, _TOP - 12), ("no resistor",), "middle")
    current = abs(point.si.current)
    current_arrow(canvas, (middle + 46, _LED - 6), _TOP, current, current >= LIT_FROM, point.si.current > 0)


def _string(canvas: Canvas, point: OperatingPoint) -> None:
    shown = point.string[:_SHOWN]
    step = (_BOTTOM - _TOP) / len(shown)
    for number, led in enumerate(shown):
        start, end = (_LED, _TOP + number * step), (_LED, _TOP + (number + 1) * step)
        words = lamp_symbol(canvas, led.colour, led, point.si.current, (start, end))
        if len(shown) == 1:
            volts = voltage_words(abs(point.si.led_voltage))
            words.append(volts + (" reverse" if point.si.led_voltage < 0 else ""))
        lines = [*words, *wrapped(led.name, LABEL_WIDTH, 3 if len(shown) == 1 else 2)]
        place = (_LED + 48, (start[1] + end[1]) / 2)
        canvas.text((place[0], place[1] - (len(lines) - 1) * 7.5 + 4), lines[0], bold=True)
        label_beside(canvas, (place[0], place[1] + 7.5), lines[1:])
    if len(point.string) > _SHOWN:
        more = len(point.string) - _SHOWN
        canvas.text((_LED, _BOTTOM + 22), f"and {more} more LED{'s' if more > 1 else ''} in series", "middle")


def _sentence(point: OperatingPoint, bare: bool) -> str:
    si, led = point.si, min(point.string, key=lambda each: each.si.max_current)
    name = f"The {led.colour} LED" if len(point.string) == 1 else f"The string of {len(point.string)} LEDs"
    current = current_words(abs(si.current))
    if si.led_voltage < 0:
        stands = sum(each.si.max_reverse_voltage for each in point.string)
        beyond = f", more than the {say(stands, 'V')} it stands" if -si.led_voltage > stands else ""
        return f"{name} is dark with {voltage_words(-si.led_voltage)} across it in reverse{beyond}."
    if si.current < LIT_FROM:
        why = f", for {voltage_words(si.led_voltage)} is too little for its drop" if si.led_voltage > 0 else ""
        return f"{name} is dark: {current} flows{why}."
    if si.current > led.si.max_current:
        times = si.current / led.si.max_current
        more = f"{two_figures(times)} times" if times > 1.5 else "more than"
        return f"{name} takes {current}, {more} the {say(led.si.max_current, 'A')} it stands, and will not last."
    if all(lamp_look(each, si.current) == TOO_LITTLE for each in point.string):
        return f"{name} gives too little light to see: {current} flows."
    rest = ("the inside of the supply" if bare else "the resistor") if _has_resistor(point) else "the driver"
    across = f" and {voltage_words(si.drive_voltage)} across {rest}" if si.drive_voltage > 0 else ""
    return f"{name} is lit with {current}; {voltage_words(si.led_voltage)} lies across it{across}."

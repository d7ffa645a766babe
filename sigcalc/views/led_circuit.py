"""One LED with what feeds it, or a string of them, as a circuit diagram, and what is said of it in words."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from ..design.lamp.drive import (
    DEAD,
    TOO_LITTLE,
    OperatingPoint,
    lamp_look,
)
from ..errors import RangeError
from ..parts.drive import ConstantCurrentDrive
from ..parts.led import LIT_FROM
from ..units import say
from .canvas import Canvas, wrapped
from .circuit import LABEL_WIDTH, current_arrow, elm, lamp_symbol, supply_column, supply_name, symbol
from .light import Light
from .phrases import current_words, drive_name, two_figures, voltage_words
from .picture import Picture
from .shares import SHARES_HEIGHT, Share, across_driver, across_lamp, across_resistor, across_source, shares_bar
from .style import NORMAL, STAGE, STAGE_BOX, Size

_COLUMN = 30.0


class _Layout(NamedTuple):
    """Where the resistor ends and the LEDs are, and the heights of the two wires; a wall has no bar of shares."""

    middle: float
    led: float
    top: float
    bottom: float
    wall: bool


_PAGE = _Layout(190.0, 286.0, 46.0, 206.0, wall=False)
_WALL = _Layout(166.0, 262.0, 30.0, 178.0, wall=True)
_SHOWN = 3
_WORTH_A_WORD = 0.01  # V: less of them inside the source are no piece of the bar
_ONE_LINE = 132.0  # of a name in a string, where the LEDs above and below leave no room for more lines


def one_led_circuit(
    point: OperatingPoint,
    supply: str,
    adapter: bool = False,
    bare: bool = False,
    size: Size = NORMAL,
    full: float | None = None,
    lost: float = 0.0,
    quiet: bool = False,
) -> Picture:
    """A supply, its drive and one LED (or a string, of which up to three are drawn).

    Parameters
    ----------
    point: of one supply voltage; a negative one is drawn as a supply turned round
    supply: what feeds it, in words, such as "9 V alkaline"
    adapter: whether that is a wall adapter; a battery is drawn otherwise
    bare: no resistor has been put in: the drive's resistance is the supply's own, inside it
    full: the volts at the end of the bar of shared voltage, so that its scale stays; without it the supply's
    lost: the volts that are lost inside the source, which `point` does not count
    quiet: the parts alone, for an exercise that asks what the circuit does: the lamp unlit, no current, no voltage

    Raises RangeError for a point that holds arrays.
    """
    sentence, lies = led_sentence(point, bare), _WALL if size is STAGE else _PAGE
    sides = (440.0 if len(point.string) == 1 else 470.0, 240.0 + SHARES_HEIGHT * (not quiet))
    canvas = Canvas(*(STAGE_BOX if lies.wall else sides))
    voltage = point.si.led_voltage + point.si.drive_voltage
    resistor, driver = _has_resistor(point), isinstance(point.drive, ConstantCurrentDrive)
    ends = (lies.top, lies.bottom) if voltage >= 0 else (lies.bottom, lies.top)
    inside = [f"{say(point.drive.si.resistance, 'ohm')} inside"] if bare and resistor else []
    supply_column(canvas, _COLUMN, ends, supply_name(supply, abs(voltage)) + inside, adapter, point.drive)
    resistor = resistor and not bare
    canvas.group("lower wire")
    canvas.line((_COLUMN, lies.bottom), (lies.led, lies.bottom))
    canvas.group("resistor" if resistor else "upper wire")
    canvas.add(symbol(elm.ResistorIEC if resistor else elm.Line, (_COLUMN, lies.top), (lies.middle, lies.top)))
    canvas.line((lies.middle, lies.top), (lies.led, lies.top))
    if not driver:
        place = ((_COLUMN + lies.middle) / 2, lies.top - (16 if resistor else 12))
        canvas.lines(place, (_named(point, lies.wall) if resistor else "no resistor",), "middle")
    _draw_string(canvas, lies, point, quiet)
    if quiet:
        return canvas.picture(sentence, size)
    current = abs(point.si.current)
    dead = lamp_look(point.weakest, point.si.current) == DEAD
    moving, until = (0.0, " until it burst") if dead else (current, "")
    upper = ((lies.middle if resistor else _COLUMN, lies.top), (lies.led, lies.top))
    for span in (upper, ((lies.led, lies.bottom), (_COLUMN, lies.bottom))):
        canvas.flow(*(span if point.si.current > 0 else span[::-1]), current=moving)
    shown = (lies.middle + 6, lies.led - 6)
    current_arrow(canvas, shown, lies.top, current, current >= LIT_FROM, point.si.current > 0, until)
    inside = [across_source(lost)] if lost >= _WORTH_A_WORD else []
    if not lies.wall:
        shares_bar(canvas, (_COLUMN - 14, 240.0), 410.0, [*inside, *_shares(point, bare)], full, until)
    return canvas.picture(sentence, size)


def _named(point: OperatingPoint, wall: bool) -> str:
    """What is beside the resistor: on a wall, where no bar shares out the volts, what is across it."""
    if not wall:
        return drive_name(point.drive)
    return f"{say(point.drive.si.resistance, 'ohm')}, {voltage_words(abs(point.si.drive_voltage))}"


def need_one(point: OperatingPoint) -> None:
    """RangeError for a point of arrays."""
    if np.ndim(point.si.current):
        need, advice = "one supply voltage", "draw one of its points"
        raise RangeError(argument="point", need=need, given="an array", advice=advice)


def _shares(point: OperatingPoint, bare: bool) -> list[Share]:
    """Where the supply's voltage is, from its plus on."""
    lamp = across_lamp(abs(point.si.led_voltage), point.weakest.colour)
    if len(point.string) > 1:
        lamp = lamp._replace(part=f"{len(point.string)} LEDs")
    rest = abs(point.si.drive_voltage)
    if isinstance(point.drive, ConstantCurrentDrive):
        return [across_driver(rest), lamp]
    if not _has_resistor(point):
        return [lamp]
    return [across_source(rest) if bare else across_resistor(rest), lamp]


def _has_resistor(point: OperatingPoint) -> bool:
    return not isinstance(point.drive, ConstantCurrentDrive) and point.drive.si.resistance > 0


def _draw_string(canvas: Canvas, lies: _Layout, point: OperatingPoint, quiet: bool) -> None:
    shown, more = point.string[:_SHOWN], len(point.string) - _SHOWN
    step = (lies.bottom - lies.top) / len(shown)
    for number, led in enumerate(shown):
        start, end = (lies.led, lies.top + number * step), (lies.led, lies.top + (number + 1) * step)
        words = lamp_symbol(canvas, led.colour, Light.of(led, 0.0 if quiet else point.si.current), (start, end))
        if quiet:
            words = []
        elif len(shown) == 1:
            volts = voltage_words(abs(point.si.led_voltage))
            words.append(volts + (" reverse" if point.si.led_voltage < 0 else ""))
        named = wrapped(led.name, LABEL_WIDTH, 3) if len(shown) == 1 else wrapped(led.name, _ONE_LINE, 1)
        lines = words if lies.wall else [*words, *named]
        canvas.lines((lies.led + 48, (start[1] + end[1]) / 2), lines, bold_first=not quiet, centred=True)
    if more > 0:
        text = f"and {more} more LED{'s' if more > 1 else ''} in series"
        canvas.text((lies.led, lies.bottom + (18 if lies.wall else 22)), text, "middle")


def led_sentence(point: OperatingPoint, bare: bool = False) -> str:
    """What `one_led_circuit` says of its LED, in words, for every picture of it; RangeError for a point of arrays."""
    need_one(point)
    si, limit = point.si, point.weakest.si.max_current
    name = f"The {point.weakest.colour} LED" if len(point.string) == 1 else f"The string of {len(point.string)} LEDs"
    current = current_words(abs(si.current))
    if si.led_voltage < 0:
        rated = sum(each.si.max_reverse_voltage for each in point.string)
        beyond = f"; its limit is {say(rated, 'V')}" if -si.led_voltage > rated else ""
        return f"{name} is dark, with {voltage_words(-si.led_voltage)} across it in reverse{beyond}."
    if si.current < LIT_FROM:
        why = f", for {voltage_words(si.led_voltage)} is too little for its drop" if si.led_voltage > 0 else ""
        return f"{name} is dark: {current} flows{why}."
    if si.current > limit:
        more = f"{two_figures(si.current / limit)} times" if si.current > 1.5 * limit else "more than"
        return f"{name} carries {current}, {more} its limit of {say(limit, 'A')}, and will not last."
    if all(lamp_look(each, si.current) == TOO_LITTLE for each in point.string):
        return f"{name} gives too little light to see: {current} flows."
    rest = ("the inside of the supply" if bare else "the resistor") if _has_resistor(point) else "the driver"
    across = f" and {voltage_words(si.drive_voltage)} across {rest}" if si.drive_voltage > 0 else ""
    return f"{name} is lit with {current}, with {voltage_words(si.led_voltage)} across it{across}."


def led_brief(point: OperatingPoint) -> str:
    """The same for a wall, in twelve words at the most."""
    si, times = point.si, two_figures(point.si.current / point.weakest.si.max_current)
    lamp, current = "LED" if len(point.string) == 1 else "string", current_words(abs(si.current))
    if si.led_voltage < 0:
        return f"The {lamp} blocks: {voltage_words(-si.led_voltage)} across it in reverse."
    if any(lamp_look(each, si.current) == DEAD for each in point.string):
        return f"{current}: {times} times too much. The {lamp} is dead."
    if si.current > point.weakest.si.max_current:
        return f"{current}: {times} times its limit. The {lamp} will not last."
    if si.current < LIT_FROM:
        return f"Dark: {voltage_words(si.led_voltage)} is too little for the {lamp}."
    rest = "resistor" if _has_resistor(point) else "driver"
    over = f", {voltage_words(si.drive_voltage)} across the {rest}" if si.drive_voltage > 0 else ""
    return f"{current}: {voltage_words(si.led_voltage)} across the {lamp}{over}."

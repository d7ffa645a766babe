"""The two-lead signal as a circuit diagram, with its lit lamp filled, and what is said of it in words."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from ..design.lamp.drawer import Combination
from ..design.lamp.drive import DEAD, OVERLOADED, TOO_LITTLE, lamp_look
from ..design.pair.two_lead_pair import LAMPS, PairPoint
from ..errors import RangeError
from ..parts.drive import ConstantCurrentDrive, Drive, ResistorDrive
from ..parts.led import Led
from ..parts.table import need_name
from ..units import say
from .canvas import Canvas, wrapped
from .circuit import (
    HALF,
    LABEL_WIDTH,
    UNIT,
    crossed_switch,
    current_arrow,
    elm,
    lamp_symbol,
    resistor_symbols,
    supply_column,
    supply_name,
    symbol,
)
from .light import Light
from .phrases import current_words, drive_name, two_figures, voltage_words
from .picture import Picture
from .shares import SHARES_HEIGHT, Share, across_driver, across_lamp, across_resistor, shares_bar
from .style import NORMAL, SHADE, STAGE, STAGE_BOX, Size

IN_WIRE_A, IN_WIRE_B, HALF_IN_EACH = "wire A", "wire B", "half in each wire"
RESISTOR_IN = (IN_WIRE_B, IN_WIRE_A, HALF_IN_EACH)
"""The wires that the resistor which both lamps share may be in: the currents are the same."""
IN_PLUS_LEAD = "plus lead"
"""Another place for it, where all of it stays on plus whichever lamp is lit: ahead of what turns the current round."""


def resistors_in(drive: Drive, where: str) -> dict[str, Drive]:
    """What is in the wires "A" and "B" or in the lead "+": the resistor whole, or half in each wire; no driver.

    Raises UnknownNameError for a place that is none of RESISTOR_IN and not IN_PLUS_LEAD.
    """
    need_name(where, "resistor_in", (*RESISTOR_IN, IN_PLUS_LEAD))
    if isinstance(drive, ConstantCurrentDrive) or not drive.si.resistance:
        return {}
    if where != HALF_IN_EACH:
        return {"+" if where == IN_PLUS_LEAD else where[-1]: drive}
    return dict.fromkeys("AB", ResistorDrive(drive.resistance / 2, drive.tolerance))


_COLUMN, _POLE, _BETWEEN = 30.0, 142.0, 50.0


class _Layout(NamedTuple):
    """Where the wires A and B begin and how high they are, and where the red lamp is; a wall has no bar of shares."""

    top: float
    bottom: float
    drop: float
    red: float
    wall: bool = False


_WALL = _Layout(24.0, 174.0, _COLUMN, 220.0, wall=True)


def signal_circuit(
    point: PairPoint,
    supply: str,
    adapter: bool = False,
    switch: bool = True,
    size: Size = NORMAL,
    reversing: str = "switch",
    full: float | None = None,
    resistor_in: str = IN_WIRE_B,
    made_of: Mapping[str, Combination] | None = None,
) -> Picture:
    """The two-lead signal at one operating point.

    Parameters
    ----------
    point: of a TwoLeadPair, with one supply voltage and one polarity
    supply: what feeds it, in words, such as "9 V alkaline"
    adapter: whether that is a wall adapter; a battery is drawn otherwise
    switch: whether what turns the current round is drawn, as the polarity has it; without it the supply turns round
    reversing: what turns the current round, "switch" or "relay"
    full: the volts at the end of the bar of shared voltage, so that its scale stays; without it the supply's
    resistor_in: the wire that the shared resistor is in, one of RESISTOR_IN, or IN_PLUS_LEAD
    made_of: the two resistors in a place that holds two: "shared" (drawn so in the plus lead), "red" or "green"

    Raises RangeError for a point that holds arrays, UnknownNameError for another place of the resistor.
    """
    sentence = signal_sentence(point, switch, reversing, resistor_in, made_of)
    slots, resistors, two = _slots(point), resistors_in(point.drive, resistor_in), made_of or {}
    bottom = 44.0 + (152.0, 176.0, 226.0)[len(slots) - 1]
    lies = _Layout(44.0, bottom, 218.0, 356.0) if switch else _Layout(44.0, bottom, 140.0, 278.0)
    ahead = "+" in resistors
    if size is STAGE and not switch and not ahead:
        lies = _WALL
    sides = (lies.red + _BETWEEN + 142, lies.bottom + 44 + SHARES_HEIGHT)
    canvas = Canvas(*(STAGE_BOX if lies.wall else sides))
    middle, forward = (lies.top + lies.bottom) / 2, point.polarity > 0
    reach = 62.0 if switch else middle - lies.top
    ends = (middle - reach, middle + reach)
    voltage = point.si.reverse_voltage + point.si.drive_voltage
    name = [voltage_words(voltage)] if lies.wall else supply_name(supply, voltage)
    supply_ends = ends if switch or forward else ends[::-1]
    supply_column(canvas, _COLUMN, supply_ends, name, adapter, point.drive, ahead, two.get("shared"))
    canvas.group("leads")
    for side, end in zip((-1, 1), ends, strict=True):
        bend, pole = _POLE - 6, middle + side * HALF
        through = [(bend, end), (bend, pole), (_POLE, pole)] if switch else [(lies.drop, end)]
        way = [(_COLUMN, end), *through]
        canvas.line(*way)
        plus = side < 0 if switch else (side < 0) == forward
        canvas.flow(*(way if plus else way[::-1]), current=moving_current(point))
    if switch:
        position = "red" if forward else "green"
        wires = (lies.drop, lies.top), (lies.drop, lies.bottom)
        crossed_switch(canvas, (_POLE, middle), wires, forward, f"switch {position}")
        canvas.lines((_POLE + 18, middle + 83), (f"reversing {reversing},", f"set to {position.upper()}"), "middle")
    _wires(canvas, lies, point, resistors)
    for lamp, x, side in (("red", lies.red, -1), ("green", lies.red + _BETWEEN, +1)):
        column = (lies.top, lies.bottom) if side < 0 else (lies.bottom, lies.top)
        _branch(canvas, lies, point, lamp, slots, x, side, column, two.get(lamp))
    if not lies.wall:
        shares_bar(canvas, (_COLUMN - 14, bottom + 44), canvas.width - 32, _shares(point, resistors), full)
    return canvas.picture(sentence, size)


def signal_sentence(
    point: PairPoint,
    switch: bool = True,
    reversing: str = "switch",
    resistor_in: str = IN_WIRE_B,
    made_of: Mapping[str, Combination] | None = None,
) -> str:
    """What `signal_circuit` says of the signal, in words, for every picture of it; same arguments, same errors."""
    if np.ndim(point.si.current) or np.ndim(point.polarity):
        raise RangeError(argument="point", need="one supply voltage and one polarity", given="arrays of them")
    two, ahead = made_of or {}, "+" in resistors_in(point.drive, resistor_in)
    what = f"resistors, {two['shared'].parts}, are" if "shared" in two else "resistor is"
    place = f" The {what} in the supply's plus lead{f', ahead of the {reversing}' if switch else ''}."
    return _sentence(point) + place * ahead


def signal_brief(point: PairPoint) -> str:
    """The same for a wall, in twelve words at the most."""
    si, (wanted, other) = point.si, LAMPS if point.polarity > 0 else LAMPS[::-1]
    led, dark, current = getattr(point.pair, wanted), getattr(point.pair, other), current_words(si.current)
    across, limit = voltage_words(si.reverse_voltage), dark.si.max_reverse_voltage
    look, times = lamp_look(led, si.current), two_figures(si.current / led.si.max_current)
    if point.lit == "none":
        return f"{current.capitalize()}: neither lamp lights."
    if look == DEAD:
        return f"{current}: {times} times too much. The {wanted} LED is dead."
    if look == OVERLOADED:
        return f"{current}: {times} times its limit. The {wanted} LED will not last."
    if si.reverse_voltage > limit and point.pair.series_diode is None:
        return f"The dark {other} LED has {across} in reverse; limit {say(limit, 'V')}."
    shows = f"too little to see {wanted}" if look == TOO_LITTLE else f"{wanted} lights"
    return f"{current}: {shows}. The {other} LED blocks {across}."


def _shares(point: PairPoint, resistors: dict[str, Drive]) -> list[Share]:
    """Where the supply's voltage is, in the order in which the current meets the parts."""
    lamp = LAMPS[point.polarity < 0]
    current, inside = point.si.current, point.si.led_voltage
    way = [
        across_resistor(each.si.resistance * current, "resistor" if len(resistors) < 2 else f"resistor {wire}")
        if (each := resistors.get(wire))
        else None
        for wire in ("+AB" if point.polarity > 0 else "+BA")
    ]
    before = [across_driver(point.si.drive_voltage)] if isinstance(point.drive, ConstantCurrentDrive) else way[:2]
    extra = getattr(point.pair.si, f"extra_{lamp}") * current
    if point.pair.series_diode is not None:
        before.append(Share("diode", point.si.reverse_voltage - inside - extra, SHADE))
    after = [
        across_resistor(extra, f"{'extra' if point.si.drive_voltage else 'resistor'} in {lamp}") if extra else None,
        *way[2:],
    ]
    return [each for each in (*before, across_lamp(inside, lamp), *after) if each is not None]


def _slots(point: PairPoint) -> list[str]:
    """What may be in a branch, from its anode end; both branches have the same places, so that the lamps align."""
    si = point.pair.si
    diode = ["diode"] if point.pair.series_diode is not None else []
    extra = ["extra"] if si.extra_red > 0 or si.extra_green > 0 else []
    return [*diode, "led", *extra]


def _wires(canvas: Canvas, lies: _Layout, point: PairPoint, resistors: dict[str, Drive]) -> None:
    """The two wires with their signs and resistors, and the current's arrow in the one that has room for it."""
    start, end, forward = lies.drop, lies.red - 26, point.polarity > 0
    centre, lamp = lies.red + _BETWEEN / 2, lies.red + (0.0 if forward else _BETWEEN)  # no dots to the dark one
    for wire, y, side, way in (("A", lies.top, -1, forward), ("B", lies.bottom, 1, not forward)):
        canvas.group(f"wire {wire}")
        canvas.line((end, y), (lies.red + _BETWEEN, y))
        canvas.joint((lies.red, y))
        canvas.text((centre, y + (22 if side > 0 else -12)), f"wire {wire} {'+' if way else '−'}", "middle")
        if wire in resistors:
            canvas.group("resistor")
            label = ((start + end) / 2 - 8, y + (26 if side > 0 else -18))
            name = drive_name(resistors[wire])
            if lies.wall:  # inside, and with the volts that no bar shares out there
                label = (label[0], y - 18 * side + 8 * (side < 0))
                ohms = resistors[wire].si.resistance
                name = f"{say(ohms, 'ohm')}, {voltage_words(ohms * point.si.current)}"
            canvas.text(label, name, "middle")
        canvas.add(symbol(elm.ResistorIEC if wire in resistors else elm.Line, (start, y), (end, y)))
        body = (start + end) / 2
        bare = ((start, body - UNIT / 2), (body + UNIT / 2, lamp)) if wire in resistors else ((start, lamp),)
        for span in bare:
            canvas.flow(*((x, y) for x in (span if way else span[::-1])), current=moving_current(point))
        canvas.joint((end, y), is_open=True)
    y, rightwards = (lies.bottom, not forward) if "A" in resistors else (lies.top, forward)
    span, flows, inline = (start + 6, end - 10), moving_current(point) > 0, len(resistors) > 1
    if inline:  # no wire has room: along the lower one
        y -= 40 if lies.wall else 20
        span = (start + (32 if lies.wall else 6), span[1])
    until = " until it burst" if point.lit != "none" and not flows else ""
    current_arrow(canvas, span, y, point.si.current, flows, rightwards, until, inline)


def burst(point: PairPoint) -> bool:
    """Whether the current has destroyed the lamp that it is to light."""
    return point.lit != "none" and lamp_look(getattr(point.pair, point.lit), point.si.current) == DEAD


def moving_current(point: PairPoint) -> float:
    """The current in A that flows on; through an LED that it has destroyed none does."""
    return 0.0 if point.lit == "none" or burst(point) else point.si.current


def _branch(
    canvas: Canvas,
    lies: _Layout,
    point: PairPoint,
    lamp: str,
    slots: list[str],
    x: float,
    side: int,
    ends: tuple[float, float],
    made_of: Combination | None,
) -> None:
    """One LED with what is in series with it: red points down from wire A to wire B, green up."""
    anchor, resistance = "end" if side < 0 else "start", getattr(point.pair.si, f"extra_{lamp}")
    heights = np.linspace(*ends, len(slots) + 1).tolist()
    for part, upper, lower in zip(slots, heights, heights[1:], strict=False):
        span, beside = ((x, upper), (x, lower)), (x + side * 18, (upper + lower) / 2 + 4)
        if part == "led":
            led: Led = getattr(point.pair, lamp)
            # turned down, schemdraw's arrows point to the right, and turned up to the left: both need the other side
            light = Light.of(led, point.si.current if point.lit == lamp else 0.0)
            words = lamp_symbol(canvas, lamp, light, span, flip=True)
            lines = [*words, *_voltage_words(point, lamp), *([] if lies.wall else wrapped(led.name, LABEL_WIDTH, 3))]
            canvas.lines((x + side * 44, (upper + lower) / 2), lines, anchor, bold_first=True, centred=True)
        elif part == "extra":
            canvas.group(f"extra {lamp}")
            if not resistance:
                canvas.line(*span)
                continue
            resistor_symbols(canvas, *span, made_of)
            words = [say(resistance, "ohm")] if made_of is None else wrapped(made_of.parts, LABEL_WIDTH, 3)
            canvas.lines((beside[0], beside[1] - 4), words, anchor, centred=True)
        else:
            canvas.group(f"diode {lamp}")
            canvas.add(symbol(elm.Diode, *span))
            canvas.text(beside, wrapped(point.pair.series_diode.name.upper(), LABEL_WIDTH, 1)[0], anchor)
        canvas.group(f"flow {lamp}")
        body = math.copysign(UNIT / 2, lower - upper) if part != "extra" or resistance else 0.0
        for start, end in ((upper, (upper + lower) / 2 - body), ((upper + lower) / 2 + body, lower)):
            canvas.flow((x, start), (x, end), current=moving_current(point) * (lamp == point.lit))


def _voltage_words(point: PairPoint, lamp: str) -> list[str]:
    if lamp == LAMPS[point.polarity < 0]:
        return [voltage_words(point.si.led_voltage)]
    across = f"{voltage_words(point.si.reverse_voltage)} reverse"
    return [across] if point.pair.series_diode is None else [across, "on its branch"]


def _sentence(point: PairPoint) -> str:
    wanted, other = LAMPS if point.polarity > 0 else LAMPS[::-1]
    led, dark = getattr(point.pair, wanted), getattr(point.pair, other)
    current, across = point.si.current, point.si.reverse_voltage
    if point.pair.series_diode is not None:
        reverse = f"the {other} branch has {voltage_words(across)} across it in reverse, which its plain diode blocks"
    else:
        reverse = f"the {other} LED is dark with {voltage_words(across)} across it in reverse"
        if across > dark.si.max_reverse_voltage:
            reverse += f", more than its limit of {say(dark.si.max_reverse_voltage, 'V')}"
    if point.lit == "none":
        return f"Neither lamp is lit: {current_words(current)} flows."
    if current > led.si.max_current:
        more = f"more than its limit of {say(led.si.max_current, 'A')}, and will not last"
        return f"{wanted.capitalize()} carries {say(current, 'A')}, {more}; {reverse}."
    if lamp_look(led, current) == TOO_LITTLE:
        return f"{wanted.capitalize()} gives too little light to see with {say(current, 'A')}; {reverse}."
    return f"{wanted.capitalize()} is lit with {say(current, 'A')}; {reverse}."

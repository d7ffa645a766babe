"""The first lessons in pictures: one LED's circuit, its curve against a resistor's, the load line, a meter's table."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from ..design.lamp.direct import FromSource, Steepness
from ..design.lamp.drive import (
    DEAD,
    SPREAD,
    TOO_LITTLE,
    LedString,
    OperatingPoint,
    lamp_look,
    loop_current,
    string_voltage,
)
from ..design.tolerance import Band, over_corners, source_bands
from ..errors import RangeError
from ..parts.drive import ConstantCurrentDrive, Drive
from ..parts.led import LIT_FROM
from ..units import say, say_band
from .canvas import Canvas, wrapped
from .chart import Chart, current_axis, nice
from .circuit import LABEL_WIDTH, current_arrow, elm, lamp_symbol, supply_column, supply_name, symbol
from .light import Light
from .phrases import current_words, drive_name, two_figures, voltage_words
from .picture import Picture
from .shares import SHARES_HEIGHT, Share, across_driver, across_lamp, across_resistor, across_source, shares_bar
from .style import DASHES, LINE, NORMAL, STAGE, STAGE_BOX, THIN, Size
from .table import Table

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
_CLIFF = 2.5  # times its limit: as far up as the curve of an LED is drawn
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


def _need_one(point: OperatingPoint) -> None:
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
    _need_one(point)
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


_RING = {"ls": "none", "marker": "o", "markersize": 8, "markeredgecolor": "black", "clip_on": False}
_LINES = {
    "guides": {"ls": DASHES[2], "lw": THIN},
    "limit": {"ls": DASHES[3]},
    "straight": {"ls": DASHES[1]},
    "led": {"lw": 1.5 * LINE},
    "point": _RING,
}


class LoadLine(Chart):
    """What the supply and resistor leave for the LED, the LED's curve, and the one point on which they agree.

    The picture's one figure; `picture` changes its data.
    """

    def __init__(self) -> None:
        shades = {"led": {"fc": "#cfcfcf"}, "supply": {"fc": "#e4e4e4", "hatch": "////"}}
        super().__init__(_LINES, ("point", "limit", "led", "straight"), ("point",), shades)

    def picture(
        self,
        point: OperatingPoint,
        spread: bool = False,
        size: Size = NORMAL,
        most: float | None = None,
        right: float | None = None,
    ) -> Picture:
        """The load line of one operating point.

        Parameters
        ----------
        point: of one supply voltage, 0 V or more
        spread: shade what bought parts may differ by: the LED's drop and the drive's tolerance
        most: the current in A at the top, so that the axes stay; a point beyond is marked at the edge
        right: the voltage in V at their right; without it the supply's

        Raises RangeError for a point that holds arrays or has the LED in reverse.
        """
        _need_one(point)
        si, led, string = point.si, point.weakest, point.string
        supply = si.led_voltage + si.drive_voltage
        if supply < 0:
            raise RangeError(
                "the load line needs the LED the right way round; you gave a negative supply; turn it round"
            )
        most = most or nice(1.25 * max(led.si.max_current, si.current))
        factor, unit = current_axis(most)
        x_label = "voltage across the LED (V)" if len(string) == 1 else "voltage across the LEDs (V)"
        right, _ = self.scale(1.02 * max(right or supply, 0.5), most * factor, x_label, f"current ({unit})", size)
        low, nominal, high = zip(*_drive_bands(point.drive), strict=True)
        bands = {
            "led": [_led_line(string, most, sign) for sign in (-1.0, 1.0)],
            "supply": [_left_over(*end, supply, most) for end in (low, high)],
        }
        for name, (one, other) in bands.items():
            self.shades[name].set_visible(spread and (name == "led" or bool(point.drive.si.tolerance)))
            self.shades[name].set_xy(np.concatenate([one, np.flip(other, axis=1)], axis=1).T * (1.0, factor))
        here = min(si.current, most) * factor
        lines = self.draw(
            led=_led_line(string, most) * [[1.0], [factor]],
            straight=_left_over(*nominal, supply, most) * [[1.0], [factor]],
            limit=_level(right, led.si.max_current * factor),
            guides=([si.led_voltage, si.led_voltage, 0.0], [0.0, here, here]),
            point=([si.led_voltage], [here]),
        )
        self.paint(led.colour, "led", "point")
        self.lines["point"].set_markeredgecolor("black")
        at = lines.pop("point")
        del lines["guides"]
        said = {
            "point": (f"{current_words(si.current)} at {voltage_words(si.led_voltage)}{_beyond(si.current, most)}", at),
            "limit": (f"its limit: {say(led.si.max_current, 'A')}", 1.0),
            "led": (f"{led.colour} LED" if len(string) == 1 else f"{len(string)} LEDs in series", 0.7),
            "straight": (f"{voltage_words(supply)} {_through(point.drive)}", 0.45),
        }
        self.name(lines, said)
        return self.printed(_load_line_sentence(point, supply, spread), size)


def _at(current: float, voltage: float, most: float) -> str:
    return f"{current_words(current)} at {say(voltage, 'V')}{_beyond(current, most)}"


def _at_on_wall(current: float, _: float, most: float) -> str:
    """The current alone."""
    if current < 1e-6:
        return "next to nothing"
    return f"{current_words(current)}{' ↑' if _beyond(current, most) else ''}"


def _beyond(current: float, most: float) -> str:
    """What is said beside a point that lies above the top of the axes."""
    return ", off the chart ↑" if current > most * (1 + 1e-9) else ""


def _level(right: float, height: float) -> np.ndarray:
    """A line across the axes."""
    return np.array([np.linspace(0.0, right, 100), np.full(100, height)])


def _led_line(string: LedString, most: float, spread: float = 0.0) -> np.ndarray:
    """The LEDs' curve, from nothing up to a current of `most`."""
    currents = np.concatenate([[0.0], np.geomspace(1e-6, 1.0 / 200, 30) * most, np.linspace(0.005, 1.0, 200) * most])
    across = np.asarray(string_voltage(currents, string, None, spread), float)
    across[0] = 0.0  # with a constant drop the curve starts on the voltage axis, with no current to its left
    return np.array([across, currents])


def _drive_bands(drive: Drive) -> tuple[Band, Band]:
    """The drive's resistance in ohm and its limit in A, which go together to the ends of its tolerance."""
    if isinstance(drive, ConstantCurrentDrive):
        limit = Band.within(drive.si.current, drive.si.tolerance)
        return Band(*(drive.si.dropout / each for each in limit)), limit
    ohms = Band.within(drive.si.resistance, drive.si.tolerance)
    return Band(*reversed(tuple(ohms))), Band.exactly(np.inf)


def _left_over(resistance: float, limit: float, supply: float, most: float) -> np.ndarray:
    """What is left for the LEDs, from no current up to what flows through a short, or to `most`."""
    shorted = min(limit, most, supply / resistance if resistance > 0 else most)
    currents = np.linspace(0.0, shorted, 100)
    across = supply - resistance * currents
    if shorted == limit:  # a driver holds its current from its drop-out down to 0 V
        across, currents = (
            np.append(across, np.linspace(across[-1], 0.0, 100)),
            np.append(currents, np.full(100, limit)),
        )
    return np.array([across, currents])


def _through(drive: Drive) -> str:
    if isinstance(drive, ConstantCurrentDrive):
        return f"through a {say(drive.si.current, 'A')} driver"
    return f"through {drive_name(drive)}" if drive.si.resistance > 0 else "without a resistor"


def _load_line_sentence(point: OperatingPoint, supply: float, spread: bool) -> str:
    si, string, limit = point.si, point.string, point.weakest.si.max_current
    name = f"the {point.weakest.colour} LED" if len(string) == 1 else f"{len(string)} LEDs in series"
    agreed = f"{current_words(si.current)} at {voltage_words(si.led_voltage)}"
    start = f"{voltage_words(supply)} {_through(point.drive)} and {name} agree on {agreed}"
    if si.current < LIT_FROM:
        return f"{start}: too little to light it."
    rated = say(limit, "A")
    said = (
        f"{start}; that is more than the limit of {rated}" if si.current > limit else f"{start}; the limit is {rated}"
    )
    if not spread:
        return f"{said}."
    band = over_corners(
        lambda drive, spread: np.minimum(loop_current(supply, drive[0], string, None, spread), drive[1]),
        drive=_drive_bands(point.drive),
        spread=SPREAD,
    )
    return (
        f"{said}. With bought parts the current is between {current_words(band.least)} and {current_words(band.most)}."
    )


class AgainstResistor(Chart):
    """The bent curve of an LED against the straight line of a resistor, with a little more voltage on both.

    The picture's one figure; `picture` changes its data.
    """

    def __init__(self) -> None:
        super().__init__(_LINES, ("at", "after", "limit", "led", "straight"), ("at", "after"))

    def picture(self, result: Steepness, size: Size = NORMAL) -> Picture:
        """Both lines, and both voltages of the result."""
        si, limit, colour = result.si, result.led.si.max_current, result.led.colour
        most = nice(_CLIFF * limit)
        factor, unit = current_axis(most)
        volts, amps = _led_line((result.led,), most)
        right, _ = self.scale(1.15 * volts[-1], most * factor, "voltage (V)", f"current ({unit})", size)
        across = np.minimum([si.voltage, si.voltage + si.step], right)
        both = np.minimum([si.current, si.current_after], most) * factor
        straight = np.linspace(0.0, min(right, most * si.resistance), 100)
        lines = self.draw(
            led=(volts, amps * factor),
            limit=_level(right, limit * factor),
            straight=([], []) if result.dark else (straight, straight / si.resistance * factor),
            guides=(np.repeat(across, 31), np.append(np.linspace(0.0, both, 30), [[np.nan] * 2], axis=0).T.ravel()),
            point=(across, both),
        )
        self.paint(colour, "led", "point")
        self.lines["point"].set_markeredgecolor("black")
        first, second = lines["point"]
        # a guide no longer than its point is hidden by it, so that no label need keep off it
        lines["guides"] = lines["guides"][lines["guides"][:, 1] > self.box[1] + 8]
        lines["point"] = np.concatenate([lines["point"], lines["point"] + (0.0, 8.0)])  # nor lies it over the other's
        at = _at_on_wall if self.on_wall else _at
        said = {
            # where neither can be read on a meter, one of them says it
            "at": (at(si.current, si.voltage, most) if si.current_after >= 1e-6 else "", [first]),
            "after": (at(si.current_after, si.voltage + si.step, most), [second]),
            "limit": (f"its limit: {say(limit, 'A')}", 0.3),
            "led": (f"{colour} LED", 0.9),
            "straight": ("" if result.dark else f"resistor of {say(si.resistance, 'ohm')}", 1.0),
        }
        self.name(lines, said)
        return self.printed(_against_sentence(result), size)


def _against_sentence(result: Steepness) -> str:
    si, colour = result.si, result.led.colour
    before, after = (say(volts, "V") for volts in (si.voltage, si.voltage + si.step))
    if result.dark:
        return (
            f"At {before} next to nothing flows through the {colour} LED: it stays dark. At {after} it is "
            f"{current_words(si.current_after)}; its light can just be seen at {say(si.lit_from, 'V')}."
        )
    return (
        f"At {before} the current through the {colour} LED is {current_words(si.current)}, "
        f"at {after} it is {current_words(si.current_after)}: {si.times:.3g} times as much. Through a resistor that "
        f"starts with the same current it is {current_words(si.resistor_after)} then, "
        f"{si.resistor_times:.3g} times as much."
    )


def steepness_brief(result: Steepness) -> str:
    """What a little more voltage does, for a wall."""
    si, limit = result.si, result.led.si.max_current
    step, after = f"{si.step:g} V more", current_words(si.current_after)
    if result.dark:
        return f"Dark: next to nothing flows. {step}: {after}."
    over = f"; its limit is {say(limit, 'A')}" if si.current_after > limit else " as much"
    return f"{step}: {after}, {two_figures(si.times)} times{over}."


def bench_readings(result: FromSource, size: Size = NORMAL) -> Table:
    """What a meter should read at the bench with an LED and a resistor on a source, fresh and of bought parts.

    In brackets the ends of the band that the spread of source, resistor and LED leaves.
    """
    si, led = result.si, result.led
    drop = float(led.model.voltage_si(si.current))
    across = Band(drop - led.si.drop_below, drop, drop + led.si.drop_above)
    volts, _ = source_bands(result.source)
    rest = (max(volts.least - across.most, 0.0), si.current * si.resistance, volts.most - across.least)
    current = (si.current_min, si.current, si.current_max)
    return Table(
        f"What your meter should read: {result.source.name}, {say(si.resistance, 'ohm')}, {led.name}",
        ("Measure", "Where", "Should read"),
        (
            ("The source, nothing on it", "from + to −", say_band(*volts, "V")),
            ("The LED, lit", "from its longer lead to its shorter one", say_band(*across, "V")),
            ("The resistor", "from end to end", say_band(*rest, "V")),
            ("The current", "resistor's voltage ÷ resistance", say_band(*current, "A")),
        ),
        "In brackets: the range with a fresh source and bought parts. If you read something else, look for the reason.",
        size,
    )

"""The first lessons in pictures: an LED's curve against a resistor's, the load line, a meter's table."""

from __future__ import annotations

import numpy as np

from ..design.lamp.direct import FromSource, Steepness
from ..design.lamp.drive import (
    SPREAD,
    LedString,
    OperatingPoint,
    loop_current,
    string_voltage,
)
from ..design.tolerance import Band, over_corners, source_bands
from ..errors import RangeError
from ..parts.drive import ConstantCurrentDrive, Drive
from ..parts.led import LIT_FROM
from ..units import say, say_band
from .chart import Chart, current_axis, nice
from .led_circuit import need_one
from .phrases import current_words, drive_name, two_figures, voltage_words
from .picture import Picture
from .style import DASHES, LINE, NORMAL, THIN, Size
from .table import Table

_CLIFF = 2.5  # times its limit: as far up as the curve of an LED is drawn
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
        need_one(point)
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

"""The load line: what the supply and resistor offer, what the LED takes, and the one point on which they agree."""

from __future__ import annotations

import dataclasses

import numpy as np

from ..design.lamp.drive import LedString, OperatingPoint, loop_current, string_voltage
from ..errors import RangeError
from ..parts.drive import ConstantCurrentDrive, Drive
from ..parts.led import LIT_FROM
from ..units import say
from .chart import Chart, Places, along, current_axis, nice
from .phrases import current_words, drive_name, voltage_words
from .picture import Picture
from .style import DASHES, LINE, NORMAL, THIN, Size, lamp_stroke


class LoadLine:
    """The picture's one figure; `picture` changes its data."""

    def __init__(self) -> None:
        self.chart = Chart()
        self.led_band = self.chart.shade("#cfcfcf")
        self.supply_band = self.chart.shade("#e4e4e4", hatch="////")
        self.guides = self.chart.line(DASHES[2], THIN)
        self.limit = self.chart.line(DASHES[3], LINE)
        self.supply = self.chart.line(DASHES[1], LINE)
        self.led = self.chart.line("solid", 1.5 * LINE)
        self.point = self.chart.line("none", marker="o", markersize=9, markeredgecolor="black", clip_on=False)
        self.labels = {name: self.chart.label(bold=name == "point") for name in ("limit", "point", "led", "supply")}

    def picture(self, point: OperatingPoint, spread: bool = False, size: Size = NORMAL) -> Picture:
        """The load line of one operating point.

        Parameters
        ----------
        point: of one supply voltage, 0 V or more
        spread: shade what bought parts may differ by: the LED's drop and the drive's tolerance

        Raises RangeError for a point that holds arrays or has the LED in reverse.
        """
        supply = point.si.led_voltage + point.si.drive_voltage
        if np.ndim(supply):
            raise RangeError("point needs one supply voltage, but an array came; draw one of its points")
        if supply < 0:
            raise RangeError(
                "the load line needs the LED the right way round, but the supply is negative; turn it round"
            )
        led = min(point.string, key=lambda each: each.si.max_current)
        most = nice(1.25 * max(led.si.max_current, point.si.current))
        factor, unit = current_axis(most)
        x_label = "voltage across the LED (V)" if len(point.string) == 1 else "voltage across the LEDs (V)"
        self.chart.scale(1.02 * max(supply, 0.5), most * factor, x_label, f"current ({unit})")
        lines = self._draw(point, supply, most, factor)
        self._band(point, supply, most, factor, spread)
        self._name(point, supply, lines, factor)
        return self.chart.picture(_sentence(point, supply, spread), size)

    def _draw(self, point: OperatingPoint, supply: float, most: float, factor: float) -> dict[str, np.ndarray]:
        """Set the lines; give where they lie on the sheet, for the labels to keep off."""
        si, led = point.si, min(point.string, key=lambda each: each.si.max_current)
        end = self.chart.axes.get_xlim()[1]
        lines = {
            "led": _taken(point.string, most),
            "supply": _offered(point.drive, supply, most),
            "limit": (np.linspace(0.0, end, 100), np.full(100, led.si.max_current)),
        }
        for name, artist in (("led", self.led), ("supply", self.supply), ("limit", self.limit)):
            artist.set_data(lines[name][0], lines[name][1] * factor)
        self.guides.set_data([si.led_voltage, si.led_voltage, 0.0], [0.0, si.current * factor, si.current * factor])
        self.point.set_data([si.led_voltage], [si.current * factor])
        self.led.set_color(lamp_stroke(led.colour))
        self.point.set_markerfacecolor(lamp_stroke(led.colour))
        return {name: self.chart.points(volts, amps * factor) for name, (volts, amps) in lines.items()}

    def _band(self, point: OperatingPoint, supply: float, most: float, factor: float, spread: bool) -> None:
        self.led_band.set_visible(spread)
        self.supply_band.set_visible(spread and bool(point.drive.si.tolerance))
        if not spread:
            return
        self.led_band.set_xy(_outline(*(_taken(point.string, most, sign) for sign in (-1.0, 1.0)), factor))
        self.supply_band.set_xy(_outline(*(_offered(each, supply, most) for each in _extremes(point.drive)), factor))

    def _name(self, point: OperatingPoint, supply: float, lines: dict[str, np.ndarray], factor: float) -> None:
        """Set the labels beside their lines."""
        si, led = point.si, min(point.string, key=lambda each: each.si.max_current)
        places = Places(self.chart.free, lines)
        texts = {
            "point": f"{current_words(si.current)} at {voltage_words(si.led_voltage)}",
            "limit": f"the most it stands: {say(led.si.max_current, 'A')}",
            "led": f"{led.colour} LED" if len(point.string) == 1 else f"{len(point.string)} LEDs in series",
            "supply": f"{voltage_words(supply)} {_through(point.drive)}",
        }
        anchors = {name: along(line, self.chart.box) for name, line in lines.items()}
        anchors["supply"] = along(lines["supply"], self.chart.box, preferred=0.45)
        anchors["limit"] = along(lines["limit"], self.chart.box, preferred=1.0)
        anchors["point"] = self.chart.points(si.led_voltage, si.current * factor)
        for name, text in texts.items():
            bold = name == "point"
            clear = 0.0 if bold else 8.0  # all lines meet in the point
            self.chart.put(self.labels[name], text, places.find(text, anchors[name], name, clear, bold))


Line = tuple[np.ndarray, np.ndarray]
"""Voltages in V and currents in A."""


def _taken(string: LedString, most: float, spread: float = 0.0) -> Line:
    """What the LEDs take, from nothing up to a current of `most`."""
    currents = np.concatenate([[0.0], np.geomspace(1e-6, 1.0 / 200, 30) * most, np.linspace(0.005, 1.0, 200) * most])
    across = np.asarray(string_voltage(currents, string, None, spread), float)
    across[0] = 0.0  # with a constant drop the curve starts on the voltage axis, with no current to its left
    return across, currents


def _offered(drive: Drive, supply: float, most: float) -> Line:
    """What is left for the LEDs, from no current up to what flows through a short, or to `most`."""
    resistance, limit = drive.series_resistance, drive.limit
    shorted = min(limit, most, supply / resistance if resistance > 0 else most)
    currents = np.linspace(0.0, shorted, 100)
    across = supply - resistance * currents
    if shorted == limit:  # a driver holds its current from its drop-out down to 0 V
        flat = np.linspace(across[-1], 0.0, 100)
        return np.concatenate([across, flat]), np.concatenate([currents, np.full(100, limit)])
    return across, currents


def _extremes(drive: Drive) -> tuple[Drive, Drive]:
    """The drive at the end of its tolerance with the least current, and at that with the most."""
    si, field, signs = drive.si, "resistance", (1, -1)
    if isinstance(drive, ConstantCurrentDrive):
        field, signs = "current", (-1, 1)
    given = {each.name: vars(si).get(each.name, getattr(drive, each.name)) for each in dataclasses.fields(drive)}
    ends = (getattr(si, field) * (1 + sign * si.tolerance) for sign in signs)
    low, high = (type(drive).of(**given | {field: end, "tolerance": 0.0}) for end in ends)
    return low, high


def _outline(low: Line, high: Line, factor: float) -> np.ndarray:
    """The corners of the area between two lines."""
    across, current = (np.concatenate([one, other[::-1]]) for one, other in zip(low, high, strict=True))
    return np.column_stack([across, current * factor])


def _through(drive: Drive) -> str:
    if isinstance(drive, ConstantCurrentDrive):
        return f"through a {say(drive.si.current, 'A')} driver"
    return f"through {drive_name(drive)}" if drive.si.resistance > 0 else "without a resistor"


def _sentence(point: OperatingPoint, supply: float, spread: bool) -> str:
    si, led = point.si, min(point.string, key=lambda each: each.si.max_current)
    name = f"the {led.colour} LED" if len(point.string) == 1 else f"{len(point.string)} LEDs in series"
    agreed = f"{current_words(si.current)} at {voltage_words(si.led_voltage)}"
    start = f"{voltage_words(supply)} {_through(point.drive)} and {name} agree on {agreed}"
    stands = say(led.si.max_current, "A")
    if si.current < LIT_FROM:
        return f"{start}: too little to light it."
    verdict = f"more than the {stands} it stands" if si.current > led.si.max_current else f"it stands {stands}"
    if not spread:
        return f"{start}; {verdict}."
    least, most = (
        float(np.minimum(loop_current(supply, each.series_resistance, point.string, None, -sign), each.limit))
        for sign, each in zip((-1.0, 1.0), _extremes(point.drive), strict=True)
    )
    band = f"between {current_words(least)} and {current_words(most)}"
    return f"{start}; {verdict}. With bought parts the current lies {band}."

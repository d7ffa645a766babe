"""The bent curve of an LED against the straight line of a resistor, with a little more voltage on both."""

from __future__ import annotations

import numpy as np

from ..design.lamp.direct import Steepness
from ..units import say
from .chart import Chart, Places, along, current_axis, nice
from .phrases import current_words
from .picture import Picture
from .style import DASHES, LINE, NORMAL, THIN, Size, lamp_stroke

_LINES = ("led", "resistor", "limit")
_FOOT = 8  # points; a guide no longer than this is hidden by its own point, so that no label need keep off it
_POINT = 2  # what a point under a label counts, in points of a line
_ANCHORS = 24  # places along a line that are tried for its name


class AgainstResistor:
    """The picture's one figure; `picture` changes its data."""

    def __init__(self) -> None:
        self.chart = Chart()
        self.guides = self.chart.line(DASHES[2], THIN)
        self.limit = self.chart.line(DASHES[3], LINE)
        self.resistor = self.chart.line(DASHES[1], LINE)
        self.led = self.chart.line("solid", 1.5 * LINE)
        self.points = self.chart.line("none", marker="o", markersize=8, markeredgecolor="black", clip_on=False)
        self.labels = {name: self.chart.label(bold=name.startswith("at")) for name in (*_LINES, "at", "after")}

    def picture(self, result: Steepness, size: Size = NORMAL) -> Picture:
        """Both lines, and both voltages of the result."""
        si, limit = result.si, result.led.si.max_current
        most = nice(1.2 * max(limit, si.current_after))
        factor, unit = current_axis(most)
        currents = np.concatenate([[0.0], np.geomspace(1e-6, 1, 300) * most])
        volts = np.asarray(result.led.model.voltage_si(currents), float)
        volts[0] = 0.0
        self.chart.scale(1.15 * max(volts[-1], si.voltage + si.step), most * factor, "voltage (V)", f"current ({unit})")
        end = self.chart.axes.get_xlim()[1]
        straight = np.linspace(0.0, end, 100)
        data = {
            "led": (volts, currents),
            "limit": (straight, np.full(100, limit)),
        }
        if not result.dark:
            data["resistor"] = straight, straight / si.resistance
        self._draw(result, data, factor)
        self._name(result, {name: self.chart.points(x, y * factor) for name, (x, y) in data.items()}, factor)
        return self.chart.picture(_sentence(result), size)

    def _draw(self, result: Steepness, data: dict[str, tuple[np.ndarray, np.ndarray]], factor: float) -> None:
        si = result.si
        for name in _LINES:
            volts, amps = data.get(name, (np.empty(0), np.empty(0)))
            getattr(self, name).set_data(volts, amps * factor)
        across = np.array([si.voltage, si.voltage + si.step])
        amps = np.array([si.current, si.current_after]) * factor
        self.points.set_data(across, amps)
        self.guides.set_data([across[0]] * 2 + [np.nan] + [across[1]] * 2, [0, amps[0], np.nan, 0, amps[1]])
        for artist in (self.led, self.points):
            artist.set_color(lamp_stroke(result.led.colour))
        self.points.set_markeredgecolor("black")

    def _name(self, result: Steepness, lines: dict[str, np.ndarray], factor: float) -> None:
        si = result.si
        volts, amps = np.array([si.voltage, si.voltage + si.step]), np.array([si.current, si.current_after]) * factor
        upright = np.linspace(0.0, 0.9, 30)[:, np.newaxis] * amps  # the guides, but for the points on their tops
        guides = self.chart.points(np.broadcast_to(volts, upright.shape).ravel(), upright.ravel())
        seen = guides[guides[:, 1] > self.chart.box[1] + _FOOT]
        points = self.chart.points(volts, amps)
        places = Places(self.chart.free, lines | {"guides": seen, "points": np.repeat(points, _POINT, axis=0)})
        limit, far = (
            say(result.led.si.max_current, "A"),
            {
                name: along(lines[name], self.chart.box, share)[:_ANCHORS]
                for name, share in (("limit", 0.3), ("led", 0.9), ("resistor", 1.0))
                if name in lines
            },
        )
        texts = {
            "at": (f"{current_words(si.current)} at {say(si.voltage, 'V')}", points[:1]),
            "after": (f"{current_words(si.current_after)} at {say(si.voltage + si.step, 'V')}", points[1:]),
            "limit": (f"the most it stands: {limit}", far["limit"]),
            "led": (f"{result.led.colour} LED", far["led"]),
        }
        self.labels["resistor"].set_text("")
        if not result.dark:
            texts["resistor"] = f"resistor of {say(si.resistance, 'ohm')}", far["resistor"]
        for name, (text, anchors) in texts.items():
            own = name if name in lines else "led"
            self.chart.put(self.labels[name], text, places.find(text, anchors, own, bold=name == "at"))


def _sentence(result: Steepness) -> str:
    si = result.si
    before, after = (say(volts, "V") for volts in (si.voltage, si.voltage + si.step))
    if result.dark:
        return (
            f"At {before} next to nothing flows through the {result.led.colour} LED: it stays dark. "
            f"At {after} it takes {current_words(si.current_after)}; it begins to be seen at {say(si.lit_from, 'V')}."
        )
    return (
        f"At {before} the {result.led.colour} LED takes {say(si.current, 'A')}, "
        f"at {after} {say(si.current_after, 'A')}: {si.times:.3g} times as much. "
        f"A resistor that starts with the same current takes {say(si.resistor_after, 'A')} then, "
        f"{si.resistor_times:.3g} times as much."
    )

"""An adapter's voltage against its load: what is printed on it, and what it gives."""

from __future__ import annotations

import numpy as np

from ..design.power.adapter import AdapterVoltage
from ..parts.source import Adapter
from ..units import say, say_band
from .chart import Chart, Places, along
from .picture import Picture
from .style import DASHES, LINE, NORMAL, Size

_SHOWN = 60


class AdapterLine:
    """The picture's one figure; `picture` changes its data."""

    def __init__(self) -> None:
        self.chart = Chart()
        self.ripple = self.chart.shade("#ffffff", hatch="////")
        self.band = self.chart.shade("#dcdcdc")
        self.printed = self.chart.line(DASHES[2], LINE)
        self.line = self.chart.line("solid", 1.6 * LINE)
        self.whisker = self.chart.line("solid", LINE, marker="_", markersize=12, markeredgewidth=LINE)
        self.point = self.chart.line("none", marker="o", markersize=9, markerfacecolor="white", markeredgewidth=2.0)
        self.labels = {name: self.chart.label(bold=name == "point") for name in ("point", "printed", "line", "ripple")}

    def picture(self, at: AdapterVoltage, size: Size = NORMAL) -> Picture:
        """The whole line with its band over mains and samples, ripple hatched around it, and the point of the load."""
        si, adapter = at.si, at.adapter
        loads = np.linspace(0.0, adapter.si.max_current, _SHOWN)
        least, nominal, most = (volts - ohms * loads for volts, ohms in adapter.corners)
        swing = adapter.ripple * adapter.si.voltage * loads / adapter.si.max_current / 2
        top = 1.08 * float(max((most + swing).max(), si.peak))
        self.chart.scale(1.02 * adapter.si.max_current * 1e3, top, "load (mA)", "adapter (V)")
        milli = loads * 1e3
        self.band.set_xy(_between(milli, least, most))
        self.ripple.set_xy(_between(milli, least - swing, most + swing))
        self.line.set_data(milli, nominal)
        self.printed.set_data(milli[[0, -1]], [adapter.si.voltage] * 2)
        self.whisker.set_data([si.load * 1e3] * 2, [si.voltage_min, si.voltage_max])
        self.point.set_data([si.load * 1e3], [si.voltage])
        lines = {
            "line": self.chart.points(milli, nominal),
            "printed": self.chart.points(milli, np.full(_SHOWN, adapter.si.voltage)),
        }
        self._name(at, lines, self.chart.points(milli, most + swing))
        return self.chart.picture(sentence(at), size)

    def _name(self, at: AdapterVoltage, lines: dict[str, np.ndarray], edge: np.ndarray) -> None:
        places, adapter = Places(self.chart.free, lines), at.adapter
        said = {
            "point": f"{say(at.si.voltage, 'V')} at {say(at.si.load, 'A')}",
            "printed": f"printed: {say(adapter.si.voltage, 'V')}",
            "line": "" if adapter.regulated else "what it gives",
            "ripple": "hatched: ripple" if adapter.ripple else "",
        }
        anchors = {
            "point": self.chart.points([at.si.load * 1e3], [at.si.voltage]),
            "printed": along(lines["printed"], self.chart.box, 0.25),
            "line": along(lines["line"], self.chart.box, 0.6),
            "ripple": along(edge, self.chart.box, 0.8),
        }
        for name, text in said.items():
            place = places.find(text, anchors[name], name, bold=name == "point") if text else (0.0, 0.0)
            self.chart.put(self.labels[name], text, place)


def _between(across: np.ndarray, low: np.ndarray, high: np.ndarray) -> np.ndarray:
    return np.column_stack([np.concatenate([across, across[::-1]]), np.concatenate([low, high[::-1]])])


def sentence(at: AdapterVoltage) -> str:
    """What it gives at the load, beside what is printed."""
    si, adapter = at.si, at.adapter
    band = say_band(si.voltage_min, si.voltage, si.voltage_max, "V")
    ripple = f", with ripple up to {say(si.peak, 'V')}" if si.ripple > 0 else ""
    return f"With {say(si.load, 'A')} the {_named(adapter)} gives {band}{ripple}."


def _named(adapter: Adapter) -> str:
    return f"{adapter.name} adapter"

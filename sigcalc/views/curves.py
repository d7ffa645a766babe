"""Current against voltage: the curves of one LED or two, with the points one was fitted to."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from ..design.lamp.drive import as_string
from ..errors import RangeError
from ..parts.led import Exponential, Led, read_points
from ..units import Current, say, with_units
from .canvas import wrapped
from .chart import Chart, Places, along, current_axis, nice
from .picture import Picture
from .style import DASHES, LINE, NORMAL, THIN, Size, lamp_stroke

_MOST = 2


class Curves:
    """The picture's one figure; `picture` changes its data."""

    def __init__(self) -> None:
        self.chart = Chart()
        self.guide = self.chart.line(DASHES[2], THIN)
        self.residuals = self.chart.line("solid", LINE)
        self.lines = [self.chart.line(dash, 1.3 * LINE) for dash in DASHES[:_MOST]]
        style = {"markersize": 8, "markerfacecolor": "white", "markeredgecolor": "black"}
        self.measured = self.chart.line("none", marker="o", **style)
        self.labels = [self.chart.label(bold=True) for _ in self.lines]
        self.guide_label = self.chart.label()

    @with_units(scalar=True)
    def picture(
        self,
        leds: Led | Sequence[Led],
        points: Sequence[Any] = (),
        current: Current = "10 mA",
        size: Size = NORMAL,
    ) -> Picture:
        """The curves of one or two LEDs or plain diodes.

        Parameters
        ----------
        leds: one Led, or two as a list
        points: pairs (voltage, current), as text or quantities, to which the first one was fitted
        current: where the drops are read off and named

        Raises RangeError for more than two LEDs, UnitError for points that cannot be read.
        """
        shown = as_string(leds, "leds")
        if len(shown) > _MOST:
            raise RangeError(argument="leds", need=f"at most {_MOST} parts in one picture", given=str(len(shown)))
        volts, amps = read_points(points) if len(points) else (np.empty(0), np.empty(0))
        most = nice(max(*(each.si.max_current for each in shown), current, *amps, 1e-6))
        factor, unit = current_axis(most)
        currents = np.concatenate([[0.0], np.geomspace(1e-6, 1 / 200, 30) * most, np.linspace(0.005, 1, 200) * most])
        curves = [np.append(0.0, np.asarray(each.model.voltage_si(currents), float)[1:]) for each in shown]
        widest = max(*(float(each[-1]) for each in curves), *volts, 0.4)
        # the names are beside their curves and need room to the right of them
        self.chart.scale(1.25 * widest, most * factor, "voltage (V)", f"current ({unit})")
        for number, line in enumerate(self.lines):
            line.set_data(
                curves[number] if number < len(shown) else [], currents * factor if number < len(shown) else []
            )
            line.set_color(lamp_stroke(shown[min(number, len(shown) - 1)].colour))
        self.measured.set_data(volts, amps * factor)
        gaps = np.full((len(volts), 3, 2), np.nan)  # each point joined to the curve at its current
        gaps[:, :2, 1] = amps[:, np.newaxis] * factor
        gaps[:, 0, 0], gaps[:, 1, 0] = volts, shown[0].model.voltage_si(amps) if len(amps) else amps
        self.residuals.set_data(gaps[..., 0].ravel(), gaps[..., 1].ravel())
        self.guide.set_data([0.0, self.chart.axes.get_xlim()[1]], [current * factor] * 2)
        self._name(shown, curves, currents * factor, (volts, amps * factor), current * factor, say(current, "A"))
        return self.chart.picture(_sentence(shown, len(volts), current), size)

    def _name(self, shown: Sequence[Led], curves: Any, currents: Any, measured: Any, level: float, said: str) -> None:
        lines = {str(number): self.chart.points(each, currents) for number, each in enumerate(curves)}
        lines["guide"] = self.chart.points(np.linspace(0.0, self.chart.axes.get_xlim()[1], 100), level)
        places = Places(self.chart.free, lines | {"measured": self.chart.points(*measured)})
        self.chart.put(self.guide_label, said, places.find(said, along(lines["guide"], self.chart.box, 0.0), "guide"))
        for number, label in enumerate(self.labels):
            label.set_text("")
            if number < len(shown):
                text, anchors = (
                    wrapped(shown[number].name, 120.0, 1)[0],
                    along(lines[str(number)], self.chart.box, 0.85),
                )
                self.chart.put(label, text, places.find(text, anchors, str(number), bold=True))


def _sentence(shown: Sequence[Led], count: int, current: float) -> str:
    drops = " and ".join(f"{say(each.model.voltage_si(current), 'V')} for {each.name}" for each in shown)
    said = f"At {say(current, 'A')} the voltage is {drops}."
    fit = shown[0].model.fit if isinstance(shown[0].model, Exponential) else None
    if not count or fit is None:
        return said
    if fit.si.residual is None:
        why = fit.assumption or "as many readings as unknowns: a fourth would show how well they fit"
        return f"{said} No residual can be given for {count} point{'s' if count > 1 else ''}; {why}."
    poor = ": a poor fit, look for a misread point" if fit.poor else ""
    missed = say(fit.si.residual, "V", 2)
    return f"{said} The curve misses the {count} points by {missed} (root mean square){poor}."

"""Current against voltage: the curves of one LED or several, with the points one was fitted to."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from ..design.lamp.drive import as_string
from ..errors import RangeError, UnitError
from ..parts.led import Exponential, Led
from ..units import Current, Voltage, kind_of, say, with_units
from .canvas import wrapped
from .chart import Chart, Places, along, current_axis, nice
from .picture import Picture
from .style import DASHES, LINE, NORMAL, TEXT, THIN, Size, lamp_stroke

_ROOM = (60.0, 46.0, 14.0, 14.0)
_ROOM_WITH_KEY = (60.0, 46.0, 150.0, 14.0)
_MOST = len(DASHES)
_LETTERS = "ABCDEF"
Points = tuple[np.ndarray, np.ndarray]


class Curves:
    """The picture's one figure; `picture` changes its data."""

    def __init__(self) -> None:
        self.chart = Chart(_ROOM)
        self.guide = self.chart.line(DASHES[2], THIN)
        self.residuals = self.chart.line("solid", LINE)
        self.lines = [self.chart.line(dash, 1.3 * LINE) for dash in DASHES]
        self.measured = self.chart.line(
            "none", marker="o", markersize=8, markerfacecolor="white", markeredgecolor="black"
        )
        self.labels = [self.chart.label(bold=True) for _ in DASHES]
        self.key = [self.chart.label() for _ in range(2 * _MOST)]
        self.guide_label = self.chart.label()

    @with_units(scalar=True)
    def picture(
        self,
        leds: Led | Sequence[Led],
        points: Sequence[Any] = (),
        current: Current = "10 mA",
        up_to: Current | None = None,
        size: Size = NORMAL,
    ) -> Picture:
        """The curves of one to six LEDs or plain diodes.

        Parameters
        ----------
        leds: one Led or several
        points: pairs (voltage, current), as text or quantities, to which the first one was fitted
        current: where the drops are read off and named
        up_to: top of the current axis; the largest rated current if not given

        Raises RangeError for more than six LEDs, UnitError for points that cannot be read.
        """
        shown = as_string(leds, "leds")
        if len(shown) > _MOST:
            raise RangeError(f"leds needs at most {_MOST} parts in one picture, but {len(shown)} came; compare fewer")
        measured = _read(points)
        rated = max(each.si.max_current for each in shown)
        most = nice(max(rated if up_to is None else up_to, current, *measured[1], 1e-6))
        currents = np.concatenate([[0.0], np.geomspace(1e-6, 1 / 200, 30) * most, np.linspace(0.005, 1, 200) * most])
        volts = [np.asarray(each.model.voltage_si(currents), float) for each in shown]
        for each in volts:
            each[0] = 0.0
        self.factor, unit = current_axis(most)
        factor = self.factor
        self.chart.set_room(_ROOM if len(shown) < 3 else _ROOM_WITH_KEY)
        widest = max(float(each[-1]) for each in volts)
        # one or two names stand beside their curves and need room to the right of them
        room = 1.25 if len(shown) < 3 else 1.03
        self.chart.scale(room * max(widest, *measured[0], 0.4), most * factor, "voltage (V)", f"current ({unit})")
        self._draw(shown, volts, currents, factor)
        self._mark(shown[0], measured, current, factor)
        lines = {str(number): self.chart.points(each, currents * factor) for number, each in enumerate(volts)}
        self._name(shown, lines, measured, current)
        return self.chart.picture(_sentence(shown, len(measured[0]), current), size)

    def _draw(self, shown: Sequence[Led], volts: list[np.ndarray], currents: np.ndarray, factor: float) -> None:
        for line, led, across in zip(self.lines, shown, volts, strict=False):
            line.set_data(across, currents * factor)
            line.set_color(lamp_stroke(led.colour))
        for line in self.lines[len(shown) :]:
            line.set_data([], [])

    def _mark(self, first: Led, measured: Points, current: float, factor: float) -> None:
        """The measured points, each joined to the curve at its current, and the line at which the drops are named."""
        volts, amps = measured
        self.measured.set_data(volts, amps * factor)
        gaps = np.full((len(volts), 3, 2), np.nan)
        if len(volts):
            gaps[:, :2, 1] = amps[:, np.newaxis] * factor
            gaps[:, 0, 0], gaps[:, 1, 0] = volts, first.model.voltage_si(amps)
        self.residuals.set_data(gaps[..., 0].ravel(), gaps[..., 1].ravel())
        self.guide.set_data([0.0, self.chart.axes.get_xlim()[1]], [current * factor] * 2)

    def _name(self, shown: Sequence[Led], lines: dict[str, np.ndarray], measured: Points, current: float) -> None:
        """One or two LEDs are named beside their curves, more of them by letters on the curves with a key."""
        factor = self.factor
        lines["guide"] = self.chart.points(np.linspace(0.0, self.chart.axes.get_xlim()[1], 100), current * factor)
        places = Places(self.chart.free, lines | {"measured": self.chart.points(measured[0], measured[1] * factor)})
        said = say(current, "A")
        self.chart.put(self.guide_label, said, places.find(said, along(lines["guide"], self.chart.box, 0.0), "guide"))
        for number, label in enumerate(self.labels):
            label.set_text("")
            if number >= len(shown):
                continue
            line = lines[str(number)]
            if len(shown) < 3:
                text = wrapped(shown[number].name, 120.0, 1)[0]
                self.chart.put(
                    label, text, places.find(text, along(line, self.chart.box, 0.85), str(number), bold=True)
                )
            else:
                x, y = line[int((0.95 - 0.13 * number) * len(line))]
                self.chart.put(label, _LETTERS[number], (x - 4, y - 4))
        self._write_key(shown)

    def _write_key(self, shown: Sequence[Led]) -> None:
        texts = []
        if len(shown) > 2:
            for letter, led in zip(_LETTERS, shown, strict=False):
                first, *rest = wrapped(led.name, 116.0, 2)
                texts += [f"{letter}: {first}", *(f"     {line}" for line in rest)]
        for number, label in enumerate(self.key):
            text = texts[number] if number < len(texts) else ""
            label.set_text("")
            if text:
                y = self.chart.box[3] - TEXT - number * 1.35 * TEXT
                self.chart.put(label, text, (self.chart.box[2] + 12 + (16 if text[0] == " " else 0), y))


def _read(points: Sequence[Any]) -> Points:
    if any(isinstance(each, str) or not isinstance(each, Sequence) or len(each) != 2 for each in points):
        raise UnitError('points needs pairs of voltage and current, such as [("1.9 V", "5 mA"), ("2.0 V", "20 mA")]')
    volts = [kind_of(Voltage).read(each[0], "voltage of a point", scalar=True) for each in points]
    amps = [kind_of(Current).read(each[1], "current of a point", scalar=True) for each in points]
    return np.array(volts, float), np.array(amps, float)


def _sentence(shown: Sequence[Led], count: int, current: float) -> str:
    drops = [f"{say(each.model.voltage_si(current), 'V')} for {each.name}" for each in shown]
    listed = drops[0] if len(drops) == 1 else ", ".join(drops[:-1]) + " and " + drops[-1]
    return f"At {say(current, 'A')} the voltage is {listed}." + _fit_words(shown[0], count)


def _fit_words(led: Led, count: int) -> str:
    """How the curve was fitted, where points are shown."""
    fit = led.model.fit if isinstance(led.model, Exponential) else None
    if not count or fit is None:
        return ""
    if fit.si.residual is None:
        why = fit.assumption or "as many readings as unknowns: a fourth would show how well they fit"
        return f" No residual can be given for {count} point{'s' if count > 1 else ''}; {why}."
    poor = ": a poor fit, look for a misread point" if fit.poor else ""
    return f" The curve misses the {count} points by {say(fit.si.residual, 'V', 2)} (root mean square){poor}."

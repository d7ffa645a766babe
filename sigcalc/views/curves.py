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
from .chart import Chart, current_axis, nice
from .picture import Picture
from .style import DASHES, LINE, NORMAL, THIN, Size

_MOST = 2


class Curves(Chart):
    """The picture's one figure; `picture` changes its data."""

    def __init__(self) -> None:
        dots = {"markersize": 8, "markerfacecolor": "white", "markeredgecolor": "black"}
        lines = {
            "guide": {"ls": DASHES[2], "lw": THIN},
            "gaps": {},
            "first": {"lw": 1.3 * LINE},
            "second": {"ls": DASHES[1], "lw": 1.3 * LINE},
            "measured": {"ls": "none", "marker": "o", **dots},
        }
        super().__init__(lines, ("guide", "first", "second"), ("first", "second"))

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
        right, _ = self.scale(1.25 * widest, most * factor, "voltage (V)", f"current ({unit})", size)
        fitted = shown[0].model.voltage_si(amps) if len(amps) else amps  # each point is joined to the curve
        gaps = np.array([[volts, fitted, np.full(len(volts), np.nan)], [amps * factor] * 3])
        series = dict(zip(("first", "second"), ((each, currents * factor) for each in curves), strict=False))
        level = (np.linspace(0.0, right, 100), np.full(100, current * factor))
        lines = self.draw(
            guide=level, gaps=gaps.swapaxes(1, 2).reshape(2, -1), measured=(volts, amps * factor), **series
        )
        said = {"guide": (say(current, "A"), 0.0)}
        for name, led in zip(("first", "second"), shown, strict=False):
            self.paint(led.colour, name)
            said[name] = wrapped(led.name, 120.0, 1)[0], 0.85
        self.name(lines, said)
        return self.printed(_sentence(shown, len(volts), current), size)


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

"""The battery's voltage while it runs down, against what relay and timer board need."""

from __future__ import annotations

import numpy as np

from ..design.power.load import Load
from ..design.power.run_result import RunTime
from ..units import say
from .chart import Chart, Places, along
from .picture import Picture
from .style import DASHES, LINE, NORMAL, Size

_HOUR = 3600.0
_HEIGHT = 240.0  # as the light against the same hours


class RunVoltage:
    """The picture's one figure; `picture` changes its data."""

    def __init__(self) -> None:
        self.chart = Chart(height=_HEIGHT)
        self.needs = [self.chart.line(DASHES[1], LINE), self.chart.line(DASHES[3], LINE)]
        self.voltage = self.chart.line("solid", 1.6 * LINE)
        self.end = self.chart.line("none", marker="X", markersize=11, markeredgecolor="white")
        self.labels = {name: self.chart.label(bold=name == "end") for name in ("end", "voltage", "relay", "timer")}

    def picture(self, run: RunTime, size: Size = NORMAL) -> Picture:
        """The nominal run of a Load up to its end."""
        hours, volts = run.curve.si.time / _HOUR, run.curve.si.voltage
        self.chart.scale(1.04 * hours[-1], 1.08 * float(volts.max()), "hours switched on", "battery (V)")
        across = np.linspace(0.0, self.chart.axes.get_xlim()[1], 60)
        needs = _needs(run)
        lines = {"voltage": self.chart.points(hours, volts)}
        for line, key in zip(self.needs, ("relay", "timer"), strict=True):
            line.set_data(across if key in needs else [], [needs[key]] * 60 if key in needs else [])
            if key in needs:
                lines[key] = self.chart.points(across, needs[key])
        self.voltage.set_data(hours, volts)
        self.end.set_data([hours[-1]], [volts[-1]])
        places = Places(self.chart.free, lines)
        said = {"end": f"fails at {say(volts[-1], 'V')}", "voltage": "battery"}
        said |= {key: f"{_WORDS[key]} {say(volts, 'V')}" for key, volts in needs.items()}
        anchors = {"end": self.chart.points([hours[-1]], [volts[-1]])}
        anchors |= {key: along(line, self.chart.box, 0.25) for key, line in lines.items()}
        for key, label in self.labels.items():
            place = places.find(said[key], anchors[key], key) if key in said else (0.0, 0.0)
            self.chart.put(label, said.get(key, ""), place)
        return self.chart.picture(_sentence(run, needs), size)


_WORDS = {"relay": "relay pulls in from", "timer": "timer board needs"}


def _needs(run: RunTime) -> dict[str, float]:
    """The least voltages in V of relay and timer board, where there are any."""
    needs: dict[str, float] = {}
    if isinstance(run.load, Load) and run.load.relay is not None:
        needs["relay"] = run.load.relay.si.rated_voltage * run.load.relay.si.must_operate
    if isinstance(run.load, Load) and run.load.timer_voltage is not None:
        needs["timer"] = run.load.si.timer_voltage
    return needs


def _sentence(run: RunTime, needs: dict[str, float]) -> str:
    volts = run.curve.si.voltage
    from_to = f"from {say(volts[0], 'V')} to {say(volts[-1], 'V')}"
    fell = f"In {say(run.si.hours, 's', 2)} the battery under load falls {from_to}"
    words = [f"the {_WORDS[key]} {say(limit, 'V')}" for key, limit in needs.items()]
    return f"{fell}{'; ' if words else ''}{' and '.join(words)}."

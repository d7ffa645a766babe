"""How the light goes while a battery runs down: when the eye notices, when it fails, and how sure that is."""

from __future__ import annotations

import math

import numpy as np

from ..design.power.drive_choice import HALF
from ..design.power.run_result import EMPTY, RunTime
from ..units import say, say_band
from .chart import Chart, Places, along
from .picture import Picture
from .style import DASHES, LINE, NORMAL, THIN, Size

_HOUR = 3600.0
_SHOWN = 240
_HEIGHT = 240.0  # lower than usual: a run has much to say below its picture
_WHISKER = 7.0  # per cent of light, where the band of the end is drawn


class RunTimeCurve:
    """The picture's one figure; `picture` changes its data."""

    def __init__(self) -> None:
        self.chart = Chart(height=_HEIGHT)
        self.band = self.chart.shade("#dcdcdc")
        self.guide = self.chart.line(DASHES[2], THIN)
        self.whiskers = self.chart.line("solid", LINE, marker="|", markersize=11, markeredgewidth=LINE)
        self.other = self.chart.line(DASHES[1], LINE)
        self.light = self.chart.line("solid", 1.6 * LINE)
        self.end = self.chart.line("none", marker="X", markersize=11, markeredgecolor="white")
        self.half = self.chart.line("none", marker="o", markersize=9, markerfacecolor="white", markeredgewidth=2.0)
        names = ("half", "end", "light", "other", "guide")
        self.labels = {name: self.chart.label(bold=name in ("half", "end")) for name in names}

    def picture(
        self, run: RunTime, name: str, other: RunTime | None = None, other_name: str = "", size: Size = NORMAL
    ) -> Picture:
        """The light of one run with its band, and beside it the line of another.

        Parameters
        ----------
        run, other: of the same lamp, such as with a resistor and with a driver
        name, other_name: what stands beside their lines

        A ring marks where half the light is gone, a cross the end; a bar with two ends shows the
        end over the spread of battery, drive and LEDs.
        """
        most = 1.04 * max(run.si.hours_max, other.si.hours if other is not None else 0.0) / _HOUR
        self.chart.scale(most, 112.0, "hours switched on", "light (% of the start)")
        lines = self._draw(run, other)
        self._name(run, name, other_name if other is not None else "", lines)
        return self.chart.picture(sentence(run), size)

    def _draw(self, run: RunTime, other: RunTime | None) -> dict[str, np.ndarray]:
        end, half = run.si.hours / _HOUR, _half(run)
        series = {"light": _falling(run), "other": _falling(other) if other is not None else np.empty((0, 2))}
        self.light.set_data(*series["light"].T)
        self.other.set_data(*series["other"].T)
        self.band.set_xy(_outline(run))
        self.end.set_data([end], [100 * float(run.curve.light[-1])])
        self.half.set_data([] if half is None else [half], [] if half is None else [100 * HALF])
        self.whiskers.set_data([run.si.hours_min / _HOUR, run.si.hours_max / _HOUR], [_WHISKER] * 2)
        across = np.linspace(0.0, self.chart.axes.get_xlim()[1], 60)
        self.guide.set_data(across[[0, -1]], [100 * HALF] * 2)
        series |= {
            "guide": np.column_stack([across, np.full(60, 100 * HALF)]),
            "end": np.column_stack(
                [np.linspace(run.si.hours_min, run.si.hours_max, 60) / _HOUR, np.full(60, _WHISKER)]
            ),
        }
        return {key: self.chart.points(*each.T) for key, each in series.items() if len(each)}

    def _name(self, run: RunTime, name: str, other_name: str, lines: dict[str, np.ndarray]) -> None:
        places, half = Places(self.chart.free, lines), _half(run)
        end_at = self.chart.points([run.si.hours / _HOUR] * 2, [_WHISKER, 100 * float(run.curve.light[-1])])
        wanted = {
            "end": (f"fails: {_hours(run.si.hours)}", [*end_at, *lines["end"][::6]]),
            "half": ("", []),
            "light": (name, along(lines["light"], self.chart.box, 0.3)),
            "other": (other_name, along(lines.get("other", lines["light"]), self.chart.box, 0.6)),
            "guide": ("half the light", along(lines["guide"], self.chart.box, 0.05)),
        }
        if half is not None:
            said = f"the eye notices: {_hours(half * _HOUR)}"
            wanted["half"] = said, self.chart.points([half], [100 * HALF])
        for key, (text, anchors) in wanted.items():
            place = places.find(text, anchors, key) if text else (0.0, 0.0)
            self.chart.put(self.labels[key], text, place)


def run_time_picture(run: RunTime, size: Size = NORMAL) -> Picture:
    """The light of one run alone, such as that of a plan's evening: a still picture for a page or a sheet."""
    return RunTimeCurve().picture(run, f"with a {run.load.drive.kind}", size=size)


def _half(run: RunTime) -> float | None:
    """The hour at which half the light is gone with typical parts; None where the run ends before."""
    when = float(run.when_light(HALF)[1].m_as("s"))
    return when / _HOUR if when <= run.si.hours else None


def _falling(run: RunTime) -> np.ndarray:
    """Hours and per cent along the nominal run; where the battery is empty it falls to nothing."""
    points = np.column_stack([run.curve.si.time / _HOUR, 100 * np.asarray(run.curve.light)])
    return np.vstack([points, [points[-1, 0], 0.0]]) if run.ended_by == EMPTY else points


def _outline(run: RunTime) -> np.ndarray:
    """The area between the least and the most light of all corners, up to the latest end."""
    times = np.linspace(0.0, run.si.hours_max, _SHOWN)
    pairs = zip(run.spread.time, run.spread.light, strict=True)
    lights = np.array([np.interp(times, time, light, right=0.0) for time, light in pairs])
    low, high = 100 * lights.min(axis=0), 100 * lights.max(axis=0)
    hours = times / _HOUR
    return np.column_stack([np.concatenate([hours, hours[::-1]]), np.concatenate([low, high[::-1]])])


def sentence(run: RunTime) -> str:
    """When the eye notices, and when and why the run ends."""
    lasts = say_band(run.si.hours_min, run.si.hours, run.si.hours_max, "s", 2)
    return f"The {run.battery.name} battery runs it for {lasts}; then {run.end}. {_notices(run)}"


def _notices(run: RunTime) -> str:
    least, nominal, most = (float(each) for each in run.when_light(HALF).m_as("s"))
    if nominal <= run.si.hours:
        spread = f"{_hours(least)} to {_hours(most)}" if math.isfinite(most) else f"{_hours(least)} or later"
        return f"The eye notices after {_hours(nominal)} ({spread}), when half the light is gone."
    weak = f"; with poor parts it may be after {_hours(least)}" if least < run.si.hours else ""
    return f"Half the light is not gone before that{weak}."


def _hours(seconds: float) -> str:
    return say(seconds, "s", 2)

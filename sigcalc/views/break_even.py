"""What batteries and an adapter cost, evening after evening, and where the two meet."""

from __future__ import annotations

import math

import numpy as np

from ..design.power.running_cost import BreakEven
from .chart import Chart, Places, along
from .picture import Picture
from .style import DASHES, LINE, NORMAL, THIN, Size

_LEAST_SHOWN, _NEVER_SHOWN = 8.0, 200.0
_SHOWN = 60
Costs = tuple[float, float, float]
"""Least, nominal and most, in the reader's currency."""


class BreakEvenChart:
    """The picture's one figure; `picture` changes its data."""

    def __init__(self) -> None:
        self.chart = Chart((60.0, 46.0, 24.0, 14.0))  # room for a long number at the right end
        self.band = self.chart.shade("#dcdcdc")
        self.guide = self.chart.line(DASHES[2], THIN)
        self.adapter = self.chart.line(DASHES[1], 1.4 * LINE)
        self.batteries = self.chart.line("solid", 1.6 * LINE)
        self.spread = self.chart.line("solid", LINE)
        self.spread_ends = self.chart.line("none", LINE, marker="|", markersize=11, markeredgewidth=LINE)
        self.meeting = self.chart.line("none", marker="o", markersize=9, markerfacecolor="white", markeredgewidth=2.0)
        self.labels = {name: self.chart.label(bold=name == "meeting") for name in ("meeting", "batteries", "adapter")}

    def picture(self, result: BreakEven, adapter_price: float, per_evening: Costs, size: Size = NORMAL) -> Picture:
        """Both costs against the number of evenings.

        Parameters
        ----------
        result: what `break_even` gives
        adapter_price: where the adapter's line begins
        per_evening: what batteries cost each evening, over the spread of how long they last

        A ring marks the evening from which the adapter is cheaper, a bar with two ends its band.
        """
        meets = math.isfinite(result.evening)
        evenings = np.linspace(0.0, max(2.0 * result.evening, _LEAST_SHOWN) if meets else _NEVER_SHOWN, _SHOWN)
        least, nominal, most = (evenings * each for each in per_evening)
        adapter = adapter_price + evenings * result.adapter_per_evening
        top = 1.15 * max(float(nominal[-1]), float(adapter[-1]), 1e-3)
        self.chart.scale(float(evenings[-1]), top, "evenings", "cost (your currency)")
        # cut off by hand where it leaves the axes: a clipping path of a page with several charts is not to be relied on
        most = np.minimum(most, self.chart.axes.get_ylim()[1])
        self.batteries.set_data(evenings, nominal)
        self.adapter.set_data(evenings, adapter)
        self.band.set_xy(
            np.column_stack([np.concatenate([evenings, evenings[::-1]]), np.concatenate([least, most[::-1]])])
        )
        self._mark(result, adapter_price, meets)
        lines = {"batteries": self.chart.points(evenings, nominal), "adapter": self.chart.points(evenings, adapter)}
        self._name(result, lines, meets)
        return self.chart.picture(sentence(result), size)

    def _mark(self, result: BreakEven, adapter_price: float, meets: bool) -> None:
        height = adapter_price + result.evening * result.adapter_per_evening if meets else 0.0
        self.meeting.set_data([result.evening] if meets else [], [height] if meets else [])
        self.guide.set_data([result.evening] * 2 if meets else [], [0.0, height] if meets else [])
        right = self.chart.axes.get_xlim()[1]
        low = 0.06 * self.chart.axes.get_ylim()[1]
        ends = [result.evening_min, result.evening_max] if meets else []
        seen = [each for each in ends if each <= right]  # the bar of a band that goes on beyond the sheet has no end
        self.spread_ends.set_data(seen, [low] * len(seen))
        self.spread.set_data([min(each, right) for each in ends], [low] * len(ends))

    def _name(self, result: BreakEven, lines: dict[str, np.ndarray], meets: bool) -> None:
        places = Places(self.chart.free, lines)
        texts = {
            "meeting": f"evening {result.evening:.0f}" if meets else "",
            "batteries": "batteries",
            "adapter": "adapter",
        }
        anchors = {
            "meeting": self.chart.points(*(each[:1] for each in self.meeting.get_data())) if meets else [],
            "batteries": along(lines["batteries"], self.chart.box, 0.85),
            "adapter": along(lines["adapter"], self.chart.box, 0.9),
        }
        for name, text in texts.items():
            place = places.find(text, anchors[name], name, bold=name == "meeting") if text else (0.0, 0.0)
            self.chart.put(self.labels[name], text, place)


def sentence(result: BreakEven) -> str:
    """From which evening on the adapter is cheaper."""
    each = (
        f"An evening costs {money(result.battery_per_evening)} in batteries and {money(result.adapter_per_evening)} in "
        "mains energy"
    )
    if not math.isfinite(result.evening):
        return f"{each}: at these prices the adapter never pays for itself."
    if result.evening == 0:
        return f"{each}: the adapter, which costs nothing, is cheaper from the first evening on."
    latest = f"{result.evening_max:.0f}" if math.isfinite(result.evening_max) else "never"
    return (
        f"{each}. From evening {result.evening:.0f} ({result.evening_min:.0f} to {latest}) on the adapter is cheaper; "
        f"that comes after {_long(result.after_years)}."
    )


def money(amount: float) -> str:
    """An amount in the reader's currency, to a hundredth; small ones to a thousandth."""
    if 0 < amount < 0.001:
        return "under 0.001"
    return f"{amount:.2f}" if amount >= 0.01 or amount == 0 else f"{amount:.3f}"


def _long(years: float) -> str:
    """A time in years as people say it."""
    days = years * 365.25
    if days < 45:
        return f"{days:.0f} day{'' if round(days) == 1 else 's'}"
    return f"{days / 30.44:.0f} months" if years < 2 else f"{years:.0f} years"

"""The weakest lamp's light against the number of signals, with the most that are allowed."""

from __future__ import annotations

import numpy as np

from ..design.board.adding_signals import Adding
from ..design.board.most_signals import BY_ADAPTER, BY_COUNT, BY_LIGHT, MostSignals
from ..units import say
from .canvas import text_width
from .chart import Chart, Places, along
from .picture import Picture
from .style import DASHES, LINE, NORMAL, SHADE, Size

_ROOM = (60.0, 46.0, 14.0, 32.0)
_BEYOND = {
    BY_ADAPTER: "one more is too much for the adapter",
    BY_LIGHT: "with one more the last is too dim",
    BY_COUNT: "no end was found",
}


class MostSignalsChart:
    """The picture's one figure; `picture` changes its data."""

    def __init__(self) -> None:
        self.chart = Chart(_ROOM)
        self.beyond = self.chart.shade(SHADE, hatch="//")
        self.wanted = self.chart.line(DASHES[1], LINE)
        self.most = self.chart.line(DASHES[3], LINE)
        self.curve = self.chart.line("solid", 1.5 * LINE, marker="o", markersize=5, clip_on=False)
        self.labels = {name: self.chart.label(bold=name == "most") for name in ("curve", "wanted", "most")}

    def picture(self, result: MostSignals, adding: Adding, size: Size = NORMAL) -> Picture:
        """The curve through what `add_signals` found, and what `most_signals` allows."""
        count, share = np.asarray(adding.count, float), 100 * adding.si.share
        self.chart.scale(max(count.max(), result.count + 1), 100, "number of signals", "light of the weakest (%)")
        end = self.chart.axes.get_xlim()[1]
        at = result.count + 0.5
        self.curve.set_data(count, share)
        self.wanted.set_data([0, end], [100 * result.wanted] * 2)
        self.most.set_data([at, at], [0, 100])
        self.beyond.set_xy([[at, 0], [end, 0], [end, 100], [at, 100]])
        self._name(result, count, share, end)
        return self.chart.picture(_sentence(result), size)

    def _name(self, result: MostSignals, count: np.ndarray, share: np.ndarray, end: float) -> None:
        """The end above the axes, where nothing can lie under it; the two lines beside themselves."""
        across = np.linspace(count[0], count[-1], 100)
        lines = {
            "curve": self.chart.points(across, np.interp(across, count, share)),
            "wanted": self.chart.points(np.linspace(0, end, 100), 100 * result.wanted),
            "most": self.chart.points(result.count + 0.5, np.linspace(0, 100, 100)),
        }
        places = Places(self.chart.box, lines)
        texts = {
            "wanted": (f"asked for: {say(result.wanted, '')}", along(lines["wanted"], self.chart.box, 0.1)),
            "curve": ("the weakest lamp", along(lines["curve"], self.chart.box, 0.4)),
        }
        for name, (text, anchors) in texts.items():
            self.chart.put(self.labels[name], text, places.find(text, anchors, name))
        text = f"{result.count} at most: {_BEYOND[result.limited_by]}"
        width, (left, _, right, top) = 1.12 * text_width(text, bold=True), self.chart.box  # some fonts are wider
        start = min(max(lines["most"][0, 0] - width / 2, left), right - width)
        self.chart.put(self.labels["most"], text, (start, top + 10))


def _sentence(result: MostSignals) -> str:
    si = result.si
    many = f"{result.count} signals" if result.count > 1 else "One signal"
    why = {
        BY_ADAPTER: f"one more would ask too much of the adapter ({say(si.next_current, 'A')})",
        BY_LIGHT: f"one more would leave the weakest lamp {say(result.next_share, '')} of its light",
        BY_COUNT: "no end was found",
    }[result.limited_by]
    return (
        f"{many}, {say(si.current, 'A')} together, the weakest lamp with {say(result.share, '')} of its light at "
        f"worst: {why}."
    )

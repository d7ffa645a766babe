"""The hold against the turn of the pot, with the band of bought parts and the hold that is wanted."""

from __future__ import annotations

import numpy as np

from ..design.train.hold import Hold
from ..units import Time, say, with_units
from .chart import Chart, Places, along
from .picture import Picture
from .style import DASHES, LINE, NORMAL, Size

_TURNS = np.linspace(0.0, 1.0, 41)


class HoldCurve:
    """The picture's one figure; `picture` changes its data."""

    def __init__(self) -> None:
        self.chart = Chart(height=290.0)
        self.band = self.chart.shade("#d9d9d9")
        self.least, self.most = self.chart.line(DASHES[2], 1.2), self.chart.line(DASHES[2], 1.2)
        self.hold = self.chart.line("solid", 1.5 * LINE)
        self.wanted = self.chart.line(DASHES[1], LINE)
        self.point = self.chart.line("none", marker="o", markersize=9, markeredgecolor="black", clip_on=False)
        self.labels = {name: self.chart.label(bold=name == "point") for name in ("hold", "wanted", "point")}

    @with_units(scalar=True)
    def picture(self, hold: Hold, wanted: Time | None = None, size: Size = NORMAL) -> Picture:
        """The curve of a hold's circuit with the pot where it stands, and a hold that is wanted.

        Parts whose hold may never end reach to the picture's upper edge.
        """
        seconds = np.transpose(list(hold.circuit.seconds(hold.si.supply, _TURNS)))
        finite = seconds[np.isfinite(seconds)]
        top = 1.08 * max(float(seconds[:, 1][np.isfinite(seconds[:, 1])].max(initial=0.1)), wanted or 0.0)
        top = max(top, min(1.05 * float(finite.max()), 2 * top))
        self.chart.scale(100.0, top, "turn of the pot (%)", "hold (s)")
        drawn = np.minimum(seconds, 2 * self.chart.axes.get_ylim()[1])
        lines = self._draw(drawn, hold, wanted)
        self._name(lines, hold, wanted)
        return self.chart.picture(hold.sentence, size)

    def _draw(self, drawn: np.ndarray, hold: Hold, wanted: float | None) -> dict[str, np.ndarray]:
        turns = 100 * _TURNS
        least, nominal, most = drawn.T
        self.band.set_xy(np.column_stack([np.append(turns, turns[::-1]), np.append(least, most[::-1])]))
        for artist, values in ((self.least, least), (self.hold, nominal), (self.most, most)):
            artist.set_data(turns, values)
        flat = np.full(len(turns), np.nan if wanted is None else wanted)
        self.wanted.set_data(turns, flat)
        self.point.set_data([100 * hold.si.turn], [min(hold.si.hold, 2 * drawn.max())])
        self.point.set_markerfacecolor("black")
        lines = {"hold": self.chart.points(turns, nominal)}
        if wanted is not None:
            lines["wanted"] = self.chart.points(turns, flat)
        return lines

    def _name(self, lines: dict[str, np.ndarray], hold: Hold, wanted: float | None) -> None:
        places = Places(self.chart.free, lines)
        texts = {"point": f"{say(hold.si.hold, 's')} at {say(hold.si.turn, '')}", "hold": "as printed; grey: as bought"}
        anchors = {"point": self.chart.points(100 * hold.si.turn, hold.si.hold)}
        anchors["hold"] = along(lines["hold"], self.chart.box, preferred=0.5)
        if wanted is not None:
            texts["wanted"] = f"wanted: {say(wanted, 's')}"
            anchors["wanted"] = along(lines["wanted"], self.chart.box, preferred=0.2)
        for name, label in self.labels.items():
            if name not in texts:
                self.chart.put(label, "", (0.0, 0.0))
                continue
            text = texts[name]
            self.chart.put(label, text, places.find(text, anchors[name], name, bold=name == "point"))

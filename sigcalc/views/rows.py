"""Charts of rows: bars, strips in time or place, and marks, on one kept matplotlib figure."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import Any

import numpy as np

from .canvas import Canvas, Place, text_width, wrapped
from .chart import GROUP, HALO, SHEET_WIDTH, WALL_LINE, Chart, Shape, ticks
from .picture import Picture, plain
from .style import FAINT, INK, LINE, NORMAL, PAPER, SHADE, STAGE, STAGE_BOX, TEXT, THIN, Size, ink_on

_BOLD = 14.0  # type on a wall


class Rows:
    """A chart of rows, one below the other on one horizontal axis: bars, strips in time or place, and curves.

    `row` begins a row; what follows is drawn in it. Marks go through all rows. The figure is kept, one for all such
    charts: a picture costs about ten milliseconds. What is outside of the axis is cut off there, so a bar that
    may be longer needs words that say so.

    Parameters
    ----------
    low, high: the ends of the axis, in the unit of what is drawn
    left: the room in points for the names of the rows
    right: the room for the words behind bars and rows
    title: a line above all, in bold type
    size: on the stage the rows fill the wall, stretched to its height, with larger bold type; `width` counts for
        nothing there
    """

    def __init__(
        self,
        low: float,
        high: float,
        left: float = 100.0,
        right: float = 110.0,
        title: str = "",
        width: float = SHEET_WIDTH,
        size: Size = NORMAL,
    ):
        self.size, self.on_wall = size, size is STAGE
        width = STAGE_BOX[0] if self.on_wall else width
        self.low, self.high, self.left, self.right, self.width = low, high, left, right, width
        self.per_point = (high - low) / (width - left - right)
        self._shapes: list[Shape] = []
        self._words: list[tuple[str, Place, str, str, bool, str, float]] = []
        self._marks: list[tuple[float, str, Any, bool]] = []
        self._title, self._label, self._name = title, "", ""
        self._top = self._tall = self._foot = self._over = 0.0
        self._stretched, self._thicker = 1.0, WALL_LINE if self.on_wall else 1.0

    def row(self, name: str, *notes: str, tall: float = 20.0, gap: float = 10.0, bold: bool = True) -> None:
        """A new row below the others, `tall` points high: its name, broken where it is long, and notes below that."""
        self._top, self._tall, self._name = self._foot, tall, name
        y, larger = self._top + min(tall / 2, 10.0), self._type(bold) / TEXT
        lines = [(each, bold, INK) for each in wrapped(name, (self.left - 10) / (1.12 * larger if bold else 1.0), 3)]
        lines += [(line, False, FAINT) for note in notes if note for line in wrapped(note, self.left - 10, 2)]
        below = 4.0
        for number, (line, heavy, colour) in enumerate(lines):
            below += 15.0 * larger * bool(number)
            self._write(line, (self._x(4.0), y), bold=heavy, colour=colour, below=below)
        self._foot = max(self._top + tall, y + below + 4.0) + gap

    def bar(self, value: float, words: str = "", fill: str = SHADE, hatch: str = "", bold: bool = False) -> None:
        """A bar from the axis' low end to a value, and words behind it."""
        end = min(max(value, self.low), self.high)
        self._fill(self._blocks([(self.low, end)]), fill, hatch, LINE)
        self.words(words, end, bold)

    def strip(
        self,
        stretches: Iterable[tuple[float, float]],
        words: str = "",
        fill: str = SHADE,
        hatch: str = "",
        rim: float = THIN,
        inset: float = 0.0,
        bold: bool = False,
    ) -> None:
        """Blocks from start to end, `inset` points lower than the row above and below; words where they fit inside.

        A block that would be too short to be seen is drawn one and a half points long.
        """
        cut = [(max(a, self.low), min(b, self.high)) for a, b in stretches if b >= self.low and a <= self.high]
        seen = [(a, max(b, a + 1.5 * self.per_point)) for a, b in cut]
        self._fill(self._blocks(seen, inset), fill, hatch, rim)
        for start, end in seen if words else ():
            if (end - start) / self.per_point > self._wide(words, bold) + 6:
                y = self._top + self._tall / 2
                solid = fill.startswith("#")
                x = (start + end) / 2 if solid else self._off_marks(start, end, self._wide(words, bold))
                if x is not None:
                    self._write(words, (x, y), "middle", bold, ink_on(fill) if solid else INK)

    def _off_marks(self, start: float, end: float, width: float) -> float | None:
        """A place between two others for words of that width (points) where no mark goes through, near the middle."""
        half = (width / 2 + 4) * self.per_point
        free = [
            x for x in np.linspace(start + half, end - half, 21) if all(abs(x - mark[0]) > half for mark in self._marks)
        ]
        return min(free, key=lambda x: abs(x - (start + end) / 2), default=None)

    def whisker(self, least: float, most: float, words: str = "") -> None:
        """A thin line with two ends through the middle of the row, and words behind it."""
        y, ends = self._top + self._tall / 2, [min(max(each, self.low), self.high) for each in (least, most)]
        self._line(ends, [y, y], width=LINE, marker="|", markersize=10, markeredgewidth=LINE)
        self.words(words, ends[1])

    def curve(self, x: Any, share: Any, width: float = LINE, fill: str = "", **style: Any) -> None:
        """A line through the row at shares of its height (0 at its foot), filled below where a fill is given.

        `style`: dash, colour, hatch.
        """
        x, y = np.asarray(x, float), self._top + self._tall * (1 - np.clip(np.asarray(share, float), 0, 1))
        if fill:
            foot = self._top + self._tall
            self._fill([[(x[0], foot), *zip(x, y, strict=True), (x[-1], foot)]], fill, style.pop("hatch", ""), zorder=1)
        self._line(x, y, width=width, **style)

    def level(self, share: float, before: str = "", behind: str = "", **style: Any) -> None:
        """A line across the row at a share of its height, with words before and behind it; `style`: dash, colour."""
        y = self._top + self._tall * (1 - share)
        self._line([self.low, self.high], [y, y], **{"width": THIN, **style})
        self._write(before, (self.low - 5 * self.per_point, y), "end")
        self._write(behind, (self.high + 5 * self.per_point, y))

    def words(self, words: str, x: float | None = None, bold: bool = False) -> None:
        """Words in the middle of the row's height, behind a place on the axis or, without one, behind the axis."""
        x = (self.high if x is None else x) + 7 * self.per_point
        last = self._x(self.width - 4 - 1.06 * self._wide(words, bold))  # shifted rather than cut off
        self._write(words, (min(x, last), self._top + min(self._tall / 2, 20.0)), bold=bold)

    def mark(self, x: float, words: str = "", dash: Any = "--", bold: bool = False) -> None:
        """A line at `x` through all rows, with words above them; nothing where `x` lies outside of the axis."""
        if self.low <= x <= self.high:
            self._marks.append((x, words, dash, bold))

    def axis(self, label: str) -> None:
        """Figures and a label below the rows."""
        self._label = label

    def picture(self, sentence: str) -> Picture:
        """What was asked for, drawn: the shapes by matplotlib, the words written into its drawing."""
        above, foot = 22.0 if self._title else 4.0, 46.0 if self._label else 4.0
        rows = max(self._foot, 1.0)
        self._over = above + self._line_height * sum(bool(each[1]) for each in self._marks)
        if self.on_wall:
            self._stretched = (STAGE_BOX[1] - foot - self._over) / rows
        self._draw_marks(rows)
        self._draw_axis(rows)
        chart, tall = _sheet(), rows * self._stretched
        chart.set_room((self.left, foot, self.right, self._over), (self.width, foot + tall + self._over))
        chart.axes.set_xlim(self.low, self.high)
        chart.axes.set_ylim(rows, 0.0)
        return chart.printed(sentence, self.size, self._shapes, self._written(chart))

    def _written(self, chart: Chart) -> str:
        """The words as SVG, each row's in a group; a rim of paper keeps them legible on lines."""
        canvas = Canvas(chart.width, chart.height)
        canvas.group("title")
        canvas.text((4.0, 16.0), self._title, bold=True, size=self._type(True))
        for name, (x, y), words, anchor, bold, colour, below in self._words:
            canvas.group(name)
            place = self._points(x), y * self._stretched + self._over + below
            canvas.text(place, words, anchor, bold, fill=colour, size=self._type(bold))
        for text in canvas.root.iter("text"):
            if text.get("fill") != PAPER:
                text.set("style", HALO)
        return canvas.markup()

    def _draw_marks(self, rows: float) -> None:
        """Lines behind all else, each from its words down; words on its right if there is room, and off all lines.

        The lines of the words above go through a line of words: so first come those with words on the left, from the
        right, and then the others, from the left.
        """
        self._name, left, right = "marks", [], []
        end = self.low + (self.width - 8 - self.left) * self.per_point
        for mark in sorted(self._marks, key=lambda each: -each[0]):
            if mark[0] + 1.06 * self._wide(mark[1], mark[3]) * self.per_point < end:
                right.insert(0, mark)
            else:
                left.append(mark)
                end = mark[0] - 8 * self.per_point
        y = -self._over + (22.0 if self._title else 4.0) - 4.0
        for x, words, dash, bold in (*left, *right):
            y += self._line_height if words else 0.0
            top = (y - 10.0) / self._stretched if words else 0.0
            self._line([x, x], [top, rows], width=LINE, dash=dash, zorder=0.5)
            gap, anchor = (-4, "end") if (x, words, dash, bold) in left else (4, "start")
            self._write(words, (x + gap * self.per_point, 0.0), anchor, bold, below=y)

    def _draw_axis(self, rows: float) -> None:
        if not self._label:
            return
        self._name = "axis"
        self._line([self.low, self.high], [rows, rows], width=THIN)
        slack = 1e-9 * (self.high - self.low)
        for place in ticks(self.on_wall).tick_values(self.low, self.high):
            if self.low - slack <= place <= self.high + slack:
                self._line([place, place], [rows, rows + 5.0 / self._stretched], width=THIN)
                self._write(f"{place:g}".replace("-", "\u2212"), (place, rows), "middle", below=18.0)
        self._write(self._label, ((self.low + self.high) / 2, rows), "middle", below=38.0)

    def _x(self, points: float) -> float:
        """The place on the axis that lies so many points from the sheet's left edge."""
        return self.low + (points - self.left) * self.per_point

    def _points(self, x: float) -> float:
        return self.left + (x - self.low) / self.per_point

    def _type(self, bold: bool) -> float:
        return _BOLD if self.on_wall and bold else TEXT

    @property
    def _line_height(self) -> float:
        return self._type(bold=True) + 4.0

    def _wide(self, words: str, bold: bool) -> float:
        return text_width(words, bold) * self._type(bold) / TEXT

    def _write(
        self,
        words: str,
        place: Place,
        anchor: str = "start",
        bold: bool = False,
        colour: str = INK,
        below: float = 4.0,
    ) -> None:
        """Words so many points below a place; by themselves they are in the middle of its height."""
        if words:
            self._words.append((self._name, place, words, anchor, bold, colour, below))

    def _line(self, x: Any, y: Any, width: float = LINE, dash: Any = "-", colour: str = INK, **more: Any) -> None:
        look = {"linestyle": dash, "linewidth": width * self._thicker, "color": colour, "clip_on": False}
        self._shapes.append(("Line2D", (x, y), {"gid": _group(self._name), **look, **more}))

    def _fill(self, corners: Iterable[Any], fill: str, hatch: str = "", rim: float = 0.0, zorder: float = 2.0) -> None:
        look = {"facecolors": fill, "hatch": hatch, "edgecolors": INK, "clip_on": False}
        look["linewidths"] = rim * self._thicker
        self._shapes.append(("PolyCollection", (list(corners),), {"gid": _group(self._name), "zorder": zorder, **look}))

    def _blocks(self, stretches: Iterable[tuple[float, float]], inset: float = 0.0) -> list[list[Place]]:
        """The corners of a block for each stretch."""
        low, high = self._top + inset, self._top + self._tall - inset
        return [[(a, low), (b, low), (b, high), (a, high)] for a, b in stretches if b > a]


@cache
def _sheet() -> Chart:
    """The kept figure of all charts of rows: no axis of its own is drawn, which would cost more than all the rest."""
    chart = Chart()
    chart.axes.set_axis_off()
    chart.axes.set_autoscale_on(False)
    return chart


def _group(name: str) -> str:
    return f"{GROUP}{plain(name)}"

"""What the charts have in common: a matplotlib figure that is kept while its data change, and labels in free places.

A figure is made once (tens of milliseconds) and drawn again at every move of a slider (about ten); without pyplot.
`Chart` is for curves, `Rows` for bars and for strips in time or place.
"""

from __future__ import annotations

import io
import re
import warnings
import zlib
from collections.abc import Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager
from contextvars import ContextVar
from functools import cache
from typing import Any

import numpy as np

from .canvas import Canvas, Place, text_width, wrapped
from .picture import Picture, named, plain
from .places import Box, Places, along
from .style import FAINT, FONT, INK, LINE, NORMAL, PAPER, SHADE, STAGE, STAGE_BOX, TEXT, THIN, Size, ink_on, lamp_stroke

Shape = tuple[str, tuple[Any, ...], dict[str, Any]]
"""What matplotlib calls the kind of a shape, its data, and how it looks."""

Ends = dict[tuple[str, ...], tuple[float, float]]
"""The least and the most of what an axis has shown, by its name."""

_WIDTH, _HEIGHT = 480.0, 270.0
_WALL_ROOM = (54.0, 42.0, 12.0, 12.0)
_WALL_BOLD, _WALL_PLAIN = 16.0, 14.0  # points, of labels on a wall
_WALL_LINE, _WALL_MARK = 1.5, 1.3  # times the width of lines and the size of points
_ROWS_BOLD = 14.0
_NICE = np.array([1, 1.2, 1.4, 1.6, 2, 2.5, 3, 3.5, 4, 5, 6, 7, 8, 10])
# where a drawing names one of its parts, and where it refers to it
_ID = re.compile(r'(\bid="|url\(#|href="#)')
# text as text, the same marks for the same data, no formulas in names, and no style of the reader's own
_SETTINGS = {
    "svg.fonttype": "none",
    "svg.hashsalt": "sigcalc",
    "text.parse_math": False,
    "text.usetex": False,
    "font.family": ["DejaVu Sans"],
    "path.sketch": None,
    "path.effects": [],
    "lines.markeredgewidth": 1.0,
    "hatch.color": FAINT,
    "hatch.linewidth": 1.0,
}
# a rim of paper around each letter, where a text lies on a line
_HALO = f"paint-order:stroke;stroke:{PAPER};stroke-width:3px;stroke-linejoin:round;"
_NO_METADATA = dict.fromkeys(("Creator", "Date", "Format", "Type"))
# matplotlib's default style would reach every other drawing of the page; ids would be twice on a page of two charts
_CUT = re.compile(r'<defs>\s*<style[^>]*>.*?</style>\s*</defs>|(?<=<g) id="[^"]*"', re.DOTALL)

_HELD: ContextVar[Ends | None] = ContextVar("held", default=None)
_GROUP = "group:"  # an artist whose id begins so becomes a group of that class, for tests and readers of the source


@contextmanager
def holding(ends: Ends | None) -> Iterator[None]:
    """While charts are drawn here their axes only grow beyond `ends`, which are kept there; None lets them follow."""
    before = _HELD.set(ends)
    try:
        yield
    finally:
        _HELD.reset(before)


def kept(low: float, high: float, *name: str) -> tuple[float, float]:
    """The ends of the axis of that name: while axes are held they only grow, so that a fall is seen as a fall."""
    if (held := _HELD.get()) is None:
        return low, high
    least, most = held.get(name, (low, high))
    held[name] = min(least, low), max(most, high)
    return held[name]


class Chart:
    """A figure with one pair of axes, and lines, shades and labels by name that are kept while their data change.

    Parameters
    ----------
    lines, shades: how each looks, in matplotlib's words
    labels: names of the labels; of the lines they name, or others
    bold: the labels in bold type
    room: what is left free around the axes, in points; height of the sheet
    wall_room: the same on the stage

    `taken_above` is how many points over the axes words begin that are put there by `above`; None for no words.
    """

    def __init__(
        self,
        lines: dict[str, dict[str, Any]] | None = None,
        labels: Iterable[str] = (),
        bold: Iterable[str] = (),
        shades: dict[str, dict[str, Any]] | None = None,
        room: Box = (60.0, 46.0, 14.0, 14.0),
        height: float = _HEIGHT,
        wall_room: Box = _WALL_ROOM,
    ):
        import matplotlib.style
        from matplotlib.backends.backend_svg import FigureCanvasSVG
        from matplotlib.figure import Figure

        self._layouts = {False: (room, (_WIDTH, height)), True: (wall_room, STAGE_BOX)}
        self.on_wall = False
        self.taken_above: float | None = None
        with matplotlib.style.context("default"), _settings():
            self.figure = Figure(dpi=72, facecolor=PAPER)  # a point of the sheet is a pixel
            self.canvas = FigureCanvasSVG(self.figure)
            self.axes = self.figure.add_axes((0.0, 0.0, 1.0, 1.0))
            self.set_room(*self._layouts[False])
            self.axes.tick_params(labelsize=TEXT, colors=INK, width=THIN)
            self.axes.grid(color="#d0d0d0", linewidth=0.6)
            self.axes.set_axisbelow(True)
            self.axes.spines[["top", "right"]].set_visible(False)
            plain_line, plain_shade = {"lw": LINE, "color": INK}, {"ec": "#808080", "lw": 0}
            self.lines = {name: self.axes.plot([], [], **plain_line | look)[0] for name, look in (lines or {}).items()}
            self._looks = {
                each: (each.get_linewidth(), each.get_markersize(), each.get_markeredgewidth())
                for each in self.lines.values()
            }
            self.shades = {
                name: self.axes.fill([0, 0, 0], [0, 0, 0], **plain_shade | look)[0]
                for name, look in (shades or {}).items()
            }
            self.bold, text = tuple(bold), {"fontsize": TEXT, "color": INK, "transform": None}
            self.labels = {
                name: self.figure.text(0, 0, "", fontweight="bold" if name in self.bold else "normal", **text)
                for name in labels
            }

    def set_room(self, room: Box, sides: tuple[float, float]) -> None:
        """Leave so much free around the axes from now on, on a sheet of these sides (width, height)."""
        self.width, self.height = width, height = sides
        self.box = left, bottom, right, top = room[0], room[1], width - room[2], height - room[3]
        self.figure.set_size_inches(width / 72, height / 72)
        self.axes.set_position((left / width, bottom / height, (right - left) / width, (top - bottom) / height))
        # the places of the axes' labels, which matplotlib would measure at every drawing
        self.axes.xaxis.set_label_coords(0.5, -26.0 / (top - bottom))
        self.axes.yaxis.set_label_coords(-36.0 / (right - left), 0.5)

    def lay(self, size: Size) -> None:
        """Lay it out for a page or a wall: there with thicker lines, fewer figures, and bold labels in large type."""
        if self.on_wall == (size is STAGE):
            return
        self.on_wall = size is STAGE
        self.set_room(*self._layouts[self.on_wall])
        thicker, larger = (_WALL_LINE, _WALL_MARK) if self.on_wall else (1.0, 1.0)
        for line, (width, mark, edge) in self._looks.items():
            line.set(linewidth=width * thicker, markersize=mark * larger, markeredgewidth=edge * larger)
        for name, label in self.labels.items():
            label.set_fontsize(self._type(name))
        for axis in (self.axes.xaxis, self.axes.yaxis):
            axis.set_major_locator(_ticks(self.on_wall))

    def _type(self, label: str) -> float:
        if not self.on_wall:
            return TEXT
        return _WALL_BOLD if label in self.bold else _WALL_PLAIN

    def scale(self, x_most: float, y_most: float, x_label: str, y_label: str, size: Size) -> tuple[float, float]:
        """Axes from zero to at least these values, ending on round ones, with their labels; gives the ends.

        For a `size` of the stage the whole is laid out for a wall.
        """
        self.lay(size)
        ends = tuple(
            kept(0.0, nice(most), type(self).__name__, x_label, y_label, way)[1]
            for most, way in ((x_most, "x"), (y_most, "y"))
        )
        for axis, label in ((self.axes.xaxis, x_label), (self.axes.yaxis, y_label)):
            axis.set_label_text(plain(label), fontsize=TEXT, color=INK)
            axis.set_major_formatter("{x:g}")
            axis.set_major_locator(_ticks(self.on_wall))
        self.axes.set(xlim=(0.0, ends[0]), ylim=(0.0, ends[1]))
        return ends

    def points(self, x: Any, y: Any) -> np.ndarray:
        """Where data lie on the sheet, in points from its lower left corner; shape (n, 2)."""
        x, y = np.broadcast_arrays(np.asarray(x, float), np.asarray(y, float))
        return self.axes.transData.transform(np.column_stack([x.ravel(), y.ravel()]))

    @property
    def free(self) -> Box:
        """Where labels may be put: inside the axes, and over the margins on the right and above, off words there."""
        top = self.height - 2 if self.taken_above is None else self.box[3] + self.taken_above
        return self.box[0], self.box[1], self.width - 4, top

    def above(self, label: str, words: str, x: float) -> None:
        """Words over the axes, where nothing can be under them, in the middle over a place in points where they fit."""
        width = 1.12 * text_width(words, label in self.bold) * self._type(label) / TEXT  # some fonts are wider
        left, _, right, top = self.box
        place = min(max(x - width / 2, left), right - width), top + (self.taken_above or 0.0) + 2.0
        self.labels[label].set(text=words, position=place)

    def draw(self, **series: Any) -> dict[str, np.ndarray]:
        """Set the data of the lines, none for one that is left out; where they lie on the sheet, by name."""
        for name, line in self.lines.items():
            line.set_data(*series.get(name, ([], [])))
        return {name: self.points(*each) for name, each in series.items()}

    def paint(self, colour: str, *names: str) -> None:
        """Give lines the colour of a lamp."""
        for name in names:
            self.lines[name].set_color(lamp_stroke(colour))

    def name(self, lines: dict[str, np.ndarray], said: dict[str, tuple[str, Any]]) -> None:
        """Put each label beside one of its places, or a share of the way along its line, where there is room.

        The label of a line keeps off the other lines; that of a point, where lines meet, may come close to them.
        """
        places = Places(self.free, lines)
        for name in {**said, **self.labels}:
            text, where = said.get(name, ("", ()))
            self.labels[name].set_text(plain(text))
            if text:
                where = along(lines[name], self.box, where) if isinstance(where, float) else where
                place = places.find(text, where, name, name in self.bold, self._type(name))
                self.labels[name].set_position(place)

    def printed(self, sentence: str, size: Size, shapes: Iterable[Shape] = (), over: str = "") -> Picture:
        """The figure as it is now; with these shapes, which are taken away again, and with SVG drawn on top of it."""
        from matplotlib import collections, lines

        makers = {"Line2D": lines.Line2D, "PolyCollection": collections.PolyCollection}
        buffer = io.StringIO()
        with _settings(), warnings.catch_warnings():
            # the reader's browser sets the text, with fonts of its own
            warnings.filterwarnings("ignore", message="Glyph .* missing from")
            made = [self.axes.add_artist(makers[kind](*data, **look)) for kind, data, look in shapes]
            try:
                self.canvas.print_svg(buffer, metadata=_NO_METADATA)
            finally:
                for artist in made:
                    artist.remove()
        svg = buffer.getvalue().replace(f'<g id="{_GROUP}', '<g class="')
        svg = _CUT.sub("", svg).replace("'DejaVu Sans'", FONT)
        svg = svg.replace('<text style="', f'<text style="{_HALO}').replace("</svg>", f"{over}</svg>")
        return named(_ids_of_its_own(svg), sentence, self.width, self.height, size)


def _ids_of_its_own(svg: str) -> str:
    """The drawing with ids that no other drawing on a page shares: a reference goes to the first of its name there."""
    mark = f"{zlib.crc32(svg.encode()):08x}"
    return _ID.sub(lambda found: f"{found[1]}{mark}-", svg)


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
        width: float = _WIDTH,
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
        self._stretched, self._thicker = 1.0, _WALL_LINE if self.on_wall else 1.0

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
                text.set("style", _HALO)
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
        for place in _ticks(self.on_wall).tick_values(self.low, self.high):
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
        return _ROWS_BOLD if self.on_wall and bold else TEXT

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
    return f"{_GROUP}{plain(name)}"


def between(across: np.ndarray, low: np.ndarray, high: np.ndarray) -> np.ndarray:
    """The outline of the area between two lines, as a shade's corners."""
    return np.column_stack([np.concatenate([across, across[::-1]]), np.concatenate([low, high[::-1]])])


def nice(value: float) -> float:
    """The least round number that is not below the value."""
    decade = 10.0 ** np.floor(np.log10(value))
    return float(decade * _NICE[np.searchsorted(_NICE * (1 + 1e-9), value / decade)])


def current_axis(most: float) -> tuple[float, str]:
    """Factor and unit in which a current axis up to `most` A is read most easily."""
    return next(((f, unit) for f, unit, upto in ((1e6, "µA", 1e-3), (1e3, "mA", 1.0)) if most < upto), (1.0, "A"))


def _settings() -> AbstractContextManager[None]:
    import matplotlib

    return matplotlib.rc_context(_SETTINGS)


def _ticks(on_wall: bool = False) -> Any:
    from matplotlib.ticker import MaxNLocator

    return MaxNLocator(nbins=4 if on_wall else 6, steps=[1, 2, 2.5, 5, 10])

"""What the charts have in common: a matplotlib figure that is kept while its data change, and labels in free places.

A figure is made once (tens of milliseconds) and drawn again at every move of a slider (about ten); without pyplot.
`Chart` is for curves; bars and strips are in `rows.py`.
"""

from __future__ import annotations

import io
import re
import warnings
import zlib
from collections.abc import Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager
from contextvars import ContextVar
from typing import Any

import numpy as np

from .canvas import text_width
from .picture import Picture, named, plain
from .places import Box, Places, along
from .style import FAINT, FONT, INK, LINE, PAPER, STAGE, STAGE_BOX, TEXT, THIN, Size, lamp_stroke

Shape = tuple[str, tuple[Any, ...], dict[str, Any]]
"""What matplotlib calls the kind of a shape, its data, and how it looks."""

Ends = dict[tuple[str, ...], tuple[float, float]]
"""The least and the most of what an axis has shown, by its name."""

SHEET_WIDTH, _HEIGHT = 480.0, 270.0
_WALL_ROOM = (54.0, 42.0, 12.0, 12.0)
_WALL_BOLD, _WALL_PLAIN = 16.0, 14.0  # points, of labels on a wall
WALL_LINE, _WALL_MARK = 1.5, 1.3  # times the width of lines and the size of points
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
HALO = f"paint-order:stroke;stroke:{PAPER};stroke-width:3px;stroke-linejoin:round;"
_NO_METADATA = dict.fromkeys(("Creator", "Date", "Format", "Type"))
# matplotlib's default style would reach every other drawing of the page; ids would be twice on a page of two charts
_CUT = re.compile(r'<defs>\s*<style[^>]*>.*?</style>\s*</defs>|(?<=<g) id="[^"]*"', re.DOTALL)

_HELD: ContextVar[Ends | None] = ContextVar("held", default=None)
GROUP = "group:"  # an artist whose id begins so becomes a group of that class, for tests and readers of the source


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

        self._layouts = {False: (room, (SHEET_WIDTH, height)), True: (wall_room, STAGE_BOX)}
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
        thicker, larger = (WALL_LINE, _WALL_MARK) if self.on_wall else (1.0, 1.0)
        for line, (width, mark, edge) in self._looks.items():
            line.set(linewidth=width * thicker, markersize=mark * larger, markeredgewidth=edge * larger)
        for name, label in self.labels.items():
            label.set_fontsize(self._type(name))
        for axis in (self.axes.xaxis, self.axes.yaxis):
            axis.set_major_locator(ticks(self.on_wall))

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
            axis.set_major_locator(ticks(self.on_wall))
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
        svg = buffer.getvalue().replace(f'<g id="{GROUP}', '<g class="')
        svg = _CUT.sub("", svg).replace("'DejaVu Sans'", FONT)
        svg = svg.replace('<text style="', f'<text style="{HALO}').replace("</svg>", f"{over}</svg>")
        return named(_ids_of_its_own(svg), sentence, self.width, self.height, size)


def _ids_of_its_own(svg: str) -> str:
    """The drawing with ids that no other drawing on a page shares: a reference goes to the first of its name there."""
    mark = f"{zlib.crc32(svg.encode()):08x}"
    return _ID.sub(lambda found: f"{found[1]}{mark}-", svg)


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


def ticks(on_wall: bool = False) -> Any:
    """What places the figures of an axis, fewer of them on a wall."""
    from matplotlib.ticker import MaxNLocator

    return MaxNLocator(nbins=4 if on_wall else 6, steps=[1, 2, 2.5, 5, 10])

"""What the curves have in common: a matplotlib figure that is kept while its data change, and labels beside lines.

A figure is made once (tens of milliseconds) and drawn again at every move of a slider (about ten); without pyplot.
"""

from __future__ import annotations

import io
import re
import warnings
import zlib
from collections.abc import Iterable
from contextlib import AbstractContextManager
from typing import Any

import numpy as np

from .canvas import text_width
from .picture import Picture, named, plain
from .style import FONT, INK, LINE, PAPER, TEXT, THIN, Size

Box = tuple[float, float, float, float]
"""Left, bottom, right, top in points."""

_WIDTH, _HEIGHT = 480.0, 270.0
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
    "hatch.color": "#808080",
    "hatch.linewidth": 1.0,
}
# a rim of paper around each letter, where a text lies on a line
_HALO = f"paint-order:stroke;stroke:{PAPER};stroke-width:3px;stroke-linejoin:round;"
_NO_METADATA = dict.fromkeys(("Creator", "Date", "Format", "Type"))
# matplotlib's default style would reach every other drawing of the page; ids would stand twice on a page of two charts
_CUT = re.compile(r'<defs>\s*<style[^>]*>.*?</style>\s*</defs>|(?<=<g) id="[^"]*"', re.DOTALL)


class Chart:
    """A figure with one pair of axes; `room` is what is left free around the axes, in points."""

    def __init__(self, room: Box = (60.0, 46.0, 14.0, 14.0), height: float = _HEIGHT):
        import matplotlib.style
        from matplotlib.backends.backend_svg import FigureCanvasSVG
        from matplotlib.figure import Figure

        self.width, self.height = _WIDTH, height
        self.box = self._box(room)
        with matplotlib.style.context("default"), _settings():
            self.figure = Figure(figsize=(self.width / 72, self.height / 72), dpi=72, facecolor=PAPER)
            self.canvas = FigureCanvasSVG(self.figure)
            self.axes = self.figure.add_axes(self._shares())
            self._dress()

    def set_room(self, room: Box) -> None:
        """Leave so much free around the axes from now on."""
        self.box = self._box(room)
        self.axes.set_position(self._shares())
        self._fix_labels()

    def _fix_labels(self) -> None:
        """Set where the axes' labels stand, which matplotlib would measure at every drawing."""
        left, bottom, right, top = self.box
        self.axes.xaxis.set_label_coords(0.5, -26.0 / (top - bottom))
        self.axes.yaxis.set_label_coords(-36.0 / (right - left), 0.5)

    def _box(self, room: Box) -> Box:
        return room[0], room[1], self.width - room[2], self.height - room[3]

    def _shares(self) -> Box:
        """Left, bottom, width and height of the axes as shares of the figure."""
        left, bottom, right, top = self.box
        return left / self.width, bottom / self.height, (right - left) / self.width, (top - bottom) / self.height

    def _dress(self) -> None:
        axes = self.axes
        axes.tick_params(labelsize=TEXT, colors=INK, width=THIN)
        axes.grid(color="#d0d0d0", linewidth=0.6)
        axes.set_axisbelow(True)
        self._fix_labels()
        for side in ("top", "right"):
            axes.spines[side].set_visible(False)

    def scale(self, x_most: float, y_most: float, x_label: str, y_label: str) -> None:
        """Axes from zero to at least these values, ending on a round one, with their labels."""
        for axis, most, label in ((self.axes.xaxis, x_most, x_label), (self.axes.yaxis, y_most, y_label)):
            axis.set_label_text(plain(label), fontsize=TEXT, color=INK)
            axis.set_major_formatter("{x:g}")
            axis.set_major_locator(_ticks())
            limits = self.axes.set_xlim if axis is self.axes.xaxis else self.axes.set_ylim
            limits(0.0, nice(most))

    def points(self, x: Any, y: Any) -> np.ndarray:
        """Where data lie on the sheet, in points from its lower left corner; shape (n, 2)."""
        left, bottom, right, top = self.box
        (x0, x1), (y0, y1) = self.axes.get_xlim(), self.axes.get_ylim()
        x, y = np.broadcast_arrays(np.asarray(x, float), np.asarray(y, float))
        across = left + (x - x0) / (x1 - x0) * (right - left)
        return np.column_stack([np.ravel(across), np.ravel(bottom + (y - y0) / (y1 - y0) * (top - bottom))])

    @property
    def free(self) -> Box:
        """Where labels may stand: inside the axes, and over the margins on the right and above."""
        return self.box[0], self.box[1], self.width - 4, self.height - 2

    def line(self, style: Any = "solid", width: float = LINE, colour: str = INK, **more: Any) -> Any:
        """An empty line whose data are set later."""
        with _settings():
            return self.axes.plot([], [], linestyle=style, linewidth=width, color=colour, **more)[0]

    def shade(self, colour: str, hatch: str = "") -> Any:
        """An empty shaded area whose corners are set later."""
        with _settings():
            style = {"facecolor": colour, "edgecolor": "#808080", "linewidth": 0, "hatch": hatch}
            return self.axes.fill([0, 0, 0], [0, 0, 0], **style)[0]

    def label(self, bold: bool = False) -> Any:
        """An empty text that is placed later."""
        with _settings():
            return self.figure.text(0, 0, "", fontsize=TEXT, color=INK, fontweight="bold" if bold else "normal")

    def put(self, label: Any, text: str, place: tuple[float, float]) -> None:
        """Set a label's text and the left end of its baseline, in points."""
        label.set_text(plain(text))
        label.set_position((place[0] / self.width, place[1] / self.height))

    def picture(self, sentence: str, size: Size) -> Picture:
        """The figure as it now stands."""
        buffer = io.StringIO()
        with _settings(), warnings.catch_warnings():
            # the reader's browser sets the text, with fonts of its own
            warnings.filterwarnings("ignore", message="Glyph .* missing from")
            self.canvas.print_svg(buffer, metadata=_NO_METADATA)
        svg = _CUT.sub("", buffer.getvalue()).replace("'DejaVu Sans'", FONT)
        svg = svg.replace('<text style="', f'<text style="{_HALO}')
        return named(_ids_of_its_own(svg), sentence, self.width, self.height, size)


def _ids_of_its_own(svg: str) -> str:
    """The drawing with ids that no other drawing on a page shares: a reference goes to the first of its name there."""
    mark = f"{zlib.crc32(svg.encode()):08x}"
    return _ID.sub(lambda found: f"{found[1]}{mark}-", svg)


class Places:
    """Finds a free place for each label: inside the axes' box, off the other labels, off the lines where it can."""

    def __init__(self, box: Box, lines: dict[str, np.ndarray]):
        self.box, self.lines = box, lines
        self.taken: list[np.ndarray] = []

    def find(
        self, text: str, anchors: Iterable[tuple[float, float]], line: str = "", clear: float = 8.0, bold: bool = False
    ) -> tuple[float, float]:
        """The best place for the lower left end of the text beside one of the anchors, the first of equal ones.

        `line` is the line that the text names: of all others it keeps `clear` points if it can.
        """
        width = text_width(text, bold)
        rings = ((6.0, -15.0), 0), ((22.0, -31.0), 3)  # near the anchor, and farther away at a small cost
        steps = [(dx, dy, cost) for heights, cost in rings for dx in (8.0, -8.0 - width) for dy in heights]
        tried = np.array([(x + dx, y + dy, cost) for x, y in anchors for dx, dy, cost in steps])
        boxes = tried[:, [0, 1, 0, 1]] + (-2.0, -3.0, width + 2.0, TEXT)
        best = int(np.argmin(tried[:, 2] + self._costs(boxes, line, clear)))
        self.taken.append(boxes[best])
        return float(tried[best, 0]), float(tried[best, 1])

    def _costs(self, boxes: np.ndarray, own: str, clear: float) -> np.ndarray:
        left, bottom, right, top = boxes.T
        outside = (left < self.box[0]) | (right > self.box[2]) | (bottom < self.box[1]) | (top > self.box[3])
        over = sum((left < r) & (right > lf) & (bottom < t) & (top > b) for lf, b, r, t in self.taken)
        near = sum(_inside(boxes, points, 0.0 if name == own else clear) for name, points in self.lines.items())
        return 1e6 * outside + 1e4 * np.asarray(over) + near


def _inside(boxes: np.ndarray, points: np.ndarray, margin: float) -> np.ndarray:
    """How many of the points lie in each box."""
    left, bottom, right, top = (boxes + margin * np.array([-1, -1, 1, 1])).T[..., np.newaxis]
    x, y = points.T
    return ((x > left) & (x < right) & (y > bottom) & (y < top)).sum(axis=1)


def along(line: np.ndarray, box: Box, preferred: float = 0.7) -> np.ndarray:
    """Places on a line inside the axes where a label may stand, those about a share of what is seen of it first."""
    seen = line[(line[:, 0] <= box[2] + 1) & (line[:, 1] <= box[3] + 1)]
    shares = np.linspace(0.05, 1.0, 20)
    return seen[(shares[np.argsort(np.abs(shares - preferred))] * (len(seen) - 1)).astype(int)]


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


def _ticks() -> Any:
    from matplotlib.ticker import MaxNLocator

    return MaxNLocator(nbins=6, steps=[1, 2, 2.5, 5, 10])

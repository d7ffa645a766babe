"""Free places for the labels of a chart: off the lines, off each other, inside of the sheet."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from .canvas import Place, text_width
from .style import TEXT

Box = tuple[float, float, float, float]
"""Left, bottom, right, top in points."""

_CLEAR = 8.0  # points that a label keeps off the lines it does not name


class Places:
    """Finds a free place for each label: inside the axes' box, off the other labels, off the lines where it can."""

    def __init__(self, box: Box, lines: dict[str, np.ndarray]):
        self.box, self.lines = box, lines
        self.taken: list[np.ndarray] = []

    def find(
        self, text: str, anchors: Iterable[Place], line: str = "", bold: bool = False, height: float = TEXT
    ) -> Place:
        """The best place for the lower left end of the text beside one of the anchors, the first of equal ones.

        `line` is the line that the text names: off all others it keeps some points if it can. `height` is the size of
        the type.
        """
        width, more = text_width(text, bold) * height / TEXT, height - TEXT
        # near the anchor, and farther away at a small cost
        rings = ((6.0, -15.0 - more), 0), ((22.0 + more, -31.0 - 2 * more), 3)
        steps = [(dx, dy, cost) for heights, cost in rings for dx in (8.0, -8.0 - width) for dy in heights]
        tried = np.array([(x + dx, y + dy, cost) for x, y in anchors for dx, dy, cost in steps])
        boxes = tried[:, [0, 1, 0, 1]] + (-2.0, -3.0, width + 2.0, height)
        best = int(np.argmin(tried[:, 2] + self._costs(boxes, line)))
        self.taken.append(boxes[best])
        return float(tried[best, 0]), float(tried[best, 1])

    def _costs(self, boxes: np.ndarray, own: str) -> np.ndarray:
        left, bottom, right, top = boxes.T
        outside = (left < self.box[0]) | (right > self.box[2]) | (bottom < self.box[1]) | (top > self.box[3])
        over = sum((left < r) & (right > lf) & (bottom < t) & (top > b) for lf, b, r, t in self.taken)
        off = _CLEAR if own in self.lines else 0.0
        near = sum(_inside(boxes, points, 0.0 if name == own else off) for name, points in self.lines.items())
        return 1e6 * outside + 1e4 * np.asarray(over) + near


def _inside(boxes: np.ndarray, points: np.ndarray, margin: float) -> np.ndarray:
    """How many of the points lie in each box."""
    left, bottom, right, top = (boxes + margin * np.array([-1, -1, 1, 1])).T[..., np.newaxis]
    x, y = points.T
    return ((x > left) & (x < right) & (y > bottom) & (y < top)).sum(axis=1)


def along(line: np.ndarray, box: Box, preferred: float = 0.7) -> np.ndarray:
    """Places on a line inside the axes where a label may be put, those about a share of what is seen of it first."""
    seen = line[(line[:, 0] <= box[2] + 1) & (line[:, 1] <= box[3] + 1)]
    shares = np.linspace(0.05, 1.0, 20)
    return seen[(shares[np.argsort(np.abs(shares - preferred))] * (len(seen) - 1)).astype(int)]

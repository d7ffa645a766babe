"""The axis of a flux density by its amount: each line ten times the one below, with the reed's two levels on it."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from ..parts.reed import Reed
from .canvas import Canvas
from .style import THIN

_BELOW = 4.0  # the axis begins at least this many times below the release
_DASHES = {"pull-in": "8 3", "release": "2 3"}


class FieldAxis(NamedTuple):
    """From `low` to `high` in T, both powers of ten."""

    low: float
    high: float

    @classmethod
    def around(cls, release: float, most: float) -> FieldAxis:
        """The axis that shows a release and the most of what is drawn (T)."""
        return cls(10.0 ** np.floor(np.log10(release / _BELOW)), 10.0 ** np.ceil(np.log10(most)))

    def height(self, field: Any, box: tuple[float, float]) -> np.ndarray:
        """Where amounts (T) stand in a lane of (top, height), in points; below the axis on its foot."""
        top, height = box
        share = np.log10(np.maximum(np.abs(field), self.low) / self.low) / np.log10(self.high / self.low)
        return top + height * (1 - share)

    def draw(self, canvas: Canvas, ends: tuple[float, float], box: tuple[float, float], reed: Reed) -> None:
        """Lines for the powers of ten that have room for their figures, and the reed's levels with their names."""
        left, right = ends
        decades = np.arange(round(np.log10(self.low)), round(np.log10(self.high)) + 1)
        every = max(int(np.ceil(13.0 * (len(decades) - 1) / box[1])), 1)
        for decade in decades[::-1][::every]:
            y = float(self.height(10.0**decade, box))
            canvas.line((left, y), (right, y), width=0.6, colour="#b0b0b0")
            unit = " mT" if decade == decades[-1] else ""
            canvas.text((left - 5, y + 4), f"{10.0 ** (decade + 3):g}{unit}", "end")
        for name, level, down in zip(("pull-in", "release"), reed.at_magnet, (-3.0, 11.0), strict=True):
            y = float(self.height(level, box))
            canvas.line((left, y), (right, y), width=THIN + 0.4, dash=_DASHES[name])
            canvas.text((right + 5, y + down), name)

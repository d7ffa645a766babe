"""A signal lying on its side, as on a track plan: foot on the left, lamps on the right, brightness drawn."""

from __future__ import annotations

import math

from ..parts.board import BoardSignal
from ..parts.load import GREEN, RED
from .canvas import Canvas, Place
from .style import LINE, PAPER, THIN, lamp_fill

FOOT = 208.0
"""Where the wires reach the signal's foot."""
_FIRST_LAMP, _NEXT_LAMP = 232.0, 29.0
_LENS, _TARGET, _RAY = 7.0, 9.5, 6.0
_DIRECTIONS = (30, 60, 90, 120, 150, 210, 240, 270, 300, 330)  # degrees; none along the mast


def draw_signal(canvas: Canvas, signal: BoardSignal, y: float, lit: str, light: float) -> None:
    """Draw a signal at a height; of a pair the red lamp is nearer the foot.

    `light` is the share of its own light that the lamp called `lit` gives, 0 where it is
    dark: so much of the lens is filled, and so long are its rays.
    """
    lamps = (RED, GREEN) if signal.load.is_pair else (lit,)
    canvas.group(f"mast {signal.name}")
    canvas.line((FOOT, y - 8), (FOOT, y + 8), width=2 * LINE)
    canvas.line((FOOT, y), (_FIRST_LAMP + (len(lamps) - 1) * _NEXT_LAMP, y), width=3.0)
    for place, lamp in enumerate(lamps):
        on = lamp == lit and light > 0.0
        centre = (_FIRST_LAMP + place * _NEXT_LAMP, y)
        canvas.group(f"lamp {signal.name} {lamp} {'lit' if on else 'dark'}")
        canvas.circle(centre, _TARGET, fill=PAPER, width=THIN)
        canvas.circle(centre, _LENS, fill=PAPER, width=THIN)
        if on:
            colour = signal.load.branch(lit)[0][0].colour
            shown = min(light, 1.0)
            canvas.circle(centre, _LENS * math.sqrt(shown), fill=lamp_fill(colour), width=THIN)
            _rays(canvas, centre, shown)


def _rays(canvas: Canvas, centre: Place, light: float) -> None:
    start = _TARGET + 1.0
    for degrees in _DIRECTIONS:
        across, down = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        tail, head = ((centre[0] + r * across, centre[1] + r * down) for r in (start, start + _RAY * light))
        canvas.line(tail, head, width=LINE)

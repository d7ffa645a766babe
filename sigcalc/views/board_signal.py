"""A signal lying on its side, as on a track plan: foot on the left, lamps on the right, brightness drawn."""

from __future__ import annotations

import math

from ..design.board.board import BoardSignal
from ..design.power.load import GREEN, RED
from .canvas import Canvas, Place
from .style import FAINT, LINE, PAPER, THIN, lamp_fill

_FIRST_LAMP, _NEXT_LAMP = 24.0, 29.0  # from the foot on
_LENS, _TARGET, _RAY = 6.6, 9.0, 5.0
_DIRECTIONS = (30, 60, 90, 120, 150, 210, 240, 270, 300, 330)  # degrees; none along the mast


def draw_signal(canvas: Canvas, signal: BoardSignal, foot: Place, lit: str, light: float) -> None:
    """Draw a signal with its foot at a place; of a pair the red lamp is nearer the foot.

    `light` is the share of its own light that the lamp called `lit` gives, 0 where it is
    dark: so much of the lens is filled, and so long are its rays.
    """
    lamps, (x, y) = (RED, GREEN) if signal.load.is_pair else (lit,), foot
    canvas.group(f"mast {signal.name}")
    canvas.line((x, y - 8), (x, y + 8), width=2 * LINE)
    canvas.line((x, y), (x + _FIRST_LAMP + (len(lamps) - 1) * _NEXT_LAMP, y), width=3.0)
    for place, lamp in enumerate(lamps):
        on = lamp == lit and light > 0.0
        centre = (x + _FIRST_LAMP + place * _NEXT_LAMP, y)
        colour = signal.load.branch(lamp)[0][0].colour
        canvas.group(f"lamp {signal.name} {colour} {'lit' if on else 'dark'}")
        canvas.circle(centre, _TARGET, fill=PAPER, width=THIN)
        canvas.circle(centre, _LENS, fill=PAPER, width=THIN)
        if on:
            shown = min(light, 1.0)
            canvas.circle(centre, _LENS * math.sqrt(shown), fill=lamp_fill(colour), width=THIN)
            _rays(canvas, centre, shown)


def draw_waiting(canvas: Canvas, name: str, foot: Place) -> None:
    """The place of a signal that is not connected yet: its post without lamps."""
    canvas.group(f"waiting {name}")
    x, y = foot
    canvas.line((x, y - 8), (x, y + 8), width=LINE, colour=FAINT)
    canvas.line((x, y), (x + _FIRST_LAMP + _NEXT_LAMP, y), width=LINE, dash="3 3", colour=FAINT)


def _rays(canvas: Canvas, centre: Place, light: float) -> None:
    start = _TARGET + 1.0
    for degrees in _DIRECTIONS:
        across, down = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        tail, head = ((centre[0] + r * across, centre[1] + r * down) for r in (start, start + _RAY * light))
        canvas.line(tail, head, width=LINE)

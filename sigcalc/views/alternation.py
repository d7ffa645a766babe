"""Timeline of a supply that turns round all the time: both lamps' currents over two cycles, and what the eye mixes."""

from __future__ import annotations

import numpy as np

from ..design.pair.alternating import Alternating
from ..parts.led import LIT_FROM
from ..physics.photometry import screen_colour
from ..units import say
from .canvas import Canvas
from .picture import Picture
from .style import FAINT, NORMAL, PAPER, THIN, Size, lamp_fill, lamp_stroke

_WIDTH, _HEIGHT = 520.0, 268.0
_LEFT, _RIGHT = 92.0, 400.0
_LANE, _GAP, _TOP = 84.0, 34.0, 34.0
_DASHES = {"red": "", "green": "7 3"}


def timeline(result: Alternating, size: Size = NORMAL) -> Picture:
    """Two cycles of both lamps' currents, one lane for each lamp, and beside them the mixture in words and colour.

    Red's line is solid and green's dashed; the area below is filled.
    """
    canvas = Canvas(_WIDTH, _HEIGHT)
    most = max(result.red.si.peak_current, result.green.si.peak_current, 1e-6)
    for number, lamp in enumerate(("red", "green")):
        _lane(canvas, result, lamp, _TOP + number * (_LANE + _GAP), most)
    _time_axis(canvas, result)
    _mixture(canvas, result)
    return canvas.picture(result.sentence, size)


def _lane(canvas: Canvas, result: Alternating, lamp: str, top: float, most: float) -> None:
    share, bottom = result.share(lamp).si, top + _LANE
    wave = getattr(result, f"{lamp}_wave")
    phase = np.concatenate([result.phase, 1 + result.phase]) / 2
    height = bottom - np.concatenate([wave, wave]) / most * (_LANE - 8)
    places = list(zip(_LEFT + phase * (_RIGHT - _LEFT), height, strict=True))
    canvas.group(f"lane {lamp}")
    words = ("dark",)
    if share.peak_current > LIT_FROM:
        words = ("peak", say(share.peak_current, "A", 2), "mean", say(share.mean_current, "A", 2))
        canvas.polygon((_LEFT, bottom), *places, (_RIGHT, bottom), fill=lamp_fill(lamp), width=0)
        canvas.line(*places, width=2.4, dash=_DASHES[lamp], colour=lamp_stroke(lamp))
    canvas.line((_LEFT, bottom), (_RIGHT, bottom), width=THIN)
    canvas.lines((_LEFT - 12, top + 14), (lamp.upper(), *words), "end", bold_first=True)


def _time_axis(canvas: Canvas, result: Alternating) -> None:
    """A scale in cycles with the length of one."""
    y = _TOP + 2 * _LANE + _GAP
    middle = (_LEFT + _RIGHT) / 2
    canvas.group("time")
    for x in (_LEFT, middle, _RIGHT):
        canvas.line((x, _TOP - 6), (x, y + 6), width=THIN, dash="2 3", colour=FAINT)
    canvas.text(((_LEFT + middle) / 2, y + 20), f"one cycle, {_duration(1 / result.si.frequency)}", "middle")
    canvas.text(((middle + _RIGHT) / 2, y + 20), "the next", "middle")


def _duration(seconds: float) -> str:
    return say(seconds, "s", 3)


def _mixture(canvas: Canvas, result: Alternating) -> None:
    """A disc in the colour of both lamps seen as one, with the colour's name and the shares of light."""
    x = 466.0
    canvas.group("mixture")
    if result.chromaticity is None or result.lit == "none":
        canvas.lines(
            (x, 90),
            ("no light" if result.lit == "none" else "hue not", "" if result.lit == "none" else "known"),
            "middle",
        )
        return
    canvas.text((x, _TOP - 4), "as one light, about:", "middle")
    slow = result.together.startswith("too slow")
    canvas.circle((x, _TOP + 40), 30, fill=PAPER if slow else str(screen_colour(*result.chromaticity)))
    canvas.text((x, _TOP + 94), "no mixture" if slow else str(result.mixed).upper(), "middle", bold=True)
    for number, lamp in enumerate(("red", "green")):
        part = f"{100 * result.share(lamp).light_share:.0f} %"
        canvas.text((x, _TOP + 116 + 16 * number), f"{lamp} {part}", "middle")
    canvas.lines((x, _TOP + 164), ("flickers at", say(result.si.frequency, "Hz")), "middle")

"""Front view of the signal: mast, base and the two lamps on their round targets, to scale."""

from __future__ import annotations

from dataclasses import dataclass

from ..design.board.wire_and_holes import lamp_outlines
from ..plan.model import PlanFields
from .canvas import Canvas
from .picture import Picture
from .style import FAINT, INK, LINE, NORMAL, PAPER, THIN, Size, lamp_fill

_WIDTH, _HEIGHT = 496.0, 264.0
_GROUND, _ROOM = 236.0, 212.0  # where the ground lies, and how much height the mast may fill
_MAST_X, _HEAD_X = 178.0, 346.0
_HEAD_MIDDLE = 132.0
_LABEL = 62.0  # the room for a height in words


@dataclass(frozen=True)
class _Front:
    """The signal's measures in metres, and which lamp is where."""

    mast: float
    upper: float
    spacing: float
    lamp: float
    colours: tuple[str, str]
    lit: str

    @property
    def lower(self) -> float:
        """Height of the lower lamp's middle."""
        return self.upper - self.spacing

    @property
    def target(self) -> float:
        """Radius of the round target behind each lamp: it leaves a gap to the next one."""
        return min(1.1 * self.lamp, 0.46 * self.spacing)

    def is_lit(self, colour: str) -> bool:
        return self.lit in (colour, "both")


def mast_front(plan: PlanFields, lit: str = "none", size: Size = NORMAL) -> Picture:
    """A plan's signal from the front: to scale on the left, its lamps enlarged on the right.

    `lit` is "red", "green", "both" or "none".
    """
    mast, lamp = plan.mast, lamp_outlines[plan.mast.lamp_outline].body_most
    height, upper, lower, lamp = (each.m_as("m") for each in (mast.height, mast.top_lamp, mast.bottom_lamp, lamp))
    front = _Front(height, upper, upper - lower, lamp, (plan.lamps.top, plan.lamps.bottom), lit)
    canvas = Canvas(_WIDTH, _HEIGHT)
    _whole(canvas, front)
    _head(canvas, front)
    return canvas.picture(_sentence(front), size)


def _whole(canvas: Canvas, front: _Front) -> None:
    """The whole signal to scale, with its heights."""
    scale = _ROOM / front.mast
    top, upper = _GROUND - _ROOM, _GROUND - front.upper * scale
    canvas.group("mast")
    canvas.line((_MAST_X - 118, _GROUND), (_MAST_X + 62, _GROUND), width=LINE)
    post = min(max(0.5 * front.lamp * scale, 2.5), 12.0)
    canvas.rectangle((_MAST_X - post / 2, top), (post, _ROOM), fill=INK, width=0)
    canvas.polygon(*((_MAST_X + x, _GROUND + y) for x, y in ((-14, 0), (-9, -7), (9, -7), (14, 0))), fill=INK)
    for colour, y in zip(front.colours, (upper, upper + front.spacing * scale), strict=True):
        canvas.circle((_MAST_X, y), front.target * scale, width=min(LINE, 0.3 * front.target * scale))
        fill = lamp_fill(colour) if front.is_lit(colour) else PAPER
        canvas.circle((_MAST_X, y), front.lamp * scale / 2, fill=fill, width=min(THIN, 0.15 * front.lamp * scale))
    canvas.group("dimensions")
    radius, lower = front.target * scale, _GROUND - front.lower * scale
    reach = max(radius, 30.0)
    _height(canvas, -1, reach + _LABEL, (post / 2 + 3, top), front.mast, ("mast",))
    _height(canvas, -1, reach, (radius + 3, lower), front.lower, ("lower", "lamp"))
    _height(canvas, +1, reach, (radius + 3, upper), front.upper, ("upper", "lamp"))
    canvas.text((_MAST_X, _GROUND + 20), "whole signal, to scale", "middle")


def _height(
    canvas: Canvas, side: int, reach: float, foot: tuple[float, float], height: float, words: tuple[str, ...]
) -> None:
    """A dimension line from the ground up to a foot beside the mast, with the height in mm and inch."""
    x, y = _MAST_X + side * (reach + 12), foot[1]
    canvas.line((_MAST_X + side * foot[0], y), (x + side * 5, y), width=THIN, colour=FAINT)
    middle = (y + _GROUND) / 2
    canvas.arrow((x, middle), (x, y + 0.5), width=THIN, point=7)
    canvas.arrow((x, middle), (x, _GROUND - 0.5), width=THIN, point=7)
    canvas.lines((x + side * 7, middle - 12), (*words, *_both_units(height)), "end" if side < 0 else "start")


def _both_units(length: float) -> tuple[str, str]:
    metric = f"{_digits(length * 1e3)} mm" if length < 10 else f"{_digits(length)} m"  # longer words leave the sheet
    return metric, f"{_digits(length / 0.0254)} in"


def _digits(value: float) -> str:
    """Three figures, and no fraction from a hundred on."""
    return f"{value:.0f}" if value >= 100 else f"{value:.3g}"


def _head(canvas: Canvas, front: _Front) -> None:
    """The lamps enlarged, each with its word."""
    scale = 84.0 / front.spacing
    ys = (_HEAD_MIDDLE - 42, _HEAD_MIDDLE + 42)
    canvas.group("post")
    canvas.line((_HEAD_X, ys[0]), (_HEAD_X, _GROUND - 18), width=6)
    for place, colour, y in zip(("upper", "lower"), front.colours, ys, strict=True):
        lit = front.is_lit(colour)
        canvas.group(f"lamp {place} {colour} {'lit' if lit else 'dark'}")
        radius, lens = front.target * scale, min(front.lamp * scale / 2, 0.7 * front.target * scale)
        canvas.circle((_HEAD_X, y), radius, width=2 * LINE)
        canvas.circle((_HEAD_X, y), lens, fill=lamp_fill(colour) if lit else PAPER)
        if lit:
            # around it, except towards the other lamp
            canvas.rays(
                (_HEAD_X, y), (radius + 6, radius + 17), range(*((165, 376) if place == "upper" else (-15, 196)), 30)
            )
        canvas.lines(
            (_HEAD_X + 66, y), (f"{colour} {'on' if lit else 'dark'}".upper(), f"{place} lamp"), bold_first=True
        )
    canvas.group("title")
    canvas.text((_HEAD_X + 44, _GROUND + 20), "the lamps alone", "middle")


def _sentence(front: _Front) -> str:
    upper, lower = (f"{colour}, is {'lit' if front.is_lit(colour) else 'dark'}" for colour in front.colours)
    mast, *lamps = ("{} ({})".format(*_both_units(each)) for each in (front.mast, front.upper, front.lower))
    return (
        f"The upper lamp, {upper}; the lower lamp, {lower}. The mast is {mast} high, the upper lamp is at "
        f"{lamps[0]}, the lower one at {lamps[1]}."
    )

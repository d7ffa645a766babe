"""A plan's signal as it looks: from the front, to scale; the joint of its LEDs and the switch, both from behind."""

from __future__ import annotations

from dataclasses import dataclass

from ..design.board.wire_and_holes import COLOURS, lamp_outlines
from ..design.pair.two_lead_pair import LAMPS, TwoLeadPair
from ..plan.model import PlanFields
from ..units import say
from .canvas import Canvas, Place
from .picture import Picture
from .style import FAINT, INK, LINE, NORMAL, PAPER, SHADE, THIN, Size, lamp_fill

_WIDTH, _HEIGHT = 496.0, 264.0
_WHOLE = 290.0  # the width without the lamps enlarged
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


def mast_front(plan: PlanFields, lit: str = "none", size: Size = NORMAL, enlarged: bool = True) -> Picture:
    """A plan's signal from the front: to scale on the left, and its lamps `enlarged` on the right.

    `lit` is "red", "green", "both" or "none".
    """
    mast, lamp = plan.mast, lamp_outlines[plan.mast.lamp_outline].body_most
    height, upper, lower, lamp = (each.m_as("m") for each in (mast.height, mast.top_lamp, mast.bottom_lamp, lamp))
    front = _Front(height, upper, upper - lower, lamp, (plan.lamps.top, plan.lamps.bottom), lit)
    canvas = Canvas(_WIDTH if enlarged else _WHOLE, _HEIGHT)
    _whole(canvas, front)
    if enlarged:
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


_BEHIND = (264.0, 192.0)  # width and height of what is seen from behind: two of them are as wide as a sheet
_A, _B = 34.0, 230.0  # the two wires from left to right
_MIDDLE, _RADIUS, _ROWS = 132.0, 28.0, (36.0, 104.0)
_WIRE_FILLS = tuple(lamp_fill(colour) for colour in COLOURS)


def lamp_joint(plan: PlanFields, pair: TwoLeadPair, size: Size = NORMAL) -> Picture:
    """The leads of both LEDs and what is soldered to them, seen from behind the mast: wire A on the left."""
    canvas = Canvas(*_BEHIND)
    canvas.group("wires")
    for x, fill in zip((_A, _B), _WIRE_FILLS, strict=True):
        canvas.line((x, _ROWS[0]), (x, 166), width=5, colour=fill)
    for lamp, y in zip((plan.lamps.top, plan.lamps.bottom), _ROWS, strict=True):
        canvas.group(f"leads {lamp}")
        anode, cathode = (_A, _B) if lamp == LAMPS[0] else (_B, _A)
        extra = getattr(pair.si, f"extra_{lamp}")
        _lead(canvas, anode, y, "anode", "diode" if pair.series_diode else "", "long lead")
        _lead(canvas, cathode, y, "cathode", say(extra, "ohm") if extra else "", "flat side")
        canvas.group(f"led {lamp}")
        canvas.circle((_MIDDLE, y), _RADIUS, fill=lamp_fill(lamp))
        flat = _MIDDLE + (_RADIUS - 3) * (1 if cathode > anode else -1)
        canvas.line((flat, y - 11), (flat, y + 11), width=2 * LINE)
        canvas.text((_MIDDLE, y + 4), lamp.upper(), "middle", bold=True)
    canvas.group("words")
    canvas.text((_MIDDLE, 158), "grey: sleeving", "middle")
    _name_wires(canvas)
    return canvas.picture(_joint_sentence(pair), size)


def _lead(canvas: Canvas, wire: float, y: float, name: str, part: str, mark: str) -> None:
    """A lead from its LED to a wire, with a part in it if there is one, and sleeving over its end."""
    side = 1 if wire > _MIDDLE else -1
    near, middle = _MIDDLE + side * _RADIUS, (wire + _MIDDLE + side * _RADIUS) / 2
    canvas.line((near, y), (wire, y), width=2.5)
    canvas.rectangle((wire - 12 if side > 0 else wire - 4, y - 5), (16, 10), fill=SHADE, width=THIN, radius=4)
    canvas.text((middle, y - 10), name, "middle")
    if part:
        canvas.rectangle((middle - 15, y - 6), (30, 12), radius=3)
    if part == "diode":  # its ring, towards the LED
        canvas.rectangle((middle - side * 8 - 2, y - 6), (4, 12), fill=INK, width=0)
    canvas.text((middle, y + 20), part or mark, "middle")


def _name_wires(canvas: Canvas) -> None:
    y = _BEHIND[1] - 8
    canvas.text((8, y), f"wire A, {COLOURS[0]}")
    canvas.text((_BEHIND[0] - 8, y), f"wire B, {COLOURS[1]}", "end")


def _joint_sentence(pair: TwoLeadPair) -> str:
    said = "Wire A joins the red anode and the green cathode, wire B the red cathode and the green anode."
    parts = ["a diode in each anode's lead, its ring towards the LED"] if pair.series_diode else []
    extras = ((lamp, getattr(pair.si, f"extra_{lamp}")) for lamp in LAMPS)
    parts += [f"{say(ohms, 'ohm')} in the {lamp} cathode's lead" for lamp, ohms in extras if ohms]
    return f"{said} With {' and '.join(parts)}." if parts else said


_LUGS = ((104.0, 160.0), (46.0, 82.0, 118.0))  # columns and rows of the terminals


def switch_behind(plan: PlanFields, limit: str, size: Size = NORMAL) -> Picture:
    """What turns the current round, from the side of its terminals, wired crosswise.

    `limit` is what sits in the supply's plus lead, "resistor" or "driver"; "" for nothing.
    """
    canvas, ((left, right), (top, middle, bottom)) = Canvas(*_BEHIND), _LUGS
    canvas.group("body")
    canvas.rectangle((left - 34, top - 22), (right - left + 68, bottom - top + 44), fill=SHADE, radius=9)
    canvas.group("supply")
    canvas.line((8, middle), (left, middle), width=3)
    canvas.line((_BEHIND[0] - 8, middle), (right, middle), width=3)
    canvas.lines((8, middle - 8), ("plus +",))
    canvas.lines((_BEHIND[0] - 8, middle - 8), ("minus −",), "end")
    if limit:
        canvas.lines((8, middle + 18), ("from the", limit))
    canvas.group("wires")
    for fill, wire, low, high in zip(_WIRE_FILLS, (_A, _B), (left, right), (right, left), strict=True):
        way: tuple[Place, ...] = ((high, top), (low, bottom), (low, 154), (wire, 154), (wire, 168))
        canvas.line(*way, width=7, colour=SHADE)
        canvas.line(*way, width=5, colour=fill)
    canvas.group("terminals")
    for x in (left, right):
        for y in (top, middle, bottom):
            canvas.rectangle((x - 8, y - 6), (16, 12), radius=2)
            canvas.circle((x, y), 2.5, width=THIN)
    canvas.group("words")
    plus, said = f"plus{f', from the {limit},' if limit else ''}", _positions(canvas, plan)
    _name_wires(canvas)
    return canvas.picture(
        f"Seen from behind: {plus} and minus join the two middle terminals. Wire A joins the lower left "
        f"and the upper right one, wire B the lower right and the upper left one. {said}",
        size,
    )


def _positions(canvas: Canvas, plan: PlanFields) -> str:
    """Write which position shows what, and say it."""
    if plan.wiring.reversing == "relay":
        upper, lower = ("closed", "open") if plan.coil_fed_for == "red" else ("open", "closed")
        canvas.text((_MIDDLE, 14), f"upper pair: normally {upper}, lower: {lower}", "middle")
        return f"The upper pair is normally {upper}, the lower one normally {lower}, the middle one common."
    canvas.text((_MIDDLE, 14), "lever up: red, lever down: green", "middle")
    return "Lever up joins the middle pair to the lower one and shows red (most switches do: try yours with the meter)."

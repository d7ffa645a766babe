"""A plan's signal: from the front, to scale; the joints of its LEDs; what turns the current round, with its wires."""

from __future__ import annotations

from dataclasses import dataclass

from ..design.board.wire_and_holes import COLOURS, lamp_outlines
from ..design.pair.two_lead_pair import LAMPS, TwoLeadPair
from ..plan.model import PlanFields
from ..units import say
from .canvas import Canvas
from .light import Light
from .picture import Picture
from .scene.switch_scene import over
from .scene.table import Table
from .style import FAINT, INK, LINE, MATERIALS, NORMAL, PAPER, THIN, Size, lamp_fill

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


_JOINT, _JOINTS = 352.0, (4.0, 98.0)  # how wide the two joints with their words are, and where each begins


def lamp_joints(pair: TwoLeadPair, size: Size = NORMAL) -> Picture:
    """The joints on wire A and on wire B close up: what each joins, the first one soldered, the other one sleeved."""
    table = Table(_JOINT, _JOINTS[1] + 100)
    for top, wire, colour, step in zip(_JOINTS, "AB", COLOURS, (3, 4), strict=True):
        corner = (_JOINT - 160) / 2, top
        foot = table.put("joint", corner, step=step, colour=lamp_fill(colour))["wire"]
        for side, (lamp, end) in zip((-1, 1), _JOINED[wire], strict=True):
            table.group(f"lead {lamp} {end}")
            x = _JOINT / 2 + side * 88
            table.lines((x, top + 24), _lead(pair, lamp, end), "end" if side < 0 else "start", bold_first=True)
        table.group(f"wire {wire}")
        table.text((foot[0] + 10, foot[1] - 4), f"wire {wire}, {colour}", bold=True)
        told = "soldered, sleeve aside" if step == 3 else "sleeved"
        table.text((_JOINT / 2, top + 15), told, "middle")
    return table.picture(_joint_sentence(pair), size)


_JOINED = {"A": (("red", "anode"), ("green", "cathode")), "B": (("red", "cathode"), ("green", "anode"))}
"""What a wire joins, on the left and on the right of its joint."""


def _lead(pair: TwoLeadPair, lamp: str, end: str) -> list[str]:
    """A lead in words, with what is soldered into it."""
    extra = getattr(pair.si, f"extra_{lamp}") if end == "cathode" else 0.0
    part = [f"behind {say(extra, 'ohm')}"] if extra else []
    part += ["behind its diode"] if end == "anode" and pair.series_diode else []
    return [f"{lamp} {end}", "long lead" if end == "anode" else "flat side", *part]


def _joint_sentence(pair: TwoLeadPair) -> str:
    said = "Wire A joins the red anode and the green cathode, wire B the red cathode and the green anode."
    parts = ["a diode in each anode's lead, its ring towards the LED"] if pair.series_diode else []
    extras = ((lamp, getattr(pair.si, f"extra_{lamp}")) for lamp in LAMPS)
    parts += [f"{say(ohms, 'ohm')} in the {lamp} cathode's lead" for lamp, ohms in extras if ohms]
    return f"{said} With {' and '.join(parts)}." if parts else said


def reversing_wired(plan: PlanFields, limit: str, size: Size = NORMAL) -> Picture:
    """What turns the current round with its wires, set for red: a switch from behind, or a relay's contacts.

    `limit` is what sits in the supply's plus lead, "resistor" or "driver"; "" for nothing.
    """
    plus = ["plus +", *(["from the", limit] if limit else [])]
    return _relay(plan.coil_fed_for == "red", plus, size) if plan.wiring.reversing == "relay" else _switch(plus, size)


_HALF_BEHIND = 0.78  # the size of the switch from behind


def _switch(plus: list[str], size: Size) -> Picture:
    table = Table(344.0, 218.0)
    lugs = table.put("switch_behind", (104.0, 4.0), _HALF_BEHIND, up=True)
    table.group("words")
    table.lines((98, lugs["down1"][1] - 4), ("lever DOWN:", "green"), "end")
    table.text((98, lugs["up1"][1] + 4), "lever UP: red", "end")
    table.lines((242, lugs["up2"][1] - 4), ("most are so;", "try yours first"))
    for x, lug, pole, words in ((4.0, "common1", "+", plus), (340.0, "common2", "−", ["minus −"])):
        table.wire((x, lugs[lug][1]), lugs[lug], pole=pole, name=words[0])
        anchor = "start" if pole == "+" else "end"
        table.text((x + 2 if pole == "+" else x - 2, lugs[lug][1] - 8), words[0], anchor)
        table.lines((x + 2, lugs[lug][1] + 18), words[1:], anchor)
    crossing = over((lugs["up2"], lugs["down1"]))
    for pole, lug, way in (("+", "up1", (lugs["up1"], lugs["down2"])), ("−", "up2", crossing)):
        x, out = lugs[lug][0], 60.0 if lug == "up1" else 284.0
        table.wire(*way, pole=pole, name=f"cross {pole}")
        table.wire(lugs[lug], (x, 188), (out, 188), (out, 200), pole=pole, name=f"wire {pole}")
    table.group("solder")
    for x, y in lugs.values():
        table.circle((x, y + 1), 4.5, fill=MATERIALS["metal"], width=1.2)
    for (x, anchor), wire, colour in zip(((4.0, "start"), (340.0, "end")), "AB", COLOURS, strict=True):
        table.text((x, 214), f"wire {wire}, {colour}", anchor, bold=True)
    return table.picture(
        f"Seen from behind, set for red: {_said(plus)} and minus join the two middle terminals. Wire A joins the "
        "lower left and the upper right one, wire B the lower right and the upper left one. Lever up joins the middle "
        "pair to the lower one and shows red (most switches do: try yours with the meter).",
        size,
    )


def _relay(fed: bool, plus: list[str], size: Size) -> Picture:
    """A relay's contacts, for red; C is the common one, NC is closed and NO open while the coil is not fed."""
    table = Table(362.0, 184.0)
    lamps = {"pulled": fed, "light": Light.switched("red", fed)}
    ends = table.put("relay_board", (0.0, 8.0), **lamps)
    (x, _), right, inner, outer = ends["nc1"], 264.0, 232.0, 248.0
    poles = {"A": "+", "B": "−"}
    for wire, (upper, lower), bend, leave in (
        ("B" if fed else "A", ("nc1", "no2"), outer, 172.0),
        ("A" if fed else "B", ("no1", "nc2"), inner, None),
    ):
        y0, y1 = ends[upper][1], ends[lower][1]
        out = (y0 + y1) / 2 if leave is None else y1
        table.wire(ends[upper], (bend, y0), (bend, y1), ends[lower], pole=poles[wire], name=f"jumper {wire}")
        table.wire((bend, out), (right, out), pole=poles[wire], name=f"wire {wire}")
        table.text((right + 6, out + 4), f"wire {wire}, {COLOURS['AB'.index(wire)]}", bold=True)
    plus_words = ["plus +,", *plus[1:]] if plus[1:] else plus
    for end, pole, words in (("common1", "+", plus_words), ("common2", "−", ["minus −"])):
        y = ends[end][1]
        table.wire((x, y), (right, y), pole=pole, name=words[0])
        table.lines((right + 6, y + 4 - 14 * (len(words) - 1)), words)
    way = ("NO", "NC") if fed else ("NC", "NO")
    return table.picture(
        f"A relay's contacts, set for red: {_said(plus)} and minus join its two common ones (C). Wire A joins {way[0]} "
        f"of the first and {way[1]} of the second, wire B {way[1]} of the first and {way[0]} of the second. "
        f"The coil is {'fed' if fed else 'not fed'} for red.",
        size,
    )


def _said(plus: list[str]) -> str:
    return " ".join(["plus", *plus[1:]]) + ("," if plus[1:] else "")

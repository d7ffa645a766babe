"""What circuit diagrams have in common: the supply's column, the drive, the current's arrow, the names beside parts."""

from __future__ import annotations

from ..design.lamp.drive import BRIGHT, DARK, DEAD, FEEBLE, GLARING, OVERLOADED, SHINING, lamp_look
from ..parts.drive import ConstantCurrentDrive, Drive
from ..parts.led import Led
from .canvas import Canvas, Place, block_height, wrapped
from .phrases import current_words, drive_name, voltage_words
from .picture import plain
from .style import LINE, PAPER, THIN, lamp_fill, tinted
from .symbols import LAMP, Adapter, Driver, elm, symbol

LABEL_WIDTH = 88.0
"""Points in a line beside a part."""
_ARROWS = {FEEBLE: THIN, BRIGHT: 1.5 * LINE, GLARING: 2 * LINE, OVERLOADED: 2 * LINE}
_CROSS = 20.0  # half the width of the cross over a dead lamp
_DIM = 0.4  # of the fill of a lamp in normal light


def supply_column(
    canvas: Canvas, x: float, ends: tuple[float, float], name: list[str], adapter: bool, drive: Drive
) -> None:
    """A battery or adapter standing between two heights, plus first, with its name to the right.

    A constant-current driver stands in the plus lead, ahead of any switch: it passes current one way only.
    """
    plus, minus = ends
    down = 1 if minus > plus else -1
    if isinstance(drive, ConstantCurrentDrive):
        top = (plus + minus) / 2 + down * 2
        canvas.group("driver")
        canvas.add(symbol(Driver, (x, top), (x, plus)))
        label_beside(canvas, (x + 24, (top + plus) / 2), ["driver", *wrapped(drive_name(drive), 76.0, 2)])
        plus = top
    canvas.group("supply")
    middle = (plus + minus) / 2
    body = 18.0 if adapter else 13.5
    canvas.add(symbol(Adapter if adapter else elm.Battery, (x, plus), (x, minus)))
    for sign, y in (("+", middle - down * (body + 8)), ("−", middle + down * (body + 8))):
        canvas.text((x - 14, y + 4), sign, "middle", bold=True, size=14)
    label_beside(canvas, (x + 24, middle), name)


def supply_name(name: str, voltage: float) -> list[str]:
    """The supply's name in at most two lines, and its voltage where the name does not start with it."""
    volts = voltage_words(voltage)
    return wrapped(name, 76.0, 2) + ([] if plain(name).startswith(volts) else [volts])


def label_beside(canvas: Canvas, place: tuple[float, float], lines: list[str], anchor: str = "start") -> None:
    """Lines of text centred on the height of `place`."""
    canvas.lines((place[0], place[1] - block_height(len(lines)) / 2 + 4), lines, anchor)


def current_arrow(
    canvas: Canvas, span: tuple[float, float], y: float, current: float, flows: bool, rightwards: bool = True
) -> None:
    """The current's value above a wire, with an arrow on it when it lights something."""
    canvas.group("current")
    middle = (span[0] + span[1]) / 2
    canvas.text((middle, y - 12), current_words(current), "middle", bold=True)
    if flows:
        tail, head = (middle - 22, middle + 22) if rightwards else (middle + 22, middle - 22)
        canvas.arrow((tail, y), (head, y), width=2.6, point=12)


def lamp_symbol(
    canvas: Canvas, name: str, led: Led, current: float, ends: tuple[Place, Place], flip: bool = False
) -> list[str]:
    """An LED as it looks with a current in A: filled where it shines, crossed out where it is dead. Gives its words."""
    look = lamp_look(led, current)
    shines = look in SHINING
    fill = tinted(lamp_fill(led.colour), _DIM if look == FEEBLE else 1.0) if shines else PAPER
    canvas.group(f"led {name} {'lit' if shines else 'dark'}")
    canvas.add(symbol(elm.LED, *ends, fill, LAMP, flip, _ARROWS.get(look, LINE)))
    if look == DEAD:
        x, y = ((start + end) / 2 for start, end in zip(*ends, strict=True))
        for side in (-1, 1):
            canvas.line((x - _CROSS, y - side * _CROSS), (x + _CROSS, y + side * _CROSS))
    state = "on" if shines else look if look == DEAD else "dark"
    more = [] if look in (DARK, DEAD) else [look.upper() if look == OVERLOADED else look]
    return [f"{name} {state}".upper(), *more]


def part_name(canvas: Canvas, place: tuple[float, float], name: str, lines: int, anchor: str) -> None:
    """A part's name in at most so many lines, centred on the height of `place`."""
    label_beside(canvas, (place[0], place[1] - 4), wrapped(name, LABEL_WIDTH, lines), anchor)

"""The trade's words in one table, with the symbol of each part that has one."""

from __future__ import annotations

from collections.abc import Callable

from ..lessons.glossary import Term, terms
from ..parts.table import need_name
from .canvas import Canvas
from .circuit import Adapter, Box, Driver, Reed, elm, symbol
from .picture import Picture
from .style import INK, NORMAL, Size
from .table import Table

_WIDTH, _MIDDLE = 84.0, 22.0
_ENDS = (4.0, _MIDDLE), (_WIDTH - 4, _MIDDLE)
_ROWS = 18.0, 46.0  # of two parts side by side
_PARTS: dict[str, type[elm.Element2Term]] = {
    "resistor": elm.ResistorIEC,
    "LED": elm.LED,
    "diode": elm.Diode,
    "battery": elm.Battery,
    "adapter": Adapter,
    "driver": Driver,
    "fuse": elm.FuseIEC,
    "reed": Reed,
    "coil": Box,
    "capacitor": elm.Capacitor,
    "pot": elm.PotentiometerIEC,
}


def glossary(lesson: str = "", size: Size = NORMAL) -> Table:
    """Every term, with its sign, what it means, and the lesson where it is met.

    For a `lesson`, such as "why_a_resistor", only its own terms, folded up at first.
    """
    heads, met = ("word", "sign", "what it means", "you meet it in"), {term.lesson for term in terms()}
    rows = [
        (_named(term), sign(term, size), term.meaning, _title(term.lesson))
        for term in terms()
        if not lesson or term.lesson == need_name(lesson, "lesson", met)
    ]
    if not lesson:
        return Table("Words of the trade", heads, rows, size=size)
    return Table("Words to know in this lesson", heads[:3], [row[:3] for row in rows], size=size, folded=True)


def _named(term: Term) -> str:
    return f"{term.word} ({', '.join(term.also)})" if term.also else term.word


def _title(lesson: str) -> str:
    return lesson.replace("_", " ").capitalize()


def sign(term: Term, size: Size = NORMAL) -> Picture | str:
    """A term's symbol, or its letters where nothing is drawn for it."""
    draw = _DRAWN.get(term.sign)
    if draw is None and term.sign not in _PARTS:
        return term.sign
    canvas = Canvas(_WIDTH, 64.0 if term.sign in _TWO else 2 * _MIDDLE)
    canvas.group(term.sign)
    if draw is None:
        canvas.add(symbol(_PARTS[term.sign], *_ENDS))
    else:
        draw(canvas)
    return canvas.picture(f"Symbol: {term.word}.", size)


def _pair(canvas: Canvas) -> None:
    _side_by_side(canvas, elm.LED, -1)


def _parallel(canvas: Canvas) -> None:
    _side_by_side(canvas, elm.ResistorIEC, 1)


def _side_by_side(canvas: Canvas, kind: type[elm.Element2Term], second: int) -> None:
    """Two parts joined at both ends; `second` is -1 where the lower one points the other way."""
    left, right, middle = 16.0, _WIDTH - 16, sum(_ROWS) / 2
    for x, end in ((left, 4.0), (right, _WIDTH - 4)):
        canvas.line((x, _ROWS[0]), (x, _ROWS[1]))
        canvas.line((x, middle), (end, middle))
        canvas.joint((x, middle))
    for y, way in zip(_ROWS, (1, second), strict=True):
        canvas.add(symbol(kind, *((left, y), (right, y))[::way], scale=0.7))


def _series(canvas: Canvas) -> None:
    for start in (4.0, _WIDTH / 2):
        canvas.add(symbol(elm.ResistorIEC, (start, _MIDDLE), (start + _WIDTH / 2 - 4, _MIDDLE), scale=0.7))


def _changeover(canvas: Canvas) -> None:
    common, throws = (20.0, _MIDDLE), ((60.0, _MIDDLE - 10), (60.0, _MIDDLE + 10))
    canvas.line((4, _MIDDLE), common, throws[0])
    for place in throws:
        canvas.line(place, (_WIDTH - 4, place[1]))
        canvas.joint(place, is_open=True)
    canvas.circle(common, 2.7, fill=INK)


def _direct(canvas: Canvas) -> None:
    canvas.line((30.0, _MIDDLE - 3), (54.0, _MIDDLE - 3))
    for start in (30.0, 39.0, 48.0):
        canvas.line((start, _MIDDLE + 3), (start + 6, _MIDDLE + 3))


_TWO = ("pair", "in parallel")
_DRAWN: dict[str, Callable[[Canvas], None]] = {
    "pair": _pair,
    "in parallel": _parallel,
    "in series": _series,
    "changeover": _changeover,
    "direct": _direct,
}

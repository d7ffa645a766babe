"""Two signals between their wires, and what sharing one of the wires does."""

from __future__ import annotations

from typing import NamedTuple

from ..design.pair.wiring import DARK, GREEN, RED, Shown, Wiring
from ..errors import DesignError
from .canvas import Canvas, Place
from .circuit import elm, lamp_symbol, symbol
from .light import Light
from .picture import Picture
from .style import FAINT, LINE, NORMAL, STAGE, TEXT, Size
from .wiring import SHORTED, said, short_circuit


def signals_on_wires(wiring: Wiring, shown: Shown, size: Size = NORMAL) -> Picture:
    """The signals of a wiring between their wires, as they are in one position of the switches.

    Each wire says which pole of a supply it is on. A wire on no pole is thin and dashed, one
    that joins two poles of a supply thick and marked.

    Raises DesignError for a wiring with fewer or more than two signals.
    """
    if len(wiring.signals) != 2:
        raise DesignError(f"wiring {wiring.name!r} needs two signals here, but has {len(wiring.signals)}")
    (_, a1, b1), (_, a2, b2) = wiring.signals
    lies = _SIGNALS_WALL if size is STAGE else _SIGNALS_PAGE
    wires = dict.fromkeys((a1, b1, a2, b2))  # a shared one is drawn between the wires of its two signals
    heights = dict(zip(wires, lies.rows[len(wires) - 2], strict=True))
    canvas = Canvas(lies.width, lies.height or max(heights.values()) + 44)
    poles = {
        wire: on
        for (_, *wires), ons in zip(wiring.signals, shown.leads, strict=True)
        for wire, on in zip(wires, ons, strict=True)
    }
    (start, end), text = lies.wires, {"size": lies.text}
    side_by_side = len(heights) == 2
    for wire, y in heights.items():
        pole, name = poles[wire], "return" if wire in wiring.poles else wire
        shorted = shown.short and " and " in pole
        canvas.group(f"wire {name} {'shorted' if shorted else 'live' if pole else ''}")
        look = {"width": SHORTED if shorted else 1.4 * LINE} if pole else {"dash": "4 3", "colour": FAINT}
        canvas.line((start, y), (lies.far if side_by_side else end, y), **look)
        canvas.text(
            (start - 10, y + 4), f"{name} on {pole.replace('-', '−') or 'no pole'}", "end", bold=shorted, **text
        )
    for number, (name, a, b) in enumerate(wiring.signals):
        x = lies.columns[0] + number * lies.columns[1] if side_by_side else lies.single  # on the same two wires
        words = (x + 24, heights[b] + 20) if side_by_side and lies.height else None
        _signal(canvas, name, (x, heights[a], heights[b]), shown.lamps[number], lies.text, words)
    canvas.group("position")
    for words, (_, a, b) in zip(shown.position.split(", "), wiring.signals, strict=False):
        canvas.text((start - 10, (heights[a] + heights[b]) / 2 + 4), words, "end", **text)  # beside what it reverses
    if shown.short:
        x, y = lies.short
        short_circuit(canvas, (x, y or canvas.height - 14))
    return canvas.picture(said(shown), size)


class _Signals(NamedTuple):
    """Where two signals are between their wires."""

    width: float
    height: float  # 0 for as high as the wires need
    rows: tuple[tuple[float, ...], ...]  # the heights of two wires, of three, of four
    wires: tuple[float, float]  # where they begin and end
    far: float  # where they end where the signals are side by side
    columns: tuple[float, float]  # the first of two side by side, and the step to the second
    single: float  # the column of signals one below the other
    short: tuple[float, float]  # the words on a short circuit; 0 for the foot
    text: float


_ROWS_PAGE = (34.0, 146.0), (34.0, 146.0, 258.0), (34.0, 146.0, 180.0, 292.0)
_ROWS_WALL = (24.0, 184.0), (14.0, 120.0, 226.0), (14.0, 110.0, 130.0, 226.0)
_SIGNALS_PAGE = _Signals(520.0, 0.0, _ROWS_PAGE, (140.0, 390.0), 390.0, (150.0, 178.0), 270.0, (300.0, 0.0), TEXT)
_SIGNALS_WALL = _Signals(480.0, 240.0, _ROWS_WALL, (152.0, 308.0), 440.0, (190.0, 160.0), 238.0, (312.0, 126.0), 15.0)


def _signal(
    canvas: Canvas, name: str, place: tuple[float, float, float], lit: str, text: float, below: Place | None
) -> None:
    """Resistor and two lamps back to back between the heights of the signal's wires; words on their right or below."""
    x, upper, lower = place
    apart, node = 48.0, upper + (46.0 if lower > upper else -46.0)
    middle = (x + apart / 2, node)
    canvas.group(f"resistor of {name}")
    canvas.add(symbol(elm.ResistorIEC, (middle[0], upper), middle))
    canvas.line((x, node), (x + apart, node))
    canvas.joint((middle[0], upper))
    canvas.joint(middle)
    for lamp, ends in ((RED, ((x, node), (x, lower))), (GREEN, ((x + apart, lower), (x + apart, node)))):
        outward = (ends[1][1] > ends[0][1]) == (lamp == RED)  # the arrows of light point away from the other lamp
        lamp_symbol(canvas, f"{lamp} of {name}", Light.switched(lamp, lit == lamp), ends, flip=outward)
        canvas.joint((ends[0][0], lower))
    words = f"{lit} on".upper() if lit in (RED, GREEN) else DARK.upper()
    for number, line in enumerate((name, words)):
        x_words, y_words = below or (x + apart + 44, (node + lower) / 2 - 2)
        at = (x_words, y_words + (text + 3) * number)
        canvas.text(at, line, "middle" if below else "start", bold=not number, size=text)

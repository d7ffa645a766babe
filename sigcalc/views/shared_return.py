"""Drawing of two signals and their wires: which pole each wire is on, which lamp lights, and what shorts the supply."""

from __future__ import annotations

from ..design.pair.wiring import GREEN, RED, Shown
from ..errors import DesignError
from ..parts.contacts import Wiring
from .canvas import Canvas
from .picture import Picture
from .reversing import said, short_circuit
from .style import FAINT, LINE, NORMAL, PAPER, Size, lamp_fill
from .symbols import LAMP, elm, symbol

_WIDTH = 520.0
_START, _PAIR, _APART = 140.0, 270.0, 48.0
_LAMPS, _NEXT, _TOP = 112.0, 34.0, 34.0
_RESISTOR = 46.0  # from a signal's own wire to where its lamps part
_BESIDE = 178.0  # from one signal to the next, where both hang on the same two wires


def signals_on_wires(wiring: Wiring, shown: Shown, size: Size = NORMAL) -> Picture:
    """The signals of a wiring between their wires, as they are in one position of the switches.

    Each wire says which pole of a supply it is on. A wire on no pole is thin and dashed, one
    that joins two poles of a supply thick and marked.

    Raises DesignError for a wiring with fewer or more than two signals.
    """
    if len(wiring.signals) != 2:
        raise DesignError(f"wiring {wiring.name!r} needs two signals here, but has {len(wiring.signals)}")
    heights = _heights(wiring)
    canvas = Canvas(_WIDTH, max(heights.values()) + 44)
    poles = _poles_of(wiring, shown)
    for wire, y in heights.items():
        name = "return" if wire in wiring.poles else wire
        _wire(canvas, name, poles[wire], y, shown.short and " and " in poles[wire])
    side_by_side = len(heights) == 2
    for number, (name, a, b) in enumerate(wiring.signals):
        x = _START + 10 + number * _BESIDE if side_by_side else _PAIR
        _signal(canvas, name, (x, heights[a], heights[b]), shown, number)
    canvas.group("position")
    for words, (_, a, b) in zip(shown.position.split(", "), wiring.signals, strict=False):
        canvas.text((_START - 10, (heights[a] + heights[b]) / 2 + 4), words, "end")  # beside the wires it turns round
    if shown.short:
        short_circuit(canvas, (300.0, canvas.height - 14))
    return canvas.picture(said(shown), size)


def _heights(wiring: Wiring) -> dict[str, float]:
    """The height of each wire: a shared one lies between the wires of its two signals."""
    (_, a1, b1), (_, a2, b2) = wiring.signals
    if {a1, b1} == {a2, b2}:
        return {a1: _TOP, b1: _TOP + _LAMPS}
    if b1 == b2:
        return {a1: _TOP, b1: _TOP + _LAMPS, a2: _TOP + 2 * _LAMPS}
    second = _TOP + _LAMPS + _NEXT
    return {a1: _TOP, b1: _TOP + _LAMPS, a2: second, b2: second + _LAMPS}


def _poles_of(wiring: Wiring, shown: Shown) -> dict[str, str]:
    poles = {}
    for (_, *wires), on in zip(wiring.signals, shown.leads, strict=True):
        poles |= dict(zip(wires, on, strict=True))
    return poles


def _wire(canvas: Canvas, wire: str, pole: str, y: float, shorted: bool) -> None:
    canvas.group(f"wire {wire} {'shorted' if shorted else 'live' if pole else ''}")
    ends = (_START, y), (_WIDTH - 130, y)
    if pole:
        canvas.line(*ends, width=2.8 * LINE if shorted else 1.4 * LINE)
    else:
        canvas.line(*ends, dash="4 3", colour=FAINT)
    canvas.text((_START - 10, y + 4), f"{wire} on {pole.replace('-', '−') or 'no pole'}", "end", bold=shorted)


def _signal(canvas: Canvas, name: str, place: tuple[float, float, float], shown: Shown, number: int) -> None:
    """Resistor and two lamps head to tail between the heights of the signal's wires; the words stand to their right."""
    x, upper, lower = place
    lit, node = shown.lamps[number], upper + (_RESISTOR if lower > upper else -_RESISTOR)
    canvas.group(f"resistor of {name}")
    middle = x + _APART / 2
    canvas.add(symbol(elm.ResistorIEC, (middle, upper), (middle, node)))
    canvas.line((x, node), (x + _APART, node))
    canvas.joint((middle, upper))
    canvas.joint((middle, node))
    ends = {RED: ((x, node), (x, lower)), GREEN: ((x + _APART, lower), (x + _APART, node))}
    canvas.group(f"{name} {lit}")
    for lamp in (RED, GREEN):
        start, end = ends[lamp]
        outward = (end[1] > start[1]) == (lamp == RED)  # the arrows of light point away from the other lamp
        canvas.add(symbol(elm.LED, start, end, lamp_fill(lamp) if lit == lamp else PAPER, LAMP, flip=outward))
        canvas.joint((start[0], lower))
    words = [name, f"{lit} on".upper() if lit in (RED, GREEN) else "DARK"]
    share = abs(shown.voltages[number])
    if lit in (RED, GREEN) and abs(share - 1) > 1e-9:
        words.append(f"at {share:.2g} of the voltage")
    canvas.lines((x + _APART + 44, (node + lower) / 2 - 2), words, bold_first=True)

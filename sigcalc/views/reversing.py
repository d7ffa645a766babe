"""Drawing of a reversing switch at work: supply, contacts in their position, the two wires, and which lamp is lit."""

from __future__ import annotations

import re

import numpy as np

from ..design.pair.reversing import RESISTOR_FIRST
from ..design.pair.wiring import GREEN, RED, Shown
from ..parts.contacts import Join, Wiring
from ..physics.contacts import connected
from .canvas import Canvas, Place
from .picture import Picture
from .style import FAINT, INK, LINE, NORMAL, PAPER, THIN, Size, lamp_fill
from .symbols import LAMP, elm, symbol
from .wiring_layout import Contact, Layout, layout_of

_WIDTH = 544.0
_LIVE, _SHORTED = 1.6 * LINE, 2.8 * LINE
_SIGN, _SUPPLY = 352.0, 30.0
_SWITCH, _BELOW = 142.0, 258.0  # below the contacts that are touched in the first position


class _Joined:
    """Which points are joined, and to what: `of` gives "shorted", "live" or "" for a point."""

    def __init__(self, wiring: Wiring, closed: tuple[Join, ...]):
        self._place = {point: index for index, point in enumerate(wiring.points)}
        pairs = [(self._place[a], self._place[b]) for a, b in (*wiring.jumpers, *closed)]
        self._groups = connected(len(self._place), np.array(pairs, dtype=int))
        self._poles = {self._group(pole) for pole in wiring.poles}
        self._shorted = {self._group(plus) for plus, minus in wiring.sources if self._group(plus) == self._group(minus)}

    def _group(self, point: str) -> int:
        return int(self._groups[self._place[point]])

    def of(self, point: str) -> str:
        group = self._group(point)
        return "shorted" if group in self._shorted else "live" if group in self._poles else ""


def reversing_circuit(
    wiring: Wiring, closed: tuple[Join, ...], shown: Shown, resistor_first: bool = False, size: Size = NORMAL
) -> Picture:
    """A wiring with one signal, its contacts as they stand, and what the lamps show.

    Wires joined to a pole of the supply are thick, a short circuit thicker still and marked;
    wires that are joined to no pole are thin and dashed.

    Parameters
    ----------
    wiring: one signal behind a two-pole switch or relay, one changeover contact on a split supply, or four switches
    closed: the terminals that the contacts join, as `wiring.closed(...)` gives them
    shown: what the signal then shows, as `parts.wiring.show` gives it
    resistor_first: the resistor is in the plus wire of the one supply, ahead of the switch, and not in wire B; a split
        supply has two wires that it would have to be in, and keeps it in wire B

    Raises DesignError for a wiring that has no drawing.
    """
    layout, joined = layout_of(wiring), _Joined(wiring, closed)
    resistor_first = resistor_first and len(wiring.sources) == 1
    canvas = Canvas(_WIDTH, layout.height)
    for jumper in wiring.jumpers:
        _jumper(canvas, layout, joined, jumper)
    for contact in layout.contacts:
        _contact(canvas, layout, contact, closed)
    _link(canvas, layout, wiring, closed)
    canvas.group("labels")
    for label in layout.labels:
        canvas.lines(label.place, label.lines, label.anchor)
    for number, (plus, minus) in enumerate(wiring.sources):
        ends = layout.places[plus], layout.places[minus]
        _supply(canvas, *ends, (number == 0, number == len(wiring.sources) - 1), -28 if layout.lying else 4)
    _pair(canvas, layout, joined, wiring, shown)
    _resistor(canvas, layout, resistor_first)
    tamed = shown.short and resistor_first
    _words_below(canvas, layout, shown, tamed)
    words = said(shown) + (f" {RESISTOR_FIRST}" if tamed else "")
    return canvas.picture(words, size)


def said(shown: Shown) -> str:
    """What is shown, in words, with a minus that is no hyphen."""
    return re.sub("(?<= )-", "−", shown.sentence)


def _stroke(canvas: Canvas, state: str, *places: Place) -> None:
    if state:
        canvas.line(*places, width=_SHORTED if state == "shorted" else _LIVE)
    else:
        canvas.line(*places, width=LINE, dash="4 3", colour=FAINT)


def _jumper(canvas: Canvas, layout: Layout, joined: _Joined, jumper: Join) -> None:
    canvas.group(f"jumper {jumper[0]} to {jumper[1]} {joined.of(jumper[0]) or 'dead'}")
    _stroke(canvas, joined.of(jumper[0]), *layout.route(*jumper))


def _contact(canvas: Canvas, layout: Layout, contact: Contact, closed: tuple[Join, ...]) -> None:
    """The blade from its own terminal to the one it touches, or into the air, and rings for the terminals."""
    pivot = layout.places[contact.common]
    touched = [throw for throw in contact.throws if (contact.common, throw) in closed]
    canvas.group(f"contact {contact.common} {'on ' + ' and '.join(touched) if touched else 'open'}")
    for tip in [layout.places[throw] for throw in touched] or [contact.rest]:
        canvas.line(pivot, tip, width=3.4 * LINE if touched else 2.4 * LINE)
    for terminal in (contact.common, *contact.throws):
        canvas.circle(layout.places[terminal], 4.2, fill=PAPER, width=LINE)


def _link(canvas: Canvas, layout: Layout, wiring: Wiring, closed: tuple[Join, ...]) -> None:
    """The dotted line that couples the two blades of one switch."""
    if len(wiring.devices) > 1 or len(layout.contacts) < 2:
        return
    middles = []
    for contact in layout.contacts:
        (x0, y0) = layout.places[contact.common]
        touched = [layout.places[throw] for throw in contact.throws if (contact.common, throw) in closed]
        x1, y1 = touched[0] if touched else contact.rest
        middles.append((0.75 * x1 + 0.25 * x0, 0.75 * y1 + 0.25 * y0))
    canvas.group("link")
    canvas.line(*middles, width=THIN, dash="1.5 3")


def _supply(canvas: Canvas, plus: Place, minus: Place, signs: tuple[bool, bool], height: float) -> None:
    """A battery with its signs; its plus is above."""
    x, middle = plus[0], (plus[1] + minus[1]) / 2
    canvas.group("supply")
    canvas.add(symbol(elm.Battery, plus, minus))
    if signs[0]:
        canvas.text((x - 15, middle - 16), "+", "middle", bold=True, size=14)
    if signs[1]:
        canvas.text((x - 15, middle + 26), "−", "middle", bold=True, size=14)
    canvas.text((x + 22, middle + height), "supply")


def _pair(canvas: Canvas, layout: Layout, joined: _Joined, wiring: Wiring, shown: Shown) -> None:
    """The two wires from the switch to the lamps, and the lamps head to tail between them."""
    _, a, b = wiring.signals[0]
    (x0, y0), (x1, y1) = layout.pair
    canvas.group("wires")
    if layout.lying:
        _stroke(canvas, joined.of(a), layout.places[a], (x0, layout.places[a][1]))
        _stroke(canvas, joined.of(b), layout.places[b], (x1, layout.places[b][1]))
        for x, lead in ((x0, a), (x1, b)):
            _stroke(canvas, joined.of(lead), (x, y0), (x, y1))
            canvas.joint((x, layout.places[lead][1]))
        ends = {RED: ((x0, y0), (x1, y0)), GREEN: ((x1, y1), (x0, y1))}
        words = {RED: ((x0 + x1) / 2, y0 - 44, "middle"), GREEN: ((x0 + x1) / 2, y1 + 54, "middle")}
    else:
        for lead, y in ((a, y0), (b, y1)):
            _stroke(canvas, joined.of(lead), layout.places[lead], (x0, y), (x1, y))
            canvas.joint((x0, y))
        ends = {RED: ((x0, y0), (x0, y1)), GREEN: ((x1, y1), (x1, y0))}
        below = (y0 + y1) / 2 + 36
        words = {RED: (x0 - 12, below, "end"), GREEN: (x1 + 12, below, "start")}
    for lamp in (RED, GREEN):
        lit = lamp in shown.lamps
        canvas.group(f"led {lamp} {'lit' if lit else 'dark'}")
        canvas.add(symbol(elm.LED, *ends[lamp], lamp_fill(lamp) if lit else PAPER, LAMP, flip=not layout.lying))
        x, y, anchor = words[lamp]
        lines = (lamp.upper(), "ON" if lit else "DARK")
        lines = (" ".join(lines),) if layout.lying else lines
        canvas.lines((x, y), lines, anchor, bold_first=True)
    _lead_words(canvas, layout, wiring, shown)


def _lead_words(canvas: Canvas, layout: Layout, wiring: Wiring, shown: Shown) -> None:
    """The name of each wire and the pole it is on, and an arrow the way the current flows."""
    canvas.group("leads")
    _, *leads = wiring.signals[0]
    for number, (lead, pole) in enumerate(zip(leads, shown.leads[0], strict=True)):
        words = f"wire {lead} on {pole.replace('-', '−') or 'no pole'}"
        x, y = layout.places[lead]
        if layout.lying:
            canvas.text((x + (-10 if number == 0 else 10), y + 4), words, "end" if number == 0 else "start", bold=True)
        else:
            canvas.text((x + 58, y + (-8 if number == 0 else 24)), words, "start", bold=True)
            if shown.lamps[0] in (RED, GREEN):
                towards = (shown.lamps[0] == RED) == (number == 0)
                tail, head = (x + 20, x + 46) if towards else (x + 46, x + 20)
                canvas.arrow((tail, y), (head, y), width=2.6, point=12)


def _resistor(canvas: Canvas, layout: Layout, first: bool) -> None:
    """The signal's resistor: in the plus wire, or in wire B."""
    (_, _), (x1, y1) = layout.pair
    if first:
        y = min(y for x, y in layout.places.values() if x == _SUPPLY)
        ends = (_SUPPLY + 26, y), (_SUPPLY + 76, y)
    elif layout.lying:
        y = (layout.pair[0][1] + y1) / 2
        ends = (x1 + 4, y), (x1 + 46, y)
    else:
        ends = (350.0, y1), (396.0, y1)
    canvas.group("resistor")
    canvas.add(symbol(elm.ResistorIEC, *ends))


def _words_below(canvas: Canvas, layout: Layout, shown: Shown, tamed: bool) -> None:
    """The position in words, below the contacts; a short circuit in bold, with a flash where no resistor `tamed` it."""
    y = layout.height - 14
    if not layout.lying:  # there the contacts say it, and the words are many
        canvas.group("position")
        canvas.text((_SWITCH, _BELOW), shown.position, "middle")
    if tamed:
        canvas.text((_WIDTH - 4, y + 1), "ALL ACROSS THE RESISTOR", "end", bold=True, size=16)
    elif shown.short:
        short_circuit(canvas, (_SIGN, y))


def short_circuit(canvas: Canvas, place: Place) -> None:
    """The words in bold with a flash before them; `place` is the left end of their baseline."""
    x, y = place
    flash = ((14, -18), (2, -4), (9, -4), (4, 8), (20, -8), (12, -8), (19, -18))
    canvas.group("short circuit")
    canvas.polygon(*((x + dx, y + dy) for dx, dy in flash), fill=INK)
    canvas.text((x + 28, y + 1), "SHORT CIRCUIT", bold=True, size=16)

"""A board with its signals, drawn and said: source, wires and how bright every lamp is; or the lamps alone."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..design.board.board import BoardSignal
from ..design.board.state import USUAL_DERATING, BoardState, lit_lamp, lit_led
from ..design.lamp.drive import DARK, FULL, GRADES, brightness_word
from ..design.power.load import GREEN, RED
from ..errors import RangeError
from ..parts.led import LIT_FROM
from ..parts.source import Adapter
from ..parts.wire import Wire
from ..units import Area, kind_of, say
from .canvas import Canvas, Place, wrapped
from .phrases import current_words, voltage_words
from .picture import Picture
from .style import FAINT, INK, LINE, NORMAL, PAPER, SHADE, THIN, Size, lamp_fill

SIGNAL, JOINT, FUSE, WAITING = "signal", "joint", "fuse", "waiting"
MOST_ROWS = 120
"""A longer drawing is no help to anybody."""
_HEIGHTS = {SIGNAL: 31.0, JOINT: 21.0, FUSE: 24.0, WAITING: 31.0}
_LEFT, _STEP, _SPREAD = 24.0, 22.0, 88.0  # the columns of the wires that run down
_WIDTH, _TOP = 480.0, 50.0  # the rows begin below the source
_FOOT, _WORDS = 208.0, 284.0  # where the wires reach a signal's foot, and where its words begin
_BAR = 186.0
_SHORT = "SHORT HERE"
_BOLD = 1.18  # bold letters need up to so much more room than plain ones
_THINNEST, _THICKER = 1.2, 4.3  # points; what a wire without current has, and what the whole current adds
_FIRST_LAMP, _NEXT_LAMP = 24.0, 29.0  # from the foot on
_LENS, _TARGET, _RAY = 6.6, 9.0, 5.0
_DIRECTIONS = (30, 60, 90, 120, 150, 210, 240, 270, 300, 330)  # degrees; none along the mast
_LISTED = 16  # more names than that are no summary
_GAUGE = re.compile(r"\d{1,2} AWG")


def share_words(share: float) -> str:
    """A share of light in whole per cent; nothing is rounded to zero or to all."""
    if 0.0 < share < 0.01:
        return "under 1 %"
    return f"{min(round(100 * share), 99) if share < 0.995 else 100} %"


def wire_words(wire: Any) -> str:
    """A wire in short: its gauge where it has one, else its cross-section or its name."""
    if isinstance(wire, Wire):
        wire = wire.name
    if isinstance(wire, str):
        gauge = _GAUGE.match(wire)
        return gauge[0] if gauge else wire.replace("mm2", "mm²")
    return f"{wire} AWG" if isinstance(wire, int) else say(kind_of(Area).read(wire, "wire"), "m2")


def words_of(state: BoardState) -> list[str]:
    """The word for every signal of a board, in its order."""
    return [brightness_word(*pair) for pair in zip(state.share, state.si.current, strict=True)]


def gives_words(state: BoardState) -> str:
    """What the source gives, and which part of its rating that is."""
    source, current = state.board.source, state.si.supply_current
    gives = f"gives {current_words(current)}"
    if not isinstance(source, Adapter):
        return gives
    rated = source.si.max_current
    if state.limited:
        return f"gives all of its {say(rated, 'A')}"
    part = current / rated
    return f"{gives} of its {say(rated, 'A')}" + (f", {part:.3g} times" if part > 1 else f" ({share_words(part)})")


def board_sentence(state: BoardState, short: str | None = None) -> str:
    """The source, a short circuit where there is one, and who shows how much of its light, the brightest first."""
    at = f" There is a short circuit across {short}." if short is not None else ""
    volts = voltage_words(float(state.si.node_voltage[0]))
    words, said = np.array(words_of(state)), [f"{state.board.source.name} {gives_words(state)} at {volts}.{at}"]
    for word in GRADES:
        places = np.flatnonzero(words == word)
        if places.size > 1 and len(words) > _LISTED:
            said.append(f"{word.capitalize()}: {places.size} signals.")
        elif places.size:
            said.append(f"{word.capitalize()}: {', '.join(_named(state, place, word) for place in places)}.")
    return " ".join(said)


def _named(state: BoardState, place: int, word: str) -> str:
    signal = state.board.signals[place]
    name = f"{signal.name} {lit_led(signal, state.showing).colour}"
    return name if word == DARK else f"{name} {share_words(state.share[place])}"


def _weakest(state: BoardState) -> int | None:
    """The lit signal with the least share of its light, where that is seen."""
    lit = np.flatnonzero(state.si.current > LIT_FROM)
    if not lit.size:
        return None
    place = int(lit[np.argmin(state.share[lit])])
    return place if words_of(state)[place] != FULL else None


def board_picture(
    state: BoardState, short: str | None = None, size: Size = NORMAL, waiting: Sequence[str] = ()
) -> Picture:
    """A board in one state, as `study_board` or `short_at` gives it; `short` is the node of a short circuit.

    Every signal is in a row of its own with its lamps, its name, and its share of light in words; what leads to it,
    with wire, length and current, is on its left. The more current, the thicker the line. A terminal strip is a bar.
    `waiting` names signals that are not connected yet.

    Raises RangeError for a board of more than 120 signals and joints, UnknownNameError for a node that is not on it.
    """
    drawing = _Drawing(state, None if short is None else state.board.node_number(short), waiting)
    return drawing.canvas.picture(board_sentence(state, short), size)


def _light(state: BoardState, number: int, with_current: bool = False) -> tuple[float, str]:
    """The share of its light that a signal's lamp gives, 0 where it is dark, and how bright it is in words."""
    share, current = float(state.share[number]), float(state.si.current[number])
    figures = [f" {current_words(current)}"] * with_current + [f" {share_words(share)}"]
    colour, lit = lit_led(state.board.signals[number], state.showing).colour, current > LIT_FROM
    return share * lit, f"{colour}{','.join(figures) if lit else ''}: {brightness_word(share, current)}"


@dataclass
class _Row:
    """A row: what it is, its node, its signal's place in the board or its name, and the height of its middle."""

    kind: str
    node: int
    what: Any = None
    y: float = 0.0


class _Drawing:
    """A board on its canvas: a row for each signal and each joint, the wires running down on their left."""

    def __init__(self, state: BoardState, shorted: int | None, waiting: Sequence[str]):
        self.state, self.board, self.shorted, self.weakest = state, state.board, shorted, _weakest(state)
        self.children: list[list[int]] = [[] for _ in self.board.nodes]
        for node in np.argsort(self.board.section_above, kind="stable")[1:].tolist():  # in the order of the sections
            self.children[self.board.above[node]].append(node)
        self.column = [0] * len(self.board.nodes)
        self.rows = [_Row(FUSE, 0)] if self.board.fuse is not None else []
        self._lay_out(0)
        self.rows += [_Row(WAITING, 0, name) for name in waiting]
        if len(self.rows) > MOST_ROWS:
            raise RangeError(
                argument="the board",
                need=f"at most {MOST_ROWS} signals and joints to be drawn",
                given=str(len(self.rows)),
                advice="draw its branches one by one, or read the figures from the study",
            )
        y, self.first, self.last = _TOP, {0: _TOP}, {0: _TOP}  # the heights of each node's first and last row
        for row in self.rows:
            row.y = y + _HEIGHTS[row.kind] / 2
            y += _HEIGHTS[row.kind]
            self.first.setdefault(row.node, row.y)
            if row.kind != WAITING:
                self.last[row.node] = row.y
        self.canvas = Canvas(_WIDTH, y + 8)
        self._wires()
        self._source()
        draw = {SIGNAL: self._signal, JOINT: self._joint, FUSE: self._fuse, WAITING: self._waiting}
        for row in self.rows:
            draw[row.kind](row, self._x(row.node))

    def _x(self, node: int) -> float:
        """Where the node's wire runs down."""
        return _LEFT + self.column[node] * min(_STEP, _SPREAD / max(*self.column, 1))

    def _lay_out(self, first: int) -> None:
        """A node's own rows come before those of what is behind it; an only child stays below its parent."""
        todo = [first]
        while todo:
            node = todo.pop()
            own = [_Row(SIGNAL, node, int(number)) for number in np.flatnonzero(self.board.signal_nodes == node)]
            self.rows += own or ([_Row(JOINT, node)] if node else [])
            for child in self.children[node]:
                self.column[child] = self.column[node] + (len(self.children[node]) > 1)
            todo += reversed(self.children[node])

    def _source(self) -> None:
        """The source's box, what it gives, and how much of its rating that is."""
        state, source, canvas = self.state, self.board.source, self.canvas
        canvas.group("source")
        canvas.rectangle((8, 6), (184, 40), width=LINE)
        _text(canvas, (16, 22), source.name, 168, bold=True)
        outlet = "at its plug" if isinstance(source, Adapter) else "at its terminals"
        where = outlet if self.board.fuse is None else "behind the fuse"
        _text(canvas, (16, 38), f"{voltage_words(float(state.si.node_voltage[0]))} {where}", 168)
        _text(canvas, (_FOOT, 22), gives_words(state), _WIDTH - _FOOT - 4, bold=True)
        if not isinstance(source, Adapter):
            return
        part = min(state.si.supply_current / source.si.max_current, 1.0)
        canvas.group("load of the adapter")
        canvas.rectangle((_FOOT, 30), (_BAR, 12), width=THIN)
        canvas.rectangle((_FOOT, 30), (part * _BAR, 12), fill=FAINT, width=THIN)
        mark = _FOOT + USUAL_DERATING * _BAR
        canvas.line((mark, 27), (mark, 45), width=2 * LINE)
        canvas.text((_FOOT + _BAR + 8, 41), f"mark: {say(USUAL_DERATING, '')}")

    def _wires(self) -> None:
        """Every wire, down and across; several that start at one node start at a bar, its terminal strip."""
        canvas, first = self.canvas, self.first
        canvas.group("terminal strip")
        for node, children in enumerate(self.children):
            x, ends = self._x(node), [first[child] for child in children]
            if len(ends) > 1:
                canvas.rectangle((x - 4, first[node] - 7), (8, max(ends) - first[node] + 14), fill=SHADE)
            elif self.last[node] > first[node]:
                canvas.line((x, first[node]), (x, self.last[node]), width=_THINNEST)
        canvas.group("wires")
        most = abs(self.state.si.supply_current)
        for node in range(1, len(self.children)):
            above, x = int(self.board.above[node]), self._x(node)
            through = abs(float(self.state.si.section_current[self.board.section_above[node]]))
            width = _THINNEST + (_THICKER * min(through / most, 1.0) if most else 0.0)
            below = self.column[node] == self.column[above]
            start = (x, first[above]) if below else (self._x(above) + 4, first[node])
            canvas.line(start, (x, first[node]), width=width)

    def _signal(self, row: _Row, x: float) -> None:
        """A signal with its lamps, its name and its light in words."""
        signal, (light, said) = self.board.signals[row.what], _light(self.state, row.what, with_current=True)
        self.canvas.group(f"feeder to {signal.name}")
        self.canvas.line((x, row.y), (_FOOT, row.y), width=_THINNEST)
        self.canvas.joint((x, row.y))
        self._label(row, (x, row.y - 5), _FOOT)
        _draw_signal(self.canvas, signal, (_FOOT, row.y), lit_lamp(signal, self.state.showing), light)
        self.canvas.group(f"words {signal.name}")
        remark = "weakest" if self.shorted is None and row.what == self.weakest else ""
        self._name(row, signal.name, row.y - 3, remark)
        _text(self.canvas, (_WORDS, row.y + 12), said, _WIDTH - _WORDS - 4)

    def _joint(self, row: _Row, x: float) -> None:
        """A joint without a signal of its own, such as a terminal strip, with its name."""
        name = self.board.nodes[row.node]
        self.canvas.group(f"joint {name}")
        if len(self.children[row.node]) <= 1:
            self.canvas.joint((x, row.y))
        self._label(row, (x, row.y + 4), _WORDS)
        self._name(row, name, row.y + 4, voltage_words(float(self.state.si.node_voltage[row.node])))

    def _name(self, row: _Row, name: str, y: float, remark: str) -> None:
        """A signal's or joint's name, and on its right a remark, or that there is a short, with a flash."""
        if row.node == self.shorted:
            remark = _SHORT
            shape = ((4, -4), (-5, 7), (0, 7), (-4, 17), (7, 3), (1, 3))
            self.canvas.polygon(*((_FOOT - 14 + across, row.y + down) for across, down in shape), fill=INK, width=THIN)
        _text(self.canvas, (_WORDS, y), name, _WIDTH - _WORDS - (84 if remark else 4), bold=True)
        self.canvas.text((_WIDTH - 4, y), remark, "end", bold=remark == _SHORT)

    def _label(self, row: _Row, place: Place, end: float) -> None:
        """Wire, length and current of the section that leads to a node, at its first row."""
        if row.node and row.y == self.first[row.node]:
            number = self.board.section_above[row.node]
            section, current = self.board.sections[number], float(self.state.si.section_current[number])
            words = f"{wire_words(section.wire)}, {section.si.length:.3g} m, {current_words(abs(current))}"
            _text(self.canvas, (place[0] + 8, place[1]), words, end - place[0] - 12)

    def _fuse(self, row: _Row, x: float) -> None:
        """The fuse at the source: a box with the wire through it."""
        self.canvas.group("fuse")
        self.canvas.rectangle((x - 5, row.y - 9), (10, 18))
        self.canvas.line((x, row.y - 12), (x, row.y + 12), width=LINE)
        _text(self.canvas, (x + 14, row.y + 4), f"fuse: {self.board.fuse.name}", _WORDS - x - 20)

    def _waiting(self, row: _Row, _: float) -> None:
        """A signal that is not connected yet."""
        _draw_waiting(self.canvas, row.what, (_FOOT, row.y))
        _text(self.canvas, (_WORDS, row.y + 4), f"{row.what}, not connected", _WIDTH - _WORDS - 4, fill=FAINT)


def _draw_signal(canvas: Canvas, signal: BoardSignal, foot: Place, lit: str, light: float) -> None:
    """A signal on its side, as on a track plan, with its foot at a place; of a pair the red lamp is nearer the foot.

    `light` is the share of its own light that the lamp called `lit` gives, 0 where it is dark: so much of the lens is
    filled, and so long are its rays.
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
            canvas.rays(centre, (_TARGET + 1.0, _TARGET + 1.0 + _RAY * shown), _DIRECTIONS)


def _draw_waiting(canvas: Canvas, name: str, foot: Place) -> None:
    """The place of a signal that is not connected yet: its post without lamps."""
    canvas.group(f"waiting {name}")
    x, y = foot
    canvas.line((x, y - 8), (x, y + 8), width=LINE, colour=FAINT)
    canvas.line((x, y), (x + _FIRST_LAMP + _NEXT_LAMP, y), width=LINE, dash="3 3", colour=FAINT)


def _text(canvas: Canvas, place: Place, words: str, room: float, bold: bool = False, **style: object) -> None:
    """One line, cut where it is longer than its room; the whole of it shows when the pointer rests there."""
    said = wrapped(words, room / (_BOLD if bold else 1.0), 1)[0]
    canvas.text(place, said, bold=bold, whole=words if said.endswith("…") else "", **style)

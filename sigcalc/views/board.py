"""A board with its signals: source, feeders with their wire, and how bright every lamp is, drawn and said."""

from __future__ import annotations

from collections.abc import Sequence

from ..design.board.board_state import USUAL_DERATING, BoardState, lit_lamp, lit_led
from ..design.lamp.drive import brightness_word
from ..errors import UnitError
from ..parts.led import LIT_FROM
from ..parts.source import Adapter
from ..units import say
from .board_rows import FUSE, JOINT, RING, SIGNAL, WAITING, Row, Rows
from .board_signal import draw_signal, draw_waiting
from .board_words import board_sentence, gives_words, section_words, share_words, weakest_seen
from .canvas import Canvas, wrapped
from .phrases import current_words, voltage_words
from .picture import Picture
from .style import FAINT, INK, LINE, NORMAL, SHADE, THIN, Size

_WIDTH = 480.0
_TOP = 50.0  # where the rows begin, below the source
_FOOT, _WORDS = 208.0, 284.0  # where the wires reach a signal's foot, and where its words begin
_BAR = 186.0
_SHORT = "SHORT HERE"
_BOLD = 1.18  # bold letters take up to so much more room than plain ones
_THINNEST, _THICKER = 1.2, 4.3  # points; what a wire without current has, and what the whole current adds


def board_picture(
    state: BoardState, short: str | None = None, size: Size = NORMAL, waiting: Sequence[str] = ()
) -> Picture:
    """A board in one state, as `study_board` or `short_at` gives it; `short` is the node of a short circuit.

    Every signal stands in a row of its own with its lamps, its name, and its share of light
    in words; what leads to it, with wire, length and current, stands on its left. Wires are
    drawn the thicker the more they carry. A distribution board is a bar. `waiting` names
    signals that are not connected yet.

    Raises RangeError for a board of more than 120 signals and joints, UnknownNameError for
    a node that is not on it.
    """
    if not isinstance(state, BoardState):
        raise UnitError(f"state needs a BoardState, but {type(state).__name__} came; take study_board(board).state()")
    drawing = _Drawing(state, None if short is None else state.board.node_number(short), waiting)
    return drawing.canvas.picture(board_sentence(state, short), size)


class _Drawing:
    """The canvas of one board, drawn from its rows."""

    def __init__(self, state: BoardState, shorted: int | None, waiting: Sequence[str]):
        self.state, self.board, self.shorted, self.waiting = state, state.board, shorted, waiting
        self.rows = Rows(state.board, _TOP, waiting)
        self.canvas = Canvas(_WIDTH, self.rows.height + 8)
        self._wires()
        self._source()
        draw = {SIGNAL: self._signal, JOINT: self._joint, FUSE: self._fuse, RING: self._ring, WAITING: self._waiting}
        for row in self.rows.rows:
            draw[row.kind](row, self.rows.x(row.node))

    def _source(self) -> None:
        """The source's box, what it gives, and how much of its rating that is."""
        state, source, canvas = self.state, self.board.source, self.canvas
        canvas.group("source")
        canvas.rectangle((8, 6), (184, 40), width=LINE)
        self._text((16, 22), source.name, 168, bold=True)
        outlet = "at its plug" if isinstance(self.board.source, Adapter) else "at its terminals"
        where = outlet if self.board.fuse is None else "behind the fuse"
        self._text((16, 38), f"{voltage_words(state.si.supply_voltage)} {where}", 168)
        self._text((_FOOT, 22), gives_words(state), _WIDTH - _FOOT - 4, bold=True)
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
        """Every wire, down and across; several that start at one node start at a bar, its distribution board."""
        canvas, rows, nodes = self.canvas, self.rows, self.rows.nodes
        canvas.group("distribution")
        for number, node in enumerate(nodes):
            x, ends = rows.x(number), [nodes[child].first for child in node.children]
            if len(ends) > 1:
                canvas.rectangle((x - 4, node.first - 7), (8, max(ends) - node.first + 14), fill=SHADE)
            elif node.last > node.first:
                canvas.line((x, node.first), (x, node.last), width=_THINNEST)
        canvas.group("wires")
        for number, node in enumerate(nodes[1:], start=1):
            above, x = nodes[node.above], rows.x(number)
            width = self._thickness(int(self.board.tree.section[number]))
            if node.column == above.column:
                canvas.line((x, above.first), (x, node.first), width=width)
            else:
                canvas.line((rows.x(node.above) + 4, node.first), (x, node.first), width=width)

    def _thickness(self, section: int) -> float:
        most, through = abs(self.state.si.supply_current), abs(float(self.state.si.section_current[section]))
        return _THINNEST + _THICKER * min(through / most, 1.0) if most else _THINNEST

    def _signal(self, row: Row, x: float) -> None:
        """A signal with its lamps, its name and its light in words."""
        state, signal = self.state, self.board.signals[row.number]
        share, current = float(state.share[row.number]), float(state.si.current[row.number])
        self.canvas.group(f"feeder to {signal.name}")
        self.canvas.line((x, row.y), (_FOOT, row.y), width=_THINNEST)
        self.canvas.joint((x, row.y))
        self._label(row, x)
        light = share if current > LIT_FROM else 0.0
        draw_signal(self.canvas, signal, (_FOOT, row.y), lit_lamp(signal, state.showing), light)
        self.canvas.group(f"words {signal.name}")
        self._name(row, signal.name)
        colour, word = lit_led(signal, state.showing).colour, brightness_word(share, current)
        figures = f" {current_words(current)}, {share_words(share)}" if current > LIT_FROM else ""
        self._text((_WORDS, row.y + 12), f"{colour}{figures}: {word}", _WIDTH - _WORDS - 4)

    def _name(self, row: Row, name: str) -> None:
        """A signal's name, and on its right whether it is the weakest, or shorted."""
        remark = ""
        if row.node == self.shorted:
            remark = _SHORT
            _flash(self.canvas, row.y)
        elif self.shorted is None and row.number == weakest_seen(self.state):
            remark = "weakest"
        self._text((_WORDS, row.y - 3), name, _WIDTH - _WORDS - (84 if remark else 4), bold=True)
        self.canvas.text((_WIDTH - 4, row.y - 3), remark, "end", bold=remark == _SHORT)

    def _label(self, row: Row, x: float) -> None:
        """The section that leads to a row's node, above its line where it has one."""
        if row.section is not None:
            words = section_words(self.board.sections[row.section], float(self.state.si.section_current[row.section]))
            down, end = (4, _WORDS) if row.kind == JOINT else (-5, _FOOT)
            self._text((x + 8, row.y + down), words, end - x - 12)

    def _joint(self, row: Row, x: float) -> None:
        """A joint without a signal of its own, such as a distribution board, with its name."""
        name = self.board.nodes[row.node]
        self.canvas.group(f"joint {name}")
        if len(self.rows.nodes[row.node].children) <= 1:
            self.canvas.joint((x, row.y))
        self._label(row, x)
        remark = voltage_words(float(self.state.si.node_voltage[row.node]))
        if row.node == self.shorted:
            remark = _SHORT
            _flash(self.canvas, row.y)
        self._text((_WORDS, row.y + 4), name, _WIDTH - _WORDS - 84, bold=True)
        self.canvas.text((_WIDTH - 4, row.y + 4), remark, "end", bold=remark == _SHORT)

    def _fuse(self, row: Row, x: float) -> None:
        """The fuse at the source: a box with the wire through it."""
        self.canvas.group("fuse")
        self.canvas.rectangle((x - 5, row.y - 9), (10, 18))
        self.canvas.line((x, row.y - 12), (x, row.y + 12), width=LINE)
        self._text((x + 14, row.y + 4), f"fuse: {self.board.fuse.name}", _WORDS - x - 20)

    def _ring(self, row: Row, x: float) -> None:
        """A section that closes a ring, as a dashed line with the name of where it goes."""
        section = self.board.sections[row.section]
        self.canvas.group(f"ring {section.name}")
        self.canvas.line((x, row.y), (_WORDS - 8, row.y), dash="5 3", width=self._thickness(row.section))
        self._label(row, x)
        self._text((_WORDS, row.y + 4), f"ring, on to {section.end}", _WIDTH - _WORDS - 4)

    def _waiting(self, row: Row, _: float) -> None:
        """A signal that is not connected yet."""
        name = self.waiting[row.number]
        draw_waiting(self.canvas, name, (_FOOT, row.y))
        said = wrapped(f"{name}, not connected", _WIDTH - _WORDS - 4, 1)[0]
        self.canvas.text((_WORDS, row.y + 4), said, fill=FAINT)

    def _text(self, place: tuple[float, float], words: str, room: float, bold: bool = False) -> None:
        """One line, cut where it is longer than its room; the whole of it shows when the pointer rests there."""
        said = wrapped(words, room / (_BOLD if bold else 1.0), 1)[0]
        self.canvas.text(place, said, bold=bold, whole=words if said.endswith("…") else "")


def _flash(canvas: Canvas, y: float) -> None:
    """A flash across the two wires, below the words above them."""
    shape = ((4, -4), (-5, 7), (0, 7), (-4, 17), (7, 3), (1, 3))
    canvas.polygon(*((_FOOT - 14 + across, y + down) for across, down in shape), fill=INK, width=THIN)

"""The signals of a board without its wires, in two columns: for a room that is to watch the lamps."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from ..design.board.board_state import BoardState, lit_lamp, lit_led
from ..design.lamp.drive import brightness_word
from ..errors import UnitError
from ..parts.led import LIT_FROM
from .board_signal import draw_signal, draw_waiting
from .board_words import board_sentence, gives_words, share_words, weakest_seen
from .canvas import Canvas, Place, wrapped
from .picture import Picture
from .style import FAINT, NORMAL, Size

_WIDTH, _TOP, _ROW, _COLUMN, _WORDS = 480.0, 30.0, 33.0, 240.0, 78.0


def board_lamps(state: BoardState, size: Size = NORMAL, waiting: Sequence[str] = ()) -> Picture:
    """Every signal with its lamps and its light in words, down the first column and then down the second.

    `waiting` names signals that are not connected yet.
    """
    if not isinstance(state, BoardState):
        raise UnitError(f"state needs a BoardState, but {type(state).__name__} came; take study_board(board).state()")
    count = len(state.board.signals)
    rows = ceil((count + len(waiting)) / 2)
    canvas = Canvas(_WIDTH, _TOP + rows * _ROW + 6)
    canvas.group("source")
    said = f"{state.board.source.name} {gives_words(state)}"
    canvas.text((8, 18), wrapped(said, _WIDTH - 40, 1)[0], bold=True, whole=said)
    for place in range(count + len(waiting)):
        foot = (8 + place // rows * _COLUMN, _TOP + (place % rows + 0.5) * _ROW)
        if place < count:
            _signal(canvas, state, place, foot)
        else:
            draw_waiting(canvas, waiting[place - count], foot)
            _line(canvas, (foot[0] + _WORDS, foot[1] + 4), f"{waiting[place - count]}, not yet", fill=FAINT)
    return canvas.picture(board_sentence(state), size)


def _signal(canvas: Canvas, state: BoardState, place: int, foot: Place) -> None:
    signal = state.board.signals[place]
    share, current = float(state.share[place]), float(state.si.current[place])
    draw_signal(canvas, signal, foot, lit_lamp(signal, state.showing), share if current > LIT_FROM else 0.0)
    canvas.group(f"words {signal.name}")
    x = foot[0] + _WORDS
    name = f"{signal.name}: weakest" if place == weakest_seen(state) else signal.name
    _line(canvas, (x, foot[1] - 3), name, bold=True)
    part = f" {share_words(share)}" if current > LIT_FROM else ""
    _line(
        canvas, (x, foot[1] + 12), f"{lit_led(signal, state.showing).colour}{part}: {brightness_word(share, current)}"
    )


def _line(canvas: Canvas, place: Place, words: str, bold: bool = False, **style: object) -> None:
    said = wrapped(words, (_COLUMN - _WORDS - 12) / (1.18 if bold else 1.0), 1)[0]
    canvas.text(place, said, bold=bold, whole=words if said.endswith("…") else "", **style)

"""Bars for lamps behind one driver: what each wanted, and what it gets."""

from __future__ import annotations

import numpy as np

from ..design.pair.shared_limiter import SharedLimiter
from ..parts.led import LIT_FROM
from ..units import say, say_times
from .canvas import Canvas, wrapped
from .phrases import current_words
from .picture import Picture
from .style import FAINT, NORMAL, PAPER, SHADE, THIN, Size, lamp_fill

_WIDTH, _TOP, _EACH = 500.0, 34.0, 92.0
_START, _ROOM, _BAR = 150.0, 220.0, 24.0
_NEAR = 0.1


def limiter_shares(shared: SharedLimiter, size: Size = NORMAL) -> Picture:
    """Two bars for each branch, its wish above and what it gets below, all to one scale."""
    canvas = Canvas(_WIDTH, _TOP + _EACH * len(shared.branches))
    scale = _ROOM / float(max(np.max(shared.si.current), np.max(shared.si.wanted)))
    turns = "both lit at once" if shared.together else "lit one at a time"
    canvas.text((12, 18), f"one driver of {say(shared.drive.limit, 'A')}, {turns}", bold=True)
    for number, branch in enumerate(shared.branches):
        top = _TOP + number * _EACH
        wanted, gets = float(shared.si.wanted[number]), float(shared.si.current[number])
        canvas.group(f"branch {branch[0].colour}")
        canvas.text((12, top + 16), branch[0].colour.upper(), bold=True)
        for line, text in enumerate(wrapped(branch[0].name, 96.0, 2)):
            canvas.text((12, top + 33 + 15 * line), text, fill=FAINT)
        for row, (word, amps, fill) in enumerate(
            (("wants", wanted, PAPER), ("gets", gets, lamp_fill(branch[0].colour)))
        ):
            y = top + row * (_BAR + 6)
            canvas.text((_START - 8, y + 16), word, "end")
            canvas.rectangle((_START, y), (amps * scale, _BAR), fill=fill)
            canvas.text((_START + amps * scale + 8, y + 16), current_words(amps), bold=row == 1)
        canvas.line((_START, top - 4), (_START, top + 2 * _BAR + 10), width=THIN, colour=SHADE)
    return canvas.picture(_sentence(shared), size)


def _sentence(shared: SharedLimiter) -> str:
    said = [
        f"{branch[0].colour} wants {say(float(wanted), 'A')} and gets {current_words(float(gets))}, "
        f"{_verdict(float(gets), float(wanted))}"
        for branch, gets, wanted in zip(shared.branches, shared.si.current, shared.si.wanted, strict=True)
    ]
    start = "Lit at once, " if shared.together else "Lit one at a time, "
    return start + "; ".join(said) + "."


def _verdict(gets: float, wanted: float) -> str:
    share = gets / wanted
    if gets <= LIT_FROM:
        return "and stays dark"
    if abs(share - 1) <= _NEAR:
        return "about right"
    return f"{say_times(share)} times its wish" if share > 1 else f"{say(share, '', 2)} of its wish"

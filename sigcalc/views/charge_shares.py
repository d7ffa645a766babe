"""What a battery's charge goes into: lamp, standby and relay coil, as one bar."""

from __future__ import annotations

from ..design.power.run_result import RunTime
from ..units import say
from .canvas import Canvas
from .picture import Picture
from .style import NORMAL, PAPER, SHADE, THIN, Size, lamp_fill

_WIDTH, _HEIGHT = 480.0, 176.0
_START, _ROOM, _TOP, _BAR = 12.0, 456.0, 34.0, 40.0


def charge_shares(run: RunTime, size: Size = NORMAL) -> Picture:
    """One bar for the charge used up to the end of the run, and a line in words for each of its parts."""
    si = run.si
    colour = run.load.branch(run.load.shown)[0][0].colour
    parts = [
        ("the lamp", si.lamp_charge, lamp_fill(colour)),
        ("the timer board and the drive", si.standby_charge, PAPER),
        ("the relay's coil", si.coil_charge, SHADE),
    ]
    canvas = Canvas(_WIDTH, _HEIGHT)
    canvas.text((_START, 20), f"{say(si.used, 'Ah')} are used in {say(si.hours, 's', 2)}", bold=True)
    left = _START
    for number, (name, charge, fill) in enumerate(parts):
        share = charge / si.used
        canvas.group(f"part {name}")
        if share > 0:
            canvas.rectangle((left, _TOP), (share * _ROOM, _BAR), fill=fill)
        if fill == SHADE:
            _hatch(canvas, left, share * _ROOM)
        left += share * _ROOM
        y = _TOP + _BAR + 26 + 24 * number
        canvas.rectangle((_START, y - 11), (14, 14), fill=fill)
        if fill == SHADE:
            canvas.line((_START, y + 3), (_START + 14, y - 11), width=THIN)
        canvas.text((_START + 24, y), f"{name}: {say(charge, 'Ah')}, {say(share, '', 2)}")
    said = [f"{name} uses {say(charge, 'Ah', 2)} ({say(charge / si.used, '', 2)})" for name, charge, _ in parts]
    return canvas.picture(f"Of {say(si.used, 'Ah')} {', '.join(said[:-1])} and {said[-1]}.", size)


def _hatch(canvas: Canvas, left: float, length: float) -> None:
    """Slanting lines, so that the parts are told apart without their fills."""
    for step in range(1, int(length / 12)):
        foot = left + step * 12.0
        canvas.line((foot, _TOP + _BAR), (min(foot + 14, left + length), _TOP), width=THIN)

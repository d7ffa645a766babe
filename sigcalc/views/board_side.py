"""Circuit diagram of the relay side: supply, reed, timer, relay coil with its diode, and the contacts that cross."""

from __future__ import annotations

from typing import NamedTuple

from ..design.lamp.drive import shines
from ..errors import RangeError
from ..parts.drive import ConstantCurrentDrive, Drive, ResistorDrive
from ..parts.timer import Timer, timer_output, timers
from ..plan.result import Study
from ..plan.signal_fields import TriggerSpec
from ..units import say
from .canvas import Canvas, wrapped
from .circuit import HALF, Box, Driver, Reed, crossed_switch, elm, supply_column, supply_name, symbol
from .phrases import drive_name
from .picture import Picture
from .style import NORMAL, PAPER, Size, lamp_fill

_WIDTH, _HEIGHT = 548.0, 462.0
_PLUS, _MINUS, _PINS = 30.0, 226.0, 124.0  # the heights of both rails and of the timer's two pins
_OUTER, _SUPPLY, _REED, _COIL, _DIODE = 20.0, 64.0, 196.0, 442.0, 478.0
_TIMER, _TIMER_WIDTH = 296.0, 108.0
_POLE, _MIDDLE = 150.0, 332.0  # the contacts
_REACH = 60.0  # from the contacts' middle up to wire A and down to wire B
_SIGNAL = 392.0
_NO_DRIVER = ResistorDrive("0 ohm")  # a driver feeds the lamps alone, so none is drawn beside the supply


class _Board(NamedTuple):
    """What is drawn: `rest` is the lamp that is called for while the coil is off, `coil` the heights of its + and −."""

    study: Study
    rest: str
    wish: TriggerSpec
    timer: Timer
    drive: Drive
    coil: tuple[float, float]

    @property
    def driven(self) -> bool:
        return isinstance(self.drive, ConstantCurrentDrive)

    @property
    def has_resistor(self) -> bool:
        return not self.driven and self.drive.si.resistance > 0


def board_side(study: Study, size: Size = NORMAL) -> Picture:
    """The circuit at the board of a signal that a train sets, with the relay's coil off.

    Parameters
    ----------
    study: of a plan with a trigger and a named relay

    Raises RangeError for a plan without one of them.
    """
    plan = study.plan
    if plan.trigger is None or plan.relay is None:
        missing = "a trigger" if plan.trigger is None else "the name of a relay"
        raise RangeError(f"study needs a plan with a trigger and a relay, but {missing} is missing; add it to the plan")
    rest, timer = "green" if plan.coil_fed_for == "red" else "red", timers[plan.trigger.timer]
    from_plus = timer_output(timer, plan.coil_fed_for).from_plus
    coil = (_PLUS, _PINS) if from_plus else (_PINS, _MINUS)
    board, canvas = _Board(study, rest, plan.trigger, timer, study.points[rest].drive, coil), Canvas(_WIDTH, _HEIGHT)
    for draw in (_supply, _reed, _timer, _coil, _contacts, _wires, _signal):
        draw(canvas, board)
    return canvas.picture(_sentence(board), size)


def _supply(canvas: Canvas, board: _Board) -> None:
    """The supply, its two rails, and what leads from them down to the contacts."""
    supply = board.study.plan.supply
    name = supply_name(supply.part or supply.name, supply.corners()[1])
    supply_column(canvas, _SUPPLY, (_PLUS, _MINUS), name, supply.kind == "adapter", _NO_DRIVER)
    right = _DIODE if board.coil[0] == _PLUS else _TIMER + _TIMER_WIDTH / 2
    lower = _DIODE if board.coil[1] == _MINUS else _TIMER + _TIMER_WIDTH / 2
    poles = (_MIDDLE - HALF, _MIDDLE + HALF)
    canvas.group("plus")
    canvas.line((right, _PLUS), (_OUTER, _PLUS), (_OUTER, poles[1]))
    canvas.line((92, poles[1]), (_POLE, poles[1]))
    canvas.joint((_SUPPLY, _PLUS))
    canvas.text((_REED, _PLUS - 10), "plus +", "middle", bold=True)
    canvas.group("minus")
    canvas.line((lower, _MINUS), (_SUPPLY, _MINUS), (_SUPPLY, poles[0]), (_POLE, poles[0]))
    canvas.joint((_SUPPLY, _MINUS))
    canvas.text((_REED, _MINUS + 20), "minus −", "middle", bold=True)
    limit = "driver" if board.driven else "resistor" if board.has_resistor else "plus"
    canvas.group(limit)
    shape = {"driver": Driver, "resistor": elm.ResistorIEC, "plus": elm.Line}[limit]
    canvas.add(symbol(shape, (_OUTER, poles[1]), (92, poles[1])))
    if limit != "plus":
        name = "driver" if board.driven else "shared resistor"
        canvas.lines((12, poles[1] + 27), (name, drive_name(board.drive)))


def _reed(canvas: Canvas, board: _Board) -> None:
    """The reed with its resistor across the trigger input: to plus where it fills the capacitor, else to minus."""
    rail = _PLUS if board.timer.discharges else _MINUS
    between = (_PINS + rail) / 2
    canvas.group("reed resistor")
    canvas.add(symbol(elm.ResistorIEC, (_REED, _PINS), (_REED, between)))
    canvas.lines((_REED + 16, (_PINS + between) / 2), [say(board.wish.reed_resistor.m_as("ohm"), "ohm")], centred=True)
    canvas.group("reed")
    canvas.add(symbol(Reed, (_REED, between), (_REED, rail), scale=0.7))
    canvas.lines((_REED + 22, (between + rail) / 2), ["reed switch"], centred=True)
    canvas.group("trigger")
    canvas.line((_REED, _PINS), (_TIMER, _PINS))
    canvas.joint((_REED, rail))
    free = 16 if board.timer.discharges else -8
    canvas.text((_TIMER - 6, _PINS + free), "trigger input", "end")


def _timer(canvas: Canvas, board: _Board) -> None:
    """The timer as a block with what sets its on-time."""
    wish, middle = board.wish, _TIMER + _TIMER_WIDTH / 2
    canvas.group("timer")
    canvas.rectangle((_TIMER, 52), (_TIMER_WIDTH, 146))
    canvas.line((middle, _PLUS), (middle, 52))
    canvas.line((middle, 198), (middle, _MINUS))
    for rail, end in ((_PLUS, board.coil[0]), (_MINUS, board.coil[1])):
        if rail == end:
            canvas.joint((middle, rail))
    values = ["capacitor", say(wish.capacitance.m_as("F"), "F"), f"pot {say(wish.pot.m_as('ohm'), 'ohm')}"]
    values.append(f"and {say(wish.end_resistor.m_as('ohm'), 'ohm')}")
    ends = [] if board.timer.drives_coil else ["with transistor"]
    words = ["timer", *wrapped(wish.timer, _TIMER_WIDTH - 8, 1), *ends, *values]
    first = _PINS + 5 - 7.5 * (len(words) - 1)
    canvas.lines((middle, first), words, "middle", bold_first=True)


def _coil(canvas: Canvas, board: _Board) -> None:
    """The relay's coil and the diode across it, its cathode to the coil's plus end."""
    plus, minus = board.coil
    middle = (plus + minus) / 2
    canvas.group("output")
    canvas.line((_TIMER + _TIMER_WIDTH, _PINS), (_DIODE, _PINS))
    canvas.joint((_COIL, _PINS))
    free = -8 if plus == _PINS else 16
    canvas.text((_TIMER + _TIMER_WIDTH + 4, _PINS + free), "output", "start")
    canvas.group("coil")
    canvas.add(symbol(Box, (_COIL, plus), (_COIL, minus)))
    canvas.text((_COIL, middle + 4), "coil", "middle")
    canvas.text((_COIL - 10, plus + 18), "+", "middle", bold=True, size=14)
    canvas.text((_COIL - 10, minus - 8), "−", "middle", bold=True, size=14)
    canvas.joint((_COIL, minus if minus != _PINS else plus))
    name = ["coil of relay", *wrapped(board.study.plan.relay, 96.0, 2)]
    canvas.lines((_COIL + 6, _PINS - 56 if plus == _PINS else _PINS + 34), name)
    canvas.group("flyback diode")
    canvas.add(symbol(elm.Diode, (_DIODE, minus), (_DIODE, plus)))
    canvas.lines((_DIODE + 16, middle), ["flyback", "diode,", "ring to +"], centred=True)


def _contacts(canvas: Canvas, board: _Board) -> None:
    """The two changeover contacts with their cross: the outer throws lead to wire A, the inner ones to wire B.

    Minus is on the upper pole, so levers up make wire A minus, which lights green.
    """
    ends = (_POLE + 76, _MIDDLE - _REACH), (_POLE + 76, _MIDDLE + _REACH)
    crossed_switch(canvas, (_POLE, _MIDDLE), ends, board.rest == "green", f"contacts {board.rest}")
    for number, side in ((1, -1), (2, 1)):
        canvas.text((_POLE - 12, _MIDDLE + side * HALF - 8), f"contact {number}", "end")
    canvas.lines((_POLE + 20, _MIDDLE + 86), ("two changeover contacts", "of the relay, drawn with"), "middle")
    canvas.text((_POLE + 20, _MIDDLE + 118), f"coil off: {board.rest.upper()}", "middle", bold=True)


def _wires(canvas: Canvas, board: _Board) -> None:
    """Wires A and B to the signal, with the signs they have while the coil is off."""
    start, end, middle = _POLE + 76, _SIGNAL - 24, _SIGNAL + 60
    signs = ("−", "+") if board.rest == "green" else ("+", "−")
    for name, sign, y, edge in (("A", signs[0], -_REACH, -36), ("B", signs[1], _REACH, 36)):
        canvas.group(f"wire {name}")
        canvas.line((end, _MIDDLE + y), (middle, _MIDDLE + y), (middle, _MIDDLE + edge))
        canvas.text((_SIGNAL + 30, _MIDDLE + y + (-10 if y < 0 else 22)), f"wire {name} {sign}", "middle", bold=True)
        canvas.line((start, _MIDDLE + y), (end, _MIDDLE + y))
        canvas.joint((end, _MIDDLE + y), is_open=True)


def _signal(canvas: Canvas, board: _Board) -> None:
    """The signal as a block, with the lamp that is lit while the coil is off."""
    lit = shines(getattr(board.study.pair, board.rest), board.study.points[board.rest].si.current)
    canvas.group("signal")
    canvas.rectangle((_SIGNAL, _MIDDLE - 36), (120, 72))
    canvas.lines((_SIGNAL + 60, _MIDDLE - 14), ("two-lead signal",), "middle")
    canvas.circle((_SIGNAL + 24, _MIDDLE + 10), 9, fill=lamp_fill(board.rest) if lit else PAPER)
    canvas.text((_SIGNAL + 40, _MIDDLE + 14), f"{board.rest.upper()} {'lit' if lit else 'dark'}", bold=True)


def _sentence(board: _Board) -> str:
    rail = "plus" if board.timer.discharges else "minus"
    ends = "from plus to the timer's output" if board.coil[0] == _PLUS else "from the timer's output to minus"
    fed = "driver's current" if board.driven else "supply"
    fed += ", with the shared resistor in its plus lead," if board.has_resistor else ""
    crossed = f"Its two contacts cross the {fed} over to wires A and B"
    return (
        f"The reed pulls the trigger input of the {board.wish.timer} timer to {rail}; the relay's coil is "
        f"connected {ends}, with a diode across it, cathode to plus. {crossed}; coil off: {board.rest.upper()}."
    )

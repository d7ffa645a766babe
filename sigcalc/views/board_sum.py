"""The last lamp of a chain by hand, and ways of wiring side by side, as tables."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence

from ..design.board.along_layout import WiringTrial
from ..design.board.board import Board, as_board
from ..design.board.board_state import BoardState, board_state, lit_string
from ..design.lamp.drive import string_voltage
from ..errors import RangeError, UnitError
from ..parts.drive import ResistorDrive
from ..physics.network import chain_voltages
from ..units import say
from .board_words import wire_words
from .style import NORMAL, Size
from .sums import Step, SumByHand

_DIGITS = 4  # so that a reader who works with the printed figures gets the printed answer


def chain_by_hand(board: Board, size: Size = NORMAL) -> SumByHand:
    """What a chain's feeder leaves of the last lamp's light, every signal drawing what one alone draws.

    Raises RangeError for a board that is no chain of equal signals behind resistors.
    """
    _need_chain(as_board(board))
    solved, alone = board_state(board), board_state(dataclasses.replace(board, signals=board.signals[:1]))
    source, inside = board.source.corners[1]
    each, count = alone.si.supply_current, len(board.signals)
    left = chain_voltages(source, board.feeder.resistance, [each] * count)
    start, last = source - inside * count * each, float(left[-1]) - inside * count * each
    kept = _lamp_keeps(solved)
    first = board.sections[0]
    metre = board.feeder.resistance[0] / first.si.length
    steps = [
        Step("What one signal draws: lamp, and what hangs beside it", "solved with one signal", _say(each, "A")),
        Step(f"A metre of twin {wire_words(first.wire)} wire", "there and back", _say(metre, "ohm")),
        Step("What the source gives at its plug", board.source.name, say(start, "V", 5)),
        *_section_steps(board, each, metre),
        Step("What reaches the last signal", f"{say(start, 'V', 5)} − what is lost on the way", say(last, "V", 5)),
        Step(
            "The share of its light",
            f"({say(last, 'V', 5)} − {_say(kept, 'V')}) ÷ ({_say(source, 'V')} − {_say(kept, 'V')}), the lamp's drop "
            "taken off both",
            say((last - kept) / (source - kept), ""),
        ),
    ]
    return SumByHand(f"The last of {count} signals, by hand", tuple(steps), _compared(solved), size)


def _need_chain(board: Board) -> None:
    """A chain: each section leads from where the last one ended to the next signal; all signals alike."""
    ends = [board.supply_node, *(each.end for each in board.sections)]
    chained = [each.start for each in board.sections] == ends[:-1]
    alike = all(each.load == board.signals[0].load for each in board.signals)
    wires = {wire_words(each.wire) for each in board.sections}
    behind = [each.node for each in board.signals] == ends[1:]
    if not (chained and alike and behind and len(wires) == 1 and board.sections[0].si.length > 0):
        raise RangeError(
            f"board {board.name!r} needs to be a chain of equal signals on one wire for a sum by hand; "
            'make it with board_along(..., wiring="chain")'
        )
    if not isinstance(board.signals[0].load.drive, ResistorDrive):
        raise RangeError("the signals need a resistor as their drive for a sum by hand: a driver holds its current")


def _section_steps(board: Board, each: float, metre: float) -> list[Step]:
    count = len(board.signals)
    steps = []
    for place, section in enumerate(board.sections):
        drawing = count - place
        how = f"{drawing} × {_say(each, 'A')} × {section.si.length:.4g} m × {_say(metre, 'ohm')}/m"
        lost = drawing * each * section.si.length * metre
        steps.append(Step(f"Lost {section.name}: {_carries(drawing)}", how, _say(lost, "V")))
    return steps


def _carries(drawing: int) -> str:
    return f"{drawing} signals draw through it" if drawing > 1 else "one signal draws through it"


def _lamp_keeps(state: BoardState) -> float:
    """The drop of the last signal's lamp at its current."""
    string, _ = lit_string(state.board.signals[-1], state.showing)
    return float(string_voltage(float(state.si.current[-1]), string))


def _compared(solved: BoardState) -> str:
    volts, share = float(solved.si.voltage[-1]), float(solved.share[-1])
    return (
        f"Solved as one network, with every current following its voltage, the library finds {_say(volts, 'V')} there "
        f"and {say(share, '')} of the light: signals that get less voltage draw less, and so they lose less on the way."
    )


def wiring_table(trials: Sequence[WiringTrial], size: Size = NORMAL) -> SumByHand:
    """What `compare_wirings` found, a line for each way of wiring."""
    if isinstance(trials, str) or not trials or not all(isinstance(each, WiringTrial) for each in trials):
        raise UnitError("trials needs what compare_wirings gives; write wiring_table(compare_wirings(...))")
    steps = tuple(Step(each.wiring, _costs(each), f"{each.weakest}: {say(each.share, '')}") for each in trials)
    wire = wire_words(trials[0].board.sections[0].wire)
    many = len(trials[0].board.signals)
    return SumByHand(
        f"{many} signals on twin {wire} wire, wired in different ways",
        steps,
        "The least share of light is that at the worst of all tolerances, whatever the signals show.",
        size,
        ("Wired as", "Wire, and what one break costs", "The weakest lamp"),
    )


def _costs(trial: WiringTrial) -> str:
    lost = f"up to {trial.most_lost} signals" if trial.most_lost > 1 else "one signal"
    return f"{trial.si.length:.3g} m of wire; one break along the layout darkens {lost}"


def _say(si: float, unit: str) -> str:
    return say(si, unit, _DIGITS)

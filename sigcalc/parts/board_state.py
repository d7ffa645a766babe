"""What a board does with its signals showing one colour, at one corner of all tolerances."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from ..errors import DesignError, RangeError
from ..physics.network import NetworkPoint, lamp_loads, resistor_loads, solve_network
from ..physics.network_loads import Loads
from ..units import Current, Voltage, record, say
from ..units.reading import quoted
from .board import Board, BoardSignal
from .drive import ResistorDrive
from .led import Led
from .led_model import Exponential
from .load import GREEN, RED
from .string import LedString, constant_drop, triples

AS_SET = "as set"
SHOWINGS = (AS_SET, RED, GREEN)
"""What the signals show: each what its own polarity calls for, all of them red, or all green."""
LEAST, NOMINAL, MOST = -1, 0, 1
CORNERS = (LEAST, NOMINAL, MOST)
"""All tolerances towards the least current, none, all towards the most."""

# common practice, no source: a fifth less light is not seen from one signal to the next
USUAL_SHARE = 0.8
# common practice, no source: an adapter lasts when it gives no more than four fifths of what it is rated for
USUAL_DERATING = 0.8
# common practice, no source: a screwdriver or a whisker of wire across two terminals
USUAL_CONTACT = "50 mohm"

# a timer board or driver draws its own current down to about this voltage, and less below; common practice, no source
_FADES_BELOW = 1.0
_KEPT_SIGNALS = 64  # boards of more are not kept in memory


@record
class BoardState:
    """A board at one corner; one element for each signal, in the board's order, where a figure is an array.

    `current` flows through the lamp, `full_current` would if the signal hung alone on the
    source, without a feeder: their ratio is the `share` of its light that is left, light
    being proportional to current. `voltage` is that at the signal's node. `node_voltage`
    and `section_current` follow the board's nodes and sections; a section's current
    counts from its start to its end. `supply_voltage` is that at the source's terminals.
    """

    showing: str
    corner: int
    current: Current
    full_current: Current
    voltage: Voltage
    node_voltage: Voltage
    section_current: Current
    supply_current: Current
    supply_voltage: Voltage
    limited: bool
    residual: Voltage
    board: Board

    @property
    def share(self) -> np.ndarray:
        """The share of its own full light that each signal has left; 1 for a lamp that is dark anyway."""
        full = self.si.full_current
        return np.where(full > 0.0, self.si.current / np.where(full > 0.0, full, 1.0), 1.0)


class _Lamps(NamedTuple):
    """Lamps of one make-up: the places of their signals in the board, and what they are to the network."""

    places: list[int]
    loads: Loads


def board_state(
    board: Board,
    showing: str = AS_SET,
    corner: int = NOMINAL,
    limit: float = np.inf,
    short: tuple[int, float] | None = None,
) -> BoardState:
    """Solve the board; `short` is a node's number and the ohms across it, `limit` the most the source gives, in A.

    Raises RangeError for a signal whose steady load finds no voltage (unless there is a
    short), DesignError for a lamp whose current nothing limits.
    """
    volts, inside = board.source.corners[corner + 1]
    ohms = inside + (0.0 if board.fuse is None else board.fuse.ohms[corner + 1])
    lamps = list(_lamps(board, showing, corner))
    steady, names = _steady(board)
    others = [] if steady is None else [steady]
    others += _coils(board, corner)
    if short is not None:
        others.append(resistor_loads([short[0]], [short[1]]))
    point = solve_network(volts, board.feeder, [each.loads for each in lamps] + others, ohms, limit, board.rings)
    if steady is not None and short is None:
        _refuse_starved(steady, names, point, sum(each.loads.node.size for each in lamps))
    return _state(board, showing, corner, lamps, point, (volts, inside))


def _state(
    board: Board, showing: str, corner: int, lamps: list[_Lamps], point: NetworkPoint, source: tuple[float, float]
) -> BoardState:
    places = [place for each in lamps for place in each.places]
    current, full = np.zeros(len(board.signals)), np.zeros(len(board.signals))
    current[places] = point.load_current[: len(places)]
    full[places] = np.concatenate([each.loads.answer(each.loads.alone(*source))[0] for each in lamps])
    return BoardState.of(
        showing=showing,
        corner=corner,
        current=current,
        full_current=full,
        voltage=point.node_voltage[[board.place[each.node] for each in board.signals]],
        node_voltage=point.node_voltage,
        section_current=point.section_current,
        supply_current=point.supply_current,
        supply_voltage=float(point.node_voltage[0]),
        limited=point.limited,
        residual=point.residual,
        board=board,
    )


def lit_lamp(signal: BoardSignal, showing: str) -> str:
    """The lamp of a signal that is lit: that of the colour shown, or of its own polarity."""
    return signal.load.shown if showing == AS_SET else showing


def lit_string(signal: BoardSignal, showing: str) -> tuple[LedString, float]:
    """The LEDs of a signal that are lit, and the ohms in their branch alone; LEDs of one colour are always lit."""
    return signal.load.branch(lit_lamp(signal, showing))


def lit_led(signal: BoardSignal, showing: str) -> Led:
    """The LED of a signal that is seen (the first, of several in series)."""
    return lit_string(signal, showing)[0][0]


def _lamps(board: Board, showing: str, corner: int) -> Iterator[_Lamps]:
    """The lit lamps, those of the same LEDs together."""
    groups: dict[tuple[int, ...], list[tuple[int, BoardSignal, float]]] = {}
    for place, signal in enumerate(board.signals):
        string, extra = lit_string(signal, showing)
        groups.setdefault(tuple(map(id, string)), []).append((place, signal, extra))
    for members in groups.values():
        string = lit_string(members[0][1], showing)[0]
        ohms, limits = zip(*(_drive(signal, extra, corner) for _, signal, extra in members), strict=True)
        if not all(isinstance(each.model, Exponential) for each in string) and min(ohms) <= 0.0:
            raise DesignError(
                f"signal {quoted(members[int(np.argmin(ohms))][1].name)} has no resistance in its circuit and a lamp "
                "of constant drop: the current has no limit; give it a resistor, or an Exponential model"
            )
        node = [board.place[signal.node] for _, signal, _ in members]
        leds, drop = triples(string, None, -float(corner)), constant_drop(string, -float(corner))
        yield _Lamps([place for place, _, _ in members], lamp_loads(node, ohms, leds, drop, limits))


def _drive(signal: BoardSignal, extra: float, corner: int) -> tuple[float, float]:
    """Resistance in ohm and limit in A of a signal's drive at a corner of its tolerance."""
    drive = signal.load.drive
    off = 1.0 + corner * drive.tolerance
    if isinstance(drive, ResistorDrive):
        return drive.series_resistance * (2.0 - off) + extra, drive.limit
    return drive.series_resistance + extra, drive.limit * off


def _steady(board: Board) -> tuple[Loads | None, list[str]]:
    """What timer boards and drivers draw for themselves, and the names of their signals."""
    drawn = [(each, each.load.si.standby + each.load.drive.own_current) for each in board.signals]
    drawn = [(each, current) for each, current in drawn if current > 0.0]
    if not drawn:
        return None, []
    node, current = [board.place[each.node] for each, _ in drawn], np.array([current for _, current in drawn])
    return lamp_loads(node, _FADES_BELOW / current, limit=current), [each.name for each, _ in drawn]


def _coils(board: Board, corner: int) -> list[Loads]:
    """The coils that are energised: all of them at once, since that is what the source has to stand."""
    found = []
    for signal in board.signals:
        relay = signal.load.relay
        if relay is not None and not relay.latching and signal.load.energised > 0:
            found.append((board.place[signal.node], relay.si.coil_resistance * (1.0 - corner * relay.coil_tolerance)))
    return [resistor_loads(*zip(*found, strict=True))] if found else []


def _refuse_starved(steady: Loads, names: list[str], point: NetworkPoint, first: int) -> None:
    current = point.load_current[first : first + steady.node.size]
    starved = np.flatnonzero(current < steady.limit * (1.0 - 1e-9))
    if starved.size:
        worst = starved[0]
        raise RangeError(
            f"no voltage satisfies signal {quoted(names[worst])}: its steady {say(steady.limit[worst], 'A')} leaves "
            f"{say(point.node_voltage[steady.node[worst]], 'V')} at its node; use thicker wire, fewer signals or a "
            "stronger source"
        )


def light_of(state: BoardState) -> np.ndarray | None:
    """The luminous intensity of every signal in cd; None where a lamp has no data for it."""
    seen = [lit_led(each, state.showing) for each in state.board.signals]
    if any(led.intensity is None for led in seen):
        return None
    return np.array([float(led.light_si(max(amps, 0.0))) for led, amps in zip(seen, state.si.current, strict=True)])


States = dict[tuple[str, int], BoardState]
"""States of one board by what its signals show and the corner."""


def corner_states(board: Board, corners: tuple[int, ...] = CORNERS) -> States:
    """The board as set, and where it has pairs, all red and all green as well, at the corners of its tolerances."""
    small = len(board.signals) <= _KEPT_SIGNALS
    return dict((_kept_states if small else _states)(board, tuple(corners)))


def _states(board: Board, corners: tuple[int, ...]) -> States:
    set_to = {each.load.shown for each in board.signals if each.load.is_pair}
    found = {(AS_SET, corner): board_state(board, AS_SET, corner) for corner in corners}
    for showing in (RED, GREEN) if set_to else ():
        alike = set_to == {showing}  # all are set to it: their state as set is this one
        for corner in corners:
            found[showing, corner] = (
                _renamed(found[AS_SET, corner], showing) if alike else board_state(board, showing, corner)
            )
    return found


def _renamed(state: BoardState, showing: str) -> BoardState:
    """The same state under what else it shows."""
    named = {"showing": showing, "corner": state.corner, "limited": state.limited, "board": state.board}
    return BoardState.of(**vars(state.si), **named)


@lru_cache(maxsize=64)
def _kept_states(board: Board, corners: tuple[int, ...]) -> States:
    """Kept, since a panel asks for the same few small boards at every move of a slider; nobody may write into them."""
    found = _states(board, corners)
    for state in found.values():
        for array in vars(state.si).values():
            if isinstance(array, np.ndarray):
                array.setflags(write=False)
    return found


def weakest(states: States) -> tuple[BoardState, int]:
    """The state and the place in it of the lamp with the least share of its light left."""
    state = min(states.values(), key=lambda each: each.share.min())
    return state, int(np.argmin(state.share))


def most_drawn(states: States) -> float:
    """The most current in A that the source has to give in any of the states."""
    return max(each.si.supply_current for each in states.values())

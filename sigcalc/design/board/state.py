"""What a board does with its signals showing one colour: at a corner of all tolerances, and at worst for each lamp."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Annotated, Any, NamedTuple, TypeVar

import numpy as np

from ...errors import DesignError, RangeError
from ...parts.led import Led
from ...physics.feeder import Feeder, FeederPoint, Loads, lamp_loads, solve_feeders
from ...units import Current, QuantityKind, Voltage, record, say
from ...units.reading import quoted
from ..lamp.drive import LedString, constant_drop, triples
from ..power.load import GREEN, RED
from .board import Board, BoardSignal

AS_SET = "as set"
SHOWINGS = (AS_SET, RED, GREEN)
"""What the signals show: each what its own polarity calls for, all of them red, or all green."""
LEAST, NOMINAL, MOST = -1, 0, 1
CORNERS = (LEAST, NOMINAL, MOST)
"""All tolerances towards the least current, none, all towards the most."""

# common practice, no source: a fifth less light is not seen from one signal to the next
USUAL_SHARE = 0.8
LeastShare = Annotated[Any, QuantityKind("fraction", "", 1e-3, 1.0, "80 %", bare=True)]
# common practice, no source: an adapter lasts if it gives no more than four fifths of what it is rated for
USUAL_DERATING = 0.8
# common practice, no source: a screwdriver or a whisker of wire across two terminals
USUAL_CONTACT = 0.05  # ohm

# a timer board or driver draws its own current down to about this voltage, and less below; common practice, no source
_FADES_BELOW = 1.0
_Kept = TypeVar("_Kept")


@record
class BoardState:
    """A board at one corner; one element for each signal, in the board's order, where a figure is an array.

    `current` flows through the lamp, `full_current` would if the signal were alone on the source, without a feeder:
    their ratio is the `share` of its light that is left, light being proportional to current. `voltage` is that at the
    signal's node. `node_voltage` and `section_current` follow the board's nodes and sections; a section's current
    counts from its start to its end. `limited` says that the source is held at the most it gives.
    """

    showing: str
    corner: int
    current: Current
    full_current: Current
    voltage: Voltage
    node_voltage: Voltage
    section_current: Current
    supply_current: Current
    limited: bool
    board: Board

    @property
    def share(self) -> np.ndarray:
        """The share of its own full light that each signal has left; 1 for a lamp that is dark anyway."""
        return share_of(self.si.current, self.si.full_current)


def share_of(current: np.ndarray, full: np.ndarray) -> np.ndarray:
    """What is left of a current; 1 where there is none to lose."""
    return np.where(full > 0.0, current / np.where(full > 0.0, full, 1.0), 1.0)


class Asked(NamedTuple):
    """A board in a state to be solved; `short` is a node's number and the ohms across it, `limit` the source's in A."""

    board: Board
    showing: str = AS_SET
    corner: int = NOMINAL
    limit: float = np.inf
    short: tuple[int, float] | None = None


def board_states(asked: Sequence[Asked]) -> list[BoardState]:
    """Many states of one board or of several, solved together: a few small boards cost little more than one.

    Raises RangeError for a signal whose steady load finds no voltage (unless there is a short), DesignError for a lamp
    whose current nothing limits.
    """
    points = solve_feeders([_feeder(each) for each in asked]) if asked else ()
    return [_state(each, point) for each, point in zip(asked, points, strict=True)]


class _Lamps(NamedTuple):
    """Lamps of one kind: the places of their signals in the board, and what they are to the feeder."""

    places: Any
    loads: Loads


class _Drawn(NamedTuple):
    """What is on a board in a state: its lamps, steady loads and coils, and what each lamp would draw alone, in A."""

    lamps: list[_Lamps]
    others: list[Loads]
    full: np.ndarray


def _drawn(board: Board, showing: str, corner: int) -> _Drawn:
    """Kept by the board, since it is the same wherever a short is."""

    def make() -> _Drawn:
        lamps, full = list(_lamps(board, showing, corner, -corner)), np.zeros(len(board.signals))
        for each in lamps:
            full[each.places] = each.loads.answer(each.loads.alone(*board.source.corners[corner + 1]))[0]
        return _Drawn(lamps, [*_steady(board), *_coils(board, corner)], full)

    return _keep(board, ("drawn", showing, corner), make)


def _feeder(asked: Asked) -> Feeder:
    board, drawn = asked.board, _drawn(asked.board, asked.showing, asked.corner)
    loads = [*(each.loads for each in drawn.lamps), *drawn.others]
    if asked.short is not None:
        loads.append(lamp_loads([asked.short[0]], asked.short[1]))
    volts, inside = board.source.corners[asked.corner + 1]
    if board.fuse is not None:
        inside += board.fuse.ohms[asked.corner + 1]
    return Feeder(volts, board.above, np.append(inside, board.ohms[1:]), loads, asked.limit)


def _state(asked: Asked, point: FeederPoint) -> BoardState:
    board, drawn = asked.board, _drawn(asked.board, asked.showing, asked.corner)
    places = [place for each in drawn.lamps for place in each.places]
    current = np.zeros(len(board.signals))
    current[places] = point.load_current[: len(places)]
    if asked.short is None:
        _refuse_starved(board, point, len(places))
    node, forward = board.section_ends
    return BoardState.of(
        showing=asked.showing,
        corner=asked.corner,
        current=current,
        full_current=drawn.full,
        voltage=point.node_voltage[board.signal_nodes],
        node_voltage=point.node_voltage,
        section_current=forward * point.through[node],
        supply_current=point.supply_current,
        limited=point.limited,
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


def _lamps(board: Board, showing: str, off: float, drop: float) -> Iterator[_Lamps]:
    """The lit lamps, those with as many LEDs in series together.

    `off` says how far each drive is off towards more current, `drop` how far the LEDs' drop is off towards more, both
    from -1 to +1.
    """
    groups: dict[int, list[tuple[Any, ...]]] = {}
    figures: dict[int, tuple[Any, ...]] = {}  # equal signals share their load
    for place, signal in enumerate(board.signals):
        if id(signal.load) not in figures:
            string, extra = lit_string(signal, showing)
            leds, (ohms, limit) = triples(string, None, float(drop)), signal.load.drive_at(off)
            ohms += extra
            if len(leds) < len(string) and ohms <= 0.0:
                raise DesignError(
                    f"signal {quoted(signal.name)} has no resistance in its circuit and a lamp of constant drop: the "
                    "current has no limit; give it a resistor, or an Exponential model"
                )
            figures[id(signal.load)] = (ohms, constant_drop(string, float(drop)), limit, *leds)
        own = figures[id(signal.load)]
        groups.setdefault(len(own), []).append((place, *own))
    for members in groups.values():
        places, ohms, drops, limits, *leds = zip(*members, strict=True)
        columns = [np.array(each).T for each in leds]
        yield _Lamps(np.array(places), lamp_loads(board.signal_nodes[list(places)], ohms, columns, drops, limits))


def _steady_current(board: Board) -> np.ndarray:
    """What the timer board and the driver of each signal draw for themselves, in A."""
    return np.array([each.load.si.standby + each.load.drive.own_current for each in board.signals])


def _steady(board: Board) -> list[Loads]:
    current = _steady_current(board)
    drawing = current > 0.0
    node, current = board.signal_nodes[drawing], current[drawing]
    return [lamp_loads(node, _FADES_BELOW / current, limit=current)] if current.size else []


def _coils(board: Board, corner: int) -> list[Loads]:
    """The coils that are energised: all of them at once, since the source has to manage that."""
    found = []
    for signal in board.signals:
        relay = signal.load.relay
        if relay is not None and not relay.latching and signal.load.energised > 0:
            found.append((board.place[signal.node], relay.si.coil_resistance * (1.0 - corner * relay.coil_tolerance)))
    return [lamp_loads(*zip(*found, strict=True))] if found else []


def _refuse_starved(board: Board, point: FeederPoint, first: int) -> None:
    """RangeError for a timer board or driver that no longer gets its own current; its load is after the lamps'."""
    steady = _steady_current(board)
    drawing = np.flatnonzero(steady > 0.0)
    got = point.load_current[first : first + drawing.size]
    starved = drawing[got < steady[drawing] * (1.0 - 1e-9)]
    if starved.size:
        signal, volts = board.signals[starved[0]], float(point.node_voltage[board.signal_nodes[starved[0]]])
        raise RangeError(
            f"no voltage satisfies signal {quoted(signal.name)}: its steady {say(steady[starved[0]], 'A')} leaves "
            f"{say(volts, 'V')} at its node; use thicker wire, fewer signals or a stronger source"
        )


def _keep(board: Board, key: Any, make: Callable[[], _Kept]) -> _Kept:
    """What a board has been asked before: it does not change, and one question after another needs the same."""
    kept = vars(board).setdefault("_known", {})
    if key not in kept:
        kept[key] = make()
    return kept[key]


States = dict[tuple[str, int], BoardState]
"""States of one board by what its signals show and the corner."""


def corner_states(board: Board, corners: tuple[int, ...] = CORNERS) -> States:
    """The board as set, and where it has pairs, all red and all green as well, at the corners of its tolerances."""
    return corner_states_of([board], corners)[0]


def corner_states_of(boards: Sequence[Board], corners: tuple[int, ...] = CORNERS) -> list[States]:
    """`corner_states` of many boards, solved together; each board keeps its own, unchangeable."""
    keys, kept = [], []
    for board in boards:
        pairs = any(each.load.is_pair for each in board.signals)
        keys.append(list(itertools.product(SHOWINGS if pairs else (AS_SET,), corners)))
        kept.append(_keep(board, "states", dict))
    asked = {
        (id(board), *key): Asked(board, *key)
        for board, own, known in zip(boards, keys, kept, strict=True)
        for key in own
        if key not in known
    }
    for each, state in zip(asked.values(), board_states(list(asked.values())), strict=True):
        _freeze(vars(state.si).values())
        _keep(each.board, "states", dict)[each.showing, each.corner] = state
    return [{key: known[key] for key in own} for own, known in zip(keys, kept, strict=True)]


def _freeze(values: Iterable[Any]) -> None:
    for each in values:
        if isinstance(each, np.ndarray):
            each.setflags(write=False)


def most_drawn(states: States) -> float:
    """The most current in A that the source has to give in any of the states."""
    return max(each.si.supply_current for each in states.values())


class Worst(NamedTuple):
    """The least that reaches each signal of a board, in the board's order.

    Its own parts are off towards less light, and all others towards more current, whatever colours these show.

    share: of its own light, by the lamp's colour ("red", "green"); 1 for a lamp that is dark anyway
    current: through the lamp in A, likewise
    voltage: at the signal's node in V
    """

    share: dict[str, np.ndarray]
    current: dict[str, np.ndarray]
    voltage: np.ndarray

    @property
    def weakest(self) -> tuple[float, int, str]:
        """The least share of all, with the place of its signal and the lamp's colour."""
        return min((float(each.min()), int(np.argmin(each)), lamp) for lamp, each in self.share.items())


def worst_of(board: Board) -> Worst:
    """The worst case of every lamp: its share falls with its own headroom and with what all others draw.

    At both ends of the source's voltage all signals draw the most they can; then each lamp alone is changed, its drop
    and its drive being off either way. What the lamp itself draws less then lifts its node's voltage by no less than
    that current times Z / (1 + G Z), Z being the resistance of the way to the source and G the slope of all other
    loads together (which can shunt it at the node at the most): so the answer is not above the true least.
    """
    return worsts_of([board])[0]


def worsts_of(boards: Sequence[Board]) -> list[Worst]:
    """`worst_of` for many boards, solved together; a board keeps its own."""
    asked = {id(each): each for each in boards if "worst" not in vars(each).get("_known", {})}.values()
    ends = [_greedy_ends(each) for each in asked]
    points = solve_feeders([each.feeder for pair in ends for each in pair]) if ends else []
    for place, (board, pair) in enumerate(zip(asked, ends, strict=True)):
        own = points[2 * place : 2 * place + 2]
        _keep(board, "worst", lambda board=board, pair=pair, own=own: _worst(board, pair, own))
    return [_keep(each, "worst", dict) for each in boards]


class _End(NamedTuple):
    """All signals drawing the most they can at one end of the source's voltage, at the most of its resistance."""

    lamps: list[_Lamps]
    feeder: Feeder
    inside: float


def _greedy(board: Board) -> dict[str, list[_Lamps]]:
    """The red and the green lamps, every part off towards more current."""
    return _keep(board, "greedy", lambda: {lamp: list(_lamps(board, lamp, MOST, LEAST)) for lamp in (RED, GREEN)})


def _greedy_ends(board: Board) -> list[_End]:
    (low, inside), _, (high, _) = board.source.corners  # a build may have the most resistance at either voltage
    fuse = 0.0 if board.fuse is None else board.fuse.ohms[0]
    ends = []
    for volts in (low, high):
        lamps = _most_of_both(board, volts, inside)
        loads = [*(each.loads for each in lamps), *_steady(board), *_coils(board, MOST)]
        ohms = np.append(inside + fuse, board.ohms[1:])
        ends.append(_End(lamps, Feeder(volts, board.above, ohms, loads), inside))
    return ends


def _most_of_both(board: Board, volts: float, ohms: float) -> list[_Lamps]:
    """Of each signal that lamp which draws more, with every part off towards more."""
    draws = {lamp: np.zeros(len(board.signals)) for lamp in (RED, GREEN)}
    for lamp, groups in _greedy(board).items():
        for places, loads in groups:
            draws[lamp][places] = loads.answer(loads.alone(volts, ohms))[0]
    red = draws[RED] >= draws[GREEN]
    return [
        _Lamps(places[chosen], loads.only(chosen))
        for lamp, groups in _greedy(board).items()
        for places, loads in groups
        if (chosen := red[places] == (lamp == RED)).any()
    ]


def _worst(board: Board, ends: Sequence[_End], points: Sequence[FeederPoint]) -> Worst:
    at, count = board.signal_nodes, len(board.signals)
    # what its own current costs is most with its drop at its least, what the others' does with its drop at its most,
    # both with a drive that lets most through; its current is least with one that lets least through
    own_parts = [(lamp, group) for lamp, groups in _greedy(board).items() for group in groups]
    own_parts += [
        (lamp, group) for off in (MOST, LEAST) for lamp in (RED, GREEN) for group in _lamps(board, lamp, off, MOST)
    ]
    shares, currents = ({lamp: np.full(count, np.inf) for lamp in (RED, GREEN)} for _ in range(2))
    voltage = np.full(count, np.inf)
    for (lamps, feeder, inside), point in zip(ends, points, strict=True):
        slopes = np.concatenate([each.answer(point.node_voltage[each.node])[1] for each in feeder.loads])
        voltage = np.minimum(voltage, point.node_voltage[at])
        own, beside = np.zeros(count), np.full(count, slopes.sum())
        places = np.concatenate([each.places for each in lamps])
        own[places] = point.load_current[:count]
        beside[places] -= slopes[:count]
        way = board.tree.along(feeder.ohms)[at]
        lifts = way / (1.0 + beside * way)
        for lamp, (places, loads) in own_parts:
            alone = loads.answer(loads.alone(feeder.supply, inside))[0]
            lifted = loads._replace(resistance=loads.resistance + lifts[places])
            current = lifted.answer((point.node_voltage[at] + lifts * own)[places])[0]
            shares[lamp][places] = np.minimum(shares[lamp][places], share_of(current, alone))
            currents[lamp][places] = np.minimum(currents[lamp][places], current)
    _freeze((*shares.values(), *currents.values(), voltage))
    return Worst(shares, currents, voltage)

"""What a board does with its signals showing one colour, at one corner of all tolerances."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

import numpy as np

from ...errors import DesignError, RangeError
from ...parts.drive import ResistorDrive
from ...parts.led import Led
from ...physics.network import NetworkCase, NetworkPoint, lamp_loads, path_resistance, resistor_loads, solve_networks
from ...physics.network_loads import Loads
from ...units import Current, Voltage, record, say
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
# common practice, no source: an adapter lasts when it gives no more than four fifths of what it is rated for
USUAL_DERATING = 0.8
# common practice, no source: a screwdriver or a whisker of wire across two terminals
USUAL_CONTACT = "50 mohm"

# a timer board or driver draws its own current down to about this voltage, and less below; common practice, no source
_FADES_BELOW = 1.0


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


class Asked(NamedTuple):
    """A board in a state to be solved, as `board_state` takes it."""

    board: Board
    showing: str = AS_SET
    corner: int = NOMINAL
    limit: float = np.inf
    short: tuple[int, float] | None = None

    @property
    def state(self) -> tuple[int, str, int]:
        """Which board shows what, at which corner: this alone decides what hangs on the feeder."""
        return id(self.board), self.showing, self.corner

    @property
    def source(self) -> tuple[float, float]:
        """Open voltage in V and resistance in ohm of the source at the corner."""
        return self.board.source.corners[self.corner + 1]


class _Lamps(NamedTuple):
    """Lamps of one make-up: the places of their signals in the board, and what they are to the network."""

    places: Sequence[int]
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
    return board_states([Asked(board, showing, corner, limit, short)])[0]


def board_states(asked: Sequence[Asked]) -> list[BoardState]:
    """Many states of one board or of several, solved together: a few small boards cost little more than one."""
    hanging: dict[Any, _Hanging] = {}  # what hangs on a board is the same wherever a short lies
    for each in asked:
        if each.state not in hanging:
            hanging[each.state] = _Hanging.of(each)
    cases = [_case(each, hanging[each.state]) for each in asked]
    points = solve_networks(cases, any(each.board.rings for each in asked))
    return [_state(each, hanging[each.state], point) for each, point in zip(asked, points, strict=True)]


class _Hanging(NamedTuple):
    """What hangs on a board in a state: its lamps, what else draws, and what each lamp would draw alone, in A."""

    lamps: list[_Lamps]
    steady: Loads | None
    names: list[str]
    coils: list[Loads]
    full: np.ndarray

    @classmethod
    def of(cls, asked: Asked) -> _Hanging:
        board, full = asked.board, np.zeros(len(asked.board.signals))
        lamps = list(_lamps(board, asked.showing, asked.corner))
        for each in lamps:
            full[list(each.places)] = each.loads.answer(each.loads.alone(*asked.source))[0]
        return cls(lamps, *_steady(board), _coils(board, asked.corner), full)


def _case(asked: Asked, hanging: _Hanging) -> NetworkCase:
    loads = (
        [each.loads for each in hanging.lamps] + ([] if hanging.steady is None else [hanging.steady]) + hanging.coils
    )
    if asked.short is not None:
        loads.append(resistor_loads([asked.short[0]], [asked.short[1]]))
    fuse, (volts, inside) = asked.board.fuse, asked.source
    ohms = inside + (0.0 if fuse is None else fuse.ohms[asked.corner + 1])
    return NetworkCase(volts, asked.board.feeder, loads, ohms, asked.limit)


def _state(asked: Asked, hanging: _Hanging, point: NetworkPoint) -> BoardState:
    board = asked.board
    places = [place for each in hanging.lamps for place in each.places]
    if hanging.steady is not None and asked.short is None:
        _refuse_starved(hanging.steady, hanging.names, point, len(places))
    current = np.zeros(len(board.signals))
    current[places] = point.load_current[: len(places)]
    return BoardState.of(
        showing=asked.showing,
        corner=asked.corner,
        current=current,
        full_current=hanging.full,
        voltage=point.node_voltage[board.signal_nodes],
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


def _lamps(board: Board, showing: str, corner: int, spread: int | None = None) -> Iterator[_Lamps]:
    """The lit lamps, those with as many LEDs in series together; a `spread` of their drop in place of the corner's."""
    drop = -float(corner) if spread is None else float(spread)
    groups: dict[int, list[tuple[Any, ...]]] = {}
    figures: dict[int, tuple[Any, ...]] = {}  # equal signals share their load
    for place, signal in enumerate(board.signals):
        if id(signal.load) not in figures:
            string, extra = lit_string(signal, showing)
            leds, (ohms, limit) = triples(string, None, drop), _drive(signal, extra, corner)
            if len(leds) < len(string) and ohms <= 0.0:
                raise DesignError(
                    f"signal {quoted(signal.name)} has no resistance in its circuit and a lamp of constant drop: the "
                    "current has no limit; give it a resistor, or an Exponential model"
                )
            figures[id(signal.load)] = (ohms, leds, constant_drop(string, drop), limit)
        own = figures[id(signal.load)]
        groups.setdefault(len(own[1]), []).append((place, board.place[signal.node], *own))
    for members in groups.values():
        places, node, ohms, leds, drops, limit = zip(*members, strict=True)
        columns = [np.array(nth).T for nth in zip(*leds, strict=True)]
        yield _Lamps(places, lamp_loads(node, ohms, columns, drops, limit))


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
    return corner_states_of([board], corners)[0]


def corner_states_of(boards: Sequence[Board], corners: tuple[int, ...] = CORNERS) -> list[States]:
    """`corner_states` of many boards, solved together; what a board has been asked before it keeps, unchangeable."""
    asked = {}
    for board in boards:
        set_to = {each.load.shown for each in board.signals if each.load.is_pair}
        # where all are set to one colour their state as set is that colour's as well
        showings = [AS_SET, *(each for each in (RED, GREEN) if set_to and set_to != {each})]
        asked |= {
            (id(board), showing, corner): Asked(board, showing, corner)
            for showing in showings
            for corner in corners
            if (showing, corner) not in _kept(board)
        }
    for each, state in zip(asked.values(), board_states(list(asked.values())) if asked else (), strict=True):
        for array in vars(state.si).values():
            if isinstance(array, np.ndarray):
                array.setflags(write=False)
        _kept(each.board)[each.showing, each.corner] = state
    return [_all_shown(board, corners) for board in boards]


def _kept(board: Board) -> States:
    """The states a board has been asked for: it does not change, and one question after another asks for the same."""
    return vars(board).setdefault("_states", {})


def _all_shown(board: Board, corners: tuple[int, ...]) -> States:
    kept = _kept(board)
    pairs = any(each.load.is_pair for each in board.signals)
    for showing in (RED, GREEN) if pairs else ():
        for corner in corners:
            if (showing, corner) not in kept:
                kept[showing, corner] = _renamed(kept[AS_SET, corner], showing)
    return {(showing, corner): kept[showing, corner] for showing in SHOWINGS[: 3 if pairs else 1] for corner in corners}


def _renamed(state: BoardState, showing: str) -> BoardState:
    """The same state under what else it shows."""
    named = {"showing": showing, "corner": state.corner, "limited": state.limited, "board": state.board}
    return BoardState.of(**vars(state.si), **named)


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
    """The worst case of every lamp: its share falls with its own headroom and with what all others take.

    At both ends of the source's voltage all signals take the most they can; then each lamp alone is changed, its
    drop and its drive being off either way. What the lamp itself takes less then lifts its node's voltage by no
    less than that current times Z / (1 + G Z), Z being the resistance of the way to the source and G the slope of
    all other loads together (which can shunt it at the node at the most): so the answer is not
    above the true least.
    """
    return worsts_of([board])[0]


def worsts_of(boards: Sequence[Board]) -> list[Worst]:
    """`worst_of` for many boards, solved together; a board keeps its own."""
    asked = {id(each): each for each in boards if "_worst" not in vars(each)}
    ends = [end for each in asked.values() for end in _greedy_ends(each)]
    points = solve_networks([each.case for each in ends], any(each.rings for each in boards)) if ends else []
    for place, board in enumerate(asked.values()):
        pair = slice(2 * place, 2 * place + 2)
        vars(board)["_worst"] = _worst(board, ends[pair], points[pair])
    return [vars(each)["_worst"] for each in boards]


class _End(NamedTuple):
    """All signals taking the most they can at one end of the source's voltage, at the most of its resistance."""

    greedy: dict[str, list[_Lamps]]
    lamps: list[_Lamps]
    case: NetworkCase
    inside: float


def _greedy_ends(board: Board) -> list[_End]:
    (low, inside), _, (high, _) = board.source.corners  # a build may have the most resistance at either voltage
    fuse = 0.0 if board.fuse is None else board.fuse.ohms[0]
    steady, _ = _steady(board)
    others = [*([] if steady is None else [steady]), *_coils(board, MOST)]
    greedy = {lamp: list(_lamps(board, lamp, MOST)) for lamp in (RED, GREEN)}
    ends = []
    for volts in (low, high):
        lamps = _most_of_both(greedy, len(board.signals), volts, inside)
        groups = [each.loads for each in lamps] + others
        ends.append(_End(greedy, lamps, NetworkCase(volts, board.feeder, groups, inside + fuse), inside))
    return ends


def _worst(board: Board, ends: Sequence[_End], points: Sequence[NetworkPoint]) -> Worst:
    at = np.array([board.place[each.node] for each in board.signals])
    feeder = np.zeros(len(board.nodes)) if board.rings or not board.sections else path_resistance(board.feeder)
    # what its own current costs is most with its drop at its least, what the others' does with its drop at its most,
    # both with a drive that lets most through; its current is least with one that lets least through
    kinds = [(lamp, MOST, MOST) for lamp in (RED, GREEN)] + [(lamp, LEAST, MOST) for lamp in (RED, GREEN)]
    own_parts = [(lamp, group) for lamp, off, drop in kinds for group in _lamps(board, lamp, off, drop)]
    own_parts += [(lamp, group) for lamp, groups in ends[0].greedy.items() for group in groups]
    shares, currents = ({lamp: np.full(at.shape, np.inf) for lamp in (RED, GREEN)} for _ in range(2))
    voltage = np.full(at.shape, np.inf)
    for (_, lamps, case, inside), point in zip(ends, points, strict=True):
        slopes = np.concatenate([each.answer(point.node_voltage[each.node])[1] for each in case.loads])
        voltage = np.minimum(voltage, point.node_voltage[at])
        own, beside = np.zeros(at.shape), np.full(at.shape, slopes.sum())
        places = np.concatenate([each.places for each in lamps]).astype(int)
        own[places] = point.load_current[: len(places)]
        beside[places] -= slopes[: len(places)]
        way = case.source_resistance + feeder[at]
        lifts = np.zeros(at.shape) if board.rings else way / (1.0 + beside * way)
        for lamp, (members, loads) in own_parts:
            members = np.asarray(members)
            alone = loads.answer(loads.alone(case.supply, inside))[0]
            lifted = loads._replace(resistance=loads.resistance + lifts[members])
            current = lifted.answer((point.node_voltage[at] + lifts * own)[members])[0]
            share = np.where(alone > 0.0, current / np.where(alone > 0.0, alone, 1.0), 1.0)
            shares[lamp][members] = np.minimum(shares[lamp][members], share)
            currents[lamp][members] = np.minimum(currents[lamp][members], current)
    for array in (*shares.values(), *currents.values(), voltage):
        array.setflags(write=False)
    return Worst(shares, currents, voltage)


def _most_of_both(greedy: dict[str, list[_Lamps]], count: int, volts: float, ohms: float) -> list[_Lamps]:
    """Of each signal that lamp which takes more, with every part off towards more."""
    takes = {lamp: np.zeros(count) for lamp in greedy}
    for lamp, groups in greedy.items():
        for members, loads in groups:
            takes[lamp][list(members)] = loads.answer(loads.alone(volts, ohms))[0]
    red = takes[RED] >= takes[GREEN]
    found = []
    for lamp, groups in greedy.items():
        for members, loads in groups:
            kept = red[list(members)] == (lamp == RED)
            found.append(_Lamps([place for place, own in zip(members, kept, strict=True) if own], loads.only(kept)))
    return [each for each in found if each.places]


def most_drawn(states: States) -> float:
    """The most current in A that the source has to give in any of the states."""
    return max(each.si.supply_current for each in states.values())

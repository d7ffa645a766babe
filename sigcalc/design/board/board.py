"""A board: many signals on one source, through feeder sections that branch like a tree; and the usual ways to wire it.

The feeder of such a board is the pair of wires from the source to the signals; a section is a piece of it between two
nodes, there and back.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import Any

import numpy as np

from ...errors import DesignError, RangeError, UnitError
from ...parts.fuse import Fuse, area_of, as_fuse
from ...parts.led import Exponential
from ...parts.source import Adapter, Battery, Source
from ...parts.table import need_name
from ...physics import copper
from ...physics.feeder import Tree
from ...units import Length, Q, Resistance, Temperature, kind_of, record, say, with_units
from ...units.plain import need_whole
from ...units.reading import quoted
from ..lamp.drive import LedString
from ..power.load import GREEN, RED, Load

MOST_LEAKAGE = 1e-6  # A; a tenth of what counts as lit
MOST_SIGNALS = 1000
"""On one board; no adapter feeds as many."""
SUPPLY = "supply"
"""The node at the source's terminals."""
CHAIN, STAR, MIXED = "chain", "star", "mixed"
WIRINGS = (CHAIN, STAR, MIXED)
"""One pair of wires from signal to signal; a pair for each from a terminal strip; a pair from there for every few."""
HUB = "terminal strip"
"""The node at which the runs of a star begin."""
_LEAD = 0.5  # m, from the source to the terminal strip beside it
_LENGTH = kind_of(Length)


@record
class FeederSection:
    """A run of two wires, there and back, between two nodes.

    `wire` is a Wire, a name from `wires`, a gauge or a cross-section; `length` is that of the run, so that there is
    twice as much conductor in it.
    """

    name: str
    start: str
    end: str
    wire: Any
    length: Length
    temperature: Temperature = "20 degC"

    def __post_init__(self) -> None:
        if self.start == self.end:
            raise RangeError(
                f"section {quoted(self.name)} starts and ends at {quoted(self.start)}; give two different nodes"
            )
        object.__setattr__(self, "area", area_of(self.wire))  # in m2; a wire that cannot be read is refused here

    @property
    def loop_resistance(self) -> Resistance:
        """The resistance of both wires together."""
        ohms = copper.wire_resistance(self.area, 2.0 * self.si.length, self.si.temperature)
        return kind_of(Resistance).quantity(float(ohms))


@record
class BoardSignal:
    """A signal on the board: its name, the node it is joined to, and what it draws there (see `load.Load`).

    Of a pair only the lit branch counts; what the dark one leaks is left out, and a pair that leaks more than 1 µA is
    refused.
    """

    name: str
    node: str
    load: Load

    def __post_init__(self) -> None:
        if not isinstance(self.load, Load):
            raise UnitError(argument=f"load of signal {quoted(self.name)}", need="a Load", given=quoted(self.load))
        for lamp in (RED, GREEN) if self.load.is_pair else ():
            leak = _leakage(self.load.branch(lamp)[0])
            if leak > MOST_LEAKAGE:
                raise DesignError(
                    f"the dark {lamp} lamp of signal {quoted(self.name)} leaks up to {say(leak, 'A')}, more than the "
                    f"{say(MOST_LEAKAGE, 'A')} that a board may leave out; study this pair alone, with its operate()"
                )


@record
class Board:
    """A source, the feeder sections behind it and up to 1000 signals at their nodes; `fuse` is at the source.

    The sections form a tree from `supply_node` on: a star, a chain or a mixture. A ring is refused.
    """

    name: str
    source: Source
    sections: tuple[FeederSection, ...]
    signals: tuple[BoardSignal, ...]
    supply_node: str = SUPPLY
    fuse: Fuse | None = None

    def __post_init__(self) -> None:
        if not isinstance(self.source, Battery | Adapter):
            advice = 'try adapters["9 V regulated"]'
            raise UnitError(argument="source", need="a Battery or an Adapter", given=quoted(self.source), advice=advice)
        for what, kind in (("sections", FeederSection), ("signals", BoardSignal)):
            object.__setattr__(self, what, _all_of(getattr(self, what), what, kind))
        if not 1 <= len(self.signals) <= MOST_SIGNALS:
            advice = "give each part of a larger layout a board of its own"
            given = str(len(self.signals))
            raise RangeError(argument="signals", need=f"1 to {MOST_SIGNALS} signals", given=given, advice=advice)
        if self.fuse is not None:
            object.__setattr__(self, "fuse", as_fuse(self.fuse))
        for each in self.signals:
            need_name(each.node, f"node of signal {quoted(each.name)}", self.nodes)
        self._check_shape()

    @cached_property
    def nodes(self) -> tuple[str, ...]:
        """Every node's name, the supply's first."""
        ends = (node for each in self.sections for node in (each.start, each.end))
        return tuple(dict.fromkeys((self.supply_node, *ends)))

    @cached_property
    def place(self) -> dict[str, int]:
        """The number of each node."""
        return {name: number for number, name in enumerate(self.nodes)}

    @cached_property
    def signal_nodes(self) -> np.ndarray:
        """The number of each signal's node."""
        return np.array([self.place[each.node] for each in self.signals])

    @cached_property
    def _fed(self) -> np.ndarray:
        """For each node where it is fed from, node and section; -1 for the supply's, and where nothing feeds it."""
        beside: dict[int, list[tuple[int, int]]] = defaultdict(list)
        for number, each in enumerate(self.sections):
            start, end = self.place[each.start], self.place[each.end]
            beside[start].append((end, number))
            beside[end].append((start, number))
        fed, order = {0: (-1, -1)}, [0]
        for node in order:
            for other, number in beside[node]:
                if other not in fed:
                    fed[other] = node, number
                    order.append(other)
        return np.array([fed.get(node, (-1, -1)) for node in range(len(self.nodes))])

    @property
    def above(self) -> np.ndarray:
        """For each node the node it is fed from; -1 for the supply's, and where nothing feeds it."""
        return self._fed[:, 0]

    @property
    def section_above(self) -> np.ndarray:
        """For each node the number of the section that feeds it; -1 for the supply's, and where nothing does."""
        return self._fed[:, 1]

    @cached_property
    def tree(self) -> Tree:
        """Which node is fed from which, for sums along the feeder."""
        return Tree(self.above)

    @cached_property
    def section_ends(self) -> tuple[np.ndarray, np.ndarray]:
        """For each section the node it feeds, and whether that is its end (+1) or its start (-1)."""
        node = np.empty(len(self.sections), int)
        node[self.section_above[1:]] = np.arange(1, len(self.nodes))
        ends = np.array([self.place[each.end] for each in self.sections], int)
        return node, np.where(ends == node, 1.0, -1.0)

    @cached_property
    def areas(self) -> np.ndarray:
        """Cross-sections in m2 of the sections' wires."""
        return np.array([each.area for each in self.sections])

    @cached_property
    def ohms(self) -> np.ndarray:
        """For each node the loop resistance in ohm of the section that feeds it, there and back; 0 for the supply's."""
        own = np.zeros(len(self.nodes))
        length, kelvin = (
            np.array([getattr(each.si, name) for each in self.sections]) for name in ("length", "temperature")
        )
        own[self.section_ends[0]] = copper.wire_resistance(self.areas, 2.0 * length, kelvin)
        return own

    @property
    def pair_length(self) -> Length:
        """How much twin wire there is in it; each metre holds two metres of conductor."""
        return _LENGTH.quantity(float(sum(each.si.length for each in self.sections)))

    def node_number(self, name: Any) -> int:
        """The number of a node; UnknownNameError where there is none of that name."""
        return _number(name, self.nodes, "node")

    def section_number(self, name: Any) -> int:
        """The number of a section; UnknownNameError where there is none of that name."""
        return _number(name, [each.name for each in self.sections], "section")

    def signal(self, name: Any) -> BoardSignal:
        """The signal of that name; UnknownNameError where there is none."""
        return self.signals[_number(name, [each.name for each in self.signals], "signal")]

    def _check_shape(self) -> None:
        lost = [name for name, number in self.place.items() if number and self.above[number] < 0]
        used = set(self.section_above.tolist())
        for each in (each for number, each in enumerate(self.sections) if number not in used):
            if each.start not in lost:
                raise RangeError(
                    f"section {quoted(each.name)} from {quoted(each.start)} to {quoted(each.end)} closes a ring; open "
                    "the ring at one place: leave this section out"
                )
        if lost:
            raise RangeError(
                f"node {quoted(lost[0])} of board {quoted(self.name)} is not joined to {quoted(self.supply_node)}; "
                "add the section that feeds it"
            )


def as_board(board: Any) -> Board:
    """The board itself, or UnitError where it is none."""
    if not isinstance(board, Board):
        raise UnitError(argument="board", need="a Board", given=quoted(board), advice="make one with chain_board(...)")
    return board


@with_units(scalar=True)
def star_board(
    name: str,
    source: Source,
    load: Load,
    count: int,
    wire: Any,
    run: Length,
    trunk: Length = "0 m",
    temperature: Temperature = "20 degC",
) -> Board:
    """Equal signals, each with a run of its own from a terminal strip, which a trunk joins to the source.

    Parameters
    ----------
    load: of each signal
    count: how many signals, 1 to 1000
    wire: a Wire, a name from `wires`, a gauge or a cross-section; one for all sections
    run, trunk: lengths of the sections, one way; there is twice as much conductor in them
    temperature: of the wires

    Raises UnitError, UnknownNameError or RangeError for what cannot be read, and as `Board` and `BoardSignal`.
    """
    numbers = range(1, need_whole(count, "count", 1, MOST_SIGNALS, 8) + 1)
    ways = [("trunk", SUPPLY, HUB, trunk), *((f"run {k}", HUB, f"end {k}", run) for k in numbers)]
    signals = tuple(BoardSignal(f"signal {k}", f"end {k}", load) for k in numbers)
    return Board(name, source, _sections(ways, wire, temperature), signals)


@with_units(scalar=True)
def chain_board(
    name: str,
    source: Source,
    load: Load,
    count: int,
    wire: Any,
    run: Length,
    trunk: Length = "0 m",
    temperature: Temperature = "20 degC",
) -> Board:
    """Equal signals on one pair of wires, a run from each to the next, and a trunk to the first of them.

    Parameters, answer and refusals as `star_board`.
    """
    numbers = range(1, need_whole(count, "count", 1, MOST_SIGNALS, 8) + 1)
    nodes = [SUPPLY, *(f"post {k}" for k in numbers)]
    ways = [(f"to signal {k}", nodes[k - 1], nodes[k], run if k > 1 else trunk) for k in numbers]
    signals = tuple(BoardSignal(f"signal {k}", nodes[k], load) for k in numbers)
    return Board(name, source, _sections(ways, wire, temperature), signals)


def board_along(
    name: str,
    source: Source,
    load: Load,
    places: Mapping[str, Any],
    wiring: str = CHAIN,
    wire: Any = 26,
    fuse: Fuse | None = None,
) -> Board:
    """The board of signals that stand along a layout, the source at its beginning.

    Parameters
    ----------
    load: of each signal
    places: for each signal's name its distance from the source along the layout
    wiring: "chain", from signal to signal in the order of their distances; "star", a run to each from a terminal strip
        half a metre from the source; or "mixed", a run from there for every two neighbours
    wire: a Wire, a name from `wires`, a gauge or a cross-section, the same everywhere

    Each section is called after the signal it leads to. Raises UnitError or RangeError for places or a wiring that do
    not fit.
    """
    if not isinstance(places, Mapping) or not places:
        need, example = "a distance for each signal's name", '{"home": "2 m"}'
        raise UnitError(f"places needs {need}, for example {example}; you gave {quoted(places)}")
    if not isinstance(wiring, str) or wiring not in WIRINGS:
        raise UnitError(argument="wiring", need=f"one of {', '.join(map(repr, WIRINGS))}", given=quoted(wiring))
    for reserved in {SUPPLY, HUB} & set(places):
        raise RangeError(f"a signal cannot be called {quoted(reserved)}: a node has this name; rename the signal")
    spots = [(signal, _LENGTH.read(each, f"place of {quoted(signal)}", scalar=True)) for signal, each in places.items()]
    spots.sort(key=lambda spot: spot[1])
    group = {CHAIN: len(spots), STAR: 1, MIXED: 2}[wiring]
    start, ways = (SUPPLY, []) if wiring == CHAIN else (HUB, [("adapter lead", SUPPLY, HUB, _LEAD)])
    for first in range(0, len(spots), group):
        here, so_far = start, 0.0
        for signal, distance in spots[first : first + group]:
            ways.append((f"to {signal}", here, signal, distance - so_far))
            here, so_far = signal, distance
    signals = tuple(BoardSignal(signal, signal, load) for signal, _ in spots)
    return Board(name, source, _sections(ways, wire), signals, fuse=fuse)


def _sections(
    ways: list[tuple[str, str, str, float]], wire: Any, kelvin: float = copper.REFERENCE_TEMPERATURE
) -> tuple[FeederSection, ...]:
    """Sections of one wire: each one's name, start, end and length in m."""
    temperature = Q(kelvin, "K")
    return tuple(FeederSection(*ends, wire, Q(length, "m"), temperature) for *ends, length in ways)


def _leakage(string: LedString) -> float:
    """The most that LEDs in series let through in reverse, in A: the least of their saturation currents."""
    if not all(isinstance(each.model, Exponential) for each in string):
        return 0.0
    return min(each.model.si.saturation_current for each in string)


def _number(name: Any, names: Sequence[str], what: str) -> int:
    """The place of a name among others; UnknownNameError where it is none of them."""
    return list(names).index(need_name(name, what, names))


def _all_of(given: Any, what: str, kind: type) -> tuple[Any, ...]:
    """The records as a tuple, all of one kind and of different names."""
    if not isinstance(given, list | tuple) or not all(isinstance(each, kind) for each in given):
        raise UnitError(argument=what, need=f"a list of {kind.__name__} records", given=quoted(given))
    for name, count in Counter(each.name for each in given).items():
        if count > 1:
            raise RangeError(f"{what} need different names, and two are called {quoted(name)}; rename one of them")
    return tuple(given)

"""A board: many signals on one source, through feeder sections that branch like a tree; and the usual ways to wire it.

The feeder of such a board is the pair of wires from the source to the signals; a section is a piece of it between two
nodes, there and back.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cached_property
from typing import Any, TypeVar

import numpy as np

from ...errors import DesignError, RangeError, UnitError, UnknownNameError
from ...parts.fuse import Fuse, area_of, as_fuse
from ...parts.led import Exponential
from ...parts.source import Adapter, Battery, Source
from ...parts.table import unknown
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
_LEAD = "adapter lead"
_LENGTH = kind_of(Length)
_Any = TypeVar("_Any")


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
        _need_texts(self, "section", "name", "start", "end")
        if self.start == self.end:
            raise RangeError(
                f"section {quoted(self.name)} starts and ends at {quoted(self.start)}; give two different nodes"
            )
        area_of(self.wire)  # a wire that cannot be read is refused here

    @property
    def loop_resistance(self) -> Resistance:
        """The resistance of both wires together."""
        return kind_of(Resistance).quantity(float(_loop_ohms([self])[0]))


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
        _need_texts(self, "signal", "name", "node")
        if not isinstance(self.load, Load):
            raise UnitError(
                argument="load",
                need="a Load",
                given=quoted(self.load),
                advice=f'for signal {quoted(self.name)} write Load(ResistorDrive("470 ohm"), leds["red alingap 3 mm"])',
            )
        for lamp in (RED, GREEN) if self.load.is_pair else ():
            leak = _leakage(self.load.branch(lamp)[0])
            if leak > MOST_LEAKAGE:
                raise DesignError(
                    f"the dark {lamp} lamp of signal {quoted(self.name)} leaks up to {say(leak, 'A')}, more than the "
                    f"{say(MOST_LEAKAGE, 'A')} that a board may leave out; study this pair alone, with its operate()"
                )


@record
class Board:
    """A source, the feeder sections behind it and up to 1000 signals at their nodes; `fuse` sits at the source.

    The sections form a tree from `supply_node` on: a star, a chain or a mixture. A ring is refused.
    """

    name: str
    source: Source
    sections: tuple[FeederSection, ...]
    signals: tuple[BoardSignal, ...]
    supply_node: str = SUPPLY
    fuse: Fuse | None = None

    def __post_init__(self) -> None:
        _need_texts(self, "board", "supply_node")
        if not isinstance(self.source, Battery | Adapter):
            raise UnitError(
                argument="source",
                need="a Battery or an Adapter",
                given=quoted(self.source),
                advice='try adapters["9 V regulated"]',
            )
        for what, kind in (("sections", FeederSection), ("signals", BoardSignal)):
            object.__setattr__(self, what, _all_of(getattr(self, what), what, kind))
        if not 1 <= len(self.signals) <= MOST_SIGNALS:
            raise RangeError(
                argument="signals",
                need=f"1 to {MOST_SIGNALS} signals",
                given=str(len(self.signals)),
                advice="give each part of a larger layout a board of its own",
            )
        if self.fuse is not None:
            object.__setattr__(self, "fuse", as_fuse(self.fuse))
        for each in self.signals:
            if each.node not in self.place:
                raise UnknownNameError(unknown(f"node of signal {quoted(each.name)}", each.node, self.nodes))
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
    def section_above(self) -> np.ndarray:
        """For each node the number of the section that feeds it; -1 for the supply's, and where nothing does."""
        beside: list[list[tuple[int, int]]] = [[] for _ in self.nodes]
        for number, each in enumerate(self.sections):
            start, end = self.place[each.start], self.place[each.end]
            beside[start].append((end, number))
            beside[end].append((start, number))
        found, order = {0: -1}, [0]
        for node in order:
            for other, number in beside[node]:
                if other not in found:
                    found[other] = number
                    order.append(other)
        return np.array([found.get(node, -1) for node in range(len(self.nodes))])

    @cached_property
    def above(self) -> np.ndarray:
        """For each node the node it is fed from; -1 for the supply's, and where nothing feeds it."""
        ends = [(self.place[each.start], self.place[each.end]) for each in self.sections]
        return np.array(
            [
                -1 if number < 0 else sum(ends[number]) - node  # the other end
                for node, number in enumerate(self.section_above.tolist())
            ]
        )

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
        return _areas(self.sections)

    @cached_property
    def ohms(self) -> np.ndarray:
        """For each node the loop resistance in ohm of the section that feeds it, there and back; 0 for the supply's."""
        own = np.zeros(len(self.nodes))
        own[self.section_ends[0]] = _loop_ohms(self.sections)
        return own

    @cached_property
    def has_pairs(self) -> bool:
        """Whether a signal on it has two colours."""
        return any(each.load.is_pair for each in self.signals)

    @property
    def pair_length(self) -> Length:
        """How much twin wire there is in it; each metre holds two metres of conductor."""
        return _LENGTH.quantity(float(sum(each.si.length for each in self.sections)))

    def node_number(self, name: Any) -> int:
        """The number of a node; UnknownNameError where there is none of that name."""
        if not isinstance(name, str) or name not in self.place:
            raise UnknownNameError(unknown("node", name, self.nodes))
        return self.place[name]

    def signal(self, name: Any) -> BoardSignal:
        """The signal of that name; UnknownNameError where there is none."""
        return _named(name, self.signals, "signal")

    def section_number(self, name: Any) -> int:
        """The number of a section; UnknownNameError where there is none of that name."""
        return [each.name for each in self.sections].index(_named(name, self.sections, "section").name)

    def _check_shape(self) -> None:
        fed = self.section_above
        reached = {0, *np.flatnonzero(fed >= 0).tolist()}
        for number in sorted({*range(len(self.sections))} - {*fed.tolist()}):
            each = self.sections[number]
            if self.place[each.start] in reached:
                raise RangeError(
                    f"section {quoted(each.name)} from {quoted(each.start)} to {quoted(each.end)} closes a ring; open "
                    "the ring at one place: leave this section out"
                )
        if len(reached) < len(self.nodes):
            lost = next(name for name, place in self.place.items() if place not in reached)
            raise RangeError(
                f"node {quoted(lost)} of board {quoted(self.name)} is not joined to {quoted(self.supply_node)}; "
                "add the section that feeds it"
            )


def as_board(board: Any) -> Board:
    """The board itself, or UnitError where it is none."""
    if not isinstance(board, Board):
        raise UnitError(
            argument="board", need="a Board", given=quoted(board), advice="write Board(name, source, sections, signals)"
        )
    return board


def star_board(
    name: str,
    source: Source,
    load: Load,
    count: int,
    wire: Any,
    run: Any,
    trunk: Any = "0 m",
    temperature: Any = "20 degC",
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
    return _equal(name, source, load, count, wire, run, trunk, temperature, _star_ways)


def chain_board(
    name: str,
    source: Source,
    load: Load,
    count: int,
    wire: Any,
    run: Any,
    trunk: Any = "0 m",
    temperature: Any = "20 degC",
) -> Board:
    """Equal signals on one pair of wires, a run from each to the next, and a trunk to the first of them.

    Parameters, answer and refusals as `star_board`.
    """
    return _equal(name, source, load, count, wire, run, trunk, temperature, _chain_ways)


_Ways = list[tuple[str, str, str, Any]]
"""Name, start, end and length of sections."""


def _star_ways(count: int, run: Any, trunk: Any) -> _Ways:
    return [("trunk", SUPPLY, HUB, trunk), *((f"run {k}", HUB, f"end {k}", run) for k in range(1, count + 1))]


def _chain_ways(count: int, run: Any, trunk: Any) -> _Ways:
    nodes = [SUPPLY, *(f"post {k}" for k in range(1, count + 1))]
    return [(f"section {k}", nodes[k - 1], nodes[k], run if k > 1 else trunk) for k in range(1, count + 1)]


def _equal(
    name: str,
    source: Source,
    load: Load,
    count: int,
    wire: Any,
    run: Any,
    trunk: Any,
    temperature: Any,
    ways: Callable[[int, Any, Any], _Ways],
) -> Board:
    """Equal signals, once what they share has been read under its own name."""
    count = need_whole(count, "count", 1, MOST_SIGNALS, 8)
    kinds = {"run": (run, Length), "trunk": (trunk, Length), "temperature": (temperature, Temperature)}
    run, trunk, temperature = (
        kind_of(kind).quantity(kind_of(kind).read(value, what, scalar=True)) for what, (value, kind) in kinds.items()
    )
    sections = tuple(FeederSection(*ends, wire, length, temperature) for *ends, length in ways(count, run, trunk))
    signals = (BoardSignal(f"signal {k}", each.end, load) for k, each in enumerate(sections[-count:], 1))
    return Board(name, source, sections, tuple(signals))


@with_units(scalar=True)
def board_along(
    name: str,
    source: Source,
    load: Load | Mapping[str, Load],
    places: Mapping[str, Any],
    wiring: str = CHAIN,
    wire: Any = 26,
    lead: Length = "0.5 m",
    temperature: Temperature = "20 degC",
    fuse: Fuse | None = None,
    together: int = 2,
) -> Board:
    """The board of signals that stand along a layout, the source at its beginning.

    Parameters
    ----------
    load: one for all signals, or one for each name
    places: for each signal's name its distance from the source along the layout
    wiring: "chain", "star" or "mixed"
    wire: a Wire, a name from `wires`, a gauge or a cross-section, the same everywhere
    lead: from the source to the terminal strip of a star or a mixed wiring, which is beside it
    together: how many neighbours share a pair from the terminal strip in a mixed wiring

    A chain's wire goes from signal to signal in the order of their distances. A star has a run of its own to each.
    Mixed, every few neighbours share a run. Each section is called after the signal it leads to. Raises UnitError or
    RangeError for places, loads or a wiring that do not fit.
    """
    spots = _spots(places)
    loads = load if isinstance(load, Mapping) else dict.fromkeys(places, load)
    for signal, _ in spots:
        if signal not in loads:
            raise UnitError(f"load needs one for each signal, and {quoted(signal)} has none; add it")
    sections = tuple(
        FeederSection(_LEAD if end == HUB else f"to {end}", start, end, wire, Q(length, "m"), Q(temperature, "K"))
        for start, end, length in _ways_along(spots, wiring, lead, together)
    )
    signals = tuple(BoardSignal(signal, signal, loads[signal]) for signal, _ in spots)
    return Board(name, source, sections, signals, fuse=fuse)


_Spot = tuple[str, float]


def _spots(places: Any) -> list[_Spot]:
    """Names and distances in m, the nearest first."""
    if not isinstance(places, Mapping) or not places:
        raise UnitError(
            argument="places",
            need="a distance for each signal's name",
            given=quoted(places),
            advice='write places={"home": "2 m", "starter": "5 m"}',
        )
    for name in places:
        if name in (SUPPLY, HUB):
            raise RangeError(f"a signal cannot be called {quoted(name)}: a node has this name; rename the signal")
    spots = [(name, _LENGTH.read(each, f"place of {quoted(name)}", scalar=True)) for name, each in places.items()]
    return sorted(spots, key=lambda spot: spot[1])


def _ways_along(spots: list[_Spot], wiring: Any, lead: float, together: Any) -> list[tuple[str, str, float]]:
    """Start, end and length in m of every section."""
    if not isinstance(wiring, str) or wiring not in WIRINGS:
        raise UnitError(argument="wiring", need=f"one of {', '.join(map(repr, WIRINGS))}", given=quoted(wiring))
    group = 1 if wiring == STAR else need_whole(together, "together", 1, MOST_SIGNALS, 2)
    if wiring == CHAIN:
        return _run(SUPPLY, spots)
    runs = (_run(HUB, spots[first : first + group]) for first in range(0, len(spots), group))
    return [(SUPPLY, HUB, lead), *(section for run in runs for section in run)]


def _run(start: str, spots: list[_Spot]) -> list[tuple[str, str, float]]:
    """A chain from the beginning of the layout through the spots in their order."""
    starts = [(start, 0.0), *spots]
    return [(start, end, there - here) for (start, here), (end, there) in zip(starts, spots, strict=False)]


def _areas(sections: Sequence[FeederSection]) -> np.ndarray:
    """Cross-sections in m2 of the sections' wires, each make of wire read once."""
    areas: dict[int, float] = {}
    for each in sections:
        if id(each.wire) not in areas:
            areas[id(each.wire)] = area_of(each.wire)
    return np.array([areas[id(each.wire)] for each in sections])


def _loop_ohms(sections: Sequence[FeederSection]) -> np.ndarray:
    """Loop resistances in ohm of sections, there and back."""
    if not sections:
        return np.empty(0)
    length, kelvin = (np.array([getattr(each.si, name) for each in sections]) for name in ("length", "temperature"))
    return copper.wire_resistance(_areas(sections), 2.0 * length, kelvin)


def _leakage(string: LedString) -> float:
    """The most that LEDs in series let through in reverse, in A: the least of their saturation currents."""
    if not all(isinstance(each.model, Exponential) for each in string):
        return 0.0
    return min(each.model.si.saturation_current for each in string)


def _named(name: Any, records: Sequence[_Any], what: str) -> _Any:
    for each in records:
        if isinstance(name, str) and each.name == name:
            return each
    raise UnknownNameError(unknown(what, name, [each.name for each in records]))


def _need_texts(made: Any, what: str, *fields: str) -> None:
    """UnitError where a field is no text, or an empty one."""
    for name in fields:
        value = getattr(made, name)
        if not isinstance(value, str) or not value.strip():
            raise UnitError(argument=f"{name} of a {what}", need="a text", given=quoted(value))


def _all_of(given: Any, what: str, kind: type) -> tuple[Any, ...]:
    """The records as a tuple, all of one kind and of different names."""
    if not isinstance(given, list | tuple) or not all(isinstance(each, kind) for each in given):
        raise UnitError(argument=what, need=f"a list of {kind.__name__} records", given=quoted(given))
    seen: set[str] = set()
    for each in given:
        if each.name in seen:
            raise RangeError(f"{what} need different names, and two are called {quoted(each.name)}; rename one of them")
        seen.add(each.name)
    return tuple(given)

"""A distribution board: many signals on one source, through feeder sections that branch like a tree."""

from __future__ import annotations

from functools import cached_property
from typing import Any

import numpy as np

from ...errors import DesignError, RangeError, UnitError, UnknownNameError
from ...parts.fuse import Fuse, as_fuse
from ...parts.led import Exponential
from ...parts.source import Adapter, Battery, Source
from ...parts.table import unknown
from ...physics.network_tree import Sections, Tree, spanning_tree
from ...units import Length, Temperature, kind_of, record, say
from ...units.plain import need_whole
from ...units.reading import quoted
from ..lamp.drive import LedString
from ..power.load import GREEN, RED, Load
from .feeder_section import FeederSection, loop_ohms, need_text

MOST_LEAKAGE = 1e-6  # A; a tenth of what counts as lit
MOST_SIGNALS = 10_000
"""On a board of equal signals: far beyond any layout, and still solved in a moment."""
SUPPLY = "supply"
"""The node at the source's terminals."""


@record
class BoardSignal:
    """A signal on the board: its name, the node where it hangs, and what it draws there (see `load.Load`).

    Of a pair only the lit branch counts; what the dark one leaks is left out, and a pair
    that leaks more than 1 µA is refused.
    """

    name: str
    node: str
    load: Load

    def __post_init__(self) -> None:
        for what in ("name", "node"):
            need_text(getattr(self, what), what, "a signal")
        if not isinstance(self.load, Load):
            raise UnitError(
                f"load of signal {quoted(self.name)} needs a Load, but {type(self.load).__name__} came; write "
                'Load(ResistorDrive("470 ohm"), leds["red alingap 3 mm"])'
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
    """A source, the feeder sections behind it and the signals at their nodes; `fuse` sits at the source.

    The sections form a tree from `supply_node` on: a star, a chain or a mixture. With
    `rings` they may close loops, each fed from both ends.
    """

    name: str
    source: Source
    sections: tuple[FeederSection, ...]
    signals: tuple[BoardSignal, ...]
    supply_node: str = SUPPLY
    fuse: Fuse | None = None
    rings: bool = False

    def __post_init__(self) -> None:
        need_text(self.supply_node, "supply_node", "a board")
        if not isinstance(self.source, Battery | Adapter):
            came = type(self.source).__name__
            raise UnitError(f'source needs a Battery or an Adapter, but {came} came; try adapters["9 V regulated"]')
        for what, kind in (("sections", FeederSection), ("signals", BoardSignal)):
            object.__setattr__(self, what, _all_of(getattr(self, what), what, kind))
        if not self.signals:
            raise RangeError(f"signals of board {quoted(self.name)} are needed; add at least one BoardSignal")
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
    def feeder(self) -> Sections:
        """The sections as node numbers and loop resistances in ohm."""
        start, end = (
            np.array([self.place[getattr(each, side)] for each in self.sections], int) for side in ("start", "end")
        )
        return Sections(start, end, loop_ohms(self.sections))

    @cached_property
    def tree(self) -> Tree:
        """Which node hangs on which (see `physics.network_tree`)."""
        return spanning_tree(self.feeder, len(self.nodes))

    def node_number(self, name: Any) -> int:
        """The number of a node; UnknownNameError where there is none of that name."""
        if not isinstance(name, str) or name not in self.place:
            raise UnknownNameError(unknown("node", name, self.nodes))
        return self.place[name]

    def signal(self, name: Any) -> BoardSignal:
        """The signal of that name; UnknownNameError where there is none."""
        for each in self.signals:
            if isinstance(name, str) and each.name == name:
                return each
        raise UnknownNameError(unknown("signal", name, [each.name for each in self.signals]))

    def _check_shape(self) -> None:
        if self.tree.unreached.size:
            lost = self.nodes[int(self.tree.unreached[0])]
            raise RangeError(
                f"node {quoted(lost)} of board {quoted(self.name)} is not joined to {quoted(self.supply_node)}; "
                "add the section that feeds it"
            )
        if self.tree.chords.size and not self.rings:
            section = self.sections[int(self.tree.chords[0])]
            raise RangeError(
                f"section {quoted(section.name)} from {quoted(section.start)} to {quoted(section.end)} closes a loop: "
                "there would be two ways to one node; leave a section out, or write rings=True if a ring is meant"
            )


def _leakage(string: LedString) -> float:
    """The most that LEDs in series let through in reverse, in A: the least of their saturation currents."""
    if not all(isinstance(each.model, Exponential) for each in string):
        return 0.0
    return min(each.model.si.saturation_current for each in string)


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
    """So many equal signals, each on a run of its own from a distribution board, which a trunk joins to the source.

    Parameters
    ----------
    load: of each signal
    count: how many signals, 1 to 10000
    wire: a Wire, a name from `wires`, a gauge or a cross-section; one for all sections
    run, trunk: lengths of the sections, one way; twice as much conductor lies in them
    temperature: of the wires

    Raises UnitError, UnknownNameError or RangeError for what cannot be read, and as `Board` and `BoardSignal`.
    """
    numbers = _numbers(count, run, trunk, temperature)
    sections = [FeederSection("trunk", SUPPLY, "board", wire, trunk, temperature)]
    sections += [FeederSection(f"run {k}", "board", f"end {k}", wire, run, temperature) for k in numbers]
    return Board(name, source, tuple(sections), tuple(BoardSignal(f"signal {k}", f"end {k}", load) for k in numbers))


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
    """So many equal signals on one pair of wires, a run from each to the next, and a trunk to the first of them.

    Parameters, answer and refusals as `star_board`.
    """
    numbers = _numbers(count, run, trunk, temperature)
    lengths = [trunk, *[run] * (count - 1)]
    nodes = [SUPPLY, *(f"post {k}" for k in numbers)]
    sections = [
        FeederSection(f"section {k}", nodes[k - 1], nodes[k], wire, lengths[k - 1], temperature) for k in numbers
    ]
    return Board(name, source, tuple(sections), tuple(BoardSignal(f"signal {k}", nodes[k], load) for k in numbers))


def _numbers(count: int, run: Any, trunk: Any, temperature: Any) -> range:
    """1, 2, ... of so many equal signals, once what they share has been read under its own name."""
    count = need_whole(count, "count", 1, MOST_SIGNALS, 8)
    for name, value in {"run": run, "trunk": trunk}.items():
        kind_of(Length).read(value, name, scalar=True)
    kind_of(Temperature).read(temperature, "temperature", scalar=True)
    return range(1, count + 1)


def as_board(board: Any) -> Board:
    """The board itself, or UnitError where it is none."""
    if not isinstance(board, Board):
        raise UnitError(
            f"board needs a Board, but {type(board).__name__} came; write Board(name, source, sections, ...)"
        )
    return board


def _all_of(given: Any, what: str, kind: type) -> tuple[Any, ...]:
    """The records as a tuple, all of one kind and of different names."""
    if not isinstance(given, list | tuple) or not all(isinstance(each, kind) for each in given):
        raise UnitError(f"{what} needs a list of {kind.__name__} records, but {quoted(given)} came")
    seen: set[str] = set()
    for each in given:
        if each.name in seen:
            raise RangeError(f"{what} needs different names, but {quoted(each.name)} came twice; rename one of them")
        seen.add(each.name)
    return tuple(given)

"""How signals along a layout hang on one source: chain, star or mixed; what each costs in wire, light and trouble."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from ...errors import RangeError, UnitError
from ...parts.fuse import Fuse
from ...parts.source import Source
from ...physics.network_tree import Sweep
from ...units import Length, Q, Ratio, Temperature, kind_of, record, say, with_units
from ...units.reading import quoted
from ..findings import FINE, LOOK, Finding
from ..power.load import Load
from .board import SUPPLY, Board, BoardSignal, FeederSection, as_board
from .board_state import worst_of

CHAIN, STAR, MIXED = "chain", "star", "mixed"
WIRINGS = (CHAIN, STAR, MIXED)
"""One pair of wires from signal to signal; a pair for each from a board; a pair from the board for every few."""
HUB = "board"
"""The node of the distribution board, and the way to it."""
_LEAD = "adapter lead"
_LENGTH = kind_of(Length)

_Spot = tuple[str, float]


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
    lead: from the source to the distribution board of a star or a mixed wiring, which stands beside it
    together: how many neighbours share a pair from the board in a mixed wiring

    A chain's wire goes from signal to signal in the order of their distances. A star has a
    run of its own to each. Mixed, every few neighbours share a run. Each section is called
    after the signal it leads to. Raises UnitError or RangeError for places, loads or a
    wiring that do not fit.
    """
    spots = _spots(places)
    ways = _ways(spots, wiring, lead, together)
    kelvin = Q(temperature, "K")
    sections = [
        FeederSection(_LEAD if end == HUB else f"to {end}", start, end, wire, Q(length, "m"), kelvin)
        for start, end, length in ways
    ]
    loads = _loads(load, [signal for signal, _ in spots])
    signals = [BoardSignal(signal, signal, loads[signal]) for signal, _ in spots]
    return Board(name, source, sections, signals, fuse=fuse)


@with_units(scalar=True)
def pair_length(board: Board) -> Length:
    """How much twin wire the board takes; each metre of it holds two metres of conductor."""
    return float(sum(each.si.length for each in as_board(board).sections))


@record
class WiringTrial:
    """One way of wiring: the length of twin wire, the least share of light of any lamp, and what a break costs.

    `share` is the least at any corner of the tolerances, of `weakest`. `most_lost` is how
    many signals go dark where the worst single run along the layout breaks or comes loose.
    """

    wiring: str
    length: Length
    share: Ratio
    weakest: str
    most_lost: int
    board: Board


@with_units(scalar=True)
def compare_wirings(
    source: Source,
    load: Load | Mapping[str, Load],
    places: Mapping[str, Any],
    wire: Any = 26,
    lead: Length = "0.5 m",
    temperature: Temperature = "20 degC",
) -> tuple[WiringTrial, ...]:
    """The same signals as a chain, a star and mixed; arguments as for `board_along`."""
    boards = (
        board_along(wiring, source, load, places, wiring, wire, Q(lead, "m"), Q(temperature, "K")) for wiring in WIRINGS
    )
    return tuple(_trial(board) for board in boards)


def _trial(board: Board) -> WiringTrial:
    share, place, _ = worst_of(board).weakest
    return WiringTrial.of(
        wiring=board.name,
        length=pair_length(board).m_as("m"),
        share=share,
        weakest=board.signals[place].name,
        most_lost=most_lost(board),
        board=board,
    )


def most_lost(board: Board) -> int:
    """How many signals at the most hang behind one section of a board without rings, the lead to its hub left out."""
    hanging = np.zeros(len(board.nodes))
    np.add.at(hanging, [board.place[each.node] for each in as_board(board).signals], 1.0)
    behind = Sweep(board.feeder, board.tree).beyond(hanging)
    return round(
        max((behind[place] for node, place in board.place.items() if node not in (board.supply_node, HUB)), default=0)
    )


def findings(trials: Sequence[WiringTrial]) -> list[Finding]:
    """Which way keeps the most light, and what it costs in wire; which loses the most by one break."""
    if isinstance(trials, str) or not trials or not all(isinstance(each, WiringTrial) for each in trials):
        raise UnitError("trials needs what compare_wirings gives; write findings(compare_wirings(...))")
    brightest = max(trials, key=lambda each: each.share)
    shortest = min(trials, key=lambda each: each.si.length)
    times = brightest.si.length / shortest.si.length if shortest.si.length else 1.0
    said = f"Wired as {brightest.wiring}, the weakest lamp keeps {say(brightest.share, '')} of its light at worst."
    if brightest.wiring != shortest.wiring:
        said += (
            f" It takes {say(brightest.si.length, 'm')} of twin wire, {times:.2g} times as much as {shortest.wiring}, "
            f"which keeps {say(shortest.share, '')}."
        )
    found = [Finding(FINE, "wiring", said)]
    for each in trials:
        if each.most_lost == len(each.board.signals) > 1:
            reason = f"Wired as {each.wiring}, one bad joint near the source darkens all {each.most_lost} signals."
            found.append(Finding(LOOK, "one break", reason, "Make that joint the best of all, and easy to reach."))
    return found


def _spots(places: Any) -> list[_Spot]:
    """Names and distances in m, the nearest first."""
    if not isinstance(places, Mapping) or not places:
        raise UnitError(
            f"places needs a distance for each signal's name, but {quoted(places)} came; "
            'write places={"home": "2 m", "starter": "5 m"}'
        )
    for name in places:
        if name in (SUPPLY, HUB):
            raise RangeError(f"a signal cannot be called {quoted(name)}: a node has this name; rename the signal")
    spots = [(name, _LENGTH.read(each, f"place of {quoted(name)}", scalar=True)) for name, each in places.items()]
    return sorted(spots, key=lambda spot: spot[1])


def _loads(load: Any, names: list[str]) -> Mapping[str, Load]:
    if not isinstance(load, Mapping):
        return dict.fromkeys(names, load)
    missing = [name for name in names if name not in load]
    if missing:
        raise UnitError(f"load needs one for each signal, but none came for {quoted(missing[0])}; add it")
    return load


def _ways(spots: list[_Spot], wiring: Any, lead: float, together: Any) -> list[tuple[str, str, float]]:
    """Start, end and length in m of every section."""
    if not isinstance(wiring, str) or wiring not in WIRINGS:
        raise UnitError(f"wiring needs to be one of {', '.join(map(repr, WIRINGS))}, but {quoted(wiring)} came")
    if isinstance(together, bool) or not isinstance(together, int) or together < 1:
        raise RangeError(f"together needs a whole number from 1 on, but {quoted(together)} came; give for example 2")
    if wiring == CHAIN:
        return _run(SUPPLY, spots)
    group = 1 if wiring == STAR else together
    runs = (_run(HUB, spots[first : first + group]) for first in range(0, len(spots), group))
    return [(SUPPLY, HUB, lead), *(section for run in runs for section in run)]


def _run(start: str, spots: list[_Spot]) -> list[tuple[str, str, float]]:
    """A chain from the beginning of the layout through the spots in their order."""
    starts = [(start, 0.0), *spots]
    return [(start, end, there - here) for (start, here), (end, there) in zip(starts, spots, strict=False)]

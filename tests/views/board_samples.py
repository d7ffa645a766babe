"""Pictures of boards, usual ones and extremes, for the tests that hold for all pictures."""

import dataclasses
from functools import cache

from sigcalc.design.board.board import WIRINGS, Board, BoardSignal, FeederSection, board_along, chain_board
from sigcalc.design.board.feeder import gauge_for, study_board
from sigcalc.design.board.fuse import short_at
from sigcalc.design.board.limits import add_signals, most_signals
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.load import Load
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.fuse import fuses
from sigcalc.parts.led import leds
from sigcalc.parts.source import adapters, batteries
from sigcalc.parts.wire import wires
from sigcalc.views.board import board_lamps, board_picture
from sigcalc.views.many_signals_one_adapter import MostSignalsChart, gauge_bars
from tests.views.svg import HOSTILE

ADAPTER = adapters["12 V regulated"]
PAIR = TwoLeadPair(leds["red alingap 3 mm"], leds["green gap 3 mm"])
LAMPS = Load(ResistorDrive("1 kohm", 0.05), PAIR)
HEAVY = Load(ResistorDrive("1 kohm", 0.05), PAIR, standby="50 mA")
BLUE = Load(ConstantCurrentDrive("10 mA", "1.5 V"), leds["white 3 mm"])
LONG = "the signal at the far end of the branch line behind the old brewery"
PLACES = {"east home": "1 m", "starter": "2.5 m", "yard": "4 m", LONG: "9 m"}

# two signals at one node, a joint in a branch, a deep branch, every kind of wire, names of every kind
MIXTURE = Board(
    HOSTILE,
    batteries["9 V alkaline"],
    (
        FeederSection("trunk", "supply", HOSTILE, wires["22 AWG stranded hook-up"], "12.345 m"),
        FeederSection("a", HOSTILE, "joint", "0.14 mm2", "1 m"),
        FeederSection("b", "joint", "one", wires["0.14 mm2 flexible"], "100 m"),
        FeederSection(HOSTILE, HOSTILE, "two", "28 AWG", "0.05 m"),
        FeederSection("c", "two", "three", 26, "1 m"),
        FeederSection("d", "two", "four", 26, "1 m"),
        FeederSection("e", "four", "five", 26, "1 m"),
        FeederSection("f", "four", "six", 26, "1 m"),
    ),
    (
        BoardSignal(HOSTILE, "one", LAMPS),
        BoardSignal("neighbour", "one", BLUE),
        BoardSignal(LONG, "five", HEAVY),
        BoardSignal("bay", "six", LAMPS),
        BoardSignal("near", "supply", LAMPS),
    ),
    fuse=fuses["1.1 A resettable"],
)
BENCH = Board("bench", ADAPTER, (), (BoardSignal("one", "supply", BLUE), BoardSignal("two", "supply", LAMPS)))


def along(wiring, load=HEAVY, fuse=None):
    """A board of four signals on thin wire."""
    return board_along("layout", ADAPTER, load, PLACES, wiring, 30, fuse=fuse)


@cache
def _boards():
    """The states of boards by name, each with the node of a short circuit if there is one; solved once."""
    fused = along("star", fuse=fuses["500 mA resettable"])
    dark = dataclasses.replace(along("chain", LAMPS), source=dataclasses.replace(ADAPTER, voltage="1 V"))
    many = chain_board("many", dataclasses.replace(ADAPTER, max_current="100 mA"), HEAVY, 12, 22, "1 m")
    states = {wiring: (study_board(along(wiring)).state("green"), None) for wiring in WIRINGS}
    states |= {f"short at {node}": (short_at(fused, node).held, node) for node in ("terminal strip", LONG)}
    for name, board, node in (
        ("mixture", MIXTURE, "joint"),
        ("bench", BENCH, None),
        ("dark", dark, None),
        ("long", chain_board("long", ADAPTER, LAMPS, 30, 30, "40 m"), None),
        ("overloaded", many, None),
    ):
        states[name] = (study_board(board).state(), node)
    return states


@cache
def _limits():
    """Most signals with their curves by name, and what gauges leave; worked out once."""
    found = {}
    for name, source, load, run in (
        ("usual", ADAPTER, HEAVY, "1.5 m"),
        ("many", ADAPTER, LAMPS, "0.2 m"),
        ("few", adapters["9 V unregulated"], HEAVY, "10 m"),
        ("one", batteries["9 V alkaline"], HEAVY, "60 m"),
    ):
        result = most_signals(source, load, 30, run, share=0.7)
        counts = [1, result.count, result.count + 1, 2 * result.count]
        found[name] = result, add_signals(source, load, 30, run, counts)
    return found, gauge_for(along("chain"), 0.5).shares


def board_pictures(size):
    """All of them by name."""
    waiting = ["west home", HOSTILE]
    for name, (state, node) in _boards().items():
        yield f"board {name}", board_picture(state, node, size, [] if node else waiting)
        if name != "long":
            yield f"board lamps {name}", board_lamps(state, size, waiting)
    chart, (found, shares) = MostSignalsChart(), _limits()
    for name, (result, adding) in found.items():
        yield f"most signals {name}", chart.picture(result, adding, size)
    for wanted in (0.2, 0.9, 0.999):
        yield f"gauges {wanted}", gauge_bars(shares, wanted, size)

"""Loads, sources and boards that the tests of boards share."""

from sigcalc.design.board.board import SUPPLY, Board, BoardSignal, FeederSection, chain_board, star_board
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.load import Load
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.source import Adapter, adapters

RED, GREEN = leds["bright red 3 mm"], leds["very bright green 3 mm"]
PAIR = TwoLeadPair(RED, GREEN)
RESISTOR = ResistorDrive("470 ohm", 0.05)
PAIRS = Load(RESISTOR, PAIR)
TEN = Load(ConstantCurrentDrive("10 mA", "1.5 V"), PAIR)
NINE, TWELVE = adapters["9 V regulated"], adapters["12 V regulated"]
STIFF = Adapter("stiff", "9 V", 0.0, "0 ohm", "1 A")


def bench(load, source=STIFF):
    """One signal right at the source."""
    return Board("bench", source, (), (BoardSignal("one", SUPPLY, load),))


def wired(load, gauge, length, source=STIFF):
    """One signal at the end of a run."""
    run = FeederSection("run", SUPPLY, "post", gauge, length)
    return Board("wired", source, (run,), (BoardSignal("one", "post", load),))


def star(load=TEN, count=8, gauge=22, run="3 m", source=NINE):
    return star_board("star", source, load, count, gauge, run)


def chain(load, count, gauge, run, source=NINE):
    return chain_board("chain", source, load, count, gauge, run, run)


def loop_ohms(board):
    """Of its first section."""
    return board.sections[0].loop_resistance.m_as("ohm")

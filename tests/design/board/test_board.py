"""Boards as records: their shape, the usual ways to wire them, and what is refused."""

import numpy as np
import pytest

from sigcalc.design.board.board import (
    CHAIN,
    MIXED,
    STAR,
    WIRINGS,
    Board,
    BoardSignal,
    FeederSection,
    board_along,
    chain_board,
    star_board,
)
from sigcalc.design.board.feeder import study_board
from sigcalc.design.board.limits import compare_wirings, most_lost
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.load import Load
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import ConstantDrop, Exponential, Led, diodes
from sigcalc.parts.wire import wire_resistance, wires
from tests.design.board.samples import RED, TWELVE, bench, wired
from tests.refusals import refused

DRIVE = ResistorDrive("1 kohm", 0.05)
LOAD = Load(DRIVE, RED, standby="40 mA")
TRUNK, NORTH = FeederSection("trunk", "supply", "board", 22, "3 m"), FeederSection("north", "board", "post", 26, "2 m")
SECTIONS = TRUNK, NORTH, FeederSection("south", "board", "yard", "0.14 mm2 flexible", "1 m", "40 degC")
SIGNALS = (BoardSignal("home", "post", LOAD), BoardSignal("starter", "yard", LOAD))
PLACES = {"far": "9 m", "home": "1 m", "yard": "4.5 m", "starter": "3 m"}


def club(sections=SECTIONS, signals=SIGNALS, **more):
    return Board("club", **{"source": TWELVE, "sections": sections, "signals": signals} | more)


def along(wiring=CHAIN, places=PLACES):
    return board_along("layout", TWELVE, LOAD, places, wiring, 30)


def leaky(saturation_current="2 uA", **more):
    led = Led("leaky", "green", Exponential(saturation_current, 2.0, "5 ohm"), max_current="30 mA")
    return BoardSignal("home", "post", Load(DRIVE, TwoLeadPair(RED, led, **more)))


def test_loop_resistance_is_there_and_back():
    # HwB AWG table: 134 ohm per km, within 0.5 %
    assert FeederSection("a", "b", "c", 26, "500 m").loop_resistance.m_as("ohm") == pytest.approx(134, rel=5e-3)
    warm = wires["0.14 mm2 flexible"].resistance("2 m", "40 °C")
    expected = [each.m_as("ohm") for each in (wire_resistance(22, "6 m"), wire_resistance(26, "4 m"), warm)]
    assert [each.loop_resistance.m_as("ohm") for each in SECTIONS] == pytest.approx(expected)
    board = club()
    assert board.ohms[1:] == pytest.approx(expected)
    assert (board.nodes, board.above.tolist()) == (("supply", "board", "post", "yard"), [-1, 0, 1, 1])


def test_star_and_chain():
    star, chain = (make("b", TWELVE, LOAD, 3, 26, "2 m", "1 m") for make in (star_board, chain_board))
    assert star.above.tolist() == [-1, 0, 1, 1, 1]
    assert chain.above.tolist() == [-1, 0, 1, 2]
    metre = wire_resistance(26, "2 m").m_as("ohm")
    assert chain.ohms[1:] == pytest.approx(metre * np.array([1, 2, 2]))
    assert star.ohms[1:] == pytest.approx(metre * np.array([1, 2, 2, 2]))


def test_sections_may_be_given_in_any_order_and_direction():
    turned = (FeederSection("north", "post", "board", 26, "2 m"), SECTIONS[2], TRUNK)
    one, other = (study_board(club(each)).state() for each in (SECTIONS, turned))
    assert other.si.current == pytest.approx(one.si.current, rel=1e-13)
    assert other.si.section_current == pytest.approx(one.si.section_current[[1, 2, 0]] * [-1, 1, 1], rel=1e-13)


def test_a_pair_may_leak_no_more_than_is_left_out():
    plain = Led("plain", "green", ConstantDrop("2 V"), max_current="30 mA")  # leaks nothing
    tight = BoardSignal("home", "post", Load(DRIVE, TwoLeadPair(plain, plain)))
    assert {each.node for each in (tight, leaky(series_diode=diodes["1n4148"]), leaky("0.9 uA"))} == {"post"}


RING = (*SECTIONS, FeederSection("link", "post", "yard", 26, "4 m"))
MANY = [BoardSignal(f"{k}", "post", LOAD) for k in range(1001)]


test_what_is_no_board_is_refused = refused(
    (leaky, "dark green lamp of signal 'home' leaks up to 0.002 mA"),
    (lambda: BoardSignal("home", "post", DRIVE), "load of signal 'home' needs a Load"),
    (lambda: club(RING), "'link' from 'post' to 'yard' closes a ring; open the ring at one place"),
    (lambda: club(SECTIONS[1:]), "'board' of board 'club' is not joined to 'supply'"),
    (lambda: club(SECTIONS[:1]), "node of signal 'home'"),
    (lambda: club((*SECTIONS, SECTIONS[0])), "two are called 'trunk'"),
    (lambda: club(signals=MANY), "signals needs 1 to 1000 signals; you gave 1001"),
    (lambda: club("trunk"), "sections needs a list"),
    (lambda: club(source="12 V"), "source needs"),
    (lambda: club().signal("strater"), "starter"),
    (lambda: FeederSection("trunk", "supply", "supply", 22, "3 m"), "two different nodes"),
    (lambda: FeederSection("trunk", "supply", "board", "thick", "3 m"), "wire needs a cross-section with its unit"),
    (lambda: chain_board("b", TWELVE, LOAD, 2.0, 26, "1 m"), "count needs a whole number"),
    (lambda: along(places={}), "places needs a distance"),
    (lambda: along(places={"terminal strip": "1 m"}), "cannot be called 'terminal strip'"),
    (lambda: along("ring"), "wiring needs one of"),
)


@pytest.mark.parametrize(
    ("wiring", "ways", "metres"),
    [
        (CHAIN, "supply > home 1, home > starter 2, starter > yard 1.5, yard > far 4.5", 9),
        (STAR, "supply > strip 0.5, strip > home 1, strip > starter 3, strip > yard 4.5, strip > far 9", 18),
        (MIXED, "supply > strip 0.5, strip > home 1, home > starter 2, strip > yard 4.5, yard > far 4.5", 12.5),
    ],
)
def test_the_ways_along_a_layout(wiring, ways, metres):
    board = along(wiring)
    found = [f"{each.start} > {each.end} {each.si.length:g}" for each in board.sections]
    assert ", ".join(found).replace("terminal strip", "strip") == ways
    assert board.pair_length.m_as("m") == pytest.approx(metres)


def test_what_one_break_darkens():
    assert [most_lost(along(wiring)) for wiring in WIRINGS] == [4, 1, 2]
    assert (most_lost(bench(LOAD)), most_lost(wired(LOAD, 26, "1 m"))) == (0, 1)


def test_star_keeps_most_light_and_chain_takes_least_wire():
    chain, star, mixed = trials = compare_wirings(TWELVE, LOAD, PLACES, 30)
    assert [each.wiring for each in trials] == list(WIRINGS)
    assert chain.share < mixed.share < star.share
    assert chain.length < mixed.length < star.length
    for trial in trials:
        worst = study_board(trial.board).weakest
        assert (trial.weakest, trial.share) == (worst.name, pytest.approx(worst.share_min))

"""The statements in the prose of "many signals, one adapter" are those of the library."""

from itertools import product

import pytest

from sigcalc.design.board.board import CHAIN, MIXED, WIRINGS, board_along
from sigcalc.design.board.feeder import gauge_for, relay_reach, study_board
from sigcalc.design.board.fuse import check_fuse, choose_fuse, short_at
from sigcalc.design.board.limits import compare_wirings, most_signals
from sigcalc.design.board.state import USUAL_DERATING, USUAL_SHARE
from sigcalc.design.lamp.drive import SEEN, UNSEEN
from sigcalc.errors import DesignError
from sigcalc.lessons.quillhaven import DRIVER, HAND, PLACES, RELAY, SENSITIVE, SOURCES, load, places
from sigcalc.parts.fuse import fuses
from sigcalc.parts.source import adapters
from sigcalc.physics.copper import gauge_area
from tests.notebooks.lesson_text import open_words, says_in

says = says_in("many_signals_one_adapter")
ADAPTER = adapters["12 V regulated"]


def test_a_reader_meets_at_most_900_words_that_are_not_folded_away():
    assert open_words("many_signals_one_adapter") <= 900


def board(make=RELAY, wiring=CHAIN, wire=30, length="12 m", drive="a resistor"):
    return board_along("Quillhaven", ADAPTER, load(ADAPTER, make, drive), places(length), wiring, wire)


def test_the_relay_of_eight_gives_up_while_the_lamp_is_only_a_little_dim():
    says("Now there are eight of them")
    assert len(PLACES) == 8
    says("While the lamp is only a little dim, the relay beside it may no longer pull in")
    study = study_board(board(length="21 m"))
    assert relay_reach(study).short_of
    assert SEEN < study.weakest.share_min < UNSEEN


def test_the_coil_takes_several_times_what_the_lamp_takes():
    says("The coil of a usual relay draws several times as much as its lamp")
    coil = 12 / load(ADAPTER, RELAY).relay.si.coil_resistance
    lamp = study_board(board(HAND)).signal("east home").si.current
    assert 3 < coil / lamp < 6
    says("With hand switches the same thin wire is good enough: nobody sees a difference")
    assert study_board(board(HAND)).weakest.share_min > UNSEEN
    assert study_board(board(RELAY)).weakest.share_min < UNSEEN


def test_chain_star_and_mixed():
    says("the least wire, the most loss")
    says("the least loss, by far the most wire")
    says("loss and wire are in between")
    chain, star, mixed = compare_wirings(ADAPTER, load(ADAPTER, RELAY), places("12 m"), 30)
    assert chain.share < mixed.share < star.share
    assert chain.length < mixed.length < star.length
    assert star.length > 4 * chain.length


def test_a_driver_holds_the_light_and_not_the_relay_and_what_is_seen():
    says("A driver holds its current as long as enough voltage is left for it, and no lamp dims")
    study = study_board(board(length="40 m", drive=DRIVER))
    assert study.weakest.share_min == pytest.approx(1)
    says("That does not help the relay beside it")
    assert relay_reach(study).short_of
    says("A fifth less is not seen from one signal to the next")  # common practice, no source
    assert USUAL_SHARE == 0.8
    says("a third less beside a full lamp is seen at a glance")
    assert pytest.approx(2 / 3, abs=0.01) == SEEN


def test_two_gauges_on_the_copper_grows_by_more_than_half():
    says("From one even gauge number to the next even one the copper grows by more than half")
    assert all(1.5 < gauge_area(gauge - 2) / gauge_area(gauge) < 1.7 for gauge in range(18, 32, 2))
    says("The star needs the thinnest wire")
    gauges = {wiring: gauge_for(board(wiring=wiring), 0.9).gauge for wiring in WIRINGS}
    assert max(gauges, key=gauges.get) == "star"


def test_the_rule_of_about_five():
    says("the small 9 V adapter feeds just about five. That is the assumption behind the rule")
    says("a fifth of the adapter's rating kept in reserve")
    assert USUAL_DERATING == 0.8
    nine = adapters["9 V regulated"]
    counts = {make: most_signals(nine, load(nine, make), 26, "1.5 m") for make in (RELAY, SENSITIVE, HAND)}
    assert (counts[RELAY].count, counts[RELAY].limited_by) == (5, "adapter")  # common practice, no source
    says("With the sensitive relay it is twice as many")
    assert 10 <= counts[SENSITIVE].count <= 12
    says("with hand switches it is not the adapter that sets the end, but the last lamp")
    assert counts[HAND].limited_by == "light"


def test_an_unregulated_adapter_dims_them_all_before_its_rating():
    says("It dims them all, the first one too, and long before its rating is reached")
    source = SOURCES["9 V unregulated, 500 mA"]
    result = most_signals(source, load(source, RELAY), 26, "1.5 m")
    assert result.limited_by == "light"
    assert result.si.current < 0.5 * source.si.max_current
    assert study_board(result.board).signals()[0].share < 0.95


def test_short_circuits():
    says("every signal goes dark or all but dark, however it is wired")
    for wiring, where in product(WIRINGS, ("east home", "west home")):
        assert short_at(board(SENSITIVE, wiring, 24), where).held.share.max() < 0.05
    says("chain, 30 AWG, a layout of 24 m")
    trap = short_at(board(SENSITIVE, CHAIN, 30, "24 m"), "west home")
    says("The adapter does not notice")
    assert trap.free.si.supply_current < ADAPTER.si.max_current
    says("the near signals only dim")
    assert trap.held.share[0] > UNSEEN
    assert trap.dark[-1] == "west home"
    assert len(trap.dark) <= 2
    assert trap.si.current > 4 * 0.144  # of what 30 AWG bears in a bundle, 100.5 circular mils over 700


def test_fuses():
    says("And an adapter of 1 A is not sure to give more than 1 A: a fuse that needs more than that may never act")
    light = board(SENSITIVE, MIXED, 24)
    suits = [check_fuse(light, name).suits for name in ("200 mA resettable", "300 mA resettable", "650 mA resettable")]
    assert suits == [False, True, False]
    says("one that carries all signals needs more current than the adapter is sure to give")
    heavy = board(RELAY, MIXED, 22)
    with pytest.raises(DesignError, match="sure to give 1 A"):
        choose_fuse(heavy)
    says("Each carries two signals only")
    firsts = ("east home", "yard departure", "cattle dock", "west starter")
    assert all(choose_fuse(heavy, at=f"to {first}").suits for first in firsts)
    says("A one-time fuse has less")
    assert fuses["500 mA fast glass"].si.resistance < fuses["500 mA resettable"].si.resistance_min


def test_the_sum_in_the_open_is_of_the_board_that_is_studied_below_it():
    says("10 mA for its lamp, 8 mA for its timer, and what its relay's coil of 288 Ω draws")
    signal = load(ADAPTER, RELAY)
    assert signal.relay.si.coil_resistance == 288
    assert signal.si.standby == 8e-3
    says("Four signals draw through the first 0.72 m of wire, three through the next 1.56 m")
    four = board_along("Quillhaven", ADAPTER, signal, places("12 m", 4), "chain", 30)
    runs = [0.72, 1.56, 1.44, 1.56]
    assert [each.si.length for each in four.sections] == pytest.approx(runs)
    says("The library finds nearly the same")
    each, metre = 18e-3 + 12 / 288, float(four.sections[0].loop_resistance.m_as("ohm")) / 0.72
    left = 12 - each * metre * sum(number * run for number, run in zip((4, 3, 2, 1), runs, strict=True))
    assert study_board(four).signal("engine shed").si.voltage == pytest.approx(left, abs=0.01)
    says("the adapter's own 0.1 Ω")
    assert ADAPTER.si.internal_resistance == 0.1

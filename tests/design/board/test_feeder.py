"""Feeder voltages at the door, boards studied whole, relays, and the thinnest wire that is enough."""

import dataclasses
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc.design.board.board import SUPPLY, Board, BoardSignal, chain_board, star_board
from sigcalc.design.board.feeder import USUAL_GAUGES, feeder_voltages, gauge_for, relay_reach, study_board
from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.lamp.drive import loop_current, operate
from sigcalc.design.power.load import Load
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.fuse import bearable_current
from sigcalc.parts.led import ConstantDrop, Led
from sigcalc.parts.relay import relays
from sigcalc.parts.source import adapters, batteries
from sigcalc.units import Q
from tests.design.board.samples import (
    GREEN,
    NINE,
    PAIR,
    PAIRS,
    RED,
    RESISTOR,
    STIFF,
    TEN,
    TWELVE,
    bench,
    chain,
    loop_ohms,
    star,
    wired,
)
from tests.refusals import refused

FIVE, CELLS = adapters["5 V regulated"], batteries["6 x AA alkaline"]


# ---- the chain at the door


def test_textbook_feeder():
    """V. K. Mehta and Rohit Mehta, Principles of Power System, Ex 13.1 p. 313; exact.

    Companion notebook, FOSSEE/Python-Textbook-Companions @d34b2ae: 300 V, 0.02 ohm per km of loop, 100, 150, 200 and
    50 A at 500, 1000, 1600 and 2000 m.
    """
    amperes = [Q(1e5, "mA"), "150 A", "200 A", "50 A"]
    found = feeder_voltages("300000 mV", Q([0.01, 0.01, 0.012, 0.008], "ohm"), amperes)
    assert found.m_as("V") == pytest.approx([295.0, 291.0, 288.0, 287.6], abs=1e-9)


def test_shapes_of_a_chain():
    assert feeder_voltages("9 V", "0.5 ohm", "20 mA").m_as("V") == pytest.approx(8.99)
    assert feeder_voltages("9 V", ["0.5 ohm"], "20 mA").shape == (1,)
    assert feeder_voltages("9 V", "0.5 ohm", ["20 mA"] * 3).m_as("V") == pytest.approx([8.97, 8.95, 8.94])
    assert feeder_voltages(["9 V", "12 V"], "0.5 ohm", ["20 mA"] * 3).shape == (2, 3)


# ---- a board against what one loop does


@pytest.mark.parametrize(("showing", "led"), [("red", RED), ("green", GREEN)])
@pytest.mark.parametrize("drive", [RESISTOR, ConstantCurrentDrive("8 mA", "1.5 V")], ids=["resistor", "driver"])
def test_one_signal_without_a_feeder_is_a_loop(drive, showing, led):
    point = study_board(bench(Load(drive, PAIR))).signal("one", showing)
    assert point.si.current == pytest.approx(operate("9 V", drive, led).si.current, rel=1e-12)
    assert point.share == 1.0


def test_one_signal_at_the_end_of_a_wire_is_a_loop_with_the_wire():
    board = wired(Load(RESISTOR, [RED, RED]), 30, "40 m")
    point = study_board(board).signal("one")
    alone = operate("9 V", ResistorDrive(Q(470 + loop_ohms(board), "ohm")), [RED, RED])
    assert point.si.current == pytest.approx(alone.si.current, rel=1e-12)
    assert point.share == pytest.approx(alone.si.current / operate("9 V", RESISTOR, [RED, RED]).si.current, rel=1e-12)
    plain = wired(Load(RESISTOR, PLAIN), 30, "20 m")
    assert study_board(plain).signal("one").si.current == pytest.approx(7.0 / (470 + loop_ohms(plain)), rel=1e-12)


def test_the_band_is_that_of_all_tolerances_together():
    point = study_board(bench(Load(RESISTOR, RED), NINE)).signal("one")
    # 5 % of voltage and resistor, 0.1 ohm in the adapter, and the LED's drop
    least, most = loop_current(8.55, 493.6, (RED,), None, +1), loop_current(9.45, 446.6, (RED,), None, -1)
    assert (point.si.current_min, point.si.current_max) == pytest.approx((float(least), float(most)), rel=1e-9)


def test_a_chain_falls_from_signal_to_signal_and_a_driver_keeps_all_alike_until_it_drops_out():
    study = study_board(chain(PAIRS, 8, 30, "3 m"))
    for showing in ("red", "green"):
        currents = [point.si.current for point in study.signals(showing)]
        assert currents == sorted(currents, reverse=True)
    assert study.weakest.name == "signal 8"
    assert all(point.share == 1.0 for point in study_board(chain(TEN, 8, 30, "3 m")).signals("red"))
    far = study_board(chain(Load(ConstantCurrentDrive("20 mA", "1.5 V"), PAIR), 14, 30, "6 m"))
    assert {each.topic: each.grade for each in far.findings}["drop-out"] == LOOK


# ---- standby, coils, polarity, kinds of lamp


def test_standby_coil_and_fuse_load_the_feeder():
    relay = relays["9 V two-pole sensitive"]
    load = Load(RESISTOR, PAIR, standby="5 mA", relay=relay)
    board = dataclasses.replace(wired(load, 30, "20 m"), fuse="100 mA resettable")
    state = study_board(board).state()
    volts, drawn = float(state.si.voltage[0]), state.si.supply_current
    assert drawn == pytest.approx(state.si.current[0] + 0.005 + volts / relay.si.coil_resistance, rel=1e-12)
    assert volts == pytest.approx(9.0 - (loop_ohms(board) + board.fuse.si.resistance) * drawn, rel=1e-12)
    driver = ConstantCurrentDrive("10 mA", "1.5 V", quiescent="2 mA")
    assert study_board(bench(Load(driver, RED))).state().si.supply_current == pytest.approx(0.012, rel=1e-12)


def test_each_signal_shows_its_own_colour_as_set():
    loads = {"stop": PAIRS, "go": Load(RESISTOR, PAIR, polarity=-1), "lamp": Load(RESISTOR, [RED])}
    study = study_board(Board("mixed", STIFF, (), [BoardSignal(name, SUPPLY, load) for name, load in loads.items()]))
    assert [point.colour for point in study.signals()] == ["red", "green", "red"]
    assert [point.colour for point in study.signals("green")] == ["green", "green", "red"]
    assert study.signal("stop").si.current == study.signal("stop", "red").si.current
    assert study.supply_current.m_as("A") == max(each.si.supply_current for each in study.states.values())


# ---- laws


@settings(max_examples=25)
@given(
    st.integers(1, 8), st.floats(0.0, 30.0), st.integers(20, 30), st.sampled_from([batteries["9 V alkaline"], CELLS])
)
def test_energy_and_currents_balance(count, run, gauge, battery):
    state = study_board(chain(Load(RESISTOR, PAIR, standby="1 mA"), count, gauge, Q(run, "m"), battery)).state()
    volts, inside = battery.corners[1]
    drawn = state.si.current + 0.001
    assert state.si.supply_current == pytest.approx(drawn.sum(), rel=1e-12)
    lost = state.si.section_current**2 @ state.board.ohms[1:] + inside * state.si.supply_current**2
    assert volts * state.si.supply_current == pytest.approx(drawn @ state.si.voltage + lost, rel=1e-12)


@settings(max_examples=15)
@given(st.floats(0.0, 20.0), st.floats(1.0, 3.0), st.sampled_from([chain_board, star_board]))
def test_longer_runs_never_give_the_weakest_more(run, factor, make):
    short, long = (study_board(make("b", NINE, PAIRS, 5, 28, Q(each, "m"))) for each in (run, run * factor))
    assert long.weakest.share_min <= short.weakest.share_min * (1 + 1e-12)


# ---- findings


DARK = Load(ResistorDrive("100 ohm"), [RED] * 4)


@pytest.mark.parametrize(
    ("board", "grades"),
    [
        (star(Load(ResistorDrive("1 kohm"), PAIR), 5), {"weakest lamp": FINE, "adapter": FINE}),
        (star(PAIRS, 25), {"weakest lamp": FINE, "adapter": LOOK}),
        (star(PAIRS, 40), {"weakest lamp": FINE, "adapter": STOP}),
        (star(PAIRS, 2, source=CELLS), {"weakest lamp": FINE}),
        (star(Load(ResistorDrive("150 ohm"), PAIR), 2), {"lamp current": STOP}),
        (star(Load(ResistorDrive("260 ohm", 0.05), PAIR), 2), {"lamp current": LOOK}),
        (chain(PAIRS, 8, 30, "15 m"), {"weakest lamp": LOOK}),
        (chain(DARK, 2, 30, "2 m", FIVE), {"weakest lamp": STOP}),
        (dataclasses.replace(star(PAIRS, 16, 30), fuse="100 mA resettable"), {"wire current": LOOK}),
    ],
    ids=["sound", "close", "overloaded", "battery", "too much", "may be too much", "dim", "dark", "wire"],
)
def test_findings(board, grades):
    found = {each.topic: each.grade for each in study_board(board).findings}
    assert found | grades == found
    assert ("adapter" in found) == (board.source != CELLS)


# ---- relays

RELAY = relays["12 V two-pole"]
LAMP = Load(ResistorDrive("1 kohm", 0.05), RED, relay=RELAY)


def test_the_last_of_a_chain_is_worst_off():
    study = study_board(chain(LAMP, 4, 30, "2 m", TWELVE))
    reach = relay_reach(study)
    assert (reach.signal, reach.short_of, reach.findings[0].grade) == ("signal 4", (), FINE)
    # all of a corner moves together; at worst the source is low while the others take the most
    assert reach.si.voltage == study.worst.voltage[3] < min(each.si.voltage[3] for each in study.states.values())
    # Omron G5V-2 data sheet: pulls in at 75 % of 12 V at the most, at its data sheet's 23 °C
    assert reach.si.needed == pytest.approx(9.0)
    fed = dataclasses.replace(LAMP, coil_drop="1 V", coil_drop_max="2 V")
    assert relay_reach(study_board(chain(fed, 4, 30, "2 m", TWELVE))).si.needed == pytest.approx(11.0)
    far = relay_reach(study_board(chain(LAMP, 4, 30, "20 m", TWELVE)))
    assert far.short_of == tuple(f"signal {k}" for k in (2, 3, 4))
    assert far.findings[0].grade == STOP
    assert relay_reach(study_board(bench(PAIRS))) is None


# ---- gauge

BOARD = chain_board("chain", NINE, PAIRS, 8, 30, "2 m", "3 m")
PLAIN = Led("plain", "red", ConstantDrop("2 V"), max_current="30 mA")
BARE, STARVED = Load(ResistorDrive("0 ohm"), PLAIN), Load(RESISTOR, PAIR, standby="400 mA")
MANY = star(PAIRS, 20, 16, "0.5 m", TWELVE)


@pytest.mark.parametrize("share", [0.85, 0.9, 0.95, 0.97])
def test_the_choice_is_enough_and_the_next_thinner_is_not(share):
    choice, shares = gauge_for(BOARD, share), {}
    for gauge in USUAL_GAUGES:
        sections = tuple(dataclasses.replace(each, wire=gauge) for each in BOARD.sections)
        shares[gauge] = study_board(dataclasses.replace(BOARD, sections=sections)).weakest.share_min
    assert choice.gauge == next(gauge for gauge, left in shares.items() if left >= share)
    assert choice.shares == pytest.approx(shares, rel=1e-12)
    assert study_board(choice.board).weakest.share_min == pytest.approx(choice.share, rel=1e-12)


def test_a_gauge_is_chosen_by_light_and_warned_of_by_current_and_strength():
    assert gauge_for(chain(Load(ConstantCurrentDrive("8 mA", "1.5 V"), PAIR), 8, 16, "2 m"), 1.0).gauge == 30
    found = gauge_for(BOARD, 0.96).findings[0]
    assert (found.grade, re.findall(r"\d+ AWG", found.reason)) == (FINE, ["24 AWG", "26 AWG"])
    choice = gauge_for(MANY, 0.5)
    found = {each.topic: each for each in choice.findings}
    assert [found[topic].grade for topic in ("gauge", "wire current", "strength")] == [FINE, LOOK, LOOK]
    gauge = int(found["wire current"].remedy.split()[1])
    assert bearable_current(gauge).m_as("A") >= choice.si.current > bearable_current(gauge + 2).m_as("A")


test_what_is_refused = refused(
    (lambda: study_board(bench(BARE)), "'one' has no resistance"),
    (lambda: study_board(chain(STARVED, 3, 30, "20 m", FIVE)), r"no voltage satisfies signal 'signal \d'.*400 mA"),
    (lambda: study_board("star"), "Board"),
    (lambda: study_board(BOARD).state("amber"), "as set"),
    (lambda: study_board(BOARD).signal("signal 9"), "signal 8"),
    (lambda: gauge_for(BOARD, 0.9999), "no gauge of 30, 28, 26, 24, 22, 20, 18, 16 leaves 99.99 %"),
    (lambda: gauge_for(BOARD, 0.0), "share"),
    (lambda: gauge_for(bench(PAIRS)), "at least one section"),
)

"""A short on the board: its current by hand, what the others show, and the verdicts."""

import numpy as np
import pytest

from sigcalc.design.board.board import SUPPLY, Board, BoardSignal, FeederSection, chain_board, star_board
from sigcalc.design.board.board_state import board_state
from sigcalc.design.board.feeder_short import findings, short_at
from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.load import Load
from sigcalc.errors import RangeError, UnitError, UnknownNameError
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.source import adapters, batteries

PAIR = TwoLeadPair(leds["red alingap 3 mm"], leds["green ingan 3 mm"])
LOAD = Load(ResistorDrive("470 ohm", 0.05), PAIR, standby="3 mA")
ADAPTER = adapters["9 V regulated"]


def grades(short):
    return {each.topic: each.grade for each in findings(short)}


def test_a_short_alone_is_limited_by_source_and_wire():
    tiny = Load(ResistorDrive("1 Mohm"), PAIR)
    wire = FeederSection("run", SUPPLY, "post", 26, "10 m")
    board = Board("one", ADAPTER, (wire,), (BoardSignal("one", "post", tiny),))
    short = short_at(board, "post", "50 mohm")
    expected = 9.0 / (0.1 + wire.loop_resistance.to("ohm").magnitude + 0.05)
    assert short.si.current == pytest.approx(expected, rel=1e-4)  # the lamp still takes a few microamperes
    assert short.si.current_max / short.si.current == pytest.approx(1.05, rel=1e-3)
    assert short.si.current_min / short.si.current == pytest.approx(0.95, rel=1e-3)
    assert short.si.node_voltage == pytest.approx(expected * 0.05, rel=1e-4)


def test_an_adapter_that_holds_its_rating_starves_the_whole_board():
    board = star_board("star", ADAPTER, LOAD, 5, 22, "2 m", "3 m")
    short = short_at(board, "end 3")
    assert short.held.limited
    assert short.held.si.supply_current == pytest.approx(0.5, rel=1e-9)
    assert short.dark == tuple(f"signal {k}" for k in range(1, 6))
    assert short.si.held_current < 0.5 < short.si.current
    assert "dark" in findings(short)[2].reason


def test_behind_thin_wire_the_near_signals_stay_lit():
    short = short_at(chain_board("chain", adapters["12 V regulated"], LOAD, 8, 30, "4 m", "0 m"), "post 8")
    assert short.dark[-1] == "signal 8"
    assert "signal 1" not in short.dark
    assert short.dimmed
    assert "signal 1" not in short.dimmed  # it hangs at the adapter itself, which is not overloaded
    assert short.share[0] > 0.98
    shares = short.share
    assert (np.diff(shares) < 0).all()
    assert grades(short)["wires"] == STOP


def test_without_any_other_cause_nobody_dims():
    # far more wire to the short than to the signals, and a stiff source
    near = FeederSection("near", SUPPLY, "post", 16, "0 m")
    far = FeederSection("far", SUPPLY, "yard", 30, "100 m")
    board = Board("two", adapters["9 V regulated"], (near, far), (BoardSignal("one", "post", LOAD),))
    short = short_at(board, "yard")
    assert short.dark == ()
    assert short.share[0] > 0.99
    assert "No signal goes dark" in findings(short)[2].reason
    # 9 V over some 68 ohm: no more than the adapter gives, so that it will not switch off
    assert grades(short)["source"] == LOOK
    assert short.si.current < 0.5


def test_a_battery_holds_nothing_back():
    short = short_at(star_board("star", batteries["6 x AA alkaline"], LOAD, 3, 22, "2 m"), "board")
    assert short.held is None
    assert short.held_current is None
    volts, inside = batteries["6 x AA alkaline"].corners[1]
    # what little voltage is left still feeds the timer boards a little
    assert short.si.current == pytest.approx(volts / (inside + 0.05), rel=0.01)
    assert findings(short)[0].grade == LOOK
    assert "hot" in findings(short)[0].reason


def test_thick_wires_bear_what_the_adapter_gives():
    short = short_at(star_board("star", ADAPTER, LOAD, 3, 20, "2 m"), "board")
    assert grades(short)["wires"] == FINE


def test_the_currents_add_up():
    board = chain_board("chain", ADAPTER, Load(ResistorDrive("470 ohm"), PAIR), 4, 28, "5 m", "1 m")
    short = short_at(board, "post 2", "1 ohm")
    state = short.free
    through = state.si.node_voltage[board.node_number("post 2")] / 1.0
    assert through == pytest.approx(short.si.current, rel=1e-12)
    assert state.si.supply_current == pytest.approx(state.si.current.sum() + through, rel=1e-12)
    assert (state.si.current < board_state(board).si.current).all()


def test_what_cannot_be_shorted_is_refused():
    board = star_board("star", ADAPTER, LOAD, 2, 22, "2 m")
    with pytest.raises(UnknownNameError, match="end 1"):
        short_at(board, "end 9")
    with pytest.raises(RangeError, match="contact"):
        short_at(board, "board", "0 ohm")
    with pytest.raises(UnitError, match="Board"):
        short_at("star", "board")
    with pytest.raises(UnitError, match="short_at"):
        findings(board)


def test_under_a_hundredth_of_its_light_a_lamp_is_out_and_not_dim():
    """At the shorted post 0.6 % of the light is left: more than the 10 uA at which a lamp counts as lit."""
    short = short_at(chain_board("chain", ADAPTER, LOAD, 4, 20, "1 m"), "post 4")
    little = [each for each, share in zip(short.board.signals, short.share, strict=True) if share < 0.01]
    assert little
    assert {each.name for each in little} <= set(short.dark)
    assert not {each.name for each in little} & set(short.dimmed)

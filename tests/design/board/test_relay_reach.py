"""Whether a board's relays pull in: a sum by hand, and the ends."""

import pytest

from sigcalc.design.board.board import chain_board
from sigcalc.design.board.feeder import study_board
from sigcalc.design.board.relay_reach import findings, relay_reach
from sigcalc.design.power.load import Load
from sigcalc.errors import UnitError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.relay import relays
from sigcalc.parts.source import adapters

ADAPTER = adapters["12 V regulated"]
RELAY = relays["12 V two-pole"]


def study(run, drive=None, relay=RELAY):
    load = Load(drive or ResistorDrive("1 kohm", 0.05), leds["red alingap 3 mm"], relay=relay)
    return study_board(chain_board("chain", ADAPTER, load, 4, 30, run, run))


def test_the_last_of_a_chain_is_worst_off():
    result = study("2 m")
    reach = relay_reach(result)
    assert reach.signal == "signal 4"
    # all of a corner moves together; at worst the source is low while the others take the most
    assert reach.si.voltage == result.worst.voltage[3] < min(each.si.voltage[3] for each in result.states.values())
    # Omron G5V-2 data sheet: pulls in at 75 % of 12 V at the most, at its data sheet's 23 °C
    assert reach.si.needed == pytest.approx(9.0)
    assert reach.short_of == ()
    (finding,) = findings(reach)
    assert (finding.grade, finding.topic) == ("fine", "relays")


def test_a_long_chain_leaves_the_far_ones_off_while_the_near_one_pulls_in():
    reach = relay_reach(study("20 m"))
    assert "signal 4" in reach.short_of
    assert "signal 1" not in reach.short_of
    (finding,) = findings(reach)
    assert finding.grade == "do not build"
    assert "may not pull in" in finding.reason
    assert f"Of all, {len(reach.short_of)} may stay off" in finding.reason


def test_what_feeds_the_coil_counts_with_the_most_it_may_keep():
    load = Load(
        ResistorDrive("1 kohm", 0.05), leds["red alingap 3 mm"], relay=RELAY, coil_drop="1 V", coil_drop_max="2 V"
    )
    reach = relay_reach(study_board(chain_board("chain", ADAPTER, load, 4, 30, "2 m", "2 m")))
    assert (reach.si.needed, reach.si.kept) == (pytest.approx(11.0), 2.0)
    assert "needs 11 V, 2 V of them for the timer that feeds its coil" in findings(reach)[0].reason
    assert "timer" not in findings(relay_reach(study("2 m")))[0].reason


def test_a_warm_coil_needs_more():
    result = study("2 m")
    cold, warm = (relay_reach(result, each).si.needed for each in ("23 degC", "60 degC"))
    # copper, 0.00393 a kelvin at 20 °C
    assert warm / cold == pytest.approx((1 + 0.00393 * 40) / (1 + 0.00393 * 3))


def test_a_driver_for_the_lamp_does_not_help_the_relay():
    lamp = study("12 m", ConstantCurrentDrive("10 mA", "1.5 V"))
    assert lamp.weakest.share == pytest.approx(1)
    assert relay_reach(lamp).short_of


def test_without_relays_there_is_nothing_to_say():
    assert relay_reach(study("2 m", relay=None)) is None
    assert findings(None) == []


def test_what_is_refused():
    with pytest.raises(UnitError, match="study_board"):
        relay_reach("board")
    with pytest.raises(UnitError, match="relay_reach"):
        findings("reach")

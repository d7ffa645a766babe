"""What the lesson "why a resistor" says in words holds in the library: each statement stands in its test."""

import pytest

from sigcalc.design.lamp.direct import connect_directly, connect_to_source, steepness
from sigcalc.panels.why_a_resistor import SOURCES
from sigcalc.parts.led import LIT_FROM, leds
from sigcalc.parts.source import batteries
from tests.notebooks.lesson_text import open_words, says_in

says = says_in("why_a_resistor")
RED = leds["bright red 3 mm"]
BATTERY, COIN = batteries["9 V alkaline"], batteries["3 V coin cell"]


def test_how_steep_and_how_high_the_cliff_is():
    says("On the bend a tenth of a volt makes the current about four times as large.")
    assert steepness(RED, "1.75 V").si.times == pytest.approx(4, abs=0.5)
    says('Between "too dim to see" and "more than its limit" is less than half a volt.')
    assert RED.model.voltage_si(RED.si.max_current) - RED.model.voltage_si(LIT_FROM) < 0.5
    says("And of two LEDs from one bag: their curves are that far apart as well.")
    assert RED.si.drop_below + RED.si.drop_above > 0.1


def test_the_battery_destroys():
    says("pushes far more than ten times the LED's limit through it")
    assert connect_to_source(BATTERY, RED).si.current > 20 * RED.si.max_current
    assert connect_directly(BATTERY, RED).verdict == "destroyed"


def test_the_others_are_worse_save_the_coin_cell():
    says("Six AA cells and the adapters are worse still: they have less resistance inside.")
    ours = connect_to_source(BATTERY, RED).si
    for source in SOURCES.values():
        si = connect_to_source(source, RED).si
        worse = si.current > ours.current and si.internal_resistance < ours.internal_resistance
        assert worse or source in (BATTERY, COIN)
    says("One LED lives with one cell, the next dies with the next")
    assert connect_directly(COIN, RED).verdict == "may survive"
    says("Its voltage is only a little above the LED's drop")
    assert COIN.si.fresh_voltage - RED.model.voltage_si(20e-3) < 1.5


def test_where_the_resistor_is_too_small():
    says("the red LED passes its limit somewhat above 200 Ω")
    assert connect_to_source(BATTERY, RED, "200 ohm").si.current > RED.si.max_current
    assert connect_to_source(BATTERY, RED, "270 ohm").si.current < RED.si.max_current
    says("the panel warns before you are there")
    assert connect_to_source(BATTERY, RED, "270 ohm").si.current_max > RED.si.max_current
    says("a source that is a tenth of a volt stronger hardly matters any more")
    behind, bare = (connect_to_source(BATTERY, RED, ohms).si.added for ohms in ("470 ohm", "0 ohm"))
    assert bare > 50 * behind


def test_the_sum_and_where_it_stops_being_good():
    assert leds.figures("bright red 3 mm")["forward_voltage"].text == "1.9 V"
    assert (BATTERY.si.fresh_voltage, BATTERY.si.internal_resistance) == (9.5, 2.5)
    says("The library finds nearly the same.")
    assert connect_to_source(BATTERY, RED, "470 ohm").si.current == pytest.approx((9.5 - 1.9) / 470, rel=0.01)
    says("The sum says 3.04 A.")
    assert pytest.approx(3.04) == (9.5 - 1.9) / 2.5
    says("says 1.16 A")
    bare = connect_to_source(BATTERY, RED, "0 ohm").si.current
    assert bare == pytest.approx(1.16, abs=0.005)
    says("makes the voltage across it far more than 1.9 V")
    assert RED.model.voltage_si(bare) > 2 * 1.9
    says("The limit of this LED is 30 mA.")
    assert RED.si.max_current == pytest.approx(0.03)
    says("the whole voltage of the battery is across it in reverse, more than its rating")
    assert RED.si.max_reverse_voltage < BATTERY.si.fresh_voltage_min


def test_common_practice_is_said_as_it_is_said_everywhere():
    # common practice, no source
    says("20 mA is the ceiling of a usual LED, not the aim")
    says("the longer lead is plus (the anode)")
    assert 7e-3 < connect_to_source(BATTERY, RED, "1 kohm").si.current < 12e-3
    says("The red LED of the panels is rated for more, others for less")
    assert RED.max_current.m_as("mA") > 20
    assert any(each.max_current.m_as("mA") < 20 for each in leds.values())
    says("which is a little more than its label says while it is fresh")
    assert BATTERY.fresh_voltage.m_as("V") > 9
    assert COIN.fresh_voltage.m_as("V") > 3


def test_the_page_is_short():
    assert open_words("why_a_resistor") <= 900

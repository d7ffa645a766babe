"""Strings of LEDs: mixed models, the spread of bought parts, and the loop they stand in."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.lamp.led_string import as_led, as_string, loop_current, refuse_runaway, string_voltage
from sigcalc.errors import DesignError, UnitError
from sigcalc.parts.led import ConstantDrop, Led, leds

RED, GREEN = leds["red alingap 3 mm"], leds["green gap 3 mm"]
DROP = Led("constant", "red", ConstantDrop("2 V"), "30 mA", drop_below="0.2 V", drop_above="0.5 V")


@given(
    volts=st.floats(0, 60),
    ohms=st.floats(1, 1e6),
    spread=st.floats(-1, 1),
    string=st.sampled_from([(RED,), (DROP,), (RED, GREEN), (DROP, GREEN, DROP)]),
)
def test_supply_is_resistor_plus_string(volts, ohms, spread, string):
    current = float(loop_current(volts, ohms, string, spread=spread))
    total = float(string_voltage(current, string, spread=spread)) + current * ohms
    if current:
        assert total == pytest.approx(volts, rel=1e-9, abs=1e-9)
    else:  # only constant drops hold the current back entirely
        assert volts <= sum(each.model.si.forward_voltage + 0.5 for each in string if each is DROP)


@pytest.mark.parametrize("led", [RED, GREEN, DROP])
@pytest.mark.parametrize("current", [1e-4, 0.01, 0.02])
def test_the_spread_shifts_the_drop_as_the_data_sheet_says(led, current):
    low, typical, high = (float(string_voltage(current, (led,), spread=each)) for each in (-1.0, 0.0, 1.0))
    assert typical - low == pytest.approx(led.si.drop_below)
    assert high - typical == pytest.approx(led.si.drop_above)
    array = string_voltage(current, (led,), spread=np.array([-1.0, 0.0, 1.0]))
    assert array == pytest.approx([low, typical, high])


def test_a_higher_drop_means_less_current():
    currents = loop_current(9.0, 470.0, (RED, GREEN), spread=np.array([-1.0, 0.0, 1.0]))
    assert list(currents) == sorted(currents, reverse=True)


def test_one_lamp_or_a_list_of_them():
    assert as_string(RED) == (RED,)
    assert as_string([RED, GREEN]) == (RED, GREEN)
    assert as_led(RED) is RED


@pytest.mark.parametrize("wrong", ["red", [], [RED, "green"], None, {RED}])
def test_anything_else_is_refused(wrong):
    with pytest.raises(UnitError, match="lamp needs an Led"):
        as_string(wrong, "lamp")


def test_more_refusals():
    with pytest.raises(UnitError, match="red needs one Led, but list came"):
        as_led([RED], "red")
    with pytest.raises(DesignError, match="no limit"):
        loop_current(9.0, np.array([0.0, 470.0]), (DROP,))
    with pytest.raises(DesignError, match="nothing holds"):
        refuse_runaway(np.array([0.01, 1001.0]))
    refuse_runaway(999.0)

"""A little more voltage on an LED and on a resistor."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.lamp.steepness import steepness
from sigcalc.errors import RangeError, UnitError
from sigcalc.parts.led import Exponential, Led, leds

RED = leds["red alingap 3 mm"]


def test_the_resistor_starts_with_the_same_current_and_goes_on_in_a_straight_line():
    si = steepness(RED, "1.75 V").si
    assert si.voltage / si.resistance == pytest.approx(si.current)
    assert si.resistor_after == pytest.approx(si.current * 1.85 / 1.75)
    assert si.resistor_times == pytest.approx(1.85 / 1.75)


def test_without_series_resistance_the_current_grows_by_the_exponential():
    bare = Led("bare", "red", Exponential("1e-20 A", 1.7, "0 ohm", "27 degC"), "30 mA")
    # kT/q at 300.15 K is 25.865 mV (SPICE's 27 °C)
    assert steepness(bare, "1.8 V").si.times == pytest.approx(math.exp(0.1 / (1.7 * 25.865e-3)), rel=2e-4)


@given(led=st.sampled_from(list(leds.values())), volts=st.floats(0.01, 20), step=st.floats(0.01, 2))
def test_an_led_is_always_the_steeper_one(led, volts, step):
    found = steepness(led, f"{volts!r} V", f"{step!r} V")
    si = found.si
    assert found.dark == (led.model.current_si(volts) < 1e-6)
    assert led.model.current_si(si.lit_from) == pytest.approx(10e-6)
    assert si.times > si.resistor_times > 1
    assert si.current_after == pytest.approx(si.times * si.current)


@pytest.mark.parametrize(
    ("voltage", "step", "sentence"),
    [
        ("0 V", "0.1 V", "above 0 V"),
        ("-1 V", "0.1 V", "above 0 V"),
        ("1.8 V", "0 V", "above 0 V"),
    ],
)
def test_what_has_no_answer_is_refused(voltage, step, sentence):
    with pytest.raises(RangeError, match=sentence):
        steepness(RED, voltage, step)


def test_it_takes_one_led():
    with pytest.raises(UnitError, match="led needs an Led"):
        steepness("red", "1.8 V")

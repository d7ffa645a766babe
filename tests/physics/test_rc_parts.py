"""The parts for a wanted time undo the time of the parts."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sigcalc.errors import RangeError
from sigcalc.physics.rc import time_or_never, time_to_trip
from sigcalc.physics.rc_parts import capacitance_for, resistance_for
from tests.physics.answers import anything, keeps_promise

volts = st.floats(0, 20)


@given(st.floats(10, 1e6), st.floats(1e-7, 1e-3), volts, volts, volts, st.floats(1e4, 1e8), st.floats(0, 1e-5))
def test_they_give_back_the_parts(resistance, capacitance, supply, trip, start, leak, current):
    # shares, not voltages, so that the trip is not lost in rounding
    assume(abs(supply - start) > 0.1)
    assume(0.02 < (trip - start) / (supply - start) < 0.98)
    time = time_or_never(resistance, capacitance, supply, trip, start, leak, current)
    assume(np.isfinite(time))
    end = time_or_never(resistance * 1.001, capacitance, supply, trip, start, leak, current)
    assume(end > time * 1.00001)  # nearly all through the leak: the resistor no longer sets the time
    circuit = (supply, trip, start, leak, current)
    assert resistance_for(time, capacitance, *circuit) == pytest.approx(resistance, rel=1e-7)
    assert capacitance_for(time, resistance, *circuit) == pytest.approx(capacitance, rel=1e-9)


def test_without_a_leak_it_is_the_closed_form():
    wanted = np.array([1e-4, 1.0, 20.0])
    np.testing.assert_allclose(resistance_for(wanted, 1e-4, 9.0, 6.0), wanted / (1e-4 * np.log(3)), rtol=1e-13)


def test_a_leak_puts_a_limit_on_the_resistance():
    """At 30 uA out of the capacitor and a trip 3 V below the supply, 100 kilohm would never get there."""
    long = resistance_for([20.0, 100.0, 200.0], 1e-4, 9.0, 6.0, leakage_current=30e-6)
    assert (np.diff(long) > 0).all()
    assert (long < 100e3).all()
    np.testing.assert_allclose(time_to_trip(long, 1e-4, 9.0, 6.0, leakage_current=30e-6), [20, 100, 200], rtol=1e-6)


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        ((20, 1e-4, 9, 9), r"at the limit the trip is never reached"),
        ((20, 1e-4, 9, 10), r"trip must lie between start 0 V and supply 9 V; 10 V came"),
        ((20, 1e-4, 3, 2, 9), r"trip must lie between start 9 V and supply 3 V"),
        ((20, 1e-4, 0, 2, 9, 1e4), r"20 s came, and at the limit it comes to 1.50408 s"),
        ((20, 0, 9, 6), r"it comes to 0 s"),
        ((-20, 1e-4, 9, 6), r"time must be 1e-15 to 1e\+15 s; -20 came"),
    ],
)
def test_refusals_name_the_limit(arguments, sentence):
    with pytest.raises(RangeError, match=sentence):
        resistance_for(*arguments)


def test_no_capacitance_helps_where_the_trip_is_never_reached():
    with pytest.raises(RangeError, match=r"some capacitance gives; 20 s came, and at the limit the trip is never"):
        capacitance_for(20, 1e5, 9, 6, leakage_current=40e-6)
    with pytest.raises(RangeError, match=r"it comes to 0 s"):
        capacitance_for(20, 0, 9, 6)


wild = (
    anything(0, 100),
    anything(0, 1e-3),
    anything(0, 20),
    anything(0, 20),
    anything(0, 20),
    anything(1e3, 1e9),
    anything(0, 1e-3),
)


@given(*wild)
def test_an_answer_or_a_refusal(time, part, supply, trip, start, leak, current):
    assert keeps_promise(resistance_for, time, part, supply, trip, start, leak, current)
    assert keeps_promise(capacitance_for, time, part, supply, trip, start, leak, current)

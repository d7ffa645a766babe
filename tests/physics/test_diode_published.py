"""Published operating points and parameters; each case names its source and the digits printed there.

LIEC is T. R. Kuphaldt, Lessons in Electric Circuits (github.com/vikdotdev/lessons-in-electric-circuits @12a44f4);
"companion" means as a companion notebook in github.com/FOSSEE/Python-Textbook-Companions @d34b2ae.
"""

import numpy as np
import pytest

from sigcalc.physics import diode
from sigcalc.physics.diode_fit import fit_exponential


def through_point(voltage, current, emission_voltage):
    """Saturation current of the resistanceless junction through one point."""
    return current / np.expm1(voltage / emission_voltage)


@pytest.mark.parametrize(
    ("kelvin", "millivolts"),
    # CODATA 2018 exact k and e; printed 25.852, 25.693, 25.865 mV
    [(300.0, 25.852), (298.15, 25.693), (300.15, 25.865)],
)
def test_thermal_voltage(kelvin, millivolts):
    assert diode.thermal_voltage(kelvin) * 1e3 == pytest.approx(millivolts, abs=0.0005)


def test_sedra_smith_iteration():
    # Sedra & Smith, Microelectronic Circuits, Ex 3.4 p.154, companion: 5 V, 1 kohm, a diode with 0.7 V at 1 mA
    # and 0.1 V a decade; printed 4.237 mA and 0.763 V. (FROM MEMORY: the book itself has 0.762 V, rounded on the way.)
    emission = 0.1 / np.log(10.0)
    saturation = through_point(0.7, 1e-3, emission)
    current = diode.loop_current(5.0, 1000.0, saturation, emission)
    assert current * 1e3 == pytest.approx(4.237, abs=0.0005)
    assert diode.exponential_voltage(current, saturation, emission) == pytest.approx(0.763, abs=0.0005)


def test_closed_form_of_banwell_and_jayakumar():
    # Boost.Math example/lambert_w_diode.cpp (commit 6aa9f28) after Electronics Letters 36(4):291-292 (2000);
    # printed I = 0.00108485 A, ln I = -6.82631, and on the way W0 = 10.5225 and the arguments of exp and W
    emission = 1.38e-23 * 298.0 / 1.6e-19
    current = diode.loop_current(0.9, 249.3, 2.5e-14, emission)
    assert current == pytest.approx(0.00108485, abs=0.5e-8)
    assert np.log(current) == pytest.approx(-6.82631, abs=0.5e-5)
    assert (current + 2.5e-14) * 249.3 / emission == pytest.approx(10.5225, abs=0.5e-4)


def test_rectifier_of_one_ampere():
    # LIEC Vol. III ch. 3 "SPICE models": 1 A at 0.925 V, N = 2 and 26 mV go with IS = 18.8 nA (printed 18.8E-9)
    assert diode.exponential_voltage(1.0, 18.8e-9, 2 * 0.026) == pytest.approx(0.925, abs=0.0005)
    assert diode.exponential_current(0.925, 18.8e-9, 2 * 0.026) == pytest.approx(1.0, rel=0.05 / 18.8)


@pytest.mark.parametrize(
    ("volts", "amperes"),
    # LIEC Vol. III ch. 3 comparison table, IS = 18.8 nA, N = 2, RS = 0 at 27 °C, digits as printed. Tolerance
    # 0.2 % and not half a digit: that SPICE had older constants. A kT/q smaller by 3e-5 explains every row.
    [
        (0.7, 0.01416211),
        (0.8002, 0.0982596),
        (0.9, 0.6764928),
        (0.925, 1.09687),
        (1.0, 4.675526),
        (1.1, 32.31452),
    ],
)
def test_spice_rectifier(volts, amperes):
    assert diode.exponential_current(volts, 18.8e-9, 2 * diode.thermal_voltage(300.15)) == pytest.approx(
        amperes, rel=2e-3
    )


@pytest.mark.parametrize(
    ("volts", "amperes"),
    # same table, SPICE's default diode IS = 1e-14, N = 1 at 27 °C; 0.1 % for the same reason
    [(0.7, 0.005674683), (0.8002, 0.2731709)],
)
def test_spice_default_diode(volts, amperes):
    assert diode.exponential_current(volts, 1e-14, diode.thermal_voltage(300.15)) == pytest.approx(amperes, rel=1e-3)


def test_neamen_forward_and_reverse():
    # Neamen, Example 1.5 p.17, companion: IS = 1e-14 A, 26 mV; printed 4.93 mA at 0.7 V and -1e-14 A
    # in reverse
    assert diode.exponential_current(0.7, 1e-14, 0.026) * 1e3 == pytest.approx(4.93, abs=0.005)
    assert diode.exponential_current(-0.7, 1e-14, 0.026) == pytest.approx(-1e-14, rel=1e-9)


@pytest.mark.parametrize("emission", [0.026, 0.052])
def test_boylestad_load_line(emission):
    # Boylestad, Examples 2.1 to 2.3, companion: 10 V, 500 ohm; read off the graph 0.78 V and 18.5 mA
    # (+-0.3 mA). Any junction through that point must be cut there by the load line.
    saturation = through_point(0.78, 18.5e-3, emission)
    current = diode.loop_current(10.0, 500.0, saturation, emission)
    assert current * 1e3 == pytest.approx(18.5, abs=0.3)
    assert diode.exponential_voltage(current, saturation, emission) == pytest.approx(0.78, abs=0.005)


def test_tuttle_practice_problem():
    # G. Tuttle, gtuttle.net practice problems: 7 V, 10 kohm, IS = 6e-15 A, 25.8 mV. Only the inputs are
    # published; 0.634508 mA and 0.654916 V were computed by another solver.
    current = diode.loop_current(7.0, 1e4, 6e-15, 0.0258)
    assert current * 1e3 == pytest.approx(0.634508, abs=5e-7)
    assert diode.exponential_voltage(current, 6e-15, 0.0258) == pytest.approx(0.654916, abs=5e-7)


# github erg0dic/pnjunction @30de1515, led2_2976.txt: red 617 nm LED at 297.6 K, volts printed to 0.1 mV
RED_617_AMPERES = np.array([0.5, 1, 2, 3, 5, 8, 10, 15, 20, 25, 30]) * 1e-3
RED_617_VOLTS = np.array([1.7481, 1.7794, 1.8114, 1.8316, 1.8601, 1.8912, 1.9081, 1.9438, 1.9738, 2.0004, 2.0244])


def test_measured_red_led_fit():
    # scipy's fit of the same model to that file, 0.2 to 30 mA: n = 1.646 (1 %), Rs = 3.582 ohm (3 %), rms 0.61 mV
    # (under 2 mV). The points here are a part of the file; 1 % of n moves Is by half, so its logarithm is compared.
    fit = fit_exponential(RED_617_VOLTS, RED_617_AMPERES, diode.thermal_voltage(297.6))
    assert fit.ideality == pytest.approx(1.646, rel=0.01)
    assert fit.series_resistance == pytest.approx(3.582, rel=0.03)
    assert fit.residual < 2e-3
    assert np.log(fit.saturation_current) == pytest.approx(np.log(5.394e-22), rel=0.01)
    assert fit.assumed == ()
    curve = diode.exponential_voltage(
        RED_617_AMPERES, fit.saturation_current, fit.ideality * diode.thermal_voltage(297.6), fit.series_resistance
    )
    np.testing.assert_allclose(curve, RED_617_VOLTS, atol=3e-3)


def test_student_laboratory_red_led_fit():
    # github byn1002/byn1002.github.io RGB.pdf table 1, volts printed to 0.1 mV, tolerance 5 mV. The
    # reported rms of 1.2 mV is over the whole table; over these six of its rows the least possible is 1.7 mV.
    amperes = np.array([2.0, 6.5, 19.5, 31.6, 42.0, 58.0]) * 1e-3
    volts = np.array([1.6799, 1.7385, 1.7928, 1.8269, 1.8497, 1.8814])
    thermal = diode.thermal_voltage(298.15)
    fit = fit_exponential(volts, amperes, thermal)
    assert fit.residual < 2e-3
    curve = diode.exponential_voltage(amperes, fit.saturation_current, fit.ideality * thermal, fit.series_resistance)
    np.testing.assert_allclose(curve, volts, atol=5e-3)


@pytest.mark.parametrize(
    ("supply", "ohms", "milliamperes", "volts"),
    # parameters from a public SPICE script, figures by ngspice 39.3 at 27 °C (1 mV, 0.1 %)
    [(9.0, 470.0, 15.12, 1.8934), (9.0, 330.0, 21.38, None)],
)
def test_spice_red_led(supply, ohms, milliamperes, volts):
    led = (1e-22, 1.5 * diode.thermal_voltage(300.15), 6.0)
    current = diode.loop_current(supply, ohms, *led)
    assert current * 1e3 == pytest.approx(milliamperes, abs=0.005)
    if volts is not None:
        assert diode.exponential_voltage(current, *led) == pytest.approx(volts, abs=1e-3)


@pytest.mark.parametrize(("amperes", "volts"), [(20e-3, 1.9336), (2e-3, 1.7362)])
def test_spice_red_led_drop(amperes, volts):
    # the same parameters: V_20mA = 1.9336, V_2mA = 1.7362 (ngspice 39.3, .op at 27 °C)
    led = (1e-22, 1.5 * diode.thermal_voltage(300.15), 6.0)
    assert diode.exponential_voltage(amperes, *led) == pytest.approx(volts, abs=0.5e-4)


@pytest.mark.parametrize(
    ("supply", "ohms", "milliamperes", "volts"),
    # the fitted red LED above; scipy brentq; the cases 9/470, 9/1000 and 5/150 agree with ngspice to five digits
    [
        (9, 470, 15.013, 1.9437),
        (9, 330, 21.27, 1.9808),
        (9, 680, 10.424, 1.9119),
        (9, 1000, 7.116, 1.8839),
        (12, 470, 21.317, 1.9811),
        (12, 1000, 10.091, 1.9093),
        (5, 150, 20.169, 1.9747),
        (5, 330, 9.383, 1.9037),
        (6, 220, 18.345, 1.9641),
        (9, 3300, 2.177, 1.8162),
    ],
)
def test_measured_red_led_with_a_resistor(supply, ohms, milliamperes, volts):
    led = (5.394e-22, 1.646 * diode.thermal_voltage(273.15 + 24.45), 3.582)
    current = diode.loop_current(supply, ohms, *led)
    assert current * 1e3 == pytest.approx(milliamperes, abs=0.0005 if milliamperes != 21.27 else 0.005)
    assert diode.exponential_voltage(current, *led) == pytest.approx(volts, abs=0.5e-4)


@pytest.mark.parametrize(
    ("milliamperes", "millivolts_per_kelvin"),
    # github erg0dic/pnjunction @30de1515, led2_*.txt, straight lines over 297.6 to 370.6 K
    [(1, -1.80), (2, -1.71), (5, -1.67), (10, -1.72), (20, -1.87)],
)
def test_measured_fall_of_the_drop_with_temperature(milliamperes, millivolts_per_kelvin):
    """One gap, set at 10 mA, foretells the fall at the other currents to 0.3 mV/K.

    No tighter: with ideality and series resistance held fixed the model's fall shrinks steadily as
    the current grows, by n k/q ln(I2/I1), while the measured one is least in the middle. The
    real LED's series resistance falls with temperature too, which shows at 20 mA, and at 1 mA
    another current path with another ideality counts.
    """
    saturation, emission, series = 5.394e-22, 1.646 * diode.thermal_voltage(297.6), 3.582  # the fit above
    cold, warm = 297.6, 370.6
    gap = diode.effective_energy_gap(emission * np.log(10e-3 / saturation), -1.72e-3, cold)
    current = milliamperes * 1e-3
    after = diode.saturation_current_at(warm, saturation, 1.646, gap, cold)
    fall = (
        diode.exponential_voltage(current, after, 1.646 * diode.thermal_voltage(warm), series)
        - diode.exponential_voltage(current, saturation, emission, series)
    ) / (warm - cold)
    assert fall * 1e3 == pytest.approx(millivolts_per_kelvin, abs=0.3)

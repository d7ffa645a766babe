"""The three parameters of a diode fitted to points: a measured LED, known curves, noise, priors, and refusals."""

import numpy as np
import pytest

from sigcalc.errors import RangeError
from sigcalc.physics import diode
from sigcalc.physics.diode_fit import fit_exponential

THERMAL = 0.02585
PRIORS = {"ideality_prior": (2.0, 0.4), "series_resistance_prior": (5.0, 3.0)}


def red_points(amperes):
    return diode.exponential_voltage(amperes, 1e-22, 1.6 * THERMAL, 4.0)


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


def test_fit_recovers_the_curve_it_was_given():
    thermal = diode.thermal_voltage(300.0)
    # the last so near its saturation current that the 1 in the logarithm counts
    for saturation, ideality, series in [(1e-22, 1.6, 4.0), (1e-12, 3.0, 0.0), (1e-9, 1.9, 0.04), (3e-7, 1.2, 0.5)]:
        current = np.logspace(-6 if saturation > 1e-8 else -4, -1.5, 25)
        volts = diode.exponential_voltage(current, saturation, ideality * thermal, series)
        fit = fit_exponential(volts, current, thermal)
        assert fit.ideality == pytest.approx(ideality, rel=1e-8)
        assert fit.series_resistance == pytest.approx(series, abs=1e-7)
        assert np.log(fit.saturation_current) == pytest.approx(np.log(saturation), rel=1e-8)
        assert fit.residual < 1e-10


def test_one_point_leaves_the_priors_and_passes_through_the_point():
    fit = fit_exponential([2.0], [0.02], THERMAL, **PRIORS)
    assert fit.ideality == pytest.approx(2.0)
    assert fit.series_resistance == pytest.approx(5.0)
    assert fit.spreads[1] == pytest.approx(0.4)
    assert fit.spreads[2] == pytest.approx(3.0)
    assert fit.residual is None
    assert fit.assumed == ("ideality", "series_resistance")
    volts = diode.exponential_voltage(0.02, fit.saturation_current, fit.ideality * THERMAL, fit.series_resistance)
    assert volts == pytest.approx(2.0, abs=1e-12)


def test_two_points_and_one_known_resistance():
    current = np.array([0.002, 0.02])
    fit = fit_exponential(
        red_points(current), current, THERMAL, voltage_spread=1e-6, series_resistance_prior=(4.0, 1e-3)
    )
    assert fit.assumed == ("series_resistance",)
    assert fit.ideality == pytest.approx(1.6, rel=1e-6)


def test_priors_do_not_pull_plenty_of_points():
    current = np.array([0.0005, 0.002, 0.01, 0.03])
    free = fit_exponential(red_points(current), current, THERMAL)
    held = fit_exponential(red_points(current), current, THERMAL, ideality_prior=(5.0, 1e-6))
    assert held.ideality == free.ideality == pytest.approx(1.6, rel=1e-8)
    assert held.assumed == ()


def test_the_spreads_cover_the_truth_over_many_noisy_measurements():
    random = np.random.default_rng(5)
    current = np.logspace(-4, -1.5, 12)
    ideality, series, logarithm = [], [], []
    for _ in range(300):
        volts = red_points(current) + random.normal(0.0, 1e-3, current.size)
        fit = fit_exponential(volts, current, THERMAL)
        ideality.append((fit.ideality - 1.6) / fit.spreads[1])
        series.append((fit.series_resistance - 4.0) / fit.spreads[2])
        logarithm.append((np.log(fit.saturation_current) - np.log(1e-22)) / fit.spreads[0])
    for scores in (ideality, series, logarithm):
        assert abs(np.mean(scores)) < 0.2  # three standard errors of the mean of 300
        assert 0.75 < np.std(scores) < 1.15  # a little low: a larger scatter widens the spreads, a smaller one does not


def test_weights_count():
    current = np.array([0.0005, 0.002, 0.01, 0.03, 0.03])
    volts = red_points(current)
    volts[-1] += 0.1
    fit = fit_exponential(volts, current, THERMAL, voltage_spread=[1e-3, 1e-3, 1e-3, 1e-3, 1e3])
    assert fit.ideality == pytest.approx(1.6, rel=1e-4)


def test_resistance_never_comes_out_negative():
    current = np.array([0.001, 0.003, 0.01, 0.03])
    curved_down = diode.exponential_voltage(current, 1e-22, 1.6 * THERMAL, 0.0) - 2.0 * current
    assert fit_exponential(curved_down, current, THERMAL).series_resistance == 0.0


@pytest.mark.parametrize(
    ("voltage", "current", "sentence"),
    [
        ([2.0], [0.02], "three different currents or priors"),
        ([2.0, 2.0, 2.0], [0.02, 0.02, 0.02], "three different currents or priors"),
        ([0.001, 0.001, 0.001], [0.01, 0.02, 0.03], "do not lie on a diode's curve"),
    ],
)
def test_points_that_tell_nothing_are_refused(voltage, current, sentence):
    with pytest.raises(RangeError, match=sentence):
        fit_exponential(voltage, current, THERMAL)

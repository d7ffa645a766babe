"""The same figures by other ways: mpmath with 60 digits, scipy's Lambert W and roots, pvlib's single-diode solver."""

import mpmath
import numpy as np
import pytest
from pvlib.singlediode import _lambertw_i_from_v
from scipy.optimize import brentq
from scipy.special import lambertw

from sigcalc.physics import diode
from sigcalc.physics.diode_fit import fit_exponential

FIRST, LAST = 1e-12, 10.0
"""In A: forward currents between these are promised to 1e-12 of themselves."""


def exact(supply, ohms, *leds):
    """Current in A and least saturation current, from the loop equation itself with 60 digits."""
    with mpmath.workdps(60):
        v, r = mpmath.mpf(float(supply)), mpmath.mpf(float(ohms))
        least = min(float(led[0]) for led in leds)
        shares = [(mpmath.mpf(least) / mpmath.mpf(float(s)), mpmath.mpf(float(n))) for s, n in leds]
        u = mpmath.mpf(0) if v < 0 else v / min(n for _, n in shares)
        if v > 0 and r > 0:
            u = min(u, mpmath.log1p(v / r / least))
        for _ in range(5000):
            e = mpmath.exp(u)
            drop = sum(n * mpmath.log(1 - share + share * e) for share, n in shares) + r * least * (e - 1) - v
            slope = sum(n * share * e / (1 - share + share * e) for share, n in shares) + r * least * e
            u -= drop / slope
            if abs(drop / slope) < mpmath.mpf(10) ** -45 * max(1, abs(u)):
                return least * mpmath.expm1(u), least
    raise AssertionError("the reference itself did not settle")


def domain(count, seed):
    """Random loops over the whole promised domain: supply, resistance, saturation current, emission voltage."""
    random = np.random.default_rng(seed)
    return (
        np.where(
            random.random(count) < 0.7,
            random.uniform(-20.0, 60.0, count),
            random.choice([-1.0, 1.0], count) * 10.0 ** random.uniform(-12.0, 0.0, count),
        ),
        10.0 ** random.uniform(-3.0, 7.0, count),
        10.0 ** random.uniform(-34.0, -6.0, count),
        random.uniform(0.02, 0.15, count),
    )


def errors(currents, supplies, references):
    """Relative errors of the forward currents that are promised, and errors of the rest in saturation currents."""
    forward, other = [], []
    for current, supply, (reference, least) in zip(currents, supplies, references, strict=True):
        error = abs(mpmath.mpf(float(current)) - reference)
        if supply > 0 and FIRST <= reference <= LAST:
            forward.append(float(error / reference))
        elif supply <= 0:
            other.append(float(error / least))
    return np.array(forward), np.array(other)


def test_loop_current_against_sixty_digits():
    supply, ohms, saturation, emission = domain(4000, seed=20)
    current = diode.loop_current(supply, ohms, saturation, emission)
    references = [exact(v, r, (s, n)) for v, r, s, n in zip(supply, ohms, saturation, emission, strict=True)]
    forward, other = errors(current, supply, references)
    assert forward.size > 1000
    assert other.size > 1000
    assert forward.max() < 1e-12
    assert other.max() < 1e-12


def test_loop_current_far_below_the_saturation_current():
    # where I is a millionth of Is, the closed form as printed would lose ten of its sixteen digits in "- Is"
    current = np.logspace(-12, -9, 40)
    for saturation in (1e-8, 1e-6):
        supply = diode.exponential_voltage(current, saturation, 0.05) + 1e4 * current
        for found, volts in zip(diode.loop_current(supply, 1e4, saturation, 0.05), supply, strict=True):
            reference, _ = exact(volts, 1e4, (saturation, 0.05))
            assert abs(found - reference) < 1e-12 * reference


@pytest.mark.parametrize("emission", [1e-6, 1e-3, 0.02, 0.15, 1.5, 40.0])
@pytest.mark.parametrize("ohms", [0.0, 1e-3, 1.0, 470.0, 1e7])
def test_emission_voltages_from_a_millionth_of_a_volt_to_a_long_string(emission, ohms):
    volts = np.array([-20.0, -1.0, -1e-6, 1e-6, 1e-3, 0.5, 3.0, 60.0])
    if ohms == 0.0:
        volts = volts[volts < 200.0 * emission]
    saturation = 1e-20
    for found, v in zip(diode.loop_current(volts, ohms, saturation, emission), volts, strict=True):
        reference, _ = exact(v, ohms, (saturation, emission))
        assert abs(found - reference) < 1e-12 * (abs(reference) if v > 0 else saturation)


@pytest.mark.parametrize("count", [2, 3])
def test_string_current_against_sixty_digits(count):
    size = 600
    supply, ohms, _, _ = domain(size, seed=count)
    random = np.random.default_rng(count)
    saturation = 10.0 ** random.uniform(-34.0, -6.0, (count, size))
    saturation[1, ::5] = saturation[0, ::5]  # equal in some elements only
    saturation[1, 1::5] = saturation[0, 1::5] * (1.0 + 1e-9)
    emission = random.uniform(0.02, 0.15, (count, size))
    current = diode.string_current(supply, ohms, [(s, n, 0.0) for s, n in zip(saturation, emission, strict=True)])
    references = [
        exact(supply[place], ohms[place], *zip(saturation[:, place], emission[:, place], strict=True))
        for place in range(size)
    ]
    forward, other = errors(current, supply, references)
    assert forward.size > 150
    assert other.size > 150
    assert forward.max() < 1e-12
    assert other.max() < 1e-12


def test_loop_current_against_lambert_w():
    supply, ohms, saturation, emission = domain(4000, seed=7)
    argument = saturation * ohms / emission
    with np.errstate(over="ignore"):
        argument = argument * np.exp((supply + saturation * ohms) / emission)
    kept = np.isfinite(argument) & (supply > 0)
    argument, (supply, ohms, saturation, emission) = (
        argument[kept],
        (each[kept] for each in (supply, ohms, saturation, emission)),
    )
    closed = emission / ohms * lambertw(argument).real - saturation
    current = diode.loop_current(supply, ohms, saturation, emission)
    assert current.size > 500
    # the exponential in the plain form is wrong by its exponent's rounding, up to 700 times the unit in the last place,
    # and "- Is" loses digits where the current is not above Is
    assert (np.abs(current - closed) <= 1e-12 * (closed + 1e3 * saturation)).all()


@pytest.mark.parametrize(
    ("supply", "ohms", "led"),
    [
        (9.0, 470.0, (1e-20, 0.05, 3.0)),
        (60.0, 1e7, (1e-34, 0.02, 0.0)),
        (1.5, 1.0, (1e-8, 0.04, 0.5)),
        (-5.0, 100.0, (1e-9, 0.05, 2.0)),
    ],
)
def test_loop_current_against_root_finding(supply, ohms, led):
    saturation, emission, series = led
    total = ohms + series

    def excess(volts):
        return saturation * np.expm1(volts / emission) - (supply - volts) / total

    top = min(max(supply, 0.0), 700.0 * emission)
    junction = brentq(excess, min(supply, 0.0), top, xtol=1e-15, rtol=1e-15)
    assert diode.loop_current(supply, ohms, *led) == pytest.approx(saturation * np.expm1(junction / emission), rel=1e-9)


def test_exponential_current_against_pvlib():
    # pvlib counts a solar cell's current outwards and adds the light's current; in the dark it is a diode, turned round
    random = np.random.default_rng(3)
    size = 500
    volts = random.uniform(-5.0, 4.0, size)
    saturation = 10.0 ** random.uniform(-20.0, -6.0, size)
    emission, series = random.uniform(0.03, 0.15, size), 10.0 ** random.uniform(-1.0, 3.0, size)
    theirs = -_lambertw_i_from_v(volts, 0.0, saturation, series, np.inf, emission)
    ours = diode.exponential_current(volts, saturation, emission, series)
    np.testing.assert_allclose(ours, theirs, rtol=1e-9, atol=1e-20)


def test_fit_recovers_the_curve_it_was_given():
    thermal = diode.thermal_voltage(300.0)
    current = np.logspace(-4, -1.5, 25)
    for saturation, ideality, series in [(1e-22, 1.6, 4.0), (1e-12, 3.0, 0.0), (1e-9, 1.9, 0.04)]:
        volts = diode.exponential_voltage(current, saturation, ideality * thermal, series)
        fit = fit_exponential(volts, current, thermal)
        assert fit.ideality == pytest.approx(ideality, rel=1e-8)
        assert fit.series_resistance == pytest.approx(series, abs=1e-7)
        assert np.log(fit.saturation_current) == pytest.approx(np.log(saturation), rel=1e-8)
        assert fit.residual < 1e-10

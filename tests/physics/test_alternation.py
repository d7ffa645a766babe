"""The pair on AC and on quick alternation, against published figures, quadrature and energy balance."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import wrightomega

from sigcalc.errors import RangeError
from sigcalc.physics.alternation import LIT_CURRENT, half_cycle, half_cycle_of, seen_together
from sigcalc.physics.photometry import chromaticity, mix
from tests.physics.answers import anything, keeps_promise

volts, ohms, drops = st.floats(2, 50), st.floats(50, 1e4), st.floats(0, 5)


def exponential(resistance, saturation=1e-18, emission=2 * 0.025852):
    """Current of resistance and exponential LED in series, by scipy's Wright omega."""

    def current(voltage):
        scale = saturation * resistance / emission
        return emission / resistance * wrightomega(np.log(scale) + voltage / emission + scale).real - saturation

    return current


def test_published_lamp_on_twenty_volts():
    """Malvino & Bates, ex. 5-14: 20 V rms, 680 ohm, the drop neglected: 41.6 mA peak, 13.2 mA mean, 0.59 W.

    The 0.59 W are the resistor's with both half cycles flowing, through the lamp one way and a diode the other way.
    """
    lamp = half_cycle(20, 680, 0)
    assert lamp.peak_current * 1e3 == pytest.approx(41.6, abs=0.05)
    assert lamp.mean_current * 1e3 == pytest.approx(13.2, abs=0.05)
    assert 680 * 2 * lamp.rms_current**2 == pytest.approx(0.59, abs=0.005)


def test_what_neglecting_the_drop_hides():
    """The same lamp with a red LED's 2 V: about a tenth less mean current."""
    assert half_cycle(20, 680, 2).mean_current / half_cycle(20, 680, 0).mean_current == pytest.approx(0.89, abs=0.01)


def test_published_pair_on_twenty_four_volts():
    """Kuphaldt, vol. III ch. 3: 24 V AC, 1120 ohm, lamps of 1.6 V: 20 mA, in effective values."""
    pair = half_cycle(24, 1120, [1.6, 1.6])
    assert np.hypot(*pair.rms_current) * 1e3 == pytest.approx(20, abs=0.5)


def test_independent_closed_form_without_a_drop():
    """Half-wave rectified sine: mean peak / pi, rms peak / 2."""
    lamp = half_cycle(1 / np.sqrt(2), 1, 0)
    assert (lamp.mean_current, lamp.rms_current, lamp.peak_current) == pytest.approx((1 / np.pi, 0.5, 1))


@given(volts, ohms, drops)
def test_independent_quadrature_of_a_constant_drop(voltage, resistance, drop):
    """scipy's adaptive quadrature over the conducting angle."""
    peak = voltage * np.sqrt(2)
    assume(drop < 0.95 * peak)
    onset = float(np.arcsin(drop / peak))
    mean, square = (
        quad(lambda angle: ((peak * np.sin(angle) - drop) / resistance) ** power, onset, np.pi / 2)[0] / np.pi  # noqa: B023
        for power in (1, 2)
    )
    lamp = half_cycle(voltage, resistance, drop)
    assert lamp.mean_current == pytest.approx(mean, rel=1e-9)
    assert lamp.rms_current == pytest.approx(np.sqrt(square), rel=1e-9)


@given(volts, ohms)
def test_independent_quadrature_of_an_exponential_lamp(voltage, resistance):
    """scipy's adaptive quadrature, its interval cut at the knee."""
    current, peak = exponential(resistance), voltage * np.sqrt(2)
    cuts = sorted(float(np.arcsin(min(knee / peak, 1))) for knee in (1.2, 1.5, 1.7, 1.9))
    mean = quad(lambda angle: current(peak * np.sin(angle)), 0, np.pi / 2, points=cuts, epsrel=1e-11, limit=500)[0]
    assert half_cycle_of(current, voltage).mean_current == pytest.approx(mean / np.pi, rel=2e-7)


@given(volts, ohms, drops)
def test_quadrature_and_closed_form_agree(voltage, resistance, drop):
    exact = half_cycle(voltage, resistance, drop)
    summed = half_cycle_of(lambda v: np.maximum(v - drop, 0) / resistance, voltage)
    for name in ("mean_current", "rms_current", "peak_current"):
        largest = voltage * np.sqrt(2) / resistance
        assert getattr(summed, name) == pytest.approx(getattr(exact, name), rel=1e-5, abs=5e-6 * largest)
    assert summed.lit_share == pytest.approx(exact.lit_share, abs=1e-9)


@given(volts, ohms, drops)
def test_energy_balances(voltage, resistance, drop):
    """What the supply gives in this half cycle is what lamp and resistor take."""
    peak = voltage * np.sqrt(2)
    lamp = half_cycle(voltage, resistance, drop)
    ratio = min(drop / peak, 1)
    onset = np.arcsin(ratio)
    given_out = peak**2 / resistance * ((np.pi - 2 * onset) / 2 - ratio * np.cos(onset)) / (2 * np.pi)
    taken = drop * lamp.mean_current + resistance * lamp.rms_current**2
    assert taken == pytest.approx(given_out, rel=1e-9, abs=1e-12 * peak**2 / resistance)


@given(volts, ohms, drops, st.floats(1.01, 3))
def test_more_resistance_never_means_more_current(voltage, resistance, drop, factor):
    less, more = half_cycle(voltage, resistance, drop), half_cycle(voltage, resistance * factor, drop)
    assert (np.array(more) <= np.array(less)).all()
    assert less.mean_current <= less.rms_current <= less.peak_current


def test_a_supply_below_the_drop_lights_nothing():
    assert half_cycle(1.2, 100, 2.0) == (0, 0, 0, 0)
    assert half_cycle(0, 100, 0.0) == (0, 0, 0, 0)
    dark = half_cycle_of(exponential(100), 0.5)
    assert dark.lit_share == 0
    assert dark.peak_current < LIT_CURRENT


def test_several_supplies_and_lamps_at_once():
    voltage, resistance = np.array([[6.0], [12.0], [24.0]]), np.array([470.0, 1000.0])
    together = half_cycle_of(exponential(resistance), np.broadcast_to(voltage, (3, 2)))
    assert together.mean_current.shape == (3, 2)
    assert together.mean_current[1, 0] == pytest.approx(half_cycle_of(exponential(470.0), 12.0).mean_current)


def test_a_function_that_gives_no_current_is_refused():
    with pytest.raises(RangeError, match="answers the forward current"):
        half_cycle_of(lambda voltage: voltage * np.nan, 12)


def test_published_mixed_colour():
    """colour-science 0.4.7: 525 nm and 625 nm, equal light: x, y 0.5447, 0.4394, which is a yellow (587 nm)."""
    seen = seen_together([5e-3, 5e-3], [625e-9, 525e-9])
    assert (seen.x, seen.y) == pytest.approx((0.5447, 0.4394), abs=5e-5)
    assert seen.shares == pytest.approx([0.5, 0.5])
    assert seen.word == "yellow"


def test_more_time_for_red_turns_the_mixture_from_green_to_red():
    duty = np.array([0, 0.25, 0.5, 0.75, 1])
    seen = seen_together(10e-3 * np.stack([duty, 1 - duty], axis=-1), [625e-9, 525e-9])
    assert seen.word.tolist() == ["green", "yellow-green", "yellow", "orange", "red"]


@given(st.floats(0, 10), st.floats(1e-3, 10))
def test_shares_sum_to_one(first, second):
    assert seen_together([first, second], [625e-9, 525e-9]).shares.sum() == pytest.approx(1)


@given(st.floats(0.01, 0.99), st.floats(1e-3, 10))
def test_the_mixture_is_that_of_the_mean_lights(duty, second):
    seen = seen_together([duty, second * (1 - duty)], [625e-9, 525e-9])
    assert (seen.x, seen.y) == pytest.approx(mix(chromaticity([625e-9, 525e-9]), [duty, second * (1 - duty)]))


def test_lamps_in_the_dark_mix_to_nothing():
    with pytest.raises(RangeError, match="light one lamp"):
        seen_together([0, 0], [625e-9, 525e-9])


@given(anything(0, 1e3), anything(1e-3, 1e9), anything(0, 1e3))
def test_half_cycles_keep_the_promise(voltage, resistance, drop):
    assert keeps_promise(half_cycle, voltage, resistance, drop)
    assert keeps_promise(half_cycle_of, exponential(1000.0), voltage)


@given(anything(0, 1e6), anything(360e-9, 830e-9))
def test_light_keeps_the_promise(intensities, wavelengths):
    assert keeps_promise(seen_together, intensities, wavelengths)

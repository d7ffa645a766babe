"""Laws that every diode must keep, the promise on bad input, and the parameters fitted to points."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError
from sigcalc.physics import diode
from sigcalc.physics.diode_fit import fit_exponential
from tests.physics.answers import anything, keeps_promise

RED = (5e-22, 0.042, 3.6)
GREEN = (1e-28, 0.05, 20.0)
TRUE_LOOPS = {
    "supply": st.floats(-20.0, 60.0),
    "resistance": st.floats(1e-3, 1e7),
    "saturation": st.floats(-34.0, -6.0).map(lambda power: 10.0**power),
    "emission": st.floats(0.02, 0.15),
    "series": st.floats(0.0, 100.0),
}


def loops(count, seed=1):
    random = np.random.default_rng(seed)
    return (
        random.uniform(-20.0, 60.0, count),
        10.0 ** random.uniform(-3.0, 7.0, count),
        10.0 ** random.uniform(-34.0, -6.0, count),
        random.uniform(0.02, 0.15, count),
    )


# ---- one LED in a loop


@given(**TRUE_LOOPS)
def test_voltages_sum_to_the_supply(supply, resistance, saturation, emission, series):
    current = diode.loop_current(supply, resistance, saturation, emission, series)
    assert current >= -saturation
    if current > -0.999 * saturation:  # further down the voltage hangs on digits of the current that are not there
        drops = diode.exponential_voltage(current, saturation, emission, series) + current * resistance
        assert drops == pytest.approx(supply, rel=1e-12, abs=1e-12 * emission)
    else:
        assert supply < 0


@given(**TRUE_LOOPS, more=st.floats(1.0, 1e3))
def test_more_resistance_never_means_more_current(supply, resistance, saturation, emission, series, more):
    little = diode.loop_current(supply, resistance, saturation, emission, series)
    much = diode.loop_current(supply, resistance * more, saturation, emission, series)
    assert abs(much) <= abs(little) * (1.0 + 1e-13)


@given(**TRUE_LOOPS, more=st.floats(0.0, 10.0))
def test_more_voltage_never_means_less_current(supply, resistance, saturation, emission, series, more):
    less = diode.loop_current(supply, resistance, saturation, emission, series)
    great = diode.loop_current(supply + more, resistance, saturation, emission, series)
    assert great >= less - 1e-13 * abs(less)


@given(**TRUE_LOOPS)
def test_zero_supply_gives_exactly_zero(supply, resistance, saturation, emission, series):  # noqa: ARG001
    assert diode.loop_current(0.0, resistance, saturation, emission, series) == 0.0
    assert diode.loop_current(-0.0, resistance, saturation, emission, series) == 0.0


@given(**TRUE_LOOPS)
def test_a_great_resistance_leaves_ohms_law(supply, resistance, saturation, emission, series):
    # near zero the LED itself is a resistance, emission voltage over saturation current
    tiny = supply * 1e-9 * emission
    current = diode.loop_current(tiny, resistance, saturation, emission, series)
    assert current == pytest.approx(tiny / (resistance + series + emission / saturation), rel=1e-6)
    assert abs(diode.loop_current(supply, 1e60, saturation, emission)) <= abs(supply) * 1.000001e-60


def test_without_resistance_it_is_the_plain_exponential():
    volts = np.linspace(-2.0, 2.5, 50)
    np.testing.assert_allclose(diode.loop_current(volts, 0.0, 1e-20, 0.05), 1e-20 * np.expm1(volts / 0.05), rtol=1e-13)


def test_without_resistance_a_supply_beyond_numbers_is_refused():
    with pytest.raises(RangeError, match="too little resistance"):
        diode.loop_current(60.0, 0.0, 1e-20, 0.05)
    assert np.isfinite(diode.loop_current(60.0, 1e-3, 1e-34, 0.02))


def test_the_inverse_of_the_voltage():
    current = np.concatenate([-np.logspace(-25, -22, 7), [0.0], np.logspace(-12, 1, 50)])
    volts = diode.exponential_voltage(current, *RED)
    np.testing.assert_allclose(diode.exponential_current(volts, *RED), current, rtol=1e-12, atol=1e-12 * RED[0])


@pytest.mark.parametrize("shape", [(), (3,), (4, 3), (2, 4, 3), (0,), (5, 0, 3)])
def test_shapes_broadcast(shape):
    volts = np.full(shape, 9.0)
    assert diode.loop_current(volts, 470.0, *RED).shape == shape
    assert diode.loop_current(volts, np.ones(3) if shape[-1:] == (3,) else 1.0, *RED).shape == shape
    assert diode.string_current(volts, 470.0, [RED, GREEN]).shape == shape


def test_broadcasting_equals_element_by_element():
    supply, ohms, saturation, emission = loops(60)
    table = diode.loop_current(supply[:, None], ohms, saturation, emission)
    string = diode.string_current(supply[:, None], ohms, [(saturation, emission, 0.0), GREEN])
    for row in range(0, 60, 7):
        for column in range(0, 60, 11):
            one = saturation[column], emission[column]
            alone = diode.loop_current(supply[row], ohms[column], *one)
            np.testing.assert_allclose(table[row, column], alone, rtol=1e-13)
            alone = diode.string_current(supply[row], ohms[column], [(*one, 0.0), GREEN])
            np.testing.assert_allclose(string[row, column], alone, rtol=1e-12)


# ---- refusals


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        ((np.nan, 1.0, 1e-20, 0.05, 0.0), "supply"),
        ((9.0, -1.0, 1e-20, 0.05, 0.0), "resistance"),
        ((9.0, np.inf, 1e-20, 0.05, 0.0), "resistance"),
        ((9.0, 1.0, 0.0, 0.05, 0.0), "saturation_current"),
        ((9.0, 1.0, 1e-20, 0.0, 0.0), "emission_voltage"),
        ((9.0, 1.0, 1e-20, np.inf, 0.0), "emission_voltage"),
        ((9.0, 1.0, 1e-20, 0.05, -2.0), "series_resistance"),
        (("9 V", 2.0, 1e-20, 0.05, 1.0), "supply"),
    ],
)
@pytest.mark.parametrize("rows", [False, True])
def test_the_sentence_names_the_argument(arguments, named, rows):
    if rows and not isinstance(arguments[0], str):
        arguments = [
            np.array([usual, stray]) for usual, stray in zip((9.0, 1.0, 1e-20, 0.05, 0.0), arguments, strict=True)
        ]
    with pytest.raises(RangeError, match=rf"^{named} needs to be"):
        diode.loop_current(*arguments)


@pytest.mark.parametrize("voltage", [np.nan, "2 V", [1.0, np.inf]])
def test_the_voltage_is_refused_by_its_own_name(voltage):
    with pytest.raises(RangeError, match=r"^voltage needs to be"):
        diode.exponential_current(voltage, *RED)


def test_shapes_that_do_not_fit_are_told():
    with pytest.raises(RangeError, match=r"supply \(2,\).*resistance \(3,\)"):
        diode.loop_current(np.ones(2), np.ones(3), *RED)
    with pytest.raises(RangeError, match=r"saturation_current of LED 2 \(3,\)"):
        diode.string_current(np.ones(2), 1.0, [RED, (np.full(3, 1e-20), 0.05, 0.0)])
    with pytest.raises(RangeError, match="do not fit"):
        diode.exponential_voltage(np.ones(2), np.full(3, 1e-20), 0.05)


@pytest.mark.parametrize("current", [-5e-22, -1.0, [0.01, -6e-22]])
def test_a_reverse_current_no_voltage_gives_is_refused(current):
    with pytest.raises(RangeError, match="saturation current"):
        diode.exponential_voltage(current, *RED)


@given(
    anything(-20, 60),
    anything(0, 1e7),
    anything(1e-34, 1e-6),
    anything(0.02, 0.15),
    anything(0, 50),
    anything(200, 400),
)
def test_every_function_keeps_the_promise(supply, resistance, saturation, emission, series, temperature):
    led = (saturation, emission, series)
    assert keeps_promise(diode.thermal_voltage, temperature)
    assert keeps_promise(diode.exponential_voltage, supply, *led)
    assert keeps_promise(diode.exponential_current, supply, *led)
    assert keeps_promise(diode.loop_current, supply, resistance, *led)
    assert keeps_promise(diode.string_current, supply, resistance, [led, GREEN])
    assert keeps_promise(diode.string_voltage, resistance, [led, RED])
    assert keeps_promise(diode.saturation_current_at, temperature, saturation, resistance, series, 300.0)
    assert keeps_promise(diode.effective_energy_gap, series, supply, temperature)
    assert keeps_promise(diode.string_current, supply, resistance, series)


# ---- strings


@given(**TRUE_LOOPS, count=st.integers(1, 12))
def test_equal_leds_are_one_with_their_sums(supply, resistance, saturation, emission, series, count):
    led = (saturation, emission, series)
    together = diode.string_current(supply, resistance, [led] * count)
    total = sum([emission] * count), sum([series] * count)
    # the rounding of numpy differs by a last digit from version to version
    assert together == pytest.approx(diode.loop_current(supply, resistance, saturation, *total), rel=1e-14, abs=0)


@given(**TRUE_LOOPS, factor=st.floats(-9.0, 9.0))
def test_voltages_of_unequal_leds_sum_to_the_supply(supply, resistance, saturation, emission, series, factor):
    leds = [(saturation, emission, series), (min(saturation * 10.0**factor, 1e-5), 0.07, 1.0), RED]
    least = min(led[0] for led in leds)
    current = diode.string_current(supply, resistance, leds)
    assert current >= -least
    if current > -0.999 * least:
        drops = diode.string_voltage(current, leds) + current * resistance
        assert drops == pytest.approx(supply, rel=1e-12, abs=1e-12 * emission)
    else:
        assert supply < 0
    assert diode.string_current(supply, resistance, leds[::-1]) == pytest.approx(current, rel=1e-12)


def test_a_string_without_resistance_on_a_supply_that_one_led_could_not_bear():
    leds = [(10.0 ** -(20.0 + place), 0.05, 0.0) for place in range(25)]
    current = diode.string_current(60.0, 0.0, leds)
    assert diode.string_voltage(current, leds) == pytest.approx(60.0, rel=1e-13)
    with pytest.raises(RangeError, match="too little resistance"):
        diode.string_current(60.0, 0.0, leds[:2])


@pytest.mark.parametrize("leds", [[], None, 5.0, [(1e-20, 0.05)], ["abc"], RED])
def test_what_is_no_string_is_refused(leds):
    with pytest.raises(RangeError, match=r"leds needs to be|saturation_current needs to be"):
        diode.string_current(9.0, 470.0, leds)
    with pytest.raises(RangeError, match=r"leds needs to be|saturation_current needs to be"):
        diode.string_voltage(0.01, leds)


# ---- temperature


@given(
    st.floats(1.2, 3.5), st.floats(-3e-3, -1e-3), st.floats(250.0, 370.0), st.floats(1.0, 2.5), st.floats(-4.0, -1.0)
)
def test_the_gap_gives_the_wanted_fall(volts, coefficient, kelvin, ideality, power):
    current = 10.0**power
    saturation = current / np.expm1(volts / (ideality * diode.thermal_voltage(kelvin)))
    gap = diode.effective_energy_gap(volts, coefficient, kelvin)
    half = 0.01
    drops = [
        diode.exponential_voltage(
            current,
            diode.saturation_current_at(each, saturation, ideality, gap, kelvin),
            ideality * diode.thermal_voltage(each),
        )
        for each in (kelvin - half, kelvin + half)
    ]
    assert (drops[1] - drops[0]) / (2.0 * half) == pytest.approx(coefficient, rel=1e-5)


def test_the_drop_never_rises_with_temperature():
    kelvin = np.linspace(250.0, 400.0, 60)
    thermal = diode.thermal_voltage(297.6)
    gap = diode.effective_energy_gap(1.646 * thermal * np.log(10e-3 / 5.394e-22), -1.72e-3, 297.6)
    saturation = diode.saturation_current_at(kelvin, 5.394e-22, 1.646, gap, 297.6)
    current = np.logspace(-6, -1, 20)[:, None]
    drop = diode.exponential_voltage(current, saturation, 1.646 * diode.thermal_voltage(kelvin), 3.582)
    assert (np.diff(drop, axis=1) < 0).all()


def test_left_alone_the_saturation_current_would_make_the_drop_rise():
    cold, warm = (diode.exponential_voltage(0.01, 5.394e-22, 1.646 * diode.thermal_voltage(k)) for k in (297.6, 370.6))
    assert warm > cold


def test_temperatures_out_of_reach_are_refused():
    with pytest.raises(RangeError, match="too far from reference_temperature"):
        diode.saturation_current_at(10.0, 1e-20, 2.0, 1.9, 300.0)
    with pytest.raises(RangeError, match="falls too little"):
        diode.effective_energy_gap(0.01, 0.0, 300.0)


# ---- fit

THERMAL = 0.02585
PRIORS = {"ideality_prior": (2.0, 0.4), "series_resistance_prior": (5.0, 3.0)}


def red_points(amperes):
    return diode.exponential_voltage(amperes, 1e-22, 1.6 * THERMAL, 4.0)


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


def test_the_one_in_the_logarithm_counts_near_the_saturation_current():
    current = np.logspace(-6, -2, 9)
    volts = diode.exponential_voltage(current, 3e-7, 1.2 * THERMAL, 0.5)
    fit = fit_exponential(volts, current, THERMAL)
    assert fit.saturation_current == pytest.approx(3e-7, rel=1e-8)


@pytest.mark.parametrize(
    ("voltage", "current", "more", "sentence"),
    [
        ([2.0], [0.02], {}, "three different currents or priors"),
        ([2.0, 2.0, 2.0], [0.02, 0.02, 0.02], {}, "three different currents or priors"),
        ([], [], PRIORS, "three different currents or priors"),
        ([2.0, 1.9], [0.01, 0.02, 0.03], PRIORS, "do not fit"),
        ([2.0], [0.0], PRIORS, "current needs to be"),
        ([-2.0], [0.01], PRIORS, "voltage needs to be"),
        ([2.0], [0.01], {**PRIORS, "ideality_prior": (20.0, 1.0)}, "ideality_prior's value needs to be"),
        ([2.0], [0.01], {**PRIORS, "ideality_prior": (2.0, 0.0)}, "ideality_prior's spread needs to be"),
        ([0.001, 0.001, 0.001], [0.01, 0.02, 0.03], {}, "do not lie on a diode's curve"),
    ],
)
def test_points_that_tell_nothing_are_refused(voltage, current, more, sentence):
    with pytest.raises(RangeError, match=sentence):
        fit_exponential(voltage, current, THERMAL, **more)


POINTS = st.lists(st.tuples(st.floats(0.01, 10.0), st.floats(1e-9, 1.0)), max_size=6)


@given(POINTS, st.floats(0.01, 0.04) | st.floats())
def test_a_fit_keeps_the_promise(points, thermal):
    def figures(*arguments):
        fit = fit_exponential(*arguments, **PRIORS)
        return tuple(each for each in fit[:-1] if each is not None)

    assert keeps_promise(figures, [volts for volts, _ in points], [amperes for _, amperes in points], thermal)

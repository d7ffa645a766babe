"""The two models of an LED: published points, other programs' answers, laws, and what is refused."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from sigcalc import ConstantDrop, Exponential, Q, SigcalcError
from sigcalc.errors import DesignError, RangeError, UnitError, UnknownNameError
from sigcalc.parts.led import POOR_ABOVE, leds, usual_colour
from sigcalc.parts.table import read_figures
from sigcalc.units import Resistance, TemperatureCoefficient, kind_of

# CODATA 2018, exact by definition of the units
BOLTZMANN, CHARGE = 1.380649e-23, 1.602176634e-19

# github erg0dic/pnjunction @30de1515, led2_2976.txt: a red 617 nm LED at 297.6 K
RED_617 = {
    "mA": [0.5, 1, 2, 3, 5, 8, 10, 15, 20, 25, 30],
    "V": [1.7481, 1.7794, 1.8114, 1.8316, 1.8601, 1.8912, 1.9081, 1.9438, 1.9738, 2.0004, 2.0244],
}
# github byn1002/byn1002.github.io RGB.pdf, table 1, red (a student laboratory)
STUDENT_RED = {"mA": [2.0, 6.5, 19.5, 31.6, 42.0, 58.0], "V": [1.6799, 1.7385, 1.7928, 1.8269, 1.8497, 1.8814]}


def points_of(measured):
    return [(Q(volts, "V"), Q(amperes, "mA")) for amperes, volts in zip(measured["mA"], measured["V"], strict=True)]


@pytest.fixture(scope="module")
def red_617():
    return Exponential.fitted(points_of(RED_617), temperature=Q(297.6, "K"), colour="red")


class TestFitted:
    def test_parameters_of_the_measured_red(self, red_617):
        # scipy's fit (of the whole file, 0.2 to 30 mA): n 1.646 within 1 %, Rs 3.582 ohm within 3 %
        assert red_617.ideality == pytest.approx(1.646, rel=0.01)
        assert red_617.series_resistance.to("ohm").magnitude == pytest.approx(3.582, rel=0.03)
        # the logarithm of the saturation current hangs on n: 1 % of n is 1 % of ln(Is)
        assert np.log(red_617.si.saturation_current) == pytest.approx(np.log(5.394e-22), rel=0.01)

    @pytest.mark.parametrize(("milliamperes", "volts"), list(zip(*RED_617.values(), strict=True)))
    def test_measured_points_of_the_red(self, red_617, milliamperes, volts):
        # within 3 mV of the file
        assert red_617.voltage(Q(milliamperes, "mA")).to("V").magnitude == pytest.approx(volts, abs=3e-3)

    @pytest.mark.parametrize(("milliamperes", "volts"), list(zip(*STUDENT_RED.values(), strict=True)))
    def test_measured_points_of_the_student_laboratory(self, milliamperes, volts):
        # within 5 mV of the table
        model = Exponential.fitted(points_of(STUDENT_RED))
        assert model.voltage(Q(milliamperes, "mA")).to("V").magnitude == pytest.approx(volts, abs=5e-3)
        assert model.fit.residual.to("mV").magnitude < 2
        assert not model.fit.poor

    def test_one_line_of_a_data_sheet_and_a_colour(self):
        model = Exponential.fitted([("2.0 V", "20 mA")], temperature="25 degC", colour="red")
        assert model.voltage("20 mA").to("V").magnitude == pytest.approx(2.0, abs=1e-9)
        assert model.fit.assumed == ("ideality", "series_resistance")
        assert model.fit.residual is None
        assert not model.fit.poor
        assert model.fit.assumption == (
            "too few points: assumed as usual for red LEDs: ideality 1.65 ± 0.25, series resistance 4 ± 3 Ω"
        )
        # nothing in one point speaks of ideality and series resistance: their spread is the assumption's own
        assert model.fit.ideality_spread == pytest.approx(0.25)
        assert model.fit.si.series_resistance_spread == pytest.approx(3)

    def test_two_points_pass_through_both_and_claim_no_residual(self):
        model = Exponential.fitted([("1.80 V", "2 mA"), ("1.95 V", "15 mA")], colour="red")
        assert model.fit.residual is None
        assert set(model.fit.assumed) == {"ideality", "series_resistance"}
        found = model.voltage(["2 mA", "15 mA"]).to("V").magnitude
        assert found == pytest.approx([1.80, 1.95], abs=2e-3)
        # the two points say more about the resistance than the assumption did
        assert model.fit.si.series_resistance_spread < 3

    def test_three_points_settle_three_unknowns_and_leave_nothing_to_judge_by(self):
        model = Exponential.fitted(points_of({"mA": [1, 5, 20], "V": [1.7794, 1.8601, 1.9738]}))
        assert model.fit.assumed == ()
        assert model.fit.residual is None


class TestRefusedPoints:
    def test_falling_points_are_refused_and_named(self):
        with pytest.raises(RangeError, match=r"falls to 1\.9 V where the current rises to 20 mA"):
            Exponential.fitted([("2.0 V", "10 mA"), ("1.9 V", "20 mA")])

    @pytest.mark.parametrize("point", [("2 V", "0 mA"), ("0 V", "1 mA"), ("-2 V", "1 mA")])
    def test_points_without_current_or_voltage(self, point):
        with pytest.raises(RangeError, match="above zero"):
            Exponential.fitted([point, ("2 V", "20 mA")])

    @pytest.mark.parametrize(
        "points", [None, "2 V, 20 mA", [], [("2 V",)], ["2 V"], [("2 V", "20 mA", "x")], 5, {"2 V": "20 mA"}, b"2 V"]
    )
    def test_what_is_no_list_of_pairs(self, points):
        with pytest.raises(UnitError, match=r"points needs pairs of voltage and current.* you gave "):
            Exponential.fitted(points)

    @pytest.mark.parametrize("colour", ["rad", 5, ["red"], ""])
    def test_a_colour_without_an_assumption(self, colour):
        with pytest.raises(SigcalcError, match=r"colour .* is not known; use one of"):
            Exponential.fitted([("2 V", "20 mA")], colour=colour)


class TestTemperature:
    @pytest.mark.parametrize(
        ("milliamperes", "measured", "within"),
        [(1, -1.80, 0.3), (2, -1.71, 0.3), (5, -1.67, 0.2), (10, -1.72, 0.1), (20, -1.87, 0.3)],
    )
    def test_drop_of_the_measured_red(self, red_617, milliamperes, measured, within):
        # github erg0dic/pnjunction, led2_*.txt, straight line over 297.6 to 370.6 K. The model is told
        # the coefficient at 10 mA and works out the others; the measured ones do not fall with the current as its do
        ends = [red_617.voltage(Q(milliamperes, "mA"), temperature=Q(kelvin, "K")) for kelvin in (297.6, 370.6)]
        slope = (ends[1] - ends[0]).to("mV").magnitude / (370.6 - 297.6)
        assert slope == pytest.approx(measured, abs=within)
        assert -2.1 < slope < -1

    @pytest.mark.parametrize("name", leds)
    def test_the_drop_never_rises_with_temperature(self, name):
        led = leds[name]
        amperes = np.geomspace(1e-5, 1, 25) * led.si.max_current
        kelvin = np.linspace(253.15, 358.15, 22)[:, None]  # -20 to 85 °C
        volts = led.model.voltage_si(amperes, kelvin)
        assert np.all(np.diff(volts, axis=0) < 0)

    @pytest.mark.parametrize("name", leds)
    def test_at_working_currents_the_drop_falls_by_about_one_to_two_millivolts_a_kelvin(self, name):
        # github erg0dic/pnjunction: -1.67 to -1.87 mV/K; same source, blue InGaN: -1.0 to -1.2 mV/K
        led = leds[name]
        amperes = np.geomspace(1e-3, led.si.max_current, 9)
        slope = (led.model.voltage_si(amperes, 323.15) - led.model.voltage_si(amperes, 298.15)) / 25
        assert np.all((slope > -2.2e-3) & (slope < -0.85e-3))


class TestAgainstScipy:
    @pytest.mark.parametrize(
        ("saturation", "ideality", "ohms"),
        [*itertools.product([1e-25, 1e-18, 1e-9], [1.0, 1.8, 3.0], [0.1, 4.0, 30.0])],
    )
    @pytest.mark.parametrize("volts", [0.05, 1.0, 1.9, 2.4, 4.0])
    def test_current_solves_the_equation(self, saturation, ideality, ohms, volts):
        model = Exponential(Q(saturation, "A"), ideality, Q(ohms, "ohm"), temperature="27 degC")
        emission = ideality * BOLTZMANN * 300.15 / CHARGE

        def excess(junction):
            return junction + ohms * saturation * np.expm1(junction / emission) - volts

        top = min(volts, emission * np.log1p(volts / ohms / saturation))
        junction = brentq(excess, 0.0, top * (1 + 1e-12), xtol=1e-300, rtol=1e-15)
        expected = saturation * np.expm1(junction / emission)
        # brentq stops 1e-15 short of the junction's voltage, which the exponential magnifies
        assert model.current(Q(volts, "V")).magnitude == pytest.approx(expected, rel=1e-14 * volts / emission + 1e-11)

    @given(
        milliamperes=st.floats(1e-9, 1e3),
        saturation=st.floats(-45, -4),
        ideality=st.floats(0.5, 8),
        ohms=st.floats(0, 100),
    )
    def test_voltage_and_current_are_each_other_s_inverse(self, milliamperes, saturation, ideality, ohms):
        model = Exponential(Q(10.0**saturation, "A"), ideality, Q(ohms, "ohm"))
        volts = model.voltage_si(milliamperes / 1e3)
        assert volts > 0
        back = model.current_si(volts)
        # a rounding of the voltage is a rounding times V / (n Vt) of the current
        steep = 1 + volts / (ideality * 0.0258)
        assert back == pytest.approx(milliamperes / 1e3, rel=1e-14 * steep + 1e-11)


class TestExponential:
    def test_in_reverse_only_the_saturation_current_leaks(self):
        model = Exponential("1 nA", 2, "1 ohm")
        assert model.current("-5 V").to("nA").magnitude == pytest.approx(-1, rel=1e-9)
        assert model.current("0 V").magnitude == 0

    def test_beyond_twenty_volts_in_reverse_there_is_no_figure(self):
        model = Exponential("1 nA", 2, "1 ohm")
        model.current("-20 V")
        with pytest.raises(RangeError, match="breakdown in reverse is not modelled"):
            model.current(["-5 V", "-20.1 V"])

    def test_arrays_broadcast(self):
        model = Exponential("1e-21 A", 1.8, "4 ohm")
        currents = Q(np.array([[1.0], [5.0], [20.0]]), "mA")
        volts = model.voltage(currents, temperature=["0 degC", "50 degC"])
        assert volts.shape == (3, 2)
        assert volts[1, 1].magnitude == pytest.approx(model.voltage("5 mA", temperature="50 degC").magnitude, rel=1e-12)
        assert model.current(["1.8 V", "2.0 V"]).shape == (2,)

    def test_a_shift_raises_the_drop_at_every_current(self):
        model = Exponential("1e-21 A", 1.8, "4 ohm")
        amperes = np.geomspace(1e-6, 0.03, 7)
        assert model.voltage_si(amperes, shift=0.2) - model.voltage_si(amperes) == pytest.approx(np.full(7, 0.2))

    @pytest.mark.parametrize(
        ("change", "match"),
        [
            ({"saturation_current": "2 mA"}, "saturation_current needs a saturation current from"),
            ({"saturation_current": "0 A"}, "saturation_current needs a saturation current from"),
            ({"ideality": 0.4}, "ideality needs an ideality from"),
            ({"ideality": 9}, "ideality needs an ideality from"),
            ({"saturation_current": "1e-50 A", "ideality": 8}, "would need 22.* V for 10 mA, which no LED does"),
        ],
    )
    def test_parameters_no_led_has(self, change, match):
        usual = {"saturation_current": "1e-21 A", "ideality": 1.8, "series_resistance": "4 ohm"}
        with pytest.raises(SigcalcError, match=match):
            Exponential(**usual | change)


class TestConstantDrop:
    def test_the_drop_is_the_same_at_every_current(self):
        model = ConstantDrop("2 V")
        assert model.voltage(["0.1 mA", "20 mA"]).to("V").magnitude == pytest.approx([2, 2])

    def test_below_the_drop_nothing_flows_and_above_it_there_is_no_answer(self):
        model = ConstantDrop("2 V")
        assert model.current("1.99 V").magnitude == 0
        with pytest.raises(DesignError, match="at or above the constant drop of 2 V"):
            model.current("2 V")


# ---- the assumptions behind a fit, and what a fit tells of itself

PRIORS = read_figures("led_priors.csv")


def fit(volts, amperes, colour=None):
    pairs = [(Q(float(v), "V"), Q(float(i), "A")) for v, i in zip(volts, amperes, strict=True)]
    return Exponential.fitted(pairs, temperature="300 K", colour=colour)


@pytest.mark.parametrize("colour", PRIORS)
def test_every_colour_has_its_four_assumptions_in_a_plausible_range(colour):
    figures = PRIORS[colour]
    assert 1 <= float(figures["ideality"].value) <= 4
    assert 0 < float(figures["ideality_spread"].value) < float(figures["ideality"].value)
    ohms = [
        kind_of(Resistance).read(figures[key].text, key) for key in ("series_resistance", "series_resistance_spread")
    ]
    assert 0 < ohms[1] < ohms[0] < 30
    slope = kind_of(TemperatureCoefficient).read(figures["temperature_coefficient"].text, "slope")
    # textbooks, from memory: -1 to -2.5 mV/K
    assert -2.5e-3 <= slope <= -1e-3


@pytest.mark.parametrize("colour", PRIORS)
def test_the_assumption_is_said_with_its_spread(colour):
    model, said = fit([2.0], [0.02], colour), PRIORS[colour]
    assert f"usual for {colour} LEDs" in model.fit.assumption
    for value in ("ideality", "series_resistance"):
        figures = (float(said[end].value) for end in (value, f"{value}_spread"))
        assert "{:g} ± {:g}".format(*figures) in model.fit.assumption
    assert model.temperature_coefficient.m_as("mV/K") == pytest.approx(float(said["temperature_coefficient"].value))


def test_where_the_colour_is_not_given_the_assumption_for_any_is_taken():
    story = fit([2.0], [0.02]).fit
    assert "LEDs of any colour" in story.assumption
    assert f"ideality {float(PRIORS['any']['ideality'].value):g}" in story.assumption


def test_a_colour_in_no_row_is_refused_with_the_nearest():
    with pytest.raises(UnknownNameError, match="'infrared'"):
        fit([2.0], [0.02], "infra-red")


def test_rows_that_are_no_colour_are_not_offered_as_one():
    with pytest.raises(UnknownNameError) as refusal:
        fit([2.0], [0.02], "pink")
    assert "'red'" in str(refusal.value)
    assert "ingan" not in str(refusal.value)


@pytest.mark.parametrize(
    ("colour", "technology", "row"),
    [
        ("green", "GaP", "green gap"),
        ("green", "InGaN", "ingan"),
        ("white", "InGaN", "ingan"),
        ("red", "AlInGaP", "red"),
        ("yellow", "GaAsP/GaP", "yellow"),
    ],
)
def test_the_row_that_fits_colour_and_technology(colour, technology, row):
    assert usual_colour(colour, technology) == row
    assert row in PRIORS


def test_the_residual_is_the_root_mean_square_of_what_is_left():
    amperes = np.array([1e-3, 3e-3, 1e-2, 2e-2])
    clean = Exponential("1e-21 A", 1.8, "4 ohm", temperature="300 K").voltage_si(amperes)
    off = np.array([2e-3, -2e-3, 2e-3, -2e-3])
    model = fit(clean + off, amperes)
    left = clean + off - model.voltage_si(amperes)
    assert model.fit.si.residual == pytest.approx(np.sqrt(np.mean(left**2)), rel=1e-4)
    assert 0 < model.fit.si.residual <= 2e-3
    assert not model.fit.poor


@pytest.mark.parametrize(("off", "poor"), [(0.9, False), (3.0, True)])
def test_poor_begins_at_the_limit_said(off, poor):
    amperes = np.geomspace(1e-4, 3e-2, 12)
    clean = Exponential("1e-21 A", 1.8, "4 ohm", temperature="300 K").voltage_si(amperes)
    wave = off * POOR_ABOVE * np.resize([1, 1, -1], 12)
    story = fit(np.maximum.accumulate(clean + wave), amperes).fit
    assert (story.si.residual > POOR_ABOVE) == poor == story.poor


@pytest.mark.parametrize("count", [3, 5])
def test_equal_voltages_at_rising_currents_are_no_fall_but_no_diode_either(count):
    model = fit([0.5] * count, np.linspace(0.01, 0.03, count))
    assert model.ideality == pytest.approx(0.5)
    assert model.fit.poor
    assert (model.fit.residual is None) == (count == 3)


def test_voltages_that_rise_too_steeply_are_no_diode():
    with pytest.raises(RangeError, match="do not lie on a diode's curve"):
        fit([2.0, 2.5, 3.0], [0.01, 0.01001, 0.01002])


@given(
    points=st.lists(
        st.tuples(st.floats(-70, 70), st.floats(-1e-3, 11)).map(lambda pair: (Q(pair[0], "V"), Q(pair[1], "A"))),
        max_size=6,
    ),
    colour=st.sampled_from([None, "red", "green", "white", "puce"]),
)
def test_any_points_give_a_model_or_a_refusal(points, colour):
    try:
        model = Exponential.fitted(points, colour=colour)
    except SigcalcError:
        return
    assert np.isfinite([model.si.ideality, model.si.saturation_current, model.si.series_resistance]).all()
    assert np.isfinite(model.voltage("10 mA").magnitude)

"""The LED: its two models and their fits, the part with its limits and light, the tables against figures of others."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc import ConstantDrop, Exponential, Led, Q, SigcalcError, diodes, leds
from sigcalc.errors import DesignError, RangeError, UnitError, UnknownNameError
from sigcalc.parts.led import POOR_ABOVE, usual_colour
from sigcalc.parts.table import read_figures

MODEL = Exponential("1e-21 A", 1.8, "4 ohm")
RED = {"name": "a red one", "colour": "red", "model": MODEL, "max_current": "20 mA"}
PRIORS = read_figures("led_priors.csv")
# A red LED that is none of the table's, mA and V: a student laboratory (github byn1002/byn1002.github.io, RGB.pdf,
# table 1)
STUDENT = {2.0: 1.6799, 6.5: 1.7385, 19.5: 1.7928, 31.6: 1.8269, 42.0: 1.8497, 58.0: 1.8814}


def fit(volts, amperes, colour=None, temperature="300 K"):
    pairs = [(Q(float(v), "V"), Q(float(i), "A")) for v, i in zip(volts, amperes, strict=True)]
    return Exponential.fitted(pairs, temperature=temperature, colour=colour)


# ---- the models


@given(st.floats(1e-9, 1e3), st.floats(-45, -4), st.floats(0.5, 8), st.floats(0, 100))
def test_voltage_and_current_obey_the_diode_s_law_and_are_each_other_s_inverse(milliamperes, power, ideality, ohms):
    model, current = Exponential(Q(10.0**power, "A"), ideality, Q(ohms, "ohm")), milliamperes / 1e3
    volts = model.voltage(Q(milliamperes, "mA")).m_as("V")
    thermal = 1.380649e-23 * 300.15 / 1.602176634e-19  # CODATA 2018, exact by definition of the units; 27 °C
    expected = ideality * thermal * np.log1p(current / 10.0**power) + current * ohms
    assert volts == pytest.approx(expected, rel=1e-12)
    # a rounding of the voltage is a rounding times V / (n Vt) of the current
    steep = 1 + volts / (ideality * thermal)
    assert model.current_si(model.voltage_si(current)) == pytest.approx(current, rel=1e-14 * steep + 1e-11)


def test_in_reverse_only_the_saturation_current_leaks_and_beyond_twenty_volts_there_is_no_figure():
    model = Exponential("1 nA", 2, "1 ohm")
    assert model.current("-5 V").to("nA").magnitude == pytest.approx(-1, rel=1e-9)
    assert model.current("0 V").magnitude == 0
    model.current("-20 V")
    with pytest.raises(RangeError, match="breakdown in reverse is not modelled"):
        model.current(["-5 V", "-20.1 V"])


def test_arrays_broadcast_and_a_shift_raises_the_drop_at_every_current():
    volts = MODEL.voltage(Q(np.array([[1.0], [5.0], [20.0]]), "mA"), temperature=["0 degC", "50 degC"])
    assert volts.shape == (3, 2)
    assert volts[1, 1].magnitude == pytest.approx(MODEL.voltage("5 mA", temperature="50 degC").magnitude, rel=1e-12)
    amperes = np.geomspace(1e-6, 0.03, 7)
    assert MODEL.voltage_si(amperes, shift=0.2) - MODEL.voltage_si(amperes) == pytest.approx(np.full(7, 0.2))


def test_a_constant_drop_is_the_same_at_every_current_with_nothing_below_it_and_no_answer_above():
    model = ConstantDrop("2 V")
    assert model.voltage(["0.1 mA", "20 mA"]).to("V").magnitude == pytest.approx([2, 2])
    assert model.current("1.99 V").magnitude == 0
    with pytest.raises(DesignError, match="at or above the constant drop of 2 V"):
        model.current("2 V")


@pytest.mark.parametrize("name", leds)
def test_the_drop_falls_with_temperature_and_by_one_to_two_millivolts_a_kelvin_at_working_currents(name):
    model, most = leds[name].model, leds[name].si.max_current
    kelvin = np.linspace(253.15, 358.15, 22)[:, None]  # -20 to 85 °C
    assert np.all(np.diff(model.voltage_si(np.geomspace(1e-5, 1, 25) * most, kelvin), axis=0) < 0)
    # github erg0dic/pnjunction: -1.67 to -1.87 mV/K; same source, blue InGaN: -1.0 to -1.2 mV/K
    amperes = np.geomspace(1e-3, most, 9)
    slope = (model.voltage_si(amperes, 323.15) - model.voltage_si(amperes, 298.15)) / 25
    assert np.all((slope > -2.2e-3) & (slope < -0.85e-3))


# ---- fits


def test_measured_points_of_the_student_laboratory():
    model = fit(STUDENT.values(), np.array([*STUDENT]) * 1e-3, temperature="27 degC")
    assert model.voltage(Q([*STUDENT], "mA")).m_as("V") == pytest.approx([*STUDENT.values()], abs=5e-3)
    assert model.fit.residual.to("mV").magnitude < 2
    assert not model.fit.poor
    assumed = Exponential.fitted([("1.9 V", "20 mA")], colour="red")
    assert assumed.ideality == pytest.approx(model.ideality, abs=assumed.fit.ideality_spread)


def test_the_fewer_points_the_more_is_assumed_and_said():
    one, two, three = (
        fit([2.0], [0.02], "red"),
        fit([1.8, 1.95], [2e-3, 15e-3], "red"),
        fit([1.78, 1.86, 1.97], [1e-3, 5e-3, 2e-2]),
    )
    assert one.fit.assumed == two.fit.assumed == ("ideality", "series_resistance")
    assert three.fit.assumed == ()
    assert one.fit.residual is two.fit.residual is three.fit.residual is None  # nothing is left to judge by
    assert not one.fit.poor
    assert one.fit.assumption == (
        "too few points: assumed as usual for red LEDs: ideality 1.65 ± 0.25, series resistance 4 ± 3 Ω"
    )
    # nothing in one point speaks of ideality and series resistance: their spread is the assumption's own
    assert one.fit.ideality_spread == pytest.approx(0.25)
    assert one.fit.si.series_resistance_spread == pytest.approx(3)
    assert two.fit.si.series_resistance_spread < 3
    assert one.voltage("20 mA").m_as("V") == pytest.approx(2.0, abs=1e-9)
    assert two.voltage(["2 mA", "15 mA"]).m_as("V") == pytest.approx([1.80, 1.95], abs=2e-3)


@pytest.mark.parametrize("colour", PRIORS)
def test_every_colour_s_assumptions_are_plausible_and_said_with_their_spread(colour):
    model, said = fit([2.0], [0.02], colour), {key: float(each.value) for key, each in PRIORS[colour].items()}
    assert 1 <= said["ideality"] <= 4
    assert 0 < said["ideality_spread"] < said["ideality"]
    assert 0 < said["series_resistance_spread"] < said["series_resistance"] < 30
    assert -2.5 <= said["temperature_coefficient"] <= -1  # textbooks, from memory: -1 to -2.5 mV/K
    assert f"usual for {colour} LEDs" in model.fit.assumption
    for value in ("ideality", "series_resistance"):
        assert f"{said[value]:g} ± {said[f'{value}_spread']:g}" in model.fit.assumption
    assert model.temperature_coefficient.m_as("mV/K") == pytest.approx(said["temperature_coefficient"])


def test_the_row_that_fits_colour_and_technology_or_the_one_for_any():
    chips = {("green", "GaP"): "green gap", ("green", "InGaN"): "ingan", ("red", "AlInGaP"): "red"}
    for chip, row in {**chips, ("yellow", "GaAsP/GaP"): "yellow"}.items():
        assert usual_colour(*chip) == row in PRIORS
    story = fit([2.0], [0.02]).fit
    assert "LEDs of any colour" in story.assumption
    assert f"ideality {float(PRIORS['any']['ideality'].value):g}" in story.assumption


@pytest.mark.parametrize(("off", "poor"), [(0.9, False), (3.0, True)])
def test_the_residual_is_the_root_mean_square_of_what_is_left_and_poor_from_the_limit_on(off, poor):
    amperes = np.geomspace(1e-4, 3e-2, 12)
    volts = MODEL.voltage_si(amperes) + off * POOR_ABOVE * np.resize([1, 1, -1], 12)
    volts = np.maximum.accumulate(volts)
    model = fit(volts, amperes)
    left = np.sqrt(np.mean((volts - model.voltage_si(amperes)) ** 2))
    assert model.fit.si.residual == pytest.approx(left, rel=1e-4)
    assert (left > POOR_ABOVE) == poor == model.fit.poor


@pytest.mark.parametrize("count", [3, 5])
def test_equal_voltages_at_rising_currents_are_no_fall_but_no_diode_either(count):
    model = fit([0.5] * count, np.linspace(0.01, 0.03, count))
    assert model.ideality == pytest.approx(0.5)
    assert model.fit.poor
    assert (model.fit.residual is None) == (count == 3)


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


class TestDoubtsOfAFit:
    """Own LEDs drawn from a seed: the drop that the fit leaves open must hold the true one."""

    CURRENTS = np.array([1e-3, 3e-3, 1e-2, 3e-2])

    def held(self, fitted, true):
        led = Led("own", "red", fitted, "30 mA")
        off = np.array(true) - led.model.voltage_si(self.CURRENTS)
        return np.mean((-led.si.drop_below <= off) & (off <= led.si.drop_above))

    def test_one_data_sheet_line_leaves_open_what_is_usual_for_the_colour(self):
        fitted = Exponential.fitted([("1.9 V", "20 mA")], temperature="27 degC", colour="red")
        random = np.random.default_rng(5)  # ideality and series resistance of red LEDs: led_priors.csv
        ideality, ohms = random.normal(1.65, 0.25, (2000, 1)), np.maximum(random.normal(4, 3, (2000, 1)), 0)
        true = 1.9 + ideality * 0.025865 * np.log(self.CURRENTS / 20e-3) + ohms * (self.CURRENTS - 20e-3)
        assert self.held(fitted, true) > 0.9
        assert 0.05 < Led("own", "red", fitted, "30 mA").si.drop_below < 0.2

    def test_three_readings_leave_open_what_the_meter_errs(self):
        random, read_at, held = np.random.default_rng(5), np.array([2e-3, 1e-2, 2e-2]), []
        for _ in range(60):
            true = Exponential(Q(10 ** random.uniform(-23, -19), "A"), random.uniform(1.6, 2.1), Q("5 ohm"))
            shown = np.round(true.voltage_si(read_at) * (1 + random.uniform(-5e-3, 5e-3)), 3)
            held.append(self.held(fit(shown, read_at, "red", "27 degC"), true.voltage_si(self.CURRENTS)))
        assert np.mean(held) > 0.9

    def test_points_close_together_leave_no_more_open_than_an_odd_led_is(self):
        close = Exponential.fitted([("1.84 V", "9 mA"), ("1.86 V", "10 mA"), ("1.87 V", "11 mA")], colour="red")
        assert Led("own", "red", close, "30 mA").si.drop_above < 0.15

    def test_what_is_said_of_the_drop_goes_first_and_what_was_never_fitted_is_exact(self):
        led = Led("own", "red", fit([1.9], [0.02], "red"), "30 mA", drop_below="0 V")
        assert led.drop_below == Q("0 V") < led.drop_above
        assert Led(**RED).drop_below == Led(**RED).drop_above == Q("0 V")


# ---- the part


def test_an_led_answers_through_its_model_and_its_light_is_proportional_to_the_current():
    # github byn1002 RGB.pdf, table 4: measured light against current is a straight line, R 0.9992
    led = Led(**RED | {"intensity": "40 mcd", "intensity_current": "10 mA"})
    assert led.voltage("10 mA", temperature="60 degC") == MODEL.voltage("10 mA", temperature="60 degC")
    assert led.current("2 V", temperature="60 degC") == MODEL.current("2 V", temperature="60 degC")
    assert led.max_reverse_voltage == Q("5 V")  # Kuphaldt, Lessons in Electric Circuits vol. III ch. 3: 5 V is typical
    assert led.light(["0 mA", "5 mA", "20 mA"]).to("millicandela").magnitude == pytest.approx([0, 20, 80])


@pytest.mark.parametrize(
    ("part", "celsius", "milliamps"),
    [
        # HLMP-1450 data sheet, notes to the absolute maximum ratings: red and green derate linearly from 50 °C at
        # 0.5 mA/°C, yellow at 0.2 mA/°C
        *(
            (part, *point)
            for part in ("ordinary red 3 mm", "ordinary green 3 mm")
            for point in ((50, 30), (70, 20), (85, 12.5), (100, 5))
        ),
        ("ordinary yellow 3 mm", 50, 20),
        ("ordinary yellow 3 mm", 100, 10),
        ("bright red 3 mm", 60, 30),  # Vishay TLHK4400L: 30 mA up to 60 °C
    ],
)
def test_in_warm_air_it_may_carry_less(part, celsius, milliamps):
    assert leds[part].in_air(273.15 + celsius).max_current.m_as("mA") == pytest.approx(milliamps, rel=1e-9)


def test_an_led_in_cool_air_is_itself_and_in_warm_air_says_so():
    led = Led(**RED)
    assert led.in_air(323.15) is led
    assert led.in_air(348.15).max_current.m_as("mA") == pytest.approx(10)
    assert led.in_air(348.15).name == "a red one in air at 75 °C"


LIGHT = {"intensity": "5 mcd", "intensity_current": "5 mA"}


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: Led(**RED | {"zero_at": "50 degC"}), RangeError, "zero_at needs to be above derate_from, 50 °C"),
        (lambda: Led(**RED | {"model": None}), UnitError, "model needs a ConstantDrop or an Exponential"),
        (lambda: Led(**RED | {"model": ConstantDrop("2 V"), "drop_below": "2 V"}), RangeError, "its drop of 2 V"),
        (lambda: Led(**RED | {"intensity": "5 mcd"}), UnitError, "needs intensity_current beside it"),
        (lambda: Led(**RED | {"intensity_current": "5 mA"}), UnitError, "needs intensity_current beside it"),
        (lambda: Led(**RED | LIGHT | {"intensity_min": "6 mcd"}), RangeError, "in rising order"),
        (lambda: Led(**RED).light("5 mA"), UnitError, "a red one has no luminous intensity; give intensity and"),
        (lambda: Led(**RED).in_air(373.15), DesignError, "air at 100 °C leaves the a red one no current at all"),
        (lambda: Exponential("1e-50 A", 8, "4 ohm"), RangeError, "would need 22.* V for 10 mA, which no LED does"),
        (lambda: fit([2.0, 1.9], [0.01, 0.02]), RangeError, r"falls to 1\.9 V where the current rises to 20 mA"),
        (lambda: fit([2.0, 2.5, 3.0], [0.01, 0.01001, 0.01002]), RangeError, "do not lie on a diode's curve"),
        (lambda: fit([2.0, 2.0], [0.0, 0.02]), RangeError, "above zero"),
        (lambda: fit([0.0, 2.0], [0.001, 0.02]), RangeError, "above zero"),
        *(
            (lambda points=points: Exponential.fitted(points), UnitError, "points needs pairs of voltage and current")
            for points in (None, "2 V, 20 mA", [], [("2 V",)], ["2 V"], [("2 V", "20 mA", "x")], {"2 V": "20 mA"})
        ),
        (lambda: fit([2.0], [0.02], "infra-red"), UnknownNameError, "'infrared'"),
        (lambda: fit([2.0], [0.02], 5), UnknownNameError, "colour .* is not known; use one of"),
        # rows of the table that are no colour are not offered as one
        (lambda: fit([2.0], [0.02], "pink"), UnknownNameError, "^(?!.*ingan).*'red'"),
    ],
)
def test_what_is_refused(call, kind, said):
    with pytest.raises(kind, match=said):
        call()


# ---- the tables: whole, and against lamps and figures that are none of theirs

# T. R. Kuphaldt, Lessons in Electric Circuits Vol. III, ch. 3: usual forward voltages by colour
RANGES = {"red": (1.5, 2.4), "green": (1.7, 2.8), "yellow": (1.7, 2.8), "white": (3.0, 4.0), "ingan": (3.0, 4.0)}


@pytest.mark.parametrize("name", leds)
def test_every_led_is_whole_and_gives_back_the_drop_and_light_of_its_sheet(name):
    led, figures = leds[name], leds.figures(name)
    assert led.name == name == name.lower()
    assert led.note == "typical, not guaranteed"
    assert led.model.fit.assumed == ("ideality", "series_resistance")
    assert led.model.temperature.to("degC").magnitude == pytest.approx(25)
    volts = led.model.voltage_si(np.geomspace(1e-6, led.si.max_current, 20))
    assert np.all(np.diff(volts) > 0)
    if led.max_power is not None:  # at its most current it must not already be beyond its power
        assert led.si.max_current * volts[-1] < led.si.max_power
    drop = led.voltage(figures["test_current"].text).m_as("V")
    assert drop == pytest.approx(Q(figures["forward_voltage"].text).m_as("V"), abs=1e-6)
    most = Q(figures["forward_voltage_max"].text).m_as("V")
    assert drop + led.drop_above.m_as("V") == pytest.approx(most, abs=1e-6)
    low, high = RANGES["ingan" if figures["technology"].value == "InGaN" else led.colour]
    assert low <= round(drop, 6) <= high
    if led.intensity is not None:
        light = led.light(figures["intensity_current"].text)
        assert light.m_as("cd") == pytest.approx(Q(figures["intensity"].text).m_as("cd"))


def test_the_typical_red_lies_between_two_measured_ones():
    # the student laboratory's, and 617 nm at 24 degC (github erg0dic/pnjunction, led2_2976.txt): 1.9738 V at 20 mA
    assert 1.7928 < leds["bright red 3 mm"].voltage("20 mA").m_as("V") < 1.9738


@pytest.mark.parametrize(
    ("known", "others", "digit"),
    [
        (19.5, STUDENT, 5e-5),
        # from memory: HLMP-K101 and HLMP-K150 data sheets, the same AlGaAs chip: 1.8 V at 20 mA, 1.6 V at 1 mA
        (20, {20: 1.8, 1: 1.6}, 0.05),
    ],
    ids=["student laboratory", "AlGaAs lamps, from memory"],
)
def test_one_known_point_of_a_red_led_foretells_the_others(known, others, digit):
    """Within twice the spread that the assumed ideality and series resistance have."""
    model = Exponential.fitted([(Q(others[known], "V"), Q(known, "mA"))], temperature="25 degC", colour="red")
    for milliamperes, volts in others.items():
        apart = np.log(milliamperes / known) * 0.0257, (milliamperes - known) * 1e-3
        spread = np.hypot(apart[0] * model.fit.ideality_spread, apart[1] * model.fit.si.series_resistance_spread)
        assert abs(model.voltage(Q(milliamperes, "mA")).m_as("V") - volts) <= 2 * spread + digit


@pytest.mark.parametrize(("technology", "most", "least"), [("AlInGaP", -1.87, -1.67), ("InGaN", -1.2, -1.0)])
def test_the_drop_falls_as_measured_leds_do(technology, most, least):
    # github erg0dic/pnjunction, led2_*.txt: red at 1 to 20 mA and blue InGaN, mV/K
    for name in leds:
        if leds.figures(name)["technology"].value == technology:
            cold, warm = (leds[name].voltage("10 mA", temperature=each).m_as("mV") for each in ("25 degC", "75 degC"))
            assert most <= (warm - cold) / 50 <= least


@pytest.mark.parametrize("name", diodes)
def test_every_diode_is_whole(name):
    # a silicon diode drops 0.5 to 0.8 V at 10 mA (common practice, no source)
    assert 0.5 < diodes[name].voltage("10 mA").to("V").magnitude < 0.8
    assert diodes[name].si.max_reverse_voltage >= 50
    assert diodes[name].intensity is None


def test_the_1n4148_drops_what_its_sheets_say():
    # 1N4148 and 1N4448 data sheet (dtsheet.com/doc/562899): 1.0 V at most at 10 mA; the 1N4448, which is the same diode
    # sorted, 0.62 V to 0.72 V at 5 mA and 1.0 V at most at 100 mA
    diode = diodes["1n4148"]
    assert 0.62 <= diode.voltage("5 mA").m_as("V") <= 0.72
    assert diode.voltage("100 mA").m_as("V") <= 1.0

"""The LED as a part: its answers come from its model, its limits and its light are checked."""

import numpy as np
import pytest

from sigcalc import ConstantDrop, Exponential, Led, Q, SigcalcError, diodes, leds
from sigcalc.errors import DesignError, UnitError

MODEL = Exponential("1e-21 A", 1.8, "4 ohm")
RED = {"name": "a red one", "colour": "red", "model": MODEL, "max_current": "20 mA"}


def test_it_answers_through_its_model():
    led = Led(**RED)
    assert led.voltage("10 mA") == MODEL.voltage("10 mA")
    assert led.current("2 V") == MODEL.current("2 V")
    assert led.voltage("10 mA", temperature="60 degC") == MODEL.voltage("10 mA", temperature="60 degC")
    assert led.current("2 V", temperature="60 degC") == MODEL.current("2 V", temperature="60 degC")


def test_usual_values_where_nothing_is_said():
    led = Led(**RED)
    assert led.max_reverse_voltage == Q("5 V")  # Kuphaldt, Lessons in Electric Circuits vol. III ch. 3: 5 V is typical
    assert led.drop_below == led.drop_above == Q("0 V")
    assert led.intensity is None
    assert led.max_power is None


@pytest.mark.parametrize(
    ("part", "celsius", "milliamps"),
    [
        # HLMP-1450 data sheet, notes to the absolute maximum ratings: red and green derate linearly from 50 °C at
        # 0.5 mA/°C, yellow at 0.2 mA/°C
        *(
            (part, *point)
            for part in ("red gaasp 3 mm", "green gap 3 mm")
            for point in ((50, 30), (70, 20), (85, 12.5))
        ),
        *((part, 100, 5) for part in ("red gaasp 3 mm", "green gap 3 mm")),
        ("yellow gaasp 3 mm", 50, 20),
        ("yellow gaasp 3 mm", 100, 10),
        ("red alingap 3 mm", 60, 30),  # Vishay TLHK4400L: 30 mA up to 60 °C
    ],
)
def test_in_warm_air_it_may_carry_less(part, celsius, milliamps):
    assert leds[part].in_air(273.15 + celsius).max_current.m_as("mA") == pytest.approx(milliamps, rel=1e-9)


def test_an_led_in_cool_air_is_itself_and_in_warm_air_says_so():
    led = Led(**RED)
    assert led.in_air(323.15) is led
    assert led.in_air(348.15).max_current.m_as("mA") == pytest.approx(10)
    assert led.in_air(348.15).name == "a red one in air at 75 °C"
    with pytest.raises(DesignError, match="air at 100 °C leaves the a red one no current at all"):
        led.in_air(373.15)


def test_light_is_proportional_to_current():
    # github byn1002 RGB.pdf, table 4: measured light against current is a straight line, R 0.9992
    led = Led(**RED | {"intensity": "40 mcd", "intensity_current": "10 mA"})
    assert led.light("10 mA").to("millicandela").magnitude == pytest.approx(40)
    assert led.light(["5 mA", "20 mA"]).to("millicandela").magnitude == pytest.approx([20, 80])
    assert led.light("0 mA").magnitude == 0


def test_without_intensity_there_is_no_light_to_tell():
    with pytest.raises(UnitError, match="a red one has no luminous intensity; give intensity and intensity_current"):
        Led(**RED).light("5 mA")


@pytest.mark.parametrize(
    ("change", "match"),
    [
        ({"zero_at": "50 degC"}, "zero_at needs to be above derate_from, 50 °C; you gave 50 °C"),
        ({"model": None}, 'model needs a ConstantDrop or an Exponential, for example "ConstantDrop.*you gave NoneType'),
        ({"name": None}, "name needs a text"),
        ({"max_current": "0 mA"}, "max_current needs a current from 1 nA to 10 A"),
        ({"max_current": None}, "max_current needs a current"),
        ({"max_reverse_voltage": "0 V"}, "max_reverse_voltage needs a reverse voltage from"),
        ({"drop_below": "-0.1 V"}, "drop_below needs a voltage from 0 V"),
        ({"model": ConstantDrop("2 V"), "drop_below": "2 V"}, "drop_below needs to be less than its drop of 2 V"),
        ({"intensity": "5 mcd"}, "needs intensity_current beside it"),
        ({"intensity_current": "5 mA"}, "needs intensity_current beside it"),
        ({"intensity": "5 mcd", "intensity_current": "0 mA"}, "intensity_current needs a current from"),
        ({"intensity": "5 mcd", "intensity_current": "5 mA", "intensity_min": "6 mcd"}, "in rising order"),
    ],
)
def test_what_is_no_led(change, match):
    with pytest.raises(SigcalcError, match=match):
        Led(**RED | change)


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
            points = [(Q(volts, "V"), Q(amperes, "A")) for volts, amperes in zip(shown, read_at, strict=True)]
            held.append(self.held(Exponential.fitted(points, colour="red"), true.voltage_si(self.CURRENTS)))
        assert np.mean(held) > 0.9

    def test_points_close_together_leave_no_more_open_than_an_odd_led_is(self):
        close = Exponential.fitted([("1.84 V", "9 mA"), ("1.86 V", "10 mA"), ("1.87 V", "11 mA")], colour="red")
        assert Led("own", "red", close, "30 mA").si.drop_above < 0.15

    def test_what_is_said_of_the_drop_goes_first_and_what_was_never_fitted_is_exact(self):
        fitted = Exponential.fitted([("1.9 V", "20 mA")], colour="red")
        led = Led("own", "red", fitted, "30 mA", drop_below="0 V")
        assert led.drop_below == Q("0 V") < led.drop_above
        exact = Led("own", "red", Exponential("1e-21 A", 1.8, "4 ohm"), "30 mA")
        assert exact.drop_below == exact.drop_above == Q("0 V")


# ---- the tables: whole, and against lamps and figures that are none of theirs


@pytest.mark.parametrize("name", leds)
def test_drop_and_light_of_the_sheet_come_back_from_the_model(name):
    led, figures = leds[name], leds.figures(name)
    at = figures["test_current"].text
    assert led.voltage(at).m_as("V") == pytest.approx(Q(figures["forward_voltage"].text).m_as("V"), abs=1e-6)
    most = Q(figures["forward_voltage_max"].text).m_as("V")
    assert (led.voltage(at) + led.drop_above).m_as("V") == pytest.approx(most, abs=1e-6)
    if led.intensity is not None:
        light = led.light(figures["intensity_current"].text)
        assert light.m_as("cd") == pytest.approx(Q(figures["intensity"].text).m_as("cd"))


# Two red LEDs that others measured, which are none of the table's. A student laboratory (github byn1002/
# byn1002.github.io, RGB.pdf, table 1): mA and V; 617 nm at 24 degC (github erg0dic/pnjunction, led2_2976.txt): 1.9738 V
# at 20 mA.
STUDENT = {2.0: 1.6799, 6.5: 1.7385, 19.5: 1.7928, 31.6: 1.8269, 42.0: 1.8497, 58.0: 1.8814}


def test_the_typical_red_lies_between_two_measured_ones():
    assert 1.7928 < leds["red alingap 3 mm"].voltage("20 mA").m_as("V") < 1.9738


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


# T. R. Kuphaldt, Lessons in Electric Circuits Vol. III, ch. 3: usual forward voltages by colour
RANGES = {"red": (1.5, 2.4), "green": (1.7, 2.8), "yellow": (1.7, 2.8), "white": (3.0, 4.0), "ingan": (3.0, 4.0)}


@pytest.mark.parametrize("name", leds)
def test_the_typical_drop_lies_in_the_usual_range_of_its_colour(name):
    led, figures = leds[name], leds.figures(name)
    low, high = RANGES["ingan" if figures["technology"].value == "InGaN" else led.colour]
    assert low <= round(led.voltage(figures["test_current"].text).to("V").magnitude, 6) <= high


@pytest.mark.parametrize("name", leds)
def test_every_led_is_whole(name):
    led = leds[name]
    assert led.name == name == name.lower()
    assert led.note == "typical, not guaranteed"
    assert led.colour in ("red", "green", "yellow", "white")
    assert led.model.fit.assumed == ("ideality", "series_resistance")
    assert led.model.temperature.to("degC").magnitude == pytest.approx(25)
    currents = np.geomspace(1e-6, led.si.max_current, 20)
    volts = led.model.voltage_si(currents)
    assert np.all(np.diff(volts) > 0)
    # at its most current it must not already be beyond its power
    if led.max_power is not None:
        assert led.si.max_current * volts[-1] < led.si.max_power


def test_the_lamps_that_are_promised():
    promised = {
        "red alingap 3 mm",
        "red gaasp 3 mm",
        "red low-current 3 mm",
        "green gap 3 mm",
        "green ingan 3 mm",
        "yellow gaasp 3 mm",
        "white 3 mm",
    }
    assert promised <= set(leds)


@pytest.mark.parametrize("name", diodes)
def test_every_diode_is_whole(name):
    diode = diodes[name]
    # a silicon diode drops 0.5 to 0.8 V at 10 mA (common practice, no source)
    assert 0.5 < diode.voltage("10 mA").to("V").magnitude < 0.8
    assert diode.si.max_reverse_voltage >= 50
    assert diode.intensity is None
    assert diode.note == "typical, not guaranteed"


def test_the_assumed_ideality_is_near_a_measured_one():
    measured = Exponential.fitted([(Q(volts, "V"), Q(each, "mA")) for each, volts in STUDENT.items()])
    assumed = Exponential.fitted([("1.9 V", "20 mA")], colour="red")
    assert assumed.ideality == pytest.approx(measured.ideality, abs=assumed.fit.ideality_spread)


@pytest.mark.parametrize(("technology", "most", "least"), [("AlInGaP", -1.87, -1.67), ("InGaN", -1.2, -1.0)])
def test_the_drop_falls_as_measured_leds_do(technology, most, least):
    # github erg0dic/pnjunction, led2_*.txt: red at 1 to 20 mA and blue InGaN, mV/K
    for name in leds:
        if leds.figures(name)["technology"].value == technology:
            cold, warm = (leds[name].voltage("10 mA", temperature=each).m_as("mV") for each in ("25 degC", "75 degC"))
            assert most <= (warm - cold) / 50 <= least


def test_the_1n4148_drops_what_its_sheets_say():
    # 1N4148 and 1N4448 data sheet (dtsheet.com/doc/562899): 1.0 V at most at 10 mA; the 1N4448, which is the same diode
    # sorted, 0.62 V to 0.72 V at 5 mA and 1.0 V at most at 100 mA
    diode = diodes["1n4148"]
    assert 0.62 <= diode.voltage("5 mA").m_as("V") <= 0.72
    assert diode.voltage("100 mA").m_as("V") <= 1.0

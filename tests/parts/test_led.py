"""The LED as a part: its answers come from its model, its limits and its light are checked."""

import numpy as np
import pytest

from sigcalc import ConstantDrop, Exponential, Led, Q, SigcalcError, leds
from sigcalc.errors import DesignError, RangeError, UnitError

MODEL = Exponential("1e-21 A", 1.8, "4 ohm")
RED = {"name": "a red one", "colour": "red", "model": MODEL, "max_current": "20 mA"}


def test_it_answers_through_its_model():
    led = Led(**RED)
    assert led.voltage("10 mA") == MODEL.voltage("10 mA")
    assert led.current("2 V") == MODEL.current("2 V")
    assert led.voltage("10 mA", temperature="60 degC") == MODEL.voltage("10 mA", temperature="60 degC")
    assert led.current("2 V", temperature="60 degC") == MODEL.current("2 V", temperature="60 degC")


def test_a_constant_drop_is_a_model_too():
    led = Led(**RED | {"model": ConstantDrop("2.1 V")})
    assert led.voltage("10 mA").to("V").magnitude == pytest.approx(2.1)
    assert led.current("1 V").magnitude == 0


def test_quantities_come_back_as_quantities_and_cannot_be_changed():
    led = Led(**RED | {"max_reverse_voltage": "6 V"})
    assert led.max_current == Q("20 mA")
    assert led.max_reverse_voltage == Q("6 V")
    with pytest.raises(AttributeError):
        led.max_current = "30 mA"


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
    ("change", "kind", "match"),
    [
        ({"zero_at": "50 degC"}, RangeError, "zero_at of a red one needs to be above derate_from"),
        ({"model": None}, UnitError, "model needs a ConstantDrop or an Exponential, but NoneType"),
        ({"model": "2 V"}, UnitError, 'model=ConstantDrop\\("2 V"\\)'),
        ({"name": None}, UnitError, "name needs a text"),
        ({"colour": 5}, UnitError, "colour needs a text"),
        ({"max_current": 20}, UnitError, 'for example "10 mA"'),
        ({"max_current": "0 mA"}, RangeError, "max_current of a red one needs to be above zero"),
        ({"max_current": None}, UnitError, "max_current needs a current"),
        ({"max_reverse_voltage": "0 V"}, RangeError, "max_reverse_voltage of a red one"),
        ({"max_reverse_voltage": "-5 V"}, RangeError, "max_reverse_voltage needs"),
        ({"drop_below": "-0.1 V"}, RangeError, "drop_below of a red one needs to be 0 V or more"),
        (
            {"model": ConstantDrop("2 V"), "drop_below": "2 V"},
            RangeError,
            "drop_below of a red one needs to be less than its drop of 2 V",
        ),
        ({"drop_above": "-0.1 V"}, RangeError, "drop_above of a red one needs to be 0 V or more"),
        ({"intensity": "5 mcd"}, UnitError, "needs intensity_current beside it"),
        ({"intensity_current": "5 mA"}, UnitError, "needs intensity_current beside it"),
        ({"intensity": "5 mcd", "intensity_current": "0 mA"}, RangeError, "intensity_current of a red one"),
        ({"max_power": "80 mA"}, UnitError, "max_power needs a power"),
        ({"max_current": ["1 mA", "2 mA"]}, UnitError, "give a single value"),
    ],
)
def test_what_is_no_led(change, kind, match):
    with pytest.raises(kind, match=match):
        Led(**RED | change)


@pytest.mark.parametrize("given", [10, "10", "10 V", "-1 mA", "11 A", "1,5 mA", None, True])
def test_currents_that_are_none(given):
    with pytest.raises(SigcalcError, match="current"):
        Led(**RED).voltage(given)


@pytest.mark.parametrize("given", [2, "2", "2 mA", "61 V", "-20.5 V", None])
def test_voltages_that_are_none(given):
    with pytest.raises(SigcalcError, match="voltage"):
        Led(**RED).current(given)


def test_the_answers_broadcast():
    volts = leds["red alingap 3 mm"].voltage(Q(np.array([[1.0], [20.0]]), "mA"), temperature=["0 degC", "60 degC"])
    assert volts.shape == (2, 2)


def test_it_says_what_it_is():
    assert str(Led(**RED)) == "a red one (red, up to 20 mA)"
    assert "max_current=20 mA" in repr(Led(**RED))


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

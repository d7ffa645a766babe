"""The resistor for an LED: published examples, the choice of a value, refusals and findings."""

import contextlib
import re
from operator import methodcaller

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.lamp.drive import operate
from sigcalc.design.lamp.resistor import choose_resistor, current_band, exact_resistance, random_currents
from sigcalc.errors import SigcalcError
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import ConstantDrop, Exponential, Led, leds
from sigcalc.parts.resistor import USUAL_MARGIN, preferred_values, rating_for
from sigcalc.units import Q
from tests.refusals import wishes_refused


def led(drop, most="50 mA", **more):
    return Led("lamp", "red", ConstantDrop(drop), most, **more)


USUAL = ["bright red 3 mm", "ordinary red 3 mm", "ordinary green 3 mm"]
ohms, milliamperes = methodcaller("m_as", "ohm"), methodcaller("m_as", "mA")


EXACT = [  # supply, drop, current, ohm; each exact
    pytest.param("6 V", "1.6 V", "20 mA", 220, id="Kuphaldt, Lessons in Electric Circuits III ch. 3: 220 ohm"),
    pytest.param("24 V", "1.6 V", "20 mA", 1120, id="Kuphaldt, Lessons in Electric Circuits III ch. 3: 1120 ohm"),
    pytest.param("3 V", "2.1 V", "20 mA", 45, id="Kuphaldt, Lessons in Electric Circuits VI ch. 8: 45 ohm"),
    pytest.param("3 V", "1.5 V", "20 mA", 75, id="Kuphaldt, Lessons in Electric Circuits VI ch. 8: 75 ohm"),
    pytest.param("8 V", "2 V", "20 mA", 300, id="Boylestad, Electronic Devices, Example 2.11, red/green pair: 300 ohm"),
    pytest.param("10 V", "1.6 V", "20 mA", 420, id="Mehta, Principles of Electronics, Example 7.1: 420 ohm"),
    pytest.param("24 V", "2 V", "25 mA", 880, id="Schultz, Grob's Basic Electronics, Example 27-9: 880 ohm"),
    pytest.param("12 V", "1.8 V", "5 mA", 2040, id="Wikipedia, LED circuit (mirror): 2040 ohm"),
    pytest.param("9 V", "1.8 V", "5 mA", 1440, id="Wikipedia, LED circuit (mirror): 1440 ohm"),
    pytest.param("4.0 V", "1.5 V", "10 mA", 250, id="physchem.co.za, OB12-ele/E8: 250 ohm"),
    pytest.param("13.4 V", "1.4 V", "20 mA", 600, id="Sharma, Integrated Circuits, Example 13.12, on a timer: 600 ohm"),
]


@pytest.mark.parametrize(("supply", "drop", "current", "expected"), EXACT)
def test_published_exact_resistance(supply, drop, current, expected):
    assert ohms(exact_resistance(supply=supply, led=led(drop), current=current)) == pytest.approx(expected, rel=1e-9)
    if supply == "3 V":  # Kuphaldt takes 47 ohm for the 45 ohm wanted, and 75 ohm as it is
        assert ohms(choose_resistor(supply, led(drop), current, "E24").resistance) == {45: 47, 75: 75}[expected]


HEAT = [  # supply, drop, resistance; printed power, half its last digit; the rating that is enough
    pytest.param("6 V", "1.6 V", 220, 88, 0.5, 1, "1/8 W", id="Kuphaldt III ch. 3: 88 mW"),
    pytest.param("24 V", "1.6 V", 1120, 448, 0.5, 1, "1/2 W", id="Kuphaldt III ch. 3: 448 mW, 1/8 and 1/4 W burn"),
    pytest.param("6 V", "1 nV", 330, 109.0909, 5e-5, 2, "1/4 W", id="Kuphaldt VI, basic.sml: 109.0909 mW"),
]


@pytest.mark.parametrize(("supply", "drop", "ohm", "milliwatts", "half_digit", "margin", "rating"), HEAT)
def test_published_power_and_rating(supply, drop, ohm, milliwatts, half_digit, margin, rating):
    power = operate(supply, ResistorDrive(Q(ohm, "ohm")), led(drop)).drive_power
    assert power.m_as("mW") == pytest.approx(milliwatts, abs=half_digit)
    assert rating_for(power * (margin / USUAL_MARGIN)).name == rating


# common practice, no source: a red or green 3 mm LED on 9 V takes 600 to 1000 ohm, 7 to 12 mA
@pytest.mark.parametrize("name", USUAL)
def test_common_practice_on_nine_volts(name):
    for current in ("8 mA", "10 mA"):
        choice = choose_resistor("9 V", leds[name], current, series="E24")
        assert 600 <= ohms(choice.resistance) <= 1000
        assert 7 <= milliamperes(choice.current) <= 12


def test_what_a_choice_tells():
    choice = choose_resistor("9 V", led("2 V"), "10 mA")
    assert choice.resistance == Q("820 ohm")
    assert choice.exact == Q("700 ohm")
    band = [milliamperes(each) for each in (choice.current_min, choice.current, choice.current_max)]
    assert band == pytest.approx([7000 / 820 / 1.05, 7000 / 820, 7000 / 820 / 0.95])
    assert choice.power.to("mW").magnitude == pytest.approx(49e3 / 820 / 0.95)
    assert choice.rating == Q("250 mW")
    assert choice.bands == ("grey", "red", "brown", "gold")
    assert choice.code == "820R"


def test_the_wider_band_spans_supply_and_led_too():
    choice = choose_resistor("9 V", led("2 V", drop_below="0.2 V", drop_above="0.6 V"), "10 mA", supply_tolerance="5 %")
    assert milliamperes(choice.worst_min) == pytest.approx(1e3 * (8.55 - 2.6) / 861)
    assert milliamperes(choice.worst_max) == pytest.approx(1e3 * (9.45 - 1.8) / 779)
    assert choice.power.to("W").magnitude == pytest.approx((9.45 - 1.8) ** 2 / 779)
    assert choice.current_max < choice.worst_max


def test_arrays_broadcast_and_leds_in_series_add_up():
    supplies, currents = Q([[6.0], [12.0]], "V"), Q([5.0, 10.0, 20.0], "mA")
    expected = np.array([[880, 440, 220], [2080, 1040, 520]])
    assert ohms(exact_resistance(supplies, led("1.6 V"), currents)) == pytest.approx(expected)
    string = [led("2 V"), led("1.8 V"), led("2.2 V")]
    assert ohms(exact_resistance("12 V", string, "10 mA")) == pytest.approx(600)


@pytest.mark.parametrize("name", list(leds))
def test_the_exact_resistance_gives_the_current(name):
    part = leds[name]
    resistance = ohms(exact_resistance("9 V", part, "5 mA"))

    def left_over(current):
        return 9 - current * resistance - part.voltage(Q(current, "A")).magnitude

    # scipy's root of Kirchhoff's law
    assert brentq(left_over, 1e-6, 6e-3, xtol=1e-15) == pytest.approx(5e-3, rel=1e-9)


@given(st.floats(3, 24), st.sampled_from(USUAL), st.floats(0.5, 20), st.sampled_from(["E6", "E12", "E24", "E96"]))
def test_the_smallest_value_that_keeps_to_the_current(supply, name, current, chosen):
    choice = choose_resistor(Q(supply, "V"), leds[name], Q(current, "mA"), chosen, ambient="20 degC")
    assert milliamperes(choice.current) <= current * (1 + 1e-9)
    assert choice.current_min < choice.current < choice.current_max
    decade = preferred_values(chosen)
    smaller = max(v * 10**p for v in decade for p in range(-1, 6) if v * 10**p < ohms(choice.resistance) * (1 - 1e-9))
    through_smaller = (supply - leds[name].voltage(Q(current, "mA")).magnitude) / smaller * 1e3
    assert through_smaller > current * (1 - 1e-9)


TOO_LOW = "supply 1.5 V is below the LED's drop of 1.9 V at 1 mA: nothing would light; use at least 2.5 V"


test_wishes_that_nothing_fulfils_or_that_cannot_be_read = wishes_refused(
    choose_resistor,
    {"supply": "9 V", "led": led("2 V"), "current": "10 mA"},
    ({"supply": "1.5 V", "led": led("1.9 V"), "current": "1 mA"}, TOO_LOW),
    ({"supply": "5 V", "led": [led("2 V")] * 3}, "the 3 LEDs .* of 6 V at 10 mA: .* 6.5 V or fewer LEDs in series"),
    ({"supply": "2 V"}, "supply 2 V is no more than the LED's drop of 2 V at 10 mA"),
    ({"led": led("2 V", "20 mA"), "current": "30 mA"}, "above the limit of the lamp; ask for at most 20 mA"),
    ({"current": "0 mA"}, 'current 0 A lights nothing and no resistor makes it; ask for a current such as "5 mA"'),
    ({"supply": "2.0001 V"}, "leaves 100 µV for a resistor at 10 mA: too little"),
    ({"current": "0.5 µA"}, "would need 15 MΩ, more than the 10 MΩ that shops sell"),
    ({"supply": "60 V", "current": "50 mA"}, "share it between 3 equal resistors in series"),
    ({"series": "E13"}, "series 'E13' is not known"),
    ({"tolerance": 0.6}, "tolerance needs a tolerance from 0 % to 50 %.* you gave 60 %"),
    ({"led": "red"}, "led needs an Led or a list of them in series.* you gave str"),
    ({"led": []}, "led needs an Led"),
)


def test_the_supply_advised_is_enough():
    assert choose_resistor("2.5 V", led("1.9 V"), "1 mA").resistance == Q("680 ohm")
    assert choose_resistor("6.5 V", [led("2 V")] * 3, "5 mA").resistance == Q("100 ohm")


def graded(grade, **wish):
    choice = choose_resistor(**{"supply": "9 V", "led": led("2 V"), "current": "10 mA"} | wish)
    return {found.topic: found for found in choice.findings if found.grade == grade}


def test_a_sound_choice_is_fine_and_one_whose_resistor_alone_can_pass_the_limit_is_not():
    assert set(graded(FINE)) == {"LED current", "resistor rating"}
    assert graded(LOOK, series="E24") == {}
    close = {"led": led("2 V", "10 mA"), "series": "E24", "supply": "9.4 V"}
    assert "its limit is 10 mA" in graded(STOP, **close)["LED current"].reason
    assert graded(STOP, **close, tolerance=0.01) == {}


def test_findings_name_a_corner_beyond_the_limit_and_a_value_that_mends_it():
    weak = led("2 V", "10 mA", drop_below="0.5 V")
    found = graded(LOOK, led=weak, series="E96", supply_tolerance=0.05, tolerance=0.01)["LED current"]
    assert "its limit is 10 mA" in found.reason
    remedy = found.remedy.removeprefix("Use ").split(",")[0]
    assert (9.45 - 1.5) / (0.99 * ohms(Q(remedy))) <= 10e-3
    assert remedy == "806 Ω"


LOOK_AT = [
    ({"supply": "2.3 V", "led": led("2 V", drop_above="0.25 V")}, "supply", "is left for the resistor"),
    ({"supply": "2.3 V", "led": led("2 V", drop_above="0.4 V")}, "LED current", "too dim to see"),
    ({"series": "E3", "current": "13 mA"}, "value", "1 kΩ is the nearest value of E3 .* gives only 53.8 % of it"),
    ({"current": "20 mA"}, "LED current", "20 mA is the ceiling of a usual LED, not the aim"),
    ({"series": "E96"}, "resistor tolerance", "Values of E96 are made with 1 % or closer, not 5 %"),
]


@pytest.mark.parametrize(("wish", "topic", "said"), LOOK_AT)
def test_findings_to_look_at(wish, topic, said):
    assert re.search(said, graded(LOOK, **wish)[topic].reason)


@given(
    st.one_of(st.floats(-30, 70).map(lambda volts: Q(volts, "V")), st.text(max_size=6)),
    st.one_of(st.floats(0, 0.1).map(lambda amperes: Q(amperes, "A")), st.none(), st.floats()),
    st.one_of(st.floats(), st.sampled_from([0.05, "5 %"])),
    st.floats(0, 1),
    st.sampled_from([led("2 V"), [led("2 V"), leds["white 3 mm"]], leds["ordinary red 3 mm"], None]),
)
def test_any_wish_gives_a_choice_or_a_refusal(supply, current, tolerance, supply_tolerance, lamp):
    with contextlib.suppress(SigcalcError):
        choice = choose_resistor(supply, lamp, current, "E24", tolerance, supply_tolerance)
        figures = [value for value in vars(choice.si).values() if isinstance(value, float)]
        assert np.all(np.isfinite(figures))
        assert choice.worst_min <= choice.current_min <= choice.current <= choice.current_max <= choice.worst_max
        assert choice.rating >= 2 * choice.power * (1 - 1e-9)
        assert choice.findings


def test_the_power_counts_the_resistor_as_printed_too():
    """By hand: where the LED's slope resists as much as the resistor does, I squared times R is greatest in between."""
    led = Led("soft", "red", Exponential("3.27e-21 A", 2.308, "8.54 ohm"), "30 mA")
    choice = choose_resistor("2.7554 V", led, "9.93 mA", series="E24", tolerance=0.05)
    si = choice.si
    nominal = si.current**2 * si.resistance
    assert nominal > max(si.current_max**2 * 0.95 * si.resistance, si.current_min**2 * 1.05 * si.resistance)
    assert si.power == pytest.approx(nominal, rel=1e-9)


# ---- many random sets of parts


def test_the_random_sets_are_repeatable():
    one, again, other = (random_currents("9 V", led("2 V"), "680 ohm", seed=seed) for seed in (7, 7, 8))
    assert np.array_equal(one.m, again.m)
    assert not np.array_equal(one.m, other.m)


def test_the_distributions_are_those_named():
    def percentiles(*parts):
        return np.percentile(milliamperes(random_currents("9 V", *parts, draws=100_000)), (5, 95))

    # one at a time; percentiles of the uniform and of the triangular distribution by hand
    assert percentiles(led("2 V"), "700 ohm", 0.0, 0.1)[1] == pytest.approx((9 * (1 + 0.1 * 0.9) - 2) / 0.7, rel=2e-3)
    assert percentiles(led("2 V"), "700 ohm", 0.1)[0] == pytest.approx(7 / (0.7 * (1 + 0.1 * 0.9)), rel=2e-3)
    low, high = percentiles(led("2 V", drop_below="0.5 V", drop_above="1 V"), "700 ohm", 0.0)
    # 5 of 100 are above 1 - sqrt(2 * 0.05) of the way to the most drop
    assert low == pytest.approx((7 - 1 * (1 - np.sqrt(0.1))) / 0.7, rel=2e-3)
    assert high == pytest.approx((7 + 0.5 * (1 - np.sqrt(0.1))) / 0.7, rel=2e-3)


@given(st.floats(4, 24), st.sampled_from(USUAL), st.floats(100, 1e5), st.floats(0, 0.2), st.floats(0, 0.2))
def test_random_parts_stay_between_the_corners(supply, name, resistance, tolerance, supply_tolerance):
    parts = (Q(supply, "V"), leds[name], Q(resistance, "ohm"), tolerance, supply_tolerance)
    band, _ = current_band(supply, resistance, (leds[name],), tolerance, supply_tolerance)
    currents = random_currents(*parts, draws=200).m_as("A")
    values = [band.least, currents.min(), currents.max(), band.most]
    assert np.all(np.diff(values) >= -1e-12 * values[-1])

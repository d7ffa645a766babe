"""The LEDs and diodes of the tables: whole, and against lamps and figures that are none of theirs."""

import numpy as np
import pytest

from sigcalc import Q, diodes, leds
from sigcalc.errors import UnknownNameError
from sigcalc.parts.led_model import Exponential
from sigcalc.parts.table import read_figures


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


@pytest.mark.parametrize(
    ("wrong", "near"),
    [("red alingap", "red alingap 3 mm"), ("GREEN GAP 3 MM", "green gap 3 mm"), ("wite", "white 3 mm")],
)
def test_a_name_in_no_table_lists_the_nearest(wrong, near):
    with pytest.raises(UnknownNameError, match=f"LED '{wrong}' is not known; use one of: .*'{near}'"):
        leds[wrong]


def test_the_figures_behind_a_lamp_can_be_read():
    figures = leds.figures("red alingap 3 mm")
    assert figures["forward_voltage"].text == "1.9 V"
    assert "TLHK4400L" in figures["forward_voltage"].source
    assert figures["forward_voltage_min"].from_memory
    assert read_figures("leds.csv")["red alingap 3 mm"] == figures

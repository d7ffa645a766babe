"""An LED on a real source, bare or with a resistor: Kuphaldt's example, the coin cell, bands, a little more voltage."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.lamp.direct import VERDICTS, connect_directly, connect_to_source, steepness
from sigcalc.design.lamp.drive import operate
from sigcalc.errors import SigcalcError
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import ConstantDrop, Exponential, Led, leds
from sigcalc.parts.source import Adapter, adapters, batteries
from sigcalc.units import Q
from tests.refusals import refused

RED = leds["bright red 3 mm"]
WHITE = leds["white 3 mm"]
SOURCES = {**batteries, **adapters}
anything = {"source": st.sampled_from(list(SOURCES.values())), "led": st.sampled_from(list(leds.values()))}


@pytest.mark.parametrize(("drop", "milliamperes"), [("2.5 V", 18.5), ("2.1 V", 33), ("1.5 V", 56)])
def test_a_small_resistance_leaves_the_current_to_the_lamps_drop(drop, milliamperes):
    # Kuphaldt, Lessons in Electric Circuits: 3 V and 27 ohm; here the 27 ohm are the source's own
    led = Led("textbook", "red", ConstantDrop(drop), max_current="30 mA")
    result = connect_directly(Adapter("textbook", "3 V", 0.0, "27 ohm", "1 A"), led)
    assert result.si.current * 1e3 == pytest.approx(milliamperes, abs=0.5)


def test_every_source_but_the_coin_cell_destroys_a_red_lamp_and_one_below_the_drop_lights_nothing():
    for name in SOURCES.keys() - {"3 V coin cell"}:
        result = connect_directly(SOURCES[name], RED)
        (finding,) = result.findings
        assert (result.verdict, finding.grade, "resistor" in finding.remedy) == ("destroyed", STOP, True)
    result = connect_directly(Adapter("one cell", "1.2 V", 0.0, "0.2 ohm", "1 A"), RED)
    assert (result.verdict, result.findings[0].grade) == ("stays dark", LOOK)


def test_the_coin_cell_is_answered_honestly_and_its_heat_told():
    cell = batteries["3 V coin cell"]
    result = connect_directly(cell, RED, "25 degC")
    assert result.verdict == "may survive"
    assert result.si.current_min < RED.si.max_current < result.si.current_max
    (finding,) = result.findings
    assert "Only the 25 Ω inside the source hold the current down" in finding.reason
    drop = cell.si.fresh_voltage - result.si.current * 25
    assert result.si.led_power == pytest.approx(result.si.current * drop, rel=1e-6)
    # Vishay TLHK4400L: RthJA 400 K/W
    assert result.junction_temperature.m_as("K") == pytest.approx(298.15 + 400 * result.si.led_power, rel=1e-9)
    assert connect_directly(cell, Led("x", "red", RED.model, "30 mA")).junction_temperature is None


IDEAL = Adapter("ideal", "9 V", 0.0, "0 ohm", "1 A")


test_what_is_refused_and_how = refused(
    (lambda: connect_directly("9 V", RED), "Battery or an Adapter"),
    (lambda: connect_directly(IDEAL, [RED, RED]), "one Led"),
    (lambda: connect_directly(IDEAL, Led("c", "red", ConstantDrop("2 V"), "1 A")), "no limit"),
    (lambda: steepness(RED, "0 V"), "voltage needs a voltage from 1 mV"),
    (lambda: steepness(RED, "1.8 V", "0 V"), "step needs a voltage from 1 mV"),
    (lambda: steepness("red", "1.8 V"), "led needs one Led"),
)


def test_the_current_solves_the_circuit():
    source = batteries["6 x AA alkaline"]
    model = Exponential("1e-20 A", 1.8, "3 ohm", "27 degC")
    emission = 1.8 * 1.380649e-23 * 300.15 / 1.602176634e-19

    def excess(current):
        drop = emission * math.log1p(current / 1e-20) + current * 3
        return drop + current * source.si.internal_resistance - source.si.fresh_voltage

    lamp = Led("made up", "red", model, "30 mA")
    for ohms in (0, 470):
        root = brentq(lambda current: excess(current) + ohms * current, 1e-6, 10, xtol=1e-15)  # noqa: B023
        found = connect_to_source(source, lamp, Q(ohms, "ohm"), 0.0, "27 degC")
        assert found.si.current == pytest.approx(root, rel=1e-9)


def test_in_hot_air_less_is_too_much():
    """HLMP-1450 data sheet: 30 mA up to 50 °C, 5 mA at 100 °C. A tired coin cell drives some 10 mA."""
    tired = Adapter("tired coin cell", "2.2 V", 0.0, "30 ohm", "1 A")
    lamp = leds["ordinary red 3 mm"]
    assert connect_directly(tired, lamp).verdict == "survives"
    assert connect_directly(tired, lamp, "100 degC").verdict != "survives"


@given(**anything, ambient=st.floats(218.15, 400))
def test_the_band_encloses_the_nominal_and_the_verdict_is_one_of_four(source, led, ambient):
    try:
        result = connect_directly(source, led, Q(ambient, "K"))
    except SigcalcError:
        return
    assert 0 <= result.si.current_min <= result.si.current <= result.si.current_max < math.inf
    assert result.verdict in VERDICTS
    assert all(str(each) for each in result.findings)


# ---- with a resistor


@given(**anything, ohms=st.floats(1, 1e4))
def test_the_voltages_add_up_and_more_resistance_means_less_current_and_less_added(source, led, ohms):
    less, more = (connect_to_source(source, led, f"{each!r} ohm").si for each in (ohms, 1.5 * ohms))
    across = led.model.voltage_si(less.current) + less.current * (less.internal_resistance + ohms)
    assert across == pytest.approx(less.open_voltage, rel=1e-9)
    lost = less.current * less.internal_resistance
    assert less.terminal_voltage == pytest.approx(less.open_voltage - lost, rel=1e-12)
    assert more.current < less.current
    assert 0 < more.added < less.added


def test_the_added_current_is_that_of_a_higher_supply():
    si = connect_to_source(adapters["12 V regulated"], RED, "1 kohm").si
    drive = ResistorDrive(f"{1000 + si.internal_resistance!r} ohm")
    lower, higher = operate(["12 V", "12.1 V"], drive, RED).si.current
    assert si.added == pytest.approx(higher - lower, rel=1e-9)
    # an LED far above its knee: nearly the step over the resistance alone
    assert si.added == pytest.approx(0.1 / 1000, rel=0.03)


@pytest.mark.parametrize(("ohms", "grades"), [("200 ohm", {STOP}), ("260 ohm", {LOOK}), ("470 ohm", {FINE})])
def test_a_band_that_reaches_over_the_limit_is_a_finding(ohms, grades):
    # nominal above the 30 mA limit; nominal below and the most above it; all below
    result = connect_to_source(batteries["9 V alkaline"], RED, ohms)
    assert (result.si.current > 30e-3) is (ohms == "200 ohm")
    found = result.findings
    assert {each.grade for each in found} - {FINE} or {FINE} == grades
    assert any("spread" in each.topic for each in found) is (ohms == "260 ohm")


# ---- a little more voltage


def test_without_series_resistance_the_current_grows_by_the_exponential():
    bare = Led("bare", "red", Exponential("1e-20 A", 1.7, "0 ohm", "27 degC"), "30 mA")
    si = steepness(bare, "1.8 V").si
    # kT/q at 300.15 K is 25.865 mV (SPICE's 27 °C)
    assert si.times == pytest.approx(math.exp(0.1 / (1.7 * 25.865e-3)), rel=2e-4)
    # the resistor beside it starts with the same current and goes on in a straight line
    assert si.voltage / si.resistance == pytest.approx(si.current)
    assert si.resistor_after == pytest.approx(si.current * si.resistor_times)
    assert si.resistor_times == pytest.approx(1.9 / 1.8)


@given(led=st.sampled_from(list(leds.values())), volts=st.floats(0.01, 20), step=st.floats(0.01, 2))
def test_an_led_is_always_the_steeper_one(led, volts, step):
    found = steepness(led, f"{volts!r} V", f"{step!r} V")
    si = found.si
    assert found.dark == (led.model.current_si(volts) < 1e-6)
    assert led.model.current_si(si.lit_from) == pytest.approx(10e-6)
    assert si.times > si.resistor_times > 1
    assert si.current_after == pytest.approx(si.times * si.current)

"""An LED straight on a real source: Kuphaldt's example, the coin cell, and the band from least to most."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from sigcalc.design.lamp.direct import VERDICTS, connect_directly, findings
from sigcalc.errors import DesignError, SigcalcError, UnitError
from sigcalc.parts.led import ConstantDrop, Exponential, Led, leds
from sigcalc.parts.source import Adapter, adapters, batteries
from sigcalc.units import Q

RED = leds["red alingap 3 mm"]
WHITE = leds["white 3 mm"]
SOURCES = {**batteries, **adapters}


@pytest.mark.parametrize(("drop", "milliamperes"), [("2.5 V", 18.5), ("2.1 V", 33), ("1.5 V", 56)])
def test_a_small_resistance_leaves_the_current_to_the_lamps_drop(drop, milliamperes):
    # Kuphaldt, Lessons in Electric Circuits: 3 V and 27 ohm; here the 27 ohm are the source's own
    led = Led("textbook", "red", ConstantDrop(drop), max_current="30 mA")
    result = connect_directly(Adapter("textbook", "3 V", 0.0, "27 ohm", "1 A"), led)
    assert result.si.current * 1e3 == pytest.approx(milliamperes, abs=0.5)


@pytest.mark.parametrize("source", [name for name in SOURCES if name != "3 V coin cell"])
def test_every_source_but_the_coin_cell_destroys_a_red_lamp(source):
    result = connect_directly(SOURCES[source], RED)
    assert result.verdict == "destroyed"
    (finding,) = findings(result)
    assert finding.grade == "do not build"
    assert "resistor" in finding.remedy


def test_the_coin_cell_is_answered_honestly():
    result = connect_directly(batteries["3 V coin cell"], RED)
    assert result.verdict == "may survive"
    assert result.si.current_min < RED.si.max_current < result.si.current_max
    (finding,) = findings(result)
    assert "own 25 Ω is all that holds the current down" in finding.reason


def test_a_white_lamp_on_a_coin_cell():
    result = connect_directly(batteries["3 V coin cell"], WHITE)
    assert result.verdict in {"survives", "may survive"}
    assert findings(result)[0].grade in {"look again", "do not build"}


def test_a_source_below_the_drop_lights_nothing():
    result = connect_directly(Adapter("one cell", "1.2 V", 0.0, "0.2 ohm", "1 A"), RED)
    assert result.verdict == "stays dark"
    assert findings(result)[0].grade == "look again"


def test_the_current_solves_the_circuit():
    source = batteries["6 x AA alkaline"]
    model = Exponential("1e-20 A", 1.8, "3 ohm", "27 degC")
    emission = 1.8 * 1.380649e-23 * 300.15 / 1.602176634e-19

    def excess(current):
        drop = emission * math.log1p(current / 1e-20) + current * 3
        return drop + current * source.si.internal_resistance - source.si.fresh_voltage

    result = connect_directly(source, Led("made up", "red", model, "30 mA"), "27 degC")
    assert result.si.current == pytest.approx(brentq(excess, 1e-6, 10, xtol=1e-15), rel=1e-9)


def test_heat_and_junction_temperature():
    result = connect_directly(batteries["3 V coin cell"], RED, "25 degC").si
    drop = batteries["3 V coin cell"].si.fresh_voltage - result.current * 25
    assert result.led_power == pytest.approx(result.current * drop, rel=1e-6)
    # Vishay TLHK4400L: RthJA 400 K/W
    junction = connect_directly(batteries["3 V coin cell"], RED, "25 degC").junction_temperature
    assert junction == pytest.approx(298.15 + 400 * result.led_power, rel=1e-9)
    assert (
        connect_directly(batteries["3 V coin cell"], Led("x", "red", RED.model, "30 mA")).junction_temperature is None
    )


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: connect_directly("9 V", RED), UnitError, "Battery or an Adapter"),
        (lambda: connect_directly(batteries["9 V alkaline"], [RED, RED]), UnitError, "one Led"),
        (
            lambda: connect_directly(
                Adapter("ideal", "9 V", 0.0, "0 ohm", "1 A"), Led("c", "red", ConstantDrop("2 V"), "1 A")
            ),
            DesignError,
            "no limit",
        ),
    ],
)
def test_what_is_refused_and_how(call, kind, said):
    with pytest.raises(kind, match=said):
        call()


def test_in_hot_air_less_is_too_much():
    """HLMP-1450 data sheet: 30 mA up to 50 °C, 5 mA at 100 °C. A tired coin cell drives some 10 mA."""
    tired = Adapter("tired coin cell", "2.2 V", 0.0, "30 ohm", "1 A")
    lamp = leds["red gaasp 3 mm"]
    assert connect_directly(tired, lamp).verdict == "survives"
    assert connect_directly(tired, lamp, "100 degC").verdict != "survives"


@given(
    source=st.sampled_from(sorted(SOURCES)),
    led=st.sampled_from(sorted(leds)),
    ambient=st.floats(218.15, 400),
)
def test_the_band_encloses_the_nominal_and_the_verdict_is_one_of_four(source, led, ambient):
    try:
        result = connect_directly(SOURCES[source], leds[led], Q(ambient, "K"))
    except SigcalcError:
        return
    assert 0 <= result.si.current_min <= result.si.current <= result.si.current_max < math.inf
    assert result.verdict in VERDICTS
    assert all(str(each) for each in findings(result))

"""An LED on a real source: agreement with its neighbours, bands, and the little more voltage."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from sigcalc.design.findings import LOOK
from sigcalc.design.lamp.direct import connect_directly
from sigcalc.design.lamp.drive import operate
from sigcalc.design.lamp.from_source import connect_to_source, findings
from sigcalc.errors import UnitError
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.source import adapters, batteries

SOURCES = {**batteries, **adapters}
RED = leds["red alingap 3 mm"]
anything = {"source": st.sampled_from(list(SOURCES.values())), "led": st.sampled_from(list(leds.values()))}


@given(**anything)
def test_without_a_resistor_it_is_the_direct_connection(source, led):
    ours, direct = connect_to_source(source, led), connect_directly(source, led)
    for name in ("current", "current_min", "current_max"):
        assert getattr(ours.si, name) == pytest.approx(getattr(direct.si, name), rel=1e-9)


@given(**anything, ohms=st.floats(1, 1e5))
def test_the_voltages_add_up_to_the_open_voltage(source, led, ohms):
    si = connect_to_source(source, led, f"{ohms!r} ohm").si
    across = led.model.voltage_si(si.current) + si.current * (si.internal_resistance + ohms)
    assert across == pytest.approx(si.open_voltage, rel=1e-9)
    assert si.terminal_voltage == pytest.approx(si.open_voltage - si.current * si.internal_resistance, rel=1e-12)


def test_an_independent_root_finder_agrees():
    volts, inside = 9.5, 2.5
    triple = RED.model.triple()

    def left(current):
        saturation, emission, series = triple
        return volts - current * (inside + 470 + series) - emission * np.log1p(current / saturation)

    battery = batteries["9 V alkaline"]
    assert battery.corners[1] == (volts, inside)
    assert connect_to_source(battery, RED, "470 ohm").si.current == pytest.approx(brentq(left, 0, 1, xtol=1e-15))


@given(**anything, ohms=st.floats(0, 1e5))
def test_the_band_holds_the_nominal_current(source, led, ohms):
    si = connect_to_source(source, led, f"{ohms!r} ohm").si
    assert 0 <= si.current_min <= si.current <= si.current_max


@given(**anything, ohms=st.floats(1, 1e4))
def test_more_resistance_means_less_current_and_less_added(source, led, ohms):
    less, more = (connect_to_source(source, led, f"{each!r} ohm").si for each in (ohms, 1.5 * ohms))
    assert more.current < less.current
    assert 0 < more.added < less.added


def test_the_added_current_is_that_of_a_higher_supply():
    si = connect_to_source(adapters["12 V regulated"], RED, "1 kohm").si
    higher, lower = (
        operate(f"{volts} V", ResistorDrive(f"{1000 + si.internal_resistance!r} ohm"), RED).si.current
        for volts in (12.1, 12)
    )
    assert si.added == pytest.approx(higher - lower, rel=1e-9)
    # an LED far above its knee: nearly the step over the resistance alone
    assert si.added == pytest.approx(0.1 / 1000, rel=0.03)


def test_the_source_must_be_one():
    with pytest.raises(UnitError, match="source needs a Battery or an Adapter, but str came"):
        connect_to_source("9 V", RED)
    with pytest.raises(UnitError, match="led needs an Led"):
        connect_to_source(batteries["9 V alkaline"], "red")


@pytest.mark.parametrize(("ohms", "grades"), [("200 ohm", []), ("260 ohm", [LOOK]), ("470 ohm", [])])
def test_only_a_band_that_reaches_over_the_limit_is_a_finding(ohms, grades):
    # nominal above the 30 mA limit; nominal below and the most above it; all below
    result = connect_to_source(batteries["9 V alkaline"], RED, ohms)
    assert (result.si.current > 30e-3) is (ohms == "200 ohm")
    assert [each.grade for each in findings(result)] == grades

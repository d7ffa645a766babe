"""One limiter for several lamps: the sum it holds, how it divides, and what is refused."""

import dataclasses
from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.lamp.drive import operate
from sigcalc.design.pair.shared_limiter import share_limiter
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import ConstantDrop, Led, leds
from sigcalc.units import Q
from tests.refusals import refused

RED, GREEN = leds["bright red 3 mm"], leds["ordinary green 3 mm"]
LIMITER = ConstantCurrentDrive("15 mA", "1.5 V")
WISHES = [(RED, "5 mA", "0 ohm"), (GREEN, "10 mA", "0 ohm")]


@settings(max_examples=40)
@given(st.floats(1, 20), st.floats(0, 1000), st.floats(0, 1000))
def test_the_sum_is_held_and_both_branches_see_one_voltage(volts, own_red, own_green):
    wishes = [(RED, "5 mA", Q(own_red, "ohm")), (GREEN, "10 mA", Q(own_green, "ohm"))]
    si = share_limiter(Q(volts, "V"), LIMITER, wishes).si
    assert si.current.sum() <= 0.015 * (1 + 1e-9)
    for led, own, current in zip((RED, GREEN), (own_red, own_green), si.current, strict=True):
        assert led.model.voltage_si(current) + current * own == pytest.approx(si.node_voltage[0], rel=1e-6)


def test_an_independent_root_finder_divides_the_current_alike():
    si = share_limiter("9 V", LIMITER, WISHES).si

    def left(node):
        return sum(float(led.model.current_si(node)) for led in (RED, GREEN)) - 0.015

    node = brentq(left, 1, 3, xtol=1e-14)
    assert si.node_voltage[0] == pytest.approx(node, rel=1e-9)
    assert si.current == pytest.approx([float(led.model.current_si(node)) for led in (RED, GREEN)], rel=1e-6)


def test_the_lower_drop_takes_nearly_all_and_in_turn_each_gets_all():
    together, turns = (share_limiter("9 V", LIMITER, WISHES, each) for each in (True, False))
    assert together.si.current[0] > 0.99 * 0.015
    assert turns.si.current == pytest.approx([0.015, 0.015])
    assert len(turns.si.node_voltage) == 2
    assert "lowest drop" in together.findings[-1].reason
    assert "changes nothing" in turns.findings[-1].reason


def test_leds_side_by_side_want_a_resistor_each_and_a_string_shares_one():
    # Kuphaldt, Lessons in Electric Circuits vol. III ch. 3 "Special-purpose diodes", a statement: each LED of
    # a parallel group needs its own resistor; LEDs in series share one
    less = Led("a sample with less drop", "red", dataclasses.replace(RED.model, saturation_current="7e-20 A"), "30 mA")
    drops = [led.voltage("10 mA").m_as("V") for led in (RED, less)]
    assert 0.1 < drops[0] - drops[1] < 0.2  # well inside the data sheet's spread (TLHK4400L: 1.9 V typical, 2.6 most)
    driver = ConstantCurrentDrive("20 mA", "1.5 V")

    def ratio(own):
        si = share_limiter("12 V", driver, [(led, "10 mA", own) for led in (RED, less)]).si
        return si.current[1] / si.current[0]

    assert ratio("0 ohm") > 3
    assert ratio("470 ohm") < 1.05
    string = operate("12 V", ResistorDrive("820 ohm"), [RED, less])
    both = sum(led.voltage(string.current).m_as("V") for led in (RED, less))  # at one and the same current
    assert string.led_voltage.m_as("V") == pytest.approx(both, rel=1e-12)


def test_wishes_that_are_met_lamps_that_are_overloaded_and_a_limiter_below_drop_out():
    same = share_limiter("9 V", ConstantCurrentDrive("10 mA", "1.5 V"), [(RED, "5 mA", "0 ohm")] * 2)
    assert [each.grade for each in same.findings] == [FINE, FINE]
    much = share_limiter("9 V", ConstantCurrentDrive("40 mA", "1.5 V"), WISHES)
    assert [each.grade for each in much.findings] == [STOP, LOOK, LOOK]
    si = share_limiter("3 V", LIMITER, WISHES).si
    assert si.current.sum() == pytest.approx((3 - si.node_voltage[0]) / 100, rel=1e-9)


PLAIN = Led("plain", "red", ConstantDrop("2 V"), "30 mA")


test_what_is_refused_and_how = refused(
    (partial(share_limiter, "9 V", ResistorDrive("1 kohm"), WISHES), "sets no limit"),
    (partial(share_limiter, "9 V", LIMITER, WISHES[:1]), "two or more"),
    (partial(share_limiter, "9 V", LIMITER, [RED, GREEN]), "two or more"),
    (partial(share_limiter, "-9 V", LIMITER, WISHES), "reverse it"),
    (partial(share_limiter, "9 V", LIMITER, [(PLAIN, "5 mA", "0 ohm")] * 2), "Exponential"),
    (partial(share_limiter, "9 V", LIMITER, [(RED, "0 mA", "0 ohm")] * 2), "leave out a branch"),
    (partial(share_limiter, "9 V", LIMITER, [(RED, 5, "0 ohm")] * 2), "wanted current"),
)

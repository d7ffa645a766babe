"""The exercises of the planner's lesson: right answers by an independent way, and every slip is told apart."""

import pytest

from sigcalc.design.lamp.resistor import choose_resistor
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.lessons.plan_your_signal import RED, battery_resistor, dark_lamp_voltage
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from tests.lessons.sound import assert_sound


def test_the_resistor_is_sound_and_the_one_that_the_library_chooses():
    question = battery_resistor()
    assert_sound(question)
    assert question.answer == choose_resistor("9.5 V", leds[RED], "5 mA").si.resistance


def test_the_dark_lamp_sees_what_the_pair_says():
    """With a resistor in each branch and none shared the lit branch's drop does not shield the dark lamp."""
    question = dark_lamp_voltage()
    pair = TwoLeadPair(leds[RED], leds["green gap 3 mm"], extra_red="2.2 kohm", extra_green="2.2 kohm")
    point = pair.operate("12 V", ResistorDrive("0 ohm"), +1)
    assert question.answer == pytest.approx(float(point.si.reverse_voltage))


def test_each_slip_about_the_dark_lamp_has_its_reason():
    question = dark_lamp_voltage()
    assert question.check("12 V").right
    reasons = [question.check(f"{each.value!r} V").reason for each in question.mistakes]
    assert reasons == [each.reason for each in question.mistakes]
    assert len(set(reasons)) == 3

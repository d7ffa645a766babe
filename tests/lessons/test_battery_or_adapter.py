"""The exercises of "battery or adapter": right answers by arithmetic, and every slip is told apart."""

import numpy as np
import pytest

from sigcalc.lessons.battery_or_adapter import evening_that_pays, hours_with_relay, questions, unregulated_voltage
from sigcalc.parts.source import batteries
from tests.lessons.sound import assert_sound


@pytest.mark.parametrize("question", questions(), ids=lambda each: each.text[:24])
def test_it_is_sound(question):
    assert_sound(question)


def test_the_hours_with_a_relay():
    drain = 20e-3 + 9 / 540  # coil of 540 ohm: Omron G5V-2-H1 data sheet
    drains, charges = batteries["9 V alkaline"].capacity_band()
    charge = np.exp(np.interp(np.log(drain), np.log(drains), np.log(charges[1])))
    question = hours_with_relay()
    assert question.answer == pytest.approx(charge / drain, rel=1e-6)
    assert "left out the relay" in question.check(f"{charge / 20e-3 / 3600} h").reason


def test_the_unregulated_adapter():
    # a straight line from 13.3 V at nothing to 9 V at 500 mA
    question = unregulated_voltage()
    assert question.answer == pytest.approx(13.3 - 4.3 * 100 / 500)
    assert "full printed current only" in question.check("9 V").reason


def test_the_evening_that_pays():
    question = evening_that_pays()
    assert question.answer == 18 / (6 / 4)
    assert question.check("12").right
    assert not question.check("12 h").right
    assert "how many batteries" in question.check("3").reason

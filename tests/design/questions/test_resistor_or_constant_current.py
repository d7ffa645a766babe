"""The exercises of "resistor or constant current": right answers by arithmetic, and every slip is told apart."""

import eseries
import pytest

from sigcalc.design.questions.resistor_or_constant_current import (
    least_supply,
    questions,
    regulator_resistor,
    sagged_current,
)
from tests.design.questions.sound import assert_sound


@pytest.mark.parametrize("question", questions(), ids=lambda each: each.text[:24])
def test_it_is_sound(question):
    assert_sound(question)


def test_the_sagged_current():
    assert sagged_current().answer == pytest.approx((6.5 - 1.9) / 820)
    assert "in step with the supply" in sagged_current().check("6.25 mA").reason


def test_the_least_supply():
    question = least_supply()
    assert question.answer == pytest.approx(1.9 + 1.9 + 1.5)
    assert question.text.startswith("Two red LEDs")
    assert question.check("5.3 V").right


def test_the_regulator_s_resistor_is_that_of_another_program():
    question = regulator_resistor()
    assert question.answer == eseries.find_greater_than_or_equal(eseries.E24, 1.25 / 15e-3)
    assert "nobody sells it" in question.check("83.3 ohm").reason
    assert "more than you allow" in question.check("82 ohm").reason

"""The exercises of "resistor or constant current": right answers by arithmetic, and every slip is told apart."""

import re

import eseries
import pytest

from sigcalc.lessons.resistor_or_constant_current import least_supply, questions, regulator_resistor, sagged_current
from sigcalc.panels.resistor_or_constant_current import DriveChoice
from tests.lessons.sound import assert_sound


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


@pytest.mark.parametrize("current", [5, 8.66, 10, 15, 20])
def test_the_least_supply_that_the_panel_shows_is_right(current):
    panel = DriveChoice()
    panel["in series"].value, panel["wanted current"].value = 2, current
    (shown,) = re.findall(r"above ([\d.]+ V)", panel.view.value)
    assert least_supply().check(shown).right


def test_the_sagged_current_that_the_panel_shows_is_right():
    panel = DriveChoice()
    panel["wanted current"].value, panel["it has sagged by"].value = 8.8, 2.5
    assert "820 Ω" in panel.view.value
    (shown,) = re.findall(r"light \(([\d.]+ mA)\) and", panel.picture.sentence)
    assert sagged_current().check(shown).right


def test_the_regulator_s_resistor_is_that_of_another_program():
    question = regulator_resistor()
    assert question.answer == eseries.find_greater_than_or_equal(eseries.E24, 1.25 / 15e-3)
    assert "nobody sells it" in question.check("83.3 ohm").reason
    assert "more than you allow" in question.check("82 ohm").reason

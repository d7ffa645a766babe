"""The exercises of "why a resistor": right answers by an independent way, and every slip is told apart."""

import math
import re

import pytest

from sigcalc.lessons.why_a_resistor import RED, VOLTAGE, coin_cell, current_with_resistor, questions, times_as_much
from sigcalc.panels.why_a_resistor import BARE, SOURCES, ALittleMore, WhyAResistor
from sigcalc.parts.led import leds
from tests.lessons.sound import assert_sound


@pytest.mark.parametrize("question", questions(), ids=lambda each: each.text[:24])
def test_it_is_sound(question):
    assert_sound(question)


def test_the_current_with_a_resistor_is_ohms_law():
    question = current_with_resistor()
    assert question.answer == pytest.approx((9.5 - 1.9) / 470)
    assert all(figure in question.text for figure in ("9.5 V", "470 Ω", "1.9 V"))
    assert question.check("20.2 mA").reason.startswith("Not the whole voltage is across the resistor")


def test_the_step_of_the_curve_follows_from_the_junction_law():
    question, (saturation, emission, series) = times_as_much(), leds[RED].model.triple()
    current = 1e-3
    for _ in range(200):  # the same loop by plain fixed-point steps of the voltage law
        current = 0.5 * (current + saturation * math.expm1((VOLTAGE + 0.1 - current * series) / emission))
    before = leds[RED].model.current_si(VOLTAGE)
    assert question.answer == pytest.approx(current / before, rel=1e-6)


def test_the_panel_shows_what_the_exercise_asks_for():
    panel = ALittleMore()
    panel["voltage"].value = VOLTAGE
    assert panel["LED"].value is leds[RED]
    assert f"{times_as_much().answer:.3g} times as much" in panel.picture.sentence


def test_the_coin_cell():
    question = coin_cell()
    assert question.answer == pytest.approx((3.1 - 1.9) / 25)
    assert not question.check("0 A").right
    assert "30 mA" in question.working


def test_what_the_panel_shows_of_the_coin_cell_is_right():
    panel = WhyAResistor()
    panel["source"].value, panel[BARE].value = SOURCES["3 V coin cell"], True
    (shown,) = re.findall(r"would be ([\d.]+ mA)", panel.picture.sentence)
    assert f"the panel shows {shown}" in coin_cell().check(shown).reason
    assert coin_cell().check(shown.removesuffix(" mA")).right


def test_what_the_panel_shows_of_the_nine_volt_battery_is_right():
    (shown,) = re.findall(r"LED is ([\d.]+ mA)", WhyAResistor().picture.sentence)
    assert current_with_resistor().check(shown).right


def test_about_four_times_is_right():
    assert times_as_much().check("4 times").right
    assert not times_as_much().check("3 times").right
    assert not times_as_much().check("5 times").right

"""The exercises of "find the fault" against sums of their own."""

import pytest

from sigcalc.lessons.find_the_fault import across_a_break, cold_joint, questions, wrong_band
from tests.lessons.sound import assert_sound


@pytest.mark.parametrize("question", questions(), ids=["break", "joint", "band"])
def test_it_is_sound(question):
    assert_sound(question)


def test_the_meter_sets_the_current_through_a_break():
    # 12 V, 680 ohm, and the 1 megohm of the cheapest meters
    assert across_a_break().answer == pytest.approx(12 / 1_000_680, rel=1e-9)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("0 A", "bridges the gap"),
        ("17.6 mA", "pair were shorted"),
        ("14.9 mA", "while red is lit"),
        ("10.1 µA", "keeps no voltage"),
        ("12 µA", "Right"),
        ("12 V", "not a current"),
        ("0,012", "Right"),
        ("12", "12 mA is a thousand times too large"),
    ],
)
def test_each_slip_at_the_break_has_its_reason(typed, said):
    assert said in across_a_break().check(typed).reason


def test_the_joint_is_what_its_three_readings_say():
    question = cold_joint()
    current = (12 - 1.9) / (680 + 75)  # Broadcom's data sheet: 1.9 V
    for volts in (680 * current, 1.9 + 75 * current, 1.9):
        assert f"{volts:.4g} V" in question.text
    assert question.answer == pytest.approx(75)
    assert "counts the lamp in" in question.check(f"{(1.9 + 75 * current) / current} ohm").reason
    assert "only tells you the current" in question.check("680 ohm").reason


def test_a_decade_slip_is_ten_times_the_resistor():
    question = wrong_band()
    assert question.answer == 6800
    assert "one that was meant" in question.check("680 ohm").reason
    assert "whole supply" in question.check("8.08 kohm").reason

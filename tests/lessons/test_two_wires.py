"""The exercises of "two wires, two colours" against sums of their own."""

import pytest

from sigcalc.lessons.two_wires import contacts_needed, even_current, questions, reverse_voltage
from tests.lessons.sound import assert_sound


@pytest.mark.parametrize("question", questions(), ids=["reverse voltage", "even current", "contacts"])
def test_it_is_sound(question):
    assert_sound(question)


def test_the_dark_lamp_sees_drop_and_extra_resistor():
    # Vishay 83006 rev 2.2: green keeps 2.4 V; 12 V, 680 ohm shared, 470 ohm extra
    current = (12 - 2.4) / (680 + 470)
    assert reverse_voltage().answer == pytest.approx(2.4 + 470 * current, rel=1e-9)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("2.4 V", "without the extra resistor"),
        ("3.9 V", "across the extra resistor alone"),
        ("5.7 V", "outside both branches"),
        ("12 V", "without a shared resistor"),
        ("5 V", "what the LED stands"),
        ("6.3 V", "Right"),
    ],
)
def test_each_slip_has_its_reason(typed, said):
    assert said in reverse_voltage().check(typed).reason


def test_less_current_for_the_brighter_lamp():
    # Vishay 83006: red 13 mcd, green 4 mcd at 10 mA
    question = even_current()
    assert question.answer == pytest.approx(10e-3 * 4 / 13)
    assert "less, not more" in question.check("32.5 mA").reason


def test_four_contacts():
    question = contacts_needed()
    assert question.answer == 4
    assert question.check("4").right
    assert "switch on and off" in question.check("1").reason
    assert not question.check("3").right
    assert "120 333" in question.working  # 15 + 203 + 4140 + 115 975 ways: the Bell numbers of 4, 6, 8 and 10 points

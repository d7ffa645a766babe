"""The exercises of "two wires, two colours" against sums of their own."""

import pytest

from sigcalc.lessons.two_wires_two_colours import cross_reading, even_current, questions, reverse_voltage
from tests.lessons.sound import assert_sound


@pytest.mark.parametrize("question", questions(), ids=["reverse voltage", "even current", "cross"])
def test_it_is_sound(question):
    assert_sound(question)


def test_the_dark_lamp_sees_drop_and_extra_resistor():
    # Vishay 83006 rev 2.2: 2.4 V across green; 12 V, 680 ohm shared, 470 ohm extra
    current = (12 - 2.4) / (680 + 470)
    assert reverse_voltage().answer == pytest.approx(2.4 + 470 * current, rel=1e-9)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("2.4 V", "without the extra resistor"),
        ("3.9 V", "across the extra resistor alone"),
        ("5.7 V", "outside both branches"),
        ("12 V", "without a shared resistor"),
        ("5 V", "the limit of the LED"),
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


def test_the_cross_puts_half_of_the_terminals_on_plus():
    question = cross_reading()
    assert question.answer == 3
    assert question.check("3 terminals").right
    assert "joins another" in question.check("1").reason
    assert "down 1 to minus" in question.check("4").reason

"""The exercises of "which resistor": right answers by an independent way, and every slip is told apart."""

import eseries
import pytest

from sigcalc.lessons.which_resistor import bands_to_read, questions, rating_to_ask_for, value_to_buy
from tests.lessons.sound import assert_sound


@pytest.mark.parametrize("question", questions(), ids=lambda each: each.text[:24])
def test_it_is_sound(question):
    assert_sound(question)


def test_the_value_to_buy_is_that_of_another_program():
    question = value_to_buy()
    exact = question.mistakes[0].value
    assert question.answer == eseries.find_greater_than_or_equal(eseries.E12, exact)
    assert question.mistakes[1].value == eseries.find_less_than_or_equal(eseries.E12, exact)


def test_the_bands():
    # IEC 60062: brown 1, green 5, red two noughts, gold 5 %
    assert bands_to_read().answer == 1500
    assert bands_to_read().check("1k5").right


def test_the_rating():
    question = rating_to_ask_for()
    heat = (12 - 1.9) ** 2 / 680
    assert 0.25 < 2 * heat <= 0.5
    assert question.answer == 0.5
    assert question.check("1/2 W").right
    assert "not 2 times" in question.check("1/4 W").reason

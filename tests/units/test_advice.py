"""What a reader is told when a sum with quantities goes wrong."""

import sys

import pint
import pytest

from sigcalc.units import Q
from sigcalc.units.advice import advice

_OLD_PINT = pint.__version__.startswith("0.25.")  # it takes the text for a number without a unit
_TEXT_TAKEN_AWAY = (
    "V and a plain number do not fit together" if _OLD_PINT else "A quantity and a text cannot be put into one sum"
)


def told(work):
    try:
        work()
    except Exception as error:  # noqa: BLE001 any error may be told
        return advice(error, sys.exc_info()[2])
    return "nothing went wrong"


SUMS = [
    (lambda: Q("9 V") - Q("470 ohm"), "V and Ω do not fit together"),
    (lambda: Q("9 V").to("mA"), "V and mA do not fit together"),
    (lambda: Q("9 V") + 3, 'V and a plain number do not fit together; give the number its unit, such as Q("3 V")'),
    (lambda: Q("9 V") - "1 V", _TEXT_TAKEN_AWAY),
    (lambda: Q("9 V") > 3, "A quantity and a plain number cannot be compared"),
    (lambda: Q("9 V") / "470", 'make the text a quantity, such as Q("470 ohm")'),
    (lambda: "470" / Q("9 V"), "A quantity and a text cannot be put into one sum"),
    (lambda: Q("20 degC") + Q("3 degC"), "Temperatures in degC cannot be added"),
    (lambda: Q("9"), "Q needs a number with its unit, for example \"9 V\"; you gave '9'"),  # in its own words
]


@pytest.mark.parametrize(("work", "words"), SUMS)
def test_a_mistake_in_a_sum_is_told_in_one_sentence(work, words):
    sentence = told(work)
    assert words in sentence
    assert "\n" not in sentence


@pytest.mark.parametrize("work", [lambda: 1 / 0, lambda: int("x"), lambda: "9" / 2, lambda: {}["x"]])
def test_what_is_no_such_mistake_is_left_to_python(work):
    assert told(work) is None

"""What is typed into a box that names its unit: numbers alone, decimal commas where they can be nothing else."""

from functools import partial

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import UnitError
from sigcalc.units.typed import typed, with_point
from tests.refusals import refused

READ = [
    *(("2200", "ohm", 2200.0), ("2,2k", "ohm", 2200.0), ("2,2 kΩ", "ohm", 2200.0), ("4,7", "V", 4.7)),
    *(("\u22124,7", "V", -4.7), (",5 V", "V", 0.5), ("0,500", "V", 0.5), ("0,0162 A", "mA", 16.2)),
    *(("2 200 ohm", "ohm", 2200.0), ("12 000,5", "ohm", 12000.5), ("about 12.5 hours", "h", 12.5)),
    *(("\u2248 16,2", "mA", 16.2), ("16 milliamps", "mA", 16.0), ("64 milliseconds", "s", 0.064)),
    *(("1 1/2", "V", 1.5), ("4,3", "", 4.3)),
]


@pytest.mark.parametrize(("text", "symbol", "value"), READ)
def test_what_is_read(text, symbol, value):
    assert typed(text, symbol, "a value", "5") == pytest.approx(value)


UNREAD = {
    "1,500": 'type "1.500" or "1500"',
    "1,234,567": "1234",
    "1.234,5": "1234.5",
    "4,7,5": "cannot be read",
    "1/2,5": "cannot be read",
    "9 V": 'is not a current; type for example "10 mA"',
    "": "it is empty",
}
test_what_may_mean_something_else_is_refused_with_what_to_type = refused(
    *((partial(typed, text, "mA", "a current", "10 mA"), said) for text, said in UNREAD.items()),
    (partial(typed, "2.2 K ", "ohm", "a resistance", "470 ohm"), 'K alone means kelvin; for kilohms type "2.2 kohm"'),
)


@given(st.integers(1, 999), st.integers(0, 999))
def test_three_digits_behind_a_comma_are_never_guessed_at(before, behind):
    text = f"{before},{behind:03}"
    assert with_point(text) == text
    with pytest.raises(UnitError):
        typed(text, "V", "a voltage", "9 V")

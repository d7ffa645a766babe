"""Number and unit out of text: what is read, what is refused, and what the refusal says to type."""

import contextlib
import math
import re
import time
from functools import partial

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from sigcalc.errors import UnitError
from sigcalc.units import registry
from sigcalc.units.reading import UNITS, quoted, read
from tests.refusals import refused

READ = [
    *(("9 V", 9.0, "V"), ("9V", 9.0, "V"), ("  9   V ", 9.0, "V"), ("+9 V", 9.0, "V"), ("−9 V", -9.0, "V")),
    *(("9. V", 9.0, "V"), (".5 V", 0.5, "V"), ("9e-1 V", 0.9, "V"), ("9\u00a0V", 9.0, "V"), ("9\u202fV", 9.0, "V")),
    *(("12 volts", 12.0, "volts"), ("0.05", 0.05, ""), ("4k7", 4700.0, "ohm"), ("4K7", 4700.0, "ohm")),
    *(("2.2k", 2200.0, "ohm"), ("1.5 k", 1500.0, "ohm"), (".5M", 5e5, "ohm"), ("680R", 680.0, "ohm")),
    *(("R47", 0.47, "ohm"), ("47L", 0.047, "ohm"), ("10K", 1e4, "ohm"), ("4k7 ohm", 4700.0, "ohm")),
    *(("470 \u03a9", 470.0, "ohm"), ("470 \u2126", 470.0, "ohm"), ("1 k\u03a9", 1.0, "kohm"), ("1/8 in", 0.125, "in")),
    *(("1 1/2 in", 1.5, "in"), ("1-1/2 in", 1.5, "in"), ("-1/4 in", -0.25, "in"), ('1/8"', 0.125, '"')),
    *(("27 °C", 27.0, "°C"), ("80 °F", 80.0, "°F"), ("100 μF", 100.0, "µF"), ("100 uF", 100.0, "uF")),
    *(("0.129 mm²", 0.129, "mm2"), ("5 km / h", 5.0, "km/h"), ("-1.7 mV/K", -1.7, "mV/K"), ("5 %", 5.0, "%")),
]


@pytest.mark.parametrize(("text", "number", "symbol"), READ)
def test_what_is_read(text, number, symbol):
    assert read(text) == (number, symbol)


REFUSED = [
    # pint alone reads milliyears, megaamperes, the gas constant, 95 V, 15 V, 1.08 V, microdays
    ("20 ma", 'capital and small letters matter in "ma"; type "20 mA"'),
    ("9 mv", 'type "9 mV"'),
    ("680 R", '"R" alone also names the gas constant; type "680 ohm"'),
    ("9,5 V", 'a comma is not read as a decimal point; type "9.5 V"'),
    ("1,234 V", 'the comma may be a decimal point or part thousands; type "1.234 V" or "1234 V"'),
    ("1.234,5 V", 'nor between thousands; type for example "1234.5 V"'),
    ("12 VDC", 'the unit is V alone, direct current is understood; type "12 V"'),
    ("12 V dc", 'direct current is understood; type "12 V"'),
    ("12VAC", 'alternating current is not what is meant here; type "12 V" if it is direct current'),
    ("9..12 V", 'it is a range and one value is needed; type one, such as "9 V", and give the spread as a'),
    ("9-12 V", "it is a range"),
    ("9 – 12 V", "it is a range"),
    ("9 V to 12 V", "it is a range"),
    ("9…12 V", "it is a range"),
    ("9**9**9 V", "sums and powers are not worked out"),
    ("9 V + 1 V", "sums and powers are not worked out"),
    ("(9 V)", "a number and a unit are needed, in this order"),
    ("27 C", 'type "27 degC"'),
    ("9 furlongs", '"furlongs" is no unit known here; type for example "9 V"'),
    ("V 9", "in this order"),
    ("  ", "it is empty"),
    ("nan V", "a number and a unit are needed"),
    ("1e400 V", "only one number and one unit"),
    ("1/0 in", "only one number and one unit"),
    ("٩ V", "a number and a unit are needed"),  # digits of another script look like others to some readers
    ("9" * 200 + " V", "is too long for a number and a unit"),
]
test_what_is_refused_says_what_to_type = refused(*((partial(read, text), re.escape(said)) for text, said in REFUSED))


def test_what_is_advised_can_be_read():
    for text in ("20 ma", "9 mv", "680 R", "9,5 V", "12 VDC", "9..12 V", "27 C", "470 Ohm", "1,234 V", "1.234,5 V"):
        with pytest.raises(UnitError) as error:
            read(text)
        advised = str(error.value).split("type ")[1]
        assert all(read(each) for each in re.findall(r'"([^"]*)"', advised))


@pytest.mark.parametrize(
    "text", ["9**9**9 V", "." * 5000 + "\n.", "9" * 5000 + "\n", "1e9999999999 V", "9 " * 5000, "9-" * 5000]
)
def test_nothing_hangs(text):
    before = time.perf_counter()
    with pytest.raises(UnitError):
        read(text)
    assert time.perf_counter() - before < 1  # pint alone would work on the first for ever


@given(st.one_of(st.text(max_size=80), st.text("0123456789 .,-+/eEkKmMµVARrohmΩ%°C*()", max_size=30)))
@example("9\x00V")
@example("\ud800")
@example("9 \ud800")
@example('9 "')
def test_any_text_gives_an_answer_or_a_refusal(text):
    with contextlib.suppress(UnitError):
        number, symbol = read(text)
        assert math.isfinite(number)
        assert symbol == "" or symbol in UNITS


@given(st.floats(-1e12, 1e12), st.sampled_from(sorted(UNITS)))
def test_every_unit_is_read_with_every_number(number, symbol):
    assert read(f"{number!r} {symbol}") == read(f"{number!r}{symbol}") == (number, symbol)


@given(st.integers(0, 999), st.sampled_from("RKM"), st.integers(0, 999))
def test_letter_codes_are_read_without_rounding(whole, letter, after):
    power = {"R": 0, "K": 3, "M": 6}[letter]
    assert read(f"{whole}{letter}{after:03}") == (float(f"{whole}.{after:03}e{power}"), "ohm")


@given(st.integers(0, 20), st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_fractions_of_an_inch_are_exact(whole, above, below):
    assert read(f"{whole} {above}/{below} in") == (whole + above / below, "in")


def test_every_unit_of_our_table_stands_in_the_registry():
    assert all(registry.Unit(name) for name in UNITS.values())


def test_what_came_is_shown_short():
    assert len(quoted("x" * 1000)) < 60
    assert quoted("9 V") == "'9 V'"
    assert "\n" not in quoted(np.ones((3, 3)))

"""How figures are said."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.units import Current, Power, Q, Resistance, Voltage, kind_of, say, say_band, say_times

SAID = [
    *((0.0123, "A", "12.3 mA"), (4700, "ohm", "4.7 kΩ"), (470, "ohm", "470 Ω"), (1e9, "ohm", "1 GΩ")),
    *((0.9999, "A", "1 A"), (0.9994, "A", "999 mA"), (0, "A", "0 A"), (-0.0, "V", "0 V"), (-5, "V", "-5 V")),
    *((1e-21, "A", "1e-21 A"), (3.3e-12, "A", "3.3 pA"), (1e20, "V", "1e+20 V"), (1e-300, "ohm", "1e-300 Ω")),
    *(
        (300.15, "K", "27 °C"),
        (273.15, "K", "0 °C"),
        (218.15, "K", "-55 °C"),
        (0.05, "", "5 %"),
        (0.0001, "", "0.01 %"),
    ),
    *((90, "s", "90 s"), (600, "s", "10 min"), (6120, "s", "1.7 h"), (10800, "s", "3 h"), (0.01, "s", "10 ms")),
    *((0.003175, "m", "3.17 mm"), (0.0004, "m", "0.4 mm"), (0, "m", "0 mm"), (3.048, "m", "3.05 m")),
    *((6.25e-7, "m", "625 nm"), (0.129e-6, "m2", "0.129 mm²"), (60, "deg", "60 °"), (-0.0017, "V/K", "-0.0017 V/K")),
    # a hobby meter shows milliamps and ohms, and a newcomer knows them
    *((0.000781, "A", "0.781 mA"), (0.00016, "A", "0.16 mA"), (0.92, "ohm", "0.92 Ω"), (0.023, "ohm", "0.023 Ω")),
    *((3e-7, "A", "300 nA"), (0.0009999, "A", "1 mA")),
    *((math.nan, "A", "nan A"), (math.inf, "ohm", "inf Ω")),
]


@pytest.mark.parametrize(("si", "unit", "said"), SAID)
def test_said(si, unit, said):
    assert say(si, unit) == said


@given(st.floats(), st.sampled_from(["A", "ohm", "K", "", "s", "m", "m2", "deg", "V/K", "Ah"]), st.integers(1, 6))
def test_anything_is_said_in_short(si, unit, digits):
    assert len(say(si, unit, digits)) < 32


@pytest.mark.parametrize(("kind", "least"), [(Voltage, 1e-12), (Current, 1e-12), (Resistance, 1e-6), (Power, 1e-9)])
@given(size=st.floats(1, 9.9))
def test_what_is_said_can_be_read(kind, least, size):
    for power in range(12):
        si = least * size * 10.0**power
        if si < kind_of(kind).high:
            said = kind_of(kind).say(si)
            assert kind_of(kind).read(said, "argument") == pytest.approx(si, rel=6e-3)
            assert Q(said)


@given(st.floats(1e-12, 1e9))
def test_three_digits_and_a_readable_size(si):
    number = re.match(r"[0-9.]+", say(si, "ohm"))[0]
    assert 1 <= float(number) < 1000 or si >= 9.99e11 or 1e-3 <= si < 1
    assert len(number.replace(".", "").lstrip("0")) <= 3


def test_digits_bands_and_plain_numbers():
    assert say(0.0123456, "A", 4) == "12.35 mA"
    assert say_band(0.0104, 0.0112, 0.0121, "A") == "11.2 mA (10.4 mA to 12.1 mA)"
    assert [say_times(ratio) for ratio in (1.534, 7.0, 123.4, 2200.0, 0.0512)] == ["1.5", "7", "123", "2200", "0.051"]

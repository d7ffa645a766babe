"""Readings as people write them: taken, or questioned in one sentence and left out."""

import math

import pytest

from sigcalc.design.bench.measured import read_measured
from sigcalc.errors import UnknownNameError
from sigcalc.parts.meter import meters
from sigcalc.units import Q
from tests.design.bench.circuits import circuits

HAND = meters["hand meter"]


def read(name, given, circuit="resistor", meter=HAND):
    return read_measured(circuits()[circuit], meter, {name: given})


@pytest.mark.parametrize(
    ("name", "given", "value"),
    [
        ("pair, red", "1.83 V", 1.83),
        ("pair, green", "-2.2 V", -2.2),
        ("pair, red", Q(830, "mV"), 0.83),
        ("current, red", "-9.7 mA", -9.7e-3),
        ("shared resistor ohms", "1k", 1000.0),
        ("shared resistor ohms", "OL", math.inf),
        ("pair ohms", "1", math.inf),
        ("diode test A to B", " ol ", math.inf),
        ("pair ohms", "60 Mohm", math.inf),
    ],
)
def test_taken(name, given, value):
    found = read(name, given)
    assert found.questions == ()
    assert found.values[name] == pytest.approx(value)


def test_a_hold_that_never_ends():
    assert read("hold", "never", "one-shot").values["hold"] == math.inf
    assert read("hold", "8 s", "one-shot").values["hold"] == 8.0
    assert read("hold", "20 min", "one-shot").values["hold"] == math.inf


@pytest.mark.parametrize(
    ("name", "given", "said"),
    [
        ("pair, red", "9 mA", "needs a voltage, for example"),
        ("pair, red", 9.0, "with its unit"),
        ("pair, red", "nine", "pair, red"),
        ("shared resistor ohms", "9 V", "needs a resistance"),
        ("pair, red", "120 V", "more than any fault makes of this supply"),
        ("supply AC", "-3 V", "cannot be below nought"),
        ("shared resistor ohms", "-40 ohm", "there is still a voltage on the part"),
        ("pair, red", "OL", "the range is too small"),
        ("diode test A to B", "2.4 V", "which meter was it?"),
        ("current, red", "12 A", "current"),
        ("pair, red", "9..12 V", "pair, red"),
        ("pair, red", "9**9**9 V", "pair, red"),
    ],
)
def test_questioned_and_not_used(name, given, said):
    found = read(name, given)
    assert found.values == {}
    (question,) = found.questions
    assert said in question
    assert name in question
    assert "\n" not in question


def test_more_current_than_a_small_battery_gives():
    assert "more than this supply gives" in read("current, red", "9.9 A", "mixed").questions[0]


def test_a_good_reading_beside_a_bad_one_is_used():
    found = read_measured(circuits()["resistor"], HAND, {"pair, red": "1.8 V", "pair, green": "1.8 A"})
    assert found.values == {"pair, red": 1.8}
    assert len(found.questions) == 1


def test_a_point_that_is_none():
    with pytest.raises(UnknownNameError, match="measuring point 'pair red' is not known; use one of: 'pair, red'"):
        read("pair red", "1.8 V")
    with pytest.raises(UnknownNameError, match="measuring point 'coil, red'"):
        read("coil, red", "1.8 V")

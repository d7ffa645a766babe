"""Resistor and driver by hand: each printed step follows from the printed figures before it."""

import pytest

from sigcalc.errors import RangeError
from sigcalc.parts.led import leds
from sigcalc.views.drive_sum import drives_by_hand

RED = leds["red alingap 3 mm"]


@pytest.fixture(scope="module")
def by_hand():
    return drives_by_hand("9 V", "6 V", RED, "10 mA", "1.9 V")


def test_the_steps(by_hand):
    # (9 - 1.9) / 820 = 8.659 mA; (6 - 1.9) / 820 = 5 mA; 1.25 V / 10 mA = 125 ohm, E24: 130 ohm
    assert [each.answer for each in by_hand.steps] == [
        "8.659 mA", "5 mA", "57.7 %", "3.4 V", "71 mW", "125 Ω", "130 Ω",
    ]  # fmt: skip
    assert [each.how for each in by_hand.steps] == [
        "(9 V − 1.9 V) ÷ 820 Ω",
        "(6 V − 1.9 V) ÷ 820 Ω",
        "5 mA ÷ 8.659 mA",
        "1.9 V + 1.5 V of its own",
        "7.1 V × 10 mA",
        "1.25 V ÷ 10 mA",
        "series E24",
    ]


def test_the_library_agrees_about(by_hand):
    assert "the library finds 8.76 mA and 5.14 mA with the resistor" in by_hand.sentence
    assert "holds its current above 3.33 V" in by_hand.sentence


@pytest.mark.parametrize(("fresh", "sagged"), [("9 V", "9 V"), ("9 V", "10 V"), ("9 V", "1.9 V")])
def test_a_supply_that_does_not_sag_to_where_the_led_lights_is_refused(fresh, sagged):
    with pytest.raises(RangeError, match=r"sagged needs to lie between the drop of 1\.9 V and the fresh"):
        drives_by_hand(fresh, sagged, RED, "10 mA", "1.9 V")

"""The few numbers that stand in the prose of "two wires, two colours" are those of the library."""

import pytest

from sigcalc.design.pair.fewest_contacts import fewest_contacts
from sigcalc.design.pair.reversing import reversing
from sigcalc.design.pair.shared_return import independence
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.pair.wiring import DARK, RED, SHORT
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from tests.notebooks.lesson_text import lesson_text

TEXT = lesson_text("two_wires_two_colours")


def says(words):
    assert words in TEXT


def test_the_lit_led_keeps_about_two_volts_whatever_the_supply_does():
    says("keeps its drop, about 2 V")
    pair = TwoLeadPair(leds["red alingap 3 mm"], leds["green gap 3 mm"])
    for supply in ("4 V", "24 V"):
        for polarity in (+1, -1):
            assert pair.operate(supply, ResistorDrive("680 ohm"), polarity).si.led_voltage == pytest.approx(2, abs=0.6)


def test_most_leds_stand_five_volts_in_reverse():
    says("Most LEDs stand 5 V")
    assert {led.si.max_reverse_voltage for led in leds.values()} == {5}


def test_twenty_milliamperes_are_the_ceiling_of_a_common_lamp():
    says("20 mA is the ceiling of a common 3 mm LED, not the aim")  # common practice, no source
    usual = [led for name, led in leds.items() if "low-current" not in name]
    assert min(led.si.max_current for led in usual) >= 0.020


def test_fewer_than_four_contacts_only_switch_off_and_a_split_supply_needs_one_changeover():
    says("Fewer than four contacts only switch off")
    assert [each.reversing > 0 for each in fewest_contacts("two-terminal", "single-throw")] == [False] * 4 + [True]
    says("reverses with one changeover contact")
    assert fewest_contacts("split", "changeover")[-1].count == 1


def test_what_is_said_of_the_wirings():
    says("With the jumpers straight instead of crossed red always lights")
    assert {each.lamps for each in reversing("straight instead of crossed").states} == {(RED,)}
    says("A switch that cuts both wires can only switch off")
    assert {each.lamps[0] for each in reversing("double-pole single-throw switch").states} == {RED, DARK}
    says("One wire on both poles is a short circuit")
    shared = reversing("two signals, one supply, shared return")
    assert shared.lamp_in("switch 1 up, switch 2 down") == SHORT
    for fine in ("one supply, own wires", "own supplies, shared return", "split supply, shared return"):
        assert independence(f"two signals, {fine}").independent

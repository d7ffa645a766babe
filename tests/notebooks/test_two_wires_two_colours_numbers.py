"""The few numbers that stand in the prose of "two wires, two colours" are those of the library."""

import pytest

from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.pair.wiring import DARK, GREEN, RED, reversing
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from tests.notebooks.lesson_text import open_words, says_in
from tests.project.checkout import ROOT

says = says_in("two_wires_two_colours")


def test_about_two_volts_are_across_the_lit_led_whatever_the_supply_does():
    says("is about 2 V whatever the supply does")
    pair = TwoLeadPair(leds["bright red 3 mm"], leds["ordinary green 3 mm"])
    point = pair.operate(["4 V", "24 V"], ResistorDrive("680 ohm"), [[+1], [-1]])
    assert point.si.led_voltage == pytest.approx(2, abs=0.6)


def test_most_leds_are_rated_for_five_volts_in_reverse_and_twenty_milliamperes():
    says("Most LEDs are rated for 5 V")
    assert {led.si.max_reverse_voltage for led in leds.values()} == {5}
    says("20 mA is the ceiling of a common 3 mm LED, not the aim")  # common practice, no source
    usual = [led for name, led in leds.items() if "low-current" not in name]
    assert min(led.si.max_current for led in usual) >= 0.020


def test_what_is_said_of_the_wirings():
    says("With both jumpers straight red always lights")
    straight = reversing("straight instead of crossed")
    assert {each.lamps for each in straight.states.values()} == {(RED,)}
    says("With one of them straight the supply is shorted in both positions")
    assert len(reversing("crossed double-throw switch, one jumper straight").shorts) == 2
    says("With one missing the signal is dark in one position")
    assert reversing("crossed double-throw switch, one jumper missing").states["down",].lamps == (DARK,)
    says("the colours are exchanged too")
    assert reversing("crossed double-throw switch, supply exchanged").states["up",].lamps == (GREEN,)
    says("reverses with one changeover contact")
    assert reversing("one changeover contact on a split supply").reverses
    says("A switch that cuts both wires can only switch off")
    assert {each.lamps[0] for each in reversing("double-pole single-throw switch").states.values()} == {RED, DARK}
    says("One wire on both poles is a short circuit")
    shared = reversing("two signals, one supply, shared return")
    assert shared.states["up", "down"].short
    for fine in ("one supply, own wires", "own supplies, shared return", "split supply, shared return"):
        assert reversing(f"two signals, {fine}").independent


def test_the_drops_of_the_sum_are_those_of_the_table():
    drops = [leds.figures(name)["forward_voltage"].text for name in ("bright red 3 mm", "ordinary green 3 mm")]
    notebook = (ROOT / "notebooks" / "3_two_wires_two_colours.ipynb").read_text(encoding="utf-8")
    assert r"red_drop, green_drop = Q(\"{}\"), Q(\"{}\")".format(*drops) in notebook


def test_the_lesson_is_short():
    assert open_words("two_wires_two_colours") <= 900

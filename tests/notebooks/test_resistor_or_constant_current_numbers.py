"""What the lesson "resistor or constant current" says in words holds in the library: each statement has its test."""

import numpy as np
import pytest

from sigcalc.design.pair.shared_limiter import share_limiter
from sigcalc.design.power.drive_choice import DIODE, DRIVER, REGULATOR, RESISTOR, compare_drives, same_current
from sigcalc.parts.drive import ConstantCurrentDrive, current_diodes, regulators
from sigcalc.parts.led import leds
from sigcalc.parts.source import adapters
from sigcalc.physics.light import intensity_at
from sigcalc.units import Q
from tests.notebooks.lesson_text import open_words, says_in

says = says_in("resistor_or_constant_current")
RED, GREEN = leds["bright red 3 mm"], leds["ordinary green 3 mm"]


def over(*supplies, led=RED, current="10 mA"):
    """The four drives at these supplies, the first of which is the fresh one."""
    return compare_drives(Q(list(supplies), "V"), same_current(Q(supplies[0], "V"), led, current), led)


def test_two_thirds_of_the_voltage_are_less_than_two_thirds_of_the_light():
    says("at two thirds of the voltage it has less than two thirds of the light")
    both = over(9.0, 6.0)
    assert both[RESISTOR].light[1] < 2 / 3
    says("The driver's lamp does not change at all meanwhile.")
    assert both[DRIVER].light[1] == 1
    # common practice, no source: half the light is about what people notice
    says("That comes below about 5.4 V.")
    assert both[RESISTOR].si.stops_at == pytest.approx(5.4, abs=0.05)
    says("its light falls steeply when it falls")
    low = over(9.0, 2.5)
    assert low[DRIVER].sensitivity[1] > 3 * low[RESISTOR].sensitivity[1]
    assert both[DRIVER].sensitivity[1] == 0


def test_a_driver_saves_no_power_and_a_regulator_lets_go_earlier():
    says("fresh they waste about the same")
    both = over(9.0, 6.0)
    assert both[RESISTOR].efficiency[0] == pytest.approx(both[DRIVER].efficiency[0], abs=0.01)
    says("the resistor's waste falls with its light, and the driver's with the voltage alone")
    drop = float(RED.model.voltage_si(10e-3))
    heat = both[DRIVER].si.drive_power
    assert heat[1] / heat[0] == pytest.approx((6 - drop) / (9 - drop))
    assert both[RESISTOR].si.drive_power[1] < 0.5 * both[RESISTOR].si.drive_power[0]
    says("A regulator needs more voltage for itself, so it lets go earlier.")
    assert both[REGULATOR].si.drops_out_at > both[DRIVER].si.drops_out_at + 2
    says("set to less than 10 mA, some samples let more through than you asked for")
    assert regulators["lm317l"].least_load == Q("10 mA")


def test_current_diodes_are_for_small_currents():
    says("Current-regulator diodes are made for small currents")
    assert max(each.current for each in current_diodes.values()) < Q("5 mA")
    says("for a bright lamp several stand side by side")
    assert "4 x" in same_current("9 V", RED, "20 mA")[DIODE].kind


def test_three_in_series():
    says("at 9 V half the light of the resistor's lamps is gone after a sag of less than two volts")
    three, one = (over(9.0, 7.0, led=led)[RESISTOR] for led in ([RED] * 3, RED))
    assert 9 - three.si.stops_at < 2
    says("The more of the voltage the LEDs use, the less is wasted, and the more a sag hurts")
    assert three.efficiency[0] > 2 * one.efficiency[0]
    assert three.light[1] < one.light[1]


def test_a_regulated_adapter_hardly_sags():
    says("On a regulated adapter the supply hardly sags")
    for name, adapter in adapters.items():
        if adapter.regulated:
            assert adapter.si.internal_resistance * adapter.si.max_current < 0.03 * adapter.si.voltage, name


def test_light_is_proportional_to_current_within_a_tenth():
    says("right within some ten per cent from six tenths of its usual current to twice as much")
    # measured in a student laboratory: github byn1002/byn1002.github.io, RGB.pdf, table 4; mA and mV
    current, signal = np.array([14.2, 23.7, 50.0]), np.array([9.84, 15.37, 30.11])
    counted = intensity_at(current * 1e-3, signal[1], current[1] * 1e-3)
    assert np.abs(counted / signal - 1).max() < 0.1
    assert current / current[1] == pytest.approx([0.6, 1, 2.1], abs=0.01)


def shared(ohms="0 ohm", together=True):
    driver = ConstantCurrentDrive("10 mA", "1.5 V", 0.1)
    return share_limiter("9 V", driver, [(RED, "4 mA", ohms), (GREEN, "10 mA", "0 ohm")], together).si.current


def test_the_lower_drop_takes_nearly_all_and_in_turn_each_gets_the_whole_current():
    says("nearly all of it flows through the one with the lower drop: red shines, green stays dark")
    red, green = shared()
    assert red > 0.99 * (red + green)
    says("A resistor in red's branch brings them nearer")
    assert shared("50 ohm")[1] > 100 * green
    says("Whichever lamp is lit gets the whole current, whatever it wants.")
    assert shared(together=False) == pytest.approx([10e-3, 10e-3])
    says("A resistor inside one branch changes nothing until the driver drops out.")
    assert shared("300 ohm", together=False) == pytest.approx([10e-3, 10e-3])


def test_the_drop_in_the_sum_is_that_of_the_table_and_common_practice_is_said_as_everywhere():
    assert leds.figures("bright red 3 mm")["forward_voltage"].text == "1.9 V"
    # common practice, no source
    says("20 mA is the ceiling of a usual LED and not the aim")
    says("Leave mains wiring to a licensed electrician; local rules come first.")


def test_a_reader_meets_at_most_900_words_that_are_not_folded_away():
    assert open_words("resistor_or_constant_current") <= 900

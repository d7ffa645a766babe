"""Loads: the phases of a signal, the lamp's current against the bench functions, and what is refused."""

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.lamp.drive import operate
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.load import GREEN, RED, Load, Phase
from sigcalc.errors import RangeError, UnitError, UnknownNameError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.relay import relays
from sigcalc.units import Q

LAMP, PAIR = leds["red alingap 3 mm"], TwoLeadPair(leds["red alingap 3 mm"], leds["green gap 3 mm"], "0 ohm", "220 ohm")
DRIVE, RELAY = ResistorDrive("680 ohm", 0.05), relays["9 V two-pole sensitive"]


def test_phases():
    assert Load(DRIVE, LAMP).phases() == (Phase(1.0, RED, False),)
    assert Load(DRIVE, PAIR, -1).phases() == (Phase(1.0, GREEN, False),)
    assert Load(DRIVE, LAMP, duty=0.25).phases() == (Phase(0.25, RED, False), Phase(0.75, "", False))
    assert Load(DRIVE, PAIR, red_share=0.5, duty=0.5).phases() == (
        Phase(0.25, RED, False),
        Phase(0.25, GREEN, False),
        Phase(0.5, "", False),
    )


def test_phases_with_a_relay_hold_the_moment_of_changing():
    held = Load(DRIVE, LAMP, relay=RELAY)
    assert held == Load(DRIVE, LAMP, relay="9 V two-pole sensitive")
    assert held.phases() == (Phase(1.0, RED, True),)
    half = dataclasses.replace(held, energised=0.5)
    assert half.phases() == (Phase(0.5, RED, True), Phase(0.5, RED, False))
    latching = dataclasses.replace(held, relay=dataclasses.replace(RELAY, latching=True, must_release=None))
    assert latching.phases() == (Phase(0.0, RED, True), Phase(1.0, RED, False))


@given(st.floats(0.01, 1), st.floats(0, 1), st.floats(0, 1))
def test_parts_of_the_time_add_up(duty, red, energised):
    load = Load(DRIVE, PAIR, duty=duty, red_share=red, relay=RELAY, energised=energised)
    assert sum(each.part for each in load.phases()) == pytest.approx(1)
    assert any(each.coil for each in load.phases())


@given(st.floats(2.5, 20), st.sampled_from([DRIVE, ConstantCurrentDrive("10 mA", "1.5 V")]))
def test_the_lamps_current_is_that_of_the_bench(volts, drive):
    alone = operate(Q(volts, "V"), drive, LAMP).si.current
    assert Load(drive, LAMP).lamp_current(RED, volts, 0.0) == pytest.approx(alone, rel=1e-9)
    for polarity, lamp in ((1, RED), (-1, GREEN)):
        point = PAIR.operate(Q(volts, "V"), drive, polarity).si.current
        assert Load(drive, PAIR, polarity).lamp_current(lamp, volts, 0.0) == pytest.approx(point, rel=1e-6)


def test_tolerances_turn_the_current_the_right_way():
    resistor, driver = Load(DRIVE, LAMP), Load(ConstantCurrentDrive("10 mA", "1.5 V", 0.1), LAMP)
    for load in (resistor, driver):
        less, nominal, more = (load.lamp_current(RED, 9.0, 2.0, sign) for sign in (-1, 0, 1))
        assert less < nominal < more
    assert driver.lamp_current(RED, 9.0, 2.0, 1) == pytest.approx(0.011)
    assert resistor.lamp_current(RED, 9.0, 2.0, 0, 1) < resistor.lamp_current(RED, 9.0, 2.0, 0, -1)
    assert resistor.lamp_current(RED, -1.0, 2.0) < 1e-9


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: Load("470 ohm", LAMP), UnitError, "ResistorDrive"),
        (lambda: Load(DRIVE, "red"), UnitError, "lamp needs"),
        (lambda: Load(DRIVE, LAMP, 0), RangeError, "polarity"),
        (lambda: Load(DRIVE, LAMP, -1), RangeError, "reverse"),
        (lambda: Load(DRIVE, LAMP, red_share=0.5), UnitError, "TwoLeadPair"),
        (lambda: Load(DRIVE, LAMP, duty=0), RangeError, "never be lit"),
        (lambda: Load(DRIVE, LAMP, duty=1.5), RangeError, "duty"),
        (lambda: Load(DRIVE, LAMP, coil_drop="1 V", coil_drop_max="0.5 V"), RangeError, "need to rise from 0 V"),
        (lambda: Load(DRIVE, LAMP, coil_drop="-1 V"), RangeError, "need to rise from 0 V"),
        (lambda: Load(DRIVE, LAMP, relay="DPDT"), UnknownNameError, "is not known"),
        (lambda: Load(DRIVE, LAMP, relay=9), UnitError, "relay needs"),
        (lambda: Load(DRIVE, LAMP, standby="5"), UnitError, "standby"),
    ],
)
def test_what_is_refused_and_how(call, kind, said):
    with pytest.raises(kind, match=said):
        call()


def test_a_resistor_of_any_tolerance_has_a_current_in_every_corner():
    load = Load(ResistorDrive("680 ohm", 1.0), LAMP)  # the least of such resistors is none at all
    least, nominal, most = (load.lamp_current(RED, 9.0, 10.0, tolerance) for tolerance in (-1.0, 0.0, 1.0))
    assert 0 < least < nominal < most

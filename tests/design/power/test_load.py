"""Loads: the phases of a signal, the lamp's current against the bench functions, and what is refused."""

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.lamp.drive import operate
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.load import GREEN, RED, Load
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.relay import relays
from sigcalc.units import Q
from tests.refusals import wishes_refused

LAMP, PAIR = (
    leds["bright red 3 mm"],
    TwoLeadPair(leds["bright red 3 mm"], leds["ordinary green 3 mm"], "0 ohm", "220 ohm"),
)
DRIVE, RELAY = ResistorDrive("680 ohm", 0.05), relays["9 V two-pole sensitive"]
LATCHING = dataclasses.replace(RELAY, latching=True, must_release=None)


@pytest.mark.parametrize(
    ("load", "phases"),
    [
        (Load(DRIVE, LAMP), [(1.0, RED, False)]),
        (Load(DRIVE, PAIR, -1), [(1.0, GREEN, False)]),
        (Load(DRIVE, LAMP, duty=0.25), [(0.25, RED, False), (0.75, "", False)]),
        (Load(DRIVE, PAIR, red_share=0.5, duty=0.5), [(0.25, RED, False), (0.25, GREEN, False), (0.5, "", False)]),
        (Load(DRIVE, LAMP, relay="9 V two-pole sensitive"), [(1.0, RED, True)]),
        (Load(DRIVE, LAMP, relay=RELAY, energised=0.5), [(0.5, RED, True), (0.5, RED, False)]),
        # the moment of changing
        (Load(DRIVE, LAMP, relay=LATCHING), [(0.0, RED, True), (1.0, RED, False)]),
    ],
)
def test_phases(load, phases):
    assert list(load.phases()) == phases


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
    # the least of resistors of 100 % is none at all
    drives = DRIVE, ConstantCurrentDrive("10 mA", "1.5 V", 0.1), ResistorDrive("680 ohm", 1.0)
    for load in (Load(drive, LAMP) for drive in drives):
        less, nominal, more = (load.lamp_current(RED, 9.0, 2.0, sign) for sign in (-1, 0, 1))
        assert 0 < less < nominal < more
        assert load.lamp_current(RED, -1.0, 2.0) < 1e-9
    assert Load(drives[1], LAMP).lamp_current(RED, 9.0, 2.0, 1) == pytest.approx(0.011)
    assert Load(DRIVE, LAMP).lamp_current(RED, 9.0, 2.0, 0, 1) < Load(DRIVE, LAMP).lamp_current(RED, 9.0, 2.0, 0, -1)


test_what_is_refused = wishes_refused(
    Load,
    {"drive": DRIVE, "lamp": LAMP},
    ({"polarity": 0}, "polarity"),
    ({"polarity": -1}, "reverse"),
    ({"red_share": 0.5}, "TwoLeadPair"),
    ({"duty": 0}, "never be lit"),
    ({"coil_drop": "1 V", "coil_drop_max": "0.5 V"}, "need to rise from 0 V"),
)

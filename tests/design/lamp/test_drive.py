"""Operating points: published figures, other people's models, physics; strings of LEDs; what lamps look like."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.lamp.drive import (
    BRIGHT,
    DARK,
    DEAD,
    FEEBLE,
    GLARING,
    NORMAL,
    OVERLOADED,
    TOO_LITTLE,
    as_led,
    lamp_look,
    operate,
    string_voltage,
)
from sigcalc.errors import SigcalcError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import LIT_FROM, ConstantDrop, Exponential, Led, leds
from sigcalc.units import Q
from tests.refusals import refused

RED, GREEN = leds["bright red 3 mm"], leds["ordinary green 3 mm"]
BRIGHT_GREEN = leds["very bright green 3 mm"]
DROP = Led("constant", "red", ConstantDrop("2 V"), "30 mA", drop_below="0.2 V", drop_above="0.5 V")
# parameters of a public SPICE model; currents and voltages by ngspice 39.3, .op at 27 degC
QTLP690C = Led("qtlp690c", "red", Exponential("1e-22 A", 1.5, "6 ohm", "27 degC"), max_current="30 mA")
# fit to a measured red lamp at 24.45 degC; scipy's brentq, three cases checked with ngspice
MEASURED = Led("measured", "red", Exponential("5.394e-22 A", 1.646, "3.582 ohm", "24.45 degC"), max_current="30 mA")
STEADY = ConstantCurrentDrive("10 mA", "1.5 V")
SHARED, NONE = ResistorDrive("680 ohm"), ResistorDrive("0 ohm")


QTLP690C_ON_9_V = [
    *((ResistorDrive("470 ohm"), 15.12, 0.005, 1.8934), (ResistorDrive("330 ohm"), 21.38, 0.005, None)),
    *((ConstantCurrentDrive(f"{mA} mA", "1 V"), mA, 1e-9, volts) for mA, volts in ((20, 1.9336), (2, 1.7362))),
]


@pytest.mark.parametrize(("drive", "milliamperes", "digits", "volts"), QTLP690C_ON_9_V)
def test_spice_qtlp690c_on_9_v(drive, milliamperes, digits, volts):
    point = operate("9 V", drive, QTLP690C).si
    assert point.current * 1e3 == pytest.approx(milliamperes, abs=digits)
    assert volts is None or point.led_voltage == pytest.approx(volts, abs=0.5e-4)


# supply in V, constant drop in V, ohm; the current in mA, and half its last printed digit
TEXTBOOK = [
    (9, 2, 470, 14.9, 0.05),  # Malvino & Bates, Electronic Principles 7e, Example 5-13
    (15, 2, 2200, 5.91, 0.005),  # V. K. Mehta & R. Mehta, Principles of Electronics, Example 7.2
    (10, 0.7, 500, 18.6, 0.05),  # Boylestad, Electronic Devices, Example 2.3 (the companion prints 18.5: a slip)
    (6, 1.6, 220, 20, 0.5),  # Kuphaldt, Lessons in Electric Circuits
    (24, 2, 2200, 10, 0.5),  # Schultz, Grob's Basic Electronics, Example 27-8
]


def test_textbook_currents_with_a_constant_drop():
    for supply, drop, ohms, milliamperes, digits in TEXTBOOK:
        led = Led("textbook", "red", ConstantDrop(Q(drop, "V")), max_current="30 mA")
        point = operate(Q(supply, "V"), ResistorDrive(Q(ohms, "ohm")), led)
        assert point.si.current * 1e3 == pytest.approx(milliamperes, abs=digits)


def test_spice_red_measured():
    supply = [9, 9, 9, 9, 12, 12, 5, 5, 6, 9]
    ohms = [470, 330, 680, 1000, 470, 1000, 150, 330, 220, 3300]
    milliamperes = np.array([15.013, 21.27, 10.424, 7.116, 21.317, 10.091, 20.169, 9.383, 18.345, 2.177])
    volts = [1.9437, 1.9808, 1.9119, 1.8839, 1.9811, 1.9093, 1.9747, 1.9037, 1.9641, 1.8162]
    si = operate(Q(supply, "V"), ResistorDrive(Q(ohms, "ohm")), MEASURED).si
    assert np.all(np.abs(si.current * 1e3 - milliamperes) < np.where(milliamperes == 21.27, 0.005, 0.0005))
    assert si.led_voltage == pytest.approx(volts, abs=0.5e-4)


VOLTS = st.floats(-20, 60)
DRIVES = st.one_of(
    st.builds(lambda ohms: ResistorDrive(Q(ohms, "ohm")), st.floats(1e-3, 1e6)),
    st.builds(lambda i, drop: ConstantCurrentDrive(Q(i, "A"), Q(drop, "V")), st.floats(1e-6, 0.1), st.floats(1e-3, 10)),
)
STRINGS = st.sampled_from([RED, [RED, GREEN], DROP, [DROP, RED], [RED, RED, RED]])


@given(volts=VOLTS, drive=DRIVES, led=STRINGS, kelvin=st.floats(218.15, 428.15))
def test_voltages_sum_to_the_supply_and_powers_balance_or_it_is_refused(volts, drive, led, kelvin):
    try:
        point = operate(Q(volts, "V"), drive, led, Q(kelvin, "K"))
    except SigcalcError:
        return
    si = point.si
    assert np.all(np.isfinite(list(vars(si).values())))
    assert si.led_voltage + si.drive_voltage == pytest.approx(volts, rel=1e-12, abs=1e-12)
    assert si.led_power + si.drive_power == pytest.approx(volts * si.current, rel=1e-9, abs=1e-15)
    assert si.current <= drive.limit
    assert (si.current > 0) <= (volts > 0)
    assert all(str(each) for each in point.findings)


@given(volts=st.floats(0.1, 60), ohms=st.floats(0.1, 1e6), more=st.floats(1.001, 10), led=STRINGS)
def test_more_resistance_never_means_more_current_and_more_voltage_never_less(volts, ohms, more, led):
    at = operate(Q(volts, "V"), ResistorDrive(Q([ohms, ohms * more], "ohm")), led).si.current
    assert at[1] <= at[0] * (1 + 1e-12)  # far below the drop both are the diode's own, up to rounding
    higher = operate(Q([volts, min(volts * more, 60.0)], "V"), ResistorDrive(Q(ohms, "ohm")), led).si.current
    assert higher[0] <= higher[1] * (1 + 1e-12)


def test_a_driver_holds_its_current_until_it_drops_out_and_passes_next_to_nothing_in_reverse():
    drop = float(RED.voltage("10 mA").to("V").magnitude)
    si = operate(Q([drop + 1.4, drop + 1.5, drop + 1.6, drop + 20, -9], "V"), STEADY, RED).si
    assert si.current[1:4] == pytest.approx(0.01, rel=1e-9)
    assert si.led_voltage[1:4] == pytest.approx(drop, rel=1e-9)
    assert si.current[0] < 0.0099
    assert si.drive_voltage[0] == pytest.approx(150 * si.current[0], rel=1e-9)  # then it acts as a resistance
    assert -1e-18 < si.current[4] < 0
    assert si.led_voltage[4] == pytest.approx(-9)


SAID = [
    ("9 V", SHARED, RED, [], "is up to 10.5 mA; its limit is 30 mA"),
    ("9 V", ResistorDrive("150 ohm"), RED, [(STOP, "LED power"), (STOP, "LED current")], "The heat in the bright red"),
    ("-9 V", SHARED, RED, [(STOP, "reverse voltage")], "in reverse is up to 9 V"),
    ("-4 V", SHARED, RED, [], "in reverse is up to 4 V; its limit is 5 V"),
    ("1.2 V", SHARED, RED, [(LOOK, "dark")], "too little to see"),
    ("2.5 V", STEADY, RED, [(LOOK, "drop-out")], "The driver needs 1.5 V and has"),
    ("9 V", STEADY, [RED, GREEN], [], "is up to 10 mA"),
]


@pytest.mark.parametrize(("supply", "drive", "led", "graver", "said"), SAID)
def test_findings(supply, drive, led, graver, said):
    found = operate(supply, drive, led).findings
    assert [(each.grade, each.topic) for each in found if each.grade != FINE] == graver
    assert any(said in each.reason for each in found)


def test_a_word_for_each_supply_and_a_warm_lamp_takes_more():
    point = operate(["0 V", "5 V", "60 V"], ResistorDrive("470 ohm"), leds["ordinary red 3 mm"])
    assert point.verdict.tolist() == ["dark", "lit", "destroyed"]
    cold, warm = (operate("5 V", SHARED, RED, each).si for each in ("0 degC", "60 degC"))
    assert (warm.current > cold.current, warm.led_voltage < cold.led_voltage) == (True, True)


BARE = Led("z", "red", Exponential("1e-21 A", 1.8, "0 ohm"), "1 A")


test_what_is_refused_and_how = refused(
    (lambda: operate(["5 V", "9 V"], STEADY, RED).findings, "one operating point"),
    (lambda: operate("9 V", NONE, DROP), "no limit"),
    (lambda: operate("9 V", NONE, BARE), "nothing holds the current down"),
    (lambda: operate("9 V", "470 ohm", RED), "ResistorDrive"),
    (lambda: operate("9 V", STEADY, "red"), "Led"),
    (lambda: operate(["9 V", "8 V"], ResistorDrive(["1 kohm", "2 kohm", "3 kohm"]), RED), "shapes"),
    (lambda: as_led([RED], "red"), "red needs one Led"),
)


# ---- strings


@pytest.mark.parametrize("led", [RED, GREEN, DROP])
@pytest.mark.parametrize("current", [1e-4, 0.01, 0.02])
def test_the_spread_shifts_the_drop_as_the_data_sheet_says(led, current):
    low, typical, high = string_voltage(current, (led,), spread=np.array([-1.0, 0.0, 1.0]))
    assert typical == pytest.approx(led.model.voltage_si(current))
    assert (typical - low, high - typical) == pytest.approx((led.si.drop_below, led.si.drop_above))


# ---- what a lamp looks like


LOOKS = [
    (RED, 0.8, NORMAL),  # 5.6 mcd, more than the ordinary green gives at 10 mA
    *((RED, 16, BRIGHT), (RED, 31, OVERLOADED), (RED, 1160, DEAD)),
    *((GREEN, 0.1, TOO_LITTLE), (GREEN, 1, FEEBLE), (GREEN, 10, NORMAL)),
    *((BRIGHT_GREEN, 0.2, BRIGHT), (BRIGHT_GREEN, 10, GLARING), (leds["white 3 mm"], 10, NORMAL)),
]


@pytest.mark.parametrize(("led", "milliamperes", "look"), LOOKS)
def test_looks(led, milliamperes, look):
    assert lamp_look(led, milliamperes * 1e-3) == look


@pytest.mark.parametrize("led", leds.values(), ids=leds)
def test_more_current_never_looks_like_less(led):
    order = [DARK, TOO_LITTLE, FEEBLE, NORMAL, BRIGHT, GLARING, OVERLOADED, DEAD]
    places = [order.index(lamp_look(led, 10.0**power)) for power in range(-9, 2)]
    assert places == sorted(places)
    assert places[0] == 0
    assert order[places[-1]] == DEAD
    assert lamp_look(led, LIT_FROM) == DARK


def test_an_own_led_without_a_figure_for_its_light_is_told_by_its_current():
    own = dataclasses.replace(RED, intensity=None, intensity_current=None, intensity_min=None, intensity_max=None)
    assert [lamp_look(own, each) for each in (5e-5, 1e-3, 10e-3, 40e-3)] == [TOO_LITTLE, FEEBLE, NORMAL, OVERLOADED]

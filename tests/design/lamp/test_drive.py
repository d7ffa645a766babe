"""Operating points: published figures, other people's models, physics, and what is refused."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.lamp.drive import findings, operate
from sigcalc.errors import DesignError, RangeError, SigcalcError, UnitError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import ConstantDrop, Exponential, Led, leds
from sigcalc.units import Q

RED, GREEN = leds["red alingap 3 mm"], leds["green gap 3 mm"]
DROP = Led("constant", "red", ConstantDrop("2 V"), max_current="30 mA")
# parameters of a public SPICE model; currents and voltages by ngspice 39.3, .op at 27 degC
QTLP690C = Led("qtlp690c", "red", Exponential("1e-22 A", 1.5, "6 ohm", "27 degC"), max_current="30 mA")
# fit to a measured red lamp at 24.45 degC; scipy's brentq, three cases checked with ngspice
MEASURED = Led("measured", "red", Exponential("5.394e-22 A", 1.646, "3.582 ohm", "24.45 degC"), max_current="30 mA")
STEADY = ConstantCurrentDrive("10 mA", "1.5 V")


@pytest.mark.parametrize(
    ("ohms", "milliamperes", "digits", "volts"), [(470, 15.12, 0.005, 1.8934), (330, 21.38, 0.005, None)]
)
def test_spice_qtlp690c_on_9_v(ohms, milliamperes, digits, volts):
    point = operate("9 V", ResistorDrive(Q(ohms, "ohm")), QTLP690C)
    assert point.si.current * 1e3 == pytest.approx(milliamperes, abs=digits)
    if volts is not None:
        assert point.si.led_voltage == pytest.approx(volts, abs=0.5e-4)


@pytest.mark.parametrize(("milliamperes", "volts"), [(20, 1.9336), (2, 1.7362)])
def test_spice_qtlp690c_at_a_current(milliamperes, volts):
    drive = ConstantCurrentDrive(Q(milliamperes, "mA"), "1 V")
    assert operate("9 V", drive, QTLP690C).si.led_voltage == pytest.approx(volts, abs=0.5e-4)


@pytest.mark.parametrize(
    ("supply", "ohms", "milliamperes", "volts"),
    [
        (9, 470, 15.013, 1.9437),
        (9, 330, 21.27, 1.9808),
        (9, 680, 10.424, 1.9119),
        (9, 1000, 7.116, 1.8839),
        (12, 470, 21.317, 1.9811),
        (12, 1000, 10.091, 1.9093),
        (5, 150, 20.169, 1.9747),
        (5, 330, 9.383, 1.9037),
        (6, 220, 18.345, 1.9641),
        (9, 3300, 2.177, 1.8162),
    ],
)
def test_spice_red_measured(supply, ohms, milliamperes, volts):
    point = operate(Q(supply, "V"), ResistorDrive(Q(ohms, "ohm")), MEASURED)
    digits = 0.005 if milliamperes == 21.27 else 0.0005
    assert point.si.current * 1e3 == pytest.approx(milliamperes, abs=digits)
    assert point.si.led_voltage == pytest.approx(volts, abs=0.5e-4)


@pytest.mark.parametrize(
    ("supply", "drop", "ohms", "milliamperes", "digits"),
    [
        (9, 2, 470, 14.9, 0.05),  # Malvino & Bates, Electronic Principles 7e
        (15, 2, 2200, 5.91, 0.005),  # V. K. Mehta & R. Mehta, Principles of Electronics
        (10, 0.7, 500, 18.6, 0.05),  # Boylestad, Electronic Devices, Example 2.3 (the companion prints 18.5: a slip)
        (6, 1.6, 220, 20, 0.5),  # Kuphaldt, Lessons in Electric Circuits
    ],
)
def test_textbook_currents_with_a_constant_drop(supply, drop, ohms, milliamperes, digits):
    led = Led("textbook", "red", ConstantDrop(Q(drop, "V")), max_current="30 mA")
    point = operate(Q(supply, "V"), ResistorDrive(Q(ohms, "ohm")), led)
    assert point.si.current * 1e3 == pytest.approx(milliamperes, abs=digits)


VOLTS = st.floats(-20, 60)
DRIVES = st.one_of(
    st.floats(1e-3, 1e6).map(lambda ohms: ResistorDrive(Q(ohms, "ohm"))),
    st.tuples(st.floats(1e-6, 0.1), st.floats(1e-3, 10)).map(
        lambda each: ConstantCurrentDrive(Q(each[0], "A"), Q(each[1], "V"))
    ),
)
STRINGS = st.sampled_from([RED, [RED, GREEN], DROP, [DROP, RED], [RED, RED, RED]])


@given(volts=VOLTS, drive=DRIVES, led=STRINGS)
def test_voltages_sum_to_the_supply_and_powers_balance(volts, drive, led):
    si = operate(Q(volts, "V"), drive, led).si
    assert si.led_voltage + si.drive_voltage == pytest.approx(volts, rel=1e-12, abs=1e-12)
    assert si.led_power + si.drive_power == pytest.approx(volts * si.current, rel=1e-9, abs=1e-15)
    assert si.current <= drive.limit
    assert (si.current > 0) <= (volts > 0)


@given(volts=st.floats(0.1, 60), ohms=st.floats(0.1, 1e6), more=st.floats(1.001, 10), led=STRINGS)
def test_more_resistance_never_means_more_current_and_more_voltage_never_less(volts, ohms, more, led):
    at = operate(Q(volts, "V"), ResistorDrive(Q([ohms, ohms * more], "ohm")), led).si.current
    assert at[1] <= at[0] * (1 + 1e-12)  # far below the drop both are the diode's own, up to rounding
    higher = operate(Q([volts, min(volts * more, 60.0)], "V"), ResistorDrive(Q(ohms, "ohm")), led).si.current
    assert higher[0] <= higher[1] * (1 + 1e-12)


def test_a_driver_holds_its_current_until_it_drops_out_and_then_acts_as_a_resistance():
    drop = float(RED.voltage("10 mA").to("V").magnitude)
    volts = drop + np.array([1.4, 1.5, 1.6, 20])
    si = operate(Q(volts, "V"), STEADY, RED).si
    assert si.current[1:] == pytest.approx(0.01, rel=1e-9)
    assert si.current[0] < 0.0099
    assert si.drive_voltage[0] == pytest.approx(150 * si.current[0], rel=1e-9)
    assert si.led_voltage[1:] == pytest.approx(drop, rel=1e-9)


def test_a_driver_in_reverse_passes_no_more_than_the_leakage():
    si = operate(Q([-9.0, 9.0], "V"), STEADY, RED).si
    assert -1e-18 < si.current[0] < 0
    assert si.led_voltage[0] == pytest.approx(-9)
    assert si.current[1] == pytest.approx(0.01)


def test_arrays_broadcast_and_scalars_stay_plain():
    point = operate(Q([[5.0], [9.0]], "V"), ResistorDrive(["470 ohm", "1 kohm", "2.2 kohm"]), RED)
    assert point.si.current.shape == (2, 3)
    one = operate("9 V", ResistorDrive("1 kohm"), RED)
    assert point.si.current[1, 1] == one.si.current
    assert isinstance(one.si.current, float)
    assert one.current.to("mA").magnitude == pytest.approx(one.si.current * 1e3)


def test_a_warm_lamp_takes_more():
    cold, warm = (operate("5 V", ResistorDrive("330 ohm"), RED, each).si for each in ("0 degC", "60 degC"))
    assert warm.current > cold.current
    assert warm.led_voltage < cold.led_voltage


def graded(point):
    return [(each.grade, each.topic) for each in findings(point)]


@pytest.mark.parametrize(
    ("supply", "drive", "led", "wanted"),
    [
        ("9 V", ResistorDrive("680 ohm"), RED, [("fine", "limits")]),
        ("9 V", ResistorDrive("150 ohm"), RED, [("do not build", "LED current"), ("do not build", "LED power")]),
        ("-9 V", ResistorDrive("680 ohm"), RED, [("do not build", "reverse voltage")]),
        ("-4 V", ResistorDrive("680 ohm"), RED, [("fine", "limits")]),
        ("1.2 V", ResistorDrive("680 ohm"), RED, [("look again", "dark")]),
        ("2.5 V", STEADY, RED, [("look again", "drop-out")]),
        ("9 V", STEADY, [RED, GREEN], [("fine", "limits")]),
    ],
)
def test_findings(supply, drive, led, wanted):
    assert graded(operate(supply, drive, led)) == wanted


def test_findings_want_one_point():
    with pytest.raises(RangeError, match="one operating point"):
        findings(operate(["5 V", "9 V"], STEADY, RED))


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: operate("9 V", ResistorDrive("0 ohm"), DROP), DesignError, "no limit"),
        (
            lambda: operate(
                "9 V", ResistorDrive("0 ohm"), Led("z", "red", Exponential("1e-21 A", 1.8, "0 ohm"), "1 A")
            ),
            DesignError,
            "nothing holds the current down",
        ),
        (lambda: operate(9, STEADY, RED), UnitError, "supply"),
        (lambda: operate("9 V", "470 ohm", RED), UnitError, "ResistorDrive"),
        (lambda: operate("9 V", STEADY, "red"), UnitError, "Led"),
        (lambda: operate("9 V", STEADY, []), UnitError, "Led"),
        (lambda: operate("61 V", STEADY, RED), RangeError, "60 V"),
        (lambda: operate(["9 V", "8 V"], ResistorDrive(["1 kohm", "2 kohm", "3 kohm"]), RED), RangeError, "shapes"),
    ],
)
def test_what_is_refused_and_how(call, kind, said):
    with pytest.raises(kind, match=said):
        call()


@given(volts=VOLTS, drive=DRIVES, led=STRINGS, kelvin=st.floats(218.15, 428.15))
def test_an_answer_or_a_refusal_never_a_nan(volts, drive, led, kelvin):
    try:
        point = operate(Q(volts, "V"), drive, led, Q(kelvin, "K"))
    except SigcalcError:
        return
    assert np.all(np.isfinite(list(vars(point.si).values())))
    assert all(str(each) for each in findings(point))


def test_the_verdict_is_a_word_for_each_supply():
    point = operate(["0 V", "5 V", "60 V"], ResistorDrive("470 ohm"), leds["red gaasp 3 mm"])
    assert point.verdict.tolist() == ["dark", "lit", "destroyed"]
    assert operate("5 V", ResistorDrive("470 ohm"), leds["red gaasp 3 mm"]).verdict == "lit"

"""The pair as a part: the textbook example, physics in both directions, arrays, and what is refused."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.pair.two_lead_pair import TwoLeadPair, as_pair
from sigcalc.errors import DesignError, RangeError, UnitError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import ConstantDrop, Exponential, Led, diodes, leds
from sigcalc.units import Q

RED, GREEN = leds["red alingap 3 mm"], leds["green gap 3 mm"]
PAIR = TwoLeadPair(RED, GREEN)
SHARED = ResistorDrive("680 ohm")
TEXTBOOK = Led("textbook", "red", ConstantDrop("2 V"), max_current="30 mA")


@pytest.mark.parametrize("polarity", [+1, -1])
def test_the_textbook_pair(polarity):
    # Boylestad & Nashelsky, Electronic Devices and Circuit Theory, Example 2.11: red and green head to tail,
    # 8 V, 2 V, 20 mA: 300 ohm. The dark lamp sees the lit one's 2 V.
    point = TwoLeadPair(TEXTBOOK, TEXTBOOK).operate("8 V", ResistorDrive("300 ohm"), polarity)
    assert point.si.current == pytest.approx(20e-3, rel=1e-12)
    assert point.si.led_voltage == 2
    assert point.si.reverse_voltage == 2
    assert point.lit == ("red" if polarity > 0 else "green")


def test_real_lamps_in_the_textbook_pair_see_about_2_v_in_reverse():
    # with data-sheet lamps the dark one is far below its 5 V (Vishay TLHK4400L)
    for polarity in (+1, -1):
        assert PAIR.operate("8 V", ResistorDrive("300 ohm"), polarity).si.reverse_voltage == pytest.approx(2.1, abs=0.4)


def test_the_drop_of_the_data_sheet_comes_back():
    # Vishay TLHK4400L: 1.9 V typical and 2.6 V at most at 20 mA, 5 V reverse, 30 mA, 80 mW
    steady = ConstantCurrentDrive("20 mA", "1 V")
    si = TwoLeadPair(RED, RED).operate("9 V", steady, +1, "25 degC").si
    assert si.led_voltage == pytest.approx(1.9, abs=0.05)
    assert RED.si.drop_above + 1.9 == pytest.approx(2.6)
    assert (RED.si.max_reverse_voltage, RED.si.max_current, RED.si.max_power) == pytest.approx((5, 0.03, 0.08))


PAIRS = st.builds(
    lambda red, green, diode: TwoLeadPair(RED, GREEN, Q(red, "ohm"), Q(green, "ohm"), diode),
    st.floats(0, 1e5),
    st.floats(0, 1e5),
    st.sampled_from([None, diodes["1n4148"]]),
)
OHMS = st.floats(1e-2, 1e6)


@given(volts=st.floats(0, 60), ohms=OHMS, pair=PAIRS, polarity=st.sampled_from([1, -1]))
def test_voltages_sum_to_the_supply_and_powers_balance(volts, ohms, pair, polarity):
    si = pair.operate(Q(volts, "V"), ResistorDrive(Q(ohms, "ohm")), polarity).si
    assert si.led_voltage + si.extra_voltage + si.drive_voltage == pytest.approx(volts, rel=1e-12, abs=1e-12)
    assert si.led_power + si.extra_power + si.drive_power == pytest.approx(volts * si.current, rel=1e-9, abs=1e-15)
    assert si.reverse_voltage == pytest.approx(si.led_voltage + si.extra_voltage, rel=1e-9, abs=1e-12)
    # the shared resistor carries the lit current and the dark branch's leakage of some 1e-20 A, nothing else
    assert si.drive_voltage == pytest.approx(ohms * si.current, rel=1e-6, abs=1e-9)
    assert min(vars(si).values()) >= 0


@given(volts=st.floats(2, 60), ohms=OHMS, more=st.floats(1.01, 100), polarity=st.sampled_from([1, -1]))
def test_more_resistance_anywhere_never_means_more_current(volts, ohms, more, polarity):
    def current(shared, extra):
        pair = TwoLeadPair(RED, GREEN, Q(extra, "ohm"), Q(extra, "ohm"))
        return pair.operate(Q(volts, "V"), ResistorDrive(Q(shared, "ohm")), polarity).si.current

    assert current(ohms * more, 100.0) <= current(ohms, 100.0) * (1 + 1e-12)
    assert current(ohms, 100.0 * more) <= current(ohms, 100.0) * (1 + 1e-12)


@given(volts=st.floats(0.5, 60), ohms=OHMS, polarity=st.sampled_from([1, -1]))
def test_the_dark_lamp_takes_no_share(volts, ohms, polarity):
    lit = RED if polarity > 0 else GREEN
    alone = TwoLeadPair(lit, lit).operate(Q(volts, "V"), ResistorDrive(Q(ohms, "ohm")), polarity).si.current
    assert PAIR.operate(Q(volts, "V"), ResistorDrive(Q(ohms, "ohm")), polarity).si.current == pytest.approx(
        alone, rel=1e-9
    )


def test_the_other_polarity_of_the_mirrored_pair_is_the_same():
    a = TwoLeadPair(RED, GREEN, "100 ohm", "0 ohm").operate("9 V", SHARED, +1)
    b = TwoLeadPair(GREEN, RED, "0 ohm", "100 ohm").operate("9 V", SHARED, -1)
    assert a.si.current == pytest.approx(b.si.current, rel=1e-12)
    assert (a.lit, b.lit) == ("red", "green")


def test_without_a_shared_resistor_the_dark_branch_lies_on_the_supply():
    pair = TwoLeadPair(RED, GREEN, "680 ohm", "680 ohm")
    point = pair.operate("9 V", ResistorDrive("0 ohm"), +1)
    assert point.si.reverse_voltage == 9
    shared = PAIR.operate("9 V", SHARED, +1)
    assert point.si.current == pytest.approx(shared.si.current, rel=1e-9)


def test_arrays_of_supply_polarity_and_resistance_broadcast():
    point = PAIR.operate(Q([[0.0], [9.0]], "V"), ResistorDrive(["680 ohm", "1 kohm"]), [1, -1])
    assert point.si.current.shape == (2, 2)
    assert point.lit.tolist() == [["none", "none"], ["red", "green"]]
    assert point.si.current[1, 1] == PAIR.operate("9 V", ResistorDrive("1 kohm"), -1).si.current
    mixed = PAIR.operate("9 V", ResistorDrive(["0 ohm", "680 ohm"]), 1)
    assert mixed.si.current[1] == pytest.approx(PAIR.operate("9 V", SHARED, 1).si.current, rel=1e-9)
    assert isinstance(PAIR.operate("9 V", SHARED, 1).lit, str)


def test_lit_begins_above_10_microamperes():
    # the contract: lit means over 10 microamperes
    for ohms, lit in (("700 kohm", "red"), ("800 kohm", "none")):
        assert PAIR.operate("9 V", ResistorDrive(ohms), +1).lit == lit


NO_POLARITY = [0, 2, "red", None, True, [1, 0], [[1], [1, -1]], float("nan"), [], Q([1, -1], "V"), "x" * 1000]


@pytest.mark.parametrize("polarity", NO_POLARITY)
def test_a_polarity_that_is_none_is_refused(polarity):
    with pytest.raises(RangeError, match="polarity needs") as refusal:
        PAIR.operate("9 V", SHARED, polarity)
    assert len(str(refusal.value)) < 200


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: PAIR.operate(Q([9, 8], "V"), SHARED, [1, -1, 1]), RangeError, "shapes"),
        (lambda: PAIR.operate("-9 V", SHARED, 1), RangeError, "polarity=-1"),
        (lambda: PAIR.operate("9 V", "680 ohm", 1), UnitError, "ResistorDrive"),
        (lambda: TwoLeadPair(RED, "green"), UnitError, "green"),
        (lambda: TwoLeadPair(RED, GREEN, 100), UnitError, "extra_red"),
        (lambda: TwoLeadPair(RED, GREEN, series_diode="1n4148"), UnitError, "series_diode"),
        (lambda: TwoLeadPair(TEXTBOOK, GREEN).operate("9 V", ResistorDrive("0 ohm"), 1), DesignError, "no limit"),
        (lambda: as_pair(None), UnitError, "TwoLeadPair"),
    ],
)
def test_what_is_refused_and_how(call, kind, said):
    with pytest.raises(kind, match=said):
        call()


def test_a_lamp_without_any_resistance_gives_no_figure():
    bare = Led("bare", "red", Exponential("1e-21 A", 1.8, "0 ohm"), max_current="30 mA")
    with pytest.raises(DesignError, match="nothing holds the current down"):
        TwoLeadPair(bare, GREEN).operate("9 V", ResistorDrive("0 ohm"), +1)
    assert np.isfinite(TwoLeadPair(bare, GREEN).operate("1.5 V", ResistorDrive("0 ohm"), +1).si.current)

"""The two-lead pair: published figures, physics in both directions, the trap of resistors inside, mistakes."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, STOP
from sigcalc.design.pair.two_lead_pair import (
    FAULTS,
    TwoLeadPair,
    as_pair,
    solder_fault,
    study_pair,
    with_series_diodes,
)
from sigcalc.errors import SigcalcError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import ConstantDrop, Exponential, Led, diodes, leds
from sigcalc.units import Q
from tests.refusals import refused

RED, GREEN = leds["bright red 3 mm"], leds["ordinary green 3 mm"]
PAIR = TwoLeadPair(RED, GREEN)
SHARED = ResistorDrive("680 ohm")
STEADY = ConstantCurrentDrive("10 mA", "1.5 V")
NONE = ResistorDrive("0 ohm")
INSIDE = TwoLeadPair(RED, GREEN, extra_red="680 ohm", extra_green="680 ohm")
TEXTBOOK = Led("textbook", "red", ConstantDrop("2 V"), max_current="30 mA")


@pytest.mark.parametrize("polarity", [+1, -1])
def test_the_textbook_pair(polarity):
    # Boylestad & Nashelsky, Electronic Devices and Circuit Theory, Example 2.11: red and green back to back,
    # 8 V, 2 V, 20 mA: 300 ohm. The dark lamp sees the lit one's 2 V.
    point = TwoLeadPair(TEXTBOOK, TEXTBOOK).operate("8 V", ResistorDrive("300 ohm"), polarity)
    assert point.si.current == pytest.approx(20e-3, rel=1e-12)
    assert point.si.led_voltage == 2
    assert point.si.reverse_voltage == 2
    assert point.lit == ("red" if polarity > 0 else "green")
    # with data-sheet lamps the dark one is far below its 5 V (Vishay TLHK4400L)
    real = PAIR.operate("8 V", ResistorDrive("300 ohm"), polarity)
    assert real.si.reverse_voltage == pytest.approx(2.1, abs=0.4)


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
    st.sampled_from([None, diodes["1n4148"], diodes["1n4001"]]),
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
def test_the_dark_lamp_takes_no_share_and_the_mirrored_pair_does_the_same(volts, ohms, polarity):
    lit = RED if polarity > 0 else GREEN
    supply, drive = Q(volts, "V"), ResistorDrive(Q(ohms, "ohm"))
    alone = TwoLeadPair(lit, lit).operate(supply, drive, polarity).si.current
    assert PAIR.operate(supply, drive, polarity).si.current == pytest.approx(alone, rel=1e-9)
    mirrored = TwoLeadPair(GREEN, RED).operate(supply, drive, -polarity)
    assert mirrored.si.current == pytest.approx(alone, rel=1e-9)


def test_arrays_of_supply_polarity_and_resistance_broadcast():
    point = PAIR.operate(Q([[0.0], [9.0]], "V"), ResistorDrive(["680 ohm", "1 kohm"]), [1, -1])
    assert point.si.current.shape == (2, 2)
    assert point.lit.tolist() == [["none", "none"], ["red", "green"]]
    assert point.si.current[1, 1] == PAIR.operate("9 V", ResistorDrive("1 kohm"), -1).si.current
    mixed = PAIR.operate("9 V", ResistorDrive(["0 ohm", "680 ohm"]), 1)
    assert mixed.si.current[1] == pytest.approx(PAIR.operate("9 V", SHARED, 1).si.current, rel=1e-9)
    # the contract: lit means over 10 microamperes
    assert PAIR.operate("9 V", ResistorDrive(["700 kohm", "800 kohm"]), +1).lit.tolist() == ["red", "none"]


BARE = TwoLeadPair(Led("bare", "red", Exponential("1e-21 A", 1.8, "0 ohm"), max_current="30 mA"), GREEN)
NO_POLARITY = [0, 2, "red", None, True, [1, 0], [[1], [1, -1]], float("nan"), [], Q([1, -1], "V"), "x" * 1000]


test_what_is_refused_and_how = refused(
    *((lambda wrong=wrong: PAIR.operate("9 V", SHARED, wrong), "polarity needs") for wrong in NO_POLARITY),
    (lambda: PAIR.operate(Q([9, 8], "V"), SHARED, [1, -1, 1]), "shapes"),
    (lambda: PAIR.operate("-9 V", SHARED, 1), "polarity=-1"),
    (lambda: PAIR.operate("9 V", "680 ohm", 1), "ResistorDrive"),
    (lambda: TwoLeadPair(RED, GREEN, series_diode="1n4148"), "series_diode"),
    (lambda: TwoLeadPair(TEXTBOOK, GREEN).operate("9 V", NONE, 1), "no limit"),
    (lambda: BARE.operate("9 V", NONE, +1), "nothing holds the current down"),
    (lambda: as_pair(None), "TwoLeadPair"),
    (lambda: study_pair("9 V", ResistorDrive(["1 kohm", "2 kohm"]), PAIR), "one value"),
    (lambda: with_series_diodes(RED), "TwoLeadPair"),
    (lambda: solder_fault("9 V", SHARED, PAIR, "red opened"), "'red open'"),
    (lambda: solder_fault("-9 V", SHARED, PAIR, "red open"), "supply"),
    (lambda: solder_fault("9 V", NONE, PAIR, "red open"), "resistance"),
    (lambda: solder_fault("9 V", SHARED, TwoLeadPair(TEXTBOOK, GREEN), "red open"), "Exponential"),
)


def graded(supply, drive, pair):
    return {each.topic: each.grade for each in study_pair(supply, drive, pair).findings}


def test_red_or_green_on_9_v_takes_600_to_1000_ohm_for_7_to_12_ma():
    # common practice, no source
    studies = [study_pair("9 V", ResistorDrive(ohms), PAIR) for ohms in ("600 ohm", "1000 ohm")]
    assert all(6.5e-3 < point.si.current < 12.5e-3 for each in studies for point in (each.red, each.green))


ONE_INSIDE = TwoLeadPair(RED, GREEN, extra_green="470 ohm")
HOT = Led("hot", "red", RED.model, "50 mA", max_power="10 mW")
FEEBLE = Led("feeble", "none", RED.model, "1 A", "6 V")
GRADES = [
    *(("9 V", SHARED, PAIR, topic, FINE) for topic in ("red lamp", "green lamp", "dark red lamp", "dark green lamp")),
    ("12 V", ResistorDrive("200 ohm"), PAIR, "red lamp", STOP),
    ("9 V", SHARED, TwoLeadPair(HOT, GREEN), "red lamp", STOP),
    ("1.2 V", SHARED, PAIR, "red lamp", STOP),
    # the trap: a resistor in each branch and none shared; below the rating there is none
    ("9 V", NONE, INSIDE, "dark green lamp", STOP),
    ("4.9 V", NONE, INSIDE, "dark green lamp", FINE),
    # the milder trap: a resistor inside one branch
    ("12 V", SHARED, ONE_INSIDE, "dark red lamp", STOP),
    ("9 V", SHARED, ONE_INSIDE, "dark red lamp", FINE),
    # the remedy: a diode that blocks as much
    *(("9 V", NONE, with_series_diodes(INSIDE), f"{each} lamp", FINE) for each in ("red", "dark red", "dark green")),
    ("9 V", NONE, with_series_diodes(INSIDE, FEEBLE), "dark green lamp", STOP),
]


@pytest.mark.parametrize(("supply", "drive", "pair", "topic", "grade"), GRADES)
def test_overload_heat_darkness_and_reverse_voltage_are_found(supply, drive, pair, topic, grade):
    assert graded(supply, drive, pair)[topic] == grade


def test_what_the_dark_lamp_sees_and_what_the_remedy_costs():
    study = study_pair("9 V", NONE, INSIDE)
    assert study.red.si.reverse_voltage == study.green.si.reverse_voltage == 9
    assert "diode in series" in " ".join(each.remedy for each in study.findings)
    study = study_pair("12 V", SHARED, ONE_INSIDE)
    red, green = study.red.si, study.green.si
    assert green.reverse_voltage == pytest.approx(green.led_voltage + 470 * green.current, rel=1e-9)
    assert red.reverse_voltage == pytest.approx(red.led_voltage, rel=1e-9)
    bare, blocked = (pair.operate("9 V", NONE, +1).si for pair in (INSIDE, with_series_diodes(INSIDE)))
    # the drop of a 1N4148 at 10 mA: about 0.7 V (textbook rule, from memory)
    assert 680 * (bare.current - blocked.current) == pytest.approx(0.7, abs=0.1)


def test_under_constant_current_a_branch_resistor_changes_nothing_until_the_driver_drops_out():
    plain, extra = (study_pair("12 V", STEADY, pair) for pair in (PAIR, TwoLeadPair(RED, GREEN, extra_red="470 ohm")))
    assert extra.red.si.current == pytest.approx(plain.red.si.current, rel=1e-9)
    (found,) = (each for each in extra.findings if each.topic == "extra resistor")
    assert found.grade == "look again"
    assert "two drivers" in found.remedy
    assert "extra resistor" not in graded("12 V", STEADY, PAIR)
    starved = TwoLeadPair(RED, GREEN, extra_red="1.2 kohm").operate("12 V", STEADY, +1)
    assert starved.si.current < 0.009


MISTAKES = [
    # from the circuit, in words: a branch that is broken, a lamp that is bridged, the same way round
    ("red open", PAIR, ("none", "green")),
    ("green open", PAIR, ("red", "none")),
    ("red shorted", PAIR, ("none", "none")),
    ("green shorted", PAIR, ("none", "none")),
    ("red shorted", with_series_diodes(PAIR), ("none", "green")),  # the diode leaves the other lamp working
    ("both the same way round", TwoLeadPair(GREEN, GREEN), ("both", "none")),
]


@pytest.mark.parametrize("drive", [SHARED, STEADY])
def test_what_each_soldering_mistake_shows(drive):
    for fault, pair, seen in MISTAKES:
        assert tuple(each.lit for each in solder_fault("9 V", drive, pair, fault)) == seen


def test_what_the_bench_table_says():
    """The sound pair shows its lamps; of two side by side the eye may see one alone."""
    said = {fault: solder_fault("9 V", SHARED, PAIR, fault) for fault in FAULTS}
    assert [each.sentence for each in said["none"]] == ["red; meter: 1.8 V", "green; meter: 2.3 V"]
    assert said["red open"][0].si.pair_voltage == pytest.approx(9)  # the whole supply is across the break
    assert said["red shorted"][0].sentence == "dark; meter: next to nothing"
    point, dark = said["both the same way round"]
    assert [point.sentence, dark.sentence] == ["red, green all but dark; meter: 1.8 V", "dark; meter: 9 V"]
    assert point.si.red_current > 100 * point.si.green_current  # the lamp of less drop takes nearly all
    assert dark.si.pair_voltage == pytest.approx(-9)  # both see the whole supply in reverse
    assert point.si.red_current + point.si.green_current == pytest.approx((9 - point.si.pair_voltage) / 680, rel=1e-9)


DRIVES = st.one_of(
    st.builds(lambda ohms: ResistorDrive(Q(ohms, "ohm")), st.floats(0, 1e6)),
    st.builds(lambda i, drop: ConstantCurrentDrive(Q(i, "A"), Q(drop, "V")), st.floats(1e-6, 0.1), st.floats(1e-3, 10)),
)


@given(volts=st.floats(-1, 60), drive=DRIVES, pair=PAIRS, fault=st.sampled_from(sorted(FAULTS)))
def test_an_answer_or_a_refusal_never_a_nan(volts, drive, pair, fault):
    try:
        study = study_pair(Q(volts, "V"), drive, pair)
    except SigcalcError:
        return
    assert np.all(np.isfinite([*vars(study.red.si).values(), *vars(study.green.si).values()]))
    assert all(str(each) for each in study.findings)
    try:
        points = solder_fault(Q(volts, "V"), drive, pair, fault)
    except SigcalcError:
        return
    for point in points:
        assert np.all(np.isfinite(list(vars(point.si).values())))
        assert point.lit in {"red", "green", "both", "none"}

"""The two-lead pair: published figures, physics, the trap of resistance inside the branches, and soldering mistakes."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.pair.pair import FAULTS, findings, solder_fault, study_pair, with_series_diodes
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.errors import DesignError, RangeError, SigcalcError, UnitError, UnknownNameError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import ConstantDrop, Led, diodes, leds
from sigcalc.units import Q

RED, GREEN = leds["red alingap 3 mm"], leds["green gap 3 mm"]
PAIR = TwoLeadPair(RED, GREEN)
SHARED = ResistorDrive("680 ohm")
STEADY = ConstantCurrentDrive("10 mA", "1.5 V")
NONE = ResistorDrive("0 ohm")
INSIDE = TwoLeadPair(RED, GREEN, extra_red="680 ohm", extra_green="680 ohm")


def graded(supply, drive, pair):
    return {each.topic: each.grade for each in findings(study_pair(supply, drive, pair))}


def test_a_sound_pair_on_9_v():
    assert graded("9 V", SHARED, PAIR) == dict.fromkeys(
        ("red lamp", "dark green lamp", "green lamp", "dark red lamp"), "fine"
    )


def test_red_or_green_on_9_v_takes_600_to_1000_ohm_for_7_to_12_ma():
    # common practice, no source
    for ohms in ("600 ohm", "1000 ohm"):
        study = study_pair("9 V", ResistorDrive(ohms), PAIR)
        for lamp in ("red", "green"):
            assert 6.5e-3 < study.point(lamp).si.current < 12.5e-3


def test_the_trap_a_resistor_in_each_branch_and_none_shared_puts_the_whole_supply_on_the_dark_lamp():
    study = study_pair("9 V", NONE, INSIDE)
    assert study.red.si.reverse_voltage == study.green.si.reverse_voltage == 9
    assert graded("9 V", NONE, INSIDE)["dark green lamp"] == "do not build"
    assert graded("4.9 V", NONE, INSIDE)["dark green lamp"] == "fine"  # below the rating there is no trap
    remedies = " ".join(each.remedy for each in findings(study))
    assert "diode in series" in remedies


def test_the_milder_trap_a_resistor_inside_one_branch_adds_its_voltage_to_what_the_dark_lamp_sees():
    pair = TwoLeadPair(RED, GREEN, extra_green="470 ohm")
    study = study_pair("12 V", SHARED, pair)
    green = study.green.si
    assert green.reverse_voltage == pytest.approx(green.led_voltage + 470 * green.current, rel=1e-9)
    assert study.red.si.reverse_voltage == pytest.approx(study.red.si.led_voltage, rel=1e-9)
    assert graded("12 V", SHARED, pair)["dark red lamp"] == "do not build"
    assert graded("9 V", SHARED, pair)["dark red lamp"] == "fine"


def test_the_remedy_costs_the_diodes_drop_and_blocks():
    with_diodes = with_series_diodes(INSIDE)
    assert with_diodes.series_diode is diodes["1n4148"]
    assert set(graded("9 V", NONE, with_diodes).values()) == {"fine"}
    bare, blocked = (pair.operate("9 V", NONE, +1).si for pair in (INSIDE, with_diodes))
    # the drop of a 1N4148 at 10 mA: about 0.7 V (textbook rule, from memory)
    assert 680 * (bare.current - blocked.current) == pytest.approx(0.7, abs=0.1)
    feeble = with_series_diodes(INSIDE, Led("feeble", "none", RED.model, "1 A", "6 V"))
    assert graded("9 V", NONE, feeble)["dark green lamp"] == "do not build"


def test_overload_heat_and_darkness_are_found():
    assert graded("12 V", ResistorDrive("200 ohm"), PAIR)["red lamp"] == "do not build"
    hot = Led("hot", "red", RED.model, "50 mA", max_power="10 mW")
    assert graded("9 V", SHARED, TwoLeadPair(hot, GREEN))["red lamp"] == "do not build"
    assert graded("1.2 V", SHARED, PAIR)["red lamp"] == "do not build"


def test_under_constant_current_a_branch_resistor_changes_nothing_until_the_driver_drops_out():
    plain, extra = (study_pair("12 V", STEADY, pair) for pair in (PAIR, TwoLeadPair(RED, GREEN, extra_red="470 ohm")))
    assert extra.red.si.current == pytest.approx(plain.red.si.current, rel=1e-9)
    (found,) = (each for each in findings(extra) if each.topic == "extra resistor")
    assert found.grade == "look again"
    assert "two drivers" in found.remedy
    assert "extra resistor" not in graded("12 V", STEADY, PAIR)
    starved = TwoLeadPair(RED, GREEN, extra_red="1.2 kohm").operate("12 V", STEADY, +1)
    assert starved.si.current < 0.009


# The order of size of what a bridged lamp's resistance leaves across the pair
BRIDGED = 2e-3


def seen(fault, drive=SHARED, pair=PAIR):
    return tuple(each.lit for each in solder_fault("9 V", drive, pair, fault))


@pytest.mark.parametrize("drive", [SHARED, STEADY])
def test_what_each_soldering_mistake_shows(drive):
    # from the circuit, in words: the same way round, a branch that is broken, a lamp that is bridged
    assert seen("red open", drive) == ("none", "green")
    assert seen("green open", drive) == ("red", "none")
    assert seen("red shorted", drive) == ("none", "none")
    assert seen("green shorted", drive) == ("none", "none")
    twins = TwoLeadPair(GREEN, GREEN)
    assert seen("both the same way round", drive, twins) == ("both", "none")


def test_the_same_way_round_the_lamp_of_less_drop_takes_nearly_all():
    point, dark = solder_fault("9 V", SHARED, PAIR, "both the same way round")
    assert point.si.red_current > 100 * point.si.green_current
    assert dark.si.pair_voltage == pytest.approx(-9)  # both see the whole supply in reverse
    assert point.si.red_current + point.si.green_current == pytest.approx((9 - point.si.pair_voltage) / 680, rel=1e-9)


def test_a_break_leaves_the_whole_supply_across_the_other_lamp_and_a_bridge_leaves_nothing():
    assert solder_fault("9 V", SHARED, PAIR, "red open")[0].si.pair_voltage == pytest.approx(9)
    assert abs(solder_fault("9 V", SHARED, PAIR, "red shorted")[0].si.pair_voltage) < BRIDGED


def test_with_a_diode_a_bridged_lamp_leaves_the_other_one_working():
    pair = with_series_diodes(PAIR)
    assert seen("red shorted", pair=pair) == ("none", "green")
    assert solder_fault("9 V", SHARED, pair, "red shorted")[0].si.red_current == 0


def test_every_fault_is_explained():
    assert all(len(words) > 20 for words in FAULTS.values())


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: study_pair("-9 V", SHARED, PAIR), RangeError, "polarity=-1"),
        (lambda: study_pair("9 V", SHARED, RED), UnitError, "TwoLeadPair"),
        (lambda: study_pair("9 V", ResistorDrive(["1 kohm", "2 kohm"]), PAIR), RangeError, "one value"),
        (lambda: study_pair(["9 V", "8 V"], SHARED, PAIR), UnitError, "single value"),
        (lambda: with_series_diodes(RED), UnitError, "TwoLeadPair"),
        (lambda: with_series_diodes(PAIR, "1n4148"), UnitError, "series_diode"),
        (lambda: solder_fault("9 V", SHARED, PAIR, "red opened"), UnknownNameError, "'red open'"),
        (lambda: solder_fault("9 V", SHARED, PAIR, ["red open"]), UnknownNameError, "fault"),
        (lambda: solder_fault("-9 V", SHARED, PAIR, "red open"), RangeError, "supply"),
        (lambda: solder_fault("9 V", NONE, PAIR, "red open"), DesignError, "resistance"),
        (lambda: solder_fault("9 V", SHARED, "pair", "red open"), UnitError, "TwoLeadPair"),
        (
            lambda: solder_fault(
                "9 V", SHARED, TwoLeadPair(Led("c", "red", ConstantDrop("2 V"), "1 A"), GREEN), "red open"
            ),
            DesignError,
            "Exponential",
        ),
    ],
)
def test_what_is_refused_and_how(call, kind, said):
    with pytest.raises(kind, match=said):
        call()


PAIRS = st.builds(
    lambda red, green, diode: TwoLeadPair(RED, GREEN, Q(red, "ohm"), Q(green, "ohm"), diode),
    st.floats(0, 1e5),
    st.floats(0, 1e5),
    st.sampled_from([None, diodes["1n4148"], diodes["1n4001"]]),
)
DRIVES = st.one_of(
    st.floats(0, 1e6).map(lambda ohms: ResistorDrive(Q(ohms, "ohm"))),
    st.tuples(st.floats(1e-6, 0.1), st.floats(1e-3, 10)).map(
        lambda each: ConstantCurrentDrive(Q(each[0], "A"), Q(each[1], "V"))
    ),
)


@given(volts=st.floats(-1, 60), drive=DRIVES, pair=PAIRS, fault=st.sampled_from(sorted(FAULTS)))
def test_an_answer_or_a_refusal_never_a_nan(volts, drive, pair, fault):
    try:
        study = study_pair(Q(volts, "V"), drive, pair)
    except SigcalcError:
        return
    assert np.all(np.isfinite([*vars(study.red.si).values(), *vars(study.green.si).values()]))
    assert all(str(each) for each in findings(study))
    try:
        points = solder_fault(Q(volts, "V"), drive, pair, fault)
    except SigcalcError:
        return
    for point in points:
        assert np.all(np.isfinite(list(vars(point.si).values())))
        assert point.lit in {"red", "green", "both", "none"}

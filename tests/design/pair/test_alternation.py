"""The pair on AC and on quick reversal: published figures, quadrature by scipy, physics, and what is refused."""

import contextlib
import math
from functools import partial

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad, simpson

from sigcalc.design.pair.alternation import AC, on_ac, turned_round
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.errors import SigcalcError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import ConstantDrop, Led, diodes, leds
from sigcalc.units import Q
from tests.refusals import refused

RED, GREEN = leds["bright red 3 mm"], leds["ordinary green 3 mm"]
PAIR = TwoLeadPair(RED, GREEN)
SHARED = ResistorDrive("1 kohm", "5 %")


def plain(drop, **more):
    """A lamp of constant drop."""
    return Led("plain", "red", ConstantDrop(drop), max_current="50 mA", **more)


def grades(result):
    return {each.topic: each.grade for each in result.findings}


def test_half_wave_of_20_v_through_680_ohm_with_the_drop_neglected():
    # Malvino & Bates, Electronic Principles, Example 5-14 p. 169: 41.6 mA peak, 13.2 mA average, 0.59 W in R
    nothing = plain("1e-9 V")
    result = on_ac("20 V", ResistorDrive("680 ohm"), TwoLeadPair(nothing, nothing), "60 Hz")
    for share in (result.red.si, result.green.si):
        assert share.peak_current == pytest.approx(41.6e-3, abs=0.05e-3)
        assert share.mean_current == pytest.approx(13.2e-3, abs=0.05e-3)
    assert result.si.drive_power == pytest.approx(0.59, abs=0.005)


def test_two_lamps_on_24_v_ac_share_the_current_evenly():
    # Kuphaldt, Lessons in Electric Circuits III ch. 3: 24 V AC, 1120 ohm, two LEDs (1.6 V in his examples) that share
    # 20 mA evenly. He reckons with effective values throughout: 20 mA squared times 1120 ohm are 448 mW.
    result = on_ac("24 V", ResistorDrive("1120 ohm"), TwoLeadPair(plain("1.6 V"), plain("1.6 V")), "60 Hz")
    assert result.red.si.mean_current == result.green.si.mean_current
    assert result.si.drive_power == pytest.approx(1120 * 20e-3**2, rel=2 * 0.5 / 20)
    assert result.lit == "both"


@given(volts=st.floats(2, 30), ohms=st.floats(50, 1e4), drop=st.floats(0.1, 5))
def test_the_mean_of_a_constant_drop_is_the_integral_over_the_conducting_angle(volts, ohms, drop):
    """scipy's adaptive quadrature; and what the supply gives in a half cycle is what lamp and resistor turn to heat."""
    peak = volts * np.sqrt(2)
    lamp = plain(Q(drop, "V"))
    result = on_ac(Q(volts, "V"), ResistorDrive(Q(ohms, "ohm")), TwoLeadPair(lamp, lamp), "60 Hz")
    onset = float(np.arcsin(min(drop / peak, 1.0)))
    mean, square = (
        quad(lambda a: ((peak * np.sin(a) - drop) / ohms) ** power, onset, np.pi / 2)[0] / np.pi  # noqa: B023
        for power in (1, 2)
    )
    share = result.red.si
    assert share.mean_current == pytest.approx(mean, rel=1e-9, abs=1e-15)
    assert result.si.drive_power == pytest.approx(2 * ohms * square, rel=1e-9, abs=1e-15)
    assert share.mean_current <= share.peak_current


def test_the_mean_of_an_exponential_lamp_is_the_integral_of_the_current_of_the_pair():
    pair = TwoLeadPair(RED, GREEN, extra_green="470 ohm")
    result = on_ac("16 V", SHARED, pair, "60 Hz")
    angle = np.linspace(0, np.pi, 20001)
    current = pair.operate(Q(16 * np.sqrt(2) * np.sin(angle).clip(0), "V"), SHARED, -1).si.current
    assert result.green.si.mean_current == pytest.approx(simpson(current, x=angle) / (2 * np.pi), rel=1e-6)


def test_the_peak_is_that_of_the_pair_at_the_peak_and_the_dark_lamp_sees_the_lit_one():
    result = on_ac("16 V", SHARED, PAIR, "60 Hz")
    at_peak = PAIR.operate(Q(16 * math.sqrt(2), "V"), SHARED, +1)
    assert result.red.si.peak_current == pytest.approx(at_peak.si.current, rel=1e-9)
    assert result.green.si.reverse_voltage == pytest.approx(at_peak.si.reverse_voltage, rel=1e-9)
    assert result.red_wave.max() == pytest.approx(at_peak.si.current, rel=1e-3)
    assert np.all((result.red_wave < 1e-9) | (result.green_wave < 1e-9))
    # the resistor carries both half cycles
    currents = result.red_wave[:-1] + result.green_wave[:-1]
    assert result.si.drive_power == pytest.approx(1000 * np.mean(currents**2), rel=1e-3)


def test_reversal_shares_the_time():
    result = turned_round("12 V", SHARED, PAIR, "200 Hz", "25 %")
    red, green = (PAIR.operate("12 V", SHARED, sign).si for sign in (+1, -1))
    assert result.red.si.mean_current == pytest.approx(0.25 * red.current, rel=1e-9)
    assert result.green.si.mean_current == pytest.approx(0.75 * green.current, rel=1e-9)
    assert result.si.drive_power == pytest.approx(0.25 * red.drive_power + 0.75 * green.drive_power, rel=1e-9)
    assert np.mean(result.red_wave > 0) == pytest.approx(0.25, abs=0.01)


def test_the_least_and_most_current_enclose_the_nominal_and_come_from_named_causes():
    for result in (on_ac("16 V", SHARED, PAIR, "60 Hz"), turned_round("12 V", SHARED, PAIR, "60 Hz")):
        for share in (result.red.si, result.green.si):
            assert share.mean_current_min < share.mean_current < share.mean_current_max
    exact = TwoLeadPair(plain("2 V"), plain("2 V"))
    share = on_ac("16 V", ResistorDrive("1 kohm"), exact, "60 Hz", lightly_loaded=0.0).red.si
    assert share.mean_current_min == share.mean_current == share.mean_current_max
    high = on_ac("16 V", ResistorDrive("1 kohm"), exact, "60 Hz", lightly_loaded=0.25).red.si
    assert high.mean_current_max == on_ac("20 V", ResistorDrive("1 kohm"), exact, "60 Hz").red.si.mean_current


def test_what_the_eye_makes_of_the_frequency_and_flashing_that_can_trigger_seizures():
    """Below the least of 19 critical flicker frequencies (from memory) everyone sees the lamps flash.

    Epilepsy Society (epilepsysociety.org.uk), photosensitive epilepsy: 3 to 30 Hz commonly, up to 60 Hz in some.
    """
    for hertz, flash, warned in ((1, 1, 0), (10, 1, 1), (23.6, 1, 1), (60, 0, 1), (200, 0, 0)):
        looks = on_ac("16 V", SHARED, PAIR, Q(hertz, "Hz")).looks
        assert looks == ("both lamps flash in turn" if flash else "both lamps seem to be on")
        found = grades(turned_round("12 V", SHARED, PAIR, Q(hertz, "Hz")))
        assert (found.get("flashing") == "do not build") is bool(warned)


def test_ac_is_not_for_a_signal_and_the_limits_of_the_lamps_are_told():
    result = on_ac("16 V", SHARED, PAIR, "60 Hz")
    assert result.supply == AC
    assert grades(result)["colour"] == "do not build"
    assert any("rectify" in each.remedy for each in result.findings)
    for ohms, grade in (("100 ohm", "do not build"), ("470 ohm", "look again"), ("1 kohm", "fine")):
        assert grades(on_ac("16 V", ResistorDrive(ohms), PAIR, "60 Hz"))["red lamp"] == grade


def test_a_resistor_inside_each_branch_puts_the_peak_on_the_dark_lamp_until_a_diode_blocks_it():
    inside = TwoLeadPair(RED, GREEN, extra_red="1 kohm", extra_green="1 kohm")
    result = on_ac("12 V", ResistorDrive("0 ohm"), inside, "60 Hz")
    assert result.red.si.reverse_voltage == pytest.approx(12 * math.sqrt(2), rel=1e-6)
    assert grades(result)["dark red lamp"] == "do not build"
    blocked = TwoLeadPair(RED, GREEN, extra_red="1 kohm", extra_green="1 kohm", series_diode=diodes["1n4148"])
    assert grades(on_ac("12 V", ResistorDrive("0 ohm"), blocked, "60 Hz"))["dark red lamp"] == "fine"


def test_too_little_voltage_leaves_both_dark():
    result = on_ac("0.7 V", SHARED, PAIR, "60 Hz")
    assert result.lit == "none"
    assert "stay dark" in result.sentence
    found = grades(result)
    assert (found["red lamp"], found["colour"]) == ("do not build", "look again")


@settings(max_examples=40)
@given(
    volts=st.floats(0, 30),
    ohms=st.floats(0, 1e6),
    hertz=st.floats(0.01, 1e5),
    duty=st.floats(0, 1),
    drop=st.floats(0.1, 10),
)
def test_an_answer_or_a_refusal_never_a_nan(volts, ohms, hertz, duty, drop):
    drive = ResistorDrive(Q(ohms, "ohm"), 0.05)
    for pair in (PAIR, TwoLeadPair(plain(Q(drop, "V")), GREEN)):
        for ask, more in ((on_ac, ()), (turned_round, (duty,))):
            with contextlib.suppress(SigcalcError):
                result = ask(Q(volts, "V"), drive, pair, Q(hertz, "Hz"), *more)
                figures = [value for share in (result.red, result.green) for value in vars(share.si).values()]
                assert np.all(np.isfinite([*figures, result.si.drive_power]))
                assert min(figures) >= 0
                assert all(str(each) for each in result.findings)


def test_a_peak_that_lasts_counts_as_steady():
    for slow in (
        turned_round("12 V", ResistorDrive("180 ohm"), PAIR, "1 Hz"),
        on_ac("16 V", ResistorDrive("470 ohm"), PAIR, "2 Hz"),
    ):
        assert slow.red.mean_current < RED.max_current < slow.red.peak_current
        assert grades(slow)["red lamp"] == "do not build"


test_what_is_refused_and_how = refused(
    (partial(on_ac, "16 V", ConstantCurrentDrive("10 mA", "1 V"), PAIR, "60 Hz"), "one direction only"),
    (partial(turned_round, "16 V", ConstantCurrentDrive("10 mA", "1 V"), PAIR, "60 Hz"), "one direction only"),
    (partial(on_ac, "16 V", ResistorDrive("0 ohm"), PAIR, "60 Hz"), "no resistance"),
    (partial(on_ac, "120 V", SHARED, PAIR, "60 Hz"), "30 V"),
    (partial(on_ac, "16 V", SHARED, PAIR, "0 Hz"), "frequency"),
    (partial(on_ac, "16 V", SHARED, RED, "60 Hz"), "TwoLeadPair"),
    (partial(on_ac, "16 V", "470 ohm", PAIR, "60 Hz"), "ResistorDrive"),
    (partial(turned_round, "-9 V", SHARED, PAIR, "60 Hz"), "supply"),
    (partial(turned_round, "9 V", SHARED, PAIR, "60 Hz", 1.0), "nothing alternates"),
)

"""The pair on AC and on quick reversal: published figures, quadrature by scipy, physics, and what is refused."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import simpson

from sigcalc.design.pair.alternating import AC, SEEN_BY_ALL_BELOW
from sigcalc.design.pair.alternation import findings, on_ac, turned_round
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.errors import DesignError, RangeError, SigcalcError, UnitError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import ConstantDrop, Led, diodes, leds
from sigcalc.units import Q

RED, GREEN = leds["red alingap 3 mm"], leds["green gap 3 mm"]
PAIR = TwoLeadPair(RED, GREEN)
SHARED = ResistorDrive("1 kohm", "5 %")


def plain(drop, **more):
    """A lamp of constant drop."""
    return Led("plain", "red", ConstantDrop(drop), max_current="50 mA", **more)


def lamp(intensity, wavelength, drop="2 V"):
    return plain(drop, intensity=intensity, intensity_current="10 mA", wavelength=wavelength)


def grades(result):
    return {each.topic: each.grade for each in findings(result)}


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


@pytest.mark.parametrize("extra", ["0 ohm", "470 ohm"])
def test_the_mean_of_an_exponential_lamp_is_the_integral_of_the_current_of_the_pair(extra):
    pair = TwoLeadPair(RED, GREEN, extra_green=extra)
    result = on_ac("16 V", SHARED, pair, "60 Hz")
    angle = np.linspace(0, np.pi, 20001)
    current = pair.operate(Q(16 * np.sqrt(2) * np.sin(angle).clip(0), "V"), SHARED, -1).si.current
    assert result.green.si.mean_current == pytest.approx(simpson(current, x=angle) / (2 * np.pi), rel=1e-6)
    assert result.green.si.rms_current**2 == pytest.approx(simpson(current**2, x=angle) / (2 * np.pi), rel=1e-6)


def test_the_peak_is_that_of_the_pair_at_the_peak_and_the_dark_lamp_sees_the_lit_one():
    result = on_ac("16 V", SHARED, PAIR, "60 Hz")
    at_peak = PAIR.operate(Q(16 * math.sqrt(2), "V"), SHARED, +1)
    assert result.red.si.peak_current == pytest.approx(at_peak.si.current, rel=1e-9)
    assert result.green.si.reverse_voltage == pytest.approx(at_peak.si.reverse_voltage, rel=1e-9)
    assert result.red_wave.max() == pytest.approx(at_peak.si.current, rel=1e-3)
    assert np.all((result.red_wave < 1e-9) | (result.green_wave < 1e-9))


def test_the_resistor_carries_both_half_cycles():
    result = on_ac("16 V", SHARED, PAIR, "60 Hz")
    currents = result.red_wave[:-1] + result.green_wave[:-1]
    assert result.si.drive_power == pytest.approx(1000 * np.mean(currents**2), rel=1e-3)


def test_reversal_shares_the_time():
    result = turned_round("12 V", SHARED, PAIR, "200 Hz", "25 %")
    red, green = (PAIR.operate("12 V", SHARED, sign).si for sign in (+1, -1))
    assert result.red.si.mean_current == pytest.approx(0.25 * red.current, rel=1e-9)
    assert result.green.si.mean_current == pytest.approx(0.75 * green.current, rel=1e-9)
    assert result.red.si.rms_current == pytest.approx(0.5 * red.current, rel=1e-9)
    assert result.si.drive_power == pytest.approx(0.25 * red.drive_power + 0.75 * green.drive_power, rel=1e-9)
    assert np.mean(result.red_wave > 0) == pytest.approx(0.25, abs=0.01)


def test_a_driver_holds_its_current_while_it_is_turned_round():
    result = turned_round("12 V", ConstantCurrentDrive("10 mA", "1.5 V", "10 %"), PAIR, "200 Hz")
    assert result.red.si.peak_current == pytest.approx(10e-3)
    assert result.red.si.mean_current_min == pytest.approx(4.5e-3)
    assert result.red.si.mean_current_max == pytest.approx(5.5e-3)


def test_the_least_and_most_current_enclose_the_nominal_and_come_from_named_causes():
    for result in (on_ac("16 V", SHARED, PAIR, "60 Hz"), turned_round("12 V", SHARED, PAIR, "60 Hz")):
        for share in (result.red.si, result.green.si):
            assert share.mean_current_min < share.mean_current < share.mean_current_max
    exact = TwoLeadPair(plain("2 V"), plain("2 V"))
    share = on_ac("16 V", ResistorDrive("1 kohm"), exact, "60 Hz", lightly_loaded=0.0).red.si
    assert share.mean_current_min == share.mean_current == share.mean_current_max
    high = on_ac("16 V", ResistorDrive("1 kohm"), exact, "60 Hz", lightly_loaded=0.25).red.si
    assert high.mean_current_max == on_ac("20 V", ResistorDrive("1 kohm"), exact, "60 Hz").red.si.mean_current


# colour-science 0.4.7, 525 nm and 625 nm, luminance of red over green 0.25, 0.5, 1, 2, 4
@pytest.mark.parametrize(
    ("red_over_green", "x", "y"),
    [
        (0.25, 0.3536, 0.6111),
        (0.5, 0.4542, 0.5207),
        (1, 0.5447, 0.4394),
        (2, 0.6107, 0.3801),
        (4, 0.6519, 0.3431),
    ],
)
def test_published_mixed_colour(red_over_green, x, y):
    pair = TwoLeadPair(lamp(Q(10 * red_over_green, "mcd"), "625 nm"), lamp("10 mcd", "525 nm"))
    result = turned_round("12 V", SHARED, pair, "2 kHz")
    assert result.chromaticity == pytest.approx((x, y), abs=0.001)
    assert result.red.light_share == pytest.approx(red_over_green / (1 + red_over_green))


def test_equal_light_of_both_lamps_leaves_nothing_to_flicker():
    pair = TwoLeadPair(lamp("10 mcd", "625 nm"), lamp("10 mcd", "525 nm"))
    result = turned_round("12 V", SHARED, pair, "200 Hz")
    assert result.modulation == pytest.approx(0.0, abs=1e-9)
    assert result.mixed not in {"red", "green"}
    assert "no effect on people known" in result.together
    assert "more than the low-risk limit" in result.apart
    assert result.red.si.light == pytest.approx(result.red.si.mean_current, rel=1e-9)  # 10 mcd at 10 mA


def test_more_time_for_red_moves_the_mixture_towards_red():
    pair = TwoLeadPair(lamp("10 mcd", "625 nm"), lamp("10 mcd", "525 nm"))
    hues = [turned_round("12 V", SHARED, pair, "200 Hz", share).chromaticity for share in (0.1, 0.5, 0.9)]
    assert [x for x, _ in hues] == sorted(x for x, _ in hues)


def test_without_intensity_no_hue_is_claimed():
    result = on_ac("16 V", SHARED, TwoLeadPair(plain("2 V"), plain("2 V")), "60 Hz")
    assert (result.mixed, result.chromaticity, result.red.light, result.red.light_share) == (None, None, None, None)
    assert result.together == ""


@pytest.mark.parametrize(
    ("frequency", "said"),
    [
        ("5 Hz", "flash in turn"),
        ("23.6 Hz", "flash in turn"),  # below the least of 19 critical flicker frequencies (from memory)
        ("79 Hz", "may be seen to flicker"),  # up to about 80 Hz flicker can be seen (dial.de)
        ("81 Hz", "more than the low-risk limit"),
        ("100 Hz", "more than the low-risk limit"),  # IEEE 1789-2015: 8 % at 100 Hz (from memory, one point verified)
        ("1.3 kHz", "low risk"),  # IEEE 1789-2015: no limit above 1250 Hz (from memory)
        ("3.1 kHz", "no effect on people known"),  # above 3000 Hz (from memory)
    ],
)
def test_what_the_eye_makes_of_the_frequency(frequency, said):
    assert said in on_ac("16 V", SHARED, PAIR, frequency).apart


def test_slow_reversal_mixes_nothing():
    assert (
        turned_round("12 V", SHARED, PAIR, Q(SEEN_BY_ALL_BELOW - 1, "Hz")).together == "too slow for the colours to mix"
    )


def test_ac_is_not_for_a_signal_and_says_what_to_do():
    result = on_ac("16 V", SHARED, PAIR, "60 Hz")
    assert result.supply == AC
    assert grades(result)["colour"] == "do not build"
    assert any("rectify" in each.remedy for each in findings(result))
    assert "both lamps seem to be on" in result.sentence


def test_a_remedy_for_flicker_keeps_its_word():
    (finding,) = (each for each in findings(turned_round("12 V", SHARED, PAIR, "200 Hz")) if each.topic == "flicker")
    assert finding.grade == "look again"
    assert "1.25 kHz" in finding.remedy
    assert grades(turned_round("12 V", SHARED, PAIR, "1.26 kHz"))["flicker"] == "fine"


def test_the_limits_of_the_lamps():
    assert grades(on_ac("16 V", ResistorDrive("100 ohm"), PAIR, "60 Hz"))["red lamp"] == "do not build"
    assert grades(on_ac("16 V", ResistorDrive("470 ohm"), PAIR, "60 Hz"))["red lamp"] == "look again"  # only the peaks
    assert grades(on_ac("16 V", SHARED, PAIR, "60 Hz"))["red lamp"] == "fine"


def test_a_resistor_inside_each_branch_puts_the_peak_on_the_dark_lamp_until_a_diode_blocks_it():
    inside = TwoLeadPair(RED, GREEN, extra_red="1 kohm", extra_green="1 kohm")
    result = on_ac("12 V", ResistorDrive("0 ohm"), inside, "60 Hz")
    assert result.red.si.reverse_voltage == pytest.approx(12 * math.sqrt(2), rel=1e-6)
    assert grades(result)["dark red lamp"] == "do not build"
    blocked = TwoLeadPair(RED, GREEN, extra_red="1 kohm", extra_green="1 kohm", series_diode=diodes["1n4148"])
    assert grades(on_ac("12 V", ResistorDrive("0 ohm"), blocked, "60 Hz"))["dark red lamp"] == "fine"


def test_too_little_voltage_leaves_both_dark():
    result = on_ac("0.7 V", SHARED, PAIR, "60 Hz")
    assert (result.lit, result.red.si.lit_share) == ("none", 0)
    assert "stay dark" in result.sentence
    found = grades(result)
    assert (found["red lamp"], found["colour"]) == ("do not build", "look again")
    assert "flicker" not in found  # what is dark does not flicker


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: on_ac("16 V", ConstantCurrentDrive("10 mA", "1 V"), PAIR, "60 Hz"), DesignError, "one direction only"),
        (lambda: on_ac("16 V", ResistorDrive("0 ohm"), PAIR, "60 Hz"), DesignError, "no resistance"),
        (lambda: on_ac("120 V", SHARED, PAIR, "60 Hz"), RangeError, "30 V"),
        (lambda: on_ac("16 V", SHARED, PAIR, "0 Hz"), RangeError, "frequency"),
        (lambda: on_ac("16 V", SHARED, PAIR, 60), UnitError, "frequency"),
        (lambda: on_ac("16 V", SHARED, RED, "60 Hz"), UnitError, "TwoLeadPair"),
        (lambda: on_ac("16 V", "470 ohm", PAIR, "60 Hz"), UnitError, "ResistorDrive"),
        (lambda: turned_round("-9 V", SHARED, PAIR, "60 Hz"), RangeError, "supply"),
        (lambda: turned_round("9 V", SHARED, PAIR, "60 Hz", 1.0), RangeError, "nothing alternates"),
    ],
)
def test_what_is_refused_and_how(call, kind, said):
    with pytest.raises(kind, match=said):
        call()


@settings(max_examples=40)
@given(
    volts=st.floats(0, 30),
    ohms=st.floats(0, 1e6),
    hertz=st.floats(0.01, 1e5),
    duty=st.floats(0, 1),
    drop=st.floats(0.1, 10),
    steady=st.booleans(),
)
def test_an_answer_or_a_refusal_never_a_nan(volts, ohms, hertz, duty, drop, steady):
    drive = ConstantCurrentDrive("10 mA", "1.5 V") if steady else ResistorDrive(Q(ohms, "ohm"), 0.05)
    pairs = (PAIR, TwoLeadPair(plain(Q(drop, "V")), GREEN))
    for pair in pairs:
        for ask in (
            lambda pair=pair: on_ac(Q(volts, "V"), drive, pair, Q(hertz, "Hz")),
            lambda pair=pair: turned_round(Q(volts, "V"), drive, pair, Q(hertz, "Hz"), duty),
        ):
            try:
                result = ask()
            except SigcalcError:
                continue
            figures = [
                value for share in (result.red, result.green) for value in vars(share.si).values() if value is not None
            ]
            assert np.all(np.isfinite([*figures, result.si.drive_power, result.modulation]))
            assert min(figures) >= 0
            assert all(str(each) for each in findings(result))


@pytest.mark.parametrize(
    ("frequency", "warned"), [("1 Hz", False), ("10 Hz", True), ("60 Hz", True), ("200 Hz", False)]
)
def test_flashing_that_can_trigger_seizures_is_refused(frequency, warned):
    """Epilepsy Society (epilepsysociety.org.uk), photosensitive epilepsy: 3 to 30 Hz commonly, up to 60 Hz in some."""
    found = findings(turned_round("12 V", ResistorDrive("1 kohm"), PAIR, frequency))
    assert ("flashing" in {each.topic for each in found if each.grade == "do not build"}) is warned


def test_a_supply_that_lights_no_lamp_is_no_flicker_and_no_fault():
    result = turned_round("0.6 V", SHARED, TwoLeadPair(leds["red gaasp 3 mm"], GREEN), "60 Hz")
    assert (result.lit, result.modulation) == ("none", Q(1, ""))


def test_a_peak_that_lasts_counts_as_steady():
    for slow in (
        turned_round("12 V", ResistorDrive("180 ohm"), PAIR, "1 Hz"),
        on_ac("16 V", ResistorDrive("470 ohm"), PAIR, "2 Hz"),
    ):
        assert slow.red.mean_current < RED.max_current < slow.red.peak_current
        assert grades(slow)["red lamp"] == "do not build"

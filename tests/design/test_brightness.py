"""How even the lamps look and what evens them out: each remedy is put back into the pair and compared again."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.brightness import EVEN_UP_TO, compare_brightness, even_currents, even_out, findings
from sigcalc.errors import DesignError, RangeError, SigcalcError, UnitError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import Led
from sigcalc.parts.led_model import ConstantDrop
from sigcalc.parts.led_table import diodes, leds
from sigcalc.parts.pair import TwoLeadPair
from sigcalc.units import Q

RED, GREEN = leds["red alingap 3 mm"], leds["green gap 3 mm"]
OLD_RED = leds["red gaasp 3 mm"]
SHARED = ResistorDrive("470 ohm")
DULL = Led("dull", "red", ConstantDrop("2 V"), max_current="30 mA")


def light_ratio(supply, drive, pair):
    """Red over green, each lit in turn."""
    red, green = (
        led.light_si(pair.operate(supply, drive, sign).si.current) for led, sign in ((pair.red, +1), (pair.green, -1))
    )
    return red / green


def test_light_follows_the_data_sheet():
    # led-tlhk4400l (Vishay TLHK4400L): 70 mcd typical, 16 at least, at 10 mA; led-tlhg4400 (Vishay 83006): 4 and 2.5
    si = compare_brightness(RED, GREEN, "10 mA", "10 mA").si
    assert (si.red_light, si.green_light) == pytest.approx((0.070, 0.004))
    assert (si.red_light_min, si.green_light_min) == pytest.approx((0.016, 0.0025))


def test_ratio_worst_ratio_and_word():
    evenness = compare_brightness(RED, GREEN, "10 mA", "10 mA")
    assert (evenness.brighter, evenness.word) == ("red", "one outshines the other")
    assert evenness.ratio == pytest.approx(70 / 4)
    assert evenness.ratio_max == pytest.approx(70 / 2.5)
    swapped = compare_brightness(GREEN, RED, "10 mA", "10 mA")
    assert (swapped.brighter, swapped.ratio) == ("green", pytest.approx(70 / 4))


def test_without_a_least_light_no_worst_ratio_is_claimed():
    typical = Led("typical", "red", ConstantDrop("2 V"), "30 mA", intensity="4 mcd", intensity_current="10 mA")
    evenness = compare_brightness(typical, typical, "10 mA", "10 mA")
    assert (evenness.ratio, evenness.ratio_max, evenness.red_light_min) == (1, None, None)
    assert [each.grade for each in findings(evenness)] == ["fine"]


@pytest.mark.parametrize("pair", [TwoLeadPair(RED, GREEN), TwoLeadPair(OLD_RED, GREEN), TwoLeadPair(GREEN, RED)])
@pytest.mark.parametrize("extra", ["0 ohm", "220 ohm"])
@pytest.mark.parametrize("diode", [None, diodes["1n4148"]])
def test_the_extra_resistor_makes_the_pair_look_alike(pair, extra, diode):
    pair = TwoLeadPair(pair.red, pair.green, extra_red=extra, series_diode=diode)
    evening = even_out("9 V", SHARED, pair)
    extras = {"red": pair.si.extra_red, "green": pair.si.extra_green}
    extras[evening.lamp] += evening.si.extra
    evened = TwoLeadPair(pair.red, pair.green, Q(extras["red"], "ohm"), Q(extras["green"], "ohm"), diode)
    assert light_ratio("9 V", SHARED, evened) == pytest.approx(1, rel=1e-6)
    for lamp, sign in (("red", +1), ("green", -1)):
        current = evened.operate("9 V", SHARED, sign).si.current
        assert getattr(evening.si, f"{lamp}_current") == pytest.approx(current, rel=1e-6)


def test_even_currents_are_those_of_two_drivers():
    red, green = even_currents(RED, GREEN, "10 mA")
    assert green.to("mA").magnitude == pytest.approx(10)
    assert red.to("mA").magnitude == pytest.approx(10 * 4 / 70)
    assert compare_brightness(RED, GREEN, red, green).ratio == pytest.approx(1)
    drives = (ConstantCurrentDrive(each, "1.5 V") for each in (red, green))
    lit = [TwoLeadPair(RED, GREEN).operate("9 V", drive, sign) for drive, sign in zip(drives, (1, -1), strict=True)]
    assert RED.light_si(lit[0].si.current) == pytest.approx(GREEN.light_si(lit[1].si.current), rel=1e-9)


def test_findings_name_the_lamp_to_dim_and_warn_of_dim_parts():
    (uneven,) = findings(compare_brightness(RED, GREEN, "10 mA", "10 mA"))
    assert (uneven.grade, "red branch" in uneven.remedy) == ("look again", True)
    alike = findings(compare_brightness(RED, GREEN, "1 mA", "17.5 mA"))
    assert [each.grade for each in alike] == ["fine", "look again"]  # typical parts even, the dimmest red not
    accepted = findings(compare_brightness(OLD_RED, GREEN, "3 mA", "10 mA"), accepted=12)
    assert [each.grade for each in accepted] == ["fine"]
    assert EVEN_UP_TO == 1.5  # common practice, no source


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (
            lambda: even_out("9 V", ConstantCurrentDrive("10 mA", "1 V"), TwoLeadPair(RED, GREEN)),
            DesignError,
            "one driver",
        ),
        (lambda: even_out("1 V", SHARED, TwoLeadPair(RED, GREEN)), RangeError, "supply 1 V leaves the red lamp dark"),
        (lambda: even_out("-9 V", SHARED, TwoLeadPair(RED, GREEN)), RangeError, "supply"),
        (lambda: even_out("9 V", SHARED, RED), UnitError, "TwoLeadPair"),
        (
            lambda: even_out("9 V", ResistorDrive(["1 kohm", "2 kohm"]), TwoLeadPair(RED, GREEN)),
            RangeError,
            "one value",
        ),
        (lambda: compare_brightness(DULL, GREEN, "1 mA", "1 mA"), UnitError, "no luminous intensity"),
        (lambda: compare_brightness("red", GREEN, "1 mA", "1 mA"), UnitError, "red needs one Led"),
        (lambda: compare_brightness(RED, GREEN, "0 mA", "1 mA"), RangeError, "red_current"),
        (lambda: even_currents(RED, DULL, "1 mA"), UnitError, "no luminous intensity"),
    ],
)
def test_what_is_refused_and_how(call, kind, said):
    with pytest.raises(kind, match=said):
        call()


@given(
    volts=st.floats(0, 60),
    ohms=st.floats(0, 1e6),
    extra=st.floats(0, 1e6),
    names=st.tuples(*[st.sampled_from(sorted(leds))] * 2),
)
def test_an_answer_or_a_refusal_never_a_nan(volts, ohms, extra, names):
    pair = TwoLeadPair(leds[names[0]], leds[names[1]], Q(extra, "ohm"))
    try:
        evening = even_out(Q(volts, "V"), ResistorDrive(Q(ohms, "ohm")), pair)
    except SigcalcError:
        return
    assert evening.si.extra >= 0
    evenness = compare_brightness(pair.red, pair.green, evening.red_current, evening.green_current)
    assert evenness.ratio == pytest.approx(1, rel=1e-9)

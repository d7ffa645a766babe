"""How even the lamps look and what evens them out: each remedy is put back into the pair and compared again."""

import contextlib
from dataclasses import replace
from functools import partial

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc import Plan
from sigcalc.design.lamp.drive import loop_current
from sigcalc.design.pair.brightness import EVEN_UP_TO, compare_brightness, even_currents, even_out
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.errors import SigcalcError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import ConstantDrop, Led, diodes, leds
from sigcalc.units import Q
from tests.refusals import refused

RED, GREEN = leds["bright red 3 mm"], leds["ordinary green 3 mm"]
OLD_RED = leds["ordinary red 3 mm"]
SHARED = ResistorDrive("470 ohm")
DULL = Led("dull", "red", ConstantDrop("2 V"), max_current="30 mA")


@pytest.mark.parametrize(("colour", "least"), [("red", 22), ("yellow", 23), ("green", 27)])
def test_lamps_of_one_sheet_are_even_where_typical_and_may_differ_where_bought(colour, least):
    """HLMP-1340, -1440, -1540 data sheet: 22, 23 and 27 mcd at least, 45 mcd typical at 20 mA, whatever the colour."""
    sheet = {"intensity": "45 mcd", "intensity_current": "20 mA"}
    red = Led("red", "red", ConstantDrop("2 V"), "30 mA", intensity_min="22 mcd", **sheet)
    other = Led("other", colour, ConstantDrop("2 V"), "30 mA", intensity_min=f"{least} mcd", **sheet)
    evenness = compare_brightness(red, other, "10 mA", "10 mA")
    assert evenness.ratio == 1
    assert evenness.green_light_min.m_as("cd") == pytest.approx(least / 2e3)
    (finding,) = evenness.findings
    assert finding.grade == "look again"
    assert compare_brightness(red, other, "20 mA", "10 mA").ratio == pytest.approx(2)


def test_ratio_worst_ratio_and_word():
    evenness = compare_brightness(RED, GREEN, "10 mA", "10 mA")
    assert (evenness.brighter, evenness.word) == ("red", "one outshines the other")
    assert evenness.ratio == pytest.approx(70 / 4)
    assert evenness.ratio_max == pytest.approx(3 * 70 / 2.5)  # the sheet gives no most: three times the typical
    swapped = compare_brightness(GREEN, RED, "10 mA", "10 mA")
    assert (swapped.brighter, swapped.ratio) == ("green", pytest.approx(70 / 4))
    # where the sheet says nothing of it the usual spread stands
    typical = Led("typical", "red", ConstantDrop("2 V"), "30 mA", intensity="4 mcd", intensity_current="10 mA")
    evenness = compare_brightness(typical, typical, "10 mA", "10 mA")
    assert (evenness.si.red_light_min, evenness.si.red_light_max) == pytest.approx((0.004 / 3, 0.012))
    assert (evenness.ratio, evenness.ratio_max) == (1, pytest.approx(9))


SORTED = {"intensity_min": "9 mcd", "intensity": "10 mcd", "intensity_max": "11 mcd", "intensity_current": "10 mA"}


def test_lamps_sorted_closely_are_said_to_look_alike():
    lamp = Led("sorted", "red", ConstantDrop("2 V"), "30 mA", **SORTED)
    evenness = compare_brightness(lamp, lamp, "10 mA", "10 mA")
    assert (evenness.word, evenness.odds) == ("they look alike", 0)
    assert 1 < evenness.ratio_likely < evenness.ratio_max == pytest.approx(11 / 9)
    (finding,) = evenness.findings
    assert (finding.grade, "Nine in ten bought pairs" in finding.reason) == ("fine", True)


# HLMP-1700-CD000, HLMP-1790-AB000 and HLMP-1550-BC0xx sheets: least, typical and most of an order code, in mcd
@pytest.mark.parametrize("code", [(1.3, 2.3, 4.2), (1.0, 2.4, 3.2), (1.6, 2.8, 5.2)])
def test_the_usual_spread_holds_that_of_order_codes_that_print_it(code):
    least, most = DULL.light_shares
    assert least < code[0] / code[1] < code[2] / code[1] < most


def drawn_builds(plan, count=4000, seed=11):
    """Light in cd of both lamps of bought parts: what differs drawn for each build anew, and each circuit solved.

    Half of all lamps give more than the typical, half less, the fewer the farther.
    """
    random = np.random.default_rng(seed)
    supply, off = random.uniform(11.4, 12.6, count), random.uniform(0.95, 1.05, count)
    light = {}
    for lamp in ("red", "green"):
        led = getattr(plan.pair, lamp)
        drop = random.triangular(-1, 0, 1, count)
        ohms = plan.points["red"].drive.si.resistance * off
        current = loop_current(supply, ohms, [led], None, drop)
        least, most = led.light_shares
        off_typical = random.triangular(-1, 0, 1, count)
        light[lamp] = led.light_si(current) * np.where(off_typical < 0, least, most) ** np.abs(off_typical)
    return light


@pytest.mark.parametrize("red", ["low-current red 3 mm", "ordinary red 3 mm", "bright red 3 mm"])
def test_the_band_holds_drawn_builds_and_the_words_agree_with_their_odds(red):
    limits = {"supply": {"part": "12 V regulated"}, "drive": {"tolerance": 0.05, "current": "4 mA"}}
    study = Plan(red={"part": red}, green={"part": "ordinary green 3 mm"}, **limits).study()
    light = drawn_builds(study)
    for lamp, values in light.items():
        band = study.figures[f"{lamp}_light"]
        assert np.mean((band.least <= values) & (values <= band.most)) > 0.9
        current, per_ampere = study.figures[f"{lamp}_current"], getattr(study.pair, lamp).light_si(1.0)
        by_current_alone = (current.least * per_ampere <= values) & (values <= current.most * per_ampere)
        assert np.mean(by_current_alone) < 0.5
    currents = [study.points[lamp].current for lamp in ("red", "green")]
    evenness = compare_brightness(study.pair.red, study.pair.green, *currents)
    ratios = np.maximum(light["red"] / light["green"], light["green"] / light["red"])
    assert np.mean(ratios > 1.5) == pytest.approx(evenness.odds, abs=0.03)
    assert np.mean(ratios < evenness.ratio_likely) == pytest.approx(0.9, abs=0.03)


def test_two_typically_even_lamps_that_half_the_builds_make_uneven_may_differ():
    red, green = even_currents(leds["low-current red 3 mm"], leds["low-current green 3 mm"], "4 mA")
    evenness = compare_brightness(leds["low-current red 3 mm"], leds["low-current green 3 mm"], red, green)
    assert (evenness.ratio, evenness.word) == (pytest.approx(1), "they may differ")
    assert 0.4 < evenness.odds < 0.6
    (finding,) = evenness.findings
    assert finding.grade == "look again"
    assert f"about {100 * evenness.odds:.0f} pairs in 100 differ by more than 1.5 times" in finding.reason


@pytest.mark.parametrize("pair", [TwoLeadPair(RED, GREEN), TwoLeadPair(OLD_RED, GREEN), TwoLeadPair(GREEN, RED)])
@pytest.mark.parametrize("extra", ["0 ohm", "220 ohm"])
@pytest.mark.parametrize("diode", [None, diodes["1n4148"]])
def test_the_extra_resistor_makes_the_pair_look_alike(pair, extra, diode):
    pair = replace(pair, extra_red=extra, series_diode=diode)
    balance = even_out("9 V", SHARED, pair)
    more = f"extra_{balance.lamp}"
    evened = replace(pair, **{more: getattr(pair, more) + balance.extra})
    red, green = (evened.operate("9 V", SHARED, sign).si.current for sign in (+1, -1))
    assert pair.red.light_si(red) == pytest.approx(pair.green.light_si(green), rel=1e-6)
    assert (balance.si.red_current, balance.si.green_current) == pytest.approx((red, green), rel=1e-6)


def test_even_currents_are_those_of_two_drivers():
    red, green = even_currents(RED, GREEN, "10 mA")
    assert green.to("mA").magnitude == pytest.approx(10)
    assert red.to("mA").magnitude == pytest.approx(10 * 4 / 70)
    assert compare_brightness(RED, GREEN, red, green).ratio == pytest.approx(1)


def test_findings_name_the_lamp_to_dim_and_warn_of_dim_parts():
    (uneven,) = compare_brightness(RED, GREEN, "10 mA", "10 mA").findings
    assert (uneven.grade, "red branch" in uneven.remedy) == ("look again", True)
    alike = compare_brightness(RED, GREEN, "1 mA", "17.5 mA").findings
    assert [each.grade for each in alike] == ["look again"]  # typical parts even, bought ones often not
    accepted = compare_brightness(OLD_RED, GREEN, "3 mA", "10 mA").judged(accepted=12)
    assert [each.grade for each in accepted] == ["fine"]
    assert EVEN_UP_TO == 1.5  # common practice, no source


ANY_LED, ANY_OHMS = st.sampled_from(list(leds.values())), st.floats(0, 1e6)


@given(volts=st.floats(0, 60), ohms=ANY_OHMS, extra=ANY_OHMS, red=ANY_LED, green=ANY_LED)
def test_an_answer_or_a_refusal_never_a_nan(volts, ohms, extra, red, green):
    pair = TwoLeadPair(red, green, Q(extra, "ohm"))
    with contextlib.suppress(SigcalcError):
        evened = even_out(Q(volts, "V"), ResistorDrive(Q(ohms, "ohm")), pair)
        assert evened.si.extra >= 0
        evenness = compare_brightness(red, green, evened.red_current, evened.green_current)
        assert evenness.ratio == pytest.approx(1, rel=1e-9)


PAIR = TwoLeadPair(RED, GREEN)
test_what_is_refused_and_how = refused(
    (partial(even_out, "9 V", ConstantCurrentDrive("10 mA", "1 V"), PAIR), "one driver"),
    (partial(even_out, "1 V", SHARED, PAIR), "supply 1 V leaves the red lamp dark"),
    (partial(even_out, "-9 V", SHARED, PAIR), "supply"),
    (partial(even_out, "9 V", SHARED, RED), "TwoLeadPair"),
    (partial(even_out, "9 V", ResistorDrive(["1 kohm", "2 kohm"]), PAIR), "one value"),
    (partial(compare_brightness, DULL, GREEN, "1 mA", "1 mA"), "no luminous intensity"),
    (partial(compare_brightness, "red", GREEN, "1 mA", "1 mA"), "red needs one Led"),
    (partial(compare_brightness, RED, GREEN, "0 mA", "1 mA"), "red_current"),
    (partial(even_currents, RED, DULL, "1 mA"), "no luminous intensity"),
)

"""The sum by hand: whoever works it out with the printed figures gets the printed answers."""

import re

import pytest

from sigcalc.design.lamp.direct import connect_to_source
from sigcalc.design.lamp.resistor import choose_resistor
from sigcalc.errors import RangeError
from sigcalc.parts.led import ConstantDrop, Led, leds
from sigcalc.parts.source import adapters, batteries
from sigcalc.units import Q
from sigcalc.views.style import LARGE
from sigcalc.views.sums import Step, SumByHand, bench_readings, current_by_hand, rating_name, resistor_by_hand

RED = leds["red alingap 3 mm"]
CURRENT = current_by_hand(batteries["9 V alkaline"], RED, "470 ohm", "1.9 V")
RESISTOR = resistor_by_hand(choose_resistor("12 V", RED, "10 mA", supply_tolerance=0.05))
SUMS = [
    CURRENT,
    current_by_hand(adapters["12 V regulated"], leds["green gap 3 mm"], "1 kohm", "2.4 V"),
    current_by_hand(batteries["3 V coin cell"], RED, "100 ohm", "1.9 V"),
    RESISTOR,
    resistor_by_hand(choose_resistor("9 V", leds["green gap 3 mm"], "7 mA", series="E24")),
    resistor_by_hand(choose_resistor("12 V", [RED] * 3, "10 mA", series="E96", tolerance=0.01)),
]
FIGURE = r"[\d.]+ [a-zA-ZµΩ]+"


def si(text):
    return Q(text).to_base_units().magnitude


def worked_out(how):
    """The value of a printed sum of quantities with − ÷ and brackets, in SI."""
    plain = re.sub(FIGURE, lambda found: repr(si(found[0])), how).replace("−", "-").replace("÷", "/")
    assert re.fullmatch(r"[\d.e+\-/() ]+", plain), how
    return eval(plain)  # noqa: S307 only digits and the four signs, as the line above makes sure


@pytest.mark.parametrize("by_hand", SUMS, ids=lambda each: each.steps[0].how)
def test_the_printed_figures_give_the_printed_answers(by_hand):
    sums = [step for step in by_hand.steps if re.search("[−÷]", step.how)]
    assert len(sums) == 3
    for step in sums:
        assert worked_out(step.how) == pytest.approx(si(step.answer), rel=3e-3)


def test_the_textbook_sum():
    # Malvino & Bates, Electronic Principles 7e, Example 5-13, p. 168: 9 V, 2 V and 470 ohm give 14.9 mA
    plain = Led("textbook", "red", ConstantDrop("2 V"), "50 mA")
    steps = current_by_hand(adapters["9 V regulated"], plain, "470 ohm", "2 V").steps
    assert si(steps[3].answer) == pytest.approx(14.9e-3, abs=0.05e-3)


def test_it_says_how_far_the_library_agrees():
    followed = connect_to_source(batteries["9 V alkaline"], RED, "470 ohm", tolerance=0.0).si.current
    by_hand = (9.5 - 1.9) / 470
    assert f"off by {100 * (by_hand / followed - 1):.2g} %" in CURRENT.sentence
    assert "16.1 mA with the resistor" in CURRENT.sentence
    assert "The LED stands 30 mA" in CURRENT.sentence


def test_the_resistor_ends_with_what_to_ask_for_in_the_shop():
    answers = [step.answer for step in RESISTOR.steps]
    assert answers[3] == "1.2 kΩ"
    assert answers[-1] == "1/4 W"
    assert RESISTOR.sentence == "Bands: brown, red, red, gold. Letter code: 1K2."


@pytest.mark.parametrize(
    ("watts", "name"), [(0.125, "1/8 W"), (0.25, "1/4 W"), (0.5, "1/2 W"), (2.0, "2 W"), (3.0, "3 W")]
)
def test_a_rating_has_its_shop_name(watts, name):
    assert rating_name(watts) == name


@pytest.mark.parametrize(
    ("resistance", "drop", "sentence"),
    [
        ("0 ohm", "1.9 V", "resistance needs to be above 0 ohm"),
        ("470 ohm", "9.5 V", "drop 9.5 V needs to be below the 9.5 V"),
    ],
)
def test_a_sum_that_cannot_be_made_is_refused(resistance, drop, sentence):
    with pytest.raises(RangeError, match=sentence):
        current_by_hand(batteries["9 V alkaline"], RED, resistance, drop)


def test_the_readings_at_the_bench_add_up_and_each_has_a_band():
    result = connect_to_source(batteries["9 V alkaline"], RED, "470 ohm")
    readings = bench_readings(result)
    assert "9 V alkaline, 470 Ω, red alingap 3 mm" in readings.title
    assert "Should read</th>" in readings.html()
    nominal = [si(step.answer.partition(" (")[0]) for step in readings.steps]
    bands = [[si(each) for each in re.findall(FIGURE, step.answer)] for step in readings.steps]
    source, led, resistor, current = nominal
    assert led + resistor + result.si.current * result.si.internal_resistance == pytest.approx(source, abs=0.01)
    assert resistor / 470 == pytest.approx(current, rel=5e-3)
    for middle, least, most in bands:
        assert least < middle < most


@pytest.mark.parametrize(
    ("written", "kept"),
    [
        ("10.4 mA", "10.4\u00a0mA"),
        ("7.1 V ÷ 680 Ω", "7.1\u00a0V ÷ 680\u00a0Ω"),
        ("5 %", "5\u00a0%"),
        ("2 × 106 mW = 211 mW", "2 × 106\u00a0mW = 211\u00a0mW"),
        ("1 lamp of 2 lights", "1 lamp of 2 lights"),
    ],
)
def test_a_number_and_its_unit_stay_in_one_line(written, kept):
    assert f">{kept}</td>" in SumByHand("Sum", (Step("what", written, "so"),), "So.").html()


def test_columns_of_equal_weight_have_no_answer_in_bold():
    step = Step("what", "one", "other")
    assert "<b>other</b>" in SumByHand("Sum", (step,), "So.").html()
    assert "<b>" not in SumByHand("Sum", (step,), "So.", equal=True).html()


def test_the_table_names_its_columns_and_escapes_what_it_is_given():
    page = SumByHand("<i>", (Step("a & b", "1 < 2", "<script>"),), "So.", LARGE).html()
    assert page.count('<th scope="col"') == 3
    assert "<caption" in page
    assert "<script>" not in page
    assert "<i>" not in page
    assert "1. a &amp; b" in page
    assert "font-size:18" in page
    assert CURRENT._repr_html_() == CURRENT.html()

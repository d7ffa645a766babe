"""The check of an answer: right within rounding, a reason for each slip, and a sentence for whatever cannot be read."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.lessons import Question, Verdict
from sigcalc.units import Count, Current, Length, Resistance, kind_of

CURRENT = Question(
    text="What flows?",
    kind=kind_of(Current),
    answer=0.0162,
    mistakes={0.0202: "You forgot the drop.", 3572.0: "You multiplied."},
    hint="Take the drop off.",
    working="7.6 V ÷ 470 Ω = 16.2 mA.",
)
TIMES = Question(
    text="How many times?",
    kind=replace(kind_of(Count), example="2 times"),
    answer=4.29,
    mistakes={1.057: "Not a resistor."},
    hint="Divide.",
    working="4.29 times.",
    close=0.08,
)
CONTACTS = replace(TIMES, kind=replace(kind_of(Count), example="2 contacts"))


@pytest.mark.parametrize(
    "typed", ["16.2 mA", "16mA", " 0.0162 A ", "16200 µA", "16.6 mA", "16.2", "16,2", "16,2 mA", "0,0162 A"]
)
def test_a_right_answer_in_any_unit_and_with_rounding(typed):
    assert CURRENT.check(typed) == Verdict(True, "Right: 16.2 mA.")


@pytest.mark.parametrize(
    ("typed", "reason"),
    [
        ("20 mA", "You forgot the drop."),
        ("3570 A", "You multiplied."),
        ("16.2 A", "a thousand times too large"),
        ("16.2 µA", "a thousand times too small"),
        ("25 mA", "25 mA is too large"),
        ("-16.2 mA", "Leave out the minus sign"),
        ("0 A", "too small"),
        ("0.0162", "0.0162 mA is a thousand times too small"),
        ("16,200 µA", 'type "16.200 µA" or "16200 µA"'),
        ("7.6 V", "is not a current"),
        ("7.6/470 V", "'0.0161702 V' is not a current"),
        ("", "it is empty"),
    ],
)
def test_every_wrong_answer_gets_its_reason(typed, reason):
    verdict = CURRENT.check(typed)
    assert not verdict.right
    assert reason in verdict.reason


def test_a_count_wants_a_plain_number():
    assert TIMES.check("1.06").reason == "Not a resistor."
    assert "is not a plain number" in TIMES.check("4.3 mA").reason
    assert 'type "4.300" or "4300"' in TIMES.check("4,300").reason


@pytest.mark.parametrize(
    "typed",
    ["4", "4.29", "4,3", "4 times", "4 x", "4x", "4×", "4 X", "4.3 Times", "4 times as much", "4-fold", "about 4"],
)
def test_a_number_of_times_may_say_so(typed):
    assert TIMES.check(typed) == Verdict(True, "Right: 4.29.")


def test_a_count_may_name_what_is_counted():
    assert [CONTACTS.check(f"4 {word}").right for word in ("contacts", "contact", "x")] == [True, True, False]


def test_what_the_panel_shows_counts_as_right():
    question = replace(CURRENT, shown=0.0144)
    said = "Right: the panel shows 14.4 mA. The sum by hand gives 16.2 mA."
    assert question.check("14.4") == Verdict(True, said)
    assert question.check("16.2").right
    assert not question.check("15.3").right


@pytest.mark.parametrize(
    "typed",
    [
        *(
            "7.6/470 A",
            "(9.5-1.9)/470",
            "(9.5 - 1.9) / 470 A",
            "7,6 ÷ 470 A",
            "7.6/0.47 mA",
            "7.6/0.47",
            "I = 16.2 mA.",
        ),
        *("I = 16.2 mA.", "16.2 ma", "16.2 MA", "2 × 8.1 mA", "2 x 8.1 mA", "1.62e-2 A", "8.1+8.1"),
    ],
)
def test_a_sum_or_a_slip_of_the_shift_key_is_read(typed):
    assert CURRENT.check(typed).right


@pytest.mark.parametrize("typed", ["2.2 K", "2.2K", "2,2 k", "2k2", "2200", "2200 R", "(12 - 1)/0.005", "2.2 Kohm"])
def test_of_a_resistor_k_means_kilohms(typed):
    assert replace(CURRENT, kind=kind_of(Resistance), answer=2200.0).check(typed).right


@pytest.mark.parametrize(
    ("typed", "reason"),
    [
        ("(9.5 V - 1.9 V)/470 ohm", "a sum of plain numbers with one unit after it"),
        ("9**9**9**9 A", "cannot be read"),
        ("7.6/0", "cannot be read"),
        ("().__class__", "cannot be read"),
        ("9.5/470", "You forgot the drop."),
        ("10-12 mA", "it is a range"),
        ("1,600/100", "cannot be read"),
        ("+".join(["1"] * 400), "cannot be read"),
        ("(" * 50 + "1" + ")" * 50, "cannot be read"),
    ],
)
def test_a_sum_that_is_none_gets_a_sentence_and_a_sum_with_a_slip_its_reason(typed, reason):
    verdict = CURRENT.check(typed)
    assert not verdict.right
    assert reason in verdict.reason


def test_a_slipped_zero_and_a_doubled_value_are_named():
    for factor, reason in ((10, "a zero or the decimal point"), (0.1, "a zero or"), (2, "twice"), (0.5, "half of")):
        said = CURRENT.check(f"{16.2 * factor} mA").reason
        assert reason in said
        assert not said.endswith("?.")


def test_mixed_fractions_are_no_sums():
    assert replace(CURRENT, kind=kind_of(Length), answer=5.5 * 0.0254).check("5 1/2 in").right


@given(st.text(max_size=40) | st.text("0123456789.,+-*/()eE xkKmAV", max_size=40))
def test_whatever_is_typed_gets_a_sentence(typed):
    for question in (CURRENT, TIMES):
        verdict = question.check(typed)
        assert verdict.reason

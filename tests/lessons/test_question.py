"""The check of an answer: right within rounding, a reason for each slip, and a sentence for whatever cannot be read."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.lessons import Question, Verdict
from sigcalc.units import Count, Current, kind_of

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
        ("0.0162", "16.2 µA is a thousand times too small"),
        ("16,200 µA", 'type "16.200 µA" or "16200 µA"'),
        ("7.6 V", "is not a current"),
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


@given(st.text(max_size=40))
def test_whatever_is_typed_gets_a_sentence(typed):
    for question in (CURRENT, TIMES):
        verdict = question.check(typed)
        assert verdict.reason

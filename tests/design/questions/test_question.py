"""The check of an answer: right within rounding, a reason for each slip, and a sentence for whatever cannot be read."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.questions import Mistake, Question, Verdict
from sigcalc.units import Count, Current, kind_of

CURRENT = Question(
    text="What flows?",
    kind=kind_of(Current),
    answer=0.0162,
    mistakes=(Mistake(0.0202, "You forgot the drop."), Mistake(3572.0, "You multiplied.")),
    hint="Take the drop off.",
    working="7.6 V ÷ 470 Ω = 16.2 mA.",
)
TIMES = Question(
    "How many times?", kind_of(Count), 4.29, (Mistake(1.057, "Not a resistor."),), "Divide.", "4.29 times."
)


@pytest.mark.parametrize("typed", ["16.2 mA", "16mA", " 0.0162 A ", "16200 µA", "16.6 mA"])
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
        ("-16.2 mA", "too small"),
        ("0 A", "too small"),
        ("16.2", "has no unit: write number and unit"),
        ("16,2 mA", "a comma is not read as a decimal point"),
        ("16.2 ma", "capital and small letters matter"),
        ("7.6 V", "is not a current"),
        ("9**9**9 A", "sums and powers are not worked out"),
        ("", "it is empty"),
    ],
)
def test_every_wrong_answer_gets_its_reason(typed, reason):
    verdict = CURRENT.check(typed)
    assert not verdict.right
    assert reason in verdict.reason


def test_a_count_wants_a_plain_number():
    assert TIMES.check("4.3").right
    assert TIMES.check("1.06").reason == "Not a resistor."
    assert "a plain number is asked for" in TIMES.check("4.3 mA").reason
    assert "4.29" in TIMES.check("4.29").reason


@given(st.text(max_size=40))
def test_whatever_is_typed_gets_a_sentence(typed):
    for question in (CURRENT, TIMES):
        verdict = question.check(typed)
        assert verdict.reason

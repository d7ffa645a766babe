"""The words of a verdict: right, alike, one of two or wrong, and what the readings had told."""

import dataclasses

import pytest

from sigcalc.design.bench.fault import catalogue
from sigcalc.lessons.hidden_fault import ALIKE, PARTLY, RIGHT, WRONG, judge, quillhaven_signal
from sigcalc.panels.fault_verdict import outcome

FAULT = catalogue()["red LED open"]


@pytest.fixture(scope="module")
def judged():
    return judge(quillhaven_signal(), FAULT, [FAULT.name], {"red": "none", "green": "green"}, {})


@pytest.mark.parametrize(
    ("came", "words"),
    [
        (RIGHT, "Right: red LED open"),
        (ALIKE, "It is red LED open; what"),
        (PARTLY, "One of the two is right"),
        (WRONG, "No: it is"),
    ],
)
def test_the_first_words_are_the_verdict_s(judged, came, words):
    first, what, evidence = outcome(dataclasses.replace(judged, outcome=came), FAULT)
    assert first.reason.startswith(words)
    assert (what.reason, what.remedy) == (FAULT.cause, FAULT.remedy)
    assert f"{round(100 * judged.pointed)} %" in evidence.reason


def test_luck_is_said_and_what_would_have_told_more(judged):
    lucky = outcome(dataclasses.replace(judged, outcome=RIGHT, pointed=0.2), FAULT)
    assert "lucky" in lucky[2].reason
    assert str(judged.diagnosis.next[0].point) in lucky[2].remedy
    assert "lucky" not in outcome(dataclasses.replace(judged, outcome=RIGHT, pointed=0.9), FAULT)[2].reason

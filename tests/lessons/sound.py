"""What holds for every exercise."""

import itertools
import re

from sigcalc.units import Q


def assert_sound(question):
    """The answer as it is said counts as right, no slip passes for the answer or for another slip."""
    assert question.check(question.said).right
    alone = float(f"{_in_box(question):.4g}")
    assert question.check(f"{alone}").right  # a number alone, in the unit beside the box
    assert question.check(f"{alone} {question.unit}").right
    assert question.check(f"{alone}".replace(".", ",")).right or re.fullmatch(r"[1-9]\d{0,2}\.\d{3}", f"{alone}")
    for mistake in question.mistakes:
        given = f"{mistake.value!r} {question.kind.unit}"
        assert question.check(given).reason == mistake.reason
        assert not question.check(given).right
    for one, other in itertools.combinations(question.mistakes, 2):
        assert abs(one.value - other.value) > question.close * abs(other.value)
        assert one.reason != other.reason
    assert question.said in question.working
    assert question.said not in question.text + question.hint


def _in_box(question):
    """The answer in the unit that the box names."""
    return question.answer if question.kind.bare else Q(question.answer, question.kind.unit).m_as(question.unit)

"""What holds for every exercise."""

import itertools


def assert_sound(question):
    """The answer as it is said counts as right, no slip passes for the answer or for another slip."""
    assert question.check(question.said).right
    for mistake in question.mistakes:
        given = f"{mistake.value!r} {question.kind.unit}"
        assert question.check(given).reason == mistake.reason
        assert not question.check(given).right
    for one, other in itertools.combinations(question.mistakes, 2):
        assert abs(one.value - other.value) > question.close * abs(other.value)
        assert one.reason != other.reason
    assert question.said in question.working
    assert question.said not in question.text + question.hint

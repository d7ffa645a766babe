"""An exercise: the verdict on what stands in the box, with nothing of the reader's text taken for markup."""

import pytest

from sigcalc.lessons import Question
from sigcalc.panels.exercise import Exercise
from sigcalc.units import Current, kind_of


@pytest.fixture
def exercise():
    return Exercise(
        Question(
            text="What flows at 3 V < 5 V?",
            kind=kind_of(Current),
            answer=0.016,
            mistakes={0.02: "You forgot the drop."},
            hint="Take the drop off.",
            working="It is 16 mA.",
        )
    )


def test_the_verdict_is_announced_as_soon_as_an_answer_is_entered_and_by_the_button(exercise):
    assert exercise.answer.description == "your answer (mA)"
    exercise.button.click()
    assert "Type your answer into the box first, such as 10 mA." in exercise.verdict.value
    exercise.answer.value = "16"
    assert "✔ Right: 16 mA." in exercise.verdict.value
    exercise.answer.value = "20 mA"
    exercise.verdict.value = ""
    exercise.button.click()
    assert exercise.verdict.value == '<p role="status">✘ You forgot the drop.</p>'
    exercise.answer.value = " "
    assert exercise.verdict.value == ""


def test_typed_markup_stays_text(exercise):
    exercise.answer.value = "<img src=x onerror=alert(1)>"
    assert "<img" not in exercise.verdict.value


def test_hint_and_answer_are_folded(exercise):
    page = "".join(child.value for child in exercise.children if hasattr(child, "value"))
    assert page.count("<details>") == 2
    assert page.index("3 V &lt; 5 V") < page.index("<details>") < page.index("Take the drop off.")

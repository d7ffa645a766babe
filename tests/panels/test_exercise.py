"""An exercise on the page: the verdict, the order of hint and working, new numbers, and what was answered before."""

import pytest

from sigcalc.lessons import Bands, Choice, Draw, Option, Question, WiringAt
from sigcalc.lessons import progress as record
from sigcalc.lessons.plan_your_signal import mistake_in_the_signal, which_one_to_build
from sigcalc.panels.afresh import StartAfresh
from sigcalc.panels.exercise import Exercise
from sigcalc.units import Current, kind_of
from sigcalc.views.exercise import drawn


def sum_of_current(seed=0):
    volts = Draw(seed).one(5, 12)
    return Question(
        text=f"What flows at 3 V < {volts} V?",
        kind=kind_of(Current),
        answer=volts / 312.5,
        mistakes={volts / 250: "You forgot the drop."},
        hint="Take the drop off.",
        working=f"It is {volts / 312.5 * 1e3:g} mA.",
    )


def choice_of_bands():
    bands = [Bands(("brown", "green", colour, "gold")) for colour in ("red", "orange")]
    options = (
        Option(bands[0].says, "Two zeros.", True, bands[0]),
        Option(bands[1].says, "Three zeros.", shows=bands[1]),
    )
    return Choice("Which is 1.5 kΩ?", options, "Count the zeros.", "1, 5, two zeros.")


def mistake_in_a_wiring():
    options = (
        Option("nothing", "Look again at the jumpers."),
        Option("the jumpers <are straight>", "They cross.", True),
    )
    return Choice("What is wrong?", options, "Jumpers.", "Cross.", WiringAt("straight instead of crossed", "up"))


@pytest.fixture(autouse=True)
def lessons_folder(tmp_path, monkeypatch):
    (tmp_path / "start_here.ipynb").touch()
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(record.PROGRESS, "_here", {})
    return tmp_path


@pytest.fixture
def exercise():
    return Exercise(sum_of_current)


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


def test_typed_markup_stays_text_also_when_it_is_recalled(exercise):
    exercise.answer.value = "<img src=x onerror=alert(1)>"
    assert "<img" not in exercise.verdict.value
    assert "&lt;img" in Exercise(sum_of_current).verdict.value


def test_the_hint_is_folded_and_the_working_comes_after_the_first_check(exercise):
    page = "".join(child.value for child in exercise.children if hasattr(child, "value"))
    assert page.index("3 V &lt; 5 V") < page.index("<details>") < page.index("Take the drop off.")
    assert "It is 16 mA." not in page
    exercise.answer.value = "20"
    assert exercise.working.value == "<details><summary>Working</summary><p>It is 16 mA.</p></details>"


def test_new_numbers_are_other_numbers_with_their_own_answer(exercise):
    exercise.answer.value = "16"
    exercise.other.click()
    assert "12 V" in exercise.asked.value
    assert (exercise.answer.value, exercise.verdict.value, exercise.working.value) == ("", "", "")
    exercise.answer.value = "38.4"
    assert "✔ Right" in exercise.verdict.value
    exercise.other.click()
    assert "5 V" in exercise.asked.value
    assert not hasattr(Exercise(choice_of_bands), "other")


def test_a_choice_of_pictures_has_letters_and_no_verdict_in_its_text_alternatives():
    exercise = Exercise(choice_of_bands)
    assert 'aria-label="A: brown, green, red, gold"' in exercise.asked.value
    assert "<b>B</b>" in exercise.asked.value
    assert exercise.answer.value is None
    exercise.button.click()
    assert "Choose one of the answers first." in exercise.verdict.value
    exercise.answer.value = "B"
    assert "✘" not in exercise.verdict.value
    exercise.button.click()
    assert "✘ Three zeros." in exercise.verdict.value
    exercise.answer.value = "A"
    exercise.button.click()
    assert "✔ Right. Two zeros." in exercise.verdict.value


def test_a_wiring_is_drawn_above_the_choice_and_said_in_words():
    exercise = Exercise(mistake_in_a_wiring)
    assert "up 1 to down 1" in exercise.asked.value
    assert exercise.asked.value.count("<svg") == 1
    assert exercise.answer.options[1] == ("B: the jumpers <are straight>", "B")


def test_what_was_answered_is_said_quietly_next_time_until_the_lesson_starts_afresh(exercise):
    exercise.answer.value = "20 mA"
    again = Exercise(sum_of_current)
    assert "Answered before: 20 mA ✘ not right yet." in again.verdict.value
    again.other.click()
    again.answer.value = "38.4"
    assert "Answered before, with other numbers: 38.4 ✔ right." in Exercise(sum_of_current).verdict.value
    afresh = StartAfresh("test_exercise")
    afresh.button.click()
    assert 'role="status"' in afresh.told.value
    assert (again.answer.value, again.verdict.value, again.seed) == ("", "", 0)
    assert "Answered before" not in Exercise(sum_of_current).verdict.value


def test_a_file_that_was_set_aside_is_told_once(lessons_folder, exercise):
    (lessons_folder / record.NAME).write_text("{")
    assert "a new one was begun" in Exercise(sum_of_current).verdict.value
    assert Exercise(sum_of_current).verdict.value == ""
    (lessons_folder / record.NAME).write_text("{")
    exercise.answer.value = "16"
    assert "✔ Right: 16 mA." in exercise.verdict.value
    assert "a new one was begun" in exercise.verdict.value
    assert len(list(lessons_folder.glob("my_progress_set_aside_*"))) == 2


def test_the_planners_exercises_draw_the_shared_resistor_where_the_planner_has_it():
    lead = "The resistor is in the supply's plus lead"
    asked = mistake_in_the_signal(1), *which_one_to_build(1).options
    shared = [drawn(each.shows).sentence for each in asked if each.shows and each.shows.drive.si.resistance]
    assert len(shared) > 1
    assert all(lead in each for each in shared)

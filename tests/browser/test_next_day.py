"""A lesson saved and opened again, when its kernel has ended: the last picture, and then a lesson that is awake."""

import json

from tests.browser.lab import PATIENCE

VIEW, PICTURES = ".sigcalc-view", ".sigcalc-view svg"
ASLEEP = "What you see no longer follows the controls."
STATE = "application/vnd.jupyter.widget-state+json"


def saved_models(lesson, file):
    lesson.save()
    return json.loads(file.read_text(encoding="utf-8"))["metadata"]["widgets"][STATE]["state"]


def test_the_last_picture_is_shown_and_the_lesson_wakes_by_itself(open_lesson, jupyterlab):
    name, file = "start_here.ipynb", jupyterlab.notebooks / "start_here.ipynb"
    lesson = open_lesson(name)
    lesson.wait_until_run()
    first = len(saved_models(lesson, file))
    lesson.run_all()
    assert len(saved_models(lesson, file)) == first, "the models of earlier runs stay in the file"
    seen = lesson.text(VIEW), lesson.page.locator(PICTURES).count()
    lesson.end_kernel()

    asleep = open_lesson(name, starts=False)
    asleep.page.get_by_text(ASLEEP).first.wait_for()
    assert (asleep.text(VIEW), asleep.page.locator(PICTURES).count()) == seen
    assert asleep.page.get_by_text("model not found").count() == asleep.error_count() == 0
    asleep.end_kernel()

    awake = open_lesson(name)
    awake.page.locator(".jupyter-widgets-disconnected").first.wait_for(state="detached", timeout=PATIENCE)
    awake.wait_until_run()
    before = awake.text(VIEW)
    awake.slider("supply (V)").press("ArrowRight")
    awake.page.wait_for_function("before => document.querySelector('.sigcalc-view').innerText !== before", arg=before)
    assert not awake.page.get_by_text(ASLEEP).first.is_visible()
    assert len(saved_models(awake, file)) == first


def test_an_answer_that_was_shown_is_covered_again(open_lesson, jupyterlab):
    name, file = "1_why_a_resistor.ipynb", jupyterlab.notebooks / "1_why_a_resistor.ipynb"
    lesson = open_lesson(name)
    lesson.wait_until_run()
    answer, show = (
        lesson.page.get_by_text("1.16 A would flow"),
        lesson.page.get_by_role("button", name="Show the answer"),
    )
    covered = show.count()
    show.first.click()
    answer.wait_for()
    saved = saved_models(lesson, file)
    assert "1.16 A would flow" not in json.dumps(saved)
    assert answer.is_visible(), "saving takes nothing from the open page"
    lesson.end_kernel()

    awake = open_lesson(name)
    awake.wait_until_run()
    assert awake.page.get_by_role("button", name="Show the answer").count() == covered
    assert awake.page.get_by_text("1.16 A would flow").count() == awake.error_count() == 0

"""A lesson saved and opened again, when its kernel has ended: the last picture, and then a lesson that is awake."""

import json
import re

import nbformat
import pytest
from playwright.sync_api import expect

from tests.browser.lab import PATIENCE

VIEW, PICTURES = ".sigcalc-view", ".sigcalc-view svg"
ASLEEP = "What you see no longer follows the controls."
ANSWER = "1.16 A would flow"
BELOW = """from sigcalc.lessons.why_a_resistor import straight_on_a_battery
from sigcalc.panels.predict import YouSaid
YouSaid(straight_on_a_battery)"""
STATE = "application/vnd.jupyter.widget-state+json"


def saved_models(lesson, file):
    lesson.save()
    return json.loads(file.read_text(encoding="utf-8"))["metadata"]["widgets"][STATE]["state"]


@pytest.fixture
def file(jupyterlab):
    """The first lesson with an answer below its panel: only what has a lesson's name starts by itself."""
    file = jupyterlab.notebooks / "start_here.ipynb"
    before = file.read_bytes()
    notebook = nbformat.reads(before.decode(), as_version=4)
    notebook.cells.append(nbformat.v4.new_code_cell(BELOW))
    nbformat.write(notebook, file)
    yield file
    file.write_bytes(before)


def refuses_rubbish(lesson):
    """What cannot be read is answered in words, and greys the pictures, until a number comes."""
    drawings = lesson.page.locator(PICTURES).count()
    lesson.type_into("supply (V)", "9,500")
    lesson.expect_text(".sigcalc-panel .sigcalc-alert", "9.500")
    assert lesson.page.locator(f"{VIEW} .sigcalc-greyed svg").count() == drawings
    lesson.type_into("supply (V)", "9.5")
    lesson.page.locator(f"{VIEW} .sigcalc-greyed").wait_for(state="detached")
    lesson.expect_text(VIEW, re.compile(r"lit with [\d.]+ mA"))


def test_the_last_picture_is_shown_and_the_lesson_wakes_by_itself_with_its_answers_covered(open_lesson, file):
    lesson = open_lesson(file.name)
    lesson.wait_until_run()
    seen = lesson.text(VIEW), lesson.page.locator(PICTURES).count()
    assert seen[0]
    first = len(saved_models(lesson, file))
    lesson.run_all()
    show = lesson.page.get_by_role("button", name="Show the answer")
    expect(show).to_have_count(1)
    show.click()
    lesson.page.get_by_text(ANSWER).wait_for()
    saved = saved_models(lesson, file)
    assert len(saved) == first, "the models of earlier runs stay in the file"
    assert ANSWER not in json.dumps(saved)
    assert lesson.page.get_by_text(ANSWER).is_visible(), "saving takes nothing from the open page"
    lesson.end_kernel()

    asleep = open_lesson(file.name, starts=False)
    asleep.page.get_by_text(ASLEEP).first.wait_for()
    assert (asleep.text(VIEW), asleep.page.locator(PICTURES).count()) == seen
    assert asleep.page.get_by_text("model not found").count() == asleep.error_count() == 0
    asleep.end_kernel()

    awake = open_lesson(file.name)
    awake.page.locator(".jupyter-widgets-disconnected").first.wait_for(state="detached", timeout=PATIENCE)
    awake.wait_until_run()
    expect(awake.page.get_by_role("button", name="Show the answer")).to_have_count(1)
    expect(awake.page.get_by_text(ANSWER)).to_have_count(0)
    before = awake.text(VIEW)
    awake.slider("supply (V)").press("ArrowRight")
    awake.page.wait_for_function("before => document.querySelector('.sigcalc-view').innerText !== before", arg=before)
    assert not awake.page.get_by_text(ASLEEP).first.is_visible()
    refuses_rubbish(awake)
    assert len(saved_models(awake, file)) == first
    assert awake.error_count() == 0

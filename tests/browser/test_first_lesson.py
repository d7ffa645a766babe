"""A real lesson in a real browser: keys move a slider, the sentence follows; rubbish in the box is refused in words."""

import re

VIEW = ".sigcalc-panel .sigcalc-view"


def test_the_sentence_follows_the_keys_and_rubbish_in_the_number_box_is_refused_until_a_number_comes(open_lesson):
    lesson = open_lesson("start_here.ipynb")
    lesson.wait_until_run()
    lesson.expect_text(VIEW, re.compile(r"lit with [\d.]+ mA"))
    before, drawings = lesson.text(VIEW), lesson.page.locator(f"{VIEW} svg").count()
    for _ in range(2):
        lesson.slider("supply (V)").press("ArrowRight")
    lesson.page.wait_for_function("before => document.querySelector('.sigcalc-view').innerText !== before", arg=before)
    lesson.expect_text(VIEW, re.compile(r"lit with [\d.]+ mA"))

    lesson.type_into("supply (V)", "9,500")
    lesson.expect_text(".sigcalc-panel .sigcalc-alert", "9.500")
    assert lesson.page.locator(f"{VIEW} .sigcalc-greyed svg").count() == drawings
    lesson.type_into("supply (V)", "9.5")
    lesson.page.locator(f"{VIEW} .sigcalc-greyed").wait_for(state="detached")
    lesson.expect_text(VIEW, re.compile(r"lit with [\d.]+ mA"))
    assert lesson.error_count() == 0


def test_a_lesson_has_no_grave_barrier_for_people_with_disabilities(open_lesson):
    lesson = open_lesson("1_why_a_resistor.ipynb")
    lesson.wait_until_run()
    lesson.slider("voltage (V)").wait_for()
    assert lesson.page.locator(".sigcalc-exercise").count()
    assert lesson.barriers() == []

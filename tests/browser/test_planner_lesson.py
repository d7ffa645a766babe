"""The planner in a real browser: break a field and see the message, mend it, save, and find the file."""

import re

ALERT = ".sigcalc-planner .sigcalc-alert"
SENTENCE = ".sigcalc-planner .sigcalc-sentence"
HEADLINE = ".sigcalc-planner [role=status]"


def test_a_broken_field_says_what_is_wrong_and_mending_it_brings_the_plan_back(open_lesson, jupyterlab):
    lesson = open_lesson("4_plan_your_signal.ipynb")
    lesson.wait_until_run()
    lesson.expect_text(HEADLINE, "Resistor, shared")
    planner = lesson.page.locator(".sigcalc-planner")
    planner.get_by_text("Current and resistor", exact=True).click()
    lesson.type_into("current", "8 ma")
    lesson.expect_text(ALERT, re.compile(r'Current and resistor, current needs .*type "8 mA"'))

    lesson.type_into("current", "3 mA")
    lesson.expect_text(HEADLINE, "Resistor, shared")
    lesson.expect_text(SENTENCE, re.compile(r"Red is lit with \d"))
    before = lesson.text(SENTENCE)
    planner.get_by_role("button", name="green", exact=True).click()
    lesson.expect_text(SENTENCE, "Green is lit")
    assert lesson.text(SENTENCE) != before
    planner.get_by_role("button", name="Save plan").click()
    lesson.expect_text(".sigcalc-planner", "Saved my_plans/my_signal.toml")
    assert "3 mA" in (jupyterlab.notebooks / "my_plans" / "my_signal.toml").read_text(encoding="utf-8")

    assert lesson.barriers() == []
    assert lesson.error_count() == 0

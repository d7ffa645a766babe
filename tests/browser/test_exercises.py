"""Predicting and answering by keyboard alone in a real browser: keys pressed there do nothing to the notebook."""

from playwright.sync_api import expect

IMPORTS = """from sigcalc.lessons.which_resistor import hottest_resistor
from sigcalc.lessons.why_a_resistor import nine_volts
from sigcalc.panels.exercise import Exercise
from sigcalc.panels.predict import Predict, YouSaid
"""
CELLS = (
    IMPORTS,
    "Predict(nine_volts)",
    "YouSaid(nine_volts)",
    "Exercise(hottest_resistor)",
)


def test_radio_buttons_obey_the_keys_and_no_key_reaches_the_notebook(write_lesson, open_lesson):
    write_lesson("guess.ipynb", *CELLS)
    lesson = open_lesson("guess.ipynb")
    lesson.run_all()
    page = lesson.page
    cells = page.locator(".jp-Cell").count()
    page.get_by_label("about 9 V").press("Space")
    lesson.expect_text("body", "You said “about 9 V")
    page.get_by_label("about 9 V").press("ArrowDown")
    lesson.expect_text("body", "You said “about 2 V”")
    page.get_by_label("about 2 V").press("x")
    expect(page.get_by_text("of the battery's 9.5 V")).to_have_count(0)
    page.get_by_role("button", name="Show the answer").press("Enter")
    lesson.expect_text("body", "You said “about 2 V”, and")
    page.get_by_role("button", name="Cover it again").press("Enter")
    expect(page.get_by_text("“about 2 V”, and")).to_have_count(0)
    page.get_by_role("radio", name="B:").press("Space")
    page.get_by_role("button", name="Check", exact=True).press("Enter")
    lesson.expect_text("body", "✔ Right.")
    expect(page.locator(".jp-Cell")).to_have_count(cells)
    assert lesson.error_count() == 0

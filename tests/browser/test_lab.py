"""The harness itself, on small notebooks: keys reach a slider, a sentence changes, hidden errors are seen."""

import re

import pytest
from playwright.sync_api import expect

PANEL = """
import ipywidgets as w
def panel(name):
    slider = w.IntSlider(description=name, min=0, max=12, value=9)
    box = w.BoundedIntText(description=name, min=0, max=12, value=9)
    sentence = w.HTML().add_class(name)
    def draw(change=None):
        sentence.value = f"Share: {round(36 / slider.value, 1)}"
    w.link((slider, "value"), (box, "value"))
    slider.observe(draw, "value")
    draw()
    return w.VBox([slider, box, sentence])
"""


def test_keys_change_the_sentence_and_an_error_that_jupyter_hides_is_counted(write_lesson, open_lesson):
    write_lesson("keys.ipynb", PANEL + "panel('Supply')")
    lesson = open_lesson("keys.ipynb")
    lesson.run_all()
    assert lesson.page.locator(".Toastify__toast").count() == 0  # a first start would ask about news
    lesson.expect_text(".Supply", "Share: 4.0")
    lesson.slider("Supply").press("ArrowRight")
    lesson.expect_text(".Supply", "Share: 3.6")
    lesson.slider("Supply").press("End")
    lesson.expect_text(".Supply", "Share: 3.0")
    lesson.type_into("Supply", "6")
    lesson.expect_text(".Supply", "Share: 6.0")
    assert lesson.error_count() == 0
    lesson.slider("Supply").press("Home")
    lesson.wait_until_idle()
    assert lesson.text(".Supply") == "Share: 6.0"
    expect(lesson.page.locator(".jp-LogConsoleStatusItem")).to_contain_text(re.compile("[1-9]"))
    assert lesson.error_count() > 0


def test_an_error_a_warning_or_a_refusal_in_a_cell_ends_the_run(write_lesson, open_lesson):
    cells = {
        "1 / 0": "ZeroDivisionError",
        "import warnings; warnings.warn('an old name')": "an old name",
        "import sigcalc.panels.control\nsigcalc.Q('9')": "Q needs a number with its unit",
    }
    write_lesson("error.ipynb", *cells)
    lesson = open_lesson("error.ipynb")
    with pytest.raises(AssertionError, match="ZeroDivisionError"):
        lesson.run_all()
    for number, said in enumerate(cells.values()):
        if number:
            lesson.run_cell(number)
        expect(lesson.errors).to_have_count(number + 1)
        expect(lesson.errors.nth(number)).to_contain_text(said)

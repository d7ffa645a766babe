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


WRONG = {
    "1 / 0": "ZeroDivisionError",
    "import warnings; warnings.warn('an old name')": "an old name",
    "import sigcalc.panels.control\nsigcalc.Q('9')": "Q needs a number with its unit",
}


@pytest.fixture
def lesson(write_lesson, open_lesson):
    write_lesson("harness.ipynb", PANEL + "panel('Supply')", *WRONG)
    return open_lesson("harness.ipynb")


def test_keys_change_the_sentence_and_every_error_is_counted_also_one_that_jupyter_hides(lesson):
    assert lesson.page.locator(".Toastify__toast").count() == 0  # a first start would ask about news
    lesson.run_cell(0)
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

    with pytest.raises(AssertionError, match="ZeroDivisionError"):
        lesson.run_all()
    for number, said in enumerate(WRONG.values()):
        if number:
            lesson.run_cell(1 + number)
        expect(lesson.errors).to_have_count(number + 1)
        expect(lesson.errors.nth(number)).to_contain_text(said)

"""No key that is pressed on something of ours reaches the notebook: it changes, adds, cuts, runs and leaves no cell."""

import pytest
from playwright.sync_api import expect

CELLS = (
    "from sigcalc.panels.two_wires_two_colours import ReversingPanel\nReversingPanel()",
    "from sigcalc.panels.start_here import FirstLight\nFirstLight()",
    "from sigcalc.lessons import which_resistor\nfrom sigcalc.panels.exercise import Exercise",
    "Exercise(which_resistor.hottest_resistor)",
    "Exercise(which_resistor.value_to_buy)",
    "from sigcalc.panels.planner import Planner\nPlanner()",
)
KINDS = {
    "handle": ".noUi-handle",
    "number box": ".sigcalc-number input",
    "list": "select",
    "check box": "input[type=checkbox]:visible",
    "position": ".widget-toggle-button",
    "radio button": "input[type=radio]",
    "answer": ".sigcalc-exercise input[type=text]",
    "button": ".sigcalc-exercise .widget-button",
    "fold": "summary",
    "text": ".sigcalc-planner textarea:visible",
    "section": ".sigcalc-planner .jupyter-widget-Collapse-header",
    "upload": ".sigcalc-planner .widget-upload",
    "stage": ".sigcalc-fill",
}
# Escape comes last: it may close what is open.
KEYS = "x b a d d j k m y z 0 0 i o ArrowUp ArrowDown ArrowLeft ArrowRight PageUp PageDown Shift+m Shift+j Shift+Enter"
COMBINED = "Control+Enter Alt+Enter Control+z Escape"
NOTEBOOK = """() => {
    const cells = [...document.querySelectorAll(".jp-Notebook .jp-Cell")];
    const number = cell => cell.querySelector(".jp-InputPrompt").textContent;
    const of = cell => cell.className.match(/jp-\\w+Cell\\b/g).join() + number(cell);
    return [cells.map(of), document.querySelector(".jp-mod-editMode") === null, !!document.querySelector(".jp-Dialog")];
}"""


@pytest.fixture
def lesson(write_lesson, open_lesson):
    write_lesson("kinds.ipynb", *CELLS)
    lesson = open_lesson("kinds.ipynb")
    lesson.run_all()
    return lesson


def test_no_key_on_any_kind_of_control_reaches_the_notebook(lesson):
    page = lesson.page
    page.locator(".jupyter-widget-Collapse:has(textarea) .jupyter-widget-Collapse-header").first.press("Enter")
    page.locator(KINDS["text"]).first.wait_for()
    before = page.evaluate(NOTEBOOK)
    for kind, selector in KINDS.items():
        for key in f"{KEYS} {COMBINED}".split():
            page.locator(selector).first.focus()
            page.keyboard.press(key)
            assert page.evaluate(NOTEBOOK) == before, f"{key} on {kind}"
    lesson.wait_until_idle()
    assert page.evaluate(NOTEBOOK) == before
    assert lesson.error_count() == 0


def test_a_section_that_is_clicked_keeps_the_keys(lesson):
    before = lesson.page.evaluate(NOTEBOOK)
    section = lesson.page.locator(KINDS["section"]).filter(has_text="Supply")
    section.click()
    expect(section).to_be_focused()
    lesson.page.keyboard.press("x")
    assert lesson.page.evaluate(NOTEBOOK) == before


def test_the_page_is_saved_with_the_cursor_in_a_box(lesson):
    lesson.page.locator(KINDS["answer"]).first.focus()
    lesson.save()

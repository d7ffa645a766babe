"""No key that is pressed on something of ours reaches the notebook: it changes, adds, cuts, runs and leaves no cell."""

import pytest
from playwright.sync_api import expect

from tests.browser.lab import PROFILE, LessonPage, write_notebook

CELLS = (
    """from sigcalc.lessons.why_a_resistor import nine_volts
from sigcalc.panels.predict import Predict, YouSaid
""",
    "Predict(nine_volts)",
    "YouSaid(nine_volts)",
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
# What would cut, add, change, merge or run a cell, or ask to start the kernel anew. Escape, which would leave one,
# comes last: it may close what is open.
KEYS = ["x", "b", "d", "d", "m", "y", "0", "0", "Shift+m", "Shift+Enter", "Control+Enter", "Alt+Enter", "Escape"]
NOTEBOOK = """() => {
    const cells = [...document.querySelectorAll(".jp-Notebook .jp-Cell")];
    const number = cell => cell.querySelector(".jp-InputPrompt").textContent;
    const of = cell => cell.className.match(/jp-\\w+Cell\\b/g).join() + number(cell);
    return [cells.map(of), document.querySelector(".jp-mod-editMode") === null, !!document.querySelector(".jp-Dialog")];
}"""


@pytest.fixture(scope="module")
def lesson(jupyterlab, chromium):
    """To open a page takes longer than each of these tests."""
    write_notebook(jupyterlab.notebooks / "kinds.ipynb", *CELLS)
    with chromium.new_context(**PROFILE) as profile:
        lesson = LessonPage(profile.new_page(), jupyterlab.url, "kinds.ipynb")
        lesson.run_all()
        yield lesson


def test_a_guess_and_an_exercise_are_answered_by_keys_alone(lesson):
    page = lesson.page
    before = page.evaluate(NOTEBOOK)
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
    page.get_by_role("button", name="Check", exact=True).first.press("Enter")
    lesson.expect_text("body", "✔ Right.")
    assert page.evaluate(NOTEBOOK) == before
    assert lesson.error_count() == 0


def test_no_key_on_any_kind_of_control_reaches_the_notebook(lesson):
    page = lesson.page
    before = page.evaluate(NOTEBOOK)
    page.locator(KINDS["answer"]).first.focus()
    lesson.save()  # with the cursor in a box
    section = page.locator(KINDS["section"]).filter(has_text="Supply")
    section.click()  # which keeps the keys, as one does that was reached by Tab
    expect(section).to_be_focused()
    page.keyboard.press("x")
    assert page.evaluate(NOTEBOOK) == before

    page.locator(".jupyter-widget-Collapse:has(textarea) .jupyter-widget-Collapse-header").first.press("Enter")
    page.locator(KINDS["text"]).first.wait_for()
    for kind, selector in KINDS.items():
        for key in KEYS:
            page.locator(selector).first.focus()
            page.keyboard.press(key)
            assert page.evaluate(NOTEBOOK) == before, f"{key} on {kind}"
    lesson.wait_until_idle()
    assert page.evaluate(NOTEBOOK) == before
    assert lesson.error_count() == 0

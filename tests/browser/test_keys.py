"""No key that is pressed on something of ours reaches the notebook: it changes, adds, cuts, runs and leaves no cell."""

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
# What would cut, add, change, merge or run a cell, or ask to start the kernel anew. Escape, which would leave one,
# comes last: it may close what is open.
KEYS = ["x", "b", "d", "d", "m", "y", "0", "0", "Shift+m", "Shift+Enter", "Control+Enter", "Alt+Enter", "Escape"]
NOTEBOOK = """() => {
    const cells = [...document.querySelectorAll(".jp-Notebook .jp-Cell")];
    const number = cell => cell.querySelector(".jp-InputPrompt").textContent;
    const of = cell => cell.className.match(/jp-\\w+Cell\\b/g).join() + number(cell);
    return [cells.map(of), document.querySelector(".jp-mod-editMode") === null, !!document.querySelector(".jp-Dialog")];
}"""


def test_no_key_on_any_kind_of_control_reaches_the_notebook(write_lesson, open_lesson):
    write_lesson("kinds.ipynb", *CELLS)
    lesson = open_lesson("kinds.ipynb")
    lesson.run_all()
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

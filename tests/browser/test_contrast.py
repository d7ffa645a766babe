"""The dark theme: all that is ours can be read, and every picture is a white card with a rim."""

import pytest

DARK = "own/lab/user-settings/@jupyterlab/apputils-extension/themes.jupyterlab-settings"
CELLS = (
    """from sigcalc.lessons.which_resistor import hottest_resistor
from sigcalc.lessons.why_a_resistor import nine_volts
from sigcalc.panels.exercise import Exercise
from sigcalc.panels.planner import Planner
from sigcalc.panels.predict import Predict
from sigcalc.panels.start_here import FirstLight
from sigcalc.views.glossary import glossary
""",
    "Predict(nine_volts)",
    "FirstLight()",
    "Exercise(hottest_resistor)",
    "Planner()",
    "glossary()",
)
CARDS = """() => [...document.querySelectorAll(".jp-OutputArea svg[role=img]")].map(drawing => {
    const { backgroundColor, outlineStyle } = getComputedStyle(drawing);
    return `${backgroundColor} ${outlineStyle}`;
})"""


@pytest.fixture
def in_the_dark(jupyterlab):
    """JupyterLab's dark theme for the pages opened meanwhile."""
    settings = jupyterlab.notebooks.parents[1] / DARK
    settings.parent.mkdir(parents=True, exist_ok=True)
    settings.write_text('{"theme": "JupyterLab Dark"}', encoding="utf-8")
    yield
    settings.unlink()


@pytest.mark.usefixtures("in_the_dark")
def test_all_that_is_ours_can_be_read_in_the_dark_theme(write_lesson, open_lesson):
    write_lesson("dark.ipynb", *CELLS)
    lesson = open_lesson("dark.ipynb")
    lesson.run_all()
    page = lesson.page
    assert page.locator("body").get_attribute("data-jp-theme-light") == "false"
    lesson.type_into("supply (V)", "nine")
    lesson.expect_text(".sigcalc-panel .sigcalc-alert", "supply")
    page.locator(".sigcalc-planner .lm-TabBar-tab").filter(has_text="Findings").click()
    page.locator(".sigcalc-planner .sigcalc-finding").first.wait_for()
    assert lesson.barriers() == []
    cards = page.evaluate(CARDS)
    assert len(cards) > 10
    assert set(cards) == {"rgb(255, 255, 255) solid"}

"""The stage in a browser: panels fit a projector in type for the back row, and a talk is played by keys alone."""

import os
import re

import pytest
from playwright.sync_api import expect

from sigcalc.panels.on_the_wall import PANELS
from tests.browser.stage import fill_the_screen, leave, seen

HEIGHT = 720
LEAST = HEIGHT / 25 - 0.05  # pixels
BOUNCE = 400  # milliseconds, a little longer than in keys.js
SHOW = "from sigcalc.panels.on_the_wall import kind_of\nkind_of({!r})()"
OF_FILES = {
    "planner": "from sigcalc.panels.planner import Planner\nPlanner()",
    "layout": "from sigcalc.panels.many_signals_one_adapter import LayoutPanel\nLayoutPanel()",
}
FULLEST = (
    "four switches",
    "alternating current",
    "magnet over reed",
    "passing train",
    "your own signal",
    "fault round",
)
"""The panels with the most in their column of controls; the others have less, of the same kinds."""
SHOWN = PANELS if os.environ.get("SIGCALC_EVERY_PANEL") else FULLEST  # every panel takes a second and more
CELLS = {name: SHOW.format(name) for name in SHOWN} | OF_FILES


def test_panels_fit_a_projector_in_type_for_the_back_row(write_lesson, open_lesson):
    write_lesson("stage.ipynb", *CELLS.values())
    lesson = open_lesson("stage.ipynb")
    lesson.page.set_viewport_size({"width": 16 * HEIGHT // 9, "height": HEIGHT})
    faults = {}
    for number, name in enumerate(CELLS):
        # one by one: the messages of so many panels at once are more than ZeroMQ's sockets hold for a slow machine
        cell = lesson.page.locator(".jp-CodeCell").nth(number)
        lesson.run_cell(number)
        panel = cell.locator(".sigcalc-panel")
        fill_the_screen(lesson.page, panel)
        on_the_wall = seen(panel)
        if on_the_wall.smallest < LEAST or on_the_wall.outside:
            faults[name] = on_the_wall
        leave(lesson.page)
    assert faults == {}


@pytest.fixture
def evening(open_lesson):
    lesson = open_lesson("clinic_night.ipynb")
    lesson.page.set_viewport_size({"width": 16 * HEIGHT // 9, "height": HEIGHT})
    lesson.wait_until_run()
    return lesson


def test_a_talk_is_played_by_keys_alone(evening):
    page, talk = evening.page, evening.page.locator(".sigcalc-talk")
    expect(talk.get_by_role("button", name="fill the screen")).to_be_focused()
    page.keyboard.press("Enter")
    page.wait_for_function("document.fullscreenElement?.matches('.sigcalc-talk')")
    expect(talk.get_by_role("button", name="begin")).to_be_focused()
    for _ in range(2):  # a key that bounces counts once
        page.keyboard.press("PageDown")
    expect(talk.locator(".sigcalc-place")).to_contain_text(re.compile("1 of 7.*0:0., on time"))
    expect(talk.locator(".sigcalc-sentence")).to_contain_text("At once")
    for _ in range(3):  # the list of keys, leave, and the first control
        page.keyboard.press("Tab")
    expect(talk.get_by_role("slider", name="supply (V)")).to_be_focused()
    page.keyboard.press("ArrowRight")
    expect(talk.get_by_label("supply (V)").and_(page.locator("input"))).to_have_value("1.1")
    page.wait_for_timeout(BOUNCE)
    page.keyboard.press("PageDown")
    expect(talk.locator(".sigcalc-sentence")).not_to_contain_text("At once")
    page.keyboard.press("m")
    expect(talk.locator(".sigcalc-more")).to_have_count(1)
    page.wait_for_timeout(BOUNCE)
    page.keyboard.press("PageUp")
    expect(talk.locator(".sigcalc-more")).to_have_count(0)
    expect(talk.locator(".sigcalc-sentence")).to_contain_text("At once")
    page.keyboard.press("b")
    expect(talk).to_have_class(re.compile("sigcalc-blank"))
    page.keyboard.press("b")
    expect(talk).not_to_have_class(re.compile("sigcalc-blank"))
    page.keyboard.press("?")
    expect(talk.locator(".sigcalc-key-list")).to_be_visible()
    page.keyboard.press("?")
    expect(talk.locator(".sigcalc-key-list")).to_be_hidden()
    assert seen(talk).smallest >= LEAST
    assert page.locator(".jp-Cell").count() == 3  # no key added, cut or left a cell
    assert evening.error_count() == 0

"""A killed kernel or server: each panel says so, and its controls go back to what the picture shows and stay there."""

import os
import re
import signal

import pytest
from playwright.sync_api import expect

from tests.browser.lab import PATIENCE, LessonPage, started, write_notebook

PANEL = """import os
from sigcalc.panels.two_wires_two_colours import ReversingPanel
print("kernel", os.getpid())
ReversingPanel()"""
EXERCISE = """from sigcalc.lessons.which_resistor import hottest_resistor
from sigcalc.panels.exercise import Exercise
Exercise(hottest_resistor)"""
LINES = ".sigcalc-stop-line"
END_KERNEL = """async () => {
    const headers = {"X-XSRFToken": document.cookie.match(/_xsrf=([^;]+)/)[1]};
    const kernels = await (await fetch("/api/kernels")).json();
    await Promise.all(kernels.map(({id}) => fetch(`/api/kernels/${id}`, {method: "DELETE", headers})));
}"""
NOTICED = 10_000  # milliseconds; it takes one second, and a busy machine may be slow


@pytest.fixture
def lesson(write_lesson, open_lesson):
    write_lesson("stopped.ipynb", PANEL, EXERCISE)
    lesson = open_lesson("stopped.ipynb")
    lesson.run_all()
    expect(lesson.page.locator(LINES)).to_have_count(2)
    expect(lesson.page.locator(f"{LINES}:visible")).to_have_count(0)
    return lesson


def kill_kernel(lesson):
    printed = lesson.page.get_by_text("kernel ", exact=False).and_(lesson.page.locator("pre"))
    os.kill(int(printed.inner_text().split()[1]), signal.SIGKILL)


def expect_stopped(page, said, within=NOTICED):
    expect(page.locator(f"{LINES}:visible")).to_have_count(2, timeout=within)
    for line in page.locator(f"{LINES}:visible").all():
        line.scroll_into_view_if_needed()  # what is out of sight is not painted, and has no text
        expect(line).to_contain_text(said, use_inner_text=True)


def test_a_killed_kernel_is_told_and_what_was_moved_after_it_goes_back(lesson):
    page = lesson.page
    buttons = page.locator(".widget-toggle-button")
    pressed = page.locator(".widget-toggle-button.mod-active")
    before, picture = pressed.all_inner_texts(), lesson.text(".sigcalc-view")
    other = buttons.filter(has_not_text=before[0]).first
    other.focus()
    kill_kernel(lesson)
    page.keyboard.press("Enter")
    expect(pressed).not_to_have_text(before)
    expect_stopped(page, "choose Run and Run All Cells")
    expect(pressed).to_have_text(before)
    assert lesson.text(".sigcalc-view") == picture
    page.get_by_role("button", name="Ok", exact=True).click()
    other.press("Enter")  # which goes nowhere now
    page.get_by_role("radio").first.press("Space")
    expect(pressed).to_have_text(before)
    assert not page.get_by_role("radio").first.is_checked()

    lesson.run_all()
    expect(page.locator(f"{LINES}:visible")).to_have_count(0)
    other.click()
    page.wait_for_function("before => document.querySelector('.sigcalc-view').innerText !== before", arg=picture)
    assert lesson.error_count() == 0


def test_on_the_stage_the_line_is_large_and_no_dialog_takes_the_keys(lesson):
    page = lesson.page
    page.get_by_role("button", name="fill the screen").click()
    page.wait_for_function("document.fullscreenElement?.matches('.sigcalc-stage')")
    kill_kernel(lesson)
    line = page.locator(f".sigcalc-stage {LINES} p")
    expect(line).to_contain_text("press Esc", use_inner_text=True, timeout=NOTICED)
    height = page.viewport_size["height"]
    assert float(line.evaluate("it => parseFloat(getComputedStyle(it).fontSize)")) >= height / 25
    page.wait_for_timeout(500)
    assert page.locator(".jp-Dialog").count() == 0
    page.keyboard.press("b")
    expect(page.locator(".sigcalc-stage")).to_have_class(re.compile("sigcalc-blank"))


def test_a_killed_server_is_told(tmp_path, chromium):
    (tmp_path / "root" / "notebooks").mkdir(parents=True)
    write_notebook(tmp_path / "root" / "notebooks" / "stopped.ipynb", PANEL, EXERCISE)
    with started(tmp_path) as server, chromium.new_context() as profile:
        lesson = LessonPage(profile.new_page(), server.url, "stopped.ipynb")
        lesson.run_all()
        assert "sigcalc.jupyter_server | extension was successfully loaded" in (tmp_path / "log.txt").read_text("utf-8")
        (info,) = (tmp_path / "runtime").glob("jpserver-*.json")
        os.kill(int(info.stem.partition("-")[2]), signal.SIGKILL)
        expect_stopped(lesson.page, "Jupyter does not answer")


def test_a_kernel_that_the_server_ended_is_told_as_one_that_died(lesson):
    """As a server does with one that nobody uses; the page asks for what runs every ten seconds."""
    lesson.page.evaluate(END_KERNEL)
    expect_stopped(lesson.page, "choose Run and Run All Cells", within=PATIENCE)

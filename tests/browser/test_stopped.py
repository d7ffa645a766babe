"""A killed kernel, or a server that does not answer: each panel says so, and its controls go back to its picture."""

import os
import re
import signal

import pytest
from playwright.sync_api import expect

from tests.browser.lab import PROFILE, LessonPage, write_notebook
from tests.browser.stage import fill_the_screen, leave

PANEL = """import os
from sigcalc.panels.two_wires_two_colours import ReversingPanel
print("kernel", os.getpid())
ReversingPanel()"""
EXERCISE = """from sigcalc.lessons.which_resistor import hottest_resistor
from sigcalc.panels.exercise import Exercise
Exercise(hottest_resistor)"""
NAME, LINES = "stopped.ipynb", ".sigcalc-stop-line"
END_KERNELS = """async () => {
    const headers = {"X-XSRFToken": document.cookie.match(/_xsrf=([^;]+)/)[1]};
    const kernels = await (await fetch("/api/kernels")).json();
    await Promise.all(kernels.map(({id}) => fetch(`/api/kernels/${id}`, {method: "DELETE", headers})));
}"""
NOTICED = 10_000  # milliseconds; it takes one second, and a busy machine may be slow


class Line:
    """The page's connection to its kernel, which can be cut as by a server that has gone."""

    def __init__(self, profile):
        self.cut, self.open = False, []
        profile.route_web_socket(re.compile("/channels"), self._join)

    def _join(self, socket):
        if self.cut:
            socket.close()
        else:
            socket.connect_to_server()
            self.open.append(socket)

    def set_cut(self, cut):
        """Cut it, or let the page reach the server again."""
        self.cut = cut
        while cut and self.open:
            self.open.pop().close()


@pytest.fixture
def line_and_lesson(jupyterlab, chromium):
    write_notebook(jupyterlab.notebooks / NAME, PANEL, EXERCISE)
    with chromium.new_context(**PROFILE) as profile:
        line = Line(profile)
        yield line, LessonPage(profile.new_page(), jupyterlab.url, NAME)


def run(lesson):
    """Run all cells, after which nothing says that it has stopped."""
    lesson.run_all()
    expect(lesson.page.locator(LINES)).to_have_count(2)
    expect(lesson.page.locator(f"{LINES}:visible")).to_have_count(0)


def kill_kernel(lesson):
    printed = lesson.page.get_by_text("kernel ", exact=False).and_(lesson.page.locator("pre"))
    os.kill(int(printed.inner_text().split()[1]), signal.SIGKILL)


def expect_stopped(page, said):
    expect(page.locator(f"{LINES}:visible")).to_have_count(2)
    for each in page.locator(f"{LINES}:visible").all():
        each.scroll_into_view_if_needed()  # what is out of sight is not painted, and has no text
        expect(each).to_contain_text(said, use_inner_text=True)


def test_what_has_stopped_is_told_and_what_was_moved_after_it_goes_back(line_and_lesson):
    line, lesson = line_and_lesson
    page = lesson.page
    run(lesson)
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

    run(lesson)
    other.click()
    page.wait_for_function("before => document.querySelector('.sigcalc-view').innerText !== before", arg=picture)
    assert lesson.error_count() == 0

    # On the stage the line is large, and no dialog takes the keys.
    fill_the_screen(page, page.locator(".sigcalc-panel"))
    kill_kernel(lesson)
    large = page.locator(f".sigcalc-stage {LINES} p")
    expect(large).to_be_visible(timeout=NOTICED)
    expect(large).to_contain_text("press Esc", use_inner_text=True)
    height = page.viewport_size["height"]
    assert float(large.evaluate("it => parseFloat(getComputedStyle(it).fontSize)")) >= height / 25
    page.wait_for_timeout(500)
    assert page.locator(".jp-Dialog").count() == 0
    page.keyboard.press("b")
    expect(page.locator(".sigcalc-stage")).to_have_class(re.compile("sigcalc-blank"))
    leave(page)

    # A server that does not answer, and then does.
    run(lesson)
    line.set_cut(True)
    expect_stopped(page, "Jupyter does not answer")
    line.set_cut(False)
    expect(page.locator(f"{LINES}:visible")).to_have_count(0)

    # A kernel that the server ended, as it does with one that nobody uses: the page asks every ten seconds what runs.
    page.evaluate(END_KERNELS)
    expect_stopped(page, "choose Run and Run All Cells")

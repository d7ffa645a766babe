"""The game for a room in a browser: played by keys alone, with a clock that does not lie, and no answer in the file."""

import re

from playwright.sync_api import expect

from sigcalc.lessons.fault_round import CLINIC, SIGNALS
from tests.browser.stage import fill_the_screen, seen
from tests.browser.test_stage import HEIGHT, LEAST, SHOW

NAME = "fault_round.ipynb"


def test_the_clock_does_not_lie_and_a_round_is_played_by_keys_alone(jupyterlab, write_lesson, open_lesson):
    write_lesson(NAME, SHOW.format("fault round"))
    lesson = open_lesson(NAME)
    page, panel = lesson.page, lesson.page.locator(".sigcalc-panel")
    page.set_viewport_size({"width": 16 * HEIGHT // 9, "height": HEIGHT})
    lesson.run_all()
    # The clock says what is left after the page has slept, and stops with the kernel.
    page.get_by_role("button", name="start the clock").click()
    clock = page.locator(".sigcalc-head .sigcalc-countdown[data-until]")
    clock.wait_for()
    page.evaluate("{ const now = Date.now; window.asleep = 0; Date.now = () => now() + 60000 * window.asleep; }")
    for minutes, left in ((1, re.compile(r"0:[012]\d")), (2, "time is up"), (0, re.compile(r"1:\d\d|0:5\d"))):
        page.evaluate("minutes => { window.asleep = minutes; }", minutes)
        expect(clock).to_have_text(left)
    lesson.save()
    saved = (jupyterlab.notebooks / NAME).read_text(encoding="utf-8")
    assert "Signal 1 of 5" in saved
    lists = re.findall(r'"_options_labels": \[[^]]*?"red LED open"[^]]*\][^}]*?"index": (\d+)', saved)
    assert set(lists) == {"0"}  # "no idea": every fault that can be named is listed, and none is chosen
    without = re.sub(r'"_options_labels": \[[^]]*\]', "", saved)
    assert [without[max(0, m.start() - 200) : m.end() + 60] for m in re.finditer("|".join(CLINIC), without)] == []
    # as a cell is marked whose kernel has died (test_stopped.py)
    page.locator(".jp-Cell").filter(has=clock).evaluate("cell => cell.classList.add('sigcalc-stopped')")
    expect(clock).to_have_text("clock stopped")

    lesson.run_all()  # a new round, in type for the back row
    expect(clock).to_have_count(0)
    board, press = panel.locator(".sigcalc-head"), page.keyboard.press
    fill_the_screen(page, panel)
    for key in ("Tab", "Tab", "Tab", "Enter"):  # the other position, the list of points, the button
        press(key)
    expect(board).to_contain_text("Signal 1 of 5, 9 points")
    expect(board.locator(".sigcalc-countdown")).to_have_text(re.compile(r"1:[12]\d"))
    for _ in range(2):  # the list of faults, the button
        press("Tab")
    for place, fault in enumerate(CLINIC, 1):
        expect(board).to_contain_text(f"Signal {place} of {SIGNALS}, ")
        press("Shift+Tab")
        page.keyboard.type(fault)
        press("Tab")
        press("Enter")
        expect(panel.locator(".sigcalc-sentence")).to_contain_text(f"It is “{fault}”")
        on_the_wall = seen(panel)
        assert (on_the_wall.smallest >= LEAST, on_the_wall.outside) == (True, [])
        if place < SIGNALS:
            press("Enter")
    expect(panel.locator(".sigcalc-sentence")).to_contain_text("Team 1 wins, 29 to 20.")
    assert lesson.error_count() == 0

"""The planner: what is typed is refused or saved, however soon the button is pressed and however busy the kernel is."""

import re
import time
from itertools import cycle

import pytest

from sigcalc import Plan, Q
from tests.browser.lab import PATIENCE, PROFILE, LessonPage, write_notebook

PLANNER = """import time
from sigcalc.panels.planner import Planner
class SlowPlanner(Planner):
    def studied(self):
        time.sleep(0.4 * self.plan.name.startswith("Slow"))
        return super().studied()
planner = SlowPlanner()
planner.files.path.value = "my_plans/typed.toml"
planner.form.sections.selected_index = planner.form.sections.titles.index("Current and resistor")
planner"""


@pytest.fixture(scope="module")
def page_of_all(jupyterlab, chromium):
    """To open a page takes longer than each of these tests, so they share one, and its kernel."""
    write_notebook(jupyterlab.notebooks / "saving.ipynb", PLANNER)
    with chromium.new_context(**PROFILE) as profile:
        yield LessonPage(profile.new_page(), jupyterlab.url, "saving.ipynb")


@pytest.fixture
def lesson(page_of_all):
    """The page with a new planner in it."""
    planner = page_of_all.page.locator(".sigcalc-planner")
    earlier = planner.element_handles()
    page_of_all.run_all()
    for each in earlier:
        each.wait_for_element_state("hidden")
    planner.wait_for()
    return page_of_all


@pytest.fixture
def file(jupyterlab):
    """Where the planner saves."""
    file = jupyterlab.notebooks / "my_plans" / "typed.toml"
    file.unlink(missing_ok=True)
    return file


def saved(file):
    """The plan in the file, as soon as there is one, which it takes away, so that the next is seen."""
    end = time.monotonic() + PATIENCE / 1000
    while not file.exists():
        assert time.monotonic() < end, "nothing was saved"
        time.sleep(0.01)
    plan = Plan.load(file)
    file.unlink()
    return plan


def test_what_is_typed_letter_by_letter_is_saved_at_once(lesson, file):
    current = lesson.page.get_by_label("current", exact=True)
    save = lesson.page.get_by_role("button", name="Save plan")
    for tenths, delay in zip(range(31, 39), cycle((0, 5, 20, 60))):
        current.fill("")
        current.press_sequentially(f"{tenths / 10} mA", delay=delay)
        current.press("Tab")
        save.click()
        assert saved(file).drive.current == Q(f"{tenths / 10} mA")
    assert lesson.error_count() == 0


def test_a_button_waits_for_what_was_changed_before_it_while_the_kernel_is_busy(lesson, file):
    page = lesson.page
    current, name, series = (page.get_by_label(each, exact=True) for each in ("current", "name", "series"))
    save = page.get_by_role("button", name="Save plan")
    name.fill("Slow")
    name.press("Tab")
    save.click()
    assert saved(file).name == "Slow"
    for first, last, key in (("3.1 mA", "4.2 mA", "Space"), ("5.1 mA", "3.3 mA", "Enter")):
        for typed in (first, last):
            current.fill(typed)
            current.press("Enter")
        save.press(key)
        assert saved(file).drive.current == Q(last)
    for each in ("E6", "E24"):
        series.select_option(each)
    save.click()
    assert saved(file).drive.series == "E24"
    for each in ("Slow North", "Slow South"):
        name.fill(each)
        name.press("Tab")
    page.get_by_role("button", name="Save build sheet").click()
    lesson.expect_text(".sigcalc-planner", "Saved my_plans/typed.html")
    assert "Slow South" in file.with_suffix(".html").read_text(encoding="utf-8")
    assert lesson.error_count() == 0


def test_a_file_too_large_to_arrive_is_refused_and_the_next_one_is_loaded(lesson):
    """The server drops what is over 10 MiB, and with it the connection, which JupyterLab makes anew."""
    for name, content, said in (
        ("large.toml", b"#" * 10_600_000, "large.toml was not loaded: it is 10.6 MB"),
        ("west.toml", Plan(name="West").text().encode(), "Loaded west.toml"),
    ):
        with lesson.page.expect_file_chooser() as chooser:
            lesson.page.get_by_role("button", name="Load a plan").click()
        chooser.value.set_files({"name": name, "mimeType": "text/plain", "buffer": content})
        lesson.expect_text(".sigcalc-planner", said)
    assert lesson.page.get_by_label("name", exact=True).input_value() == "West"
    assert lesson.error_count() == 0


def test_a_broken_field_says_what_is_wrong_and_mending_it_brings_the_plan_back(lesson, file):
    seen = (".sigcalc-alert", "[role=status]", ".sigcalc-sentence")
    alert, headline, sentence = (f".sigcalc-planner {each}" for each in seen)
    planner = lesson.page.locator(".sigcalc-planner")
    lesson.expect_text(headline, "Resistor, shared")
    lesson.type_into("current", "8 ma")
    lesson.expect_text(alert, re.compile(r'Current and resistor, current needs .*type "8 mA"'))
    lesson.type_into("current", "3 mA")
    lesson.expect_text(headline, "Resistor, shared")
    lesson.expect_text(sentence, re.compile(r"Red is lit with \d"))
    planner.get_by_role("button", name="green", exact=True).click()
    lesson.expect_text(sentence, "Green is lit")
    planner.get_by_role("button", name="Save plan").click()
    lesson.expect_text(".sigcalc-planner", "Saved my_plans/typed.toml")
    assert saved(file).drive.current == Q("3 mA")
    assert lesson.barriers() == []
    assert lesson.error_count() == 0

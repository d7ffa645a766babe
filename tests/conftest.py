"""Settings that hold for every test."""

import os
import shutil
from contextlib import ExitStack

import hypothesis
import pytest
from xdist.scheduler import LoadScopeScheduling

NO_SKIPS = "SIGCALC_NO_SKIPS"
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
BROWSER, LESSONS = "tests/browser/", "tests/notebooks/test_notebooks.py"

# The same examples in every run, so that a red test is about the change at hand. To look further:
# python -m pytest --hypothesis-profile=search
hypothesis.settings.register_profile("repeatable", max_examples=30, derandomize=True, deadline=None, database=None)
hypothesis.settings.register_profile("search", max_examples=2000, deadline=None, print_blob=True)
hypothesis.settings.load_profile("repeatable")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport():
    return _refuse_skip((yield))


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report():
    return _refuse_skip((yield))


def _refuse_skip(report):
    """Where every program is there (SIGCALC_NO_SKIPS is set), a skipped test is a failed one."""
    if os.environ.get(NO_SKIPS) and report.skipped and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = f"skipped, though {NO_SKIPS} is set: {report.longrepr}"
    return report


def pytest_collection_modifyitems(items):
    """What takes longest starts first, so that no worker is left alone with it at the end."""
    items.sort(key=lambda item: item.get_closest_marker("long") is None and not item.nodeid.startswith(BROWSER))


class ByFile(LoadScopeScheduling):
    """Shares tests out file by file, so that what a file's tests read is made once; all browser tests are one share.

    The lessons run one by one: each has a kernel of its own and shares nothing.
    """

    def _split_scope(self, nodeid):
        if nodeid.startswith(BROWSER):
            return BROWSER
        return nodeid if nodeid.startswith(LESSONS) else nodeid.split("::")[0]


def pytest_xdist_make_scheduler(config, log):
    config.option.loadscopereorder = False  # the order is ours, above
    return ByFile(config, log)


@pytest.fixture(scope="session")
def chromium_path():
    path = next(filter(None, map(shutil.which, BROWSERS)), None)
    if path is None:
        pytest.skip(f"no browser: none of {', '.join(BROWSERS)} is on the path")
    return path


# A module's scope, not the session's: while it lives, playwright's event loop runs in this thread, which breaks the
# notebook tests.
@pytest.fixture(scope="module")
def chromium(chromium_path):
    """A Chromium without a window; what drives it is loaded where it is wanted."""
    from playwright.sync_api import sync_playwright

    from tests.browser.lab import CHROMIUM_FLAGS

    with ExitStack() as stack:
        try:
            playwright = stack.enter_context(sync_playwright())
            browser = playwright.chromium.launch(executable_path=chromium_path, args=CHROMIUM_FLAGS)
        except Exception as error:  # noqa: BLE001 of many kinds: a missing system library, a browser that is too old
            pytest.skip(f"{chromium_path} cannot be driven on this machine: {error}")
        yield browser
        browser.close()

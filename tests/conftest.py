"""Settings that hold for every test."""

import os

import hypothesis
import pytest
from xdist.scheduler import LoadScopeScheduling

NO_SKIPS = "SIGCALC_NO_SKIPS"
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

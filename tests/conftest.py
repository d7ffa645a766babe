"""Settings that hold for every test."""

import os

import hypothesis
import pytest
from xdist.scheduler import LoadScopeScheduling

NO_SKIPS = "SIGCALC_NO_SKIPS"

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
    items.sort(key=lambda item: item.get_closest_marker("long") is None)


class OneBrowser(LoadScopeScheduling):
    """Shares tests out one by one, but keeps those that need the browser on one worker."""

    def _split_scope(self, nodeid):
        return "browser" if nodeid.startswith("tests/browser/") else nodeid


def pytest_xdist_make_scheduler(config, log):
    return OneBrowser(config, log)

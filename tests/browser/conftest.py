"""One JupyterLab for the tests in this folder, which all run on one worker (tests/conftest.py)."""

import shutil
from contextlib import ExitStack
from pathlib import Path

import pytest

from tests.browser.lab import PROFILE, LessonPage, started, write_notebook

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"


@pytest.fixture(scope="session")
def jupyterlab(chromium_path, tmp_path_factory):  # noqa: ARG001 no browser, no server
    """A running JupyterLab whose folder `notebooks` is a copy, so that saving touches nothing of the project."""
    home = tmp_path_factory.mktemp("jupyterlab")
    (home / "root").mkdir()
    ours = shutil.ignore_patterns(".ipynb_checkpoints", "my_plans")
    shutil.copytree(NOTEBOOKS, home / "root" / "notebooks", ignore=ours)
    with started(home) as server:
        yield server


@pytest.fixture
def open_lesson(jupyterlab, chromium):
    """Opens a notebook of the folder `notebooks` in a new browser profile: `open_lesson("start_here.ipynb")`."""
    with ExitStack() as stack:

        def open_lesson(name, **options) -> LessonPage:
            profile = stack.enter_context(chromium.new_context(**PROFILE))
            return LessonPage(profile.new_page(), jupyterlab.url, name, **options)

        yield open_lesson


@pytest.fixture
def write_lesson(jupyterlab):
    """Puts a small notebook beside the lessons: `write_lesson("try.ipynb", "1 + 1")` with one cell for each text."""

    return lambda name, *cells: write_notebook(jupyterlab.notebooks / name, *cells)

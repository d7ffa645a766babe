"""The table of DEVELOPERS.md says for each lesson which files it stands on; it is held to what the lesson imports."""

import pytest

from tests.project.floors import Tree
from tests.project.lessons import ORDER, ROOT, row


@pytest.fixture(scope="module")
def library():
    return Tree(ROOT)


@pytest.mark.parametrize("name", ORDER)
def test_the_lesson_stands_on_what_the_table_says(library, name):
    table = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert row(name, library) in table, "write the table anew: python -m tests.project.lessons"


def test_every_notebook_is_a_lesson_of_the_table():
    assert {path.stem for path in (ROOT / "notebooks").glob("*.ipynb")} == set(ORDER)

"""Every lesson runs, its controls move without error, and it is written the way lessons are."""

import ast
import re
import shutil
from functools import cache
from pathlib import Path

import nbformat
import pytest

from tests.notebooks.runner import run_notebook
from tests.project.checkout import EVENING, GLOSSARY, ROOT, committed_names, committed_text, is_checkout

NOTEBOOKS = ROOT / "notebooks"
START = "start_here.ipynb"
MOST_LINES = 8
REFUSED = {"interact", "interactive", "interactive_output", "pyplot", "matplotlib.pyplot", "plt"}


NOT_OURS = shutil.ignore_patterns(".ipynb_checkpoints", "my_plans", "my_talks", "my_progress*")


def lessons():
    """Names of the lessons: those git keeps, so that a reader's own notebooks do not count; without git, all."""
    if is_checkout():
        return sorted(Path(path).name for path in committed_names("notebooks/*.ipynb"))
    return sorted(path.name for path in NOTEBOOKS.glob("*.ipynb"))


@cache
def as_committed(name):
    """A lesson as git keeps it; without git, as it lies there.

    A reader who plays with a lesson and saves it changes the file, and must still be able to run the tests.
    """
    text = committed_text(f"notebooks/{name}") if is_checkout() else (NOTEBOOKS / name).read_text(encoding="utf-8")
    return nbformat.reads(text, as_version=nbformat.NO_CONVERT)


def code_cells(name):
    return [cell for cell in as_committed(name).cells if cell.cell_type == "code"]


def prose(name):
    return [cell.source for cell in as_committed(name).cells if cell.cell_type == "markdown"]


def links(text):
    return re.findall(r"\]\((\w+\.ipynb)\)", text)


def reading_order():
    """The lessons in the order of their numbers."""
    return [START, *sorted({*lessons()} - {START, GLOSSARY, EVENING})]


each_lesson = pytest.mark.parametrize("name", lessons())


@pytest.mark.long
@each_lesson
def test_it_runs_and_every_control_moves(name, tmp_path):
    folder = shutil.copytree(NOTEBOOKS, tmp_path / "notebooks", ignore=NOT_OURS)
    run = run_notebook(folder / name)
    assert run.faults == []
    assert run.panels or name == GLOSSARY, "a lesson has at least one panel"


@each_lesson
@pytest.mark.skipif(not is_checkout(), reason="not a git checkout: a reader's saved outputs are no fault")
def test_it_is_committed_without_outputs(name):
    for cell in code_cells(name):
        assert cell.outputs == []
        assert cell.execution_count is None
    assert "widgets" not in as_committed(name).metadata


@each_lesson
def test_it_is_a_sound_notebook_that_names_its_kernel(name):
    notebook = as_committed(name)
    nbformat.validate(notebook)
    assert (notebook.nbformat, notebook.nbformat_minor) == (4, 5)
    assert notebook.metadata.kernelspec.name == "python3"
    ids = [cell.id for cell in notebook.cells]
    assert len(set(ids)) == len(ids)


@each_lesson
def test_its_code_cells_are_short(name):
    lines = {cell.id: len(cell.source.splitlines()) for cell in code_cells(name)}
    assert {cell: count for cell, count in lines.items() if count > MOST_LINES} == {}


@each_lesson
def test_what_only_shows_something_is_closed(name):
    """A reader sees code only where there is a sum to follow and to change, and none above the first panel."""
    cells = code_cells(name)
    opened = [cell for cell in cells if not cell.metadata.get("jupyter", {}).get("source_hidden")]
    assert not any("sigcalc.panels" in cell.source or only_shows(cell.source) for cell in opened)
    assert cells[0] not in opened


def only_shows(source):
    return all(isinstance(each, (ast.Import, ast.ImportFrom, ast.Expr)) for each in ast.parse(source).body)


@each_lesson
def test_what_is_for_the_speaker_alone_stands_on_no_page(name):
    """The audience sees the page: the speaker's lines and the game's hidden faults belong on paper."""
    assert "presenter" not in "\n".join(prose(name)).lower()
    assert not any("secret" in cell.source for cell in code_cells(name))


@each_lesson
def test_it_uses_nothing_that_hides_errors_or_keeps_figures(name):
    used = set()
    for cell in code_cells(name):
        for node in ast.walk(ast.parse(cell.source)):
            used |= {getattr(node, field, None) for field in ("id", "attr", "name", "module")}
    assert used & REFUSED == set()


def test_start_here_is_short_and_leads_to_every_page():
    text = "\n".join(prose(START))
    assert {*links(text)} == {*lessons()} - {START}
    assert len(re.findall(r"\w[\w'-]*", re.sub(r"\]\(.*?\)", "", text))) <= 250


def test_start_here_says_how_long_each_lesson_takes():
    told = re.findall(r"^\| \d \[[^]]+\]\((\w+\.ipynb)\) \| (\d+) \|$", "\n".join(prose(START)), flags=re.MULTILINE)
    assert [name for name, _ in told] == reading_order()[1:]
    for name, minutes in told:
        assert re.search(r"\*\*Minutes\*\* (\d+)", prose(name)[0])[1] == minutes, name


@each_lesson
def test_it_leads_on_to_the_next_lesson(name):
    order = reading_order()
    following = [START] if name in (GLOSSARY, EVENING) else order[order.index(name) + 1 :][:1]
    assert set(following) <= set(links(prose(name)[-1]))

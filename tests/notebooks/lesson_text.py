"""The prose of a lesson as one line of plain text, so that a test can name the statement it holds."""

import re

import nbformat

from tests.project.checkout import ROOT


def lesson_text(name):
    """All prose of a lesson without marks and line ends."""
    (path,) = (ROOT / "notebooks").glob(f"?_{name}.ipynb")  # the lessons' files are numbered in reading order
    notebook = nbformat.read(path, as_version=4)
    prose = " ".join(cell.source for cell in notebook.cells if cell.cell_type == "markdown")
    return " ".join(re.sub(r"<[^>]+>|\*+", "", prose).split())


def says_in(name):
    """What asserts that the prose of the lesson says these words."""
    text = lesson_text(name)

    def says(words):
        assert words in text

    return says


def open_words(name):
    """How many words of a lesson are open: in its prose outside of what is folded away."""
    (path,) = (ROOT / "notebooks").glob(f"?_{name}.ipynb")
    prose = "\n".join(cell.source for cell in nbformat.read(path, as_version=4).cells if cell.cell_type == "markdown")
    return len(re.sub(r"<details>.*?</details>", "", prose, flags=re.DOTALL).split())

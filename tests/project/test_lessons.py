"""DEVELOPERS.md says which function makes each number of a lesson: the functions are there, no lesson is missing.

And each lesson is one that the extension of JupyterLab starts.
"""

import json
import re
from functools import reduce
from importlib import import_module
from pathlib import Path

import pytest

from tests.project.checkout import GLOSSARY

ROOT = Path(__file__).parents[2]
_SECTION = re.compile(r"^### (\w+)\n(.*?)(?=^#)", re.MULTILINE | re.DOTALL)
_ROW = re.compile(r"^\| [^|]+ \| `([\w.]+)` \|$", re.MULTILINE)
TABLES = {lesson: _ROW.findall(rows) for lesson, rows in _SECTION.findall((ROOT / "DEVELOPERS.md").read_text("utf-8"))}
ROWS = [(lesson, function) for lesson, functions in TABLES.items() for function in functions]


@pytest.mark.parametrize("function", sorted({function for _, function in ROWS}))
def test_the_function_is_there(function):
    """`design.lamp.drive.operate`, or with a class `design.pair.two_lead_pair.TwoLeadPair.operate`, below sigcalc."""
    parts = function.split(".")
    cut = next(place for place in range(len(parts), 0, -1) if _is_module(parts[:place]))
    assert callable(reduce(getattr, parts[cut:], import_module(".".join(["sigcalc", *parts[:cut]]))))


def _is_module(parts):
    path = ROOT.joinpath("sigcalc", *parts)
    return path.with_suffix(".py").exists() or path.joinpath("__init__.py").exists()


def test_every_notebook_has_rows():
    lessons = {path.stem.lstrip("123456789_") for path in (ROOT / "notebooks").glob("*.ipynb") if path.name != GLOSSARY}
    assert {lesson for lesson, _ in ROWS} == lessons


def test_the_extension_starts_every_lesson_and_nothing_else():
    script = (ROOT / "sigcalc" / "jupyterlab_lessons" / "static" / "remoteEntry.js").read_text("utf-8")
    (names,) = re.findall(r"const LESSONS = \[(.*?)\];", script, flags=re.DOTALL)
    paths = sorted((ROOT / "notebooks").glob("*.ipynb"))
    assert sorted(re.findall(r'"(\w+)"', names)) == [path.stem for path in paths]
    for path in paths:
        assert json.loads(path.read_text("utf-8"))["metadata"]["sigcalc"] == {"starts_itself": True}

"""A file imports only from the floors below it, and nothing heavy is loaded before it is needed."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

from tests.project.floors import FLOORS, Tree, faults, floor_of

ROOT = Path(__file__).parents[2]
DRAWING = {"matplotlib", "schemdraw", "jinja2", "ipywidgets"}
SWALLOWING = {"interact", "interactive", "interactive_output"}


@pytest.fixture(scope="module")
def tree():
    return Tree(ROOT)


def test_every_floor_has_files(tree):
    floors = {floor_of(name) for name, path in tree.files.items() if path.stat().st_size}
    assert floors >= set(range(len(FLOORS)))


def test_every_folder_of_code_is_a_package(tree):
    """Python 3.11.2, which Debian 12 has, finds no data files beside code in a folder without `__init__.py`."""
    folders = {path.parent for path in tree.files.values()}
    assert [folder for folder in folders if not (folder / "__init__.py").exists()] == []


def test_no_file_breaks_the_rule(tree):
    assert faults(tree) == []


@pytest.mark.parametrize(
    ("file", "line", "said"),
    [
        ("physics/diode.py", "import pint", "imports pint"),
        ("physics/diode.py", "import requests", "imports requests"),
        ("physics/diode.py", "def late():\n    from sigcalc.parts import led", "imports sigcalc.parts.led (floor 2)"),
        ("physics/diode.py", "from ..views import curves", "imports sigcalc.views"),
        ("plan/study.py", "import matplotlib.figure", "imports matplotlib.figure"),
        ("plan/study.py", "from sigcalc import operate", "hides the floor"),
        ("plan/study.py", "from importlib import import_module\nimport_module('pint')", "an import by name"),
        ("design/lamp/led_string.py", "from ..pair.brightness import compare_brightness", "only those before it"),
        ("design/findings.py", "from .lamp import drive", "only those before it"),
        ("parts/led.py", "from .drive import ResistorDrive", "a circle"),
        ("gadgets/odd.py", "", "is on no floor"),
    ],
)
def test_a_breach_is_seen(tmp_path, file, line, said):
    written = {
        "parts/led.py": "",
        "parts/drive.py": "from sigcalc.parts.led import Led",
        "design/findings.py": "",
        "design/lamp/drive.py": "import scipy.optimize\nfrom sigcalc.physics import diode",
        "design/pair/brightness.py": "from ..lamp.drive import operate\nfrom ..findings import Finding",
        "lessons/pairs.py": "from sigcalc.design.lamp.drive import operate",
        "physics/diode.py": "import numpy",
    }
    for name, text in (written | {file: line}).items():
        path = tmp_path / "sigcalc" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    found = faults(Tree(tmp_path))
    assert len(found) == 1
    assert said in found[0]


def loaded_after(code):
    """Top-level names of all modules loaded once the code has run in a fresh Python."""
    code += "\nimport sys; print(*{name.partition('.')[0] for name in sys.modules})"
    run = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    return set(run.stdout.split())


def test_nothing_below_the_views_loads_what_draws(tree):
    names = [name for name in tree.imports if (floor_of(name) or 0) < 5]
    loaded = loaded_after("\n".join(f"import {name}" for name in names))
    assert "pint" in loaded
    assert loaded.isdisjoint(DRAWING)


def test_no_panel_uses_what_swallows_errors_or_keeps_figures(tree):
    for name, path in tree.files.items():
        text = path.read_text(encoding="utf-8")
        for node in ast.walk(ast.parse(text)) if "interact" in text else ():
            used = {getattr(node, "id", None), getattr(node, "attr", None), getattr(node, "name", None)}
            assert used.isdisjoint(SWALLOWING), f"{name}: use observe, its errors are seen"
        assert not any("pyplot" in imported for imported in tree.imports.get(name, [])), f"{name}: use Figure"

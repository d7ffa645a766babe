"""The public names: shown, typed, and the same for a person, a program and a type checker."""

import ast
import importlib.metadata
from pathlib import Path

import sigcalc


def _names_for_type_checkers():
    tree = ast.parse(Path(sigcalc.__file__).read_text(encoding="utf-8"))
    (block,) = (node for node in tree.body if isinstance(node, ast.If))
    return {alias.asname: f"{node.module}.{alias.name}" for node in block.body for alias in node.names if alias.asname}


def test_a_type_checker_finds_each_name_where_it_is_loaded_from():
    # the list in `_HOMES` and the imports below it are to say the same
    assert _names_for_type_checkers() == {name: f"{home}.{name}" for name, home in sigcalc._HOME.items()}


def test_dir_shows_the_public_names_and_the_version_alone():
    assert set(dir(sigcalc)) == {*sigcalc.__all__, "__version__"}


def test_the_version_is_the_installed_one():
    assert sigcalc.__version__ == importlib.metadata.version("sigcalc")


def test_type_checkers_are_told_that_there_are_hints():
    assert Path(sigcalc.__file__).with_name("py.typed").exists()

"""environment.yml and pyproject.toml ask for the same packages."""

import tomllib
from pathlib import Path

import pytest
import yaml
from packaging.requirements import Requirement
from packaging.specifiers import SpecifierSet
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[2]
CONDA_NAMES = {"matplotlib": "matplotlib-base"}


def wanted_by_pyproject(pyproject):
    """Name and bounds of what the notebooks need, under conda-forge's names."""
    project = pyproject["project"]
    lines = project["dependencies"] + project["optional-dependencies"]["notebooks"]
    wanted = {}
    for requirement in map(Requirement, lines):
        name = canonicalize_name(requirement.name)
        wanted[CONDA_NAMES.get(name, name)] = requirement.specifier
    return wanted | {"python": SpecifierSet(project["requires-python"])}


def wanted_by_conda(environment):
    """Name and bounds of the conda lines, and the lines handed to pip."""
    wanted, pip_lines = {}, []
    for line in environment["dependencies"]:
        if isinstance(line, dict):
            assert list(line) == ["pip"], f"only pip may have a list of its own, not {line}"
            pip_lines += line["pip"]
        elif line != "pip":
            name, _, bounds = line.partition(" ")
            assert name not in wanted, f"{name} is there twice"
            wanted[name] = SpecifierSet(bounds)
    return wanted, pip_lines


PYPROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
ENVIRONMENT = yaml.safe_load((ROOT / "environment.yml").read_text(encoding="utf-8"))


def test_same_names_and_bounds_from_conda_forge_alone_and_pip_installs_only_this_project():
    assert wanted_by_conda(ENVIRONMENT) == (wanted_by_pyproject(PYPROJECT), ["-e ."])
    assert "pip" in ENVIRONMENT["dependencies"]
    assert ENVIRONMENT["channels"] == ["conda-forge", "nodefaults"]


@pytest.mark.parametrize(
    ("line", "changed"),
    [("numpy >=1.26", "numpy >=1.25"), ("python >=3.11", "python >=3.12"), ("scipy >=1.11.3", "tomli >=2")],
)
def test_a_difference_is_seen(line, changed):
    lines = [changed if other == line else other for other in ENVIRONMENT["dependencies"]]
    assert lines != ENVIRONMENT["dependencies"], f"{line} is no longer in environment.yml: change this test"
    conda, _ = wanted_by_conda({"dependencies": lines})
    assert conda != wanted_by_pyproject(PYPROJECT)

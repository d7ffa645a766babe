"""README's commands are the ones that work, and the ones that are run.

A command's block in README.md is a fence right below a line such as `<!-- command: test -->`, which no reader sees.
"""

import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from tests.project.checkout import GLOSSARY

ROOT = Path(__file__).parents[2]
INSTALL = 'python3 -m venv --without-pip .venv && python3 -m pip --python .venv install -e ".[{extra}]" && '
COMMANDS = {
    "notebooks": INSTALL.format(extra="notebooks")
    + ".venv/bin/jupyter lab --LabApp.default_url=/doc/tree/notebooks/start_here.ipynb",
    "test": INSTALL.format(extra="test") + ".venv/bin/python -m pytest",
}


def marked_blocks(text):
    """Pairs of mark and block."""
    return re.findall(r"^<!-- command: (\w+) -->\n```\w*\n(.*?)\n```$", text, flags=re.MULTILINE | re.DOTALL)


@pytest.fixture(scope="module")
def readme():
    return (ROOT / "README.md").read_text(encoding="utf-8")


def test_each_command_stands_there_once_word_for_word(readme):
    assert sorted(marked_blocks(readme)) == sorted(COMMANDS.items())
    assert readme.count("<!-- command:") == len(COMMANDS), "a mark has no block right below it"


@pytest.mark.skipif(shutil.which("bash") is None, reason="no bash, which .ci/run needs")
def test_the_test_command_is_the_one_that_is_run():
    shown = subprocess.run([ROOT / ".ci" / "run", "--show"], capture_output=True, text=True, check=True)
    assert shown.stdout == COMMANDS["test"] + "\n"


def test_the_job_comes_before_any_command(readme):
    title, first_paragraph, *_ = readme.split("\n\n")
    assert title.startswith("# ")
    assert all(word in first_paragraph for word in ("signal", "LED", "resistor"))


def test_every_extra_the_commands_name_exists():
    extras = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["optional-dependencies"]
    assert set(COMMANDS) <= set(extras)


def test_every_picture_and_path_it_names_is_there(readme):
    pictures = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", readme)
    paths = re.findall(r"`((?:notebooks/[a-z]+/|[A-Za-z_.]+\.(?:md|toml|yml)))`", readme)
    made_by_the_reader = {"notebooks/my_plans/"}
    assert pictures
    assert "notebooks/plans/" in paths
    assert [each for each in {*pictures, *paths} - made_by_the_reader if not (ROOT / each).exists()] == []


def test_it_counts_the_example_plans_and_the_notebooks(readme):
    signals = [each for each in (ROOT / "notebooks" / "plans").glob("*.toml") if "layout" not in each.name]
    (word,) = re.findall(r"to\s+change: (\w+)\s+signals", readme)
    assert ["one", "two", "three", "four", "five", "six"].index(word) + 1 == len(signals)
    (word,) = re.findall(r"(\w+)\s+notebooks with sliders", readme)
    assert (
        len({each.name for each in (ROOT / "notebooks").glob("*.ipynb")} - {GLOSSARY})
        == {"Nine": 9, "Ten": 10, "Eleven": 11, "Twelve": 12}[word]
    )


def test_the_python_example_runs(readme):
    (example,) = re.findall(r"^```python\n(.*?)\n```$", readme, flags=re.MULTILINE | re.DOTALL)
    # Windows would write to a pipe in a code page that may lack the ohm sign
    python = [sys.executable, "-X", "utf8", "-c", example]
    ran = subprocess.run(python, capture_output=True, encoding="utf-8", check=True)
    assert "ohm" in ran.stdout or "Ω" in ran.stdout
    assert "mA" in ran.stdout

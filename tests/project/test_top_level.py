"""The top level stays short: what is committed there is what the readers are promised."""

import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TOP_LEVEL = {
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "environment.yml",
    "notebooks",
    "pyproject.toml",
    "sigcalc",
    "tests",
}


def test_top_level_holds_what_was_promised_and_nothing_else():
    git = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if git.returncode:
        pytest.skip(f"not a git checkout: {git.stderr.strip()}")
    names = {line.partition("/")[0] for line in git.stdout.splitlines()}
    assert {name for name in names if not name.startswith(".")} == TOP_LEVEL

#!/usr/bin/env python3
"""Runs the tests that need no browser on the oldest packages that pyproject.toml allows, or on the newest Python here.

    python3 .ci/versions.py oldest [what pytest is given]
    python3 .ci/versions.py newest [what pytest is given]

Each makes its own environment beside .venv. Without a Python newer than the one that runs this, `newest` says so and
ends well.
"""

import re
import shutil
import subprocess
import sys
import tomllib
from itertools import chain
from pathlib import Path

ROOT = Path(__file__).parents[1]
NO_BROWSER = ["--ignore=tests/browser"]
NEWEST_TRIED = 20


def lower_bounds():
    """Every package of pyproject.toml at the oldest version it allows, as pip's constraints."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    lines = chain(project["dependencies"], *project["optional-dependencies"].values())
    return [line.replace(">=", "==") for line in lines if ">=" in line]


def newer_pythons():
    """Commands of Pythons newer than this one, the newest first: on the path, or where pyenv keeps them."""
    kept = Path.home() / ".pyenv" / "versions"
    for minor in range(NEWEST_TRIED, sys.version_info.minor, -1):
        by_age = sorted(kept.glob(f"3.{minor}.*/bin/python"), key=lambda path: int(re.findall(r"\d+", str(path))[-1]))
        for command in filter(None, [shutil.which(f"python3.{minor}"), *map(str, reversed(by_age))]):
            # pyenv leaves commands on the path that only say that another version must be chosen first
            if subprocess.run([command, "-c", "import venv"], capture_output=True, check=False).returncode == 0:
                yield command


def install(python, environment, constraints):
    """Make the environment with `python` and install the project into it."""
    subprocess.run([python, "-m", "venv", "--clear", "--without-pip", environment], check=True)
    (environment / "constraints.txt").write_text("\n".join(constraints), encoding="utf-8")
    pip = [sys.executable, "-m", "pip", "--python", environment, "install", "--quiet", "-e", f"{ROOT}[test]"]
    subprocess.run([*pip, "--constraint", environment / "constraints.txt"], check=True)


def main(which, *chosen):
    """One of the runs; gives the exit code."""
    environment = ROOT / (".venv-oldest" if which == "oldest" else ".venv-newest")
    python = sys.executable if which == "oldest" else next(newer_pythons(), None)
    if python is None:
        sys.stdout.write(f"skipped: no Python newer than 3.{sys.version_info.minor} was found\n")
        return 0
    install(python, environment, lower_bounds() if which == "oldest" else [])
    pytest = [environment / "bin" / "python", "-m", "pytest", *(chosen or NO_BROWSER)]
    return subprocess.run(pytest, cwd=ROOT, check=False).returncode


if __name__ == "__main__":
    if sys.argv[1:2] not in (["oldest"], ["newest"]):
        sys.exit(__doc__)
    sys.exit(main(*sys.argv[1:]))

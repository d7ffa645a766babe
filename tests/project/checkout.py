"""What git keeps of this project, where there is git and a checkout of it: a reader may also have taken a ZIP."""

import shutil
import subprocess
from functools import cache
from pathlib import Path

GLOSSARY = "glossary.ipynb"
"""The notebook to look words up in: no lesson, so without a panel and without a place in the order."""
EVENING = "clinic_night.ipynb"
"""The notebook that plays a talk: no lesson, so without a place in the order."""
ROOT = Path(__file__).parents[2]


def git(*arguments: str) -> str | None:
    """What git answers, or None where it refuses or is missing."""
    if shutil.which("git") is None:
        return None
    run = subprocess.run(["git", *arguments], cwd=ROOT, capture_output=True, text=True, encoding="utf-8", check=False)
    return run.stdout if run.returncode == 0 else None


@cache
def is_checkout() -> bool:
    """Whether git keeps this project; a ZIP unpacked inside another checkout is not kept."""
    return git("ls-files", "--error-unmatch", "pyproject.toml") is not None


def committed_names(pattern: str = ".") -> list[str]:
    """Paths that git keeps, committed or staged for it."""
    return git("ls-files", pattern).splitlines()


def committed_text(path: str) -> str:
    """A file as git keeps it, committed or staged for it, whatever lies in the work tree."""
    text = git("show", f":{path}")
    if text is None:
        raise FileNotFoundError(f"git keeps no {path}")
    return text

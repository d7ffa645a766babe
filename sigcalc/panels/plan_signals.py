"""The signals of the plans that lie beside a lesson, for panels that work on a signal of the person's own."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from ..errors import PlanError
from ..plan import Plan, file
from ..plan.layout import Layout, holds_layout
from ..plan.result import BenchTest
from .own_files import FOLDERS


def plan_files() -> list[tuple[str, Path]]:
    """Each plan's name and file, the examples first.

    The file stands beside a name that two plans have, and alone for a plan with faults.
    """
    found = [path for folder in FOLDERS for path in sorted(Path(folder).glob("*.toml"))]
    named = [(name, path) for path in found if (name := _name(path))]
    often = Counter(name for name, _ in named)
    return [(f"{name} ({path})" if often[name] > 1 else name, path) for name, path in named]


def _name(path: Path) -> str:
    """The plan's name; "" for the file of a layout, which holds several signals."""
    try:
        text = file.read(path, Layout.most_bytes)
    except PlanError:
        return f"{path.name} (has faults)"
    try:
        return Plan.parse(text).name
    except PlanError:
        return "" if holds_layout(text) else f"{path.name} (has faults)"


def bench_test_of(path: Path) -> BenchTest:
    """The finished signal of a plan before a meter.

    Raises PlanError with the plan's faults, or where it cannot be tested; SigcalcError where nothing would light.
    """
    study = Plan.load(path).study()
    if study.bench_test is None:
        raise PlanError([f"{path.name}: {study.no_bench_test}"])
    return study.bench_test

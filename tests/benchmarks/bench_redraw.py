"""Processor time of one move of one control, for every panel; run by hand: python -m tests.benchmarks.bench_redraw.

Every control of every panel is moved through its range in this process, one move after the other and back, as the
browser does it (`set_state`); the planner with each of its tabs open. The aim: no move over 0.1 s (p95), or the panel
says that it is working. `python -m tests.benchmarks.bench_redraw layout orientation` takes the panels whose names hold
one of the words; `--layout 200` studies a made-up layout of so many signals instead.
"""

from __future__ import annotations

import importlib
import inspect
import os
import pkgutil
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import Any

import ipywidgets
import numpy as np
import tomlkit
from ipywidgets.widgets import widget_float, widget_selection

from sigcalc import panels
from sigcalc.errors import SigcalcError
from sigcalc.panels.base import Panel
from sigcalc.panels.many_signals_one_adapter import LayoutPanel
from sigcalc.panels.planner import Planner
from sigcalc.plan.layout import Layout

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
STOPS = 9  # so many positions of a slider
AIM = 0.1  # s


def members(widget: Any) -> Iterator[Any]:
    """A widget and all inside it."""
    yield widget
    for child in getattr(widget, "children", ()):
        yield from members(child)


def stops(control: Any) -> list[dict[str, Any]]:
    """The states to bring a control to, the one it has last."""
    home = getattr(control, "value", None)
    if isinstance(control, widget_float._BoundedFloat | widget_float._BoundedLogFloat):
        moved = np.linspace(control.min, control.max, STOPS)
        if isinstance(control, widget_float._BoundedLogFloat):
            moved = control.base**moved
        return [{"value": float(each)} for each in (*moved, home)]
    if isinstance(control, widget_selection._Selection):
        return [{"index": index} for index in (*range(len(control.options)), control.index)]
    if isinstance(control, ipywidgets.Checkbox):
        return [{"value": not home}, {"value": home}]
    if isinstance(control, ipywidgets.Text) and home[:1].isdigit():
        number = home.split()[0]
        with suppress(ValueError):
            return [{"value": home.replace(number, f"{float(number) * 1.1:.4g}", 1)}, {"value": home}]
    return []


def moves(panel: Any) -> Iterator[float]:
    """Seconds of processor time of each move of each control, or press of a button that studies."""
    for control in list(members(panel)):
        if getattr(control, "disabled", False):
            continue
        acts: list[Callable[[], None]] = [partial(control.set_state, state) for state in stops(control)]
        if isinstance(control, ipywidgets.Button) and "Save" not in control.description:
            acts = [control.click] * 2
        for act in acts:
            start = time.process_time()
            try:
                act()
            except SigcalcError as refusal:
                sys.stdout.write(f"    {type(control).__name__} {control.description!r}: {refusal}\n")
            yield time.process_time() - start


def every_panel() -> dict[str, Callable[[], Any]]:
    """Each panel of the package by name, the planner once for each tab."""
    found: dict[str, Callable[[], Any]] = {}
    for module in pkgutil.iter_modules(panels.__path__, f"{panels.__name__}."):
        found |= {
            name: kind
            for name, kind in inspect.getmembers(importlib.import_module(module.name), inspect.isclass)
            if issubclass(kind, Panel) and kind.__module__ == module.name and kind.draw is not Panel.draw
        }
    found["LayoutPanel"] = lambda: LayoutPanel(NOTEBOOKS / "plans" / "quillhaven_layout.toml")
    return found | {f"Planner, tab {tab}": partial(planner, place) for place, tab in enumerate(Planner().views.titles)}


def planner(tab: int) -> Planner:
    """The planner with a tab open."""
    made = Planner()
    made.views.selected_index = tab
    return made


def great_layout(count: int) -> str:
    """A layout file of so many signals in chains of ten, of four plans and some own sections."""
    plans, places = ("east_home", "north_junction", "tunnel", "yard"), range(count)
    wire = {"wire": "24 AWG", "length": "1 m"}
    ends = [{"start": f"p{place - 1}" if place % 10 else "supply", "end": f"p{place}"} for place in places]
    signals = [{"name": f"signal {k}", "at": f"p{k}", "plan": f"quillhaven_{plans[k % 4]}.toml"} for k in places]
    layout = {"version": 1, "name": "a great layout", "supply": {"kind": "adapter", "part": "12 V regulated"}}
    layout["feeders"] = [{"name": f"run {place}"} | ends[place] | wire for place in places]
    return tomlkit.dumps(layout | {"signals": signals})


def study_great(count: int) -> None:
    """Print the time that a layout of so many signals takes, whole."""
    with tempfile.TemporaryDirectory() as folder:
        for plan in (NOTEBOOKS / "plans").glob("*.toml"):
            Path(folder, plan.name).write_bytes(plan.read_bytes())
        path = Path(folder, "great_layout.toml")
        path.write_text(great_layout(count), encoding="utf-8")
        for what, act in (("loaded", lambda: Layout.load(path)), ("studied", lambda: Layout.load(path).study())):
            start = time.process_time()
            act()
            sys.stdout.write(f"{count} signals {what}: {time.process_time() - start:.2f} s\n")


def main(asked: list[str]) -> None:
    """Measure and print."""
    os.chdir(NOTEBOOKS)
    if asked[:1] == ["--layout"]:
        study_great(int(asked[1]))
        return
    sys.stdout.write(f"{'panel':28} {'moves':>6} {'first':>6} {'p50':>6} {'p95':>6} {'most':>6}  (s)\n")
    for name, make in every_panel().items():
        if asked and not any(each.lower() in name.lower() for each in asked):
            continue
        start = time.process_time()
        panel = make()
        first = time.process_time() - start
        taken = np.array(list(moves(panel)))
        middle, high, most = *np.percentile(taken, [50, 95]), taken.max()
        slow = "  *" if high > AIM else ""
        sys.stdout.write(f"{name:28} {taken.size:6} {first:6.2f} {middle:6.3f} {high:6.3f} {most:6.3f}{slow}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main(sys.argv[1:])

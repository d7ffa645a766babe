"""The layout of a club, with its file, the plans beside it, and its study."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from ..errors import Fault, PlanError
from . import file
from .layout_fields import MOST_SIGNALS, LayoutFields, beside, is_beside
from .layout_study import LayoutStudy, study_layout
from .plan import Plan


class Layout(LayoutFields):
    """A layout's signals on one supply.

    Made from sections, or loaded from a text file; a signal is a plan's file beside it, or has its sections there.
    Raises PlanError that lists all faults at once, each with its place.
    """

    def __repr__(self) -> str:
        return f"Layout {self.name}: {len(self.signals)} signals on {self.supply.name}"

    @classmethod
    def load(cls, path: str | Path) -> Layout:
        """The layout in a text file, with the plans beside it; raises PlanError that lists every fault of all files."""
        text = file.read(path, cls.most_bytes)
        faults, more, plans = _plans_beside(text, file.place(path).parent)
        try:
            layout = cls.parse(text)
        except PlanError as error:
            raise PlanError([*error.listed, *faults], error.more + more) from None
        if faults:
            raise PlanError(faults, more)
        layout._plans.update(plans)
        return layout

    def study(self, progress: Callable[[int, int, str], None] | None = None) -> LayoutStudy:
        """Every signal alone and all of them on one network: weakest lamp, most signals, gauge, fuse, shorts.

        `progress` is called with the steps done, their number, and what comes next in words. Raises PlanError where a
        plan's file was not loaded, DesignError where a signal would not light or the board cannot be solved.
        """
        return study_layout(self, progress)


def holds_layout(text: str) -> bool:
    """Whether a text is that of a layout, whatever else is wrong with it: it has signals, which no plan has."""
    try:
        return "signals" in file.read_toml(text, Layout.most_bytes)
    except PlanError:
        return False


def _plans_beside(text: str, folder: Path) -> tuple[list[Fault], int, dict[str, Plan]]:
    """What is wrong with the plans that a layout's text names (and how much more), and those that can be read."""
    try:
        signals = file.read_toml(text, Layout.most_bytes).get("signals")
    except PlanError:
        return [], 0, {}
    faults: list[Fault] = []
    more = 0
    plans: dict[str, Plan] = {}
    for each in signals[:MOST_SIGNALS] if isinstance(signals, list) else ():
        name = each.get("plan") if isinstance(each, dict) else None
        if not is_beside(name) or name in plans:
            continue
        try:
            plans[name] = Plan.parse(file.read(folder / name, Plan.most_bytes), kept=False)
        except PlanError as error:
            faults += [beside(each, fault) for fault in error.listed]
            more += error.more
    return faults, more, plans

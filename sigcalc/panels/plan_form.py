"""The planner's form: one input for every field of the plan, made from the plan's own model.

A field left empty is left out of the plan, and so is a section that a plan may do without while its switch is off.
What a person types goes to the plan as it is; the plan alone decides whether it is right, and its faults come back to
their fields.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

import ipywidgets as widgets

from ..plan import Plan
from ..plan.circuit_fields import USUAL_DRIVE, USUAL_SUPPLY
from ..plan.model import TITLES
from ..plan.section import Section, section_of
from .plan_faults import place_in_the_form
from .plan_field import OWN, PlanField, drive_parts, plan_field, supply_parts


class PlanForm(widgets.VBox):
    """All fields of a plan, folded by section; `on_change` calls back after every edit.

    `uses` holds a switch for each section that a plan may do without.
    """

    def __init__(self) -> None:
        self.fields: dict[str, PlanField] = {}
        self.uses: dict[str, widgets.Checkbox] = {}
        head: list[widgets.Widget] = []
        folded: dict[str, widgets.Widget] = {}
        for name, info in Plan.model_fields.items():
            section = section_of(info.annotation)
            if section is not None:
                folded[name] = self._fold(name, section, optional=info.default is None)
            elif name != "version":
                head.append(self._add(name, info))
        self.sections = widgets.Accordion(list(folded.values()), titles=[TITLES[name] for name in folded])
        self._order, self._faulty = list(folded), set[str]()
        self._quiet = False
        for place, parts, usual in (
            ("supply", supply_parts, USUAL_SUPPLY),
            ("drive", drive_parts, USUAL_DRIVE),
        ):
            self._follow_kind(place, parts, usual)
        for name in self.uses:
            self._show_use(name)
        super().__init__([*head, self.sections])

    def _fold(self, name: str, section: type[Section], optional: bool) -> widgets.Widget:
        members = widgets.VBox([self._add(f"{name}.{key}", each) for key, each in section.model_fields.items()])
        if not optional:
            return members
        self.uses[name] = widgets.Checkbox(
            description="use this section", tooltip=f"use the section {TITLES[name]}", indent=False
        )
        self.uses[name].observe(lambda _: self._show_use(name), names="value")
        return widgets.VBox([self.uses[name], members])

    def _show_use(self, name: str) -> None:
        """Say in the section's title whether it is used, and show its fields only then."""
        used, place = self.uses[name].value, self._order.index(name)
        self.sections.children[place].children[1].layout.display = "" if used else "none"
        self._show_title(name)

    def _show_title(self, name: str) -> None:
        """The section's title, with a cross before it where a fault lies in the section, for it may be folded."""
        use = f" ({'used' if self.uses[name].value else 'not used'})" if name in self.uses else ""
        cross = "✘ " if name in self._faulty else ""
        self.sections.set_title(self._order.index(name), f"{cross}{TITLES[name]}{use}")

    def _follow_kind(self, place: str, parts: Callable[[str], tuple[str, ...]], usual: dict[str, str]) -> None:
        """Offer the parts of the chosen kind; own data stay as they are."""
        part = self.fields[f"{place}.part"].widget

        def follow(change: Any) -> None:
            options = parts(change["new"])
            chosen = part.value if part.value in options else usual.get(change["new"], options[-1])
            quiet, self._quiet = self._quiet, True
            try:
                part.options = options
                part.value = chosen
            finally:
                self._quiet = quiet

        self.fields[f"{place}.kind"].widget.observe(follow, names="value")

    def _add(self, place: str, info: Any) -> widgets.Widget:
        self.fields[place] = plan_field(place, info)
        return self.fields[place].row

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call back after an edit, once for each."""

        def edited(_: Any) -> None:
            if not self._quiet:
                callback()

        for widget in (*(field.widget for field in self.fields.values()), *self.uses.values()):
            widget.observe(edited, names="value")

    def read(self) -> dict[str, Any]:
        """What the form says, in the shape of a plan file."""
        said: dict[str, Any] = {}
        for place, field in self.fields.items():
            section, _, key = place.rpartition(".")
            if section in self.uses and not self.uses[section].value:
                continue
            value = field.read()
            where = said.setdefault(section, {}) if section else said
            if value is not None or field.widget.value == OWN:  # own data are said, not left out
                where[key] = value
        return said

    def write(self, plan: Plan) -> None:
        """Fill the form from a plan, without calling back; a section that is not used shows its usual values."""
        self._quiet = True
        try:
            for name, switch in self.uses.items():
                switch.value = getattr(plan, name) is not None
            for place, field in self.fields.items():
                section, _, key = place.rpartition(".")
                holder = getattr(plan, section) if section else plan
                if holder is None:
                    holder = section_of(Plan.model_fields[section].annotation)()
                field.write(getattr(holder, key))
        finally:
            self._quiet = False

    def mark(self, places: Iterable[tuple[str | int, ...]]) -> None:
        """Show at which fields faults lie; that of a whole section is shown at all its fields."""
        places = [each for each in places if each]
        self._faulty = {each[0] for each in places}
        for name in self._order:
            self._show_title(name)
        for place, field in self.fields.items():
            own = tuple(place.split("."))
            field.mark(any(own[: len(each)] == each[: len(own)] for each in places))


def changes(before: dict[str, Any], after: dict[str, Any]) -> list[str]:
    """What differs between two readings of the form, each with its place and what it says now."""
    return list(_changes(before, after, ()))


def _changes(before: dict[str, Any], after: dict[str, Any], section: tuple[str, ...]) -> Iterator[str]:
    for name in {**before, **after}:
        old, new = before.get(name), after.get(name)
        place = place_in_the_form((*section, name))
        if isinstance(old, dict) and isinstance(new, dict):
            yield from _changes(old, new, (name,))
        elif isinstance(old, dict) or isinstance(new, dict):
            yield f"{place}: {'not used' if new is None else 'used'}"
        elif old != new:
            yield f"{place}: {_words(new)}"


def _words(value: Any) -> str:
    if isinstance(value, tuple):
        return ", ".join(map(_words, value))
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "empty" if value is None else str(value)

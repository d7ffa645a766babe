"""The planner's form: one input for every field of the plan, made from the plan's own model.

A field left empty is left out of the plan. A section that a plan may do without has no
fields here; one that a loaded plan has is kept as it is. What a person types goes to the plan as it
is; the plan alone decides whether it is right, and its faults come back to their fields.
"""

from __future__ import annotations

import html
import typing
from collections.abc import Callable
from typing import Any, Literal

import ipywidgets as widgets

from ..parts.drill import drills
from ..parts.led_table import leds
from ..parts.outline import lamp_outlines
from ..parts.source import adapters, batteries
from ..parts.wire import wires
from ..plan import Plan
from ..plan.file import plain
from ..plan.model import USUAL_SUPPLY, Section

OWN = "(own data)"
_STYLE = {"description_width": "9.5em"}
_LAYOUT = widgets.Layout(width="98%")
TITLES = {
    "lamps": "Which lamp on top",
    "red": "Red LED",
    "green": "Green LED",
    "supply": "Supply",
    "drive": "Current and resistor",
    "wiring": "Wiring",
    "mast": "Mast and holes",
    "wire": "Wires",
    "limits": "Your limits",
}


class PlanField:
    """One input of the form: what it shows, and what it says to the plan (None where it is empty)."""

    def __init__(self, place: str, widget: widgets.Widget, kind: str, info: Any):
        self.place, self.widget, self._kind, self._info = place, widget, kind, info

    def read(self) -> Any:
        """The value for the plan, or None for an empty field."""
        value = self.widget.value
        if self._kind == "rows":
            rows = [line.split(",") for line in value.splitlines() if line.strip()]
            return tuple(tuple(cell.strip() for cell in row) for row in rows) or None
        if self._kind == "list":
            return tuple(cell.strip() for cell in value.split(",") if cell.strip()) or None
        if isinstance(value, str):
            value = value.strip()
            return None if value in ("", OWN) else value
        return value

    def write(self, value: Any) -> None:
        """Show a value of a plan."""
        value = plain(value, self._info)
        if self._kind == "rows":
            self.widget.value = "\n".join(", ".join(row) for row in value or ())
        elif self._kind == "list":
            self.widget.value = ", ".join(value or ())
        elif isinstance(self.widget, widgets.Dropdown):
            self._choose(value)
        else:
            self.widget.value = value if self._kind in ("bool", "number") else ("" if value is None else str(value))

    def _choose(self, value: Any) -> None:
        shown = OWN if value is None else value
        if shown not in self.widget.options:
            self.widget.options = (*self.widget.options, shown)
        self.widget.value = shown

    def mark(self, faulty: bool) -> None:
        """Show, or stop showing, that a fault of the plan lies here."""
        (self.widget.add_class if faulty else self.widget.remove_class)("sigcalc-faulty")


def _options(place: str) -> tuple[str, ...] | None:
    """The names to choose from where a field names something of a table."""
    tables: dict[str, Any] = {
        "red.part": (*leds, OWN),
        "green.part": (*leds, OWN),
        "supply.part": (*adapters, OWN),
        "drive.series": ("E6", "E12", "E24", "E48", "E96", "E192"),
        "mast.lamp_hole": drills,
        "mast.wire_hole": drills,
        "mast.lamp_outline": lamp_outlines,
        "wire.part": wires,
    }
    return tuple(tables[place]) if place in tables else None


def _field(place: str, info: Any) -> PlanField:
    label = place.rsplit(".", 1)[-1].replace("_", " ")
    common = {"description": label, "tooltip": info.description or "", "style": _STYLE, "layout": _LAYOUT}
    options = _options(place)
    if options is None and typing.get_origin(info.annotation) is Literal:
        options = typing.get_args(info.annotation)
    if options is not None:
        return PlanField(place, widgets.Dropdown(options=options, **common), "choice", info)
    if info.annotation is bool:
        return PlanField(place, widgets.Checkbox(indent=True, **common), "bool", info)
    if info.annotation is float:
        return PlanField(place, widgets.FloatText(**common), "number", info)
    typed = common | {"placeholder": info.description or ""}
    if "tuple[tuple" in str(info.annotation):
        return PlanField(place, widgets.Textarea(rows=3, **typed), "rows", info)
    return PlanField(place, widgets.Text(**typed), "list" if "tuple" in str(info.annotation) else "text", info)


def _may_be_missing(info: Any) -> bool:
    """Whether a field of the plan is a whole section that may be left out."""
    return any(isinstance(each, type) and issubclass(each, Section) for each in typing.get_args(info.annotation))


class PlanForm(widgets.VBox):
    """All fields of a plan, folded by section; `on_change` calls back after every edit."""

    def __init__(self) -> None:
        self.fields: dict[str, PlanField] = {}
        self._kept: dict[str, Section] = {}
        head, folded = [], []
        for name, info in Plan.model_fields.items():
            if isinstance(info.annotation, type) and issubclass(info.annotation, Section):
                members = [self._add(f"{name}.{key}", each) for key, each in info.annotation.model_fields.items()]
                folded.append((TITLES[name], widgets.VBox(members)))
            elif name != "version" and not _may_be_missing(info):
                head.append(self._add(name, info))
        self.sections = widgets.Accordion([box for _, box in folded], titles=[title for title, _ in folded])
        self._quiet = False
        self.fields["supply.kind"].widget.observe(self._follow_kind, names="value")
        super().__init__([*head, self.sections])

    def _follow_kind(self, change: Any) -> None:
        """Offer the supplies of the chosen kind; own data stay as they are."""
        table = batteries if change["new"] == "battery" else adapters
        part = self.fields["supply.part"].widget
        chosen = part.value if part.value in (OWN, *table) else USUAL_SUPPLY[change["new"]]
        quiet, self._quiet = self._quiet, True
        try:
            part.options = (*table, OWN)
            part.value = chosen
        finally:
            self._quiet = quiet

    def _add(self, place: str, info: Any) -> widgets.Widget:
        self.fields[place] = _field(place, info)
        return self.fields[place].widget

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call back after an edit, once for each."""

        def edited(_: Any) -> None:
            if not self._quiet:
                callback()

        for field in self.fields.values():
            field.widget.observe(edited, names="value")

    def read(self) -> dict[str, Any]:
        """What the form says, in the shape of a plan file."""
        said: dict[str, Any] = dict(self._kept)
        for place, field in self.fields.items():
            value = field.read()
            section, _, key = place.rpartition(".")
            where = said.setdefault(section, {}) if section else said
            if value is not None or field.widget.value == OWN:  # own data are said, not left out
                where[key] = value
        return said

    def write(self, plan: Plan) -> None:
        """Fill the form from a plan, without calling back."""
        self._quiet = True
        optional = (name for name, info in Plan.model_fields.items() if _may_be_missing(info))
        self._kept = {name: section for name in optional if (section := getattr(plan, name)) is not None}
        try:
            for place, field in self.fields.items():
                value: Any = plan
                for key in place.split("."):
                    value = getattr(value, key)
                field.write(value)
        finally:
            self._quiet = False

    def mark(self, faults: tuple[str, ...]) -> None:
        """Show at which fields the faults lie; each fault starts with its place."""
        places = [fault.split(":", 1)[0] for fault in faults]
        for place, field in self.fields.items():
            field.mark(
                any(place == each or place.startswith(f"{each}.") or each.startswith(f"{place}.") for each in places)
            )


def faults_as_html(faults: tuple[str, ...]) -> str:
    """The faults as an alert that a screen reader speaks."""
    items = "".join(f"<li>{html.escape(fault)}</li>" for fault in faults)
    return f'<div role="alert" class="sigcalc-alert"><b>This plan cannot be studied yet:</b><ul>{items}</ul></div>'

"""The planner's form: one input for every field of the plan, made from its model; faults are marked at their fields."""

from __future__ import annotations

import html
import re
import typing
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from typing import Any, Literal

import ipywidgets as widgets

from ..errors import Fault, PlanError, SigcalcError
from ..parts.source import adapters, batteries
from ..plan import Plan
from ..plan.circuit_fields import DRIVE_TABLES, USUAL_DRIVE, USUAL_SUPPLY
from ..plan.file import plain
from ..plan.model import TITLES
from ..plan.section import NameIn, Section, section_of
from ..units import QuantityKind
from ..units.reading import read
from ..units.typed import with_unit


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
        for place, parts, usual in (("supply", supply_parts, USUAL_SUPPLY), ("drive", drive_parts, USUAL_DRIVE)):
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


def changes(before: dict[str, Any], after: dict[str, Any], section: tuple[str, ...] = ()) -> Iterator[str]:
    """What differs between two readings of the form, each with its place and what it says now."""
    for name in {**before, **after}:
        old, new = before.get(name), after.get(name)
        place = place_in_the_form((*section, name))
        if isinstance(old, dict) and isinstance(new, dict):
            yield from changes(old, new, (name,))
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


OWN = "(own data)"
NONE = "(none)"
SERIES = ("E6", "E12", "E24", "E48", "E96", "E192")
_CONTROL = "sigcalc-control"
# a comma between digits is a decimal comma, of which the plan says how to write it
_BETWEEN = re.compile(r"(?<!\d),|,(?!\d)")


class PlanField:
    """One input of the form: what it shows, and what it says to the plan (None where it is empty).

    `widget` is the input; `row` shows it with its note.
    """

    def __init__(self, place: str, widget: widgets.Widget, kind: str, info: Any):
        self.place, self.widget, self._kind, self._info = place, widget, kind, info
        self._units = _units(info)
        self.row = _made(widgets.VBox, "sigcalc-field", children=[widget, *_note(info, self._units)])

    def read(self) -> Any:
        """The value for the plan, or None for an empty field."""
        value = self.widget.value
        if self._kind == "rows":
            rows = [_BETWEEN.split(line) for line in value.splitlines() if line.strip()]
            return tuple(tuple(map(self._cell, row, (*self._units, *[""] * len(row)))) for row in rows) or None
        if self._kind == "list":
            return tuple(self._cell(cell, self._units[0]) for cell in _BETWEEN.split(value) if cell.strip()) or None
        if isinstance(value, str):
            value = value.strip()
            return None if value in ("", OWN, NONE) else self._cell(value, *self._units)
        return value

    @staticmethod
    def _cell(typed: str, unit: str | None = None) -> str:
        """What was typed, as the plan reads it: with a point for a decimal comma, and the unit that the note names."""
        return typed.strip() if unit is None else with_unit(typed.strip(), unit)

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
            self.widget.value = value if self._kind in ("bool", "float") else ("" if value is None else str(value))

    def _choose(self, value: Any) -> None:
        empty = NONE if NONE in self.widget.options else OWN
        shown = empty if value is None else value
        if shown not in self.widget.options:
            self.widget.options = (*self.widget.options, shown)
        self.widget.value = shown

    def mark(self, faulty: bool) -> None:
        """Show, or stop showing, that a fault of the plan lies here.

        On the row: a change of the input itself, of its class too, would take back what is being typed into it.
        """
        (self.row.add_class if faulty else self.row.remove_class)("sigcalc-faulty")


def supply_parts(kind: str) -> tuple[str, ...]:
    """What there is to choose from for a supply of a kind."""
    return (*(batteries if kind == "battery" else adapters), OWN)


def drive_parts(kind: str) -> tuple[str, ...]:
    """What there is to choose from for a drive of a kind."""
    return (*DRIVE_TABLES[kind], OWN) if kind in DRIVE_TABLES else (NONE,)


def _options(place: str, info: Any) -> tuple[str, ...] | None:
    """The words or names to choose from: where a field names something of a table, or takes one of some words."""
    follow = {"supply.part": supply_parts("adapter"), "drive.part": drive_parts("resistor"), "drive.series": SERIES}
    if place in follow:
        return follow[place]
    if typing.get_origin(info.annotation) is Literal:
        return typing.get_args(info.annotation)
    table = next(iter(_marks(NameIn, info.annotation, info.metadata)), None)
    if table is None or type(None) not in typing.get_args(info.annotation):
        return None if table is None else tuple(table.table)
    return (NONE, *table.table) if place.endswith("relay") else (*table.table, OWN)


def _marks(kind: type, annotation: Any, beside: Iterable[Any] = ()) -> list[Any]:
    """What an annotation is marked with, of a kind, in order: the columns of a table of pairs have one each."""
    own = [each for each in (*beside, *getattr(annotation, "__metadata__", ())) if isinstance(each, kind)]
    return own or list(dict.fromkeys(each for held in typing.get_args(annotation) for each in _marks(kind, held)))


@cache
def _shared(kind: type[widgets.Widget]) -> dict[str, widgets.Widget]:
    """The layout and style of all widgets of a kind: alike for every field of the form.

    With models of their own the form would be a thousand messages at once, and sockets drop what is beyond the
    thousandth that waits (ZeroMQ's high-water mark).
    """
    proto = kind()
    return {name: getattr(proto, name) for name in ("layout", "style") if proto.has_trait(name)}


def _made(kind: type[widgets.Widget], name: str, **traits: Any) -> Any:
    """A widget of the form; the CSS class given from the start saves a message."""
    return kind(_dom_classes=[name], **_shared(kind), **traits)


def _units(info: Any) -> tuple[str, ...]:
    """The unit in which a number alone counts, one for each column; none for what is no quantity."""
    kinds = _marks(QuantityKind, info.annotation, info.metadata)
    if len(kinds) > 1:  # pairs
        return tuple(read(kind.example)[1] for kind in kinds)
    # a length or time as the field's own example has it: a train is a metre long, a mast is measured in millimetres
    own = next((each for each in (info.default, *(info.examples or ())) if isinstance(each, str)), None)
    said = (own if own and kind.unit in ("m", "s", "m/s") else kind.example for kind in kinds)
    return tuple("" if kind.bare else read(text)[1] for kind, text in zip(kinds, said, strict=True))


def _note(info: Any, units: tuple[str, ...]) -> tuple[widgets.HTML, ...]:
    """What the field means, as text; nothing where that is the list of words to choose from, which the input shows."""
    said = info.description or ""
    if not said or said.startswith('"'):
        return ()
    if any(units):
        said += f" (in {' and '.join(units).replace('ohm', 'Ω').replace('deg', '°')} where you type no unit)"
    return (_made(widgets.HTML, "sigcalc-note", value=f"<small>{html.escape(said)}</small>"),)


def _example(info: Any) -> str:
    """What an empty field shows: what to type, one reading a line where it takes several."""
    example = next(iter(info.examples or ()), None)
    if not isinstance(example, list):
        return "" if example is None else f"such as {example}"
    if all(isinstance(each, list) for each in example):
        return "\n".join(", ".join(each) for each in example)
    return f"such as {', '.join(example)}"


def plan_field(place: str, info: Any) -> PlanField:
    """The input for one field of the plan."""
    label, options = place.rsplit(".", 1)[-1].replace("_", " "), _options(place, info)
    typed = {"placeholder": _example(info), "continuous_update": False}
    if options is not None:
        kind, made, more = "choice", widgets.Dropdown, {"options": options}
    elif info.annotation in (bool, float):
        kind = info.annotation.__name__
        made, more = (widgets.Checkbox, {"indent": False}) if kind == "bool" else (widgets.FloatText, {})
    elif "tuple[tuple" in str(info.annotation):
        kind, made, more = "rows", widgets.Textarea, {"rows": 3, **typed}
    else:
        kind, made, more = "list" if "tuple" in str(info.annotation) else "text", widgets.Text, typed
    widget = _made(made, _CONTROL, description=label, tooltip=info.description or "", **more)
    return PlanField(place, widget, kind, info)


def in_the_form(refusal: SigcalcError | str) -> SigcalcError | str:
    """A refusal of a plan with each place as somebody with the form before them reads it."""
    if not isinstance(refusal, PlanError):
        return refusal
    listed = [
        each.worded(place_in_the_form(each.place)) if isinstance(each, Fault) else each for each in refusal.listed
    ]
    return PlanError(listed, refusal.more)


def place_in_the_form(place: tuple[str | int, ...]) -> str:
    """A place of the plan, such as ("drive", "current"), as somebody with the form before them reads it."""
    first, *others = place or ("plan",)
    words = [f"no. {each + 1}" if isinstance(each, int) else each.replace("_", " ") for each in others]
    return ", ".join([TITLES.get(first, first), *words])

"""One input of the planner's form: made from a field of the plan's model; what it shows and says."""

from __future__ import annotations

import html
import re
import typing
from collections.abc import Iterable
from functools import cache
from typing import Any, Literal

import ipywidgets as widgets

from ..parts.drill import drills
from ..parts.source import adapters, batteries
from ..plan.circuit_fields import DRIVE_TABLES
from ..plan.file import plain
from ..plan.section import NameIn
from ..units import QuantityKind
from ..units.reading import read
from ..units.typed import with_unit

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
        self.row = made(widgets.VBox, "sigcalc-field", children=[widget, *_note(info, self._units)])

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
        if MORE in self.widget.options:
            self.widget.options = (*_nearest_drills(shown), MORE)
        elif shown not in self.widget.options:
            self.widget.options = (*self.widget.options, shown)
        self.widget.value = shown

    def mark(self, faulty: bool) -> None:
        """Show, or stop showing, that a fault of the plan lies here.

        On the row: a change of the input itself, of its class too, would take back what is being typed into it.
        """
        (self.row.add_class if faulty else self.row.remove_class)("sigcalc-faulty")


MORE = "(all drills)"
_NEAREST = 4  # of each kind


def _nearest_drills(name: str) -> tuple[str, ...]:
    """The few drills of each kind nearest to one, by size: a list of all has two hundred."""
    size, kinds = drills[name].si.diameter, dict.fromkeys(each.kind for each in drills.values())
    by_size = sorted(drills.values(), key=lambda each: abs(each.si.diameter - size))
    near = [each for kind in kinds for each in [one for one in by_size if one.kind == kind][:_NEAREST]]
    return tuple(each.name for each in sorted(near, key=lambda each: each.si.diameter))


def _all_on_request(widget: widgets.Dropdown) -> widgets.Dropdown:
    """Lists all drills once the last choice, which asks for them, is taken; what was chosen stays so."""

    def ask(change: Any) -> None:
        if change["new"] == MORE:
            with widget.hold_trait_notifications():
                widget.options = tuple(drills)
                widget.value = change["old"]

    widget.observe(ask, names="value")
    return widget


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
    if table is not None and table.table is drills:
        return (*_nearest_drills(info.default), MORE)
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


def made(kind: type[widgets.Widget], name: str, **traits: Any) -> Any:
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
        said += f" ({' and '.join(units).replace('ohm', 'Ω').replace('deg', '°')} if you give no unit)"
    return (made(widgets.HTML, "sigcalc-note", value=f"<small>{html.escape(said)}</small>"),)


def _example(info: Any) -> str:
    """What an empty field shows: what to type, one reading a line where it takes several."""
    example = next(iter(info.examples or ()), None)
    if not isinstance(example, list):
        return "" if example is None else f"such as {example}"
    if all(isinstance(each, list) for each in example):
        return "\n".join(", ".join(each) for each in example)
    return f"such as {', '.join(example)}"


def label_of(name: str) -> str:
    """A field's name as the form writes it."""
    return name.replace("_", " ")


def plan_field(place: str, info: Any) -> PlanField:
    """The input for one field of the plan."""
    label, options = label_of(place.rsplit(".", 1)[-1]), _options(place, info)
    typed = {"placeholder": _example(info), "continuous_update": False}
    if options is not None:
        kind, input_, more = "choice", widgets.Dropdown, {"options": options}
    elif info.annotation in (bool, float):
        kind = info.annotation.__name__
        input_, more = (widgets.Checkbox, {"indent": False}) if kind == "bool" else (widgets.FloatText, {})
    elif "tuple[tuple" in str(info.annotation):
        kind, input_, more = "rows", widgets.Textarea, {"rows": 3, **typed}
    else:
        kind, input_, more = "list" if "tuple" in str(info.annotation) else "text", widgets.Text, typed
    widget = made(input_, _CONTROL, description=label, tooltip=info.description or "", **more)
    return PlanField(place, _all_on_request(widget) if MORE in more.get("options", ()) else widget, kind, info)

"""One input of the planner's form: made from a field of the plan, with the tables' names where it names a part.

What a field means stands below its input, whole; the input itself, while it is empty, shows what to type.
"""

from __future__ import annotations

import html
import re
import typing
from collections.abc import Iterator
from functools import cache
from typing import Any, Literal

import ipywidgets as widgets

from ..design.board.outline import lamp_outlines
from ..parts.drill import drills
from ..parts.led import leds
from ..parts.meter import meters
from ..parts.relay import relays
from ..parts.source import adapters, batteries
from ..parts.wire import wires
from ..plan.circuit_fields import DRIVE_TABLES
from ..plan.file import plain
from ..plan.signal_fields import TRIGGER_TABLES
from ..units import QuantityKind, kind_of
from ..units.reading import read
from ..units.typed import with_unit

OWN = "(own data)"
NONE = "(none)"
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
            self.widget.value = value if self._kind in ("bool", "number") else ("" if value is None else str(value))

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


def _options(place: str) -> tuple[str, ...] | None:
    """The names to choose from where a field names something of a table."""
    tables: dict[str, Any] = {
        "red.part": (*leds, OWN),
        "green.part": (*leds, OWN),
        "supply.part": supply_parts("adapter"),
        "drive.part": drive_parts("resistor"),
        "drive.series": ("E6", "E12", "E24", "E48", "E96", "E192"),
        "mast.lamp_hole": drills,
        "mast.wire_hole": drills,
        "mast.lamp_outline": lamp_outlines,
        "wire.part": wires,
        "bench.meter": meters,
        "evening.relay": (NONE, *relays),
        **{f"trigger.{name}": tuple(table) for name, table in TRIGGER_TABLES.items()},
        "trigger.magnet": (*TRIGGER_TABLES["magnet"], OWN),
        "trigger.relay": (NONE, *relays),
    }
    return tuple(tables[place]) if place in tables else None


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
    kinds = _kinds(info)
    if len(kinds) > 1:  # pairs
        return tuple(read(kind.example)[1] for kind in kinds)
    # a length or time as the field's own example has it: a train is a metre long, a mast is measured in millimetres
    own = next((each for each in (info.default, *(info.examples or ())) if isinstance(each, str)), None)
    said = (own if own and kind.unit in ("m", "s", "m/s") else kind.example for kind in kinds)
    return tuple("" if kind.bare else read(text)[1] for kind, text in zip(kinds, said, strict=True))


def _kinds(info: Any) -> list[QuantityKind]:
    """The kinds of quantity that a field holds, in the order of its columns."""
    own = [each for each in info.metadata if isinstance(each, QuantityKind)]
    return own or list(dict.fromkeys(_kinds_in(info.annotation)))


def _kinds_in(annotation: Any) -> Iterator[QuantityKind]:
    kind = kind_of(annotation)
    if kind is not None:
        yield kind
        return
    for each in typing.get_args(annotation):
        yield from _kinds_in(each)


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
    label = place.rsplit(".", 1)[-1].replace("_", " ")
    common = {"description": label, "tooltip": info.description or ""}
    options = _options(place)
    if options is None and typing.get_origin(info.annotation) is Literal:
        options = typing.get_args(info.annotation)
    if options is not None:
        return PlanField(place, _made(widgets.Dropdown, _CONTROL, options=options, **common), "choice", info)
    if info.annotation is bool:
        return PlanField(place, _made(widgets.Checkbox, _CONTROL, indent=False, **common), "bool", info)
    if info.annotation is float:
        return PlanField(place, _made(widgets.FloatText, _CONTROL, **common), "number", info)
    typed = common | {"placeholder": _example(info), "continuous_update": False}
    if "tuple[tuple" in str(info.annotation):
        return PlanField(place, _made(widgets.Textarea, _CONTROL, rows=3, **typed), "rows", info)
    kind = "list" if "tuple" in str(info.annotation) else "text"
    return PlanField(place, _made(widgets.Text, _CONTROL, **typed), kind, info)

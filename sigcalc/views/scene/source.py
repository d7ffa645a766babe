"""What feeds a scene, laid on the left of the table, and the ways its two wires take to the rest."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from ...parts.source import Battery
from ...parts.table import need_name
from ..canvas import Place
from ..phrases import voltage_words
from ..picture import plain
from .table import Table
from .thing import thing

_BOX = "{} AA cells"
SOURCES: dict[str, tuple[str, dict[str, Any]]] = {
    "9 V battery": ("battery_9v", {"words": "9 V"}),
    **{_BOX.format(cells): ("battery_box", {"cells": cells}) for cells in range(1, 9)},
    "coin cell": ("coin_cell", {"words": "3 V"}),
    "adapter": ("adapter", {"words": "", "plug": True}),
    "bench supply": ("supply", {"words": ""}),
}
"""The kinds of source that can be drawn: the thing, and what it is drawn with; in `words` its usual label, if any."""
_FORMS = {"rectangular": "9 V battery", "coin cell": "coin cell"}
_CELL = 1.5  # V, of an AA cell
COLUMN = 136.0
"""How far from the left edge the source and the bends of its wires reach."""
_UNDER, _OVER = 16.0, 32.0  # how far beside a source with posts its wires come down


def kind_of(source: Any) -> str:
    """The kind that a battery or an adapter of the parts tables is drawn as."""
    if not isinstance(source, Battery):
        return "adapter"
    counted = re.match(r"([1-8]) x AA\b", source.name)
    cells = int(counted[1]) if counted else min(max(round(source.si.nominal_voltage / _CELL), 1), 8)
    return _FORMS.get(source.form, _BOX.format(cells))


@dataclass(frozen=True)
class Laid:
    """A source on the table: the thing's upper left corner, its width and its two ends."""

    left: float
    right: float
    plus: Place
    minus: Place
    stands_up: bool
    scale: float = 1.0

    def way(self, pole: str, height: float, bend: float) -> list[Place]:
        """From that pole to a height: straight up from posts, else around the source, `bend` beside it."""
        x, y = self.plus if pole == "+" else self.minus
        if not self.stands_up:
            return [(x, y), (self.right + bend, y), (self.right + bend, height)]
        if height < y:
            return [(x, y), (x, height)]
        beside = self.left - 6 if pole == "+" else self.right + bend
        return [(x, y), (x, y - 12), (beside, y - 12), (beside, height)]

    def feed(self, pole: str, place: Place, bend: float) -> list[Place]:
        """From that pole to a place on the right, beside the source; from posts, plus goes over minus."""
        (x, y), (_, to_y) = self.plus if pole == "+" else self.minus, place
        if not self.stands_up:
            return [(x, y), (self.right + bend, y), (self.right + bend, to_y), place]
        lift, bend = (self.scale * each for each in ((34, _OVER) if pole == "+" else (12, _UNDER)))
        return [(x, y), (x, y - lift), (self.right + bend, y - lift), (self.right + bend, to_y), place]


def lay_source(
    table: Table, kind: str, supply: str, voltage: float, middle: float, within: Place | None = None
) -> Laid:
    """Lay the source of that kind with its middle at a height, labelled with the volts its name says or its usual.

    `within` is the room that it has, width and height: a larger one is drawn smaller, and without its words.
    Raises UnknownNameError for a kind that is none of SOURCES.
    """
    need_name(kind, "kind", SOURCES)
    name, facts = SOURCES[kind]
    if "words" in facts:
        named = kind != "bench supply" and re.match(r"\d+(\.\d+)? V\b", plain(supply))
        facts = {**facts, "words": named[0] if named else facts["words"] or voltage_words(abs(voltage))}
    made = thing(name, **facts)
    scale = min(1.0, within[0] / made.width, within[1] / made.height) if within else 1.0
    left = scale * (14.0 if name == "battery_9v" else 4.0)
    corner = (left, middle - scale * made.height / 2)
    ends = table.put(name, corner, scale, **facts)
    return Laid(left, left + scale * made.width, ends["plus"], ends["minus"], made.ends["plus"][1] < 10, scale)

"""A feeder section: a run of two wires between two nodes of a board, and what it resists."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from ...errors import RangeError, UnitError
from ...parts.fuse import area_of
from ...physics import copper
from ...units import Length, Resistance, Temperature, kind_of, record
from ...units.reading import quoted


@record
class FeederSection:
    """A run of two wires, there and back, between two nodes.

    `wire` is a Wire, a name from `wires`, a gauge or a cross-section; `length` is that of
    the run, so that twice as much conductor lies in it.
    """

    name: str
    start: str
    end: str
    wire: Any
    length: Length
    temperature: Temperature = "20 degC"

    def __post_init__(self) -> None:
        for what in ("name", "start", "end"):
            need_text(getattr(self, what), what, "a section")
        if self.start == self.end:
            raise RangeError(
                f"section {quoted(self.name)} starts and ends at {quoted(self.start)}; give two different nodes"
            )
        area_of(self.wire)  # a wire that cannot be read is refused here

    @property
    def loop_resistance(self) -> Resistance:
        """The resistance of both wires together."""
        return kind_of(Resistance).quantity(float(loop_ohms([self])[0]))


def wire_areas(sections: Sequence[FeederSection]) -> np.ndarray:
    """Cross-sections in m2 of the sections' wires, each make of wire read once."""
    areas: dict[int, float] = {}
    for each in sections:
        if id(each.wire) not in areas:
            areas[id(each.wire)] = area_of(each.wire)
    return np.array([areas[id(each.wire)] for each in sections])


def loop_ohms(sections: Sequence[FeederSection]) -> np.ndarray:
    """Loop resistances in ohm of sections, there and back."""
    if not sections:
        return np.empty(0)
    length, kelvin = (np.array([getattr(each.si, name) for each in sections]) for name in ("length", "temperature"))
    return copper.wire_resistance(wire_areas(sections), 2.0 * length, kelvin)


def need_text(value: Any, what: str, whose: str) -> None:
    """UnitError where the field `what` is no text, or an empty one."""
    if not isinstance(value, str) or not value.strip():
        raise UnitError(f"{what} of {whose} needs a text, but {quoted(value)} came")

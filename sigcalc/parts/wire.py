"""Hook-up and winding wire: conductor, insulation, resistance."""

from __future__ import annotations

import math
import re
from typing import Any

import pint

from ..errors import RangeError, UnitError
from ..physics import copper
from ..units import Length, QuantityKind, Resistance, Temperature, kind_of, record, say, with_units
from ..units.plain import is_whole, need_whole
from ..units.reading import quoted
from .table import Figures, PartsTable

_GAUGE = re.compile(r"AWG\s*([1-4]/0|[0-9]{1,2})|([1-4]/0|[0-9]{1,2})\s*AWG", flags=re.IGNORECASE)
# the least is a thousandth of the thinnest gauge
_AREA = QuantityKind("cross-section", "m2", 1e-12, 1e-2, "0.129 mm2")
_LENGTH = kind_of(Length)
_ROUNDING = 1e-9  # m
_MOST_STRANDS = 1000


@record
class Wire:
    """An insulated copper wire.

    Attributes
    ----------
    strands, strand_diameter: how many bare strands of which diameter; one strand is a solid wire
    outer_least, outer_nominal, outer_most: diameter over the insulation
    note: what the figures depend on
    """

    name: str
    strands: int
    strand_diameter: Length
    outer_least: Length
    outer_nominal: Length
    outer_most: Length
    note: str = ""

    def __post_init__(self) -> None:
        need_whole(self.strands, "strands", 1, _MOST_STRANDS, 7)
        copper_alone = math.sqrt(self.strands) * self.si.strand_diameter  # no bundle is thinner than its copper
        outer = [self.si.outer_least, self.si.outer_nominal, self.si.outer_most]
        if not 0 < copper_alone <= outer[0] + _ROUNDING or outer != sorted(outer):
            raise RangeError(
                f"outer_least, outer_nominal and outer_most need to rise from the copper's {say(copper_alone, 'm')}; "
                f"you gave {', '.join(say(each, 'm') for each in outer)}; measure over the insulation"
            )

    @property
    def area(self) -> Any:
        """Cross-section of the copper."""
        return _AREA.quantity(float(copper.stranded_area(self.strands, self.si.strand_diameter)))

    def resistance(self, length: Length, temperature: Temperature = "20 degC") -> Any:
        """Resistance of this length of conductor; the caller doubles the distance for there and back.

        Raises UnitError or RangeError for a bad length or temperature.
        """
        return wire_resistance(self.area, length, temperature)


def _wire(name: str, figures: Figures) -> Wire:
    strands = int(figures["strands"].value)
    if "strand gauge" in figures:
        strand = float(copper.gauge_diameter(int(figures["strand gauge"].value)))
    else:
        strand = _LENGTH.read(figures["strand diameter"].text, "strand diameter")
    outer = {size: _LENGTH.read(figures[row].text, row) for size in _SIZES if (row := f"outer {size}") in figures}
    if "wall" in figures:  # the least outer diameter follows from the insulation that the standard asks for
        wall = _LENGTH.read(figures["wall"].text, "wall")
        outer["least"] = float(copper.bundle_diameter(strands, strand)) + 2 * wall
    return Wire(
        name,
        strands,
        _LENGTH.quantity(strand),
        *(_LENGTH.quantity(outer[size]) for size in _SIZES),
        note=figures["outer nominal"].note,
    )


_SIZES = ("least", "nominal", "most")

wires: PartsTable[Wire] = PartsTable("wire", "wires.csv", _wire)
"""Wires by name: "26 AWG solid hook-up"."""


@with_units
def wire_resistance(gauge: Any, length: Length, temperature: Temperature = "20 degC") -> Resistance:
    """Resistance of a copper conductor.

    Parameters
    ----------
    gauge: American wire gauge as a whole number or text (26, "26 AWG", "2/0 AWG"), or the copper's cross-section
        ("0.129 mm2" or a quantity)
    length: of the conductor; the caller doubles the distance for there and back
    temperature: of the wire

    Returns a resistance of the shape of length and temperature.

    Raises UnitError for a gauge or quantity that cannot be read, RangeError for one out of range.
    """
    return copper.wire_resistance(cross_section(gauge, "gauge"), length, temperature)


def cross_section(gauge: Any, argument: str) -> float:
    """The copper's cross-section in m2 of a gauge or a cross-section; the refusals name `argument`."""
    number = None
    if is_whole(gauge):
        number = int(gauge)
    elif isinstance(gauge, str) and (match := _GAUGE.fullmatch(gauge.strip())):
        shown = match[1] or match[2]
        number = 1 - int(shown[0]) if "/" in shown else int(shown)
    if number is not None:
        if not copper.THICKEST <= number <= copper.THINNEST:
            need = f"an American wire gauge from {copper.THICKEST} (4/0) to {copper.THINNEST}"
            raise RangeError(argument=argument, need=need, given=quoted(gauge), example="26 AWG")
        return float(copper.gauge_area(number))
    if isinstance(gauge, pint.Quantity) or (isinstance(gauge, str) and not gauge.strip().isdigit()):
        return _AREA.read(gauge, argument, scalar=True)
    need = "a whole American wire gauge or a cross-section"
    advice = f'write {argument}=26, {argument}="26 AWG" or {argument}="0.129 mm2"'
    raise UnitError(argument=argument, need=need, given=quoted(gauge), advice=advice)

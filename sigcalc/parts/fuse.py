"""Fuses, resettable and one-time, and what a wire is rated for: a fuse protects the wire, not the signal."""

from __future__ import annotations

import difflib
import math
from typing import Annotated, Any

from ..errors import UnitError, UnknownNameError
from ..units import Current, Power, QuantityKind, Resistance, Time, Voltage, record, with_units
from ..units.reading import quoted
from .table import PartsTable, as_part, from_rows, need_rising, unknown
from .wire import Wire, cross_section, wires

FaultCurrent = Annotated[Any, QuantityKind("current", "A", 0.0, 1e5, "40 A")]
RESETTABLE, ONE_TIME = "resettable", "one-time"

# 700 circular mils an ampere: the rule of the column "power transmission" in Handbook of Electronic Tables and Formulas
# for American Wire Gauge, as powerstream.com/Wire_Size.htm quotes it, for wires in a bundle. It is careful: a maker's
# catalogue allows 4 to 7 times that for two or three hook-up wires of 90 °C insulation in a cable (Belden, Technical
# information, p. 154, table 4), and for fifteen and more in a bundle in vacuum at 70 °C NASA allows 2.5 times, with
# insulation for 200 °C (R. A. Lundquist and H. Leidecker, Cable bundle wire derating, NTRS 19990113164).
_CIRCULAR_MIL = math.pi / 4 * 25.4e-6**2
BEARABLE_DENSITY = 1.0 / (700 * _CIRCULAR_MIL)
"""Current density in A/m2 that a wire in a bundle is rated for."""
BEARABLE_RULE = "700 circular mils an ampere, a careful rule for wires in a bundle"

# from memory: IEC 60364-4-43, 433.1, made for house wiring and taken here as a guide: load <= rating <= wire, and
# what is sure to make the device act is no more than 1.45 times what the wire is rated for
SURE_TRIP_SHARE = 1.45

# from memory: a polymer device holds about six tenths of its current at 60 °C; a straight line from 20 °C on
_HELD_AT_25 = 0.95


@record
class Fuse:
    """A fuse by its figures.

    `hold_current` is what it carries for good at 20 °C (a one-time fuse's rating), `trip_current`
    the least that is sure to make it act, sooner or later; at `sure_trip_current` it has acted
    after `sure_trip_time` at the most. `resistance` is its own, `resistance_max` that of a
    resettable one that has tripped before, or of a hot wire.
    """

    name: str
    kind: str
    hold_current: Current
    trip_current: Current
    sure_trip_current: Current
    sure_trip_time: Time
    max_voltage: Voltage
    max_fault_current: FaultCurrent
    resistance_min: Resistance
    resistance: Resistance
    resistance_max: Resistance
    tripped_power: Power | None = None
    note: str = ""

    def __post_init__(self) -> None:
        if self.kind not in (RESETTABLE, ONE_TIME):
            need = f'"{RESETTABLE}" or "{ONE_TIME}"'
            raise UnitError(argument=f"kind of {self.name}", need=need, given=quoted(self.kind))
        need_rising(self, "hold_current", "trip_current", "sure_trip_current")
        need_rising(self, "resistance_min", "resistance", "resistance_max")

    @property
    def ohms(self) -> tuple[float, float, float]:
        """Its own resistance in ohm where least current flows, nominally, and where most does."""
        return self.si.resistance_max, self.si.resistance, self.si.resistance_min

    @property
    def held(self) -> float:
        """The current in A that it carries for good at 25 °C."""
        return self.si.hold_current * (_HELD_AT_25 if self.kind == RESETTABLE else 1.0)


def as_fuse(fuse: Any) -> Fuse:
    """The fuse itself, or the one of that name in the table; UnitError for anything else."""
    return as_part(fuse, Fuse, fuses)


fuses: PartsTable[Fuse] = PartsTable("fuse", "fuses.csv", from_rows(Fuse))
"""Fuses by name: "100 mA resettable", "500 mA fast glass"."""


@with_units
def bearable_current(wire: Any) -> Current:
    """The current that a wire in a bundle is rated for: an ampere for 700 circular mils.

    `wire` is a Wire, a name from `wires`, a gauge or a cross-section. This is the careful rule behind the usual
    tables; a single wire in free air may carry several times that.
    Raises UnitError or RangeError for a wire that cannot be read.
    """
    return area_of(wire) * BEARABLE_DENSITY


def area_of(wire: Any) -> float:
    """Cross-section in m2 of the copper of a Wire, a name from `wires`, a gauge or a cross-section."""
    if isinstance(wire, str) and wire in wires:
        wire = wires[wire]
    if isinstance(wire, Wire):
        return wire.area.to("m**2").magnitude
    try:
        return cross_section(wire, "wire")
    except UnitError:
        if isinstance(wire, str) and difflib.get_close_matches(wire.lower()[:100], wires):
            raise UnknownNameError(unknown("wire", wire, wires)) from None
        raise

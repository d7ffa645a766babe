"""Ways to feed an LED: a resistor, or a constant-current driver, ready-made or built of parts.

All look the same to the formulas: a resistance in series, and a limit that the current never exceeds (infinite for a
resistor). An adjustable regulator with one resistor and a current-regulator diode make constant-current drivers.
"""

from __future__ import annotations

import math
from typing import Annotated, Any

import numpy as np

from ..errors import DesignError, RangeError, UnitError
from ..units import (
    Count,
    Current,
    Q,
    QuantityKind,
    Ratio,
    Resistance,
    Tolerance,
    Voltage,
    record,
    say,
    with_units,
)
from .table import PartsTable, from_rows, need_rising

HeldCurrent = Annotated[Any, QuantityKind("current", "A", 1e-9, 10.0, "10 mA")]
NeededVoltage = Annotated[Any, QuantityKind("voltage", "V", 1e-3, 60.0, "1.5 V")]
SomeResistance = Annotated[Any, QuantityKind("resistance", "ohm", 1e-3, 1e9, "1 Mohm")]
_KNEE = 0.8  # share of the least current at which a diode's limiting voltage is stated


@record
class ResistorDrive:
    """A resistor in series, bought with a tolerance (a fraction, or "5 %"); 0 ohm is a plain wire."""

    resistance: Resistance
    tolerance: Ratio = 0.0
    __arrays__ = True
    kind = "resistor"

    @property
    def series_resistance(self) -> Any:
        """In ohm, float or array."""
        return self.si.resistance

    limit = math.inf
    """The most current in A: a resistor sets none."""
    own_current = 0.0
    """What it draws beside the lamp's current, in A: nothing."""


@record
class ConstantCurrentDrive:
    """A driver that holds `current` as long as at least `dropout` is left across it.

    Below its drop-out voltage it acts as the resistance dropout / current. `quiescent` is
    what the driver draws for itself beside the lamp's current. `least_current` is what
    any sample passes at the least, whatever it is set to: below it the current is not
    held. `max_voltage` is the most it is rated for; `output_resistance` is by how little the
    held current follows the voltage (None: not known, and not at all in the formulas).
    `kind` is what it is called.
    """

    current: HeldCurrent
    dropout: NeededVoltage
    tolerance: Ratio = 0.0
    quiescent: Current = "0 mA"
    least_current: Current = "0 mA"
    max_voltage: NeededVoltage | None = None
    output_resistance: SomeResistance | None = None
    kind: str = "constant-current driver"
    __arrays__ = True

    @property
    def series_resistance(self) -> Any:
        """In ohm, below drop-out."""
        return self.si.dropout / self.si.current

    @property
    def limit(self) -> Any:
        """The most current in A."""
        return self.si.current

    @property
    def own_current(self) -> Any:
        """What it draws beside the lamp's current, in A."""
        return self.si.quiescent


Drive = ResistorDrive | ConstantCurrentDrive


def as_drive(drive: Any) -> Drive:
    """The drive itself, or UnitError where it is none."""
    if not isinstance(drive, ResistorDrive | ConstantCurrentDrive):
        need, example = "a ResistorDrive or a ConstantCurrentDrive", 'ResistorDrive("470 ohm")'
        raise UnitError(argument="drive", need=need, given=type(drive).__name__, example=example)
    return drive


def as_one_drive(drive: Any) -> Drive:
    """The drive itself, or RangeError where it is an array of them."""
    if np.ndim(as_drive(drive).series_resistance) or np.ndim(drive.limit):
        raise RangeError(argument="drive", need="one value", given="an array", advice="give a single one")
    return drive


@record
class Regulator:
    """An adjustable regulator, which holds `reference_voltage` across the resistor from its output to its adjust pin.

    With that resistor in the lamp's current it becomes a current source. `headroom` is
    what it needs from input to output, `adjust_current` flows out of the adjust pin,
    through the lamp, and `least_load` is what any sample needs to regulate at all. A
    fixed regulator can be used in the same way, with its own voltage as the reference.
    """

    name: str
    reference_voltage: Voltage
    reference_min: NeededVoltage
    reference_max: Voltage
    headroom: Voltage
    max_current: Current
    adjust_current: Current = "0 mA"
    least_load: Current = "0 mA"
    max_voltage: Voltage | None = None

    def __post_init__(self) -> None:
        need_rising(self, "reference_min", "reference_voltage", "reference_max")

    @with_units(scalar=True)
    def set_by(self, resistance: SomeResistance, tolerance: Tolerance = 0.01) -> ConstantCurrentDrive:
        """The drive with a resistor of that tolerance: reference voltage / resistance, and the adjust pin's current.

        Its drop-out is the headroom and the reference voltage together. Raises DesignError
        for more current than the regulator gives.
        """
        si = self.si
        current = si.reference_voltage / resistance + si.adjust_current
        if current > si.max_current * (1 + 1e-9):
            raise DesignError(
                f"resistance {say(resistance, 'ohm')} would set {say(current, 'A')}, more than the "
                f"{say(si.max_current, 'A')} that the {self.name} gives; use a larger resistor"
            )
        ends = (si.reference_max / (1 - tolerance), si.reference_min / (1 + tolerance))
        spread = max(abs(each / si.reference_voltage - 1) for each in ends)
        return ConstantCurrentDrive(
            current=Q(current, "A"),
            dropout=Q(si.headroom + si.reference_voltage, "V"),
            tolerance=spread,
            least_current=self.least_load,
            max_voltage=None if si.max_voltage is None else Q(min(si.max_voltage + si.reference_voltage, 60.0), "V"),
            kind=f"adjustable regulator {self.name} with {say(resistance, 'ohm')}",
        )

    @with_units(scalar=True)
    def resistance_for(self, current: Current) -> Resistance:
        """The resistor that sets a current: reference voltage / (current - the adjust pin's)."""
        si = self.si
        if not si.adjust_current < current <= si.max_current * (1 + 1e-9):
            need = f"to be above the adjust pin's {say(si.adjust_current, 'A')} and up to {say(si.max_current, 'A')}"
            raise RangeError(argument="current", need=f"{need} of the {self.name}", given=say(current, "A"))
        return si.reference_voltage / (current - si.adjust_current)


@record
class CurrentDiode:
    """A current-regulator diode: a field-effect transistor in a diode's case that passes one current.

    `limiting_voltage` is the most that any sample needs across it for 80 % of its least
    current; `output_resistance` the least that it has at 25 V, where `current` is stated.
    Nearer the knee real ones are softer and pass a little less than the model says.
    """

    name: str
    current: HeldCurrent
    tolerance: Tolerance
    limiting_voltage: NeededVoltage
    output_resistance: SomeResistance

    @with_units(scalar=True)
    def drive(self, in_parallel: Count = 1) -> ConstantCurrentDrive:
        """The drive of one such diode, or of several side by side for more current.

        Below its knee the model is a straight line through the data sheet's point, 80 % of
        the least current at the limiting voltage.
        """
        if not (in_parallel >= 1 and in_parallel % 1 == 0):
            need = "to be a whole number from 1"
            raise RangeError(argument="in_parallel", need=need, given=f"{in_parallel:g}", advice="count the diodes")
        si = self.si
        known = _KNEE * si.current * (1 - si.tolerance)
        several = f"{in_parallel:g} x " if in_parallel > 1 else ""
        return ConstantCurrentDrive(
            current=Q(si.current * in_parallel, "A"),
            dropout=Q(si.limiting_voltage * si.current / known, "V"),
            tolerance=si.tolerance,
            output_resistance=Q(si.output_resistance / in_parallel, "ohm"),
            kind=f"{several}current-regulator diode {self.name}",
        )


regulators: PartsTable[Regulator] = PartsTable("regulator", "regulators.csv", from_rows(Regulator))
current_diodes: PartsTable[CurrentDiode] = PartsTable(
    "current-regulator diode", "current_diodes.csv", from_rows(CurrentDiode)
)

"""Ways to feed an LED: a resistor, or a constant-current driver.

Both look the same to the formulas: a resistance in series, and a limit that the
current never exceeds (infinite for a resistor). An adjustable regulator and a
current-regulator diode are constant-current drivers with figures of their own: see
`drive_table`.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from ..errors import RangeError, UnitError
from ..units import Current, Ratio, Resistance, Voltage, record


@record
class ResistorDrive:
    """A resistor in series, bought with a tolerance (a fraction, or "5 %"); 0 ohm is a plain wire."""

    resistance: Resistance
    tolerance: Ratio = 0.0
    __arrays__ = True

    @property
    def series_resistance(self) -> Any:
        """In ohm, float or array."""
        return self.si.resistance

    @property
    def limit(self) -> Any:
        """The most current in A: a resistor sets none."""
        return math.inf

    @property
    def own_current(self) -> Any:
        """What it draws beside the lamp's current, in A: nothing."""
        return 0.0

    @property
    def kind(self) -> str:
        """What it is called."""
        return "resistor"


@record
class ConstantCurrentDrive:
    """A driver that holds `current` as long as at least `dropout` is left across it.

    Below its drop-out voltage it acts as the resistance dropout / current. `quiescent` is
    what the driver draws for itself beside the lamp's current. `least_current` is what
    any sample passes at the least, whatever it is set to: below it the current is not
    held. `max_voltage` is the most it stands; `output_resistance` is by how little the
    held current follows the voltage (None: not known, and not at all in the formulas).
    `kind` is what it is called.
    """

    current: Current
    dropout: Voltage
    tolerance: Ratio = 0.0
    quiescent: Current = "0 mA"
    least_current: Current = "0 mA"
    max_voltage: Voltage | None = None
    output_resistance: Resistance | None = None
    kind: str = "constant-current driver"
    __arrays__ = True

    def __post_init__(self) -> None:
        if not np.all(np.greater(self.si.current, 0)):
            raise RangeError('current of the drive needs to be above 0 A; give for example "10 mA"')
        if not np.all(np.greater(self.si.dropout, 0)):
            raise RangeError(
                'dropout of the drive needs to be above 0 V; give the data sheet\'s figure, such as "1.5 V"'
            )
        for name, example in (("max_voltage", "40 V"), ("output_resistance", "1 Mohm")):
            value = getattr(self.si, name)
            if value is not None and not np.all(np.greater(value, 0)):
                raise RangeError(f'{name} of the drive needs to be above zero; give for example "{example}"')

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


def as_one_drive(drive: Any) -> Drive:
    """The drive itself, or RangeError where it stands for an array of them."""
    if np.ndim(as_drive(drive).series_resistance) or np.ndim(drive.limit):
        raise RangeError("drive needs one value, but an array came; give a single resistance or current")
    return drive


def as_drive(drive: Any) -> Drive:
    """The drive itself, or UnitError where it is none."""
    if not isinstance(drive, ResistorDrive | ConstantCurrentDrive):
        raise UnitError(
            f"drive needs a ResistorDrive or a ConstantCurrentDrive, but {type(drive).__name__} came; "
            'write for example drive=ResistorDrive("470 ohm")'
        )
    return drive

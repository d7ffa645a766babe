"""Ways to feed an LED: a resistor, or a constant-current driver.

Both look the same to the formulas: a resistance in series, and a limit that the
current never exceeds (infinite for a resistor).
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


@record
class ConstantCurrentDrive:
    """A driver that holds `current` as long as at least `dropout` is left across it.

    Below its drop-out voltage it acts as the resistance dropout / current.
    """

    current: Current
    dropout: Voltage
    tolerance: Ratio = 0.0
    __arrays__ = True

    def __post_init__(self) -> None:
        if not np.all(np.greater(self.si.current, 0)):
            raise RangeError('current of the drive needs to be above 0 A; give for example "10 mA"')
        if not np.all(np.greater(self.si.dropout, 0)):
            raise RangeError(
                'dropout of the drive needs to be above 0 V; give the data sheet\'s figure, such as "1.5 V"'
            )

    @property
    def series_resistance(self) -> Any:
        """In ohm, below drop-out."""
        return self.si.dropout / self.si.current

    @property
    def limit(self) -> Any:
        """The most current in A."""
        return self.si.current


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

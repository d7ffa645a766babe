"""Ways to give LEDs the same current: a resistor, a driver, a regulator with a resistor, current-regulator diodes."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from ...errors import RangeError
from ...parts.drive import ConstantCurrentDrive, Drive, ResistorDrive, current_diodes, regulators
from ...parts.led import Led
from ...parts.resistor import at_least
from ...units import Current, Q, Ratio, SupplyVoltage, Voltage, say, with_units
from ..lamp.led_string import as_string
from ..lamp.series_resistance import needed_resistance
from .load import Load

RESISTOR, DRIVER, REGULATOR, DIODE = "resistor", "driver", "regulator", "current diode"
REGULATOR_NAME = "lm317l"
_SET_SERIES, _SET_TOLERANCE = "E24", 0.01  # of the resistor that sets a regulator
_SIGNS = np.array([(0, 0), (-1, 1), (1, -1)])  # of drive and LEDs: nominal, least current, most current


@with_units(scalar=True)
def same_current(
    supply: SupplyVoltage,
    led: Led | Sequence[Led],
    current: Current,
    dropout: Voltage = "1.5 V",
    series: str = "E12",
    tolerance: Ratio = 0.05,
) -> dict[str, Drive]:
    """Four drives for a wanted current: "resistor", "driver", "regulator" and "current diode".

    Parameters
    ----------
    supply: for which the resistor is chosen; the others do not depend on it
    led: an Led, or a list of them in series
    current: wanted; the resistor and the regulator give no more than that with typical parts
    dropout: of the driver, whose current has a tolerance of 10 % (common practice, no source)
    series, tolerance: of the resistor

    The regulator is the small one of the table, its resistor of series E24 and 1 %. Of the
    current-regulator diodes as few are taken, side by side, as come within their own
    tolerance of the wish, all of one kind, the kind nearest to it.

    Raises DesignError where the supply is too low, the current is zero or more than an LED
    stands; RangeError where it is below what the regulator's adjust pin passes.
    """
    ohms = at_least(needed_resistance(supply, as_string(led), current), series)
    return {
        RESISTOR: ResistorDrive(Q(ohms, "ohm"), tolerance),
        DRIVER: ConstantCurrentDrive(Q(current, "A"), Q(dropout, "V"), 0.1),
        REGULATOR: _regulator(current),
        DIODE: _diodes(current),
    }


def _regulator(current: float) -> ConstantCurrentDrive:
    regulator = regulators[REGULATOR_NAME]
    exact = regulator.resistance_for(Q(current, "A")).m_as("ohm")
    return regulator.set_by(Q(at_least(exact, _SET_SERIES), "ohm"), _SET_TOLERANCE)


def _diodes(current: float) -> ConstantCurrentDrive:
    kinds = list(current_diodes.values())
    largest = max(kinds, key=lambda each: each.si.current).si
    count = math.ceil(current / (largest.current * (1 + largest.tolerance)))
    nearest = min(kinds, key=lambda each: abs(each.si.current - current / count))
    return nearest.drive(count)


@with_units
def current_with_bought_parts(supply: SupplyVoltage, drive: Drive, led: Led | Sequence[Led]) -> Current:
    """Nominal, least and most current over the tolerances of drive and LEDs, as a first axis of three.

    Raises RangeError for a supply that is not above 0 V.
    """
    if not np.all(np.greater(supply, 0)):
        raise RangeError(f"supply needs to be above 0 V, but {say(np.min(supply), 'V')} came; turn it round")
    load = Load(drive, as_string(led))
    signs = _SIGNS.reshape(3, 2, *(1,) * np.ndim(supply))
    return np.maximum(load.lamp_current(load.shown, np.asarray(supply, float), 0.0, signs[:, 0], signs[:, 1]), 0.0)

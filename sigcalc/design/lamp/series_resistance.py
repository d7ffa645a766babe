"""The resistance in series that LEDs on a supply ask for, and the band of currents that bought parts then give.

SI floats and arrays in, the same out; what `design.resistor`, `design.resistor_spread`
and `design.drawer` share.
"""

from __future__ import annotations

import math
from typing import Any, NamedTuple

import numpy as np

from ...errors import DesignError, RangeError
from ...physics.domain import together
from ...units import say
from .led_string import LedString, loop_current, string_voltage

# With less than this across the resistor the LED's own spread decides the current; common practice, no source
LEAST_HEADROOM = 0.5
MOST_TOLERANCE = 0.5
_LEAST_CURRENT = 1e-12  # the models hold from here


class Corners(NamedTuple):
    """Over the corners of supply, resistor and LEDs: currents in A, and the most power in the resistor in W."""

    least: float
    most: float
    power: float


def needed_resistance(supply: Any, string: LedString, current: Any) -> Any:
    """The resistance in ohm that leaves just `current` to the string; supply in V, current in A, broadcasting.

    (supply - LED voltage) / current. Raises DesignError where the supply lies at or below
    the LEDs' voltage, the current is zero (below 1 pA), or it is more than an LED of the string stands.
    """
    together(supply=np.asarray(supply), current=np.asarray(current))
    _check_current(string, current)
    needed = string_voltage(current, string)
    supply, needed = np.broadcast_arrays(supply, needed)
    low = supply <= needed
    if np.any(low):
        place = np.unravel_index(np.argmax(low), low.shape)
        at = np.broadcast_to(current, low.shape)[place]
        raise DesignError(_too_low(float(supply[place]), float(needed[place]), float(at), len(string)))
    resistance = (supply - needed) / current
    return float(resistance) if np.ndim(resistance) == 0 else resistance


def corners(supply: float, resistance: float, string: LedString, tolerance: float, supply_tolerance: float) -> Corners:
    """Currents and power where supply, resistor and LED drop lie at their ends, all eight ways.

    The power also counts the resistor as printed: where the LEDs' own slope resists as much, it is greatest there.
    """
    if not max(tolerance, supply_tolerance) <= MOST_TOLERANCE:
        raise RangeError(
            f"tolerance and supply_tolerance need to be {say(MOST_TOLERANCE, '')} at most, but "
            f"{say(max(tolerance, supply_tolerance), '')} came; parts are sold with 5 % or closer"
        )
    ends = np.array([-1.0, 1.0])
    supplies = supply * (1 + supply_tolerance * ends[:, None, None])
    resistances = resistance * (1 + tolerance * np.array([-1.0, 0.0, 1.0])[:, None])
    currents = loop_current(supplies, resistances, string, spread=ends)
    return Corners(float(np.min(currents)), float(np.max(currents)), float(np.max(currents**2 * resistances)))


def _check_current(string: LedString, current: Any) -> None:
    if np.any(np.less(current, _LEAST_CURRENT)):
        least = say(np.min(current), "A")
        raise DesignError(f'current {least} lights nothing and no resistor makes it; ask for a current such as "5 mA"')
    weakest = min(string, key=lambda led: led.si.max_current)
    limit, most = weakest.si.max_current, float(np.max(current))
    if most > limit * (1 + 1e-12):
        raise DesignError(
            f"current {say(most, 'A')} is above the {say(limit, 'A')} that the {weakest.name} stands; "
            f"ask for at most {say(limit, 'A')}"
        )


def _too_low(supply: float, needed: float, current: float, count: int) -> str:
    whose = "the LED's forward voltage" if count == 1 else f"the forward voltage of the {count} LEDs in series"
    enough = math.ceil(2 * (needed + LEAST_HEADROOM)) / 2
    fewer = "" if count == 1 else " or fewer LEDs in series"
    relation = "no more than" if math.isclose(supply, needed) else "below"
    return (
        f"supply {say(supply, 'V')} is {relation} {whose} of {say(needed, 'V')} at {say(current, 'A')}: "
        f"nothing would light; use at least {say(enough, 'V')}{fewer}"
    )

"""One LED, or several in series, as the formulas of the physics floor want them.

The spread of bought parts enters as a number from -1 (every part has the least drop)
through 0 (typical) to +1 (every part has the most), so that corners and random studies
use one code.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from ...errors import DesignError, UnitError
from ...parts.drive import ConstantCurrentDrive, Drive
from ...parts.led import Exponential, Led, Triple
from ...physics import diode

LedString = tuple[Led, ...]

_RUNAWAY = 1e3  # A; no source of this library gives as much, so a figure beyond would mean nothing


def as_led(led: Any, argument: str = "led") -> Led:
    """The one Led itself, or UnitError where it is none."""
    if not isinstance(led, Led):
        raise UnitError(f'{argument} needs one Led, but {type(led).__name__} came; try leds["red alingap 3 mm"]')
    return led


def as_string(led: Led | Sequence[Led], argument: str = "led") -> LedString:
    """One LED or a sequence of them as a tuple; raises UnitError for anything else."""
    string = (led,) if isinstance(led, Led) else tuple(led) if isinstance(led, list | tuple) else ()
    if not string or not all(isinstance(each, Led) for each in string):
        came = type(led).__name__ if not isinstance(led, list | tuple) else f"{len(led)} things that are not all LEDs"
        raise UnitError(
            f'{argument} needs an Led or a list of them in series, but {came} came; try leds["red alingap 3 mm"]'
        )
    return string


def shift_of(led: Led, spread: Any) -> Any:
    """How far the drop of a part lies from the typical one, in V, for a spread from -1 to +1."""
    if isinstance(spread, int | float):
        return spread * (led.si.drop_below if spread < 0 else led.si.drop_above)
    return np.where(np.less(spread, 0), led.si.drop_below, led.si.drop_above) * spread


def triples(string: LedString, temperature: Any = None, spread: Any = 0.0) -> list[Triple]:
    """The exponential members as (saturation current, emission voltage, series resistance)."""
    return [
        each.model.triple(temperature, shift_of(each, spread)) for each in string if isinstance(each.model, Exponential)
    ]


def constant_drop(string: LedString, spread: Any = 0.0) -> Any:
    """The sum of the constant-drop members' drops in V."""
    fixed = (each for each in string if not isinstance(each.model, Exponential))
    return sum((each.model.si.forward_voltage + shift_of(each, spread) for each in fixed), 0.0)


def string_voltage(current: Any, string: LedString, temperature: Any = None, spread: Any = 0.0) -> Any:
    """The string's voltage in V at a forward current in A."""
    return sum(each.model.voltage_si(current, temperature, shift_of(each, spread)) for each in string)


def loop_current(supply: Any, resistance: Any, string: LedString, temperature: Any = None, spread: Any = 0.0) -> Any:
    """The current in A of a supply in V, a resistance in ohm and the string in one loop.

    With constant-drop members nothing flows while the supply lies below their drops.
    Raises DesignError where nothing but constant drops stands against the supply: the
    current then has no limit.
    """
    members = triples(string, temperature, spread)
    drop = constant_drop(string, spread)
    if len(members) == len(string):
        return diode.string_current(supply, resistance, members)
    left = np.maximum(supply - drop, 0.0)
    if members:
        return diode.string_current(left, resistance, members)
    if not np.all(np.greater(resistance, 0)):
        raise DesignError(
            "there is no resistance in the circuit and the LED has a constant drop: the current has no limit; "
            "add a resistor, or use an Exponential model to see what a bare LED takes"
        )
    return left / resistance


def refuse_runaway(current: Any) -> None:
    """DesignError for a current so large that nothing real would give it: no resistance holds it down."""
    if np.any(np.greater(current, _RUNAWAY)):
        raise DesignError(
            f"more than {_RUNAWAY:g} A would flow, which no source gives: nothing holds the current down; "
            "give the circuit or the LED model some resistance"
        )


def fed(supply: Any, drive: Drive, string: LedString, extra: Any = 0.0, temperature: Any = None) -> tuple[Any, Any]:
    """Current in A, and voltage in V across string and extra resistance in ohm, of a supply in V through a drive."""
    shared, limit = drive.series_resistance, drive.limit
    unlimited = loop_current(supply, shared + extra, string, temperature)
    current = np.minimum(unlimited, limit)
    across = supply - current * shared
    if isinstance(drive, ConstantCurrentDrive):
        # only a forward current has a voltage: asked for at the limit where it is not reached, and then left out
        held = np.where(unlimited > limit, current, limit)
        across = np.where(unlimited > limit, string_voltage(held, string, temperature) + held * extra, across)
    return current, across

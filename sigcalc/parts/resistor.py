"""What resistors are sold as: the preferred values E3 to E192 of IEC 60063, and power ratings with their derating."""

from __future__ import annotations

import math
from functools import cache
from typing import Annotated, Any

import numpy as np

from ..errors import RangeError, UnknownNameError
from ..units import Power, QuantityKind, Temperature, record, say, with_units
from ..units.quantity import numbers
from ..units.reading import quoted
from .table import PartsTable, from_rows

# Two digits each, rounded as they were in the first standard and not as a formula would round them.
# Source: technick.net/guides/electronics/standard_resistors_table, E6 to E24; E3 is every other value of E6.
_E24 = (10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91)
# From E48 on three digits, by formula, with one exception (from memory of IEC 60063).
_EXCEPTIONS = {919: 920}
# The tolerance each series was made for, so that neighbours just meet (PyPI eseries 1.2.1, function tolerance).
_TOLERANCES = {"E3": 0.4, "E6": 0.2, "E12": 0.1, "E24": 0.05, "E48": 0.02, "E96": 0.01, "E192": 0.005}
_LEAST, _MOST = 1e-12, 1e12
# (11 - 1.7) / 0.015 is computed as 620.0000000000001: that still is 620.
_ROUNDING = 1e-9

# common practice, no source: a resistor runs cool enough at half of what it is rated for
USUAL_MARGIN = 2.0
WorkingVoltage = Annotated[Any, QuantityKind("working voltage", "V", 0.0, 1e4, "250 V")]


def preferred_values(series: str) -> tuple[float, ...]:
    """One decade of a series, rising: twelve floats from 1.0 to 8.2 for "E12".

    Source: IEC 60063. E3 to E24 are the standard's own roundings; E48, E96 and E192 are
    10 to the power of i/n rounded to three digits, but 9.20 where that gives 9.19.
    Raises UnknownNameError for any other series.
    """
    whole = _decade(_known(series))
    return tuple(value / (10.0 if whole[0] == 10 else 100.0) for value in whole)


def series_tolerance(series: str) -> float:
    """The tolerance a series was made for, as a fraction (0.1 for "E12"); parts closer than that are sold in it too."""
    return _TOLERANCES[_known(series)]


def at_least(value: Any, series: str) -> Any:
    """The smallest value of the series that is `value` or more; floats or arrays in one SI unit, any shape."""
    below, above, here = _neighbours(value, series)
    return _shaped(np.where(here, below, above))


def at_most(value: Any, series: str) -> Any:
    """The largest value of the series that is `value` or less; floats or arrays in one SI unit, any shape."""
    return _shaped(_neighbours(value, series)[0])


def nearest(value: Any, series: str) -> Any:
    """The value of the series nearest by ratio (47 to 57 is as far as 57 to 69); floats or arrays, any shape."""
    below, above, here = _neighbours(value, series)
    return _shaped(np.where(here | (np.square(value) <= below * above), below, above))


def _known(series: Any) -> str:
    name = series.strip().upper() if isinstance(series, str) else ""
    if name not in _TOLERANCES:
        raise UnknownNameError(f"series {quoted(series)} is not known; use one of: {', '.join(_TOLERANCES)}")
    return name


@cache
def _decade(name: str) -> tuple[int, ...]:
    """The decade in whole numbers of two digits (to E24) or three, from which every value is made without rounding."""
    count = int(name[1:])
    if count <= len(_E24):
        return _E24[:: len(_E24) // count]
    rounded = (round(100 * 10 ** (place / count)) for place in range(count))
    return tuple(_EXCEPTIONS.get(value, value) for value in rounded)


def _neighbours(value: Any, series: str) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The values at or below and above each `value`, and whether the lower one is the value, but for rounding."""
    wanted = np.asarray(numbers(value, "value"))
    if not np.all((wanted >= _LEAST) & (wanted <= _MOST)):
        need = f"to be from {_LEAST:g} to {_MOST:g} in its SI unit to have a preferred value near it"
        raise RangeError(argument="value", need=need, advice="give a resistance above zero")
    whole = np.array(_decade(_known(series)))
    # one more at the end: the first value of the next decade
    ladder = np.append(whole, 10 * whole[0])
    digits = 1 if whole[0] == 10 else 2
    power = np.floor(np.log10(wanted * (1 + _ROUNDING))).astype(int)
    leading = wanted / 10.0 ** (power - digits)
    place = np.clip(np.searchsorted(ladder, leading * (1 + _ROUNDING), side="right") - 1, 0, len(whole) - 1)
    below, above = (_exact(ladder[place + step], power - digits) for step in (0, 1))
    return below, above, below >= wanted * (1 - _ROUNDING)


def _exact(whole: np.ndarray, power: np.ndarray) -> np.ndarray:
    """Number times ten to a power, rounded once: 47 and -2 give the very float 0.47."""
    return np.where(power >= 0, whole * 10.0 ** np.maximum(power, 0), whole / 10.0 ** np.maximum(-power, 0))


def _shaped(values: np.ndarray) -> Any:
    """An array, or one plain float, which reads the same in a text."""
    return float(values) if values.ndim == 0 else values


@record
class ResistorRating:
    """A size of resistor: full `power` up to the ambient `derate_from`, none from `zero_at` on, a line between.

    `max_voltage` is the most that may be across it whatever the power.
    """

    name: str
    power: Power
    derate_from: Temperature
    zero_at: Temperature
    max_voltage: WorkingVoltage
    note: str = ""

    def __post_init__(self) -> None:
        if not self.si.zero_at > self.si.derate_from:
            need = f"to be above derate_from, {say(self.si.derate_from, 'K')}"
            raise RangeError(argument="zero_at", need=need, given=say(self.si.zero_at, "K"))

    def power_at(self, ambient: Any) -> Any:
        """Power in W that it may turn into heat at an ambient temperature in K, which may be an array.

        Source: the derating line of carbon and metal film resistors (see the table).
        """
        share = (self.si.zero_at - ambient) / (self.si.zero_at - self.si.derate_from)
        return self.si.power * np.clip(share, 0.0, 1.0)


resistor_ratings: PartsTable[ResistorRating] = PartsTable("rating", "resistor_ratings.csv", from_rows(ResistorRating))
"""The ratings sold everywhere, least first: "1/8 W" to "2 W"."""


def rating_name(watts: float) -> str:
    """What a power rating in W is called in the shop, such as "1/4 W"."""
    return next((name for name, each in resistor_ratings.items() if each.si.power == watts), say(watts, "W"))


@with_units(scalar=True)
def rating_for(power: Power, ambient: Temperature = "25 degC", voltage: WorkingVoltage = "0 V") -> ResistorRating:
    """The smallest usual rating of twice the worst-case `power` at `ambient`, and for `voltage` across it.

    The margin of two is common practice. Raises RangeError where no usual rating is
    enough, with what to do.
    """
    return rating_for_si(power, ambient, voltage)


def rating_for_si(power: float, ambient: float, voltage: float = 0.0) -> ResistorRating:
    """The same for floats in W, K and V."""
    for rating in resistor_ratings.values():
        if rating.power_at(ambient) >= USUAL_MARGIN * power * (1 - 1e-9) and voltage <= rating.si.max_voltage:
            return rating
    largest, left = _largest(), float(_largest().power_at(ambient))
    if left == 0:
        raise RangeError(
            f"ambient {say(ambient, 'K')} leaves a resistor no power at all; "
            f"put it where it is cooler than {say(largest.si.zero_at, 'K')}"
        )
    if voltage > largest.si.max_voltage:
        raise RangeError(
            f"voltage {say(voltage, 'V')} is above the {say(largest.si.max_voltage, 'V')} "
            "that the largest usual resistor is rated for; put two in series"
        )
    needed = USUAL_MARGIN * power
    raise RangeError(
        f"power {say(power, 'W')} needs a rating of {say(needed, 'W')} at {say(ambient, 'K')} "
        f"({USUAL_MARGIN:g} times), and the largest usual resistor has {say(left, 'W')} there; "
        f"share it between {math.ceil(needed / left - 1e-9)} equal resistors in series, or use a lower current"
    )


def bearable_power(ambient: float) -> float:
    """The most worst-case power in W, half of what the largest usual rating is for, at an ambient in K."""
    return float(_largest().power_at(ambient)) / USUAL_MARGIN


def _largest() -> ResistorRating:
    return max(resistor_ratings.values(), key=lambda rating: rating.si.power)

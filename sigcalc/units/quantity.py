"""The one registry of units, and the short way to a quantity."""

from __future__ import annotations

import math
import re
from functools import cache

import numpy as np
import pint

from ..errors import UnitError
from .reading import UNITS, quoted, read

# No cache folder, though that would save 80 ms a start: pint keys it by content, so that one environment reads what
# another wrote, with paths of the other's in it, and no longer starts when that one has been deleted.
registry = pint.UnitRegistry()
_SHOWN_UP_TO = 1e6  # a number beside a unit that cannot be read is shown in the sentence if it is short
registry.separate_format_defaults = True  # the digits also where only the unit's form is asked for
registry.formatter.default_format = ".6g~P"  # six digits: what a sum in a lesson shows is to be read
pint.set_application_registry(registry)


@cache
def unit(symbol: str) -> pint.Unit:
    """The registry's unit for a symbol of our own table ("" is dimensionless)."""
    return registry.Unit(UNITS[symbol] if symbol else "")


@cache
def symbols_like(symbol: str) -> frozenset[str]:
    """The symbols of our own table that are units of the same dimension."""
    return frozenset(each for each in UNITS if unit(each).dimensionality == unit(symbol).dimensionality)


def Q(value: object, unit_symbol: str | None = None) -> pint.Quantity:  # noqa: N802 the customary short name
    """A quantity: `Q("9 V")`, `Q(9, "V")`, `Q([1, 2], "mA")` or `Q(27, "degC")`.

    Parameters
    ----------
    value: text with number and unit, or a number or array of numbers with the unit beside it
    unit_symbol: a unit such as "V", "mA", "ohm", "in" or "degC"

    Raises UnitError where number or unit cannot be read.
    """
    if unit_symbol is None:
        if isinstance(value, pint.Quantity):
            return _ours(value)
        if not isinstance(value, str):
            raise UnitError(f'Q needs a unit beside the number {quoted(value)}; type for example Q(9, "V") or Q("9 V")')
        number, symbol = read(value)
        if not symbol:
            raise UnitError(argument="Q", need="a number with its unit", given=quoted(value), example="9 V")
        return registry.Quantity(number, unit(symbol))
    if isinstance(value, str | pint.Quantity):
        need = "a plain number in front of a separate unit"
        raise UnitError(argument="Q", need=need, given=quoted(value), advice="leave one of the two units out")
    if not isinstance(unit_symbol, str):
        raise UnitError(argument="Q", need="its unit as a text", given=quoted(unit_symbol), example="V")
    shown = f"{value:g}" if isinstance(value, float | int) and 0 < value < _SHOWN_UP_TO else "1"
    if re.match(r"\s*[0-9]", unit_symbol):  # "1/2 in" would read as one and a half inches
        raise UnitError(argument="Q", need="a unit without a number", given=quoted(unit_symbol), example="in")
    symbol = read(f"{shown} {unit_symbol}")[1]
    return registry.Quantity(numbers(value, "value"), unit(symbol))


def _ours(value: pint.Quantity) -> pint.Quantity:
    """A quantity of another registry, in the same unit, in the application's."""
    numbers(value.magnitude, "value")
    if value._REGISTRY is registry:
        return value
    ours = registry.Quantity(value.magnitude, registry.UnitsContainer(dict(value._units)))
    try:
        ours.to_root_units()
    except pint.PintError as error:
        raise UnitError(f"Q cannot take over {quoted(value)}: {error}") from None
    return ours


def numbers(value: object, argument: str) -> float | np.ndarray:
    """A finite float, or an array of finite floats, or a UnitError."""
    if isinstance(value, float) and math.isfinite(value):
        return value
    try:
        if isinstance(value, bool) or np.ma.is_masked(value) or not _bare(value) or np.iscomplexobj(value):
            raise TypeError
        array = np.asarray(value)
        if array.dtype.kind not in "iuf":
            raise TypeError
        array = array.astype(float)
    except (TypeError, ValueError, OverflowError):
        raise UnitError(argument=argument, need="numbers such as 9 or [9, 12]", given=quoted(value)) from None
    if array.size == 0:
        raise UnitError(argument=argument, need="at least one number, such as 9 or [9, 12]", given=quoted(value))
    if not np.isfinite(array).all():
        advice = "leave out what is not known"
        raise UnitError(argument=argument, need="finite numbers", given=quoted(value), advice=advice)
    return float(array) if array.ndim == 0 else array


def _bare(value: object, depth: int = 4) -> bool:
    """Whether a list holds nothing whose unit, or whose being hidden, would be lost in an array; it may hold itself."""
    if isinstance(value, list | tuple):
        return depth > 0 and all(_bare(each, depth - 1) for each in value)
    return not isinstance(value, pint.Quantity) and value is not np.ma.masked

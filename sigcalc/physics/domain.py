"""Arguments of the formulas as arrays of floats; refused where the formula has no answer."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..errors import RangeError

Floats = NDArray[np.float64]


def floats(name: str, value: Any) -> Floats:
    """The argument called `name` as an array of floats; RangeError for anything but numbers, quantities included."""
    plain = not hasattr(value, "dimensionality")  # numpy would drop the unit
    try:
        array = np.asarray(value) if plain else np.empty(0, object)
    except ValueError:  # rows of different lengths
        plain, array = False, np.empty(0)
    if not plain or (array.dtype.kind not in "iuf" and array.size):
        raise RangeError(argument=name, need="to be a number or an array of numbers", given=type(value).__name__)
    return array.astype(float, copy=False)


def within(name: str, value: Any, low: float, high: float, unit: str, advice: str) -> Floats:
    """The argument as an array of floats, all of them from `low` to `high` in the SI unit `unit`, both included.

    Raises RangeError for anything else (NaN is outside); `advice` says what to do, as the end of the sentence.
    """
    array = floats(name, value)
    inside = (array >= low) & (array <= high)
    if not inside.all():
        need, given = f"to be {low:g} to {high:g} {unit}".rstrip(), f"{array[~inside].flat[0]:g}"
        raise RangeError(argument=name, need=need, given=given, advice=advice)
    return array


def whole(name: str, value: Any, low: int, high: int, what: str, advice: str) -> NDArray[np.int64]:
    """The argument as an array of whole numbers from `low` to `high`; `what` is counted. RangeError as `within`."""
    array = within(name, value, low, high, what, advice)
    broken = array % 1 != 0
    if broken.any():
        need, given = f"to be a whole number of {what}", f"{array[broken].flat[0]:g}"
        raise RangeError(argument=name, need=need, given=given, advice=advice)
    return array.astype(np.int64)


def together(**arrays: Floats) -> list[Floats]:
    """The named arrays in one common shape; RangeError if their shapes do not fit each other."""
    try:
        return list(np.broadcast_arrays(*arrays.values()))
    except ValueError:
        shapes = ", ".join(f"{name} {np.shape(array)}" for name, array in arrays.items() if np.ndim(array))
        raise RangeError(f"the shapes do not fit each other: {shapes}; give arrays that broadcast") from None

"""The domain of the formulas: an argument is turned into an array of floats and kept to its range, or refused."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..errors import RangeError


def within(name: str, value: Any, low: float, high: float, unit: str, remedy: str) -> NDArray[np.float64]:
    """The argument as an array of floats, all of them from `low` to `high`, both included.

    Parameters
    ----------
    name : str
        The argument's name, for the message.
    value : float or array_like
        What came.
    low, high : float
        The range, in the SI unit `unit`.
    unit : str
        The unit as it is written after a number; "" for a bare number.
    remedy : str
        What to do about it, as the end of the sentence.

    Raises
    ------
    RangeError
        If something other than real numbers came, or a number outside the range (NaN is outside).
    """
    need = f"{name} must be {low:g} to {high:g} {unit}".rstrip()
    if hasattr(value, "dimensionality"):  # numpy would drop the unit
        raise RangeError(f"{need} as a bare number; a quantity with a unit came: {remedy}.")
    try:
        array = np.asarray(value)
    except ValueError:
        raise RangeError(f"{need}; rows of different lengths came: {remedy}.") from None
    if array.dtype.kind not in "iuf" and array.size:
        raise RangeError(f"{need}, a number or an array of numbers; {type(value).__name__} came: {remedy}.")
    array = array.astype(float)
    inside = (array >= low) & (array <= high)
    if not inside.all():
        raise RangeError(f"{need}; {array[~inside].flat[0]:g} came: {remedy}.")
    return array


def whole(name: str, value: Any, low: int, high: int, what: str, remedy: str) -> NDArray[np.int64]:
    """The argument as an array of whole numbers from `low` to `high`; `what` is counted.

    Raises
    ------
    RangeError
        As `within`, and for a broken number.
    """
    array = within(name, value, low, high, what, remedy)
    broken = array % 1 != 0
    if broken.any():
        raise RangeError(f"{name} must be a whole number of {what}; {array[broken].flat[0]:g} came: {remedy}.")
    return array.astype(np.int64)


def together(**arrays: NDArray[np.float64]) -> list[NDArray[np.float64]]:
    """The named arrays in one common shape.

    Raises
    ------
    RangeError
        If their shapes do not fit each other.
    """
    try:
        return list(np.broadcast_arrays(*arrays.values()))
    except ValueError:
        shapes = ", ".join(f"{name} {array.shape}" for name, array in arrays.items() if array.ndim)
        raise RangeError(f"The shapes do not fit each other: {shapes}. Give arrays that broadcast.") from None

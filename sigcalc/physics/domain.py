"""Arguments of the formulas in one common shape."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import RangeError

Floats = NDArray[np.float64]


def together(**arrays: ArrayLike) -> list[Floats]:
    """The named arrays in one common shape; RangeError if their shapes do not fit each other."""
    try:
        return list(np.broadcast_arrays(*arrays.values()))
    except ValueError:
        shapes = ", ".join(f"{name} {np.shape(array)}" for name, array in arrays.items() if np.ndim(array))
        raise RangeError(f"the shapes do not fit each other: {shapes}; give arrays that broadcast") from None

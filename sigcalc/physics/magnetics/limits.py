"""The ranges of a magnet's sides, of the remanence and of the places where the field is asked for."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...errors import RangeError
from ..domain import within

Floats = np.float64 | NDArray[np.float64]
Vector = tuple[Floats, Floats, Floats]

_SMALLEST, _LARGEST = 1e-5, 10.0  # m
_FARTHEST = 1e3  # m
_REMANENCE_MOST = 3.0  # T


def checked_places(**places: Any) -> dict[str, NDArray[np.float64]]:
    """Places in m, measured from the magnet's centre; RangeError beyond 1000 m."""
    remedy = "measure from the magnet's centre in metres"
    return {name: within(name, value, -_FARTHEST, _FARTHEST, "m", remedy) for name, value in places.items()}


def checked_distance(distance: Any) -> NDArray[np.float64]:
    """A distance in m from the magnet's surface outwards; RangeError below 0 and beyond 1000 m."""
    return within("distance", distance, 0, _FARTHEST, "m", "measure from the nearest pole face outwards")


def checked_sides(**sides: Any) -> dict[str, NDArray[np.float64]]:
    """A magnet's sides in m; RangeError outside 1e-5 to 10 m."""
    remedy = "give the magnet's sides in metres"
    return {name: within(name, value, _SMALLEST, _LARGEST, "m", remedy) for name, value in sides.items()}


def checked_remanence(remanence: Any) -> NDArray[np.float64]:
    """A remanence in T; RangeError outside 0 to 3 T."""
    remedy = "give it in tesla; sintered NdFeB has 1.2 to 1.5"
    return within("remanence", remanence, 0, _REMANENCE_MOST, "T", remedy)


def off_the_edge(on_edge: NDArray[np.bool_]) -> None:
    """Raise RangeError where a place lies on an edge of the magnet."""
    if np.any(on_edge):
        raise RangeError(
            "x, y and z must not lie on the magnet's edge, where the field of an ideal magnet has no bound; "
            "a point on it came: move it off by a thousandth of a millimetre."
        )

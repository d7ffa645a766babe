"""Wires through a round hole: how thick a bundle is, and what clearance the hole leaves.

Wires are taken as round and hard. Soft insulation gives a little; twisting and pulling in want more room than the bare
geometry leaves, so a clearance of zero is a wire that will not go through.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import RangeError
from .domain import together, whole, within

Floats = np.float64 | NDArray[np.float64]

# Least diameter of a hole over that of one wire, for 1 to 20 equal wires. Closed forms and the first four digits of the
# others from the table in Wikipedia, "Circle packing in a circle"; the further digits of 10, 12, 14, 16, 17 and 20 from
# an optimisation of our own, which the tests repeat. Proved least for 1 to 14 and 19; the best known for the others.
_RATIOS = np.array(
    [
        1.0,
        2.0,
        1 + 2 / np.sqrt(3),
        1 + np.sqrt(2),
        1 + np.sqrt(2 * (1 + 1 / np.sqrt(5))),
        3.0,
        3.0,
        1 + 1 / np.sin(np.pi / 7),
        1 + np.sqrt(2 * (2 + np.sqrt(2))),
        3.8130256314,
        1 + 1 / np.sin(np.pi / 9),
        4.0296019302,
        2 + np.sqrt(5),
        4.3284285549,
        1 + np.sqrt(6 + 2 / np.sqrt(5) + 4 * np.sqrt(1 + 2 / np.sqrt(5))),
        4.6154255949,
        4.7920337484,
        1 + np.sqrt(2) + np.sqrt(6),
        1 + np.sqrt(2) + np.sqrt(6),
        5.1223207370,
    ]
)
MOST_WIRES = len(_RATIOS)


class Band(NamedTuple):
    """A length (m) with its tolerance."""

    least: Floats
    nominal: Floats
    most: Floats


def enclosing_ratio(count: ArrayLike) -> Floats:
    """Diameter of the smallest round hole over that of one wire, for `count` equal wires.

    Raises
    ------
    RangeError
        If the count is no whole number from 1 to 20.
    """
    remedy = "count whole wires, and take more than one hole for more"
    return _RATIOS[whole("count", count, 1, MOST_WIRES, "wires", remedy) - 1]


def bundle_diameter(count: ArrayLike, wire_diameter: ArrayLike) -> Floats:
    """Diameter (m) of the smallest round hole for `count` equal wires of `wire_diameter` (m, over the insulation).

    Raises
    ------
    RangeError
        Outside 1 to 20 wires and 1 um to 1 m.
    """
    ratio, diameter = together(
        count=np.asarray(enclosing_ratio(count)), wire_diameter=_diameter("wire_diameter", wire_diameter)
    )
    return ratio * diameter


def clearance(
    hole_diameter: ArrayLike,
    hole_tolerance: ArrayLike,
    count: ArrayLike,
    wire_diameter: ArrayLike,
    wire_tolerance: ArrayLike = 0.0,
) -> Band:
    """Hole minus bundle (m), least to most; the wires fit for sure if the least is above zero.

    Parameters
    ----------
    hole_diameter, hole_tolerance : array_like
        m; the hole is `hole_diameter` plus or minus `hole_tolerance`.
    count : array_like
        Number of equal wires, 1 to 20.
    wire_diameter, wire_tolerance : array_like
        Over the insulation, m; plus or minus `wire_tolerance`.

    Raises
    ------
    RangeError
        If a diameter lies outside 1 um to 1 m, a tolerance is negative or not below its diameter, or the count is off.
    """
    hole, hole_off = _toleranced("hole", hole_diameter, hole_tolerance)
    wire, wire_off = _toleranced("wire", wire_diameter, wire_tolerance)
    hole, hole_off, wire, wire_off, ratio = together(
        hole_diameter=hole,
        hole_tolerance=hole_off,
        wire_diameter=wire,
        wire_tolerance=wire_off,
        count=np.asarray(enclosing_ratio(count)),
    )
    nominal, off = hole - ratio * wire, hole_off + ratio * wire_off
    return Band(nominal - off, nominal, nominal + off)


def _diameter(name: str, value: ArrayLike) -> NDArray[np.float64]:
    return within(name, value, 1e-6, 1, "m", "give the diameter in metres")


def _toleranced(what: str, diameter: ArrayLike, tolerance: ArrayLike) -> list[NDArray[np.float64]]:
    diameter = _diameter(f"{what}_diameter", diameter)
    tolerance = within(f"{what}_tolerance", tolerance, 0, 1, "m", "give it in metres, plus or minus")
    diameter, tolerance = together(**{f"{what}_diameter": diameter, f"{what}_tolerance": tolerance})
    if (tolerance >= diameter).any():
        raise RangeError(f"{what}_tolerance must be less than {what}_diameter; more came: give both in metres.")
    return [diameter, tolerance]

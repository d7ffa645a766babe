"""Flux density of a bar magnet (a rectangular block), magnetised evenly along one edge.

In closed form, from the magnetic charge on the two pole faces: R. Engel-Herbert and T. Hesjedal, "Calculation of the
magnetic stray field of a uniaxial magnetic domain", J. Appl. Phys. 97 (2005) 074504. The logarithms are written as
inverse hyperbolic sines, which keep their digits near the planes and lines of the faces.

The magnet is ideal: the same magnetisation everywhere, not changed by the field of the magnet itself or of others, and
no iron near it.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..domain import together
from .limits import Floats, Vector, checked_places, checked_remanence, checked_sides, off_the_edge

_TINY = 1e-200  # stands for a distance of nothing in a logarithm whose infinite part cancels


def bar_field(
    x: ArrayLike,
    y: ArrayLike,
    z: ArrayLike,
    width: ArrayLike,
    thickness: ArrayLike,
    length: ArrayLike,
    remanence: ArrayLike,
) -> Vector:
    """Flux density (T) of a bar magnet along x, y and z, anywhere but on its edges.

    Inside the magnet it is the flux density as well; on its four sides the value just outside. Twelve digits are right
    up to ten lengths away, nine at a hundred and six at a thousand, where the corners' shares nearly cancel.

    Parameters
    ----------
    x, y, z : array_like
        Place, m, -1000 to 1000, from the magnet's centre, z along the magnetised edge towards the north pole.
    width, thickness, length : array_like
        Of the magnet along x, y and z, m, 1e-5 to 10.
    remanence : array_like
        T, 0 to 3.

    Returns
    -------
    tuple of three floats or arrays, all of the broadcast shape

    Raises
    ------
    RangeError
        Outside these ranges, and on an edge, where the field of an ideal magnet has no bound.
    """
    place, halves, remanence = _checked(x, y, z, width, thickness, length, remanence)
    # the field is even or odd in every direction: it is worked out where all three are positive
    corner = tuple(np.abs(each) for each in place)
    b_x = b_y = b_z = 0.0
    for sign, _, (over_x, over_y, angle) in _corners(corner, halves):
        b_x, b_y, b_z = b_x + sign * over_x, b_y + sign * over_y, b_z - sign * angle
    factor = remanence / (4 * np.pi)
    sign_x, sign_y, sign_z = (np.sign(each) for each in place)
    b_z = factor * b_z + remanence * _inside(corner, halves)
    return factor * b_x * sign_x * sign_z, factor * b_y * sign_y * sign_z, b_z


def bar_potential(
    x: ArrayLike,
    y: ArrayLike,
    z: ArrayLike,
    width: ArrayLike,
    thickness: ArrayLike,
    length: ArrayLike,
    remanence: ArrayLike,
) -> Floats:
    """Magnetic potential (T m) of a bar magnet: outside it, the flux density is its fall per metre.

    The mean flux density along a straight stretch is the potential at its start less that at its end, over its length.

    Parameters and errors as `bar_field`.
    """
    place, halves, remanence = _checked(x, y, z, width, thickness, length, remanence)
    corner = tuple(np.abs(each) for each in place)
    total = 0.0
    for sign, (u, v, w), (over_x, over_y, angle) in _corners(corner, halves):
        total = total - sign * (u * over_x + v * over_y - w * angle)
    return remanence / (4 * np.pi) * total * np.sign(place[2])


def _checked(x, y, z, width, thickness, length, remanence) -> tuple[Vector, Vector, Floats]:
    """Place, half sides and remanence in one shape, or RangeError."""
    *place, width, thickness, length, remanence = together(
        **checked_places(x=x, y=y, z=z),
        **checked_sides(width=width, thickness=thickness, length=length),
        remanence=checked_remanence(remanence),
    )
    halves = (width / 2, thickness / 2, length / 2)
    off_the_edge(_on_edge(tuple(np.abs(each) for each in place), halves))
    return tuple(place), halves, remanence


def _corners(place: Vector, halves: Vector) -> Iterator[tuple[int, Vector, Vector]]:
    """For each of the eight corners: its sign, the place seen from it, and the terms of the field there."""
    low, high = (tuple(p + sign * h for p, h in zip(place, halves, strict=True)) for sign in (1, -1))
    for corner in np.ndindex(2, 2, 2):
        u, v, w = ((low, high)[end][axis] for axis, end in enumerate(corner))
        distance = np.sqrt(u**2 + v**2 + w**2)
        over_x = np.arcsinh(v / np.maximum(np.hypot(u, w), _TINY))
        over_y = np.arcsinh(u / np.maximum(np.hypot(v, w), _TINY))
        # in the plane of a pole face the mean of both sides: nothing
        angle = np.arctan2(u * v, np.abs(w) * distance) * np.sign(w)
        yield (-1) ** sum(corner), (u, v, w), (over_x, over_y, angle)


def _on_edge(place: Vector, halves: Vector) -> NDArray[np.bool_]:
    """Whether a place lies on one of the twelve edges: level with two faces and not beyond the third."""
    level = sum((p == h).astype(int) for p, h in zip(place, halves, strict=True))
    beyond = sum((p > h).astype(int) for p, h in zip(place, halves, strict=True))
    return (level >= 2) & (beyond == 0)


def _inside(place: Vector, halves: Vector) -> Floats:
    """How much of the magnetisation counts: all of it inside, half on a pole face (the corners give the mean there)."""
    beside = (place[0] < halves[0]) & (place[1] < halves[1])
    return np.where(beside, (1 - np.sign(place[2] - halves[2])) / 2, 0.0)

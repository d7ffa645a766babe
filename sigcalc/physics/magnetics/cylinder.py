"""Flux density of a disc or rod magnet, magnetised evenly along its axis.

In closed form with complete elliptic integrals: N. Derby and S. Olbert, "Cylindrical magnets and ideal solenoids",
Am. J. Phys. 78 (2010) 229; A. Caciagli, R. J. Baars, A. P. Philipse and B. W. M. Kuipers, "Exact expression for the
magnetic field of a finite cylinder with arbitrary uniform magnetization", J. Magn. Magn. Mater. 456 (2018) 423. The
generalised integral of the first paper is written with Carlson's symmetric ones (DLMF 19.25), which scipy has. Its
radial case loses its digits near the axis; one step of Landen's transformation (DLMF 19.8) leaves one positive term.

The magnet is ideal: the same magnetisation everywhere, not changed by the field of the magnet itself or of others, and
no iron near it.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import ellipe, ellipkm1, elliprd, elliprj

from ..domain import together
from .limits import Floats, Vector, checked_distance, checked_places, checked_remanence, checked_sides, off_the_edge


def axial_field(distance: ArrayLike, diameter: ArrayLike, length: ArrayLike, remanence: ArrayLike) -> Floats:
    """Flux density (T) on the axis of a disc or rod magnet, outside it.

    Br / 2 * ((L + z) / hypot(R, L + z) - z / hypot(R, z)), rearranged so that far away no digits are lost.

    Parameters
    ----------
    distance : array_like
        From the nearest pole face, m, 0 to 1000.
    diameter, length : array_like
        Of the magnet, m, 1e-5 to 10; the length lies along the axis.
    remanence : array_like
        T, 0 to 3.

    Raises
    ------
    RangeError
        Outside these ranges.
    """
    distance, diameter, length, remanence = together(
        distance=checked_distance(distance),
        **checked_sides(diameter=diameter, length=length),
        remanence=checked_remanence(remanence),
    )
    radius = diameter / 2
    near, far = np.hypot(radius, distance), np.hypot(radius, distance + length)
    # 1 - s / hypot(R, s) = R^2 / (h * (h + s)) for either face
    return remanence / 2 * radius**2 * (1 / (near * (near + distance)) - 1 / (far * (far + distance + length)))


def cylinder_field(
    x: ArrayLike, y: ArrayLike, z: ArrayLike, diameter: ArrayLike, length: ArrayLike, remanence: ArrayLike
) -> Vector:
    """Flux density (T) of a disc or rod magnet along x, y and z, anywhere but on its two edges.

    Inside the magnet it is the flux density as well; on its curved side the value just outside. Twelve digits are right
    up to ten radii away and eight at a thousand, where the two poles nearly cancel.

    Parameters
    ----------
    x, y, z : array_like
        Place, m, -1000 to 1000, from the magnet's centre, z along the axis towards its north pole.
    diameter, length : array_like
        Of the magnet, m, 1e-5 to 10; the length lies along the axis.
    remanence : array_like
        T, 0 to 3.

    Returns
    -------
    tuple of three floats or arrays, all of the broadcast shape

    Raises
    ------
    RangeError
        Outside these ranges, and on the edge itself, where the field of an ideal magnet has no bound.
    """
    x, y, z, off_axis, radius, half, remanence = _checked(x, y, z, diameter, length, remanence)
    north_side, north_along = _face_field(off_axis, z - half, radius)
    south_side, south_along = _face_field(off_axis, z + half, radius)
    side = remanence / np.pi * (north_side - south_side)
    along = remanence / np.pi * (south_along - north_along)
    # at the curved side itself the integral gives the mean of inside and outside, which differ by the remanence
    along = along - np.where((off_axis == radius) & (np.abs(z) < half), remanence / 2, 0.0)
    return side * x, side * y, along[()]


def cylinder_potential(
    x: ArrayLike, y: ArrayLike, z: ArrayLike, diameter: ArrayLike, length: ArrayLike, remanence: ArrayLike
) -> Floats:
    """Magnetic potential (T m) of a disc or rod magnet: outside it, the flux density is its fall per metre.

    The mean flux density along a straight stretch is the potential at its start less that at its end, over its length.
    Each pole face adds the potential of an evenly charged disc: H. Lass and L. Blitzer, "The gravitational potential
    due to uniform disks and rings", Celest. Mech. 30 (1983) 225.

    Parameters and errors as `cylinder_field`.
    """
    _, _, z, off_axis, radius, half, remanence = _checked(x, y, z, diameter, length, remanence)
    north, south = (_face_potential(off_axis, z + side, radius) for side in (-half, half))
    return remanence / (4 * np.pi) * (north - south)


def _checked(x: ArrayLike, y: ArrayLike, z: ArrayLike, diameter: ArrayLike, length: ArrayLike, remanence: ArrayLike):
    """Place, distance from the axis, radius, half length and remanence in one shape, or RangeError."""
    x, y, z, diameter, length, remanence = together(
        **checked_places(x=x, y=y, z=z),
        **checked_sides(diameter=diameter, length=length),
        remanence=checked_remanence(remanence),
    )
    off_axis, radius, half = np.hypot(x, y), diameter / 2, length / 2
    off_the_edge((off_axis == radius) & (np.abs(z) == half))
    return x, y, z, off_axis, radius, half, remanence


def _face_field(off_axis: Floats, along: Floats, radius: Floats) -> tuple[Floats, Floats]:
    """What one pole face adds, over Br / pi: radially, divided by the distance from the axis, and along the axis."""
    farthest, ratio, gamma, third_kind = _terms(off_axis, along, radius)
    landen = 4 * ratio / (1 + ratio) ** 2
    side = 8 / 3 * radius**2 / (farthest * (1 + ratio)) ** 3 * elliprd(0.0, landen, 1.0)
    integral = ellipkm1(ratio**2) + gamma * (1 - gamma) / 3 * third_kind
    return side, radius / (radius + off_axis) * along / farthest * integral


def _face_potential(off_axis: Floats, along: Floats, radius: Floats) -> Floats:
    """The area integral of one over the distance, over a pole face."""
    farthest, ratio, gamma, third_kind = _terms(off_axis, along, radius)
    first_kind, second_kind = ellipkm1(ratio**2), ellipe(1 - ratio**2)
    third_kind = gamma * (first_kind + (1 - gamma**2) / 3 * third_kind)
    ring = farthest * second_kind + ((radius**2 - off_axis**2) * first_kind + along**2 * third_kind) / farthest
    return 2 * ring - np.pi * np.abs(along) * (1 + np.sign(radius - off_axis))


def _terms(off_axis: Floats, along: Floats, radius: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Distance to the far rim, the complementary modulus, (a - r) / (a + r), and Carlson's integral of its square."""
    farthest = np.sqrt(along**2 + (radius + off_axis) ** 2)
    ratio = np.sqrt(along**2 + (radius - off_axis) ** 2) / farthest
    gamma = (radius - off_axis) / (radius + off_axis)
    # at gamma = 0 the integral has no bound; it only ever stands beside gamma, and the mean of both sides is nothing
    return farthest, ratio, gamma, elliprj(0.0, ratio**2, 1.0, np.where(gamma == 0, 1.0, gamma**2))

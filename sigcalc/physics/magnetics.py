"""Magnets and what they do to a reed: field, material, test coil, and where a passing magnet keeps a reed closed.

The field itself is magpylib's, in closed form: N. Derby and S. Olbert, "Cylindrical magnets and ideal solenoids",
Am. J. Phys. 78 (2010) 229. The magnet is ideal: the same magnetisation everywhere, not changed by the field of the
magnet itself or of others, and no iron near it.

Lengths in m, flux densities in T. A place along the track is that of the magnet's centre less the reed's.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.constants import mu_0

from ..errors import RangeError

if TYPE_CHECKING:
    from scipy.interpolate import CubicSpline

Array = NDArray[np.float64]
Whole = NDArray[np.intp]

UPRIGHT, LENGTHWISE, CROSSWISE = "upright", "lengthwise", "crosswise"
ORIENTATIONS = (UPRIGHT, LENGTHWISE, CROSSWISE)
DIRECTIONS = {UPRIGHT: (1, 0, 2), LENGTHWISE: (1, 2, 0), CROSSWISE: (0, 2, 1)}
"""Along which direction of the track (0 along it, 1 across, 2 up) a magnet's x, y and z lie; z is its axis."""

REFERENCE_TEMPERATURE = 293.15  # K; makers give the remanence at 20 degC

_HALVINGS = 48  # of a step between two places: down to the last digits of a float
_FINE = np.linspace(0.0, 1.0, 17)  # of a step, to find a peak's height to a thousandth of what a step changes it


def cylinder_field(
    x: ArrayLike, y: ArrayLike, z: ArrayLike, diameter: ArrayLike, length: ArrayLike, remanence: ArrayLike
) -> tuple[Array, Array, Array]:
    """Flux density (T) of a disc or rod magnet along x, y and z, by magpylib; all arguments broadcast.

    x, y, z: the place, m, from the magnet's centre, z along the axis towards its north pole; inside the magnet as well.
    Eleven digits are right up to forty radii away, six at four thousand, where the two poles nearly cancel.

    Raises RangeError on the magnet's two edges, where the field of an ideal magnet has no bound.
    """
    from magpylib.core import magnet_cylinder_axial_Bfield  # half a second to load: only where a field is asked for

    x, y, z, diameter, length, remanence = np.broadcast_arrays(
        *(np.asarray(each, float) for each in (x, y, z, diameter, length, remanence))
    )
    radius, off_axis = diameter / 2, np.hypot(x, y)
    scaled = (each.ravel() for each in (length / diameter, off_axis / radius, z / radius))
    side, _, along = (
        remanence * np.reshape(each, x.shape)
        for each in magnet_cylinder_axial_Bfield(**dict(zip(("z0", "r", "z"), scaled, strict=True)))
    )
    if not np.isfinite(along).all():
        raise RangeError(
            "the place lies on the magnet's edge, where the field of an ideal magnet has no bound; "
            "move it off by a thousandth of a millimetre"
        )
    outwards = side / np.where(off_axis > 0, off_axis, 1.0)
    return outwards * x, outwards * y, along[()]


def long_coil_field(ampere_turns: ArrayLike, length: ArrayLike) -> Array:
    """Flux density (T) inside a long air coil: mu0 * N * I / length, from ampere-turns (A) and its length (m).

    Holds for a coil more than about five times as long as it is wide (dextermag.com, questions on sensors). It is not
    what a reed needs of a magnet, which is several times as much: `BRIDGE` in `parts.reed`.
    """
    return mu_0 * np.asarray(ampere_turns, float) / length


def remanence_at(temperature: ArrayLike, remanence: ArrayLike, coefficient: ArrayLike) -> Array:
    """Remanence (T) at a temperature (K): Br * (1 + alpha * (T - 20 degC)), the straight line of makers' tables.

    The coefficient is in 1/K; sintered NdFeB has -0.0012. The change is reversible as long as the material stays above
    the knee of its demagnetisation curve. The knee is not modelled: a magnet that is too hot for its grade and shape
    stays weaker for good, and no figure here shows it.
    """
    change = np.asarray(coefficient) * (np.asarray(temperature) - REFERENCE_TEMPERATURE)
    return np.asarray(remanence, float) * (1 + change)


def places_along(reach: float, ends: ArrayLike, nearest: float, count: int) -> Array:
    """Rising places from -reach to reach, `count` of them, the closer the faster the field changes there.

    ends: (n,) array, the half extents of magnet and sensor, about which it changes fast, as it does about 0
    nearest: the scale of that change, the gap
    """
    ends = np.asarray(ends, float)
    centres = np.unique(np.concatenate([-ends, [0.0], ends]))
    away = nearest * np.sinh(np.linspace(0.0, np.arcsinh(2 * reach / nearest), count))
    fine = np.unique(np.clip(np.add.outer(centres, np.concatenate([-away, away])), -reach, reach))
    crowd = np.arcsinh(np.subtract.outer(fine, centres) / nearest).sum(axis=1)
    return np.interp(np.linspace(crowd[0], crowd[-1], count), crowd, fine)


class Curve(NamedTuple):
    """Flux density along the reed for several cases: `values` has the shape (cases, places), `spline` joins them."""

    places: Array
    values: Array
    spline: CubicSpline

    @classmethod
    def through(cls, places: Array, values: Array, length: float = 0.0) -> Curve:
        """The curve through a field's values at places, or its mean over a sensor of a length (m).

        The mean is left out within half a length of both ends.
        """
        from scipy.interpolate import CubicSpline  # a third of a second to load: only where a field is asked for

        spline = CubicSpline(places, values, axis=1)
        if length:
            whole = spline.antiderivative()
            places = places[(places >= places[0] + length / 2) & (places <= places[-1] - length / 2)]
            values = (whole(places + length / 2) - whole(places - length / 2)) / length
            spline = CubicSpline(places, values, axis=1)
        return cls(places, values, spline)

    def peaks(self) -> Array:
        """The greatest amount of each row: shape (cases,)."""
        row, last = np.arange(len(self.values)), len(self.places) - 2
        most = np.abs(self.values).argmax(axis=1)
        beside = (self._at(row, np.clip(cell, 0, last), _FINE[:, np.newaxis]) for cell in (most - 1, most))
        return np.abs(np.concatenate(list(beside))).max(axis=0)

    def closed_stretches(self, pull_in: Array, release: Array) -> tuple[Whole, Array, Array]:
        """Where a reed is closed while the magnet travels along the places: row, closing and opening, flat, in order.

        It closes where the amount rises to `pull_in` and opens where it falls below `release`, one of either for each
        row; between the two it stays as it was. It is open at both ends.
        """
        amount = np.abs(self.values)
        state = np.where(amount >= pull_in[:, np.newaxis], np.sign(self.values), 0.0)
        state[:, [0, -1]] = 0.0
        known = (state != 0) | (amount < release[:, np.newaxis])
        known[:, [0, -1]] = True
        last = np.maximum.accumulate(np.where(known, np.arange(state.shape[1]), 0), axis=1)
        state = np.take_along_axis(state, last, axis=1)
        # a field that turns round opens the reed between two places and closes it again
        row, cell = np.nonzero(np.diff(state, axis=1))
        opens, closes = state[row, cell] != 0, state[row, cell + 1] != 0
        closing = self._crossing(row[closes], cell[closes], (state[:, 1:][row, cell] * pull_in[row])[closes])
        opening = self._crossing(row[opens], cell[opens], (state[row, cell] * release[row])[opens])
        return row[closes], closing, opening

    def _crossing(self, row: Whole, cell: Whole, level: Array) -> Array:
        """The place in a step between two places at which the curve passes a level."""
        low, high = np.zeros(len(row)), np.ones(len(row))
        sign = np.sign(self.values[row, cell + 1] - level)
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            past = sign * (self._at(row, cell, middle) - level) > 0
            low, high = np.where(past, low, middle), np.where(past, middle, high)
        return self.places[cell] + high * np.diff(self.places)[cell]

    def _at(self, row: Whole, cell: Whole, share: Array) -> Array:
        """The curve at a share of the way from a place to the next."""
        cubic, square, slope, start = self.spline.c[:, cell, row]
        along = share * np.diff(self.places)[cell]
        return ((cubic * along + square) * along + slope) * along + start


def last_place(places: Array, peaks: Array, levels: Array) -> Array:
    """The last of rising places at which peaks (T, above 0) are at each level: by cubic splines between logarithms.

    NaN for a level that no peak reaches. At the last place the peak must be below all levels.
    """
    from scipy.interpolate import CubicSpline

    spline = CubicSpline(np.log(places), np.log(peaks))
    roots = (spline.solve(np.log(level), extrapolate=False) for level in levels)
    return np.array([np.exp(each.max()) if len(each) else np.nan for each in roots])

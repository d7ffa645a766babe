"""A magnet that passes a reed: field, closed stretches, and how far off it still works; SI floats and arrays.

The reed lies along the track. The magnet hangs over it or stands beside it and keeps its orientation to the track. The
gap is measured straight up, from the reed's axis to the magnet's lowest point; the offset is how far the magnet's
centre runs beside the reed.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...parts.magnet import BarMagnet, Magnet
from ...parts.reed import band_of
from ...physics import magnetics
from ...units import Q, Speed, Time, record, say, say_band

Array = NDArray[np.float64]

_SCAN = 24  # gaps or offsets tried before the last that works is refined
_ROOM = 1.001  # a grid ends where the field is certainly below the level, rounding included


@dataclass(frozen=True)
class Passing:
    """A magnet in an orientation to the track, and the length over which the reed takes the mean (0: a point)."""

    magnet: Magnet | BarMagnet
    orientation: str
    averaged_over: float = 0.0

    def field(self, position: Any, gap: Any, offset: Any = 0.0) -> Any:
        """Flux density (T) along the reed, for positions of the magnet's centre less the reed's (m)."""
        if self.averaged_over:
            return self.magnet.mean_along_track(position, offset, gap, self.orientation, self.averaged_over)
        return self.magnet.along_track(position, offset, gap, self.orientation)

    def stretches(self, gap: Any, offset: Any, pull_in: Any, release: Any) -> list[Array]:
        """For each case, the positions (m) between which the reed is closed, an array of rows (from, to).

        Gaps, offsets, pull-ins and releases (T) are scalars or flat arrays of one length.
        """
        gap, offset, pull_in, release = np.broadcast_arrays(*np.atleast_1d(gap, offset, pull_in, release))
        grid = self._grid(gap, offset, self._reach(release))
        rows, start, end = magnetics.closed_stretches(self._of_rows(gap, offset), grid, pull_in, release)
        counts = np.bincount(rows, minlength=len(gap))
        return np.split(np.column_stack([start, end]), np.cumsum(counts)[:-1])

    def peak(self, gap: Any, offset: Any = 0.0) -> Array:
        """The greatest flux density along the reed, by amount, while the magnet passes."""
        gap, offset = np.broadcast_arrays(*np.atleast_1d(gap, offset))
        distance = np.hypot(gap + self.magnet.lying(self.orientation)[2], offset)
        reach = 2 * (self._half_diagonal + distance) + self.averaged_over / 2
        grid = self._grid(gap, offset, reach)
        # on either side of the reed the field is the same by amount: the middle of the grid is right over it
        return magnetics.peaks(self._of_rows(gap, offset), grid[:, grid.shape[1] // 2 :])

    def largest_gaps(self, pull_in: Array, offset: float = 0.0) -> Array:
        """For each pull-in (T) the largest gap (m) at which the reed still closes, NaN where it closes at none."""
        return np.array(_largest_gaps(self, tuple(np.asarray(pull_in).tolist()), offset))

    def farthest_offsets(self, pull_in: Array, gap: float) -> Array:
        """For each pull-in (T) the greatest offset (m) at which the reed still closes, NaN where it closes at none."""
        farthest = self.magnet.lying(self.orientation)[1] / 2 + _ROOM * self._bound(np.min(pull_in))
        offsets = np.linspace(0.0, farthest, _SCAN)
        return magnetics.last_above(lambda offset: self.peak(gap, offset), offsets, pull_in)

    @classmethod
    def over(cls, magnet: Magnet | BarMagnet, orientation: str, reed: Any) -> Passing:
        """Past a reed, a type or a single one, with the length over which it takes the mean."""
        return cls(magnet, orientation, band_of(reed)[1].length)

    @property
    def _half_diagonal(self) -> float:
        return float(np.linalg.norm(self.magnet.sides)) / 2

    def _bound(self, level: Any) -> Any:
        """Farther than this (m) from all of the magnet the flux density is below the level.

        Each bit of the magnet gives at most twice its dipole moment over the cube of its distance.
        """
        return np.cbrt(self.magnet.si.remanence * self.magnet.volume / (2 * np.pi * level))

    def _reach(self, level: Any) -> Any:
        return self._half_diagonal + self.averaged_over / 2 + _ROOM * self._bound(level)

    def _grid(self, gap: Array, offset: Array, reach: Array) -> Array:
        along, across, _ = self.magnet.lying(self.orientation)
        ends = {along / 2 + self.averaged_over / 2, abs(along / 2 - self.averaged_over / 2)}
        nearest = np.hypot(gap, np.maximum(np.abs(offset) - across / 2, 0.0))
        return magnetics.positions(reach, np.tile(sorted(ends), (len(gap), 1)), nearest)

    def _of_rows(self, gap: Array, offset: Array) -> Any:
        return lambda position, rows: self.field(position, gap[rows], offset[rows])


@lru_cache(maxsize=256)
def _largest_gaps(passing: Passing, pull_in: tuple[float, ...], offset: float) -> Array:
    """Kept: few pairs of magnet and reed are asked for often: by each edit of a plan, each signal of a layout."""
    gaps = np.geomspace(1e-2 * passing._half_diagonal, _ROOM * passing._bound(min(pull_in)), _SCAN)
    return magnetics.last_above(lambda gap: passing.peak(gap, offset), gaps, np.array(pull_in))


@record
class Passage:
    """One magnet past one reed at a speed.

    Attributes
    ----------
    stretches: positions in m, magnet's centre less reed's, between which the reed is closed, for a train in +x
    closed: how long the longest of them lasts; 0 where the reed stays open
    fastest: the highest speed at which it lasts long enough
    first_to_last: from the first closing to the last
    """

    stretches: tuple[tuple[float, float], ...]
    closed: Time
    fastest: Speed
    first_to_last: Time

    @classmethod
    def at(cls, stretches: Array, speed: float, least_time: float) -> Any:
        """The passage for rows (from, to) in m, at a speed in m/s, where a closure must last a least time in s."""
        longest = float(np.max(stretches[:, 1] - stretches[:, 0], initial=0.0))
        return cls.of(
            stretches=tuple((float(start), float(end)) for start, end in stretches),
            closed=longest / speed,
            fastest=longest / least_time if least_time else np.inf,
            first_to_last=float(np.ptp(stretches[:, 0])) / speed if len(stretches) else 0.0,
        )

    @property
    def closures(self) -> list[tuple[Any, Any]]:
        """The stretches as pairs of lengths (from, to)."""
        return [(Q(start, "m"), Q(end, "m")) for start, end in self.stretches]

    @property
    def closures_backwards(self) -> list[tuple[Any, Any]]:
        """The stretches for a train in the -x direction: the same, mirrored about the reed."""
        return [(Q(-start, "m"), Q(-end, "m")) for start, end in self.stretches]


def levels(magnet: Magnet | BarMagnet, reed: Any) -> tuple[Array, Array]:
    """Pull-in and release (T) at the worst, in the middle and at the best, for the magnet's nominal remanence.

    At the worst the magnet is the weakest and the reed the least sensitive, at the best the other way round. A weaker
    magnet is the same as a reed that needs so much more.
    """
    weakening = magnet.si.remanence / np.array(magnet.remanence_band)
    band = band_of(reed)
    return (
        np.array([each.at_magnet[0] for each in band]) * weakening,
        np.array([each.at_magnet[1] for each in band]) * weakening,
    )


def said(least: float, nominal: float, most: float, unit: str) -> str:
    """A figure with its band for a sentence, or alone where a measured pair has none."""
    return say(nominal, unit) if least == most else say_band(least, nominal, most, unit)

"""A magnet that passes a reed: where and for how long it closes it, how far off it still does, at what speeds it works.

The reed lies along the track. The magnet hangs over it or stands beside it and keeps its orientation to the track. The
gap is measured straight up, from the reed's axis to the magnet's lowest point; the offset is how far the magnet's
centre runs beside the reed. A place is that of the magnet's centre along the track less the reed's.

An upright magnet closes a reed twice, once on either side; one that lies lengthwise once, or three times where its
peak is more than about five times the pull-in; one that lies crosswise never, as long as it runs straight over it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated, Any

import numpy as np
from numpy.typing import NDArray

from ...errors import DesignError
from ...parts.magnet import Magnet, as_magnet, as_orientation
from ...parts.reed import Reed, ReedType, as_reed, band_of
from ...physics import magnetics
from ...physics.domain import together
from ...units import Length, Q, QuantityKind, record, say, with_units
from ..findings import FINE, LOOK, STOP, Finding
from ..tolerance import Band

Array = NDArray[np.float64]

Gap = Annotated[Any, QuantityKind("gap", "m", 1e-5, 100.0, "5 mm")]
"""From the magnet's lowest point to the reed's axis; the reed's glass alone keeps its axis about a millimetre away."""

_PLACES = 801  # along the track; the places of closing and opening are then good to a thousandth of the gap
_SCAN = 60  # gaps or offsets between which the last that works is interpolated
_ROOM = 1.001  # places end where the field is certainly below the level, rounding included
_NO_FIELD = 1e-15  # T, far below any reed's release


@dataclass(frozen=True)
class Passing:
    """A magnet in an orientation to the track, and the length over which the reed takes the mean (0: a point).

    Its methods take and give SI floats and arrays.
    """

    magnet: Magnet
    orientation: str
    averaged_over: float = 0.0

    @classmethod
    def over(cls, magnet: Any, orientation: Any, reed: Any) -> Passing:
        """Past a reed, a type or a single one, with the length over which it takes the mean; names are looked up."""
        return cls(as_magnet(magnet), as_orientation(orientation), band_of(reed)[1].length)

    @property
    def lying(self) -> tuple[float, float, float]:
        """The magnet's extent in m along the track, across it and upwards."""
        directions = magnetics.DIRECTIONS[self.orientation]
        return tuple(self.magnet.sides[directions.index(direction)] for direction in range(3))

    def field(self, place: Any, gap: float, offset: float = 0.0) -> Array:
        """What the reed takes of the flux density (T) along the track, for an array of places."""
        if not self.averaged_over:
            return self.at_point(place, gap, offset)
        return self.curve(gap, offset, float(np.abs(place).max())).spline(place)[0]

    def at_point(self, place: Any, gap: Any, offset: Any = 0.0) -> Array:
        """Flux density (T) along the track at a point; arrays broadcast."""
        directions = magnetics.DIRECTIONS[self.orientation]
        seen = (np.negative(place), np.negative(offset), np.negative(gap) - self.lying[2] / 2)
        return self.magnet.field_at(*(seen[direction] for direction in directions))[directions.index(0)]

    def curve(self, gap: Any, offset: Any, reach: float, count: int = _PLACES) -> magnetics.Curve:
        """What the reed takes of the field along the track, from -reach to reach, for flat arrays of gaps and offsets.

        That is the field itself, or its mean over the reed's length.
        """
        gap, offset = (each[:, np.newaxis] for each in np.broadcast_arrays(*np.atleast_1d(gap, offset)))
        along, across, _ = self.lying
        mean = self.averaged_over / 2
        nearest = np.hypot(gap, np.maximum(np.abs(offset) - across / 2, 0.0)).min()
        ends = np.abs([along / 2, along / 2 + mean, along / 2 - mean])
        places = magnetics.places_along(reach + mean, ends, nearest, count)
        return magnetics.Curve.through(places, self.at_point(places, gap, offset), self.averaged_over)

    def stretches(self, gap: Any, offset: Any, pull_in: Any, release: Any) -> list[Array]:
        """For each case, the places between which the reed is closed, an array of rows (from, to).

        Gaps, offsets, pull-ins and releases (T) are scalars or flat arrays of one length.
        """
        gap, offset, pull_in, release = np.broadcast_arrays(*np.atleast_1d(gap, offset, pull_in, release))
        reach = self._half_diagonal + self.averaged_over / 2 + _ROOM * self._bound(release.min())
        row, start, end = self.curve(gap, offset, reach).closed_stretches(pull_in, release)
        counts = np.bincount(row, minlength=len(gap))
        return np.split(np.column_stack([start, end]), np.cumsum(counts)[:-1])

    def peak(self, gap: Any, offset: Any = 0.0) -> Array:
        """The greatest flux density that the reed takes, by amount, while the magnet passes; flat arrays."""
        gap, offset = np.broadcast_arrays(*np.atleast_1d(gap, offset))
        distance = np.hypot(gap + self.lying[2], offset).max()
        reach = 2 * (self._half_diagonal + distance) + self.averaged_over / 2
        return self.curve(gap, offset, reach).peaks()

    def largest_gaps(self, pull_in: Any, offset: float = 0.0) -> Array:
        """For each pull-in (T) the largest gap at which the reed still closes, NaN where it closes at none."""
        return _largest_gaps(self, tuple(np.asarray(pull_in).tolist()), offset)

    def farthest_offsets(self, pull_in: Any, gap: float) -> Array:
        """For each pull-in (T) the greatest offset at which the reed still closes, NaN where it closes at none."""
        farthest = self.lying[1] / 2 + _ROOM * self._bound(np.min(pull_in))
        offsets = np.geomspace(1e-2 * self._half_diagonal, farthest, _SCAN)
        return magnetics.last_place(offsets, np.maximum(self.peak(gap, offsets), _NO_FIELD), pull_in)

    @property
    def _half_diagonal(self) -> float:
        return float(np.linalg.norm(self.magnet.sides)) / 2

    def _bound(self, level: float) -> float:
        """Farther than this (m) from all of the magnet the flux density is below the level.

        Each bit of the magnet gives at most twice its dipole moment over the cube of its distance.
        """
        return float(np.cbrt(self.magnet.si.remanence * self.magnet.volume / (2 * np.pi * level)))


@lru_cache(maxsize=256)
def _largest_gaps(passing: Passing, pull_in: tuple[float, ...], offset: float) -> Array:
    """Kept: few pairs of magnet and reed are asked for often: by each edit of a plan, each signal of a layout."""
    gaps = np.geomspace(1e-2 * passing._half_diagonal, _ROOM * passing._bound(min(pull_in)), _SCAN)
    found = magnetics.last_place(gaps, np.maximum(passing.peak(gaps, offset), _NO_FIELD), pull_in)
    found.setflags(write=False)
    return found


def levels(magnet: Magnet, reed: Any) -> tuple[Array, Array]:
    """Pull-in and release (T) at the worst, in the middle and at the best, for the magnet's nominal remanence.

    At the worst the magnet is the weakest and the reed the least sensitive, at the best the other way round. A weaker
    magnet is the same as a reed that needs so much more.
    """
    weakening = magnet.si.remanence / np.array(magnet.remanence_band)
    pull_in, release = np.array([each.at_magnet for each in band_of(reed)]).T
    return pull_in * weakening, release * weakening


@with_units
def closures(magnet: Magnet | str, reed: Reed, gap: Gap, orientation: str, offset: Length = "0 mm") -> list[Any]:
    """The stretches over which a reed along the track is closed while a magnet passes in the +x direction.

    The reed closes where the flux density along it reaches its pull-in, by amount, and opens below its release.

    Parameters
    ----------
    magnet: a record or a name in `magnets`
    reed: a single reed; one from ampere-turns is subject to the magnet's field as `BRIDGE` in `parts.reed` has it
    gap: from the magnet's nearest surface to the reed's axis, straight down; an array gives a list of answers
    orientation: the magnetised axis "upright", "lengthwise" or "crosswise" to the track
    offset: how far the magnet's centre runs beside the reed; broadcasts with the gap

    Returns
    -------
    list of pairs (from, to) of lengths, magnet centre minus reed centre, in the order of travel; empty where the reed
    stays open. For arrays, nested lists of such lists in the arrays' shape.

    Raises UnitError, UnknownNameError or RangeError for what cannot be.
    """
    gaps, offsets = (np.asarray(each) for each in together(gap=gap, offset=offset))
    passing = Passing.over(magnet, orientation, as_reed(reed))
    found = passing.stretches(gaps.ravel(), offsets.ravel(), *reed.at_magnet)
    answers = [[(Q(float(start), "m"), Q(float(end), "m")) for start, end in each] for each in found]
    for size in gaps.shape[:0:-1]:
        answers = [answers[start : start + size] for start in range(0, len(answers), size)]
    return answers if gaps.shape else answers[0]


@record
class Reach:
    """How far off a passing magnet still closes a reed; `findings` judge what was wanted.

    `least` is with the weakest magnet and the least sensitive reed, `most` with the best of both; 0 where even touching
    is not enough.
    """

    least: Length
    nominal: Length
    most: Length
    findings: tuple[Finding, ...]


@with_units(scalar=True)
def largest_gap(magnet: Magnet | str, reed: Reed | ReedType | str, orientation: str, gap: Gap | None = None) -> Reach:
    """The largest gap, from surface to axis, at which a magnet that passes straight over the reed still closes it.

    Parameters
    ----------
    magnet: a record or a name in `magnets`; reed: a type (a name in `reeds`) with its band, or a single reed
    orientation: "upright", "lengthwise" or "crosswise"; gap: the one that is wanted, for the findings

    Raises DesignError where the nominal pair closes at no gap; UnitError, UnknownNameError or RangeError for what
    cannot be.
    """
    passing = Passing.over(magnet, orientation, reed)
    gaps = passing.largest_gaps(levels(passing.magnet, reed)[0])
    if np.isnan(gaps[1]):
        advice = "use a stronger magnet or a more sensitive reed"
        if orientation == magnetics.CROSSWISE:
            advice = "turn it upright or lengthwise"
        raise DesignError(f"{orientation} over the reed, the magnet does not reach its pull-in at any gap; {advice}")
    least, nominal, most = map(float, np.nan_to_num(gaps))
    if gap is None:
        return Reach.of(least=least, nominal=nominal, most=most, findings=())
    grade, remedy = FINE, ""
    if gap > nominal:
        grade, remedy = STOP, f"Bring the magnet to {say(least or nominal, 'm')} or use a stronger one."
    elif gap > least:
        grade, remedy = LOOK, "Try your own magnet and reed, or bring them closer: such pairs differ widely."
    reason = (
        f"You want a gap of {say(gap, 'm')}. {orientation.capitalize()}, the magnet closes the reed up to a gap of "
        f"{said(Band(least, nominal, most, 'm'))}."
    )
    return Reach.of(least=least, nominal=nominal, most=most, findings=(Finding(grade, "gap", reason, remedy),))


@with_units(scalar=True)
def side_reach(
    magnet: Magnet | str, reed: Reed | ReedType | str, gap: Gap, orientation: str, spacing: Length | None = None
) -> Reach:
    """How far beside the reed a passing magnet still closes it, from the magnet's centre line to the reed's axis.

    `gap` is straight up from the height of the reed's axis to the magnet's lowest point, `spacing` the distance of a
    neighbouring track, which must be more than `most`; the others, and what is raised, as in `largest_gap`.
    """
    passing = Passing.over(magnet, orientation, reed)
    found = passing.farthest_offsets(levels(passing.magnet, reed)[0], gap)
    least, nominal, most = map(float, np.nan_to_num(found))
    reach = f"a magnet closes the reed from a track up to {said(Band(least, nominal, most, 'm'))} beside it"
    if most <= 0:
        reach = "no magnet on a track beside it closes the reed"
    reason = f"{orientation.capitalize()} at a gap of {say(gap, 'm')}, {reach}."
    grade, remedy = FINE, ""
    if spacing is not None:
        reason += f" The neighbouring track is {say(spacing, 'm')} away."
        if spacing <= most:
            grade = LOOK if spacing > nominal else STOP
            remedy = "Move the reed to the far side of its track, or use a weaker magnet or a less sensitive reed."
    findings = (Finding(grade, "neighbouring track", reason, remedy),)
    return Reach.of(least=least, nominal=nominal, most=most, findings=findings)


def said(band: Band) -> str:
    """A figure with its band for a sentence, or alone where a measured pair has none."""
    return say(band.nominal, band.unit) if band.least == band.most else str(band)


def stays_open(topic: str, orientation: str, gap: float) -> Finding:
    """The verdict on a magnet that does not close the reed at a gap (m)."""
    remedy = "Turn the magnet upright or lengthwise, or bring it nearer."
    reason = f"{orientation.capitalize()} at {say(gap, 'm')} the magnet does not close the reed."
    return Finding(STOP, topic, reason, remedy if orientation == magnetics.CROSSWISE else "Bring the magnet nearer.")

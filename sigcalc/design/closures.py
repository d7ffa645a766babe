"""Where on the track a passing magnet keeps a reed closed, and what the reed's own length does to that.

Found by computing, not by rule: an upright magnet closes a reed that lies along the track twice, once on either side;
one that lies lengthwise once, or three times where its peak is more than about five times the pull-in; one that lies
crosswise never, as long as it runs straight over the reed.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from ..errors import RangeError
from ..parts.magnet import BarMagnet, Magnet, as_magnet, as_orientation
from ..parts.passing import Passing
from ..parts.reed import Reed, as_reed
from ..physics.domain import together
from ..units import FluxDensity, Length, Q, door, record, say

Pair = tuple[Any, Any]
_LEAST_GAP, _MOST_GAP = 1e-9, 900.0  # m; the field's formulas hold within 1 km, and not on the magnet's very edge


@door
def closures(
    magnet: Magnet | BarMagnet | str,
    reed: Reed,
    gap: Length,
    orientation: str,
    offset: Length = "0 mm",
    averaged_over: Length = "0 mm",
) -> list[Any]:
    """The stretches over which a reed along the track is closed while a magnet passes in the +x direction.

    The reed closes where the flux density along it reaches its pull-in, by amount, and opens below its release.

    Parameters
    ----------
    magnet: a record or a name in `magnets`
    reed: a single reed
    gap: from the magnet's nearest surface to the reed's axis, straight down; an array gives a list of answers
    orientation: the magnetised axis "upright", "lengthwise" or "crosswise" to the track
    offset: how far the magnet's centre runs beside the reed; broadcasts with the gap
    averaged_over: the length of reed over which the field's mean counts; 0 takes the field at the reed's middle

    Returns
    -------
    list of pairs (from, to) of lengths, magnet centre minus reed centre, in the order of travel; empty where the reed
    stays open. For arrays, nested lists of such lists in the arrays' shape.

    Raises UnitError, UnknownNameError or RangeError for what cannot be.
    """
    magnet, orientation, reed = as_magnet(magnet), as_orientation(orientation), as_reed(reed)
    _need_gap(gap)
    gaps, offsets = (np.asarray(each) for each in together(gap=gap, offset=offset))
    passing = Passing(magnet, orientation, _one_length(averaged_over))
    found = passing.stretches(gaps.ravel(), offsets.ravel(), reed.si.pull_in, reed.si.release)
    answers = [[(Q(float(start), "m"), Q(float(end), "m")) for start, end in each] for each in found]
    return _shaped(answers, gaps.shape)


def _shaped(answers: list[list[Pair]], shape: tuple[int, ...]) -> list[Any]:
    """A flat list of answers nested as the arrays were; the one answer alone where there was no array."""
    for size in shape[:0:-1]:
        answers = [answers[start : start + size] for start in range(0, len(answers), size)]
    return answers if shape else answers[0]


def _need_gap(gap: Any) -> None:
    if np.any(np.less_equal(gap, 0)):
        raise RangeError(
            "gap needs to be more than 0 mm, but 0 mm came: the reed's glass alone keeps its axis about a millimetre "
            'away; measure from the magnet down to the reed\'s axis, such as gap="5 mm"'
        )
    if np.any(np.less(gap, _LEAST_GAP)) or np.any(np.greater(gap, _MOST_GAP)):
        wrong = np.min(gap) if np.any(np.less(gap, _LEAST_GAP)) else np.max(gap)
        raise RangeError(
            f"gap needs to lie from {say(_LEAST_GAP, 'm')} to {say(_MOST_GAP, 'm')}, but {say(wrong, 'm')} came; "
            'measure from the magnet down to the reed\'s axis, such as gap="5 mm"'
        )


def _one_length(averaged_over: Any) -> float:
    if np.ndim(averaged_over):
        raise RangeError('averaged_over needs one length, but an array came; give for example averaged_over="10 mm"')
    if 0 < averaged_over < 1e-5 or averaged_over > _MOST_GAP:
        raise RangeError(
            f"averaged_over needs to be 0 or the length of a reed, but {say(averaged_over, 'm')} came; "
            'give for example averaged_over="10 mm"'
        )
    return float(averaged_over)


@record
class SensorEffect:
    """A passing magnet's peak at a reed taken as a point and as the mean over its length."""

    magnet: Magnet | BarMagnet
    orientation: str
    gap: Length
    reed_length: Length
    peak_at_point: FluxDensity
    peak_of_mean: FluxDensity

    @property
    def ratio(self) -> float:
        """How many times the field at the middle the mean field is; below 1."""
        return self.si.peak_of_mean / self.si.peak_at_point

    @property
    def sentence(self) -> str:
        """The effect in words."""
        si = self.si
        return (
            f"At {say(si.gap, 'm')} a magnet that lies {self.orientation} peaks at {say(si.peak_at_point, 'T')} at the "
            f"reed's middle and at {say(si.peak_of_mean, 'T')} as the mean over {say(si.reed_length, 'm')} of reed: "
            f"{self.ratio:.2f} times. Neither counts the reed's own iron, which draws the field in."
        )


@door(scalar=True)
def sensor_effect(magnet: Magnet | BarMagnet | str, gap: Length, orientation: str, reed_length: Length) -> SensorEffect:
    """What averaging over the reed's length does to the peak of the flux density.

    A test coil fills the whole reed with field, a magnet near one end only a part of it: this is why about twice the
    field is needed there.

    Raises UnitError, UnknownNameError or RangeError for what cannot be, and RangeError where there is no field along
    the reed at all (crosswise, straight over it).
    """
    magnet, orientation = as_magnet(magnet), as_orientation(orientation)
    _need_gap(gap)
    length = _one_length(reed_length)
    point, mean = (float(Passing(magnet, orientation, each).peak(gap)[0]) for each in (0.0, length))
    if not point or not length:
        raise RangeError(
            "reed_length needs to be above zero and the magnet upright or lengthwise: "
            "crosswise there is no field along the reed, whatever its length"
        )
    return SensorEffect.of(
        magnet=magnet,
        orientation=orientation,
        gap=gap,
        reed_length=length,
        peak_at_point=point,
        peak_of_mean=mean,
    )

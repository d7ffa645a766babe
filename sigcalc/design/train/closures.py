"""Where on the track a passing magnet keeps a reed closed.

Found by computing, not by rule: an upright magnet closes a reed that lies along the track twice, once on either side;
one that lies lengthwise once, or three times where its peak is more than about five times the pull-in; one that lies
crosswise never, as long as it runs straight over the reed.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from ...errors import RangeError
from ...parts.magnet import BarMagnet, Magnet, as_magnet, as_orientation
from ...parts.reed import Reed, as_reed
from ...physics.domain import together
from ...units import Length, Q, say, with_units
from .passing import Passing

Pair = tuple[Any, Any]
_LEAST_GAP, _MOST_GAP = 1e-9, 900.0  # m; the field's formulas hold within 1 km, and not on the magnet's very edge


@with_units
def closures(
    magnet: Magnet | BarMagnet | str,
    reed: Reed,
    gap: Length,
    orientation: str,
    offset: Length = "0 mm",
) -> list[Any]:
    """The stretches over which a reed along the track is closed while a magnet passes in the +x direction.

    The reed closes where the flux density along it reaches its pull-in, by amount, and opens below its release.

    Parameters
    ----------
    magnet: a record or a name in `magnets`
    reed: a single reed; one from ampere-turns takes the magnet's field as `BRIDGE` in `parts.reed` has it
    gap: from the magnet's nearest surface to the reed's axis, straight down; an array gives a list of answers
    orientation: the magnetised axis "upright", "lengthwise" or "crosswise" to the track
    offset: how far the magnet's centre runs beside the reed; broadcasts with the gap

    Returns
    -------
    list of pairs (from, to) of lengths, magnet centre minus reed centre, in the order of travel; empty where the reed
    stays open. For arrays, nested lists of such lists in the arrays' shape.

    Raises UnitError, UnknownNameError or RangeError for what cannot be.
    """
    magnet, orientation, reed = as_magnet(magnet), as_orientation(orientation), as_reed(reed)
    _need_gap(gap)
    gaps, offsets = (np.asarray(each) for each in together(gap=gap, offset=offset))
    found = Passing.over(magnet, orientation, reed).stretches(gaps.ravel(), offsets.ravel(), *reed.at_magnet)
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

"""How far a magnet may be from a reed: the largest gap at which a passing magnet still closes it."""

from __future__ import annotations

from typing import Any

import numpy as np

from ..errors import DesignError, RangeError
from ..parts.finding import FINE, LOOK, STOP, Finding
from ..parts.magnet import BarMagnet, Magnet, as_magnet, as_orientation
from ..parts.passing import Passing, levels, said
from ..parts.reed import NEAR_ONE_POLE, Reed, ReedType, reeds
from ..units import Length, door, record, say

_TOPIC = "gap"


@record
class TriggerGap:
    """The largest gaps at which a passing magnet closes a reed, from the magnet's surface to the reed's axis.

    Attributes
    ----------
    least, nominal, most: with the weakest magnet and the least sensitive reed, the middle of both, and the best of
        both; 0 where even touching is not enough
    near_one_pole: as `least`, where twice the field is needed
    of_mean: as `nominal`, where the reed takes the mean over `reed_length`
    gap: the gap that is wanted, if one was given
    """

    magnet: Magnet | BarMagnet
    reed: Reed | ReedType
    orientation: str
    least: Length
    nominal: Length
    most: Length
    near_one_pole: Length
    of_mean: Length | None
    reed_length: Length | None
    gap: Length | None

    @property
    def sentence(self) -> str:
        """The largest gap in words, with what it hangs on."""
        si = self.si
        mean = ""
        if si.of_mean is not None:
            mean = f" Taken as the mean over {say(si.reed_length, 'm')} of reed: {say(si.of_mean, 'm')}."
        return (
            f"{self.orientation.capitalize()}, the magnet closes the reed up to a gap of "
            f"{said(si.least, si.nominal, si.most, 'm')}, and up to {say(si.near_one_pole, 'm')} where one pole "
            f"near one end of the least sensitive reed needs {NEAR_ONE_POLE:g} times the field.{mean}"
        )


@door(scalar=True)
def largest_gap(
    magnet: Magnet | BarMagnet | str,
    reed: Reed | ReedType | str,
    orientation: str,
    gap: Length | None = None,
    reed_length: Length | None = None,
    offset: Length = "0 mm",
) -> TriggerGap:
    """The largest gap at which a magnet that passes in this orientation still closes the reed.

    Parameters
    ----------
    magnet: a record or a name in `magnets`; reed: a type (a name in `reeds`) with its band, or a single reed
    orientation: "upright", "lengthwise" or "crosswise"
    gap: the gap that is wanted, for `findings`
    reed_length: for the refinement by the mean over the reed; the glass length of a type where none is given
    offset: how far the magnet's centre runs beside the reed

    Raises DesignError where the nominal pair closes at no gap; UnitError, UnknownNameError or RangeError for what
    cannot be.
    """
    magnet, orientation = as_magnet(magnet), as_orientation(orientation)
    reed = reeds[reed] if isinstance(reed, str) else reed
    if gap is not None and gap <= 0:
        raise RangeError('gap needs to be more than 0 mm, but 0 mm came; give for example gap="5 mm"')
    pull_in, _ = levels(magnet, reed)
    passing = Passing(magnet, orientation)
    least, nominal, most, one_pole = passing.largest_gaps(np.append(pull_in, NEAR_ONE_POLE * pull_in[0]), offset)
    if np.isnan(nominal):
        raise DesignError(_never(orientation, offset))
    reed_length = reed.si.glass_length if reed_length is None and isinstance(reed, ReedType) else reed_length
    return TriggerGap.of(
        magnet=magnet,
        reed=reed,
        orientation=orientation,
        least=_or_nothing(least),
        nominal=float(nominal),
        most=float(most),
        near_one_pole=_or_nothing(one_pole),
        of_mean=_gap_of_mean(magnet, orientation, pull_in[1:2], offset, reed_length),
        reed_length=reed_length,
        gap=gap,
    )


def _gap_of_mean(magnet: Any, orientation: str, pull_in: Any, offset: float, reed_length: float | None) -> float | None:
    if reed_length is None:
        return None
    if reed_length < 1e-3:
        raise RangeError(f"reed_length needs to be 1 mm or more, but {say(reed_length, 'm')} came")
    return _or_nothing(Passing(magnet, orientation, reed_length).largest_gaps(pull_in, offset)[0])


def _or_nothing(gap: float) -> float:
    """A gap, or 0 where the reed closes at none."""
    return 0.0 if np.isnan(gap) else float(gap)


def _never(orientation: str, offset: float) -> str:
    if orientation == "crosswise" and offset == 0:
        return (
            "orientation crosswise, straight over the reed, gives no field along the reed at any gap; "
            "turn the magnet upright or lengthwise"
        )
    return (
        f"magnet {orientation} at an offset of {say(offset, 'm')} does not reach the reed's pull-in at any gap; "
        "take a stronger magnet or a more sensitive reed"
    )


def findings(result: TriggerGap) -> tuple[Finding, ...]:
    """The verdict on the gap that is wanted, with its remedy; nothing where none was given."""
    si = result.si
    if si.gap is None:
        return ()
    wanted = f"A gap of {say(si.gap, 'm')} is wanted. {result.sentence}"
    if si.gap > si.nominal:
        remedy = f"Bring the magnet to {say(si.near_one_pole or si.nominal, 'm')} or take a stronger one."
        return (Finding(STOP, _TOPIC, wanted, remedy),)
    if si.gap > si.near_one_pole:
        remedy = "Try it with your own magnet and reed, or bring them closer: the bridge to flux density is rough."
        return (Finding(LOOK, _TOPIC, wanted, remedy),)
    return (Finding(FINE, _TOPIC, wanted),)

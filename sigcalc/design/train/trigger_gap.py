"""How far a magnet may be from a reed: the largest gap at which a passing magnet still closes it."""

from __future__ import annotations

import numpy as np

from ...errors import DesignError, RangeError
from ...parts.magnet import BarMagnet, Magnet, as_magnet, as_orientation
from ...parts.reed import Reed, ReedType, reeds
from ...units import Length, record, say, with_units
from ..findings import FINE, LOOK, STOP, Finding
from .passing import Passing, levels, said

_TOPIC = "gap"


@record
class TriggerGap:
    """The largest gaps at which a passing magnet closes a reed, from the magnet's surface to the reed's axis.

    Attributes
    ----------
    least, nominal, most: with the weakest magnet and the least sensitive reed, the middle of both, and the best of
        both; 0 where even touching is not enough
    gap: the gap that is wanted, if one was given
    """

    magnet: Magnet | BarMagnet
    reed: Reed | ReedType
    orientation: str
    least: Length
    nominal: Length
    most: Length
    gap: Length | None

    @property
    def sentence(self) -> str:
        """The largest gap in words."""
        si = self.si
        return (
            f"{self.orientation.capitalize()}, the magnet closes the reed up to a gap of "
            f"{said(si.least, si.nominal, si.most, 'm')}."
        )


@with_units(scalar=True)
def largest_gap(
    magnet: Magnet | BarMagnet | str,
    reed: Reed | ReedType | str,
    orientation: str,
    gap: Length | None = None,
    offset: Length = "0 mm",
) -> TriggerGap:
    """The largest gap at which a magnet that passes in this orientation still closes the reed.

    Parameters
    ----------
    magnet: a record or a name in `magnets`; reed: a type (a name in `reeds`) with its band, or a single reed
    orientation: "upright", "lengthwise" or "crosswise"
    gap: the gap that is wanted, for `findings`
    offset: how far the magnet's centre runs beside the reed

    Raises DesignError where the nominal pair closes at no gap; UnitError, UnknownNameError or RangeError for what
    cannot be.
    """
    magnet, orientation = as_magnet(magnet), as_orientation(orientation)
    reed = reeds[reed] if isinstance(reed, str) else reed
    if gap is not None and gap <= 0:
        raise RangeError('gap needs to be more than 0 mm, but 0 mm came; give for example gap="5 mm"')
    pull_in, _ = levels(magnet, reed)
    least, nominal, most = Passing.over(magnet, orientation, reed).largest_gaps(pull_in, offset)
    if np.isnan(nominal):
        raise DesignError(_never(orientation, offset))
    return TriggerGap.of(
        magnet=magnet,
        reed=reed,
        orientation=orientation,
        least=float(np.nan_to_num(least)),
        nominal=float(nominal),
        most=float(most),
        gap=gap,
    )


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
        remedy = f"Bring the magnet to {say(si.least or si.nominal, 'm')} or take a stronger one."
        return (Finding(STOP, _TOPIC, wanted, remedy),)
    if si.gap > si.least:
        remedy = "Try it with your own magnet and reed, or bring them closer: such pairs differ widely."
        return (Finding(LOOK, _TOPIC, wanted, remedy),)
    return (Finding(FINE, _TOPIC, wanted),)

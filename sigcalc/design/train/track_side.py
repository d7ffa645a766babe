"""How near a neighbouring track may lie before a magnet on it works this track's reed."""

from __future__ import annotations

import numpy as np

from ...errors import RangeError
from ...parts.magnet import BarMagnet, Magnet, as_magnet, as_orientation
from ...parts.reed import Reed, ReedType, reeds
from ...units import Length, record, say, with_units
from ..findings import FINE, LOOK, STOP, Finding
from .passing import Passing, levels, said

_TOPIC = "neighbouring track"


@record
class SideReach:
    """How far beside the reed a passing magnet still closes it, from the magnet's centre line to the reed's axis.

    `least` is with the weakest magnet and the least sensitive reed, `most` with the best of both; 0 where it does not
    close it at all. `spacing` is the distance of the neighbouring track, if one was given.
    """

    magnet: Magnet | BarMagnet
    reed: Reed | ReedType
    orientation: str
    gap: Length
    least: Length
    nominal: Length
    most: Length
    spacing: Length | None

    @property
    def sentence(self) -> str:
        """The reach in words."""
        si = self.si
        return (
            f"{self.orientation.capitalize()} at a gap of {say(si.gap, 'm')}, a magnet closes the reed from a track "
            f"up to {said(si.least, si.nominal, si.most, 'm')} beside it."
        )


@with_units(scalar=True)
def side_reach(
    magnet: Magnet | BarMagnet | str,
    reed: Reed | ReedType | str,
    gap: Length,
    orientation: str,
    spacing: Length | None = None,
) -> SideReach:
    """How far beside the reed a passing magnet still closes it; a neighbouring track must be farther off than `most`.

    Parameters
    ----------
    magnet: a record or a name in `magnets`; reed: a type (a name in `reeds`) with its band, or a single reed
    gap: straight up from the height of the reed's axis to the magnet's lowest point
    spacing: of the two tracks, for `findings`

    Raises UnitError, UnknownNameError or RangeError for what cannot be.
    """
    magnet, orientation = as_magnet(magnet), as_orientation(orientation)
    reed = reeds[reed] if isinstance(reed, str) else reed
    if gap <= 0:
        raise RangeError('gap needs to be more than 0 mm, but 0 mm came; give for example gap="5 mm"')
    pull_in, _ = levels(magnet, reed)
    least, nominal, most = np.nan_to_num(Passing.over(magnet, orientation, reed).farthest_offsets(pull_in, gap))
    return SideReach.of(
        magnet=magnet,
        reed=reed,
        orientation=orientation,
        gap=gap,
        least=float(least),
        nominal=float(nominal),
        most=float(most),
        spacing=spacing,
    )


def findings(result: SideReach) -> tuple[Finding, ...]:
    """The verdict on the neighbouring track, with its remedy; nothing where no spacing was given."""
    si = result.si
    if si.spacing is None:
        return ()
    reason = f"{result.sentence} The neighbouring track lies {say(si.spacing, 'm')} off."
    if si.spacing > si.most:
        return (Finding(FINE, _TOPIC, reason),)
    remedy = "Move the reed to the far side of its track, or take a weaker magnet or a less sensitive reed."
    return (Finding(LOOK if si.spacing > si.nominal else STOP, _TOPIC, reason, remedy),)

"""How the magnet lies under the train, how far off it is, and where on the track it closes the reed."""

from __future__ import annotations

import dataclasses
from functools import lru_cache

from ..design.findings import FINE, STOP, Finding
from ..design.train.magnet_and_reed import LargestGap, largest_gap, side_reach
from ..errors import DesignError
from ..parts.magnet import magnets
from ..parts.reed import ReedType, reeds
from ..physics.magnetics import ORIENTATIONS
from ..views.closures import closures_picture
from .base import Panel
from .control import NumberControl, choice, positions
from .scene import Scene

ALL = "all three"
WHICH = {"least sensitive": "least_sensitive", "middle": "middle", "most sensitive": "most_sensitive"}


class OrientationPanel(Panel):
    """A magnet, a gap, a reed, and the three ways in which the magnet may lie."""

    height = "36em"

    def __init__(self) -> None:
        controls = [
            choice("magnet", list(magnets), "8 x 3 mm disc, N35"),
            NumberControl("gap", "mm", 1, 30, 5, step=0.5),
            choice("reed", list(reeds)),
            choice("the one you bought is", list(WHICH), "middle"),
            positions("the magnet lies", [ALL, *ORIENTATIONS]),
        ]
        super().__init__(controls, "How often does the magnet close the reed?")

    def draw(self) -> Scene:
        """The field along the track with the closed stretches; for one orientation, how far off it still works."""
        magnet, reed, gap = self["magnet"].value, reeds[self["reed"].value], self.text("gap")
        lies = self["the magnet lies"].value
        shown = ORIENTATIONS if lies == ALL else (lies,)
        bought = getattr(reed, WHICH[self["the one you bought is"].value])
        picture = closures_picture(magnet, bought, gap, shown, size=self.size)
        return Scene((picture,), picture.sentence, () if lies == ALL else _limits(magnet, reed, gap, lies))


@lru_cache(maxsize=64)
def _largest_gap(magnet: str, reed: ReedType, lies: str) -> LargestGap:
    """Kept, since it does not change with the gap that is set."""
    return largest_gap(magnet, reed, lies)


def _limits(magnet: str, reed: ReedType, gap: str, lies: str) -> tuple[Finding, ...]:
    """The largest gap, and how far off a neighbouring track must lie."""
    try:
        found = dataclasses.replace(_largest_gap(magnet, reed, lies), gap=gap).findings
    except DesignError as never:
        return (Finding(STOP, "gap", f"{never}."),)
    return (*found, Finding(FINE, "neighbouring track", side_reach(magnet, reed, gap, lies).sentence))

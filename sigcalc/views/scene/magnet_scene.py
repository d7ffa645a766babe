"""The magnet under a wagon and the reed between the sleepers, from the side, with the gap between them."""

from __future__ import annotations

from typing import Annotated, Any, NamedTuple

from ...design.train.magnet_and_reed import Gap, closures
from ...parts.magnet import Magnet, as_magnet, as_orientation
from ...parts.reed import Reed
from ...physics.magnetics import LENGTHWISE, UPRIGHT
from ...units import Q, QuantityKind, say, with_units
from ..picture import Picture
from ..style import FLOW, INK, LINE, MATERIALS, NORMAL, PAPER, STAGE, STAGE_BOX, THIN, Size
from .table import Table

Place = Annotated[Any, QuantityKind("place along the track", "m", -1.0, 1.0, "-5 mm")]


class _Layout(NamedTuple):
    """The sheet, where the drawing of the track begins, the rail's height, and the reed's word beside the reed."""

    sides: tuple[float, float]
    left: float
    rail: float
    word: tuple[float, float]


_PAGE = _Layout((440.0, 246.0), 10.0, 140.0, (0.0, 62.0))
_WALL = _Layout(STAGE_BOX, -10.0, 112.0, (122.0, 5.0))
_WAGON = 220.0  # how wide it is drawn
_STRIP, _STRIP_TALL = 172.0, 22.0  # on a wall: where the magnet closes the reed
_PER_METRE, _REACH = 2200.0, 0.04  # points; m: a magnet further away is drawn at the edge
_LIES = {UPRIGHT: "a pole down", LENGTHWISE: "its poles along the track"}


@with_units(scalar=True)
def magnet_over_reed(
    magnet: Magnet | str, reed: Reed, gap: Gap, orientation: str = UPRIGHT, place: Place = "0 mm", size: Size = NORMAL
) -> Picture:
    """A wagon with its magnet at a place over the reed, and whether the reed is closed there.

    The magnet and its way along the track are to one scale; wagon, gap and reed are not. On the stage there is below
    them where on its way the magnet closes the reed.

    Parameters
    ----------
    magnet, reed, gap, orientation: as for `closures`
    place: how far the magnet's centre is past the reed's, as it travels to the right; negative before it

    Raises UnitError, UnknownNameError or RangeError for what cannot be.
    """
    magnet, orientation = as_magnet(magnet), as_orientation(orientation)
    stretches = [[end.m_as("m") for end in each] for each in closures(magnet, reed, Q(gap, "m"), orientation)]
    closed = any(start <= place < end for start, end in stretches)
    lies = _WALL if size is STAGE else _PAGE
    table = Table(*lies.sides)
    ends = table.put("reed_side", (lies.left, lies.rail - 2), closed=closed)
    wide, high = magnet.si.diameter, magnet.si.length if orientation == UPRIGHT else magnet.si.diameter
    drawn = (magnet.si.length if orientation == LENGTHWISE else wide) * _PER_METRE, high * _PER_METRE
    sides = min(max(drawn[0], 6.0), 80.0), min(max(drawn[1], 4.0), 26.0)
    x, y = ends["reed"]
    middle = x + min(max(place, -_REACH), _REACH) * _PER_METRE
    wagon = table.put("wagon", (middle - _WAGON / 2, lies.rail - 112), magnet=sides, field=orientation)
    _gap(table, wagon["magnet"], ends["reed"], say(gap, "m"))
    if lies is _WALL:
        _closed_where(table, x, stretches, place)
    table.group("reed closed" if closed else "reed open")
    table.words((x + lies.word[0], y + lies.word[1]), f"reed {'CLOSED' if closed else 'open'}", bold=closed)
    beyond = f"{say(abs(place), 'm', 2)} {'past' if place > 0 else 'before'} the reed"
    where = "over the reed" if abs(place) < 5e-5 else beyond
    lies = _LIES.get(orientation, "its poles across the track")
    return table.picture(
        f"The magnet lies with {lies}, {where}, at a gap of {say(gap, 'm')}: the reed is "
        f"{'closed' if closed else 'open'}. The gap is not to scale.",
        size,
    )


def _closed_where(table: Table, middle: float, stretches: list[list[float]], place: float) -> None:
    """The stretches of the magnet's way over which the reed is closed, numbered, to its scale, and where it is now."""
    left, right, top, foot = 64.0, STAGE_BOX[0] - 40.0, _STRIP, _STRIP + _STRIP_TALL

    def across(at: float) -> float:
        return min(max(middle + at * _PER_METRE, left), right)

    table.group("closed")
    table.rectangle((0, top - 4), (STAGE_BOX[0], STAGE_BOX[1] - top + 4), fill=PAPER, width=0)
    table.rectangle((left, top), (right - left, _STRIP_TALL), fill=PAPER, width=THIN)
    for number, (start, end) in enumerate(stretches, 1):
        table.rectangle((across(start), top), (across(end) - across(start), _STRIP_TALL), fill=FLOW, width=LINE)
        table.text(((across(start) + across(end)) / 2, foot - 5), number, "middle", bold=True, size=16)
    table.text((6, foot - 7), "closed", bold=True)
    table.text((right + 8, foot - 5), f"{len(stretches)}×", bold=True, size=16)
    x = across(place)
    table.polygon((x, top + 3), (x - 7, top - 9), (x + 7, top - 9), fill=INK, width=0.5)


def _gap(table: Table, magnet: tuple[float, float], reed: tuple[float, float], words: str) -> None:
    """The gap between the magnet's nearest surface and the reed's axis, with an arrow each way."""
    x, top, bottom = 40.0, magnet[1], reed[1]
    table.group("gap")
    for y, to in ((top, magnet[0]), (bottom, reed[0])):
        table.line((x - 8, y), (to, y), width=1.2, dash="2 3", colour=MATERIALS["field"])
    middle = (top + bottom) / 2
    table.arrow((x, middle - 9), (x, top), point=7)
    table.arrow((x, middle + 9), (x, bottom), point=7)
    table.words((x + 8, middle + 4), f"gap {words}", "start", bold=True)

"""A drilled hole with its tolerance, and the clearance that is left in it."""

from __future__ import annotations

from typing import Any

from ...errors import RangeError
from ...parts.drill import Drill, drills
from ...units import Length, Q, kind_of, record, say, with_units

PASSES, TIGHT, FAILS = "fine", "tight", "does not fit"

DRILL_OVERSIZE = "0.1 mm"  # common practice, no source: a hand-held drill in brass or plastic

_ROUNDING = 1e-9  # m; 3.175 mm and 1/8 in are one diameter
_LENGTH = kind_of(Length)


@record
class Hole:
    """A round hole: least, nominal and most diameter, and what made it."""

    name: str
    least: Length
    nominal: Length
    most: Length

    def __post_init__(self) -> None:
        si = self.si
        if not 0 < si.least <= si.nominal <= si.most:
            raise RangeError(
                "a hole's least, nominal and most diameter need to rise from more than nothing, "
                f"but {say(si.least, 'm')}, {say(si.nominal, 'm')} and {say(si.most, 'm')} came; give them in order"
            )


@with_units(scalar=True)
def drilled_hole(drill: str | Drill | Any, oversize: Length = DRILL_OVERSIZE) -> Hole:
    """The hole a drill makes: its own diameter at least, up to `oversize` more at most.

    drill: a name in `drills` ("1/8 in", "no. 52"), a `Drill`, or a diameter ("2.38 mm" or a quantity)

    Raises UnknownNameError, UnitError or RangeError where the drill or the oversize cannot be.
    """
    if isinstance(drill, str) and (drill in drills or drill.strip().lower().startswith("no")):
        drill = drills[drill]
    if isinstance(drill, Drill):
        name, diameter = f"{drill.name} hole", drill.si.diameter
    else:
        diameter = _LENGTH.read(drill, "hole", scalar=True)
        name = f"{say(diameter, 'm')} hole"
    return Hole(name, *(Q(each, "m") for each in (diameter, diameter, diameter + oversize)))


@record
class Clearance:
    """Hole minus what goes through: at the worst, as named, at the best; and the play that is wanted."""

    least: Length
    nominal: Length
    most: Length
    play: Length

    @property
    def verdict(self) -> str:
        """The fit in a word: "fine", "tight" or "does not fit".

        "fine" leaves the play even at the worst; "does not fit" is too thick already as named.
        """
        if self.si.nominal < -_ROUNDING:
            return FAILS
        return PASSES if self.si.least >= max(self.si.play - _ROUNDING, _ROUNDING) else TIGHT


def clearance(hole: Hole, least: float, nominal: float, most: float, play: float) -> Clearance:
    """The clearance of a thing of this least, nominal and greatest diameter (m); the play in m as well."""
    return Clearance.of(
        least=hole.si.least - most, nominal=hole.si.nominal - nominal, most=hole.si.most - least, play=play
    )

"""Reed switches: one reed with its two thresholds, and a type as it is sold, with its band and its contacts' limits.

A reed is taken as a sensor of the flux density along its axis, at its middle: it closes at its pull-in and opens below
its release. Its own iron, which draws the field in, is not modelled.
"""

from __future__ import annotations

from typing import Any

from ..errors import RangeError, UnitError
from ..physics.magnetics import long_coil_field
from ..units import (
    AmpereTurns,
    ContactVoltage,
    Current,
    FluxDensity,
    Length,
    Power,
    Q,
    Resistance,
    Time,
    door,
    record,
    say,
)
from ..units.reading import quoted
from .table import Figures, PartsTable

NEAR_ONE_POLE = 2.0
"""How much more field a reed needs with one pole of a magnet near one of its ends (Littelfuse, Ampere-turn versus mT:
about twice, and a particular case may differ by a factor of 2 or more)."""

_LEAST_RELEASE = 1e-8  # T; far below the earth's field, and still above the rounding of the magnets' formulas
_LEAST_COIL, _MOST_COIL = 1e-3, 1.0  # m


@record
class Reed:
    """One reed switch, normally open: the flux densities along its axis at which it closes and opens again.

    `operate_time` is what it takes to close, bounce included; the usual figure is common practice, no source.
    """

    pull_in: FluxDensity
    release: FluxDensity
    operate_time: Time = "0.5 ms"
    name: str = ""

    def __post_init__(self) -> None:
        si = self.si
        if not si.release >= _LEAST_RELEASE:
            raise RangeError(
                f"release of a reed needs to be above zero, and {say(_LEAST_RELEASE, 'T')} or more, but "
                f'{say(si.release, "T")} came; give for example release="1 mT"'
            )
        if si.pull_in < si.release:
            raise RangeError(
                f"pull_in of a reed needs to be at or above its release of {say(si.release, 'T')}, "
                f"but {say(si.pull_in, 'T')} came; are the two the wrong way round?"
            )

    @classmethod
    @door(scalar=True)
    def from_ampere_turns(
        cls,
        pull_in: AmpereTurns,
        release: AmpereTurns,
        coil_length: Length,
        operate_time: Time = "0.5 ms",
        name: str = "",
    ) -> Any:
        """The reed whose data sheet gives ampere-turns, by the field of a long air coil: B = mu0 * N * I / length.

        A rough bridge, right within a factor of two at best: there is no exact one, since test coils differ and the
        reed's iron changes the field. Near one pole of a magnet about twice the field is needed (`near_one_pole`).

        Parameters
        ----------
        pull_in, release: as "15 AT"
        coil_length: of the test coil's winding

        Raises UnitError or RangeError for figures that cannot be.
        """
        if not _LEAST_COIL <= coil_length <= _MOST_COIL:
            raise RangeError(
                f"coil_length needs to be {say(_LEAST_COIL, 'm')} or more and {say(_MOST_COIL, 'm')} or less, but "
                f'{say(coil_length, "m")} came; give the length of the test coil\'s winding, such as "25 mm"'
            )
        closes, opens = (Q(float(long_coil_field(each, coil_length)), "T") for each in (pull_in, release))
        return cls(closes, opens, Q(operate_time, "s"), name)

    @property
    def hysteresis(self) -> float:
        """Pull-in over release: 1 or more."""
        return self.si.pull_in / self.si.release

    def near_one_pole(self) -> Reed:
        """The same reed where only one pole of a magnet comes near one of its ends: about twice the field is needed."""
        pull_in, release = (Q(NEAR_ONE_POLE * each, "T") for each in (self.si.pull_in, self.si.release))
        return Reed(pull_in, release, self.operate_time, f"{self.name or 'reed'} near one pole")


@record
class ReedType:
    """A type of reed switch as it is sold: the band in which a bought one may lie, and what its contacts bear.

    The bands are in ampere-turns in the maker's test coil; `coil_length` is what the rough bridge to flux density
    takes for it. `max_power`, `max_voltage` and `max_current` hold for switching, all three at once.
    """

    name: str
    pull_in_least: AmpereTurns
    pull_in_most: AmpereTurns
    release_least: AmpereTurns
    release_most: AmpereTurns
    coil_length: Length
    glass_length: Length
    max_power: Power
    max_voltage: ContactVoltage
    max_current: Current
    carry_current: Current
    contact_resistance: Resistance
    operate_time: Time
    bounce_time: Time
    release_time: Time

    def __post_init__(self) -> None:
        si = self.si
        for name in ("pull_in", "release"):
            least, most = getattr(si, f"{name}_least"), getattr(si, f"{name}_most")
            if least > most:
                raise RangeError(
                    f"{name}_least of {self.name} needs to be at or below {name}_most of {say(most, 'AT')}, "
                    f"but {say(least, 'AT')} came; are the two the wrong way round?"
                )

    @property
    def most_sensitive(self) -> Reed:
        """The reed of this type that closes and opens at the least field."""
        return self._reed(self.si.pull_in_least, self.si.release_least, "most sensitive")

    @property
    def middle(self) -> Reed:
        """The reed in the middle of both bands."""
        si = self.si
        pull_in, release = (si.pull_in_least + si.pull_in_most) / 2, (si.release_least + si.release_most) / 2
        return self._reed(pull_in, release, "middle")

    @property
    def least_sensitive(self) -> Reed:
        """The reed of this type that needs the most field to close, and opens soonest."""
        return self._reed(self.si.pull_in_most, self.si.release_most, "least sensitive")

    def _reed(self, pull_in: float, release: float, which: str) -> Reed:
        turns = (Q(pull_in, "AT"), Q(release, "AT"))
        return Reed.from_ampere_turns(*turns, self.coil_length, self.operate_time, f"{which} {self.name}")


def as_reed(reed: Any) -> Reed:
    """A single reed, or a UnitError that says how to come by one."""
    if isinstance(reed, ReedType) or (isinstance(reed, str) and reed in reeds):
        raise UnitError(
            "reed needs a single reed, but a type with a band came; "
            "take its .least_sensitive, .middle or .most_sensitive, or measure your own"
        )
    return _checked(reed, "reed needs a Reed")


def band_of(reed: Any) -> tuple[Reed, Reed, Reed]:
    """The least sensitive, the middle and the most sensitive reed of a type (a name in `reeds` or a record).

    A single reed, which was measured, stands for all three.
    """
    if isinstance(reed, str):
        reed = reeds[reed]
    if isinstance(reed, ReedType):
        return reed.least_sensitive, reed.middle, reed.most_sensitive
    return (_checked(reed, "reed needs a Reed, a ReedType or a name in reeds"),) * 3


def _checked(reed: Any, need: str) -> Reed:
    if isinstance(reed, Reed):
        return reed
    raise UnitError(f'{need}, but {quoted(reed)} came; write for example reed=Reed("2 mT", "1 mT")')


def _reed_type(name: str, figures: Figures) -> ReedType:
    return ReedType(name, **{key: figure.text for key, figure in figures.items()})


reeds: PartsTable[ReedType] = PartsTable("reed", "reeds.csv", _reed_type)
"""Types of reed switch by name."""

"""Reed switches: one reed with its two thresholds, and a type as it is sold, with its band and its contacts' limits.

A reed acts as a sensor of the flux density along its axis: it closes at its pull-in and opens below its release.
Thresholds that were measured with a magnet are those at its middle. Thresholds from a test coil hold where the field is
even; a magnet's is not, and `BRIDGE` says how much of it the reed needs, and over which length.
"""

from __future__ import annotations

import dataclasses
from typing import Annotated, Any, NamedTuple

from ..errors import UnitError
from ..physics.magnetics import long_coil_field
from ..units import (
    AmpereTurns,
    ContactVoltage,
    Current,
    Length,
    Power,
    Q,
    QuantityKind,
    Resistance,
    Time,
    record,
    with_units,
)
from ..units.reading import quoted
from .table import PartsTable, from_rows, need_name, need_rising

CoilLength = Annotated[Any, QuantityKind("length of a test coil", "m", 1e-3, 1.0, "25 mm")]
# at least 10 nT: far below the earth's field, and still above the rounding of the magnets' formulas
ReedField = Annotated[Any, QuantityKind("flux density", "T", 1e-8, 3.0, "2 mT")]


class Bridge(NamedTuple):
    """From a test coil to a magnet: how many times the coil's flux density the magnet's must reach at the reed.

    `least`, `usual` and `most` are factors; the magnet's flux density is the mean over `length` (m) about the reed's
    middle.
    """

    least: float
    usual: float
    most: float
    length: float


BRIDGE = Bridge(least=1.67, usual=4.67, most=13.1, length=10e-3)
"""Fitted to a maker's actuation distances (`data/reed_distances.csv`: 105 pairs of magnet and reed, six types).

The usual factor and the length make the ten magnets of the tables agree; least and most are where a pair of a further
type lies in 19 of 20 cases, from the spread between the types (Student's t, 5 degrees of freedom) and within them.

It rests on this: the leads are cropped or formed close to the glass; the coil is 25.4 mm long (the maker does not say);
the magnets are of N35, and the distance runs from the magnet to the glass, 1 mm outside the axis. The one maker whose
tables could be found lays the magnet along the reed or before its end; both fit the same factors. Not covered: leads
left long (the reed then closes farther off, and a neighbouring track reaches it more easily), iron within a few gaps of
magnet or reed (rails, wheels and frame of a locomotive: it may close much nearer or much farther off), a hot magnet
(take its remanence there), and other magnets or coils near by. Where that matters, measure your own pair.
"""

_ENDS = Bridge._fields[:3]


@record
class Reed:
    """One reed switch, normally open: the flux densities along its axis at which it closes and opens again.

    `operate_time` is what it takes to close, bounce included; the usual figure is common practice, no source. `bridge`
    is None where the flux densities are a magnet's, at the reed's middle; "least", "usual" or "most" where they are a
    test coil's, for the factor of `BRIDGE` that counts at a magnet.
    """

    pull_in: ReedField
    release: ReedField
    operate_time: Time = "0.5 ms"
    name: str = ""
    bridge: str | None = None

    def __post_init__(self) -> None:
        if self.bridge is not None:
            need_name(self.bridge, "bridge", _ENDS)
        need_rising(self, "release", "pull_in", advice="are the two the wrong way round?")

    @classmethod
    @with_units(scalar=True)
    def from_ampere_turns(
        cls,
        pull_in: AmpereTurns,
        release: AmpereTurns,
        coil_length: CoilLength,
        operate_time: Time = "0.5 ms",
        name: str = "",
    ) -> Any:
        """The reed whose data sheet gives ampere-turns, by the field of a long air coil: B = mu0 * N * I / length.

        The two flux densities are the coil's. At a magnet the reed needs several times as much, as a mean over its
        blades: `BRIDGE`, which `closures` and all that lets a magnet pass take into account.

        Parameters
        ----------
        pull_in, release: as "15 AT"
        coil_length: of the test coil's winding

        Raises UnitError or RangeError for figures that cannot be.
        """
        closes, opens = (Q(float(long_coil_field(each, coil_length)), "T") for each in (pull_in, release))
        return cls(closes, opens, Q(operate_time, "s"), name, "usual")

    @property
    def at_magnet(self) -> tuple[float, float]:
        """Pull-in and release in T of a magnet's flux density, as the mean over `length`."""
        times = 1.0 if self.bridge is None else getattr(BRIDGE, self.bridge)
        return times * self.si.pull_in, times * self.si.release

    @property
    def length(self) -> float:
        """The stretch of the reed in m, about its middle, over which a magnet's flux density counts; 0 for a point."""
        return 0.0 if self.bridge is None else BRIDGE.length


@record
class ReedType:
    """A type of reed switch as it is sold: the band in which a bought one may lie, and what its contacts may switch.

    The bands are in ampere-turns in the maker's test coil, which is `coil_length` long. `max_power`, `max_voltage` and
    `max_current` hold for switching, all three at once.
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
        for name in ("pull_in", "release"):
            need_rising(self, f"{name}_least", f"{name}_most")

    @property
    def most_sensitive(self) -> Reed:
        """The reed of this type that closes and opens at the least field."""
        return self._reed(0.0, "most sensitive", "least")

    @property
    def middle(self) -> Reed:
        """The reed in the middle of both bands."""
        return self._reed(0.5, "middle", "usual")

    @property
    def least_sensitive(self) -> Reed:
        """The reed of this type that needs the most field to close, and opens soonest."""
        return self._reed(1.0, "least sensitive", "most")

    def _reed(self, share: float, which: str, bridge: str) -> Reed:
        """The reed at a share of the way from the least to the most of both bands."""
        bands = (getattr(self.si, name) for name in ("pull_in_least", "pull_in_most", "release_least", "release_most"))
        low_pull, high_pull, low_release, high_release = bands
        turns = (low_pull + share * (high_pull - low_pull), low_release + share * (high_release - low_release))
        reed = Reed.from_ampere_turns(*Q(turns, "AT"), self.coil_length, self.operate_time, f"{which} {self.name}")
        return dataclasses.replace(reed, bridge=bridge)


def as_reed(reed: Any) -> Reed:
    """A single reed, or a UnitError that says how to come by one."""
    if isinstance(reed, ReedType) or (isinstance(reed, str) and reed in reeds):
        raise UnitError(
            argument="reed",
            need="a single Reed",
            given="a type with a band",
            advice="use its .least_sensitive, .middle or .most_sensitive, or measure your own",
        )
    return _checked(reed, Reed)


def as_sold(reed: Any) -> Reed | ReedType:
    """A type of reed from its name in `reeds` or its record, or a single reed; UnknownNameError or UnitError else."""
    return reeds[reed] if isinstance(reed, str) else _checked(reed, Reed | ReedType)


def band_of(reed: Any) -> tuple[Reed, Reed, Reed]:
    """The least sensitive, the middle and the most sensitive reed of a type (a name in `reeds` or a record).

    A single reed from ampere-turns has the band of `BRIDGE`; one that was measured with a magnet, or that is the end of
    a band already, counts for all three.
    """
    reed = as_sold(reed)
    if isinstance(reed, ReedType):
        return reed.least_sensitive, reed.middle, reed.most_sensitive
    ends = _ENDS[::-1] if reed.bridge == "usual" else (reed.bridge,) * 3
    return tuple(dataclasses.replace(reed, bridge=each) for each in ends)


def _checked(reed: Any, kinds: Any) -> Any:
    if isinstance(reed, kinds):
        return reed
    raise UnitError(
        argument="reed",
        need="a Reed, a ReedType or a name in reeds",
        given=quoted(reed),
        advice='write reed=Reed("2 mT", "1 mT")',
    )


reeds: PartsTable[ReedType] = PartsTable("reed", "reeds.csv", from_rows(ReedType))
"""Types of reed switch by name."""

"""A train sets off the signal: how long its magnet keeps the reed closed, how often, at what speeds; and the contacts.

What the reed works, a timer or a relay, needs the contact closed for some time. What the contacts may switch is limited
in power, voltage and current, all at once.
"""

from __future__ import annotations

import numpy as np

from ...errors import RangeError, UnitError
from ...parts.magnet import Magnet, as_magnet, as_orientation
from ...parts.reed import Reed, ReedType, as_sold, band_of
from ...parts.scale import ModelSpeed
from ...units import ContactVoltage, Current, FluxDensity, Length, Q, Speed, Time, record, say, with_units
from ...units.reading import quoted
from ..findings import DAMAGE, FINE, LOOK, STOP, Finding, check_rating
from ..tolerance import Band
from .magnet_and_reed import Gap, Passing, levels, said

Stretches = tuple[tuple[float, float], ...]

BOUNCE_FREE = 0.1
"""In A: above it a reed's bounce is almost gone (Coto reed switches, technical notes)."""


@record
class Trigger:
    """A train's magnet that works a reed, and through it a timer or relay.

    Attributes
    ----------
    worst, nominal, best: the stretches (m) over which the reed is closed, for a train in +x: of the weakest magnet past
        the least sensitive reed, the middle of both, the best of both
    peak: greatest flux density along the reed; pull_in: of the middle reed; both as the reed takes the magnet's field
    operate_time: what the reed needs to close, bounce included; needed: what the timer or relay needs after that
    largest_gap: at which the nominal pair still closes; 0 where it closes at none
    the others: as they were given
    """

    magnet: Magnet
    reed: Reed | ReedType
    orientation: str
    gap: Gap
    speed: ModelSpeed
    needed: Time
    operate_time: Time
    hold: Time | None
    both_ways: bool
    may_stop: bool
    peak: FluxDensity
    pull_in: FluxDensity
    largest_gap: Length
    worst: Stretches
    nominal: Stretches
    best: Stretches

    @property
    def closed(self) -> Band:
        """How long the longest closure lasts; 0 where the reed stays open."""
        return Band(*(each / self.si.speed for each in self._longest), "s")

    @property
    def fastest(self) -> Band:
        """The highest speed at which it lasts long enough."""
        least = self.si.operate_time + self.si.needed
        return Band(*(each / least if least else float("inf") for each in self._longest), "m/s")

    @property
    def last_after(self) -> Time:
        """How long after the first closing the last one comes, with the best pair."""
        return Q((self.best[-1][0] - self.best[0][0]) / self.si.speed if self.best else 0.0, "s")

    @property
    def slowest(self) -> Speed | None:
        """Below this speed a magnet's last closing may come after the on-time and start it again; None without one."""
        return None if self.hold is None else self.speed * (self.last_after / self.hold).to("").magnitude

    @property
    def _longest(self) -> list[float]:
        return [max((to - start for start, to in each), default=0.0) for each in self._cases]

    @property
    def _cases(self) -> tuple[Stretches, Stretches, Stretches]:
        return self.worst, self.nominal, self.best

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdicts on gap, speed, double triggers, direction and a train that stops."""
        if not self.nominal:
            return (self._stays_open(),)
        found = [self._closes(), self._speed(), self._number()]
        if self.both_ways:
            reason = (
                "A train the other way closes the reed as well: it responds to how strong the field is, not to which "
                "way it points."
            )
            found.append(Finding(LOOK, "reverse running", reason, "Cut the reed's circuit while such a train passes."))
        return (*found, self._standing()) if self.may_stop else tuple(found)

    def _stays_open(self) -> Finding:
        si = self.si
        reason = (
            f"{self.orientation.capitalize()} at a gap of {say(si.gap, 'm')}, the magnet's field along the reed peaks "
            f"at {say(si.peak, 'T')}, below the pull-in of {say(si.pull_in, 'T')}: the reed never closes."
        )
        remedy = "No gap helps: turn the magnet upright or lengthwise, or use a stronger one."
        if si.largest_gap:
            remedy = f"The limit is a gap of {say(si.largest_gap, 'm')}: bring it closer."
        return Finding(STOP, "closing", reason, remedy)

    def _closes(self) -> Finding:
        times = len(self.nominal)
        often = "once" if times == 1 else f"{times} times"
        reason = (
            f"{self.orientation.capitalize()} at a gap of {say(self.si.gap, 'm')}, the magnet closes the reed {often}."
        )
        if self.worst:
            return Finding(FINE, "closing", reason)
        reason += " The weakest magnet does not close the least sensitive reed."
        return Finding(LOOK, "closing", reason, "Try your own pair, or bring the magnet closer.")

    def _speed(self) -> Finding:
        si, least = self.si, self.si.operate_time + self.si.needed
        reason = (
            f"At {say(si.speed, 'm/s')} the longest closure lasts {said(self.closed)}; {say(least, 's')} are needed, "
            f"the reed's own {say(si.operate_time, 's')} included. The fastest train that still triggers runs at "
            f"{said(self.fastest)}."
        )
        if self.closed.least >= least:
            return Finding(FINE, "speed", reason)
        limit = "The limit is" if self.closed.nominal < least else "Stay below"
        if self.closed.nominal >= least:
            return Finding(
                LOOK, "speed", reason, f"{limit} {say(self.fastest.least, 'm/s')}, or bring the magnet closer."
            )
        remedy = (
            f"{limit} {say(self.fastest.nominal, 'm/s')}: run slower, bring the magnet closer or use a quicker timer."
        )
        return Finding(STOP, "speed", reason, remedy)

    def _number(self) -> Finding:
        least, *_, most = sorted(map(len, self._cases))
        last = float(self.last_after.magnitude)
        if most <= 1:
            return Finding(FINE, "double triggers", "Each magnet closes the reed once.")
        often = f"{most} times" if least == most else f"{least} to {most} times, as magnet and reed differ"
        reason = f"Each magnet closes the reed {often}; the last closing comes up to {say(last, 's')} after the first."
        if self.hold is not None and self.si.hold > last:
            slowest = say(self.slowest.magnitude, "m/s")
            reason += f" The on-time of {say(self.si.hold, 's')} covers that, down to {slowest}."
            return Finding(FINE, "double triggers", reason)
        remedy = f"Set an on-time longer than {say(last, 's')}, or lay the magnet lengthwise and farther away."
        return Finding(LOOK, "double triggers", reason, remedy)

    def _standing(self) -> Finding:
        covered = sum(to - start for start, to in self.best)
        reason = (
            f"A train that stops with its magnet from {say(self.best[0][0], 'm')} to {say(self.best[-1][1], 'm')} of "
            f"the reed may keep it closed ({say(covered, 'm')} of that for the best pair)."
        )
        remedy = (
            "Put the reed where no train stops, or use a timer that starts when the reed closes and then runs down."
        )
        return Finding(LOOK, "standing train", reason, remedy)


@with_units(scalar=True)
def trigger(
    magnet: Magnet | str,
    reed: Reed | ReedType | str,
    gap: Gap,
    orientation: str,
    speed: ModelSpeed,
    needed: Time,
    hold: Time | None = None,
    both_ways: bool = False,
    may_stop: bool = False,
) -> Trigger:
    """How a passing magnet works a reed at a speed of the model.

    Parameters
    ----------
    magnet: a record or a name in `magnets`; reed: a type (a name in `reeds`) with its band, or a single reed
    gap, orientation: as in `closures`
    speed: of the model, see `scale_speed`
    needed: how long the contact must stay closed for what it works: a relay's operate time, a timer's least pulse
    hold: how long the timer then stays on, if there is one
    both_ways: whether trains come from either side; may_stop: whether one may stop over the reed

    Raises UnitError, UnknownNameError or RangeError for what cannot be. A train too fast, or a magnet too far away, is
    answered, and the findings name the limit that was crossed.
    """
    if hold is not None and hold <= 0:
        raise RangeError(argument="hold", need="a time above zero", example="10 s", given=say(hold, "s"))
    magnet, orientation, reed = as_magnet(magnet), as_orientation(orientation), as_sold(reed)
    pull_in, release = levels(magnet, reed)
    passing = Passing.over(magnet, orientation, reed)
    worst, nominal, best = (tuple(map(tuple, each.tolist())) for each in passing.stretches(gap, 0.0, pull_in, release))
    return Trigger.of(
        magnet=magnet,
        reed=reed,
        orientation=orientation,
        gap=gap,
        speed=speed,
        needed=needed,
        operate_time=max(each.si.operate_time for each in band_of(reed)),
        hold=hold,
        both_ways=both_ways,
        may_stop=may_stop,
        peak=float(passing.peak(gap)[0]),
        pull_in=float(pull_in[1]),
        largest_gap=0.0 if nominal else float(np.nan_to_num(passing.largest_gaps(pull_in[1:2])[0])),
        worst=worst,
        nominal=nominal,
        best=best,
    )


@record
class ReedContact:
    """What a reed switches, set against what its contacts may; `inrush` is the current at the moment of closing."""

    reed: ReedType
    voltage: ContactVoltage
    current: Current
    inrush: Current

    @property
    def sentence(self) -> str:
        """Load and limits in words."""
        limit, si = self.reed.si, self.si
        return (
            f"The {self.reed.name} may switch {say(limit.max_power, 'W')}, {say(limit.max_voltage, 'V')} and "
            f"{say(limit.max_current, 'A')}, all three at once; here it switches {say(si.voltage, 'V')} and "
            f"{say(si.current, 'A')}, with {say(si.inrush, 'A')} at the moment of closing."
        )

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdict on the contacts, with every limit that is crossed; and on their bounce."""
        limit, si = self.reed.si, self.si
        rush = max(si.inrush, si.current)
        checks = (
            check_rating(f"The {what} the contacts", value, most, "", unit=unit, topic="")
            for what, value, most, unit in (
                ("voltage across", si.voltage, limit.max_voltage, "V"),
                ("current at closing through", rush, limit.max_current, "A"),
                ("current once closed through", si.current, limit.carry_current, "A"),
                ("product of voltage and current at", si.voltage * rush, limit.max_power, "W"),
            )
        )
        beyond = " ".join(each.reason for each in checks if each.grade != FINE)
        found = Finding(FINE, "reed's contacts", self.sentence)
        if beyond:
            # a dead short behind such a resistor stays within all three limits
            series = say(max(si.voltage / limit.max_current, si.voltage**2 / limit.max_power), "ohm")
            remedy = f"Let the reed work a relay or a transistor, or put {series} or more in series."
            found = Finding(STOP, "reed's contacts", beyond, remedy, DAMAGE)
        if si.current > BOUNCE_FREE:
            return (found,)
        reason = (
            f"At {say(si.current, 'A')} the contacts bounce for about {say(self.reed.si.bounce_time, 's')} (hardly at "
            f"all above {say(BOUNCE_FREE, 'A')}): a relay or a timer does not notice; a counter would count twice."
        )
        return found, Finding(FINE, "bounce", reason)


@with_units(scalar=True)
def reed_contact(
    reed: ReedType | str, voltage: ContactVoltage, current: Current, inrush: Current | None = None
) -> ReedContact:
    """Set a load against a reed's contacts.

    Parameters
    ----------
    reed: a type, or its name in `reeds`
    voltage: across the open contacts; current: through them once they are closed
    inrush: the greatest current at closing, more than `current` with a capacitor or a cold lamp

    Raises UnknownNameError for a reed in no table, UnitError or RangeError for what cannot be.
    """
    reed = as_sold(reed)
    if not isinstance(reed, ReedType):
        raise UnitError(
            argument="reed",
            need="a ReedType or a name in reeds",
            given=quoted(reed),
            advice="a single Reed has no limits for its contacts",
        )
    return ReedContact.of(reed=reed, voltage=voltage, current=current, inrush=current if inrush is None else inrush)

"""A train sets off the signal: how long its magnet keeps the reed closed, how often, at what speeds; and the contacts.

What the reed works, a timer or a relay, needs the contact closed for some time. What the contacts may switch is limited
in power, voltage and current, all at once.
"""

from __future__ import annotations

from ...errors import RangeError, UnitError
from ...parts.magnet import Magnet
from ...parts.reed import Reed, ReedType, as_sold, band_of
from ...parts.scale import ModelSpeed
from ...units import ContactVoltage, Current, Time, record, say, with_units
from ...units.reading import quoted
from ..findings import DAMAGE, FINE, LOOK, STOP, Finding, check_rating
from ..tolerance import Band
from .magnet_and_reed import Gap, Passing, levels, said, stays_open

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
    operate_time: what the reed needs to close, bounce included; needed: what the timer or relay needs after that
    the others: as they were given
    """

    orientation: str
    gap: Gap
    speed: ModelSpeed
    needed: Time
    operate_time: Time
    hold: Time | None
    both_ways: bool
    may_stop: bool
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
    def _longest(self) -> list[float]:
        """In m: of the worst, the nominal and the best pair."""
        cases = (self.worst, self.nominal, self.best)
        return [max((to - start for start, to in each), default=0.0) for each in cases]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdicts on speed, double triggers, direction and a train that stops; or that the reed stays open."""
        if not self.nominal:
            return (stays_open("closing", self.orientation, self.si.gap),)
        found = [self._speed(), self._number()]
        if self.both_ways:
            reason = (
                "A train the other way closes the reed as well: it responds to how strong the field is, not to which "
                "way it points."
            )
            found.append(Finding(LOOK, "reverse running", reason, "Cut the reed's circuit while such a train passes."))
        if self.may_stop:
            covered = sum(to - start for start, to in self.best)
            reason = (
                f"A train that stops with its magnet from {say(self.best[0][0], 'm')} to {say(self.best[-1][1], 'm')} "
                f"of the reed may keep it closed ({say(covered, 'm')} of that for the best pair)."
            )
            remedy = "Put the reed where no train stops, or use a timer that runs down while the reed is closed."
            found.append(Finding(LOOK, "standing train", reason, remedy))
        return tuple(found)

    def _speed(self) -> Finding:
        si, closed, fastest = self.si, self.closed, self.fastest
        least = si.operate_time + si.needed
        reason = (
            f"At {say(si.speed, 'm/s')} the longest closure lasts {said(closed)}; {say(least, 's')} are needed, "
            f"the reed's own {say(si.operate_time, 's')} included. The fastest train that still triggers runs at "
            f"{said(fastest)}."
        )
        if closed.least >= least:
            return Finding(FINE, "speed", reason)
        if closed.nominal >= least:
            slower = f"Stay below {say(fastest.least, 'm/s')}" if self.worst else "Try your own magnet and reed"
            return Finding(LOOK, "speed", reason, f"{slower}, or bring the magnet closer.")
        limit = say(fastest.nominal, "m/s")
        remedy = f"The limit is {limit}: run slower, bring the magnet closer or use a quicker timer."
        return Finding(STOP, "speed", reason, remedy)

    def _number(self) -> Finding:
        least, *_, most = sorted(map(len, (self.worst, self.nominal, self.best)))
        if most <= 1:
            return Finding(FINE, "double triggers", "Each magnet closes the reed once.")
        apart = self.best[-1][0] - self.best[0][0]
        last, hold = apart / self.si.speed, self.si.hold
        often = f"{most} times" if least == most else f"{least} to {most} times, as magnet and reed differ"
        reason = f"Each magnet closes the reed {often}; the last closing comes up to {say(last, 's')} after the first."
        if hold is not None and hold > last:
            reason += f" The on-time of {say(hold, 's')} covers that, down to {say(apart / hold, 'm/s')}."
            return Finding(FINE, "double triggers", reason)
        remedy = f"Set an on-time longer than {say(last, 's')}, or lay the magnet lengthwise and farther away."
        return Finding(LOOK, "double triggers", reason, remedy)


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
    passing = Passing.over(magnet, orientation, reed)
    found = passing.stretches(gap, 0.0, *levels(passing.magnet, reed))
    worst, nominal, best = (tuple(map(tuple, each.tolist())) for each in found)
    return Trigger.of(
        orientation=orientation,
        gap=gap,
        speed=speed,
        needed=needed,
        operate_time=max(each.si.operate_time for each in band_of(reed)),
        hold=hold,
        both_ways=both_ways,
        may_stop=may_stop,
        worst=worst,
        nominal=nominal,
        best=best,
    )


@with_units(scalar=True)
def reed_contact(reed: ReedType | str, voltage: ContactVoltage, current: Current) -> tuple[Finding, ...]:
    """The verdicts on a reed's contacts, with every limit that a load crosses; and on their bounce.

    Parameters
    ----------
    reed: a type, or its name in `reeds`
    voltage: across the open contacts; current: the most through them, at closing (into a capacitor, a cold lamp) too

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
    limit = reed.si
    checks = (
        check_rating(f"The {what} the contacts", value, most, "", unit=unit, topic="")
        for what, value, most, unit in (
            ("voltage across", voltage, limit.max_voltage, "V"),
            ("current at closing through", current, limit.max_current, "A"),
            ("current once closed through", current, limit.carry_current, "A"),
            ("product of voltage and current at", voltage * current, limit.max_power, "W"),
        )
    )
    beyond = " ".join(each.reason for each in checks if each.grade != FINE)
    reason = (
        f"The {reed.name} may switch {say(limit.max_power, 'W')}, {say(limit.max_voltage, 'V')} and "
        f"{say(limit.max_current, 'A')}, all three at once; here it switches {say(voltage, 'V')} and "
        f"{say(current, 'A')}."
    )
    found = Finding(FINE, "reed's contacts", reason)
    if beyond:
        # a dead short behind such a resistor stays within all three limits
        series = say(max(voltage / limit.max_current, voltage**2 / limit.max_power), "ohm")
        remedy = f"Let the reed work a relay or a transistor, or put {series} or more in series."
        found = Finding(STOP, "reed's contacts", beyond, remedy, DAMAGE)
    if current > BOUNCE_FREE:
        return (found,)
    reason = (
        f"At {say(current, 'A')} the contacts bounce for about {say(limit.bounce_time, 's')} (hardly at all above "
        f"{say(BOUNCE_FREE, 'A')}): a relay or a timer does not notice; a counter would count twice."
    )
    return found, Finding(FINE, "bounce", reason)

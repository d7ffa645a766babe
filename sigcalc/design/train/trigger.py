"""A train sets off the signal: how long its magnet keeps the reed closed, how often, at what speeds; and the contacts.

What the reed works, a timer or a relay, needs the contact closed for some time. What the contacts may switch is limited
in power, voltage and current, all at once.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...errors import RangeError, UnitError
from ...parts.magnet import Magnet
from ...parts.reed import Reed, ReedType, as_sold, band_of
from ...parts.scale import ModelSpeed
from ...units import ContactVoltage, Current, Time, say, with_units
from ...units.reading import quoted
from ..findings import DAMAGE, FINE, LOOK, STOP, Finding, check_rating
from ..tolerance import Band
from .magnet_and_reed import Gap, Passing, levels, said, stays_open

Stretches = tuple[tuple[float, float], ...]

BOUNCE_FREE = 0.1
"""In A: above it a reed's bounce is almost gone (Coto reed switches, technical notes)."""


@dataclass(frozen=True)
class Trigger:
    """A train's magnet that works a reed, and through it a timer or relay.

    Attributes
    ----------
    nominal, best: the stretches (m) over which the reed is closed, for a train in +x, of the middle of magnet and reed,
        and of the best of both
    closed: how long the longest closure lasts, 0 where the reed stays open; fastest: the highest speed at which it
        lasts long enough; both from the weakest magnet past the least sensitive reed to the best of both
    findings: on speed, double triggers, direction and a train that stops; or that the reed stays open
    """

    nominal: Stretches
    best: Stretches
    closed: Band
    fastest: Band
    findings: tuple[Finding, ...]


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
    _, nominal, best = cases = tuple(tuple(map(tuple, each.tolist())) for each in found)
    longest = [max((to - start for start, to in each), default=0.0) for each in cases]
    operate_time = max(each.si.operate_time for each in band_of(reed))
    least = operate_time + needed
    closed = Band(*(each / speed for each in longest), "s")
    fastest = Band(*(each / least if least else float("inf") for each in longest), "m/s")
    if not nominal:
        return Trigger(nominal, best, closed, fastest, (stays_open("closing", orientation, gap),))
    findings = [_speed(speed, operate_time, needed, closed, fastest), _number(cases, speed, hold)]
    if both_ways:
        findings.append(_OTHER_WAY)
    if may_stop:
        findings.append(_standing(best))
    return Trigger(nominal, best, closed, fastest, tuple(findings))


def _speed(speed: float, operate_time: float, needed: float, closed: Band, fastest: Band) -> Finding:
    least = operate_time + needed
    reason = (
        f"At {say(speed, 'm/s')} the longest closure lasts {said(closed)}; {say(least, 's')} are needed, the reed's "
        f"own {say(operate_time, 's')} included. The fastest train that still triggers runs at {said(fastest)}."
    )
    if closed.least >= least:
        return Finding(FINE, "speed", reason)
    if closed.nominal >= least:
        slower = f"Stay below {say(fastest.least, 'm/s')}" if closed.least else "Try your own magnet and reed"
        return Finding(LOOK, "speed", reason, f"{slower}, or bring the magnet closer.")
    remedy = f"The limit is {say(fastest.nominal, 'm/s')}: run slower, bring the magnet closer or use a quicker timer."
    return Finding(STOP, "speed", reason, remedy)


def _number(cases: tuple[Stretches, ...], speed: float, hold: float | None) -> Finding:
    topic, best = "double triggers", cases[-1]
    least, *_, most = sorted(map(len, cases))
    if most <= 1:
        return Finding(FINE, topic, "Each magnet closes the reed once.")
    apart = best[-1][0] - best[0][0]
    last = apart / speed
    often = f"{most} times" if least == most else f"{least} to {most} times, as magnet and reed differ"
    reason = f"Each magnet closes the reed {often}; the last closing comes up to {say(last, 's')} after the first."
    if hold is not None and hold > last:
        reason += f" The on-time of {say(hold, 's')} covers that, down to {say(apart / hold, 'm/s')}."
        return Finding(FINE, topic, reason)
    remedy = f"Set an on-time longer than {say(last, 's')}, or lay the magnet lengthwise and farther away."
    return Finding(LOOK, topic, reason, remedy)


_OTHER_WAY = Finding(
    LOOK,
    "reverse running",
    "A train the other way closes the reed too: it responds to how strong the field is, not to which way it points.",
    "Cut the reed's circuit while such a train passes.",
)


def _standing(best: Stretches) -> Finding:
    reason = (
        f"A train that stops with its magnet from {say(best[0][0], 'm')} to {say(best[-1][1], 'm')} of the reed may "
        f"keep it closed ({say(sum(to - start for start, to in best), 'm')} of that for the best pair)."
    )
    remedy = "Put the reed where no train stops, or use a timer that runs down while the reed is closed."
    return Finding(LOOK, "standing train", reason, remedy)


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

"""A train sets off the signal: how long its magnet keeps the reed closed, how often, and at what speeds it works."""

from __future__ import annotations

import numpy as np

from ...errors import RangeError
from ...parts.magnet import BarMagnet, Magnet, as_magnet, as_orientation
from ...parts.reed import Reed, ReedType, band_of, reeds
from ...units import FluxDensity, Length, Q, Speed, Time, record, say, with_units
from ..findings import FINE, LOOK, STOP, Finding
from .passing import Passage, Passing, levels, said


@record
class Trigger:
    """A train's magnet that works a reed, and through it a timer or relay.

    Attributes
    ----------
    worst: the weakest magnet past the least sensitive reed; nominal: the middle of both; best: the best of both
    peak: greatest flux density along the reed; pull_in: of the middle reed; both as the reed takes the magnet's field
    operate_time: what the reed takes to close, bounce included; needed: what the timer or relay needs after that
    the others: as they were given
    """

    magnet: Magnet | BarMagnet
    reed: Reed | ReedType
    orientation: str
    gap: Length
    speed: Speed
    needed: Time
    operate_time: Time
    hold: Time | None
    magnets_apart: Length | None
    both_ways: bool
    may_stop: bool
    peak: FluxDensity
    pull_in: FluxDensity
    offset: Length
    worst: Passage
    nominal: Passage
    best: Passage

    @property
    def largest_gap(self) -> Length:
        """The largest gap at which the nominal pair still closes, as a quantity; 0 where it closes at none."""
        passing = Passing.over(self.magnet, self.orientation, self.reed)
        (gap,) = passing.largest_gaps(np.array([self.si.pull_in]), self.si.offset)
        return Q(float(np.nan_to_num(gap)), "m")

    @property
    def slowest(self) -> Speed | None:
        """Below this speed a magnet's last closing may come after the hold and start it again; None without a hold."""
        if self.hold is None:
            return None
        return Q(self.best.si.first_to_last * self.si.speed / self.si.hold, "m/s")


@with_units(scalar=True)
def trigger(
    magnet: Magnet | BarMagnet | str,
    reed: Reed | ReedType | str,
    gap: Length,
    orientation: str,
    speed: Speed,
    needed: Time,
    hold: Time | None = None,
    magnets_apart: Length | None = None,
    both_ways: bool = False,
    may_stop: bool = False,
    offset: Length = "0 mm",
) -> Trigger:
    """How a passing magnet works a reed at a speed of the model.

    Parameters
    ----------
    magnet: a record or a name in `magnets`; reed: a type (a name in `reeds`) with its band, or a single reed
    gap, orientation, offset: as in `closures`
    speed: of the model, see `scale_speed`
    needed: how long the contact must stay closed for what it works: a relay's operate time, a timer's least pulse
    hold: how long the timer then holds, if there is one
    magnets_apart: from the first magnet of the train to the last, if it carries more than one
    both_ways: whether trains come from either side; may_stop: whether one may stop over the reed

    Raises UnitError, UnknownNameError or RangeError for what cannot be. A train too fast, or a magnet too far off, is
    answered, and `findings` names the limit that was crossed.
    """
    _above_zero(gap=(gap, "5 mm"), speed=(speed, "0.3 m/s"), hold=(hold, "10 s"))
    magnet, orientation = as_magnet(magnet), as_orientation(orientation)
    reed = reeds[reed] if isinstance(reed, str) else reed
    pull_in, release = levels(magnet, reed)
    passing = Passing.over(magnet, orientation, reed)
    operate_time = max(each.si.operate_time for each in band_of(reed))
    cases = passing.stretches(gap, offset, pull_in, release)
    worst, nominal, best = (Passage.at(each, speed, operate_time + needed) for each in cases)
    return Trigger.of(
        magnet=magnet,
        reed=reed,
        orientation=orientation,
        gap=gap,
        speed=speed,
        needed=needed,
        operate_time=operate_time,
        hold=hold,
        magnets_apart=magnets_apart,
        both_ways=both_ways,
        may_stop=may_stop,
        peak=float(passing.peak(gap, offset)[0]),
        pull_in=float(pull_in[1]),
        offset=offset,
        worst=worst,
        nominal=nominal,
        best=best,
    )


def _above_zero(**values: tuple[float | None, str]) -> None:
    for name, (value, example) in values.items():
        if value is not None and value <= 0:
            raise RangeError(f'{name} needs to be above zero, but 0 came; give for example {name}="{example}"')


def findings(result: Trigger) -> tuple[Finding, ...]:
    """The verdicts on gap, speed, double triggers, direction, several magnets and a train that stops."""
    if not result.nominal.stretches:
        return (_stays_open(result),)
    found = [_closes(result), _speed(result), _number(result)]
    if result.both_ways:
        reason = "A train the other way works the reed as well: it answers to the field's amount, not its direction."
        found.append(Finding(LOOK, "reverse running", reason, "Cut the reed's circuit while such a train passes."))
    if result.magnets_apart is not None:
        found.append(_several_magnets(result))
    if result.may_stop:
        found.append(_standing(result))
    return tuple(found)


def _stays_open(result: Trigger) -> Finding:
    si = result.si
    reason = (
        f"{result.orientation.capitalize()} at a gap of {say(si.gap, 'm')}, the magnet's field along the reed peaks at "
        f"{say(si.peak, 'T')}, below the pull-in of {say(si.pull_in, 'T')}: the reed never closes."
    )
    limit = result.largest_gap.magnitude
    if limit:
        return Finding(STOP, "closing", reason, f"The limit is a gap of {say(limit, 'm')}: bring it closer.")
    return Finding(
        STOP, "closing", reason, "No gap helps: turn the magnet upright or lengthwise, or take a stronger one."
    )


def _closes(result: Trigger) -> Finding:
    times = len(result.nominal.stretches)
    often = "once" if times == 1 else f"{times} times"
    reason = (
        f"{result.orientation.capitalize()} at a gap of {say(result.si.gap, 'm')}, the magnet closes the reed {often}."
    )
    if result.worst.stretches:
        return Finding(FINE, "closing", reason)
    reason += " The weakest magnet does not close the least sensitive reed."
    return Finding(LOOK, "closing", reason, "Try your own pair, or bring the magnet closer.")


def _speed(result: Trigger) -> Finding:
    si, least = result.si, result.si.operate_time + result.si.needed
    closed, fastest = ([getattr(each.si, name) for each in _cases(result)] for name in ("closed", "fastest"))
    reason = (
        f"At {say(si.speed, 'm/s')} the longest closure lasts {said(closed[0], closed[1], closed[2], 's')}; "
        f"{say(least, 's')} are needed, the reed's own {say(si.operate_time, 's')} included. "
        f"The fastest train that still triggers does {said(fastest[0], fastest[1], fastest[2], 'm/s')}."
    )
    if closed[0] >= least:
        return Finding(FINE, "speed", reason)
    if closed[1] >= least:
        return Finding(LOOK, "speed", reason, f"Stay below {say(fastest[0], 'm/s')}, or bring the magnet closer.")
    remedy = f"The limit is {say(fastest[1], 'm/s')}: run slower, bring the magnet closer or take a quicker timer."
    return Finding(STOP, "speed", reason, remedy)


def _number(result: Trigger) -> Finding:
    counts = [len(each.stretches) for each in _cases(result)]
    least, most = min(counts), max(counts)
    last = result.best.si.first_to_last
    if most <= 1:
        return Finding(FINE, "double triggers", "Each magnet closes the reed once.")
    often = f"{most} times" if least == most else f"{least} to {most} times, as magnet and reed differ"
    reason = f"Each magnet closes the reed {often}; the last closing comes up to {say(last, 's')} after the first."
    if result.hold is not None and result.si.hold > last:
        slowest = say(result.slowest.magnitude, "m/s")
        reason += f" The hold of {say(result.si.hold, 's')} covers that, down to {slowest}."
        return Finding(FINE, "double triggers", reason)
    remedy = f"Let the timer hold longer than {say(last, 's')}, or lay the magnet lengthwise and farther off."
    return Finding(LOOK, "double triggers", reason, remedy)


def _several_magnets(result: Trigger) -> Finding:
    apart = result.si.magnets_apart / result.si.speed
    reason = f"The train's last magnet comes {say(apart, 's')} after its first."
    if result.hold is not None and result.si.hold > apart:
        reason += (
            f" The hold of {say(result.si.hold, 's')} covers that; a timer that retriggers holds from the last one."
        )
        return Finding(FINE, "several magnets", reason)
    remedy = "The signal would be set twice: hold longer, or leave only the first magnet."
    return Finding(LOOK, "several magnets", reason, remedy)


def _standing(result: Trigger) -> Finding:
    start, end = result.best.stretches[0][0], result.best.stretches[-1][1]
    covered = sum(to - begin for begin, to in result.best.stretches)
    reason = (
        f"A train that stops with its magnet from {say(start, 'm')} to {say(end, 'm')} of the reed may keep it closed "
        f"({say(covered, 'm')} of that for the best pair)."
    )
    remedy = (
        "Put the reed where no train stops, or take a timer that starts at the closing and not as long as it lasts."
    )
    return Finding(LOOK, "standing train", reason, remedy)


def _cases(result: Trigger) -> tuple[Passage, Passage, Passage]:
    return result.worst, result.nominal, result.best

"""A passing train works the signal: when it turns red and green again, and whether that is right for this train."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from ...errors import RangeError
from ...parts.scale import ModelSpeed
from ...units import Length, Time, record, say, with_units
from ..findings import FINE, LOOK, STOP, Finding
from .magnet_and_reed import levels, stays_open
from .train_run import SPARE, Happenings, TrainLength, TrainRun

RIGHT, NEEDLESS, MISSED, OWN_RED, SHORT = (
    "this train gets its red",
    "red for a train that does not need it",
    "never red",
    "red too early",
    "green too soon",
)

_APPROACH, _LEAST_APPROACH, _AFTER = 0.15, 0.06, 0.06  # of the train's length; m; of the time


@with_units(scalar=True)
def train_hold(
    length: TrainLength, speed: ModelSpeed, clearing_distance: Length, magnet_from_front: Length = "0 mm"
) -> Time:
    """The on-time that a train needs: the way from the reed's closing to its last wheel being clear, over its speed.

    Parameters
    ----------
    length: of the whole train on the model
    speed: of the model, such as "0.3 m/s"
    clearing_distance: from the reed to the place that the last wheel must have passed
    magnet_from_front: how far the magnet lies behind the train's front

    Raises RangeError where the magnet lies behind the train's end, or for a value out of range.
    """
    if magnet_from_front > length:
        raise RangeError(
            argument="magnet_from_front",
            need=f"no more than the train's length of {say(length, 'm')}",
            given=say(magnet_from_front, "m"),
            advice="measure from the train's front",
        )
    return (length - magnet_from_front + clearing_distance) / speed


def hold_findings(needed: float, hold: float, speed: float) -> tuple[Finding, ...]:
    """The verdict on an on-time (s) against the one that a train needs at a speed (m/s)."""
    reason = (
        f"At {say(speed, 'm/s')} the train needs an on-time of {say(needed, 's')} until its last wheel is clear; the "
        f"timer is on for {say(hold, 's')}."
    )
    if hold >= needed:
        reason += f" That is enough for trains as slow as {say(speed * needed / hold, 'm/s')}."
        return (Finding(FINE, "on-time for the train", reason),)
    reason += f" The signal turns green with {say((needed - hold) * speed, 'm')} still to go."
    return (Finding(STOP, "on-time for the train", reason, "Set a longer on-time, or run faster."),)


@record
class PassingTrain:
    """One train with nominal parts, on one timeline.

    Attributes
    ----------
    happenings: the spans of field, contact, timer and lamp; a single case
    red_from, red_until: of the first red, from `start`; None where there is none
    clear: when the last wheel is clear; at_signal: when the front passes the signal; both from `start`
    start: how long before the first magnet is over the reed the account begins: before the signal and the reed
    end: how long the account is
    needed: the on-time that keeps the signal red until the train is clear
    least_beyond: how far beyond the signal the reed must be for no train to see red too early, whichever magnet and
        reed of the band are bought
    """

    run: TrainRun
    happenings: Happenings
    start: Time
    end: Time
    red_from: Time | None
    red_until: Time | None
    at_signal: Time
    clear: Time
    needed: Time
    least_beyond: Length

    @property
    def verdict(self) -> str:
        """What becomes of this train's signal, the gravest first."""
        case = self.happenings
        if case.missed[0]:
            return MISSED
        if self.run.backwards:
            return NEEDLESS
        if case.short[0]:
            return SHORT
        return OWN_RED if case.own_red[0] else RIGHT

    def moments(self, count: int) -> np.ndarray:
        """So many times in s from `start`, rising: every event, and what is left spread evenly over the account."""
        case, si = self.happenings, self.si
        spans = [each for some in (case.field, case.contact, case.timer, case.red) for each in some]
        events = np.unique(np.concatenate([*(each[0] for each in spans), case.at_signal, case.clear]) + si.start)
        events = events[(events > 0) & (events < si.end)][: count // 2]
        return np.sort(np.concatenate([events, np.linspace(0, si.end, count - len(events))]))

    @property
    def closings(self) -> int:
        """How often the field closes the reed."""
        return int(np.isfinite(self.happenings.field.starts[0]).sum())

    @property
    def reds(self) -> int:
        """How often the lamp turns red."""
        return int(np.isfinite(self.happenings.red.starts[0]).sum())

    @property
    def sentence(self) -> str:
        """The passing in words."""
        si, run = self.si, self.run.si
        if self.verdict == MISSED:
            why = "the reed closes for too short a time" if self.closings else "the magnet does not close the reed"
            return f"The train passes at {say(run.speed, 'm/s')} and the signal stays green: {why}."
        late = si.red_until - si.clear
        when = f"{say(abs(late), 's', 2)} {'after' if late >= 0 else 'before'} the last wheel is clear"
        until = f"and green again {say(si.red_until - si.red_from, 's')} later, {when}"
        again = "" if self.reds == 1 else f" It turns red {_times(self.reds)}."
        return (
            f"At {say(run.speed, 'm/s')} the magnet closes the reed {_times(self.closings)}; the signal turns red "
            f"{self._front_then} {until}.{again}"
        )

    @property
    def _front_then(self) -> str:
        """Where the front is when the lamp turns red."""
        place = float(self.run.place(self.happenings.red.first[0])) + self.run.si.magnet_from_front
        beyond = place - self.run.signal
        if abs(beyond) < 5e-4:
            return "with its front right at the signal"
        return f"with its front {say(abs(beyond), 'm', 2)} {'beyond' if beyond > 0 else 'before'} the signal,"

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Red or not, for how long, the reed's place, second reds, the other way, a halt."""
        if self.verdict == MISSED:
            return (self._missed(),)
        if self.run.backwards:
            reason = "A train that comes the other way turns the signal red as well, though its driver cannot see it."
            remedy = "Cut the reed's circuit for such trains, or leave it so."
            found = [Finding(LOOK, "the other way", reason, remedy)]
        else:
            found = [self._length_of_red(), self._place()]
        if self.reds > 1:
            red = self.happenings.red
            green = say(float(red.starts[0, 1] - red.ends[0, 0]), "s", 2)
            reason = f"The lamp turns red {_times(self.reds)} for one train, with {green} of green between."
            remedy = "Set a longer on-time, or leave only the first magnet."
            found.append(Finding(LOOK, "second red", reason, remedy))
        return tuple(found) if self.run.stop_at is None else (*found, self._halt())

    def _missed(self) -> Finding:
        run, case = self.run, self.happenings
        if not self.closings:
            return stays_open("red", run.orientation, run.si.gap)
        longest = float(np.nanmax(case.field.ends - case.field.starts))
        need = run.operate_time + run.least_pulse
        reason = (
            f"The longest closing lasts {say(longest, 's')}; reed and timer need {say(need, 's')}. The limit is "
            f"{say(run.si.speed * longest / need, 'm/s')}."
        )
        own = run.circuit.timer.least_pulse
        other = "" if own is not None else ", or use less resistance at the reed or a smaller capacitor"
        return Finding(STOP, "red", reason, f"Run slower, or bring the magnet nearer{other}.")

    def _length_of_red(self) -> Finding:
        si, run = self.si, self.run
        red = si.red_until - si.red_from
        reason = f"Red lasts {say(red, 's')}; {say(si.needed, 's')} are needed until the last wheel is clear."
        if red >= si.needed:
            return Finding(FINE, "on-time", reason)
        at = run.place([si.red_until - si.start, si.clear - si.start])
        reason += f" The signal turns green with {say(float(at[1] - at[0]), 'm')} still to go."
        remedy = "Run faster" if run.stop_at is None else "Put the reed where no train halts"
        return Finding(STOP, "on-time", reason, f"{remedy}, or set an on-time of {say(SPARE * si.needed, 's', 2)}.")

    def _place(self) -> Finding:
        run, least = self.run, self.si.least_beyond
        place = f"{say(run.si.reed_beyond, 'm')} beyond" if run.si.reed_beyond else "right at"
        needs = f"it must be {say(least, 'm')} or more" if least else "any place from the signal on will do"
        reason = (
            f"The reed is {place} the signal; with the magnet {say(run.si.magnet_from_front, 'm')} behind the front "
            f"{needs}, for the most sensitive reed."
        )
        if run.si.reed_beyond >= least:
            return Finding(FINE, "reed's place", reason)
        reason += " Otherwise the train sees the red it has set itself."
        grade = STOP if self.happenings.own_red[0] else LOOK
        return Finding(grade, "reed's place", reason, "Move the reed on.")

    def _halt(self) -> Finding:
        run = self.run
        middle = float(run.when(run.si.stop_at)) + run.si.stop_time / 2
        reason = "The train halts with the reed open: the on-time runs out while it waits."
        if self.happenings.field.holds(middle)[0]:
            then = "until the reed opens"
            if run.circuit.timer.retriggers:
                then = "and starts its on-time anew when the reed opens"
            reason = f"The train halts with the reed closed: this keeps the timer on, {then}."
        return Finding(LOOK, "halt", reason, "Put the reed where no train halts.")


def passing_train(run: TrainRun, **changes: Any) -> PassingTrain:
    """What happens when a train passes, with parts as printed.

    `changes` are fields of the run to be given anew, such as `speed="0.5 m/s"`.

    Raises RangeError for second magnets too near the first, UnitError, UnknownNameError or RangeError for bad changes.
    """
    run = dataclasses.replace(run, **changes) if changes else run
    pull_in, release = levels(run.magnet, run.reed)
    case = run.happenings(pull_in[1:2], release[1:2], run.hold)
    approach = max(_APPROACH * run.si.length, _LEAST_APPROACH)
    start = -float(run.when(min(run.front_at(run.signal), 0.0) - approach))
    since, until, clear = (float(each[0]) for each in (case.red.first, case.red.first_end, case.clear))
    reds = case.red.ends[np.isfinite(case.red.ends)]
    # the most sensitive reed closes soonest; what reed and relay add only helps
    first = np.nan_to_num(run.stretches(pull_in, release)[0][:, 0]).min()
    return PassingTrain.of(
        run=run,
        happenings=case,
        start=start,
        end=(start + max(clear, *reds, clear)) * (1 + _AFTER),
        red_from=None if np.isnan(since) else since + start,
        red_until=None if np.isnan(until) else until + start,
        at_signal=float(case.at_signal[0]) + start,
        clear=clear + start,
        needed=max(clear - (0.0 if np.isnan(since) else since), 0.0),
        least_beyond=max(-float(first) - run.si.magnet_from_front, 0.0),
    )


def _times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")

"""A passing train works the signal: when it turns red and green again, and whether that is right for this train."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from typing import Any

import numpy as np

from ...parts.reed import band_of
from ...physics.magnetics import CROSSWISE
from ...units import Length, Time, record, say
from ..findings import FINE, LOOK, STOP, Finding
from .magnet_and_reed import levels
from .train_run import SPARE, Happenings, TrainRun

RIGHT, NEEDLESS, MISSED, OWN_RED, SHORT = (
    "red for this train",
    "red for a train that it does not concern",
    "never red",
    "red before its own front",
    "green too soon",
)


_APPROACH, _LEAST_APPROACH, _AFTER = 0.15, 0.06, 0.06  # of the train's length; m; of the time


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
    needed: the hold that keeps the signal red until the train is clear
    least_beyond: how far beyond the signal the reed must stand for no train to see its own red, whichever magnet and
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
            return f"The train passes at {say(run.speed, 'm/s')} and the signal stays green: {self._why_missed}."
        often = _times(self.closings)
        late = si.red_until - si.clear
        when = f"{say(abs(late), 's', 2)} {'after' if late >= 0 else 'before'} the last wheel is clear"
        until = f"and green again {say(si.red_until - si.red_from, 's')} later, {when}"
        again = "" if self.reds == 1 else f" It turns red {_times(self.reds)}."
        return (
            f"At {say(run.speed, 'm/s')} the magnet closes the reed {often}; the signal turns red "
            f"{self._front_then} {until}.{again}"
        )

    @property
    def _why_missed(self) -> str:
        if not self.closings:
            return "the magnet does not close the reed"
        return "the reed closes for too short a time"

    @property
    def _front_then(self) -> str:
        """Where the front is when the lamp turns red."""
        place = float(self.run.place(self.happenings.red.first[0])) + self.run.si.magnet_from_front
        beyond = place - self.run.signal
        if abs(beyond) < 5e-4:
            return "with its front right at the signal"
        return f"with its front {say(abs(beyond), 'm', 2)} {'beyond' if beyond > 0 else 'before'} the signal,"


def passing_train(run: TrainRun, **changes: Any) -> PassingTrain:
    """What happens when a train passes, with parts as printed.

    `changes` are fields of the run to be given anew, such as `speed="0.5 m/s"`.

    Raises RangeError for second magnets too near the first, UnitError, UnknownNameError or RangeError for bad changes.
    """
    run = dataclasses.replace(run, **changes) if changes else run
    pull_in, release = levels(run.magnet, run.reed)
    case = run.happenings(pull_in[1:2], release[1:2], run.hold)
    start, end = _account(run, case)
    until, since = float(case.red.first_end[0]), float(case.red.first[0])
    return PassingTrain.of(
        run=run,
        happenings=case,
        start=start,
        end=end,
        red_from=None if np.isnan(since) else since + start,
        red_until=None if np.isnan(until) else until + start,
        at_signal=float(case.at_signal[0]) + start,
        clear=float(case.clear[0]) + start,
        needed=max(float(case.clear[0]) - (0.0 if np.isnan(since) else since), 0.0),
        least_beyond=_least_beyond(run, pull_in, release),
    )


def _account(run: TrainRun, case: Happenings) -> tuple[float, float]:
    """How long before 0 s the account begins, and how long it is: the whole passing and the whole red."""
    approach = max(_APPROACH * run.si.length, _LEAST_APPROACH)
    start = -float(run.when(min(run.front_at(run.signal), 0.0) - approach))
    reds = case.red.ends[np.isfinite(case.red.ends)]
    last = max(float(case.clear[0]), *reds) if len(reds) else float(case.clear[0])
    return start, (start + last) * (1 + _AFTER)


def _least_beyond(run: TrainRun, pull_in: Any, release: Any) -> float:
    """The most sensitive reed closes soonest; what reed and relay take on top only helps."""
    first = np.nan_to_num(run.stretches(pull_in, release)[0][:, 0]).min()
    return max(-float(first) - run.si.magnet_from_front, 0.0)


def _times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def findings(result: PassingTrain) -> tuple[Finding, ...]:
    """The verdicts on a passing: red or not, for how long, the reed's place, second reds, the other way, a halt."""
    if result.verdict == MISSED:
        return (_missed(result),)
    checks = (_length_of_red, _place, _several_reds, _backwards, _halt)
    return tuple(finding for check in checks for finding in check(result))


def _missed(result: PassingTrain) -> Finding:
    run, case = result.run, result.happenings
    if not result.closings:
        reason = f"{run.orientation.capitalize()} at {say(run.si.gap, 'm')} the magnet does not close the reed."
        turned = "Turn the magnet upright or lengthwise, or bring it nearer."
        return Finding(STOP, "red", reason, turned if run.orientation == CROSSWISE else "Bring the magnet nearer.")
    longest = float(np.nanmax(case.field.ends - case.field.starts))
    need = max(each.si.operate_time for each in band_of(run.reed)) + run.least_pulse
    fastest = run.si.speed * longest / need
    reason = (
        f"The longest closing lasts {say(longest, 's')}; reed and timer need {say(need, 's')}. The limit is "
        f"{say(fastest, 'm/s')}."
    )
    own = run.circuit.timer.least_pulse
    other = "" if own is not None else ", or let less resistance or a smaller capacitor shorten what the timer needs"
    return Finding(STOP, "red", reason, f"Run slower, or bring the magnet nearer{other}.")


def _length_of_red(result: PassingTrain) -> Iterator[Finding]:
    si = result.si
    if result.run.backwards:
        return
    red = si.red_until - si.red_from
    reason = f"Red lasts {say(red, 's')}; until the last wheel is clear it takes {say(si.needed, 's')}."
    if red < si.needed:
        run = result.run
        at = run.place([si.red_until - si.start, si.clear - si.start])
        reason += f" The signal turns green with {say(float(at[1] - at[0]), 'm')} still to go."
        remedy = "Run faster" if run.stop_at is None else "Put the reed where no train halts"
        yield Finding(STOP, "hold", reason, f"{remedy}, or hold for {say(SPARE * si.needed, 's', 2)}.")
    else:
        yield Finding(FINE, "hold", reason)


def _place(result: PassingTrain) -> Iterator[Finding]:
    run, least = result.run, result.si.least_beyond
    if run.backwards:
        return
    stands = (
        f"The reed stands {say(run.si.reed_beyond, 'm')} beyond the signal"
        if run.si.reed_beyond
        else "The reed stands right at the signal"
    )
    needs = f"it must be {say(least, 'm')} or more" if least else "any place from the signal on will do"
    reason = (
        f"{stands}; with the magnet {say(run.si.magnet_from_front, 'm')} behind the front {needs}, for the most "
        "sensitive reed."
    )
    if run.si.reed_beyond >= least:
        yield Finding(FINE, "reed's place", reason)
    else:
        grade = STOP if result.happenings.own_red[0] else LOOK
        yield Finding(grade, "reed's place", f"{reason} Else a train sees its own red.", "Move the reed on.")


def _several_reds(result: PassingTrain) -> Iterator[Finding]:
    if result.reds > 1:
        red = result.happenings.red
        between = float(red.starts[0, 1] - red.ends[0, 0])
        reason = (
            f"The lamp turns red {_times(result.reds)} for one train, with {say(between, 's', 2)} of green between."
        )
        yield Finding(LOOK, "second red", reason, "Hold longer, or leave only the first magnet.")


def _backwards(result: PassingTrain) -> Iterator[Finding]:
    if result.run.backwards:
        reason = "A train that comes the other way sets the signal as well, though it concerns no driver."
        yield Finding(LOOK, "the other way", reason, "Cut the reed's circuit for such trains, or let it be.")


def _halt(result: PassingTrain) -> Iterator[Finding]:
    run, case = result.run, result.happenings
    if run.stop_at is None:
        return
    middle = float(run.when(run.si.stop_at)) + run.si.stop_time / 2
    if case.field.holds(middle)[0]:
        then = (
            "and holds anew from the moment the reed opens" if run.circuit.timer.retriggers else "until the reed opens"
        )
        reason = f"The train halts with the reed closed: this keeps the timer on, {then}."
    else:
        reason = "The train halts with the reed open: the hold runs out while it stands."
    yield Finding(LOOK, "halt", reason, "Put the reed where no train halts.")

"""What happens one after the other when a train passes a reed: motion, contact, timer, relay, each from the one before.

Nothing is stepped through time. A span is a pair of times in s; spans stand in two arrays, `starts` and `ends`, whose
last axis, at least one long, holds the spans of one case in rising order. NaN stands where a case has fewer spans than
its neighbours.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


class Spans(NamedTuple):
    """Spans of time (s): two arrays of one shape, NaN where there is none."""

    starts: Array
    ends: Array

    def holds(self, time: ArrayLike) -> NDArray[np.bool_]:
        """Whether a time lies in one of the spans; `time` broadcasts against all axes but the last."""
        time = np.asarray(time, float)[..., np.newaxis]
        return ((time >= self.starts) & (time < self.ends)).any(axis=-1)

    @property
    def first(self) -> Array:
        """The earliest start of each case, NaN where it has no span."""
        return self.starts[..., 0]

    @property
    def first_end(self) -> Array:
        """The end of the earliest span of each case, NaN where it has none."""
        return self.ends[..., 0]


def time_at(place: ArrayLike, speed: ArrayLike, stop_at: ArrayLike = np.inf, stop_time: ArrayLike = 0.0) -> Array:
    """Time (s) at which something that is at 0 m at 0 s passes a place (m), with one halt on the way.

    `speed` is in m/s, above 0; it halts at `stop_at` (m, infinity: never) for `stop_time` (s), and passes that place
    itself before it.
    """
    place, speed, stop_at = (np.asarray(each, float) for each in (place, speed, stop_at))
    # counted from the halt if it lies before 0 m: what is at 0 m at 0 s has it behind itself by then
    waits = (place > stop_at) * 1.0 - (stop_at < 0)
    return place / speed + waits * stop_time


def place_at(time: ArrayLike, speed: ArrayLike, stop_at: ArrayLike = np.inf, stop_time: ArrayLike = 0.0) -> Array:
    """The place (m) at a time (s): `time_at` the other way round, with the same arguments."""
    time, speed, stop_at = (np.asarray(each, float) for each in (time, speed, stop_at))
    arrives = time_at(stop_at, speed, stop_at, stop_time)
    before = np.where(stop_at < 0, time + stop_time, time) * speed
    after = np.where(stop_at < 0, time, time - stop_time) * speed
    return np.where(time <= arrives, before, np.where(time <= arrives + stop_time, stop_at, after))


def joined(spans: Spans) -> Spans:
    """Spans in any order, those that touch or overlap made one; the shape stays."""
    order = np.argsort(spans.starts, axis=-1)  # NaN comes last
    starts, ends = (np.take_along_axis(each, order, axis=-1) for each in spans)
    reached = np.maximum.accumulate(np.where(np.isnan(ends), -np.inf, ends), axis=-1)
    before = np.concatenate([np.full_like(reached[..., :1], -np.inf), reached[..., :-1]], axis=-1)
    begins = starts > before
    # a stretch ends where the last span before the next beginning does
    last = np.concatenate([begins[..., 1:], np.ones_like(begins[..., :1])], axis=-1) | np.isnan(_next(starts))
    return _packed(np.where(begins, starts, np.nan), np.where(last & ~np.isnan(starts), reached, np.nan))


def contact_spans(
    closes: ArrayLike, opens: ArrayLike, operate_time: ArrayLike, release_time: ArrayLike, least_pulse: ArrayLike = 0.0
) -> Spans:
    """When a contact is certainly closed: after its operate time, bounce included, until its release time has passed.

    A closing that does not outlast the operate time by `least_pulse`, the shortest that what it works responds to, is
    left out: its span is NaN.

    Parameters
    ----------
    closes, opens : array_like
        The times (s) at which the field is enough, and no more enough; spans along the last axis.
    operate_time, release_time, least_pulse : array_like
        s; they broadcast against all axes but the last.
    """
    closes, opens = np.broadcast_arrays(np.asarray(closes, float), np.asarray(opens, float))
    operate, release, least = _columns(operate_time, release_time, least_pulse)
    starts, ends = np.broadcast_arrays(closes + operate, opens + release)
    enough = opens - closes >= operate + least
    return joined(Spans(np.where(enough, starts, np.nan), np.where(enough, ends, np.nan)))


def timer_spans(contact: Spans, hold: ArrayLike, retriggers: bool) -> Spans:
    """When a hold timer is on.

    One that retriggers is on from a closing until `hold` after the opening. One that does not ignores closings while it
    is on, but a contact that is still closed at the end keeps it on until it opens. Source: TI LM555
    data sheet SNAS548B, monostable operation, for the latter.

    Parameters
    ----------
    contact : Spans
        In rising order, as `contact_spans` gives them.
    hold : array_like
        s, infinite where it never ends, 0 where the timer does not come on; broadcasts against all axes but the last.
    """
    (hold,) = _columns(hold)
    closes, opens, held = np.broadcast_arrays(np.where(hold > 0, contact.starts, np.nan), contact.ends, hold)
    opens = np.where(np.isnan(closes), np.nan, opens)
    if retriggers:
        return joined(Spans(closes, opens + held))
    return _one_shot(closes, opens, held[..., 0])


def _one_shot(closes: Array, opens: Array, hold: Array) -> Spans:
    """Span by span, for all cases at once: whether a closing counts depends on the one before."""
    starts, ends = np.full_like(closes, np.nan), np.full_like(closes, np.nan)
    end = np.full(closes.shape[:-1], -np.inf)
    current = np.zeros(closes.shape[:-1], dtype=np.intp)
    for place in range(closes.shape[-1]):
        close, opened = closes[..., place], opens[..., place]
        anew = close > end
        current = np.where(anew, place, current)
        end = np.where(anew, np.maximum(close + hold, opened), np.where(close <= end, np.maximum(end, opened), end))
        starts[..., place] = np.where(anew, close, np.nan)
        np.put_along_axis(ends, current[..., np.newaxis], end[..., np.newaxis], axis=-1)
    return _packed(starts, np.where(np.isnan(starts), np.nan, ends))


def delayed(spans: Spans, on_delay: ArrayLike, off_delay: ArrayLike) -> Spans:
    """Spans of something that follows others late: on after `on_delay`, off after `off_delay` (s).

    A span that is over before it would begin is left out, and those that then touch are one.
    """
    on, off = _columns(on_delay, off_delay)
    starts, ends = spans.starts + on, spans.ends + off
    there = ends > starts
    return joined(Spans(np.where(there, starts, np.nan), np.where(there, ends, np.nan)))


def _columns(*values: ArrayLike) -> list[Array]:
    return [np.asarray(each, float)[..., np.newaxis] for each in values]


def _next(values: Array) -> Array:
    """Each value's neighbour on the right; NaN after the last."""
    return np.concatenate([values[..., 1:], np.full_like(values[..., :1], np.nan)], axis=-1)


def _packed(starts: Array, ends: Array) -> Spans:
    """Starts and ends, each with its NaN moved to the back, so that they stand side by side again."""
    return Spans(*(np.sort(each, axis=-1) for each in (starts, ends)))

"""When the signal is red, for a list of closings of the reed: a further one during the hold counts, or does not."""

from __future__ import annotations

import numpy as np

from ..errors import RangeError
from ..units import Time, door, record


@record
class RedSpans:
    """The stretches of time in which the signal is red: `starts` and `ends`, arrays of one length, rising."""

    starts: Time
    ends: Time
    __arrays__ = True


@door
def red_spans(closes: Time, opens: Time, hold: Time, retriggers: bool) -> RedSpans:
    """The red stretches for the times at which the reed `closes` and `opens` again.

    A timer that retriggers is red from each closing until `hold` after the opening. One that does
    not is red for `hold` from the closing; it takes no notice of closings while it holds, but a reed
    that is still closed at the end keeps it red until it opens (a train that stops on the reed).
    Source: TI LM555 data sheet SNAS548B, monostable operation, for the latter.

    Parameters
    ----------
    closes, opens: arrays of one length, or single times, in rising order
    hold: a single time

    Raises RangeError where the times do not rise, or do not belong to each other.
    """
    closes, opens, hold = np.atleast_1d(closes), np.atleast_1d(opens), np.asarray(hold)
    fit = closes.ndim == 1 and closes.shape == opens.shape and hold.ndim == 0
    if not fit or not (closes <= opens).all() or not (closes[1:] > opens[:-1]).all():
        raise RangeError(
            "closes and opens need as many times each, rising, every closing before its opening and after the opening "
            "before it, and hold a single time; put the closings in order and join those that overlap"
        )
    if retriggers:
        ends = opens + hold
        first = np.append(True, closes[1:] > ends[:-1])  # a stretch of its own: the one before is over
        last = np.append(first[1:], True)
        return RedSpans.of(starts=closes[first], ends=ends[last])
    return _one_shot(closes, opens, float(hold))


def _one_shot(closes: np.ndarray, opens: np.ndarray, hold: float) -> RedSpans:
    """Stretch by stretch, since where one ends decides which closing starts the next."""
    starts, ends, place = [], [], 0
    while place < len(closes):
        end = closes[place] + hold
        during = np.searchsorted(closes, end, side="right") - 1  # the last closing that began by the end
        end = max(end, opens[during])
        starts.append(closes[place])
        ends.append(end)
        place = np.searchsorted(closes, end, side="right")
    return RedSpans.of(starts=np.array(starts), ends=np.array(ends))

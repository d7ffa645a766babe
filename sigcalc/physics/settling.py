"""Something that settles exponentially: a capacitor's voltage, a coil's current.

It goes from its start towards an end, in each instant by the same share of what is left, so that it never quite
arrives. The time constant is R C for a capacitor and L / R for a coil:

    level(t) = end + (start - end) exp(-t / tau),    t = tau ln((end - start) / (end - trip))

Source: Kuphaldt, Lessons in Electric Circuits, vol. I ch. 16.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import RangeError
from .domain import together, within

Floats = np.float64 | NDArray[np.float64]

MOST_TIME = 1e15
_MOST_LEVEL = 1e6
_NEAREST = 1e-12  # a trip closer to the end than this share of the largest level counts as never reached
_LEVELS = "give start, end and trip in one unit, such as V"


def settling_time(time_constant: ArrayLike, start: ArrayLike, end: ArrayLike, trip: ArrayLike) -> Floats:
    """Time (s) in which something that settles exponentially from `start` towards `end` comes to `trip`.

    Parameters
    ----------
    time_constant : array_like
        In s, 0 to 1e16: R C of a capacitor, L / R of a coil.
    start, end, trip : array_like
        Three levels in one unit (V, A), -1e6 to 1e6.

    Raises
    ------
    RangeError
        Outside these ranges, and where `trip` is never reached: it must lie between `start` (included) and `end`.
    """
    levels = {"start": start, "end": end, "trip": trip}
    checked = {name: within(name, each, -_MOST_LEVEL, _MOST_LEVEL, "", _LEVELS) for name, each in levels.items()}
    tau = within("time_constant", time_constant, 0, 1e16, "s", "give it in seconds, such as resistance * capacitance")
    tau, start, end, trip = together(time_constant=tau, **checked)
    return refuse_never(seconds_to(tau, start, end, trip), start, end, trip, "")


def settled(time: ArrayLike, time_constant: ArrayLike, start: ArrayLike, end: ArrayLike) -> Floats:
    """Level at a time (s) of something that settles exponentially from `start` towards `end`.

    Raises
    ------
    RangeError
        Outside 0 to 1e15 s, a time constant of 1e-18 to 1e16 s and levels of -1e6 to 1e6.
    """
    time, tau, start, end = together(
        time=within("time", time, 0, MOST_TIME, "s", "count the time from the start"),
        time_constant=within("time_constant", time_constant, 1e-18, 1e16, "s", "give it in seconds"),
        start=within("start", start, -_MOST_LEVEL, _MOST_LEVEL, "", _LEVELS),
        end=within("end", end, -_MOST_LEVEL, _MOST_LEVEL, "", _LEVELS),
    )
    return (end + (start - end) * np.exp(-time / tau))[()]


def seconds_to(tau: Any, start: Any, end: Any, trip: Any) -> NDArray[np.float64]:
    """As `settling_time` for arrays that are checked, with infinity where the trip is never reached."""
    gone, left = trip - start, end - trip
    scale = np.maximum(np.maximum(np.abs(start), np.abs(end)), np.abs(trip))
    reached = (gone * np.sign(left) > 0) & (np.abs(left) > _NEAREST * scale)
    share = np.divide(gone, left, out=np.zeros(np.shape(gone)), where=reached)
    return np.where(gone == 0, 0.0, np.where(reached, tau * np.log1p(share), np.inf))


def refuse_never(seconds: NDArray[np.float64], start: Any, end: Any, trip: Any, unit: str) -> Floats:
    """The times, or RangeError with the limit where one of them is infinite; `unit` follows the levels."""
    never = np.isinf(seconds)
    if never.any():
        start, end, trip = (each[never].flat[0] for each in (start, end, trip))
        raise RangeError(
            f"trip must lie between start {start:g}{unit} and the limit {end:g}{unit} that it heads for; "
            f"{trip:g}{unit} came and is never reached: choose a trip between the two."
        )
    return seconds[()]

"""Something that settles exponentially: a capacitor's voltage through a resistor, a coil's current.

From its start it goes towards an end that it never quite reaches, each instant by the same share of what is left. The
time constant is R C for a capacitor and L / R for a coil:

    level(t) = end + (start - end) exp(-t / tau),    t = tau ln((end - start) / (end - trip))

Without leakage a capacitor's end is the supply and tau is R C. A leak, as a resistance Rp beside the capacitor or as a
constant current I out of it (negative: into it), shifts both:

    end = (supply - R I) / (1 + R / Rp),    tau = R C / (1 + R / Rp)

Source: Kuphaldt, Lessons in Electric Circuits, vol. I ch. 16. All arguments are SI floats or arrays, and broadcast.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import RangeError
from .domain import together

Floats = np.float64 | NDArray[np.float64]

ONE_SHOT_SHARE = 2 / 3
"""Where a one-shot timer trips, as a share of its supply: from nothing up to it takes R C ln 3."""

_NEAREST = 1e-12  # a trip closer to the end than this share of the largest level counts as never reached


def settled(time: ArrayLike, time_constant: ArrayLike, start: ArrayLike, end: ArrayLike) -> Floats:
    """Level at a time (s) of something that settles from `start` towards `end`."""
    return end + np.subtract(start, end) * np.exp(-np.asarray(time) / time_constant)


def time_or_never(time_constant: ArrayLike, start: ArrayLike, end: ArrayLike, trip: ArrayLike) -> Floats:
    """Time (s) in which something that settles from `start` towards `end` reaches `trip`; infinite where it never does.

    The trip must lie between `start` (included) and `end`; the three are in one unit.
    """
    tau, start, end, trip = together(time_constant=time_constant, start=start, end=end, trip=trip)
    gone, left = trip - start, end - trip
    scale = np.maximum(np.maximum(np.abs(start), np.abs(end)), np.abs(trip))
    reached = (gone * np.sign(left) > 0) & (np.abs(left) > _NEAREST * scale)
    share = np.divide(gone, left, out=np.zeros(np.shape(gone)), where=reached)
    return np.where(gone == 0, 0.0, np.where(reached, tau * np.log1p(share), np.inf))[()]


def settling_time(
    time_constant: ArrayLike, start: ArrayLike, end: ArrayLike, trip: ArrayLike, unit: str = ""
) -> Floats:
    """As `time_or_never`; RangeError with the limit where a trip is never reached. `unit` is that of the levels."""
    seconds = time_or_never(time_constant, start, end, trip)
    never = np.isinf(seconds)
    if np.any(never):
        never, start, end, trip = together(never=never, start=start, end=end, trip=trip)
        start, end, trip = (f"{each[never].flat[0]:g} {unit}".rstrip() for each in (start, end, trip))
        raise RangeError(
            argument="trip",
            need=f"a level between the start of {start} and the limit of {end} that it heads for",
            given=trip,
            advice="that is never reached",
        )
    return seconds


def time_to_trip(
    resistance: ArrayLike, capacitance: ArrayLike, supply: ArrayLike, trip: ArrayLike, start: ArrayLike = 0.0
) -> Floats:
    """Time (s) in which a capacitor without a leak comes from `start` to `trip` (V) through a resistor to `supply` (V).

    A discharge has the supply 0 V. Raises RangeError where the trip is never reached.
    """
    return settling_time(np.multiply(resistance, capacitance), start, supply, trip, "V")


def one_shot_time(resistance: ArrayLike, capacitance: ArrayLike) -> Floats:
    """Time (s) of a one-shot timer, from nothing to two thirds of any supply: R C ln 3.

    Source: TI LM555 data sheet SNAS548B (the exact factor of the printed 1.1).
    """
    return time_to_trip(resistance, capacitance, 1.0, ONE_SHOT_SHARE)


def with_leak(
    resistance: ArrayLike,
    capacitance: ArrayLike,
    supply: ArrayLike,
    leakage_resistance: ArrayLike = np.inf,
    leakage_current: ArrayLike = 0.0,
) -> tuple[Floats, Floats]:
    """Time constant (s) of a capacitor that leaks, and the voltage that it heads for.

    That is below zero where a leakage current takes all that the supply gives; it flows only while there is a voltage.
    """
    divides = 1.0 + np.asarray(resistance) / leakage_resistance
    end = (supply - np.multiply(resistance, leakage_current)) / divides
    return np.multiply(resistance, capacitance) / divides, end

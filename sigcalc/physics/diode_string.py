"""Several LEDs in series."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from ..errors import RangeError
from .diode_loop import BEYOND, GREATEST_CURRENT, Floats, argument, exponential_voltage, loop_current, solve
from .domain import together

Triple = tuple[ArrayLike, ArrayLike, ArrayLike]
"""Saturation current in A, emission voltage in V, series resistance in ohm of one LED, each broadcastable."""
_NAMES = ("saturation_current", "emission_voltage", "series_resistance")
_MOST_STEPS = 100
_SATURATED = -40.0  # an exponent below this leaves nothing of exp beside 1: the current is -Is to the last digit
_SETTLED = 1e-8  # Newton doubles the digits: the step after one as small as this, relative, is below rounding


def string_voltage(current: ArrayLike, leds: Sequence[Triple]) -> Floats:
    """Voltage in V across several LEDs in series at one current in A.

    `leds` is a sequence of (saturation_current, emission_voltage, series_resistance), at least one.
    Everything broadcasts; errors as `exponential_voltage`, for each LED.
    """
    members = checked(leds)
    together(current=argument("current", current), **named(members))
    return sum(exponential_voltage(current, *led) for led in members)


def string_current(supply: ArrayLike, resistance: ArrayLike, leds: Sequence[Triple]) -> Floats:
    """Current in A of a supply in V, a resistance in ohm and several LEDs in series.

    LEDs with one saturation current are one LED with the sum of their emission voltages, exactly.
    Unequal ones let through in reverse what the least saturation current among them allows. Their
    equation is solved for that LED's junction voltage by Newton's method from a closed-form start;
    since the loop's voltage is convex in it, the method descends steadily and needs no safeguard.

    `leds` as for `string_voltage`, the rest and the errors as for `loop_current`. The accuracy is that
    of `loop_current`, with the least saturation current for Is.
    """
    volts, ohms, members = argument("supply", supply), argument("resistance", resistance), checked(leds)
    together(supply=volts, resistance=ohms, **named(members))
    merged = _merged(members)
    if len(merged) == 1:
        return loop_current(volts, ohms, *merged[0])
    with np.errstate(all="ignore"):
        ohms = ohms + sum(series for _, _, series in merged)
        volts, ohms, *columns = np.broadcast_arrays(volts, ohms, *(each for led in merged for each in led[:2]))
        saturation, emission = np.stack(columns[::2]), np.stack(columns[1::2])
        order = np.argsort(saturation, axis=0)
        saturation, emission = (np.take_along_axis(each, order, axis=0) for each in (saturation, emission))
        return _unequal_current(volts, ohms, saturation, emission)[()]


def checked(leds: Sequence[Triple]) -> list[tuple[Floats, Floats, Floats]]:
    """The parameters of each LED as arrays in their ranges; RangeError otherwise, and if there is no LED."""
    try:
        triples = [dict(zip(_NAMES, led, strict=True)) for led in leds]
    except (TypeError, ValueError):
        triples = []
    if not triples:
        raise RangeError(
            f"leds must be a sequence of one or more LEDs, each ({', '.join(_NAMES)}); {leds!r} came: "
            "give such as [(1e-21, 0.05, 5.0)]."
        )
    return [tuple(argument(name, value) for name, value in triple.items()) for triple in triples]


def named(leds: list[tuple[Floats, Floats, Floats]]) -> dict[str, Floats]:
    """Every parameter under a name that tells its LED, for a message about shapes."""
    return {
        f"{name} of LED {place}": each
        for place, led in enumerate(leds, 1)
        for name, each in zip(_NAMES, led, strict=True)
    }


def _merged(leds: list[tuple[Floats, Floats, Floats]]) -> list[tuple[Floats, Floats, Floats]]:
    """LEDs of the same saturation current put together: their logarithms have the same argument and add up."""
    merged: list[tuple[Floats, Floats, Floats]] = []
    for saturation, emission, series in leds:
        for place, (known, emission_sum, series_sum) in enumerate(merged):
            if np.array_equal(known, saturation):
                merged[place] = (known, emission_sum + emission, series_sum + series)
                break
        else:
            merged.append((saturation, emission, series))
    return merged


def _unequal_current(volts: Floats, ohms: Floats, saturation: Floats, emission: Floats) -> Floats:
    """The loop's current for LEDs along axis 0, the least saturation current first."""
    least, own = saturation[0], emission[0]
    share, rest = least / saturation[1:], (saturation[1:] - least) / saturation[1:]
    forward = volts >= 0.0
    log_share, log_rest = np.log(share), np.log(rest)
    exponent = _start(volts, ohms, saturation, emission)
    for _ in range(_MOST_STEPS):
        ratio = np.expm1(exponent)
        # The others' exponents ln(1 + I/Is): as they stand when forward, and in reverse, where 1 + I/Is
        # cancels, from its two parts, (1 - share) + share exp(exponent).
        others = np.where(ratio > -0.5, np.log1p(share * ratio), np.logaddexp(log_rest, log_share + exponent))
        growth = np.exp(log_share + exponent - others)
        excess = own * exponent + (emission[1:] * others).sum(axis=0) + ohms * least * ratio - volts
        slope = own + (emission[1:] * growth).sum(axis=0) + ohms * least * (ratio + 1.0)
        step = -excess / slope
        size = np.abs(exponent)
        if (np.abs(step) <= _SETTLED * np.where(exponent < _SATURATED, size, np.minimum(size, 1.0))).all():
            return least * (ratio + (ratio + 1.0) * np.expm1(np.minimum(step, 1.0)))
        exponent = exponent + step
        # The first step may come from the left and overshoot, but not rightly past zero.
        exponent = np.where(forward, exponent, np.minimum(exponent, 0.0))
    raise RangeError(BEYOND)


def _start(volts: Floats, ohms: Floats, saturation: Floats, emission: Floats) -> Floats:
    """The first LED's exponent to start from, each start from the closed form for one LED.

    Forward, the drop of several LEDs is never less than that of one LED with the sum of their emission
    voltages and the weighted geometric mean of their saturation currents (Jensen's inequality for the convex
    ln(1 + exp t)), nor less than that of only some of them. So each of these gives at least the true
    current, and the least of them is close. In reverse the first LED alone takes nearly all the voltage.
    """
    total = np.cumsum(emission, axis=0)
    mean = np.exp(np.cumsum(emission * np.log(saturation), axis=0) / total)
    arrays = {
        "supply": np.where(volts >= 0.0, volts, 0.0),
        "resistance": ohms,
        "saturation_current": mean,
        "emission_voltage": total,
        "series_resistance": np.zeros(()),
    }
    currents, _ = solve(arrays)
    least = np.fmin.reduce(currents, axis=0)  # passes over those beyond numbers
    if not (least < GREATEST_CURRENT).all():
        raise RangeError(BEYOND)
    arrays |= {
        "supply": np.where(volts < 0.0, volts, 0.0),
        "saturation_current": saturation[0],
        "emission_voltage": emission[0],
    }
    reverse, _ = solve(arrays)
    return np.where(volts >= 0.0, np.log1p(least / saturation[0]), (volts - ohms * reverse) / emission[0])

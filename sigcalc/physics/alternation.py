"""The pair on AC and on quick alternation: two lamps head to tail behind one resistor, each lit half of the time.

On AC each lamp has a half cycle to itself, so each is computed alone: `half_cycle` for a lamp of constant drop (closed
form), `half_cycle_of` for any lamp (quadrature). What a half cycle does is the same at every frequency: the small
capacitance of an LED is neglected, which holds to about 100 kHz.

Seen as one light (one lens, or from afar) the two colours mix: `seen_together`. That takes alternation faster than
the eye follows; see `flicker`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from .domain import together, within
from .photometry import chromaticity, colour_word, mix

Array = NDArray[np.float64]
Floats = np.float64 | Array

LIT_CURRENT = 10e-6  # A; a lamp counts as lit above it, as everywhere in sigcalc

_NODES = 64  # Gauss-Legendre points on the lit part of a quarter cycle


class HalfCycle(NamedTuple):
    """What one lamp gets from an alternating supply, averaged over whole cycles; arrays in the common shape."""

    mean_current: Floats  # A: what its light goes by
    rms_current: Floats  # A: what heats the resistor; both lamps' squares add
    peak_current: Floats  # A
    lit_share: Floats  # of the whole cycle, 0 to 0.5, with more than LIT_CURRENT


class SeenTogether(NamedTuple):
    """Several lamps seen as one light."""

    shares: Floats  # of the light, one for each lamp along the last axis
    x: Floats
    y: Floats
    word: str | NDArray[np.str_]


def half_cycle(rms_voltage: ArrayLike, resistance: ArrayLike, forward_voltage: ArrayLike) -> HalfCycle:
    """Currents of a lamp of constant drop behind a resistor on a sine wave, in the half cycle that lights it.

    With peak V and drop D the current is (V sin a - D) / R from a = arcsin(D/V) to pi - a, and the integrals of it and
    of its square are elementary. The pair's other lamp has the same formula with its own drop; while it is dark it
    sees no more reverse voltage than this lamp's drop. Were it missing, the reverse voltage would be the full peak.

    Parameters
    ----------
    rms_voltage : array_like
        Of the supply, V, 0 to 1000. A transformer's nameplate figure; lightly loaded it gives up to a third more
        (common practice, no source).
    resistance : array_like
        Ohm, 0.001 to 1e9.
    forward_voltage : array_like
        V, 0 to 1000; a lamp whose drop exceeds the peak stays dark.

    Raises
    ------
    RangeError
        Outside these ranges.
    """
    peak, resistance, drop = together(
        rms_voltage=_peak(rms_voltage),
        resistance=within("resistance", resistance, 1e-3, 1e9, "ohm", "give the shared resistor in ohms"),
        forward_voltage=within("forward_voltage", forward_voltage, 0, 1e3, "V", "give the lamp's drop in volts"),
    )
    ratio = _part_of(drop, peak)
    flow = np.arccos(ratio)  # angle from the onset to the crest
    # Rounding can carry both integrals a hair below zero where the lamp is just about to light.
    mean = np.maximum(np.sin(flow) - ratio * flow, 0) / np.pi
    square = np.maximum(flow * (1 + 2 * ratio**2) - 3 * ratio * np.sin(flow), 0) / (2 * np.pi)
    lit = np.arccos(_part_of(drop + LIT_CURRENT * resistance, peak)) / np.pi
    scale = peak / resistance
    return HalfCycle((scale * mean)[()], (scale * np.sqrt(square))[()], (scale * (1 - ratio))[()], lit[()])


def half_cycle_of(current: Callable[[Array], ArrayLike], rms_voltage: ArrayLike) -> HalfCycle:
    """Currents on a sine wave of any lamp with its resistor, given as a function of the supply's voltage.

    Gauss-Legendre quadrature on the part of the half cycle in which more than 10 microamperes flow, and on the rest.
    Held by the tests: the mean of an exponential lamp behind 50 ohm or more to 2e-7 of itself; a lamp whose current
    starts with a kink (constant drop) to 5e-6 of the largest current.

    Parameters
    ----------
    current : callable
        Current (A) at a voltage (V); called with arrays of shape (nodes, *shape of rms_voltage), so parameters
        of that shape broadcast. The current must not fall as the voltage rises.
    rms_voltage : array_like
        Of the supply, V, 0 to 1000.

    Raises
    ------
    RangeError
        If the voltage is out of range, or `current` gives something that is no finite forward current.
    """
    peak = _peak(rms_voltage)
    at_peak = _current(current, peak)
    peak = np.broadcast_to(peak, at_peak.shape)
    onset = _onset(current, peak)
    lit, dark = _quarter(current, peak, onset, np.pi / 2), _quarter(current, peak, 0.0, onset)
    mean, square = lit[0] + dark[0], lit[1] + dark[1]
    return HalfCycle(mean[()], np.sqrt(square)[()], at_peak[()], (0.5 - onset / np.pi)[()])


def seen_together(intensities: ArrayLike, wavelengths: ArrayLike) -> SeenTogether:
    """Shares of the light, chromaticity (CIE 1931) and colour word of lamps seen as one.

    Parameters
    ----------
    intensities : array_like
        Mean luminous intensity (cd) of each lamp, along the last axis.
    wavelengths : array_like
        Dominant wavelength (m) of each, along the last axis. An LED's light is a little paler than one wavelength is,
        so the true mixture is a little paler too.

    Raises
    ------
    RangeError
        If all lamps are dark, a wavelength is outside 360 to 830 nm or an intensity outside 0 to 1e12.
    """
    x, y = mix(chromaticity(wavelengths), intensities)
    intensities = np.asarray(intensities, dtype=float)
    parts = intensities / intensities.max(axis=-1, keepdims=True)
    return SeenTogether(parts / parts.sum(axis=-1, keepdims=True), x, y, colour_word(x, y))


def _peak(rms_voltage: ArrayLike) -> Array:
    rms = within("rms_voltage", rms_voltage, 0, 1e3, "V", "give the supply's rms voltage in volts")
    return np.asarray(np.sqrt(2) * rms)


def _part_of(voltage: Array, peak: Array) -> Array:
    """The part of the peak at which a voltage is reached, 1 where it never is."""
    return np.divide(voltage, peak, out=np.ones_like(peak), where=voltage < peak)


def _current(current: Callable[[Array], ArrayLike], voltage: Array) -> Array:
    remedy = "give a function that answers the forward current"
    return within("current(voltage)", current(voltage), -LIT_CURRENT, 1e6, "A", remedy)


def _onset(current: Callable[[Array], ArrayLike], peak: Array) -> Array:
    """The angle at which the lamp lights, by halving; pi/2 where it never does."""
    low, high = np.zeros_like(peak), np.full_like(peak, np.pi / 2)
    for _ in range(50):
        middle = (low + high) / 2
        dark = _current(current, peak * np.sin(middle)) < LIT_CURRENT
        low, high = np.where(dark, middle, low), np.where(dark, high, middle)
    return high


def _quarter(
    current: Callable[[Array], ArrayLike], peak: Array, start: Array | float, end: Array | float
) -> list[Array]:
    """Integral of current and of its square from one angle to another, both quarters together, over the whole cycle."""
    points, weights = np.polynomial.legendre.leggauss(_NODES)
    shape = (-1, *np.ones(np.ndim(peak), dtype=int))
    points, weights = points.reshape(shape), weights.reshape(shape)
    half = (end - np.asarray(start)) / 2
    currents = _current(current, peak * np.sin(start + half * (1 + points)))
    return [(half * (weights * currents**power).sum(axis=0)) / np.pi for power in (1, 2)]

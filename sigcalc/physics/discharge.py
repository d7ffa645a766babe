"""A battery running down: capacity against drain, voltage at rest and internal resistance against what is used, time.

The state of a battery is one number, the share of it that is used, from 0 to 1. A drain I uses the share
dt I / C(I) in the time dt, where C(I) is what the battery gives at that drain. Voltage at rest and internal
resistance depend on the share alone, so the drain does too, and the time is an integral over the share:

    t = integral of C(I) / I

No differential equation is left to solve. Rest periods give nothing back in this model: a real battery recovers a
little, which makes the answer for intermittent use a cautious one.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import RangeError

Floats = NDArray[np.float64]

_LEAST_CURRENT = 1e-15  # in the logarithm in place of no current at all
_STEPS = 800

SHARES: Floats = 0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, _STEPS + 1))
"""The grid of shares used on which runs are integrated; it is finer at both ends, where batteries fall fastest."""


def curve(used: ArrayLike, values: ArrayLike, at: ArrayLike = SHARES) -> Floats:
    """A published curve between its points, without overshoot: monotone where the points are.

    Piecewise cubic Hermite interpolation of Fritsch and Carlson (1980), from scipy.

    Parameters
    ----------
    used : array_like, shape (points,)
        Shares used of the published points, rising from 0 to 1.
    values : array_like, shape (points,)
        What was measured there, in any unit.
    at : array_like
        Where it is wanted.

    Raises
    ------
    RangeError
        If the shares do not rise from 0 to 1, or there are not as many values.
    """
    from scipy.interpolate import PchipInterpolator  # a third of a second to load: only where there is a battery

    x, y = np.asarray(used, float), np.asarray(values, float)
    if x.ndim != 1 or x.shape != y.shape or x.size < 2 or x[0] != 0.0 or x[-1] != 1.0 or not (np.diff(x) > 0).all():
        raise RangeError(
            argument="used",
            need="shares that rise from 0 to 1, at least two of them, with a value for each",
            given=f"{x.size} shares and {y.size} values",
        )
    return PchipInterpolator(x, y)(np.asarray(at, float))


def capacity_at(drain: ArrayLike, drains: ArrayLike, capacities: ArrayLike) -> Floats:
    """The charge a battery gives at a drain, between published points.

    Straight lines in log capacity against log drain, so that each pair of points has its own exponent: no single
    one holds over decades. Below the least published drain the capacity is held, above the greatest the last line
    goes on.

    Parameters
    ----------
    drain : array_like
        In A, 0 or more.
    drains : array_like, shape (points,)
        Published drains in A, above zero and rising.
    capacities : array_like, shape (..., points)
        The charge in C at each of them. The leading shape broadcasts with that of `drain`.

    Raises
    ------
    RangeError
        For a capacity that is not above zero.
    """
    knots, heights = np.log(np.asarray(drains, float)), np.log(_charge("capacities", capacities))
    if knots.size == 1:
        return np.broadcast_arrays(drain, np.exp(heights[..., 0]))[1][()]
    x = np.log(np.maximum(np.asarray(drain, float), _LEAST_CURRENT))
    left = np.clip(np.searchsorted(knots, x, side="right") - 1, 0, knots.size - 2)
    along = np.maximum((x - knots[left]) / (knots[left + 1] - knots[left]), 0.0)
    low, high = _pick(heights, left), _pick(heights, left + 1)
    return np.exp(low + along * (high - low))[()]


def _charge(name: str, charge: ArrayLike) -> Floats:
    coulombs = np.asarray(charge, float)
    if not (coulombs > 0).all():
        raise RangeError(
            argument=name,
            need="charges above 0 C",
            given=f"{coulombs.min():g} C",
            advice="a battery without capacity gives nothing",
        )
    return coulombs


def _pick(heights: Floats, place: NDArray[np.int64]) -> Floats:
    """The height at each place, row by row where there are several rows."""
    if heights.ndim == 1:
        return heights[place]
    shape = np.broadcast_shapes(heights.shape[:-1], place.shape)
    rows = np.broadcast_to(heights, (*shape, heights.shape[-1]))
    return np.take_along_axis(rows, np.broadcast_to(place, shape)[..., None], axis=-1)[..., 0]


def loaded_source(
    rest_voltage: ArrayLike, resistance: ArrayLike, drawn: ArrayLike = 0.0, conductance: ArrayLike = 0.0
) -> tuple[Floats, Floats]:
    """A battery with a steady current and a resistance already across it, as one source: open voltage and resistance.

    Thevenin's theorem: V = (V0 - R I) / (1 + R G), and R / (1 + R G) in ohm. A negative open voltage says that the
    battery cannot give the steady current at any voltage.

    Parameters
    ----------
    rest_voltage : array_like
        V0 in V.
    resistance : array_like
        R in ohm.
    drawn : array_like
        I in A, drawn whatever the voltage is.
    conductance : array_like
        G in S, that of a coil or another resistance across the battery.
    """
    volts, ohms = np.asarray(rest_voltage, float), np.asarray(resistance, float)
    share = 1.0 + ohms * conductance
    return (volts - ohms * drawn) / share, ohms / share


class RunDown(NamedTuple):
    """Time in s and charge given in C when each share of the grid is used; the grid lies along the last axis."""

    time: Floats
    charge: Floats


def run_down(used: ArrayLike, drain: ArrayLike, capacity: ArrayLike, parts: ArrayLike = 1.0) -> RunDown:
    """How long a battery takes to be used up to each share, and what it has given.

    Parameters
    ----------
    used : array_like, shape (n,)
        Rising shares from 0; see `SHARES`.
    drain : array_like, shape (..., n) or (phases, ..., n)
        In A at each share.
    capacity : array_like, of the shape of `drain`
        In C at that drain, see `capacity_at`.
    parts : float or array_like, shape (phases,)
        The part of the time for which each phase lasts, if there are several; phases alternate quickly against the
        time the battery lasts, and what is left of 1 is rest.

    Raises
    ------
    RangeError
        For a battery from which nothing is drawn, which would last for ever, or one without capacity.
    """
    from scipy.integrate import cumulative_trapezoid

    amperes, coulombs = np.asarray(drain, float), _charge("capacity", capacity)
    weight = np.reshape(parts, (-1, *(1,) * (amperes.ndim - np.ndim(parts))))
    pace, mean = ((weight * each).sum(axis=0) for each in (amperes / coulombs, amperes))
    if not (pace > 0.0).all():
        raise RangeError("drain needs to be above 0 A: with nothing connected a run does not end")
    time = cumulative_trapezoid(1.0 / pace, used, axis=-1, initial=0.0)
    return RunDown(time, cumulative_trapezoid(mean / pace, used, axis=-1, initial=0.0))


def first_below(values: ArrayLike, limit: ArrayLike) -> tuple[Floats, NDArray[np.bool_]]:
    """Where along the last axis the values first fall below a limit: a broken place, and whether they do at all.

    The place lies between two grid points by straight interpolation, at 0 where the first value is below already,
    and at the last point where none is. `limit` has the leading shape of `values`, or is one for all.
    """
    rows = np.asarray(values, float)
    edge = np.broadcast_to(np.asarray(limit, float), rows.shape[:-1])[..., None]
    below = rows < edge
    found = below.any(axis=-1)
    after = np.where(found, below.argmax(axis=-1), rows.shape[-1] - 1)
    before = np.maximum(after - 1, 0)
    high, low = _pick(rows, before), _pick(rows, after)
    drop = high - low
    with np.errstate(divide="ignore", invalid="ignore"):
        along = np.where(drop > 0.0, (high - edge[..., 0]) / drop, 1.0)
    place = np.where(found, before + np.clip(along, 0.0, 1.0), rows.shape[-1] - 1.0)
    return np.where(found & (after == 0), 0.0, place)[()], found[()]


def at_place(place: ArrayLike, values: Any) -> Floats:
    """The values at a broken place along their last axis, as `first_below` gives it, by straight interpolation."""
    rows, where = np.asarray(values, float), np.asarray(place, float)
    left = np.clip(np.floor(where).astype(np.int64), 0, rows.shape[-1] - 2)
    low, high = _pick(rows, left), _pick(rows, left + 1)
    return (low + (where - left) * (high - low))[()]

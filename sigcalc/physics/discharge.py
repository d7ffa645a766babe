"""A battery running down: capacity against drain, voltage at rest and internal resistance against what is used, time.

The state of a battery is one number, the share of it that is used, from 0 to 1. A drain I takes the share
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
from scipy.integrate import cumulative_trapezoid
from scipy.interpolate import PchipInterpolator

from ..errors import RangeError
from .domain import together, within

Floats = NDArray[np.float64]

MOST_CURRENT = 1e3
_LEAST_CURRENT = 1e-15  # stands in the logarithm for no current at all
_GREATEST = 1e12
_MOST_CHARGE = 1e8  # in C, 28 kAh
_MOST_VOLTAGE = 1e3
_MOST_RESISTANCE = 1e9
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
    x = within("used", used, 0.0, 1.0, "", "give the share that is used at each point")
    y = within("values", values, -_GREATEST, _GREATEST, "", "give one value for each point")
    if x.ndim != 1 or x.shape != y.shape or x.size < 2 or x[0] != 0.0 or x[-1] != 1.0 or not (np.diff(x) > 0).all():
        raise RangeError(
            f"used must rise from 0 to 1 in at least two points, with a value for each; {x.size} shares and "
            f"{y.size} values came: give the whole curve."
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
        Published drains in A, rising.
    capacities : array_like, shape (..., points)
        The charge in C at each of them. The leading shape broadcasts with that of `drain`.

    Raises
    ------
    RangeError
        For a capacity of zero, a negative drain, or drains that do not rise.
    """
    amperes = within("drain", drain, 0.0, MOST_CURRENT, "A", "give what the battery is asked for")
    knots = np.log(within("drains", drains, _LEAST_CURRENT, MOST_CURRENT, "A", "give drains above zero"))
    charge = _charge("capacities", capacities)
    if knots.ndim != 1 or not knots.size or charge.shape[-1:] != knots.shape or not (np.diff(knots) > 0).all():
        raise RangeError(
            "drains must be a rising row with a capacity for each; "
            f"shapes {knots.shape} and {charge.shape} came: sort them by drain."
        )
    heights = np.log(charge)
    if knots.size == 1:
        return np.broadcast_arrays(amperes, charge[..., 0])[1][()]
    x = np.log(np.maximum(amperes, _LEAST_CURRENT))
    left = np.clip(np.searchsorted(knots, x, side="right") - 1, 0, knots.size - 2)
    along = np.maximum((x - knots[left]) / (knots[left + 1] - knots[left]), 0.0)
    low, high = _pick(heights, left), _pick(heights, left + 1)
    return np.exp(low + along * (high - low))[()]


def _charge(name: str, charge: ArrayLike) -> Floats:
    return within(name, charge, 1e-6, _MOST_CHARGE, "C", "a battery without capacity gives nothing; give what it holds")


def _pick(heights: Floats, place: NDArray[np.int64]) -> Floats:
    """The height at each place, row by row where there are several rows."""
    if heights.ndim == 1:
        return heights[place]
    shape = np.broadcast_shapes(heights.shape[:-1], place.shape)
    rows = np.broadcast_to(heights, (*shape, heights.shape[-1]))
    return np.take_along_axis(rows, np.broadcast_to(place, shape)[..., None], axis=-1)[..., 0]


def peukert_exponent(drains: ArrayLike, capacities: ArrayLike) -> float:
    """The exponent k of I to the power of k times t = constant that fits the points best, by least squares in logs.

    With capacity C = I t it is 1 minus the slope of log C against log I (Peukert 1897). Over more than a decade of
    drain it is only a mean: see `capacity_at`.
    """
    x = np.log(within("drains", drains, _LEAST_CURRENT, MOST_CURRENT, "A", "give drains above zero"))
    y = np.log(_charge("capacities", capacities))
    if x.shape != y.shape or x.ndim != 1 or np.unique(x).size < 2:
        raise RangeError(
            f"drains must hold at least two different drains, with a capacity for each; {x.size} and {y.size} came: "
            "give more points."
        )
    return float(1.0 - np.polyfit(x, y, 1)[0])


def loaded_source(
    rest_voltage: ArrayLike, resistance: ArrayLike, drawn: ArrayLike = 0.0, conductance: ArrayLike = 0.0
) -> tuple[Floats, Floats]:
    """A battery with a steady current and a resistance already across it, as one source: open voltage and resistance.

    Thevenin's theorem: V = (V0 - R I) / (1 + R G), and R / (1 + R G) in ohm. A negative open voltage says that the
    battery cannot give the steady current at any voltage.

    Parameters
    ----------
    rest_voltage : array_like
        V0 in V, 0 or more: a battery the wrong way round is refused.
    resistance : array_like
        R in ohm.
    drawn : array_like
        I in A, drawn whatever the voltage is.
    conductance : array_like
        G in S, that of a coil or another resistance across the battery.
    """
    volts, ohms, amperes, siemens = together(
        rest_voltage=within(
            "rest_voltage", rest_voltage, 0.0, _MOST_VOLTAGE, "V", "turn a battery round that is the wrong way in"
        ),
        resistance=within("resistance", resistance, 0.0, _MOST_RESISTANCE, "ohm", "give the internal resistance"),
        drawn=within("drawn", drawn, 0.0, MOST_CURRENT, "A", "give what is drawn from the battery"),
        conductance=within("conductance", conductance, 0.0, _MOST_RESISTANCE, "S", "give 1 over the coil's resistance"),
    )
    share = 1.0 + ohms * siemens
    return (volts - ohms * amperes) / share, ohms / share


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
        The part of the time for which each phase lasts, if there are several; phases alternate quickly against
        the time the battery lasts, and what is left of 1 is rest.

    Raises
    ------
    RangeError
        For an argument out of range, or a battery from which nothing is drawn: it would last for ever.
    """
    grid = within("used", used, 0.0, 1.0, "", "give shares from 0 to 1")
    amperes, coulombs = together(
        drain=within("drain", drain, 0.0, MOST_CURRENT, "A", "give what the battery is asked for"),
        capacity=_charge("capacity", capacity),
    )
    weight = within("parts", parts, 0.0, 1.0, "", "give the part of the time for each phase")
    if weight.ndim:
        amperes, coulombs, weight = _phases(amperes, coulombs, weight)
        pace, mean = (weight * amperes / coulombs).sum(axis=0), (weight * amperes).sum(axis=0)
    else:
        pace, mean = weight * amperes / coulombs, weight * amperes
    if not (pace > 0.0).all():
        raise RangeError("drain must be above 0 A; nothing is drawn: a run without a load does not end.")
    time = cumulative_trapezoid(1.0 / pace, grid, axis=-1, initial=0.0)
    return RunDown(time, cumulative_trapezoid(mean / pace, grid, axis=-1, initial=0.0))


def _phases(amperes: Floats, coulombs: Floats, weight: Floats) -> tuple[Floats, Floats, Floats]:
    if weight.ndim != 1 or amperes.shape[:1] != weight.shape or weight.sum() > 1.0 + 1e-9:
        raise RangeError(
            f"parts must give one part of the time for each phase, together 1 at most; shape {weight.shape} with a "
            f"sum of {weight.sum():g} came for drains of shape {amperes.shape}: give one for each."
        )
    return amperes, coulombs, weight.reshape(-1, *(1,) * (amperes.ndim - 1))


def first_below(values: ArrayLike, limit: ArrayLike) -> tuple[Floats, NDArray[np.bool_]]:
    """Where along the last axis the values first fall below a limit: a broken place, and whether they do at all.

    The place lies between two grid points by straight interpolation, at 0 where the first value is below already,
    and at the last point where none is. `limit` has the leading shape of `values`.
    """
    rows = np.asarray(values, float)
    edge = np.asarray(limit, float)[..., None]
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

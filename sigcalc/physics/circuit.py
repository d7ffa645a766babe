"""A small circuit with LEDs in it, solved for thousands of draws of its parts at once.

Resistances, sources and at most one current driver join up to about a dozen points; what conducts one way only lies
between two of them, its port. The linear rest is put together by nodal analysis into one voltage and one resistance
that the port sees (Thévenin's theorem), and Newton's method finds the port's voltage, where the branches take what
that source gives. The step that is left at the end is the residual of Kirchhoff's current law, and proves the answer.

The nodal analysis takes one point after the other out of the network and spreads what joined it to its neighbours over
them (the star-mesh transformation). Each step only adds, multiplies and divides positive numbers, so milliohms and
teraohms lie side by side without losing digits; this is the elimination of W. K. Grassmann, M. I. Taksar and
D. P. Heyman, Operations Research 33(5), 1107 (1985), from memory. A meter is one more resistance across two points: its
effect follows from what the bare circuit answers to one ampere there, so many meters in turn cost one elimination.

SI floats throughout; everything broadcasts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import RangeError
from .diode import Triple, exponential_voltage, loop_current, string_current, string_voltage

Floats = NDArray[np.float64]
GROUND = -1
"""The point against which all voltages are counted."""
_MOST_STEPS = 200
_SETTLED = 1e-13
_NOTHING = 1e-250  # in V: a node this near zero is at zero, and its digits begin to fail
_DARK = 45.0  # emission voltages in reverse, beyond which a junction passes its saturation current to the last digit


class Branch(NamedTuple):
    """What conducts one way between the two points of the port.

    Attributes
    ----------
    sign: +1 where it points from the first point to the second, -1 the other way, 0 where it is not there
    resistance: in series with all, ohm; above zero where there are no `leds`
    leds: LEDs in series, each (saturation current, emission voltage, series resistance), as `diode` has them
    drop: a constant drop in V, for a branch without `leds`; None for a plain resistor, which conducts both ways
    """

    sign: ArrayLike
    resistance: ArrayLike
    leds: Sequence[Triple] = ()
    drop: ArrayLike | None = None

    def current(self, across: Floats) -> Floats:
        """Current in A in the branch's own direction, for the voltage across it in that direction."""
        return self.behind(across, 0.0)

    def behind(self, supply: Floats, resistance: ArrayLike) -> Floats:
        """Current in A of the branch alone behind a source."""
        ohms = resistance + np.asarray(self.resistance, float)
        if self.leds:
            return _where_lit(supply, ohms, self.leds)
        return (supply if self.drop is None else np.maximum(supply - self.drop, 0.0)) / ohms

    def voltage(self, current: Floats) -> Floats:
        """The voltage in V at a forward current."""
        if not self.leds:
            return current * self.resistance + (0.0 if self.drop is None else self.drop)
        alone = len(self.leds) == 1
        own = exponential_voltage(current, *self.leds[0]) if alone else string_voltage(current, self.leds)
        return own + current * self.resistance

    def conductance(self, current: Floats) -> Floats:
        """How fast the current grows with the voltage, in A/V."""
        if not self.leds:
            return (1.0 if self.drop is None else np.where(current > 0, 1.0, 0.0)) / np.asarray(self.resistance, float)
        with np.errstate(divide="ignore"):  # a saturated reverse current no longer grows
            return 1.0 / (
                self.resistance + sum(series + emission / (current + least) for least, emission, series in self.leds)
            )


def _where_lit(supply: Floats, ohms: Floats, leds: Sequence[Triple]) -> Floats:
    """The loop's current; the closed form is worked out only where the LEDs are not dark beyond doubt."""
    supply, ohms, *figures = np.broadcast_arrays(supply, ohms, *(each for led in leds for each in led))
    lit = supply > -_DARK * sum(figures[1::3])
    if lit.all():
        lit = ...
    chosen = [each[lit] for each in figures]
    triples = list(zip(chosen[::3], chosen[1::3], chosen[2::3], strict=True))
    if len(leds) == 1:
        current = loop_current(supply[lit], ohms[lit], *triples[0])
    else:
        current = string_current(supply[lit], ohms[lit], triples)
    if lit is ...:
        return current
    answer = np.array(-np.minimum.reduce(figures[::3]))
    answer[lit] = current
    return answer


def port_voltage(
    supply: ArrayLike, resistance: ArrayLike, branches: Sequence[Branch], limit: ArrayLike = np.inf
) -> tuple[Floats, list[Floats]]:
    """The voltage across branches in parallel behind a source, and the current of each.

    Parameters
    ----------
    supply : array_like
        The source's open voltage in V, either sign.
    resistance : array_like
        The source's, in ohm, zero or more.
    branches : sequence of Branch
    limit : array_like
        The most current in A that the source gives in either direction, as a driver does.

    Returns
    -------
    voltage : float or ndarray
        In V, from the first point to the second.
    currents : list of float or ndarray
        In A, each positive in its branch's own direction, zero where its sign is 0.

    Raises RangeError for figures beyond what the diode's formulas take, or so far apart that nothing is found.
    """
    shapes = [each for branch in branches for each in (branch.sign, branch.resistance)]
    volts, ohms, most, *_ = np.broadcast_arrays(
        np.asarray(supply, float), resistance, limit, *shapes, *(x for b in branches for led in b.leds for x in led)
    )
    side = np.where(volts < 0.0, -1.0, 1.0)
    turned = [branch._replace(sign=side * branch.sign) for branch in branches]
    node = _node(np.abs(volts), ohms, most, turned)
    currents = [_times(branch.sign != 0, branch.current(branch.sign * node)) for branch in turned]
    return (side * node)[()], [current[()] for current in currents]


def _times(sign: Any, value: Floats) -> Floats:
    """The product, and zero where the sign is, whatever the value."""
    return np.where(sign == 0, 0.0, sign * value)


def _node(volts: Floats, ohms: Floats, most: Floats, branches: Sequence[Branch]) -> Floats:
    """The port's voltage for a supply that is not negative.

    It is the lesser of two: where the branches take what the source's resistance lets through, and where they take its
    limit. Newton's method inside a bracket that starts at zero and at the least voltage any branch would have alone.
    """
    node = _highest(volts, ohms, most, branches)
    high = np.minimum(node + _SETTLED * volts, volts)  # the start is rounded, and may lie a little below the answer
    low = np.zeros_like(high)
    limited = np.isfinite(most).any()
    for _ in range(_MOST_STEPS):
        taken, slope = np.zeros_like(node), np.zeros_like(node)
        for branch in branches:
            current = branch.current(branch.sign * node)
            taken = taken + _times(branch.sign, current)
            slope = slope + np.abs(branch.sign) * branch.conductance(current)
        excess = ohms * taken - (volts - node)
        step = excess / (ohms * slope + 1.0)
        if limited:
            with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
                excess, step = np.maximum(excess, taken - most), np.fmax(step, (taken - most) / slope)
        high, low = np.where(excess >= 0.0, node, high), np.where(excess <= 0.0, node, low)
        after = node - step
        after = np.where((after >= low) & (after <= high), after, 0.5 * (low + high))
        settled = np.abs(after - node) <= _SETTLED * np.abs(node) + _NOTHING
        node = after
        if settled.all():
            return node
    raise RangeError(
        "The voltage across the branches could not be found: the resistances lie too many powers of ten apart."
    )


def _highest(volts: Floats, ohms: Floats, most: Floats, branches: Sequence[Branch]) -> Floats:
    """The least voltage that any branch would leave at the node alone: all branches only take from it."""
    high = volts
    for branch in branches:
        alone = np.abs(_times(branch.sign, branch.behind(branch.sign * volts, ohms)))
        high = np.minimum(high, volts - ohms * alone)
        reached = (branch.sign == 1) & np.isfinite(most)
        if np.any(reached):
            most_volts = branch.voltage(np.where(reached, most, 0.0))
            high = np.where(reached, np.minimum(high, most_volts), high)
    return np.maximum(high, 0.0)


Pair = tuple[int, int]
"""Two points, the first of them where a red probe would be."""


class Driver(NamedTuple):
    """A current driver between two points: the resistance `below` its drop-out, else `held` A beside `beside` ohm.

    Where `held` is infinite it is the plain resistance.
    """

    between: Pair
    below: ArrayLike
    held: ArrayLike
    beside: ArrayLike


class Solved(NamedTuple):
    """What a circuit does.

    Attributes
    ----------
    voltages: of every point against GROUND, V, without a meter
    currents: of each branch, A, in its own direction, without a meter
    meters: the voltage across each meter, each alone in the circuit, V
    """

    voltages: list[Floats]
    currents: list[Floats]
    meters: list[Floats]


def solve(
    points: int,
    resistors: Sequence[tuple[int, int, ArrayLike]],
    currents: Mapping[int, ArrayLike],
    port: Pair,
    branches: Sequence[Branch],
    driver: Driver | None = None,
    meters: Sequence[tuple[int, int, ArrayLike]] = (),
) -> Solved:
    """Voltages and currents of a circuit, and what meters show in it.

    Parameters
    ----------
    points: how many there are beside GROUND; they are 0, 1, 2 ...
    resistors: (point, point, ohm), each above zero. Every point needs a way to GROUND through some of them: an open
        switch is a large resistance, as it is in truth
    currents: A that enter at points and leave at GROUND; a source of V behind R ohm is V/R at its point, R to GROUND
    port, branches: the two points between which the one-way branches lie
    meters: (point, point, ohm), one in the circuit at a time. A negative resistance takes something away: an ammeter
        of r in series with R, both in the place of R, is the conductance 1/(R + r) - 1/R across R

    Raises RangeError for a point without a way to GROUND, and as `port_voltage`.
    """
    if driver is None:
        return _linear(points, resistors, currents, port, branches, meters, port)[0]
    first, second = driver.between
    state = points, [*resistors, (first, second, driver.below)], currents, port, branches, meters
    below, dropped = _linear(*state, driver.between)
    over = [drop > np.multiply(driver.held, driver.below) for drop in dropped]
    if not any(np.any(each) for each in over):
        return below
    held = np.where(np.isfinite(driver.held), driver.held, 0.0)
    fed = {first: currents.get(first, 0.0) - held, second: currents.get(second, 0.0) + held}
    state = points, [*resistors, (first, second, driver.beside)], {**currents, **fed}, port, branches, meters
    limited, _ = _linear(*state, driver.between)
    return Solved(
        [np.where(over[0], one, other) for one, other in zip(limited.voltages, below.voltages, strict=True)],
        [np.where(over[0], one, other) for one, other in zip(limited.currents, below.currents, strict=True)],
        [np.where(at, *both) for at, *both in zip(over[1:], limited.meters, below.meters, strict=True)],
    )


def _linear(
    points: int,
    resistors: Sequence[tuple[int, int, ArrayLike]],
    currents: Mapping[int, ArrayLike],
    port: Pair,
    branches: Sequence[Branch],
    meters: Sequence[tuple[int, int, ArrayLike]],
    watched: Pair,
) -> tuple[Solved, list[Floats]]:
    """The answer, and the voltage across a watched pair of points without a meter and with each."""
    network = Network(points, resistors)
    idle, pulled = network.voltages(currents), network.voltages({port[0]: 1.0, port[1]: -1.0})
    volts, ohms = [_across(idle, port)], [_across(pulled, port)]
    loads = []
    for first, second, load in meters:
        own = network.voltages({first: 1.0, second: -1.0})
        joint = _across(pulled, (first, second))
        through = 1.0 / (np.asarray(load, float) + _across(own, (first, second)))
        volts.append(volts[0] - joint * through * _across(idle, (first, second)))
        ohms.append(ohms[0] - joint * joint * through)
        loads.append((joint, through, own))
    volts, ohms = (np.stack(np.broadcast_arrays(*each)) for each in (volts, ohms))
    _, found = port_voltage(volts, ohms, branches)
    taken = sum(_times(branch.sign, current) for branch, current in zip(branches, found, strict=True))
    taken = np.broadcast_to(taken, np.broadcast_shapes(np.shape(taken), volts.shape))
    shown, dropped = [], [_across(idle, watched) - taken[0] * _across(pulled, watched)]
    for (first, second, load), (joint, through, own), out in zip(meters, loads, taken[1:], strict=True):
        entering = through * (_across(idle, (first, second)) - joint * out)
        shown.append(load * entering)
        dropped.append(_across(idle, watched) - out * _across(pulled, watched) - entering * _across(own, watched))
    bare = [one - taken[0] * pull for one, pull in zip(idle, pulled, strict=True)]
    return Solved(bare, [np.broadcast_to(each, taken.shape)[0] for each in found], shown), dropped


def _across(volts: Sequence[Floats], pair: Pair) -> Floats:
    first, second = (0.0 if point == GROUND else volts[point] for point in pair)
    return first - second


class Network:
    """Points and resistances between them, taken apart once, to answer for any currents."""

    def __init__(self, points: int, resistors: Sequence[tuple[int, int, ArrayLike]]):
        self.points = points
        self._below: list[dict[int, Any]] = [{} for _ in range(points)]
        for first, second, ohms in resistors:
            self._join(first, second, 1.0 / np.asarray(ohms, float))
        self._total: list[Any] = [None] * points
        for point in reversed(range(points)):
            if not self._below[point]:
                raise RangeError(f"Point {point} has no way to GROUND; join it, if only by a large resistance.")
            self._total[point] = sum(self._below[point].values())
            self._take_out(point)

    def _join(self, first: int, second: int, conductance: Floats) -> None:
        """Add a conductance to those between two points; GROUND keeps no list of its own."""
        for one, other in ((first, second), (second, first)):
            if one not in (GROUND, other):
                self._below[one][other] = self._below[one].get(other, 0.0) + conductance

    def _take_out(self, point: int) -> None:
        """Join each two of a point's neighbours by what led through it."""
        around = list(self._below[point].items())
        for place, (first, to_first) in enumerate(around):
            share = to_first / self._total[point]
            for second, to_second in around[place + 1 :]:
                self._join(first, second, share * to_second)
        for neighbour, _ in around:
            if neighbour != GROUND:
                self._below[neighbour].pop(point, None)

    def voltages(self, currents: Mapping[int, ArrayLike]) -> list[Floats]:
        """The voltage of every point in V for currents in A that enter at points, and leave at GROUND."""
        entering = {point: current for point, current in currents.items() if point != GROUND}
        for point in reversed(range(self.points)):
            if point in entering:
                share = entering[point] / self._total[point]
                for neighbour, conductance in self._below[point].items():
                    if neighbour != GROUND:
                        entering[neighbour] = entering.get(neighbour, 0.0) + share * conductance
        volts: list[Any] = []
        for point in range(self.points):
            pulled = entering.get(point, 0.0)
            for neighbour, conductance in self._below[point].items():
                if neighbour != GROUND:
                    pulled = pulled + conductance * volts[neighbour]
            volts.append(pulled / self._total[point])
        return volts

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
from .diode import Triple, loop_current, string_current

Floats = NDArray[np.float64]
GROUND = -1
"""The point against which all voltages are counted."""
_MOST_STEPS = 200
_SETTLED = 1e-13
_NOTHING = 1e-250  # in V: a node this near zero is at zero, and its digits begin to fail
_LOST = 1e-13  # of an emission voltage: so little across a resistance changes no digit of the current
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

    @property
    def shape(self) -> tuple[int, ...]:
        """The common shape of its figures."""
        drop = 0.0 if self.drop is None else self.drop
        figures = (self.sign, self.resistance, drop, *(each for led in self.leds for each in led))
        return np.broadcast_shapes(*map(np.shape, figures))

    def current(self, across: Floats, known: ArrayLike = 0.0, own: Any = np.False_) -> Floats:
        """Current in A in the branch's own direction, for the voltage across it in that direction.

        Where `own` says so it is `known` already.
        """
        if self.leds:
            return _where_lit(across, np.asarray(self.resistance, float), self.leds, known, own)
        return np.where(own, known, self.behind(across, 0.0))

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
        own = sum(emission * np.log1p(current / least) + current * series for least, emission, series in self.leds)
        return own + current * self.resistance

    def conductance(self, current: Floats) -> Floats:
        """How fast the current grows with the voltage, in A/V."""
        if not self.leds:
            return (1.0 if self.drop is None else np.where(current > 0, 1.0, 0.0)) / np.asarray(self.resistance, float)
        with np.errstate(divide="ignore"):  # a saturated reverse current no longer grows
            return 1.0 / (
                self.resistance + sum(series + emission / (current + least) for least, emission, series in self.leds)
            )


def _where_lit(
    supply: Floats, ohms: Floats, leds: Sequence[Triple], known: ArrayLike = 0.0, own: Any = np.False_
) -> Floats:
    """The loop's current; the closed form is worked out only where it is not known, nor the LEDs dark beyond doubt."""
    lit = (supply > -_DARK * sum(emission for _, emission, _ in leds)) & ~own
    dark = -np.minimum.reduce([np.broadcast_to(saturation, lit.shape) for saturation, _, _ in leds])
    if len(leds) == 1:  # in reverse, so little flows that a resistance does not count
        (saturation, emission, _) = leds[0]
        plain = (supply < 0.0) & (ohms * saturation < _LOST * emission)
        lit, dark = lit & ~plain, np.where(plain, saturation * np.expm1(np.minimum(supply / emission, 0.0)), dark)
    answer = np.where(own, known, dark)
    if lit.any():
        chosen = [np.broadcast_to(each, lit.shape)[lit] for each in (supply, ohms, *(x for led in leds for x in led))]
        triples = list(zip(chosen[2::3], chosen[3::3], chosen[4::3], strict=True))
        alone = len(triples) == 1
        answer[lit] = loop_current(*chosen[:2], *triples[0]) if alone else string_current(*chosen[:2], triples)
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
    figures = [np.asarray(each, float) for each in (supply, resistance, limit)]
    shape = np.broadcast_shapes(*(each.shape for each in (*figures, *branches)))
    volts, ohms, most = (np.broadcast_to(each, shape) for each in figures)
    side = np.where(volts < 0.0, -1.0, 1.0)
    turned = [branch._replace(sign=side * branch.sign) for branch in branches]
    node, currents = _node(np.abs(volts), ohms, most, turned)
    return (side * node)[()], [current[()] for current in currents]


def _node(volts: Floats, ohms: Floats, most: Floats, branches: Sequence[Branch]) -> tuple[Floats, list[Floats]]:
    """The port's voltage and the branches' currents, for a supply that is not negative.

    The voltage is the lesser of two: where the branches take what the source's resistance lets through, and where they
    take its limit. Newton's method inside a bracket that starts at zero and at the least voltage any branch would have
    alone: all branches only take from it. Where one alone conducts, that start is the answer.
    """
    node, known = volts, []
    for branch in branches:
        alone = branch.behind(branch.sign * volts, ohms)
        # of the two ways to the voltage the branch's own keeps its digits behind a large resistance
        forward = branch.voltage(np.maximum(alone, 0.0))
        left = np.where((branch.sign == 1) & (alone > 0), forward, volts - ohms * np.abs(branch.sign * alone))
        lowest = left < node
        node = np.where(lowest, left, node)
        known = [(current, own & ~lowest) for current, own in known] + [(alone, lowest)]
    limited = np.isfinite(most)
    if limited.any():
        for branch in branches:
            reached = (branch.sign == 1) & limited
            held = np.where(reached, branch.voltage(np.where(reached, most, 0.0)), np.inf)
            node, known = np.minimum(node, held), [(current, own & (node <= held)) for current, own in known]
    node = np.maximum(node, 0.0)
    high = np.minimum(node + _SETTLED * volts, volts)  # the start is rounded, and may lie a little below the answer
    low = np.zeros_like(high)
    for _ in range(_MOST_STEPS):
        currents, slopes, taken, steepness = [], [], 0.0, 0.0
        for branch, (current, own) in zip(branches, known, strict=True):
            currents.append(branch.current(branch.sign * node, current, own))
            slopes.append(branch.conductance(currents[-1]))
            taken = taken + branch.sign * currents[-1]
            steepness = steepness + np.abs(branch.sign) * slopes[-1]
        excess = ohms * taken - (volts - node)
        step = excess / (ohms * steepness + 1.0)
        if limited.any():
            with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
                excess, step = np.maximum(excess, taken - most), np.fmax(step, (taken - most) / steepness)
        high, low = np.where(excess >= 0.0, node, high), np.where(excess <= 0.0, node, low)
        after = node - step
        after = np.where((after >= low) & (after <= high), after, 0.5 * (low + high))
        moved, node = after - node, after
        settled = np.abs(moved) <= _SETTLED * np.abs(node) + _NOTHING
        known = [
            (current + branch.sign * moved * slope, settled)
            for branch, current, slope in zip(branches, currents, slopes, strict=True)
        ]
        if settled.all():
            return node, [
                np.where(branch.sign == 0, 0.0, current) for branch, (current, _) in zip(branches, known, strict=True)
            ]
    raise RangeError(
        "The voltage across the branches could not be found: the resistances lie too many powers of ten apart."
    )


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
    held = np.where(np.isfinite(driver.held), driver.held, 0.0)
    fed = {first: currents.get(first, 0.0) - held, second: currents.get(second, 0.0) + held}
    state = points, [*resistors, (first, second, driver.beside)], {**currents, **fed}, port, branches, meters
    limited, dropped = _linear(*state, driver.between)
    over = [drop > np.multiply(driver.held, driver.below) for drop in dropped]
    if all(np.all(each) for each in over):
        return limited
    unsure = [not np.all(each) for each in over[1:]]  # the meters with which it may be below its drop-out
    asked = [meter for meter, doubt in zip(meters, unsure, strict=True) if doubt]
    state = points, [*resistors, (first, second, driver.below)], currents, port, branches, asked
    below, _ = _linear(*state, driver.between)
    others = iter(below.meters)
    return Solved(
        [np.where(over[0], *both) for both in zip(limited.voltages, below.voltages, strict=True)],
        [np.where(over[0], *both) for both in zip(limited.currents, below.currents, strict=True)],
        [
            np.where(at, shown, next(others)) if doubt else shown
            for at, shown, doubt in zip(over[1:], limited.meters, unsure, strict=True)
        ],
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
    shape = np.broadcast_shapes(*map(np.shape, (*volts, *ohms)), *(branch.shape for branch in branches))
    both = np.stack([np.broadcast_to(each, shape) for each in (*volts, *ohms)])
    volts, ohms = both[: len(volts)], both[len(volts) :]
    node, found = port_voltage(volts, ohms, branches)
    taken = (volts - node) / ohms  # the sum of the currents would lose digits behind a large resistance
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

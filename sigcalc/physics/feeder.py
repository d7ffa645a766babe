"""Many loads on one supply through a feeder that branches like a tree: the voltage at every node, every current.

In a tree what flows to a node is the sum of what everything behind it draws, and the voltage there is the supply's
less what is lost on the one way to it. Each Newton step replaces every load by its tangent. A whole branch then is one
straight line, current against voltage, so one sweep from the far ends in folds the tree up and one sweep out gives
all voltages: the exact solution of the step, in a time that grows as the number of nodes does. (The plain sweep, which
holds the currents while it corrects the voltages, converges only where a load's slope times the resistance of its way
is well below one: it fails at a short circuit, and for lamps behind hardly any resistor.)

No load draws less when its voltage rises, so there is one answer: the least of a convex function. Without current
limits every load's curve is convex, and the voltages fall steadily onto the answer from any start (the monotone Newton
theorem of J. M. Ortega and W. C. Rheinboldt, Iterative Solution of Nonlinear Equations in Several Variables, 1970,
13.3.4; from memory). A limit bends a curve the other way; there a step is halved until the function no longer rises.

Several feeders are solved at once as one forest: a step costs mostly what numpy needs for a call.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import RangeError
from .diode import Triple, loop_current, string_current

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]

_MOST_STEPS = 300
_MOST_CUTS = 60
_SETTLED = 1e-11  # of the supply: Newton doubles the digits, so what is left after a step as small is below rounding
_SAFE = 1e-9  # of the supply: steps no longer than this are taken whole, since rounding hides what they gain
_TRUSTED = 1e-9  # of the supply: no answer is given whose voltages and currents differ by more
_HELD = 1e-14  # of itself: the voltage at which a supply gives just its limit is known to this


def chain_voltages(supply: ArrayLike, resistances: ArrayLike, currents: ArrayLike) -> Floats:
    """Voltage in V at each load of a chain, the loads drawing constant currents; in closed form.

    V_k = E - sum over j <= k of R_j times the sum over m >= j of I_m.

    Parameters
    ----------
    supply : array_like, shape (...)
        Voltage at the supply's end, in V.
    resistances, currents : array_like, shape (..., loads)
        Loop resistance of each section, there and back, in ohm, from the supply's end on; and the current in A
        drawn at the section's far end.

    Returns shape (..., loads). Raises RangeError for shapes that do not fit each other, and where a load that draws
    current would be left no voltage.
    """
    try:
        volts, ohms, amperes = np.broadcast_arrays(
            np.asarray(supply, float)[..., None], np.asarray(resistances, float), np.asarray(currents, float)
        )
    except ValueError:
        raise RangeError(
            "resistances and currents need one figure for each section; their shapes do not fit each other"
        ) from None
    beyond = np.cumsum(amperes[..., ::-1], axis=-1)[..., ::-1]
    left = volts - np.cumsum(ohms * beyond, axis=-1)
    starved = (left <= 0.0) & (amperes > 0.0)
    if starved.any():
        place = np.unravel_index(np.argmax(starved), starved.shape)
        raise RangeError(
            f"load {place[-1] + 1} of the chain cannot draw its {amperes[place]:g} A: that would leave "
            f"{left[place]:g} V there; use thicker wire, fewer loads or a higher supply"
        )
    return left


class Loads(NamedTuple):
    """Loads of one kind, shape (loads,) each: at which node, and what is in series there.

    The current is that of voltage less `drop` (V) through `resistance` (ohm) and the LEDs, never more than `limit` (A).
    `leds` holds (saturation current, emission voltage, series resistance) of each LED in series, as in `diode`.
    """

    node: Whole
    resistance: Floats
    leds: list[tuple[Floats, Floats, Floats]]
    drop: Floats
    limit: Floats

    def answer(self, volts: Floats) -> tuple[Floats, Floats]:
        """Current in A and dI/dV in A/V at the loads' voltages, both in closed form."""
        current, slope = self._unlimited(volts, self.resistance)
        held = current >= self.limit
        return np.where(held, self.limit, current), np.where(held, 0.0, slope)

    def alone(self, supply: Floats | float, path: Floats | float) -> Floats:
        """Voltage of each load if it alone is on the supply, at the end of its path (ohm)."""
        current, _ = self._unlimited(np.broadcast_to(supply, self.node.shape), self.resistance + path)
        return supply - path * np.minimum(current, self.limit)

    def only(self, chosen: NDArray[np.bool_]) -> Loads:
        """Those of the loads for which `chosen` is true."""
        leds = [tuple(figure[chosen] for figure in each) for each in self.leds]
        return Loads(self.node[chosen], self.resistance[chosen], leds, self.drop[chosen], self.limit[chosen])

    def _unlimited(self, volts: Floats, ohms: Floats) -> tuple[Floats, Floats]:
        left = np.where(self.drop > 0.0, np.maximum(volts - self.drop, 0.0), volts)
        passing = (self.drop <= 0.0) | (left > 0.0)
        if not self.leds:
            return left / ohms, passing / ohms
        one = len(self.leds) == 1
        current = loop_current(left, ohms, *self.leds[0]) if one else string_current(left, ohms, self.leds)
        with np.errstate(divide="ignore"):  # a saturated reverse current no longer grows
            total = ohms + sum(series + emission / (current + least) for least, emission, series in self.leds)
            return current, passing / total


def lamp_loads(
    node: ArrayLike,
    resistance: ArrayLike,
    leds: Sequence[Triple] = (),
    drop: ArrayLike = 0.0,
    limit: ArrayLike = np.inf,
) -> Loads:
    """Loads of one kind from figures that are one for all, or an array with one for each: see `Loads`.

    Without LEDs it is a plain resistor, such as a relay's coil or nearly a short circuit; a small resistance with a
    limit draws a constant current.
    """
    places = np.atleast_1d(np.asarray(node, int))
    flat = [
        np.array(np.broadcast_to(each, places.shape), float)
        for each in (resistance, drop, limit, *(figure for led in leds for figure in led))
    ]
    return Loads(places, flat[0], [tuple(flat[first : first + 3]) for first in range(3, len(flat), 3)], *flat[1:3])


class Feeder(NamedTuple):
    """A feeder to solve.

    supply: its open voltage in V
    above: for each node the number of the node it is fed from; -1 for node 0, the supply's terminals
    ohms: for each node the loop resistance, there and back, of the section above it; for the supply's terminals that
        inside the supply. Zero is allowed
    loads: groups of them, in any order; several at one node, or none
    limit: the most current the supply gives in A: an overloaded one lets its voltage down and holds the current
    """

    supply: float
    above: Whole
    ohms: Floats
    loads: Sequence[Loads]
    limit: float = np.inf


class FeederPoint(NamedTuple):
    """What a feeder does.

    node_voltage: in V, shape (nodes,)
    load_current: in A, shape (loads,), the groups one after another as they were given
    through: current in A to each node from the one above it, shape (nodes,): sums of the loads' currents, so that the
        current law holds to rounding; to the supply's terminals it is what the supply gives
    residual: in V, the most by which a node's voltage differs from what those currents leave there
    limited: whether the supply is held at its limit
    steps: how many Newton steps it took
    """

    node_voltage: Floats
    load_current: Floats
    through: Floats
    residual: float
    limited: bool
    steps: int

    @property
    def supply_current(self) -> float:
        """What the supply gives, in A."""
        return float(self.through[0])


class Tree:
    """Which node is fed from which, sorted by how many sections away from the supply they are: for sums both ways.

    `above` is as for `Feeder`; several trees may be in it, each with its own -1.
    """

    def __init__(self, above: Whole):
        children: list[list[int]] = [[] for _ in above]
        for node, parent in enumerate(above.tolist()):
            if parent >= 0:
                children[parent].append(node)
        self.roots = level = np.flatnonzero(above < 0)
        self.levels: list[tuple[Whole, Whole, Whole, Whole]] = []
        """Of each distance: its nodes, those they are fed from, these once each, and where the nodes of each begin."""
        while True:
            parents = [node for node in level.tolist() if children[node]]
            if not parents:
                break
            level = np.array([child for node in parents for child in children[node]])
            counts = [len(children[node]) for node in parents]
            self.levels.append((level, above[level], np.array(parents), np.cumsum([0, *counts[:-1]])))

    def beyond(self, drawn: Floats) -> Floats:
        """For each node the sum of what it and everything behind it draws."""
        total = np.array(drawn, float)
        for nodes, _, parents, starts in reversed(self.levels):
            total[parents] += np.add.reduceat(total[nodes], starts)
        return total

    def along(self, fall: Floats) -> Floats:
        """For each node the sum of what there is at every node from the supply to it."""
        total = np.array(fall, float)
        for nodes, above, _, _ in self.levels:
            total[nodes] += total[above]
        return total

    def straight(self, supply: Floats, ohms: Floats, fixed: Floats, slope: Floats) -> tuple[Floats, Floats]:
        """Voltages, and currents to the nodes, where each node draws `fixed` + `slope` times its voltage.

        What flows to node k is a_k + b_k V_k, sums over everything behind it: a section of r ohm turns it into
        (a_k + b_k V) / (1 + b_k r) of the voltage V above. Nothing is divided by r.
        """
        fixed, slope = fixed.copy(), slope.copy()
        for nodes, _, parents, starts in reversed(self.levels):
            share = 1.0 / (1.0 + slope[nodes] * ohms[nodes])
            fixed[parents] += np.add.reduceat(fixed[nodes] * share, starts)
            slope[parents] += np.add.reduceat(slope[nodes] * share, starts)
        lost, share = ohms * fixed, 1.0 / (1.0 + slope * ohms)
        volts = np.empty_like(fixed)
        volts[self.roots] = (supply - lost[self.roots]) * share[self.roots]
        for nodes, above, _, _ in self.levels:
            volts[nodes] = (volts[above] - lost[nodes]) * share[nodes]
        return volts, fixed + slope * volts


def solve_feeders(feeders: Sequence[Feeder]) -> list[FeederPoint]:
    """The voltages and currents of one feeder or of many, solved together.

    Raises RangeError where the resistances lie so many powers of ten apart that no digit of an answer is sure, and
    as `diode.loop_current` where nothing limits a lamp's current.
    """
    points = _Forest(feeders).points([each.supply for each in feeders])
    over = [place for place, each in enumerate(feeders) if points[place].supply_current > each.limit]
    if over:
        held = _held([feeders[place] for place in over], [points[place] for place in over])
        for place, point in zip(over, held, strict=True):
            points[place] = point
    return points


class _Forest:
    """Feeders side by side, their nodes and their loads numbered through; loads of one kind are one group."""

    def __init__(self, feeders: Sequence[Feeder]):
        self.nodes = _slices([each.above.size for each in feeders])
        firsts = [each.start for each in self.nodes]
        self.tree = Tree(
            np.concatenate(
                [np.where(each.above < 0, -1, each.above + first) for each, first in zip(feeders, firsts, strict=True)]
            )
        )
        self.ohms = np.concatenate([each.ohms for each in feeders])
        self.member = np.repeat(np.arange(len(feeders)), [each.above.size for each in feeders])
        alike: dict[int, list[tuple[int, int, Loads]]] = {}
        for number, feeder in enumerate(feeders):
            for place, group in enumerate(feeder.loads):
                alike.setdefault(len(group.leds), []).append((number, place, group))
        self.groups, found, count = [], {}, 0
        for members in alike.values():
            self.groups.append(_joined([group._replace(node=group.node + firsts[k]) for k, _, group in members]))
            for number, place, group in members:
                found[number, place] = np.arange(count, count + group.node.size)
                count += group.node.size
        empty = np.empty(0, int)
        self.loads = [
            np.concatenate([empty, *(found[number, place] for place in range(len(each.loads)))])
            for number, each in enumerate(feeders)
        ]
        self.node = np.concatenate([empty, *(each.node for each in self.groups)])
        self._ends = np.cumsum([each.node.size for each in self.groups])[:-1]
        self._bent = any(np.isfinite(each.limit).any() for each in self.groups)

    def answer(self, volts: Floats) -> tuple[Floats, Floats]:
        """Current and dI/dV of all loads at their voltages."""
        parts = [group.answer(each) for group, each in zip(self.groups, np.split(volts, self._ends), strict=True)]
        return np.concatenate([np.empty(0), *(each for each, _ in parts)]), np.concatenate(
            [np.empty(0), *(each for _, each in parts)]
        )

    def drawn(self, per_load: Floats) -> Floats:
        """The sum over the loads at each node."""
        return np.bincount(self.node, per_load, self.member.size)

    def tangents(self, supply: Floats, volts: Floats, current: Floats, slope: Floats) -> tuple[Floats, Floats]:
        """Voltages, and currents to the nodes, with each load on its tangent at the voltage given for it."""
        return self.tree.straight(supply, self.ohms, self.drawn(current - slope * volts), self.drawn(slope))

    def settle(self, supply: Floats) -> tuple[Floats, Floats, Floats, int]:
        """Voltages of the nodes, current and slope of the loads there, and the number of steps."""
        way, each = self.tree.along(self.ohms)[self.node], supply[self.member[self.node]]
        parts = zip(self.groups, np.split(each, self._ends), np.split(way, self._ends), strict=True)
        start = np.concatenate([np.empty(0), *(group.alone(own, path) for group, own, path in parts)])
        volts, through = self.tangents(supply, start, *self.answer(start))
        current, slope = self.answer(volts[self.node])
        settled = np.zeros(supply.size, bool)
        for steps in range(1, _MOST_STEPS):
            aim, then = self.tangents(supply, volts[self.node], current, slope)
            moving = ~settled[self.member]  # a feeder at rest stays there, whatever the others need
            move, change = moving * (aim - volts), moving * (then - through)
            longest = np.maximum.reduceat(np.abs(move), [each.start for each in self.nodes])
            settled |= longest <= _SETTLED * supply
            share, (current, slope) = self._share(volts, through, move, change, current, longest > _SAFE * supply)
            volts, through = volts + share * move, through + share * change
            if settled.all():
                return volts, current, slope, steps
        raise RangeError(_APART)

    def _share(
        self, volts: Floats, through: Floats, move: Floats, change: Floats, current: Floats, long: NDArray[np.bool_]
    ) -> tuple[Floats, tuple[Floats, Floats]]:
        """How much of its move each node makes, and the loads' answer there.

        All of it, or halved until along it the feeder's convex function no longer rises at the end: the sum of the
        loads' integrals of current over voltage, and of half of resistance times current squared in the sections.
        """
        count, node = len(self.nodes), self.node
        own, moved, share = self.member[node], move[node], np.ones(len(self.nodes))
        here = self.answer(volts[node] + moved)
        if not self._bent:
            return share[self.member], here
        at_start = np.bincount(self.member, self.ohms * through * change, count)
        grows = np.bincount(self.member, self.ohms * change**2, count)
        falls = at_start + np.bincount(own, current * moved, count) < 0.0
        for _ in range(_MOST_CUTS):
            rises = at_start + share * grows + np.bincount(own, here[0] * moved, count) > 0.0
            if not (rises & falls & long).any():
                break
            share = np.where(rises & falls & long, share / 2, share)
            here = self.answer(volts[node] + share[own] * moved)
        return share[self.member], here

    def points(self, supply: Sequence[float], limited: bool = False) -> list[FeederPoint]:
        """Every feeder's figures on supplies of so many volts."""
        volts_of = np.array(supply, float)
        volts, current, _, steps = self.settle(volts_of)
        through = self.tree.beyond(self.drawn(current))
        off = np.abs(volts_of[self.member] - self.tree.along(self.ohms * through) - volts)
        residual = [float(off[each].max()) for each in self.nodes]
        if not (residual <= _TRUSTED * volts_of).all():
            raise RangeError(_APART)
        return [
            FeederPoint(volts[nodes], current[loads], through[nodes], residual[place], limited, steps)
            for place, (nodes, loads) in enumerate(zip(self.nodes, self.loads, strict=True))
        ]


_APART = "the feeder cannot be solved: its resistances, or its loads', lie too many powers of ten apart"


def _held(feeders: list[Feeder], free: list[FeederPoint]) -> list[FeederPoint]:
    """Each feeder at the voltage of the supply's terminals, below the free one, at which it draws just the limit.

    The current grows with the voltage: Newton's method, kept inside a bracket that closes.
    """
    # what is lost inside the supply no longer counts
    forest = _Forest([each._replace(ohms=np.append(0.0, each.ohms[1:])) for each in feeders])
    limit = np.array([each.limit for each in feeders])
    low, high = np.zeros(limit.size), np.array([each.node_voltage[0] for each in free])
    volts = high
    for _ in range(200):
        _, current, slope, _ = forest.settle(volts)
        total = forest.tree.beyond(forest.drawn(current))[forest.tree.roots]
        growth = forest.tangents(np.ones(limit.size), np.zeros(slope.size), np.zeros(slope.size), slope)[1]
        excess = total - limit
        low, high = np.where(excess > 0.0, low, volts), np.where(excess > 0.0, volts, high)
        with np.errstate(divide="ignore", invalid="ignore"):  # nothing grows where every load is at its own limit
            step = excess / growth[forest.tree.roots]
        near = np.abs(step) <= _HELD * volts
        inside = (volts - step > low) & (volts - step < high)
        moved = np.where(near | inside, volts - step, (low + high) / 2)
        if (near | (moved == volts)).all():
            break
        volts = moved
    return forest.points(volts, limited=True)


def _joined(groups: list[Loads]) -> Loads:
    """Groups of one kind as one, the loads in their order."""
    leds = [
        tuple(map(np.concatenate, zip(*nth, strict=True))) for nth in zip(*(each.leds for each in groups), strict=True)
    ]
    node, resistance, drop, limit = (
        np.concatenate([getattr(each, name) for each in groups]) for name in ("node", "resistance", "drop", "limit")
    )
    return Loads(node, resistance, leds, drop, limit)


def _slices(sizes: list[int]) -> list[slice]:
    """Where each has its place when all follow one another."""
    return [slice(*each) for each in pairwise(np.cumsum([0, *sizes]).tolist())]

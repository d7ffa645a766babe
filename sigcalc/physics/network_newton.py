"""Newton's method for a feeder network.

The unknowns are the drops of the nodes below the supply's open voltage. For load currents i(V) that do not
fall as their voltage rises, the drops U obey G U = i(E - U), with G the sections' nodal conductances: the
gradient of a strictly convex function set to zero, so that there is one answer and no other. It is found by
Newton's method, a sparse factorisation a step.

Where no load has a limit, every i is convex and G + di/dV has an inverse without negative entries. Then the
voltages of all nodes fall from step to step onto the answer, from any start: the monotone Newton theorem of
J. M. Ortega and W. C. Rheinboldt, Iterative Solution of Nonlinear Equations in Several Variables (1970), 13.3.4
(from memory). A limit bends a load's curve the other way; then a step is cut where, along it, the convex
function would rise again.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

import numpy as np

from ..errors import RangeError
from .network_loads import Group
from .network_nodal import APART, Nodal
from .network_tree import Floats, Sections, Tree, checked_tree

_MOST_STEPS = 300
_MOST_CUTS = 60
_SETTLED = 1e-11  # of the supply: the step after one as small as this is below rounding
_SAFE = 1e-9  # of the supply: steps no longer than this are taken whole, since rounding hides what they gain


class Network:
    """One network: its nodal equations and its loads, the source's resistance left open."""

    def __init__(self, sections: Sections, groups: list[Group], loops: bool):
        nodes = max(sections.nodes, *(1 + int(each.node.max(initial=0)) for each in groups))
        self.sections, self.groups, self.loops = sections, groups, loops
        self.tree: Tree = checked_tree(sections, nodes, loops)
        self.node = np.concatenate([each.node for each in groups])
        self._ends = np.cumsum([each.node.size for each in groups])[:-1]
        self._nodal: Nodal | None = None

    def settle(self, supply: float, source_resistance: float) -> tuple[Floats, int]:
        """The drop at every node in V, and the number of steps to it."""
        if self._nodal is None or self._nodal.source_resistance != source_resistance:
            self._nodal = Nodal(self.sections, self.tree, source_resistance)
        for steps, (drop, move) in enumerate(islice(self.steps(supply), _MOST_STEPS), 1):
            if np.abs(move).max(initial=0.0) <= _SETTLED * supply:
                return drop, steps
        raise RangeError(APART)

    def steps(self, supply: float) -> Iterator[tuple[Floats, Floats]]:
        """Newton's steps without end: the drop at every node after each, and the move there."""
        path = self._nodal.path[self.node]
        start = zip(self.groups, np.split(path, self._ends), strict=True)
        drop = self._newton(supply, np.concatenate([group.alone(supply, way) for group, way in start]))
        bent = any(group.bent for group in self.groups)
        while True:
            move = self._newton(supply, supply - drop[self.node]) - drop
            if bent and np.abs(move).max() > _SAFE * supply:
                move = self._safe_share(supply, drop, move) * move
            drop = drop + move
            yield drop, move

    def answer(self, volts: Floats) -> tuple[Floats, Floats]:
        """Current and dI/dV of all loads at their voltages."""
        parts = [group.answer(each) for group, each in zip(self.groups, np.split(volts, self._ends), strict=True)]
        return np.concatenate([current for current, _ in parts]), np.concatenate([slope for _, slope in parts])

    def _drawn(self, per_load: Floats) -> Floats:
        """The sum over the loads at each node."""
        return np.bincount(self.node, per_load, self.tree.parent.size)

    def _newton(self, supply: float, volts: Floats) -> Floats:
        """The drops with every load on its tangent at the voltage given for it.

        Written as a correction of the drops that the loads' currents cause, so that a section of hardly any
        resistance loses no digits.
        """
        current, slope = self.answer(volts)
        caused = self._nodal.fall(self._drawn(current))
        pull = slope * (supply - volts - caused[self.node])
        return caused + self._nodal.correction(self._drawn(slope), self._drawn(pull))

    def _safe_share(self, supply: float, drop: Floats, move: Floats) -> float:
        """How much of a move to make: all of it, or as much as keeps the convex function from rising again."""
        at_start, growth = self._nodal.work(move, drop), self._nodal.work(move, move)
        volts, change = supply - drop[self.node], move[self.node]

        def slope(share: float) -> float:
            return at_start + share * growth - float(change @ self.answer(volts - share * change)[0])

        first, low, high = slope(0.0), 0.0, 1.0
        at_low, at_high = first, slope(1.0)
        if at_high <= 0.0 or first >= 0.0:  # still falling at the end, or too little to tell from rounding
            return 1.0
        for _ in range(_MOST_CUTS):
            share = low + (high - low) * max(at_low / (at_low - at_high), 0.1)
            here = slope(share)
            if first / 2 <= here <= 0.0:
                return share
            low, at_low, high, at_high = (share, here, high, at_high) if here < 0.0 else (low, at_low, share, here)
        return low or high

    def flows(self, supply: float, drop: Floats) -> tuple[Floats, Floats, Floats, float]:
        """Drops, load currents, section currents and the supply's, once more from the loads' currents at `drop`."""
        current, _ = self.answer(supply - drop[self.node])
        caused, through, total = self._nodal.flows(self._drawn(current))
        return caused, current, through, total

"""Newton's method for feeder networks, one or many at once.

The unknowns are the drops of the nodes below the supply's open voltage. For load currents i(V) that do not
fall as their voltage rises, the drops U obey G U = i(E - U), with G the sections' nodal conductances: the
gradient of a strictly convex function set to zero, so that there is one answer and no other. It is found by
Newton's method, a sparse factorisation a step.

Where no load has a limit, every i is convex and G + di/dV has an inverse without negative entries. Then the
voltages of all nodes fall from step to step onto the answer, from any start: the monotone Newton theorem of
J. M. Ortega and W. C. Rheinboldt, Iterative Solution of Nonlinear Equations in Several Variables (1970), 13.3.4
(from memory). A limit bends a load's curve the other way; then a step is cut where, along it, the convex
function would rise again.

Networks that hang on sources of their own do not know of each other: their matrices stand beside each other as
blocks of one, and each steps, is cut and comes to rest as if it were alone. Small ones are solved together since
a step costs mostly what Python and numpy need for a call.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice, pairwise
from typing import Any

import numpy as np

from ..errors import RangeError
from .network_loads import Group, joined_loads
from .network_nodal import APART, Nodal
from .network_tree import Floats, Sections, Tree, Whole, checked_tree

_MOST_STEPS = 300
_MOST_CUTS = 60
_SETTLED = 1e-11  # of the supply: the step after one as small as this is below rounding
_SAFE = 1e-9  # of the supply: steps no longer than this are taken whole, since rounding hides what they gain


class Network:
    """One network or several, each its sections and its loads; the sources' resistances are left open.

    The nodes of all are numbered through, as are their sections; `nodes`, `sections` and `loads` give each network's.
    The loads of all that have one make-up stand in one group, so that a step asks few questions of many loads.
    """

    def __init__(self, members: Sequence[tuple[Sections, Sequence[Group]]], loops: bool):
        trees: dict[tuple[int, int], Tree] = {}  # networks that share their sections share their tree
        found = []
        for sections, groups in members:
            nodes = max(sections.nodes, *(1 + int(each.node.max(initial=0)) for each in groups))
            if (id(sections), nodes) not in trees:
                trees[id(sections), nodes] = checked_tree(sections, nodes, loops)
            found.append(trees[id(sections), nodes])
        self.nodes = _slices(each.parent.size for each in found)
        self.sections = _slices(sections.start.size for sections, _ in members)
        self._sections = Sections(
            *(_joined([getattr(each, end) for each, _ in members], self.nodes) for end in ("start", "end")),
            np.concatenate([each.resistance for each, _ in members]),
        )
        self._tree = Tree(
            *(_joined([getattr(each, name) for each in found], self.nodes) for name in ("order", "parent")),
            *(_joined([getattr(each, name) for each in found], self.sections) for name in ("section", "chords")),
            np.empty(0, int),
        )
        self._gather([groups for _, groups in members])
        self.member = np.repeat(np.arange(len(members)), [each.stop - each.start for each in self.nodes])[self.node]
        self._nodal: Nodal | None = None

    def _gather(self, members: list[Sequence[Group]]) -> None:
        """The loads in groups of one make-up, and where in them each network's own stand, in the order given."""
        alike: dict[Any, list[tuple[int, Group]]] = {}
        for number, groups in enumerate(members):
            for group in groups:
                alike.setdefault(group.make_up, []).append((number, group))
        self.groups = []
        places: dict[int, Any] = {}
        count = 0
        for each in alike.values():
            self.groups.append(joined_loads([group.at(self.nodes[number].start) for number, group in each]))
            for number, group in each:
                places[number, id(group)] = np.arange(count, count + group.node.size)
                count += group.node.size
        self.loads = [
            np.concatenate([places[number, id(group)] for group in groups]) for number, groups in enumerate(members)
        ]
        self.node = np.concatenate([each.node for each in self.groups])
        self._ends = np.cumsum([each.node.size for each in self.groups])[:-1]

    def settle(self, supply: Floats | float, source_resistance: Floats | float) -> tuple[Floats, int]:
        """The drop at every node in V, and the number of steps to it; a supply and a resistance for each network."""
        self._nodal = Nodal(self._sections, self._tree, source_resistance)
        for steps, (drop, move) in enumerate(islice(self.steps(supply), _MOST_STEPS), 1):
            if not move.any():
                return drop, steps
        raise RangeError(APART)

    def steps(self, supply: Floats | float) -> Iterator[tuple[Floats, Floats]]:
        """Newton's steps without end: the drop at every node after each, and the move there.

        A network whose step was too small to matter makes no more.
        """
        member, here = self._nodal.member, np.broadcast_to(supply, len(self.nodes))
        volts = here[self.member]
        path = self._nodal.path[self.node]
        start = zip(self.groups, *(np.split(each, self._ends) for each in (volts, path)), strict=True)
        drop = self._newton(volts, np.concatenate([group.alone(own, way) for group, own, way in start]))
        bent = any(group.bent for group in self.groups)
        settled = np.zeros(here.size, bool)
        while True:
            move = self._newton(volts, volts - drop[self.node]) - drop
            move[settled[member]] = 0.0
            if bent:
                move *= self._safe_share(volts, drop, move, self._longest(move) > _SAFE * here)[member]
            drop = drop + move
            yield drop, move
            settled |= self._longest(move) <= _SETTLED * here

    def _longest(self, move: Floats) -> Floats:
        """For each network its longest move."""
        return np.maximum.reduceat(np.abs(move), [each.start for each in self.nodes])

    def answer(self, volts: Floats) -> tuple[Floats, Floats]:
        """Current and dI/dV of all loads at their voltages."""
        parts = [group.answer(each) for group, each in zip(self.groups, np.split(volts, self._ends), strict=True)]
        return np.concatenate([current for current, _ in parts]), np.concatenate([slope for _, slope in parts])

    def _drawn(self, per_load: Floats) -> Floats:
        """The sum over the loads at each node."""
        return np.bincount(self.node, per_load, self._tree.parent.size)

    def _newton(self, supply: Floats, volts: Floats) -> Floats:
        """The drops with every load on its tangent at the voltage given for it.

        Written as a correction of the drops that the loads' currents cause, so that a section of hardly any
        resistance loses no digits.
        """
        current, slope = self.answer(volts)
        caused = self._nodal.fall(self._drawn(current))
        pull = slope * (supply - volts - caused[self.node])
        return caused + self._nodal.correction(self._drawn(slope), self._drawn(pull))

    def _safe_share(self, supply: Floats, drop: Floats, move: Floats, long: Any = True) -> Floats:
        """How much of its move each network makes: all, or as much as keeps its convex function from rising again."""
        at_start, growth = self._nodal.work(move, drop), self._nodal.work(move, move)
        volts, change = supply - drop[self.node], move[self.node]

        def slope(share: Floats) -> Floats:
            current, _ = self.answer(volts - share[self.member] * change)
            return at_start + share * growth - np.bincount(self.member, change * current, share.size)

        low, high = np.zeros(at_start.size), np.ones(at_start.size)
        share = high
        at_low, at_high = first, _ = slope(low), slope(high)
        # not cut: still falling at the end, or too little to tell from rounding
        cut = (at_high > 0.0) & (first < 0.0) & long
        for _ in range(_MOST_CUTS):
            if not cut.any():
                return share
            with np.errstate(invalid="ignore", divide="ignore"):  # those that are not cut may divide nought by nought
                tried = low + (high - low) * np.maximum(at_low / (at_low - at_high), 0.1)
            tried = np.where(cut, tried, share)
            here = slope(tried)
            share = np.where(cut & (first / 2 <= here) & (here <= 0.0), tried, share)
            cut &= share != tried
            below = here < 0.0
            low, at_low = np.where(below, tried, low), np.where(below, here, at_low)
            high, at_high = np.where(below, high, tried), np.where(below, at_high, here)
        return np.where(cut, np.where(low > 0.0, low, high), share)

    def flows(self, supply: Floats, drop: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """Drops, load currents, section currents and the sources', once more from the loads' currents at `drop`."""
        current, _ = self.answer(supply[self.member] - drop[self.node])
        caused, through, total = self._nodal.flows(self._drawn(current))
        return caused, current, through, total

    def growth(self, supply: Floats, drop: Floats) -> Floats:
        """By how many A each source gives more for a V more of its open voltage."""
        _, slope = self.answer(supply[self.member] - drop[self.node])
        kept = 1.0 - self._nodal.correction(*[self._drawn(slope)] * 2)[self.node]
        return np.bincount(self.member, slope * kept, supply.size)


def _slices(sizes: Iterable[int]) -> list[slice]:
    """Where each stands when all follow one another."""
    ends = np.cumsum([0, *sizes]).tolist()
    return [slice(*each) for each in pairwise(ends)]


def _joined(numbers: list[Whole], places: list[slice]) -> Whole:
    """The numbers of all networks in one row, counted on from where each begins; what is none (-1) stays so."""
    return np.concatenate(
        [np.where(each < 0, each, each + place.start) for each, place in zip(numbers, places, strict=True)]
    )

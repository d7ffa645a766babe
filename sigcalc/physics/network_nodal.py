"""The linear part of feeder networks: their sections and the sources' resistances, as nodal equations of the drops."""

from __future__ import annotations

import numpy as np
from scipy.sparse import coo_array, csc_array
from scipy.sparse.csgraph import connected_components
from scipy.sparse.linalg import SuperLU, splu

from ..errors import RangeError
from .network_tree import NEXT_TO_NOTHING, Floats, Sections, Sweep, Tree, Whole, sparse_square, splu_in_order

_REFINEMENTS = 3  # of the currents that close loops; each takes over what the one before left
APART = "The network could not be solved: its resistances, or its loads', lie too many powers of ten apart."


class Nodal:
    """Sections of one network or of several, each behind the resistance of its source, on their spanning trees.

    A network's nodes follow one another, its source's terminals first. Inside, one node more stands before all: the
    sources' open voltage, from which every drop counts, with a section to each network's terminals that has its
    source's resistance. Nodes joined by next to no resistance share one unknown.
    """

    def __init__(self, sections: Sections, tree: Tree, source_resistance: Floats | float):
        roots = np.flatnonzero(tree.parent < 0)
        own = self._sources = roots.size
        ohms = np.broadcast_to(source_resistance, own)
        self._sections = Sections(
            np.concatenate([np.zeros(own, int), sections.start + 1]),
            np.concatenate([roots + 1, sections.end + 1]),
            np.concatenate([ohms, sections.resistance]),
        )
        above = tree.section + own
        above[roots] = np.arange(own)
        self._tree = Tree(
            np.append(0, tree.order + 1),
            np.append(-1, tree.parent + 1),
            np.append(-1, above),
            tree.chords + own,
            tree.unreached + 1,
        )
        self.member: Whole = np.cumsum(tree.parent < 0) - 1
        """Of each node, the number of its network."""
        self._sweep = Sweep(self._sections, self._tree)
        self._number_unknowns()
        self._assemble()
        # The way alone to each node: never more than the tree's; where there are loops only the source's is sure.
        self.path: Floats = ohms[self.member] if self._rings else self._sweep.along(self._sweep.ohms)[1:]
        self._unloaded = self._factor(self._matrix) if self._rings else None

    @property
    def _rings(self) -> bool:
        return bool(self._tree.chords.size)

    def _number_unknowns(self) -> None:
        """For each node its unknown, those furthest out first; -1 where the source holds the voltage."""
        nodes, ohms = self._tree.parent.size, self._sweep.ohms
        joined = np.flatnonzero((ohms < NEXT_TO_NOTHING) & (self._tree.parent >= 0))
        graph = coo_array((np.ones(joined.size), (joined, self._tree.parent[joined])), shape=(nodes, nodes))
        count, label = connected_components(graph.tocsr(), directed=False)
        _, first = np.unique(label[self._tree.order], return_index=True)
        rank = np.empty(count, np.int64)
        rank[np.argsort(first)] = np.arange(count)
        self.unknown: Whole = np.where(rank[label] == 0, -1, count - 1 - rank[label])
        self.count = count - 1

    def _assemble(self) -> None:
        """The matrix of conductances, and where on its diagonal each unknown's own stands."""
        start, end, ohms = self._sections
        real = np.flatnonzero(self.unknown[start] != self.unknown[end])
        a, b, siemens = self.unknown[start[real]], self.unknown[end[real]], 1.0 / ohms[real]
        both = (a >= 0) & (b >= 0)
        own = np.arange(self.count)
        rows = np.concatenate([own, a[a >= 0], b[b >= 0], a[both], b[both]])
        columns = np.concatenate([own, a[a >= 0], b[b >= 0], b[both], a[both]])
        values = np.concatenate(
            [np.zeros(self.count), siemens[a >= 0], siemens[b >= 0], -siemens[both], -siemens[both]]
        )
        self._matrix = sparse_square(values, rows, columns, self.count)
        column = np.repeat(own, np.diff(self._matrix.indptr))
        self._diagonal = np.flatnonzero(self._matrix.indices == column)
        self._real = real, siemens

    def _factor(self, matrix: csc_array) -> SuperLU:
        try:
            return splu(matrix) if self._rings else splu_in_order(matrix)
        except RuntimeError:  # singular to rounding
            raise RangeError(APART) from None

    def _gather(self, per_node: Floats) -> Floats:
        """Sums for the unknowns; what hangs where the source holds the voltage needs none."""
        unknown = self.unknown[1:]
        return np.bincount(unknown[unknown >= 0], per_node[unknown >= 0], self.count)

    def _spread(self, per_unknown: Floats) -> Floats:
        """The unknowns' values at the nodes, the inner one first."""
        return np.append(per_unknown, 0.0)[self.unknown]

    def correction(self, slope: Floats, pull: Floats) -> Floats:
        """Solve (G + slope) U = pull, with slope in A/V and pull in A at the nodes; U in V at the nodes."""
        if not self.count:
            return np.zeros_like(pull)
        values = self._matrix.data.copy()
        values[self._diagonal] += self._gather(slope)
        matrix = csc_array((values, self._matrix.indices, self._matrix.indptr), shape=self._matrix.shape)
        return self._spread(self._factor(matrix).solve(self._gather(pull)))[1:]

    def fall(self, drawn: Floats) -> Floats:
        """The drops in V at the nodes for currents in A drawn there."""
        return self._fall(np.append(0.0, drawn))[0][1:]

    def _fall(self, drawn: Floats) -> tuple[Floats, Floats, Floats]:
        """Drops, what flows to each node through the section above it, and what flows in the chords."""
        beyond = self._sweep.beyond(drawn)
        drop, through = self._sweep.along(self._sweep.ohms * beyond), np.zeros(self._tree.chords.size)
        for _ in range(_REFINEMENTS if self._rings else 0):
            through = through + self._chord_change(drop, through)
            beyond = self._sweep.beyond(drawn + self._at_ends(through))
            drop = self._sweep.along(self._sweep.ohms * beyond)
        return drop, beyond, through

    def _chord_change(self, drop: Floats, through: Floats) -> Floats:
        """By how much the chords' currents differ from those that fit the drops, once all have given way."""
        start, end, ohms = (each[self._tree.chords] for each in self._sections)
        wanting = (drop[end] - drop[start]) / ohms - through
        moved = self._spread(self._unloaded.solve(self._gather(self._at_ends(wanting)[1:])))
        return wanting + (moved[end] - moved[start]) / ohms

    def _at_ends(self, through: Floats) -> Floats:
        """What currents in the chords draw from the nodes at their ends."""
        start, end, _ = (each[self._tree.chords] for each in self._sections)
        nodes = self._tree.parent.size
        return np.bincount(start, through, nodes) - np.bincount(end, through, nodes)

    def work(self, one: Floats, other: Floats) -> Floats:
        """For each network the sum over its sections of conductance times both differences of drop: one . G other."""
        real, siemens = self._real
        start, end = self._sections.start[real], self._sections.end[real]
        one, other = np.append(0.0, one), np.append(0.0, other)
        heat = siemens * (one[start] - one[end]) * (other[start] - other[end])
        return np.bincount(self.member[end - 1], heat, self._sources)

    def flows(self, drawn: Floats) -> tuple[Floats, Floats, Floats]:
        """Drops at the nodes, currents in the sections from start to end, and the sources', for currents drawn.

        Currents in the tree are sums of everything further out, so that the current law holds to rounding.
        """
        drop, beyond, chords = self._fall(np.append(0.0, drawn))
        end = self._sections.end
        through = np.zeros(end.size)
        through[self._tree.chords] = chords
        child = self._tree.order[1:]
        above = self._tree.section[child]
        through[above] = np.where(end[above] == child, beyond[child], -beyond[child])
        return drop[1:], through[self._sources :], through[: self._sources]

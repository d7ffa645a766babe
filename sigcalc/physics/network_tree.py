"""The shape of a feeder network: which node hangs on which, what closes a loop, and what flows for given loads.

Nodes are numbered from 0, the supply's terminals. A spanning tree is laid through the sections, starting there;
sections beside it are `chords`, each of which closes a loop. In the tree the current law is a sum over
everything further out, and the voltage law a sum along the way in: both are one pass over a triangular matrix.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.sparse import coo_array, csc_array, csr_array
from scipy.sparse.csgraph import breadth_first_order, minimum_spanning_tree
from scipy.sparse.linalg import SuperLU, splu

from ..errors import RangeError
from .domain import together, whole, within

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]

MOST_NODES = 10_000_000
MOST_RESISTANCE = 1e4
NEXT_TO_NOTHING = 1e-9
"""In ohm. Nodes joined by less share one unknown of the steps; the voltage along such a section is kept."""
_NONE = -1


class Sections(NamedTuple):
    """Sections of a feeder, their figures checked: nodes at both ends and loop resistance in ohm, there and back."""

    start: Whole
    end: Whole
    resistance: Floats

    @property
    def nodes(self) -> int:
        """How many nodes the sections speak of, the supply's included."""
        return 1 + max(int(self.start.max(initial=0)), int(self.end.max(initial=0)))


def checked_sections(sections: Any) -> Sections:
    """The sections as arrays of one length; RangeError for anything else, and for a resistance out of range."""
    try:
        start, end, resistance = sections
    except (TypeError, ValueError):
        raise RangeError(
            f"sections must be three arrays (start, end, resistance); {type(sections).__name__} came: give all three."
        ) from None
    start, end = (
        whole(name, each, 0, MOST_NODES, "as a node's number", "number the nodes from 0, the supply's")
        for name, each in (("start", start), ("end", end))
    )
    ohms = within("resistance", resistance, 0.0, MOST_RESISTANCE, "ohm", "give the loop resistance, there and back")
    start, end, ohms = together(start=start, end=end, resistance=ohms)
    return Sections(*(np.atleast_1d(each).ravel() for each in (start, end, ohms)))


class Tree(NamedTuple):
    """A spanning tree of the sections.

    order: the nodes, the supply's first, none before the one it hangs on
    parent: for each node the one it hangs on, -1 for the supply's and for nodes that hang on nothing
    section: for each node the section it hangs on, -1 likewise
    chords: the sections beside the tree, each of which closes a loop
    unreached: the nodes that hang on nothing
    """

    order: Whole
    parent: Whole
    section: Whole
    chords: Whole
    unreached: Whole


def spanning_tree(sections: Sections, nodes: int) -> Tree:
    """The spanning tree from node 0, of the sections with the least resistance where there is a choice."""
    start, end, ohms = sections
    low, high = np.minimum(start, end), np.maximum(start, end)
    preference = np.empty(ohms.size)
    preference[np.argsort(ohms, kind="stable")] = np.arange(1.0, ohms.size + 1.0)
    # Of several sections between the same two nodes only the best can be in the tree.
    ranked = np.lexsort((preference, high, low))
    first = np.ones(ranked.size, bool)
    first[1:] = (np.diff(low[ranked]) != 0) | (np.diff(high[ranked]) != 0)
    candidates = ranked[first]
    candidates = candidates[low[candidates] != high[candidates]]
    graph = csr_array(sparse_square(preference[candidates], low[candidates], high[candidates], nodes))
    if candidates.size >= nodes:
        graph = minimum_spanning_tree(graph)
    order, parent = breadth_first_order(graph, 0, directed=False)
    parent = np.where(parent < 0, _NONE, parent).astype(np.int64)
    section = _section_above(parent, low, high, candidates, nodes)
    chords = np.setdiff1d(np.arange(start.size), section[section >= 0])
    unreached = np.flatnonzero((parent < 0) & (np.arange(nodes) > 0))
    return Tree(order.astype(np.int64), parent, section, chords, unreached)


def _section_above(parent: Whole, low: Whole, high: Whole, candidates: Whole, nodes: int) -> Whole:
    """For each node, the section between it and its parent."""
    above = np.full(nodes, _NONE)
    for child, other in ((low, high), (high, low)):
        hangs = candidates[parent[child[candidates]] == other[candidates]]
        above[child[hangs]] = hangs
    return above


def checked_tree(sections: Sections, nodes: int, loops: bool) -> Tree:
    """The spanning tree; RangeError for a node that hangs on nothing, and for a loop that is not allowed."""
    tree = spanning_tree(sections, nodes)
    if tree.unreached.size:
        raise RangeError(
            f"sections must lead from node 0, the supply, to every node; node {tree.unreached[0]} hangs on nothing: "
            "add the section that feeds it, or leave the node out."
        )
    if not tree.chords.size:
        return tree
    dead = tree.chords if not loops else tree.chords[sections.resistance[tree.chords] < NEXT_TO_NOTHING]
    if dead.size:
        place = int(dead[0])
        said = f"section {place} from node {sections.start[place]} to node {sections.end[place]} closes a loop"
        if loops:
            raise RangeError(
                f"resistance must be {NEXT_TO_NOTHING:g} ohm or more somewhere on every loop; {said} without any: "
                "nothing says how the current divides; give the sections their resistance."
            )
        raise RangeError(f"sections must be a tree, one way to every node; {said}: leave out one section of it.")
    return tree


def path_resistance(sections: Any) -> Floats:
    """Loop resistance in ohm from the supply's terminals to each node of a tree; shape (nodes,).

    `sections` and the errors as for `network.solve_network`.
    """
    parts = checked_sections(sections)
    sweep = Sweep(parts, checked_tree(parts, parts.nodes, loops=False))
    return sweep.along(sweep.ohms)


class Sweep:
    """Sums over everything beyond a node, and along the way to a node, of one tree."""

    def __init__(self, sections: Sections, tree: Tree):
        self.tree = tree
        nodes = tree.order.size
        child = tree.order[1:]
        self.ohms = np.zeros(nodes)
        self.ohms[child] = sections.resistance[tree.section[child]]
        """Of the section above each node."""
        self._place = np.empty(nodes, np.int64)
        self._place[tree.order] = np.arange(nodes)
        self._triangle = _triangle(self._place[tree.parent[child]], nodes)

    def beyond(self, drawn: Floats) -> Floats:
        """For each node what it and everything further out draws: the current in the section above it."""
        return self._triangle.solve(drawn[self.tree.order])[self._place]

    def along(self, fall: Floats) -> Floats:
        """For each node the sum of what falls on each section from the supply to it."""
        return self._triangle.solve(fall[self.tree.order], trans="T")[self._place]


def _triangle(above: Whole, nodes: int) -> SuperLU:
    """1 on the diagonal and -1 for each node in the row of the one it hangs on."""
    places = np.arange(nodes)
    values = np.concatenate([np.ones(nodes), np.full(nodes - 1, -1.0)])
    places_of_values = np.concatenate([places, above]), np.concatenate([places, places[1:]])
    return splu_in_order(sparse_square(values, *places_of_values, nodes))


def sparse_square(values: Floats, rows: Whole, columns: Whole, size: int) -> csc_array:
    """A square matrix; before scipy 1.17.1 SuperLU and the graph functions take indices of 32 bits only."""
    places = rows.astype(np.int32), columns.astype(np.int32)
    return csc_array(coo_array((values, places), shape=(size, size)))


def splu_in_order(matrix: csc_array) -> SuperLU:
    """The triangular factors of a matrix that needs no other order and no pivots."""
    return splu(matrix, permc_spec="NATURAL", diag_pivot_thresh=0.0, options={"SymmetricMode": True})


def node_numbers(name: str, value: ArrayLike) -> Whole:
    """Node numbers of loads as an array of one dimension."""
    return np.atleast_1d(whole(name, value, 0, MOST_NODES, "as a node's number", "number the nodes from 0")).ravel()

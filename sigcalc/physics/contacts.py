"""Switches, wires and sources as a graph: which points are joined, and what a lamp between two of them gets.

A wire or a closed contact joins two points; points joined to each other form a
group. Sources are ideal and all of one voltage, which counts as 1; lamps are equal
and conduct alike in both directions. What follows holds for the sign of a lamp's
voltage, not for its current.
"""

from __future__ import annotations

import numpy as np
from scipy.linalg import null_space, pinv
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from ..errors import RangeError

MOST_POINTS = 12  # 4 213 597 partitions of 12 points take 50 MB
_DIGITS = 9
_RESIDUAL = 10.0**-_DIGITS  # of one source's voltage; rounding in these small systems stays below 1e-14


def connected(points: int, pairs: np.ndarray) -> np.ndarray:
    """The group of each point once every pair is joined.

    Parameters
    ----------
    points: how many points there are, numbered from 0
    pairs: joined points, integers of shape (n, 2); may be empty

    Returns group numbers, integers of shape (points,).
    """
    first, second = np.asarray(pairs, dtype=int).reshape(-1, 2).T
    graph = coo_array((np.ones(len(first)), (first, second)), shape=(points, points))
    return connected_components(graph, directed=False)[1]


def lamp_voltages(groups: np.ndarray, sources: np.ndarray, lamps: np.ndarray) -> tuple[np.ndarray, bool]:
    """The voltage across each lamp in multiples of one source's, and whether the sources are shorted.

    Kirchhoff's voltage law as linear equations: each source holds its two groups one
    unit apart. No solution means a short circuit, or sources joined against each
    other. What the sources leave free settles where the lamps take the least power,
    which is where Kirchhoff's current law holds (Thomson's theorem).

    Parameters
    ----------
    groups: group of each point, shape (points,)
    sources: points of the plus and the minus pole, shape (m, 2)
    lamps: points of the first and the second lead, shape (n, 2)

    Returns lamp voltages of shape (n,), first lead minus second (zeros in a short
    circuit), and True in a short circuit.
    """
    held = _differences(groups, sources)
    across = _differences(groups, lamps)
    wanted = np.ones(len(held))
    potentials = np.linalg.lstsq(held, wanted, rcond=None)[0]
    if np.abs(held @ potentials - wanted).max(initial=0.0) > _RESIDUAL:
        return np.zeros(len(across)), True
    free = null_space(held)
    # the cut is absolute: a lamp that hangs on the sources alone leaves rounding here, which must count as nothing
    settled = pinv(across @ free, atol=_RESIDUAL) @ -(across @ potentials)
    voltages = across @ (potentials + free @ settled)
    return np.round(voltages, _DIGITS) + 0.0, False


def _differences(groups: np.ndarray, pairs: np.ndarray) -> np.ndarray:
    """One row a pair: +1 at the first point's group, -1 at the second's (0 where it is the same group)."""
    first, second = np.asarray(groups)[np.asarray(pairs, dtype=int).reshape(-1, 2)].T
    rows = np.arange(len(first))
    matrix = np.zeros((len(first), int(np.max(groups)) + 1))
    matrix[rows, first] += 1.0
    matrix[rows, second] -= 1.0
    return matrix


def set_partitions(points: int) -> np.ndarray:
    """Every way in which wire alone can join a number of points: their partitions into groups.

    Returns group numbers of shape (points, ways), in the order of each group's first
    point (restricted growth strings); the ways are the Bell numbers 1, 2, 5, 15, 52 ...

    Raises RangeError for fewer than 1 or more than 12 points.
    """
    if not 1 <= points <= MOST_POINTS:
        raise RangeError(
            f"points needs 1 to {MOST_POINTS}, but {points} came; more have too many wirings to try them all"
        )
    groups = np.zeros((1, 1), dtype=np.int8)
    highest = np.zeros(1, dtype=np.int8)
    for _ in range(points - 1):
        choices = highest.astype(int) + 2  # any group so far, or a new one
        parent = np.repeat(np.arange(len(choices)), choices)
        group = (np.arange(len(parent)) - np.repeat(np.cumsum(choices) - choices, choices)).astype(np.int8)
        groups = np.vstack([groups[:, parent], group])
        highest = np.maximum(highest[parent], group)
    return groups


def joined(groups: np.ndarray, first: int, second: int) -> np.ndarray:
    """The groups of many wirings, of shape (points, wirings), once two points are joined in each."""
    after = groups.copy()
    np.copyto(after, groups[first], where=groups == groups[second])  # four times as fast as np.where
    return after

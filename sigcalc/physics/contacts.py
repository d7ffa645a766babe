"""Switches, wires and sources as a graph: which points are joined, and at which voltage each one is."""

from __future__ import annotations

from collections.abc import Hashable, Iterable

Point = Hashable
Pair = tuple[Point, Point]


def levels(
    points: Iterable[Point], joins: Iterable[Pair], sources: Iterable[Pair] = ()
) -> tuple[dict[Point, tuple[int, int]], bool]:
    """The voltage of each point, and whether a source is shorted (Kirchhoff's voltage law, step by step).

    Parameters
    ----------
    points: every point there is
    joins: pairs of points joined by wire or by a closed contact
    sources: pairs of a plus and a minus pole, ideal and all of one voltage, which counts as 1

    Returns for each point the number of the part of the circuit that it belongs to and its level within that part;
    between points of different parts no voltage is held. The flag is True where a source's poles are joined, or sources
    are joined against each other; levels then mean nothing.
    """
    points = list(points)
    around: dict[Point, list[tuple[Point, int]]] = {point: [] for point in points}
    for step, pairs in ((0, joins), (-1, sources)):
        for first, second in pairs:
            around[first].append((second, step))
            around[second].append((first, -step))
    level: dict[Point, tuple[int, int]] = {}
    short = False
    for part, start in enumerate(points):
        queue = [] if start in level else [start]
        level.setdefault(start, (part, 0))
        for point in queue:
            for other, step in around[point]:
                at = level[point][0], level[point][1] + step
                if other not in level:
                    queue.append(other)
                short |= level.setdefault(other, at) != at
    return level, short

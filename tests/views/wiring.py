"""Which ends of a drawn circuit are joined by its wires: read off the lines' places alone."""

import itertools


def _on(point, line):
    """Whether a point lies on one of a line's straight pieces (to half a point)."""
    for (x0, y0), (x1, y1) in itertools.pairwise(line):
        length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        if length == 0:
            continue
        along = ((point[0] - x0) * (x1 - x0) + (point[1] - y0) * (y1 - y0)) / length
        across = abs((point[0] - x0) * (y1 - y0) - (point[1] - y0) * (x1 - x0)) / length
        if across < 0.5 and -0.5 < along < length + 0.5:
            return True
    return False


def joined(lines, rings, start, end):
    """Whether two points are joined by lines; lines that only cross do not touch, a ring joins what ends at it."""

    def touches(one, other):
        ends = [(one[0], other), (one[-1], other), (other[0], one), (other[-1], one)]
        if any(_on(point, line) for point, line in ends):
            return True
        return any(_near(one, ring) and _near(other, ring) for ring in rings)

    reached = {number for number, line in enumerate(lines) if _on(start, line)}
    frontier = set(reached)
    while frontier:
        frontier = {
            other
            for number in frontier
            for other in range(len(lines))
            if other not in reached and touches(lines[number], lines[other])
        }
        reached |= frontier
    return any(_on(end, lines[number]) for number in reached)


def _near(line, ring):
    x, y, radius = ring
    return any(((px - x) ** 2 + (py - y) ** 2) ** 0.5 < radius + 1 for px, py in (line[0], line[-1]))

"""A circuit of a handful of points and resistances, solved for thousands of draws of its parts at once.

Nodal analysis by elimination: one point after the other is taken out of the network, and what joined it to its
neighbours is spread over them (the star-mesh transformation). Each step only adds, multiplies and divides positive
numbers, so that resistances of milliohms and of teraohms stand side by side without losing digits; this is the
elimination of W. K. Grassmann, M. I. Taksar and D. P. Heyman, Operations Research 33(5), 1107 (1985), from memory.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import RangeError
from .domain import within

Floats = NDArray[np.float64]
GROUND = -1
"""The point against which all voltages are counted."""
_LEAST, _MOST = 1e-9, 1e18


class Port(NamedTuple):
    """What two points of a network look like from outside (Thévenin's theorem).

    Attributes
    ----------
    voltage: between the two points while nothing is joined to them, V
    resistance: that a current from one point to the other meets, ohm
    idle: voltages of all points while nothing is joined
    pull: by how much they change for each ampere that enters the first point and leaves the second, V/A
    """

    voltage: Floats
    resistance: Floats
    idle: list[Floats]
    pull: list[Floats]

    def voltages(self, current: ArrayLike) -> list[Floats]:
        """Voltages of all points while a current in A flows out of the first point and back into the second."""
        return [idle - current * pull for idle, pull in zip(self.idle, self.pull, strict=True)]


class SmallCircuit:
    """Points 0, 1, 2 ... and GROUND, and resistances between them.

    Parameters
    ----------
    points : int
        How many points there are beside GROUND.
    resistors : sequence of (point, point, resistance)
        Ohm, 1e-9 to 1e18, each a number or an array; all broadcast. Every point must hang on GROUND through some
        of them: an open switch is a large resistance, as it is in truth.

    Raises RangeError for a resistance out of range, a point that does not exist or one that hangs in the air.
    """

    def __init__(self, points: int, resistors: Sequence[tuple[int, int, ArrayLike]]):
        self.points = points
        joined: list[dict[int, Any]] = [{} for _ in range(points)]
        for first, second, resistance in resistors:
            _join(joined, first, second, 1.0 / _ohms(resistance, first, second, points))
        self._total: list[Any] = [None] * points
        self._below = joined
        for point in reversed(range(points)):
            self._total[point] = sum(joined[point].values())
            if not joined[point]:
                raise RangeError(f"Point {point} hangs in the air; join it, if only by a large resistance.")
            self._spread(point)

    def _spread(self, point: int) -> None:
        """Take a point out: each two of its neighbours are joined by what led through it."""
        around = list(self._below[point].items())
        for place, (first, to_first) in enumerate(around):
            for second, to_second in around[place + 1 :]:
                _join(self._below, first, second, to_first * to_second / self._total[point])
        for neighbour, _ in around:
            if neighbour != GROUND:
                self._below[neighbour].pop(point, None)

    def voltages(self, currents: Mapping[int, ArrayLike]) -> list[Floats]:
        """The voltage of every point in V for currents in A that enter the circuit at points, and leave at GROUND."""
        entering: list[Any] = [np.asarray(currents.get(point, 0.0), float) for point in range(self.points)]
        for point in reversed(range(self.points)):
            for neighbour, conductance in self._below[point].items():
                if neighbour != GROUND:
                    entering[neighbour] = entering[neighbour] + entering[point] * (conductance / self._total[point])
        volts: list[Any] = []
        for point in range(self.points):
            pulled = entering[point]
            for neighbour, conductance in self._below[point].items():
                if neighbour != GROUND:
                    pulled = pulled + conductance * volts[neighbour]
            volts.append(pulled / self._total[point])
        return volts

    def port(self, currents: Mapping[int, ArrayLike], first: int, second: int) -> Port:
        """What the circuit looks like between two of its points, with currents entering it as for `voltages`."""
        idle = self.voltages(currents)
        pull = self.voltages({first: 1.0, second: -1.0})
        return Port(idle[first] - idle[second], pull[first] - pull[second], idle, pull)


def _ohms(resistance: ArrayLike, first: int, second: int, points: int) -> Floats:
    for point in (first, second):
        if not GROUND <= point < points:
            raise RangeError(f"There is no point {point}; the points are 0 to {points - 1}, and GROUND.")
    remedy = f"give the resistance between {first} and {second} in this range"
    return within("resistance", resistance, _LEAST, _MOST, "ohm", remedy)


def _join(joined: list[dict[int, Any]], first: int, second: int, conductance: Floats) -> None:
    """Add a conductance to those between two points; GROUND keeps no list of its own."""
    for one, other in ((first, second), (second, first)):
        if one != GROUND and one != other:
            joined[one][other] = joined[one].get(other, 0.0) + conductance

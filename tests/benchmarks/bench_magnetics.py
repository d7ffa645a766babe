"""Speed of the magnets' fields and of the closed stretches; run by hand: python tests/benchmarks/bench_magnetics.py.

The aim: fields no slower than magpylib's, and closed stretches within 20 ms, so that a slider follows the hand.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

import magpylib
import numpy as np

from sigcalc.design.train.closures import closures
from sigcalc.design.train.trigger import trigger
from sigcalc.design.train.trigger_gap import largest_gap
from sigcalc.parts.magnet import Magnet
from sigcalc.parts.reed import Reed
from sigcalc.physics.magnetics import bar_field, cylinder_field
from sigcalc.units import Q

COUNT = 100_000
ROUNDS = 7
DISC, REED = Magnet("5 mm", "3 mm", "1.2 T"), Reed("1 mT", "0.5 mT")


def least_time(task: Callable[[], object]) -> float:
    """The least time of a task in s."""
    least = np.inf
    for _ in range(ROUNDS):
        start = time.perf_counter()
        task()
        least = min(least, time.perf_counter() - start)
    return least


def fields() -> dict[str, Callable[[], object]]:
    """Both fields at many places outside the magnet, by this library and by magpylib."""
    places = np.random.default_rng(0).uniform(4e-3, 20e-3, (COUNT, 3))
    disc = magpylib.magnet.Cylinder(dimension=(5e-3, 3e-3), polarization=(0, 0, 1.2))
    bar = magpylib.magnet.Cuboid(dimension=(5e-3, 3e-3, 6e-3), polarization=(0, 0, 1.2))
    return {
        "disc": lambda: cylinder_field(*places.T, 5e-3, 3e-3, 1.2),
        "disc, magpylib": lambda: disc.getB(places),
        "bar": lambda: bar_field(*places.T, 5e-3, 3e-3, 6e-3, 1.2),
        "bar, magpylib": lambda: bar.getB(places),
    }


def decisions() -> dict[str, Callable[[], object]]:
    """What a panel asks for while a slider moves."""
    gaps = Q(np.linspace(1, 20, 100), "mm")
    usual = {"magnet": DISC, "reed": REED, "gap": "8 mm", "orientation": "lengthwise"}
    return {
        "closures": lambda: closures(**usual),
        "closures, mean over 12 mm of reed": lambda: closures(**usual, averaged_over="12 mm"),
        "closures at 100 gaps": lambda: closures(**(usual | {"gap": gaps})),
        "trigger": lambda: trigger(**usual, speed="0.4 m/s", needed="10 ms"),
        "largest gap": lambda: largest_gap(DISC, REED, "lengthwise"),
    }


def main() -> None:
    """Print the least time of each task."""
    for name, task in fields().items():
        sys.stdout.write(f"{name}: {least_time(task) / COUNT * 1e6:.2f} µs a place\n")
    for name, task in decisions().items():
        sys.stdout.write(f"{name}: {least_time(task) * 1e3:.1f} ms\n")


if __name__ == "__main__":
    main()

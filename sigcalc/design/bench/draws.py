"""How the parts of many samples of one circuit differ: numbers from -1 (least) over 0 (as printed) to +1 (most)."""

from __future__ import annotations

import itertools
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...units.plain import need_whole

Draws = dict[str, NDArray[np.float64]]

UNIFORM = (
    "supply",
    "source",
    "limit",
    "red resistor",
    "green resistor",
    "coil",
    "pull in",
    "output",
    "pot",
    "end resistor",
    "capacitance",
    "trip",
    "leakage",
    "timing",
    "reads high",
)
"""Taken as equally likely between least and most: a maker sorts to a tolerance and says no more."""
PEAKED = ("red drop", "green drop")
"""Taken as likeliest at the typical value, less towards the ends, in a straight line."""
LATER = ("contact", "ripple", "input")
"""Uniform as well, drawn after all others, so that a seed still gives the samples that it gave without."""
SEVERITY = ("severity", "second severity")
"""How grave a fault is, from 0 to 1: for a single fault, and for the second of two."""


MOST_SEED = 2**63


def nominal() -> Draws:
    """One sample with every part as printed, and faults of middling gravity."""
    return {name: np.zeros(1) for name in (*UNIFORM, *PEAKED, *LATER)} | {name: np.full(1, 0.5) for name in SEVERITY}


def corners(names: tuple[str, ...]) -> Draws:
    """The nominal sample first, then every combination of least and most of the named ones."""
    signs = np.array([(0.0,) * len(names), *itertools.product((-1.0, 1.0), repeat=len(names))]).T
    count = signs.shape[1]
    same = {name: np.repeat(value, count) for name, value in nominal().items()}
    return same | dict(zip(names, signs, strict=True))


def need_seed(seed: Any) -> int:
    """The seed of random numbers; RangeError where it is none."""
    return need_whole(seed, "seed", 0, MOST_SEED, 1)


def drawn(count: int, seed: int) -> Draws:
    """Random samples; the same for a seed, and in the order of rising "severity"."""
    random = np.random.default_rng(seed)
    draws = {name: random.uniform(-1.0, 1.0, count) for name in UNIFORM}
    draws |= {name: random.triangular(-1.0, 0.0, 1.0, count) for name in PEAKED}
    even = (np.arange(count) + random.uniform(size=count)) / count
    draws |= {"severity": even, "second severity": random.permutation(even)}
    return draws | {name: random.uniform(-1.0, 1.0, count) for name in LATER}

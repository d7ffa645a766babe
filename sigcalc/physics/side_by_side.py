"""LEDs side by side, all the same way round, behind one source: how the current divides.

Each branch takes more current the higher the voltage across it, and ever more steeply: the current into all of them is
convex. From the least voltage that any branch would have alone, which is never below the answer, Newton's method
therefore comes down to it without a step too far.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from ..errors import RangeError
from .diode import loop_current
from .domain import Floats, within

_MOST_STEPS = 60
_SETTLED = 1e-13
Branch = tuple[ArrayLike, ArrayLike, ArrayLike, ArrayLike]
"""A branch's resistance in ohm, and its LED's saturation current in A, emission voltage in V, series resistance."""


def side_by_side(supply: ArrayLike, resistance: ArrayLike, branches: Sequence[Branch]) -> tuple[Floats, list[Floats]]:
    """Voltage across the branches in V, and the current in A through each.

    Parameters
    ----------
    supply : array_like
        V, zero or more.
    resistance : array_like
        The source's, ohm, above zero.
    branches : sequence of (resistance, saturation_current, emission_voltage, series_resistance)
        At least one; everything broadcasts, to the supply's shape or a larger one.

    Raises RangeError for arguments out of range.
    """
    volts = within("supply", supply, 0.0, 1e12, "V", "turn a negative supply, and the branches, round")
    ohms = within("resistance", resistance, 1e-12, 1e15, "ohm", "give the source some resistance")
    if not branches:
        raise RangeError("branches needs at least one branch; give such as [(0.0, 1e-21, 0.05, 5.0)].")
    alone = [loop_current(volts, ohms + branch[0], *branch[1:]) for branch in branches]
    node = np.minimum.reduce(np.broadcast_arrays(*(volts - ohms * current for current in alone)))
    node = np.clip(node, 0.0, volts)
    for _ in range(_MOST_STEPS):
        currents = [loop_current(node, *branch) for branch in branches]
        excess = sum(currents) - (volts - node) / ohms
        slope = 1.0 / ohms + sum(_conductance(c, branch) for c, branch in zip(currents, branches, strict=True))
        after = np.maximum(node - excess / slope, 0.0)
        settled = np.abs(after - node) <= _SETTLED * volts
        node = after
        if settled.all():
            return node, [loop_current(node, *branch) for branch in branches]
    raise RangeError("The voltage across the branches could not be found: their figures lie too far apart.")


def _conductance(current: Floats, branch: Branch) -> Floats:
    resistance, saturation, emission, series = branch
    return 1.0 / (resistance + series + emission / (current + saturation))

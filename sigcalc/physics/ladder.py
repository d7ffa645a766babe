"""A ladder: a source, and step after step a resistance in series and a load across, to whatever ends it.

Going down, the source and all steps so far are put together into one voltage and one resistance (Thévenin's theorem),
so that the end, such as an LED, sees a single loop with a closed form. Climbing back from the end's voltage and
current, every step's voltage follows from Ohm's and Kirchhoff's laws. Everything broadcasts.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


class Rung(NamedTuple):
    """One step: `series` in ohm with a source of `aiding` V, then across the ladder `conductance` with `opposing` V.

    The conductance, in A/V, and its opposing voltage are in series with each other.
    """

    series: ArrayLike
    conductance: ArrayLike = 0.0
    opposing: ArrayLike = 0.0
    aiding: ArrayLike = 0.0


class Climbed(NamedTuple):
    """Voltage in V across each step's load, and current in A through each step's series resistance, from the source."""

    volts: list[Floats]
    amperes: list[Floats]


def descend(voltage: ArrayLike, resistance: ArrayLike, rungs: Sequence[Rung]) -> tuple[Floats, Floats]:
    """Voltage (V) and resistance (ohm) that the end of the ladder sees."""
    volts, ohms = np.asarray(voltage, float), np.asarray(resistance, float)
    for rung in rungs:
        volts, ohms = volts + rung.aiding, ohms + rung.series
        share = 1.0 / (1.0 + ohms * rung.conductance)
        volts = (volts + ohms * rung.conductance * rung.opposing) * share
        ohms = ohms * share
    return volts, ohms


def climb(voltage: ArrayLike, current: ArrayLike, rungs: Sequence[Rung]) -> Climbed:
    """The way back up from the end's voltage (V) and current (A).

    Digits are lost where a step has a source of its own and a large resistance stands ahead of it.
    """
    volts, amperes = [np.asarray(voltage, float)], []
    through = np.asarray(current, float)
    for rung in reversed(rungs):
        through = through + (volts[0] - rung.opposing) * rung.conductance
        amperes.insert(0, through)
        volts.insert(0, volts[0] + (through * rung.series - rung.aiding))
    return Climbed(volts[1:], amperes)

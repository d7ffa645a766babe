"""A capacitor charged or discharged through a resistor: the voltage at a time, and the time to a voltage.

From its start it goes towards an end that it never quite reaches, each instant by the same share of what is left:

    V(t) = end + (start - end) exp(-t / tau),    t = tau ln((end - start) / (end - trip))

Without leakage the end is the supply and tau is R C. A leak, as a resistance Rp beside the capacitor or as a constant
current I out of it (below nought: into it), shifts both:

    end = (supply - R I) / (1 + R / Rp),    tau = R C / (1 + R / Rp)

Source: Kuphaldt, Lessons in Electric Circuits, vol. I ch. 16.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import RangeError
from .domain import together, within
from .settling import Floats, refuse_never, seconds_to, settled

ONE_SHOT_SHARE = 2 / 3
"""Where a one-shot timer trips, as a share of its supply: from nothing up to it takes R C ln 3."""

MOST_RESISTANCE, MOST_CAPACITANCE = 1e12, 1e4
_MOST_VOLTAGE = 1e4


def time_or_never(
    resistance: ArrayLike,
    capacitance: ArrayLike,
    supply: ArrayLike,
    trip: ArrayLike,
    start: ArrayLike = 0.0,
    leakage_resistance: ArrayLike = np.inf,
    leakage_current: ArrayLike = 0.0,
) -> Floats:
    """As `time_to_trip`, with infinity where the trip is never reached: for looking over many circuits at once."""
    circuit = read_circuit(resistance, capacitance, supply, trip, start, leakage_resistance, leakage_current)
    return circuit.seconds()[()]


def time_to_trip(
    resistance: ArrayLike,
    capacitance: ArrayLike,
    supply: ArrayLike,
    trip: ArrayLike,
    start: ArrayLike = 0.0,
    leakage_resistance: ArrayLike = np.inf,
    leakage_current: ArrayLike = 0.0,
) -> Floats:
    """Time (s) in which a capacitor comes from `start` to `trip` (V) through a resistor to `supply` (V).

    A discharge through the resistor has the supply 0 V. All arguments broadcast.

    Parameters
    ----------
    resistance, capacitance : array_like
        Ohm, 0 to 1e12, and F, 0 to 1e4.
    supply, trip, start : array_like
        V, -1e4 to 1e4; 0 or more where a leakage current flows.
    leakage_resistance : array_like
        Beside the capacitor, ohm, from 1e-3; none (infinity) unless given.
    leakage_current : array_like
        Constant current out of the capacitor while it holds any voltage, A, up to 1e3; below nought: into it.

    Raises
    ------
    RangeError
        Outside these ranges, and where the trip is never reached, with the voltage that the capacitor ends at.
    """
    circuit = read_circuit(resistance, capacitance, supply, trip, start, leakage_resistance, leakage_current)
    return refuse_never(circuit.seconds(), circuit.start, circuit.end, circuit.trip, " V")


def one_shot_time(resistance: ArrayLike, capacitance: ArrayLike) -> Floats:
    """Time (s) of a one-shot timer, from nothing to two thirds of any supply: R C ln 3.

    Source: TI LM555 data sheet SNAS548B (the exact factor of the printed 1.1).

    Raises
    ------
    RangeError
        Outside 0 to 1e12 ohm and 0 to 1e4 F.
    """
    return time_to_trip(resistance, capacitance, 1.0, ONE_SHOT_SHARE)


def end_voltage(
    supply: ArrayLike,
    resistance: ArrayLike,
    leakage_resistance: ArrayLike = np.inf,
    leakage_current: ArrayLike = 0.0,
) -> Floats:
    """Voltage (V) that a capacitor ends at; a leakage current alone cannot take it below nought.

    Raises
    ------
    RangeError
        As `time_to_trip`.
    """
    circuit = read_circuit(resistance, 0.0, supply, 0.0, 0.0, leakage_resistance, leakage_current)
    return np.where(circuit.leakage_current > 0, np.maximum(circuit.end, 0.0), circuit.end)[()]


def voltage_after(
    time: ArrayLike,
    resistance: ArrayLike,
    capacitance: ArrayLike,
    supply: ArrayLike,
    start: ArrayLike = 0.0,
    leakage_resistance: ArrayLike = np.inf,
    leakage_current: ArrayLike = 0.0,
) -> Floats:
    """Voltage (V) of a capacitor a time (s) after it began at `start` (V); the other arguments as `time_to_trip`.

    Raises
    ------
    RangeError
        As `time_to_trip`, for a time outside 0 to 1e15 s and for a time constant below 1e-18 s.
    """
    circuit = read_circuit(resistance, capacitance, supply, start, start, leakage_resistance, leakage_current)
    volts = settled(time, circuit.time_constant, circuit.start, circuit.end)
    return np.where(circuit.leakage_current > 0, np.maximum(volts, 0.0), volts)[()]


class Circuit(NamedTuple):
    """A checked circuit: arrays of one shape, in SI units. Resistance or capacitance may be replaced."""

    resistance: NDArray[np.float64]
    capacitance: NDArray[np.float64]
    supply: NDArray[np.float64]
    trip: NDArray[np.float64]
    start: NDArray[np.float64]
    leakage_resistance: NDArray[np.float64]
    leakage_current: NDArray[np.float64]

    @property
    def _divides(self) -> NDArray[np.float64]:
        return 1.0 + self.resistance / self.leakage_resistance

    @property
    def end(self) -> NDArray[np.float64]:
        """Voltage that the capacitor heads for; below nought where the leakage current takes all the supply gives."""
        return (self.supply - self.resistance * self.leakage_current) / self._divides

    @property
    def time_constant(self) -> NDArray[np.float64]:
        """Time constant in s."""
        return self.resistance * self.capacitance / self._divides

    def seconds(self) -> NDArray[np.float64]:
        """Time to the trip, infinity where it is never reached."""
        return seconds_to(self.time_constant, self.start, self.end, self.trip)


def read_circuit(
    resistance: Any,
    capacitance: Any,
    supply: Any,
    trip: Any,
    start: Any,
    leakage_resistance: Any,
    leakage_current: Any,
) -> Circuit:
    """The arguments of `time_to_trip`, checked and in one shape; RangeError as described there."""
    volts = {"supply": supply, "trip": trip, "start": start}
    remedy = "give the voltage in volts"
    volts = {name: within(name, each, -_MOST_VOLTAGE, _MOST_VOLTAGE, "V", remedy) for name, each in volts.items()}
    arrays = together(
        resistance=within("resistance", resistance, 0, MOST_RESISTANCE, "ohm", "give the charging resistor in ohms"),
        capacitance=within("capacitance", capacitance, 0, MOST_CAPACITANCE, "F", "give it in farads: 100 uF is 1e-4"),
        **volts,
        leakage_resistance=within(
            "leakage_resistance", leakage_resistance, 1e-3, np.inf, "ohm", "leave it out where there is no leak"
        ),
        leakage_current=within("leakage_current", leakage_current, -1e3, 1e3, "A", "give 0 where there is no leak"),
    )
    circuit = Circuit(*arrays)
    if np.any((circuit.leakage_current > 0) & (np.minimum.reduce([circuit.supply, circuit.trip, circuit.start]) < 0)):
        raise RangeError(
            "supply, trip and start must be 0 V or more where a leakage_current flows; a negative voltage came: "
            "give the leak as a leakage_resistance."
        )
    return circuit

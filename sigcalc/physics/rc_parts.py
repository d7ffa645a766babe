"""Which resistance or capacitance gives a wanted time: the inverse of `rc.time_to_trip`."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import RangeError
from .domain import together, within
from .rc import MOST_CAPACITANCE, MOST_RESISTANCE, Circuit, read_circuit
from .settling import MOST_TIME, Floats

_LEAST_RESISTANCE, _LEAST_TIME = 1e-9, 1e-15
_HALVINGS = 70  # of 48, the logarithm of the range of resistances: down to the last digit of a float
_CLOSE = 1e-6  # near the resistance at which a leak stops everything, a float is no finer


def resistance_for(
    time: ArrayLike,
    capacitance: ArrayLike,
    supply: ArrayLike,
    trip: ArrayLike,
    start: ArrayLike = 0.0,
    leakage_resistance: ArrayLike = np.inf,
    leakage_current: ArrayLike = 0.0,
) -> Floats:
    """Resistance (ohm) with which a capacitor takes a time (s, 1e-15 to 1e15) to the trip; else as `time_to_trip`.

    More resistance always takes longer. Without a leak it is time / (C ln(...)); with one it stands in the
    end voltage as well, so that it is found by halving, all elements at once. The trip must lie between start and
    supply: beyond the supply only the leak could take the capacitor there, and more resistance would be quicker.

    Raises
    ------
    RangeError
        As `time_to_trip`, and where no resistance from 1e-9 to 1e12 ohm gives the time, with the longest time.
    """
    time, circuit = _read(time, 1.0, capacitance, supply, trip, start, leakage_resistance, leakage_current)
    _refuse_beyond_supply(circuit)
    low, high = (np.full(time.shape, np.log(each)) for each in (_LEAST_RESISTANCE, MOST_RESISTANCE))
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        too_long = circuit._replace(resistance=np.exp(middle)).seconds() > time
        low, high = np.where(too_long, low, middle), np.where(too_long, middle, high)
    resistance = np.exp(low)
    _refuse_beyond(time, circuit._replace(resistance=resistance).seconds(), "resistance")
    return resistance[()]


def capacitance_for(
    time: ArrayLike,
    resistance: ArrayLike,
    supply: ArrayLike,
    trip: ArrayLike,
    start: ArrayLike = 0.0,
    leakage_resistance: ArrayLike = np.inf,
    leakage_current: ArrayLike = 0.0,
) -> Floats:
    """Capacitance (F) that takes a time (s, 1e-15 to 1e15) to the trip; else as `time_to_trip`.

    The leak is taken as given; that of a real capacitor may grow with its capacitance.

    Raises
    ------
    RangeError
        As `time_to_trip`, and where no capacitance up to 1e4 F gives the time.
    """
    time, circuit = _read(time, resistance, 1.0, supply, trip, start, leakage_resistance, leakage_current)
    a_farad = circuit.seconds()
    possible = np.isfinite(a_farad) & (a_farad > 0)
    capacitance = np.divide(time, a_farad, out=np.zeros(time.shape), where=possible)
    _refuse_beyond(time, np.where(possible, np.minimum(time, MOST_CAPACITANCE * a_farad), a_farad), "capacitance")
    return capacitance[()]


def _read(time: ArrayLike, *circuit: ArrayLike) -> tuple[NDArray[np.float64], Circuit]:
    time = within("time", time, _LEAST_TIME, MOST_TIME, "s", "give the wanted time in seconds")
    time, *arrays = together(time=time, **read_circuit(*circuit)._asdict())
    return time, Circuit(*arrays)


def _refuse_beyond_supply(circuit: Circuit) -> None:
    wrong = (circuit.trip - circuit.start) * (circuit.supply - circuit.trip) < 0
    if wrong.any():
        start, supply, trip = (each[wrong].flat[0] for each in (circuit.start, circuit.supply, circuit.trip))
        raise RangeError(
            f"trip must lie between start {start:g} V and supply {supply:g} V; {trip:g} V came: "
            "choose one between the two."
        )


def _refuse_beyond(time: NDArray[np.float64], got: NDArray[np.float64], what: str) -> None:
    with np.errstate(invalid="ignore"):  # infinity is not close to anything
        wrong = ~(np.abs(got - time) <= _CLOSE * time)
    if wrong.any():
        wanted, limit = (each[wrong].flat[0] for each in (time, got))
        ends = "the trip is never reached" if np.isinf(limit) else f"it comes to {limit:g} s"
        raise RangeError(
            f"time must be one that some {what} gives; {wanted:g} s came, and at the limit {ends}: "
            "choose another time, trip or supply."
        )

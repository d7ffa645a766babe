"""A hold timer as it is built: timer, capacitor, pot and end resistor, and its time over all their tolerances."""

from __future__ import annotations

import itertools
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ...errors import RangeError, UnitError
from ...parts.capacitor import Capacitor
from ...parts.timer import Timer, timers
from ...units import Ratio, Resistance, record, say

_LEAST_POT = 1.0  # ohm
_TIME_CONSTANTS = 3.0  # in which a capacitor comes within 5 % of empty, or full
_HALVINGS = 55  # of the pot's whole turn: down to the last digit of a float

# the nominal parts first, then every combination of least and most
_SIGNS = np.array([(0,) * 6, *itertools.product((-1, 1), repeat=6)]).T


class _Parts(NamedTuple):
    """The parts in every combination of their limits, the nominal ones first; arrays of one length."""

    pot: NDArray[np.float64]
    end_resistor: NDArray[np.float64]
    capacitance: NDArray[np.float64]
    trip: NDArray[np.float64]
    leakage_resistance: NDArray[np.float64]
    input_current: NDArray[np.float64]
    timing: NDArray[np.float64]


@record
class HoldCircuit:
    """A timer with its capacitor, pot and end resistor; `timer` is a name in `timers` or a record.

    The end resistor stays in the path when the pot is turned right down. The pot counts as
    linear. Its 20 % are common practice, no source; the end resistor's 5 % are those of a carbon film resistor.
    """

    timer: Timer
    capacitor: Capacitor
    pot: Resistance
    end_resistor: Resistance
    pot_tolerance: Ratio = 0.2
    end_tolerance: Ratio = 0.05

    def __post_init__(self) -> None:
        if not isinstance(self.timer, Timer):
            object.__setattr__(self, "timer", timers[self.timer])
        if not isinstance(self.capacitor, Capacitor):
            came = type(self.capacitor).__name__
            raise UnitError(
                f'capacitor needs a Capacitor, but {came} came; try Capacitor("electrolytic", "100 µF", "16 V")'
            )
        for name in ("pot_tolerance", "end_tolerance"):
            if not getattr(self.si, name) < 1:
                raise RangeError(f'{name} needs to be less than 100 %; write for example "20 %"')
        if self.si.pot < _LEAST_POT:
            raise RangeError(
                f"pot needs to be at least {say(_LEAST_POT, 'ohm')}, but {say(self.si.pot, 'ohm')} came; "
                'a usual one is "220 kohm"'
            )

    def refuse_no_hold(self, argument: str, supply: float) -> None:
        """Raise RangeError where a supply in V, given as `argument`, is not above the nominal trip."""
        _, trip, _ = self.timer.trips(supply)
        if not supply > trip:
            raise RangeError(
                f"{argument} needs to be above the {say(trip, 'V')} at which the {self.timer.name} timer trips, but "
                f"{say(supply, 'V')} came and gives no hold; use at least {say(self.timer.si.least_supply, 'V')}"
            )

    def least_pulse(self, reed_resistance: float) -> float:
        """The least contact in s that sets the hold going, with so many ohms in the reed's lead.

        It is the timer's own figure, or until the contact has filled or emptied the capacitor but for 5 %.
        """
        own = self.timer.si.least_pulse
        return own if own is not None else _TIME_CONSTANTS * reed_resistance * self.capacitor.si.capacitance

    def sure_resistance(self, supply: float) -> float:
        """The resistance in ohm up to which the trip is reached however much leaks, at a supply in V."""
        trip = max(self.timer.trips(supply))
        leak = max(self.timer.si.input_current, 0.0) + trip / self.capacitor.leakage_resistance
        return (supply - trip) / leak

    def resistance_at(self, turn: Any) -> Any:
        """Resistance in ohm with the pot at a turn from 0 to 1."""
        return self.si.end_resistor + turn * self.si.pot

    def most_resistance_at(self, turn: Any) -> Any:
        """The same for parts at the upper end of their tolerances."""
        si = self.si
        return si.end_resistor * (1 + si.end_tolerance) + turn * si.pot * (1 + si.pot_tolerance)

    def seconds(self, supply: float, turn: float) -> tuple[float, float, float]:
        """Least, nominal and most hold in s at a supply in V; infinite where the trip may never be reached.

        The nominal hold is without leakage; least and most span every combination of the parts' limits.
        """
        times = self._times(self._parts(supply), supply, turn)
        return float(times.min()), float(times[0]), float(times.max())

    def turns(self, supply: float, hold: float) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
        """The pot's turn for a hold in s, and whether it can be had: nominal parts first, then each combination.

        Where it cannot be had, the turn is the nearer end.
        """
        parts = self._parts(supply)
        low, high = np.zeros_like(parts.pot), np.ones_like(parts.pot)
        within_reach = (self._times(parts, supply, low) <= hold) & (self._times(parts, supply, high) >= hold)
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            too_long = self._times(parts, supply, middle) > hold
            low, high = np.where(too_long, low, middle), np.where(too_long, middle, high)
        return (low + high) / 2, within_reach

    def _parts(self, supply: float) -> _Parts:
        pot, end, capacitance, trip, leakage, timing = _SIGNS
        si, input_current = self.si, self.timer.si.input_current
        return _Parts(
            pot=si.pot * (1 + pot * si.pot_tolerance),
            end_resistor=si.end_resistor * (1 + end * si.end_tolerance),
            capacitance=np.array(self.capacitor.corners)[capacitance + 1],
            trip=np.array(self.timer.trips(supply))[trip + 1],
            leakage_resistance=np.where(leakage > 0, self.capacitor.leakage_resistance, np.inf),
            # outwards it acts as a leak does; inwards it is at its worst where nothing leaks
            input_current=np.where(leakage * input_current > 0, input_current, 0.0),
            timing=1 + timing * self.timer.si.spread,
        )

    def _times(self, parts: _Parts, supply: float, turn: Any) -> NDArray[np.float64]:
        resistance = parts.end_resistor + turn * parts.pot
        times = self.timer.seconds(
            supply, resistance, parts.capacitance, parts.trip, parts.leakage_resistance, parts.input_current
        )
        return times * parts.timing


def as_hold_circuit(circuit: Any) -> HoldCircuit:
    """The circuit itself, or UnitError where it is none."""
    if not isinstance(circuit, HoldCircuit):
        raise UnitError(
            f"circuit needs a HoldCircuit, but {type(circuit).__name__} came; "
            'try HoldCircuit("one-shot", Capacitor("electrolytic", "100 µF", "16 V"), "220 kohm", "4.7 kohm")'
        )
    return circuit

"""Hold timers: what ends a hold, at which voltage, and whether a further trigger starts it anew."""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np
from numpy.typing import NDArray

from ..errors import RangeError, UnitError
from ..physics.rc import time_or_never
from ..units import QuantityKind, Ratio, Resistance, SupplyVoltage, Time, Voltage, record, say
from .table import Figures, PartsTable

InputCurrent = Annotated[Any, QuantityKind("input current", "A", -1e-3, 1e-3, "250 nA")]

_SWITCHES = ("discharges", "retriggers")


@record
class Timer:
    """What ends a hold: a trip that is a share of the supply, or a voltage of its own, each with its spread.

    Where it `discharges`, the trigger fills the capacitor to the supply and the resistor empties it;
    else the trigger empties it and the resistor fills it from the supply. `retriggers`: a trigger
    during the hold starts it anew. `input_current` is the most that the timer's input takes out of
    the capacitor or, below nought, drives into it. `least_pulse` is the least contact that the timer takes
    notice of; None where the contact itself fills or empties the capacitor, which takes as long as that.
    `spread` bounds what else makes a hold longer or shorter. `high_drop` is the most that the output keeps
    for itself while it holds (a coil from output to minus), `low_drop` while it does not (a coil from plus to
    output); None where they are not known.
    """

    name: str
    discharges: bool
    retriggers: bool
    least_supply: SupplyVoltage
    most_supply: SupplyVoltage
    least_resistance: Resistance
    trip_share: Ratio | None = None
    trip_share_min: Ratio | None = None
    trip_share_max: Ratio | None = None
    trip_voltage: Voltage | None = None
    trip_voltage_min: Voltage | None = None
    trip_voltage_max: Voltage | None = None
    input_current: InputCurrent = "0 A"
    least_pulse: Time | None = None
    spread: Ratio = 0.0
    high_drop: Voltage | None = None
    low_drop: Voltage | None = None
    note: str = ""

    def __post_init__(self) -> None:
        if (self.trip_share is None) == (self.trip_voltage is None):
            raise UnitError(f"{self.name} needs either a trip_share or a trip_voltage, and not both")
        least, trip, most = self.trips(1.0)
        if not 0 < least <= trip <= most or (self.follows_supply and not most < 1):
            raise RangeError(
                f"the trip of {self.name} needs its least, usual and most value in rising order, above nought, and a "
                f"share below 1; {least:g}, {trip:g} and {most:g} came: see the data sheet"
            )
        if not 0 < self.si.least_supply <= self.si.most_supply:
            raise RangeError(
                f"least_supply of {self.name} needs to be above 0 V and no more than most_supply, but "
                f"{say(self.si.least_supply, 'V')} and {say(self.si.most_supply, 'V')} came; see the data sheet"
            )
        if not self.si.spread < 1:
            raise RangeError(f'spread of {self.name} needs to be less than 100 %; write for example "3 %"')

    @property
    def bears_coil(self) -> bool:
        """Whether its output bears a relay's coil; else a transistor switches the coil, in its lead to minus."""
        return self.high_drop is not None

    @property
    def follows_supply(self) -> bool:
        """Whether the trip is a share of the supply, so that the time does not depend on the supply."""
        return self.trip_share is not None

    def trips(self, supply: float) -> tuple[float, float, float]:
        """Least, usual and most trip in V at a supply in V."""
        name, scale = ("trip_share", supply) if self.follows_supply else ("trip_voltage", 1.0)
        usual = getattr(self.si, name)
        band = (getattr(self.si, f"{name}_min"), usual, getattr(self.si, f"{name}_max"))
        least, usual, most = (usual if each is None else each for each in band)
        return least * scale, usual * scale, most * scale

    def seconds(
        self,
        supply: Any,
        resistance: Any,
        capacitance: Any,
        trip: Any,
        leakage_resistance: Any = np.inf,
        input_current: Any = 0.0,
    ) -> NDArray[np.float64]:
        """The on-time in s of parts in SI at a supply of 0 V or more; infinite where the trip is never reached.

        Whatever gives an on-time asks here. `input_current` is what this timer's input takes out of the capacitor
        (negative: puts in). A capacitor filled to less than the trip holds nothing. All arguments broadcast.
        """
        start, end = (supply, 0.0) if self.discharges else (0.0, supply)
        times = time_or_never(resistance, capacitance, end, trip, start, leakage_resistance, input_current)
        return np.where(np.greater_equal(trip, supply), 0.0, times) if self.discharges else times


def _timer(name: str, figures: Figures) -> Timer:
    switches = {key: figures[key].value == "yes" for key in _SWITCHES}
    quantities = {key: figure.text for key, figure in figures.items() if key not in _SWITCHES}
    return Timer(name=name, note="typical, not guaranteed", **switches, **quantities)


timers: PartsTable[Timer] = PartsTable("timer", "timers.csv", _timer)
"""One-shot and charge-to-threshold timers: "one-shot", "schmitt gate", "comparator", "mosfet"."""

"""Hold timers: what ends the on-time, at which voltage, whether a further trigger starts it anew, and their output."""

from __future__ import annotations

from typing import Annotated, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ..errors import RangeError, UnitError
from ..physics import rc
from ..units import QuantityKind, Ratio, Resistance, SupplyVoltage, Time, Tolerance, Voltage, kind_of, record
from .table import Figures, PartsTable, from_rows, need_rising, read_figures

InputCurrent = Annotated[Any, QuantityKind("input current", "A", -1e-3, 1e-3, "250 nA")]

_TRANSISTOR = "transistor"


@record
class Timer:
    """What ends an on-time: a threshold (trip) that is a share of the supply, or a fixed voltage, each with its spread.

    Where it `discharges`, the trigger fills the capacitor to the supply and the resistor empties it; else the trigger
    empties it and the resistor fills it from the supply. `retriggers`: a trigger during the on-time starts it anew.
    `input_current` is the most that the timer's input draws out of the capacitor (negative: drives into it).
    `least_pulse` is the shortest contact that the timer responds to; None where the contact itself fills or empties the
    capacitor, which needs as long as that. `spread` bounds what else makes an on-time longer or shorter. `high_drop` is
    the most that is lost in the output while it is on (a coil from output to minus), `low_drop` while it is off (a coil
    from plus to output); None where they are not known.
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
    spread: Tolerance = 0.0
    high_drop: Voltage | None = None
    low_drop: Voltage | None = None
    note: str = ""

    def __post_init__(self) -> None:
        if (self.trip_share is None) == (self.trip_voltage is None):
            raise UnitError(f"{self.name} needs either a trip_share or a trip_voltage, and not both")
        for trip in ("trip_share", "trip_voltage"):
            need_rising(self, f"{trip}_min", trip, f"{trip}_max")
        need_rising(self, "least_supply", "most_supply")
        if self.follows_supply and not self.trips(1.0)[2] < 1:
            raise RangeError(argument=f"trip_share of {self.name}", need="a share below 1", example="50 %")

    @property
    def drives_coil(self) -> bool:
        """Whether its output can feed a relay's coil; else a transistor switches the coil, on its minus side."""
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

        Every on-time of the library is worked out here. `input_current` is what this timer's input draws out of the
        capacitor (negative: drives into it). A capacitor filled to less than the trip gives none. All arguments
        broadcast.
        """
        start, end = (supply, 0.0) if self.discharges else (0.0, supply)
        tau, end = rc.with_leak(resistance, capacitance, end, leakage_resistance, input_current)
        times = rc.time_or_never(tau, start, end, trip)
        return np.where(np.greater_equal(trip, supply), 0.0, times) if self.discharges else times


class TimerOutput(NamedTuple):
    """Least, usual and most in V: `keeps`, lost while it feeds the coil; `leaves`, across a coil that it does not feed.

    `from_plus`: the coil lies from plus to the output, which is low while it feeds; else from the output to minus.
    """

    from_plus: bool
    keeps: tuple[float, float, float]
    leaves: tuple[float, float, float]


def timer_output(timer: Timer, fed_lamp: str) -> TimerOutput:
    """What feeds a relay's coil while `fed_lamp` is lit: the output of a timer that holds red, or a transistor.

    Fed for red, the coil lies from the output to minus, as the output is high during the on-time; fed for green from
    plus to the output, which is low at all other times. A timer whose output cannot feed a coil has a transistor behind
    it, on the coil's minus side.
    """
    outputs = read_figures("timer_outputs.csv")
    if not timer.drives_coil:
        rows = outputs[_TRANSISTOR]
        return TimerOutput(True, _three(rows, "low"), _three(rows, "left"))
    from_plus = fed_lamp == "green"
    rows = outputs.get(timer.name)
    if rows is not None:
        return TimerOutput(from_plus, _three(rows, "low" if from_plus else "high"), _three(rows, "left"))
    # of a timer of one's own only the data sheet's worst case is known
    keeps = timer.si.low_drop if from_plus else timer.si.high_drop
    most = 0.0 if keeps is None else float(keeps)
    return TimerOutput(from_plus, (0.0, most, most), _three(outputs[_TRANSISTOR], "left"))


def _three(rows: Figures, name: str) -> tuple[float, float, float]:
    read = kind_of(Voltage).read
    return tuple(read(rows[key].text, key) for key in (f"{name}_min", name, f"{name}_max"))


timers: PartsTable[Timer] = PartsTable("timer", "timers.csv", from_rows(Timer))
"""One-shot and charge-to-threshold timers: "one-shot", "schmitt gate", "comparator", "mosfet"."""

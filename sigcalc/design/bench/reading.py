"""What a meter shows at each measuring point of a bench circuit, sound or faulty, over all samples of its parts.

A reading beyond the meter's range is infinite: the display says OL.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...parts.meter import AMPERES, OHMS, WATCH, Meter
from ...physics.diode import string_current
from .circuit import LAMPS
from .lamps import parallel
from .measuring_point import MeasuringPoint
from .position import Position, position
from .power import PLACES, Solved, solve
from .powered import power, what_matters
from .state import OPEN, Bench

Floats = NDArray[np.float64]
_NEEDED = {
    "supply open": ("supply", "alternating", "source_resistance", "ripple"),
    "limit ohms": ("limit_resistance",),
    "red resistor ohms": ("red",),
    "green resistor ohms": ("green",),
    "pair ohms": ("red", "green", "mast", "short"),
    "diode a to b": ("red", "green", "mast", "short", "swapped"),
    "diode b to a": ("red", "green", "mast", "short", "swapped"),
    "coil ohms": ("coil",),
    "reed alone": ("trigger",),
    "reed with a magnet": ("trigger",),
    "reed under the train": ("trigger",),
    "pot ohms": ("trigger",),
    "hold": ("trigger", "coil", "supply", "alternating", "source_resistance"),
}
"""What of a circuit a reading without power depends on; all of it where nothing is said."""
_PHASES = np.sin(2 * np.pi * (np.arange(16) + 0.5) / 16)[:, None]
"""An alternating supply is followed through 16 moments of a period."""


class BenchReadings:
    """All readings of one circuit; what has been worked out is kept.

    Parameters
    ----------
    bench: the circuit
    meter: what is read with
    """

    def __init__(self, bench: Bench, meter: Meter):
        self.bench, self.meter = bench, meter
        self._over_time = bench
        if bench.alternating:
            self._over_time = bench._replace(supply=np.sqrt(2.0) * bench.supply * _PHASES)
        self.positions = {lamp: position(bench, lamp) for lamp in LAMPS}
        self._power = {lamp: power(self._over_time, where) for lamp, where in self.positions.items()}
        self._matters: dict[str, Any] = {}
        self._rails: dict[str, Any] = {}

    def at(self, point: MeasuringPoint) -> Floats:
        """What the meter shows at a point for every sample, its own load included, its errors not."""
        value = np.asarray(self._value(point), float)
        if self._over_time.supply is not self.bench.supply and value.ndim > 1:
            value = value.mean(axis=0)  # a DC range shows the mean
        value = np.broadcast_to(value, np.shape(self.bench.reads_high))
        if point.setting not in (OHMS, WATCH):
            value = value * (1.0 + 0.5 * (1.0 + self.bench.reads_high) * self.meter.si.reads_high)
        return np.where(np.abs(value) < self.meter.most(point.setting), value, np.inf)

    def depends_on(self, point: MeasuringPoint | str) -> Any:
        """All of the circuit that can show in a reading, or in the light while set for a lamp (given by its name)."""
        lamp = point if isinstance(point, str) else point.position if point.place in PLACES else ""
        if lamp:
            if lamp not in self._matters:
                self._matters[lamp] = what_matters(self._power[lamp]), self.bench.alternating, self.bench.reads_high
            return self._matters[lamp]
        return tuple(getattr(self.bench, name) for name in ("reads_high", *_NEEDED.get(point.place, Bench._fields)))

    def light(self, lamp: str) -> tuple[Floats, Floats]:
        """Mean current in A through the red and the green LED while the signal is set for `lamp`."""
        solved = solve(self._power[lamp])
        return tuple(self._mean(each) for each in (solved.red, solved.green))

    def _mean(self, value: Any) -> Floats:
        value = np.asarray(value)
        value = value.mean(axis=0) if value.ndim > 1 else value
        return np.broadcast_to(value, np.shape(self.bench.reads_high))

    def _value(self, point: MeasuringPoint) -> Any:
        if point.place in PLACES:
            return self._powered(point).value
        return _UNPOWERED[point.place](self, point)

    def _powered(self, point: MeasuringPoint) -> Solved:
        load = self.meter.si.shunt_resistance if point.setting == AMPERES else self.meter.si.input_resistance
        return solve(self._power[point.position], point.place, load)

    def supply_open(self, point: MeasuringPoint) -> Any:
        """Nothing but the meter connected; a DC range shows nothing of an alternating voltage, an AC range all.

        Of a steady supply an AC range shows the ripple.
        """
        shared = self.meter.si.input_resistance / (self.meter.si.input_resistance + self.bench.source_resistance)
        bench = self.bench
        if bench.alternating == point.setting.startswith("AC"):
            return bench.supply * shared
        return 0.0 * bench.supply if bench.alternating else np.where(bench.supply != 0, bench.ripple, 0.0)

    def coil(self, point: MeasuringPoint) -> Any:
        """Across the coil."""
        where: Position = self.positions[point.position]
        left = 0.0 if self.bench.trigger is None else self.bench.trigger.leaves
        left = np.where(self.bench.supply > left, left, 0.0)
        return np.where(where.fed, self._rail(point.position) - where.opposing, left) if np.any(where.fed) else left

    def output(self, point: MeasuringPoint) -> Any:
        """The output that feeds the coil, against minus: the coil's other end is at minus, or at plus."""
        across = self.coil(point)
        return self._rail(point.position) - across if self.bench.trigger.from_plus else across

    def _rail(self, lamp: str) -> Any:
        """The supply under its load while the signal is set for `lamp`."""
        if lamp not in self._rails:
            self._rails[lamp] = solve(self._power[lamp], "supply", self.meter.si.input_resistance).value
        return self._rails[lamp]

    def hold(self, point: MeasuringPoint) -> Any:  # noqa: ARG002 all of these are asked alike
        """Time for which the relay stays as for red; nothing where it never gets there."""
        red, green = (self.positions[lamp].moved == (lamp == self.bench.coil.fed_lamp) for lamp in LAMPS)
        seconds = self.bench.trigger.timing.seconds(self.bench.supply)
        return np.where(red, np.where(green, seconds, np.inf), 0.0)


def _ohms(of: Callable[[Bench], Any]) -> Callable[[BenchReadings, MeasuringPoint], Any]:
    """A resistance by itself, the meter's leads included."""
    return lambda readings, _: of(readings.bench) + readings.meter.si.lead_resistance


def _pair_ohms(bench: Bench) -> Any:
    """Between the two leads at the mast's foot: LEDs do not conduct at an ohmmeter's small voltage."""
    bypassed = [1.0 / lamp.ohms for lamp in (bench.red, bench.green) if not lamp.members]
    return 1.0 / (1.0 / bench.short + 1.0 / (bench.mast + 1.0 / (sum(bypassed) + 1.0 / OPEN)))


def _diode(sign: int) -> Callable[[BenchReadings, MeasuringPoint], Any]:
    """The diode test: a voltage behind a resistance, into the pair from one side or the other."""

    def value(readings: BenchReadings, _: MeasuringPoint) -> Any:
        bench, meter = readings.bench, readings.meter
        volts, ohms = meter.si.diode_open_voltage, meter.diode_resistance + meter.si.lead_resistance
        share = 1.0 / (1.0 + ohms / bench.short)
        volts, inner = volts * share, ohms * share + bench.mast
        current = _into_pair(bench, sign, volts, inner)
        return volts - current * ohms * share

    return value


def _into_pair(bench: Bench, sign: int, volts: Any, ohms: Any) -> Any:
    """Current into the pair from a voltage and resistance; in volts' own direction."""
    lamps = (bench.red, bench.green)
    load = sum(1.0 / lamp.ohms for lamp in lamps if not lamp.members)
    forward = [lamp for lamp in lamps if lamp.members and lamp.sign == sign * bench.swapped]
    share = 1.0 / (1.0 + ohms * load)
    if len(forward) == 2:
        node, _ = parallel(forward, *np.broadcast_arrays(volts * share, ohms * share))
        return (volts - node) / ohms
    through = [string_current(volts * share, ohms * share + lamp.ohms, lamp.members) for lamp in forward]
    node = volts * share - ohms * share * (through[0] if through else 0.0)
    return (volts - node) / ohms


def _reed(closed: Callable[[Any], bool]) -> Callable[[BenchReadings, MeasuringPoint], Any]:
    """The reed's resistance, closed or not."""
    return _ohms(lambda bench: bench.trigger.reed_resistance if closed(bench.trigger) else OPEN)


_UNPOWERED: dict[str, Callable[[BenchReadings, MeasuringPoint], Any]] = {
    "supply open": BenchReadings.supply_open,
    "limit ohms": _ohms(lambda bench: bench.limit_resistance),
    "red resistor ohms": _ohms(lambda bench: bench.red.resistor),
    "green resistor ohms": _ohms(lambda bench: bench.green.resistor),
    "pair ohms": _ohms(_pair_ohms),
    "diode a to b": _diode(+1),
    "diode b to a": _diode(-1),
    "coil": BenchReadings.coil,
    "timer output": BenchReadings.output,
    "coil ohms": _ohms(lambda bench: bench.coil.resistance),
    "reed alone": _reed(lambda trigger: trigger.reed == "closed"),
    "reed with a magnet": _reed(lambda trigger: trigger.reed != "open"),
    "reed under the train": _reed(
        lambda trigger: trigger.reed == "closed" or (trigger.reed == "sound" and trigger.magnet_reaches)
    ),
    "hold": BenchReadings.hold,
    "pot ohms": _ohms(lambda bench: bench.trigger.timing.pot),
}

"""What should the meter read? Every measuring point of a sound signal, as a band."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from ...parts.meter import Meter, as_meter
from ...parts.source import Battery
from ..caution import Caution
from ..findings import FINE, LOOK, Finding
from . import draws as bench_draws
from .circuit import BenchCircuit, as_bench_circuit
from .measured import IF_QUESTIONED, read_measured
from .measuring_point import BENCH, MeasuringPoint, bench_cautions, measuring_points
from .reading import BenchReadings
from .reading_band import ReadingBand
from .state import STILL_GOOD, sound

_VARIED = ("supply", "source", "limit", "red drop", "green drop", "red resistor", "green resistor", "contact")
_RELAY = ("coil", "output", "reads high")
_TIMER = ("pot", "end resistor", "capacitance", "trip", "leakage", "input", "timing")


@dataclass(frozen=True)
class ExpectedReading(ReadingBand):
    """One reading of a sound signal, in SI: infinite where the meter shows OL.

    `least` and `most` span the parts' tolerances, every combination of their ends, and the meter's own error; `nominal`
    is for parts as printed and a meter that does not err.
    """

    def allows(self, value: float) -> bool:
        """Whether a reading in SI (infinite for OL) lies within the band, to the display's last place."""
        least, shown, most = (self.meter.displayed(self.point.setting, each) for each in (self.least, value, self.most))
        place = 1e-6 * float(self.meter.last_place(self.point.setting, value)) if math.isfinite(value) else 0.0
        return least - place <= shown <= most + place

    @property
    def text(self) -> str:
        """The band as it is read off the display: "1.62 to 2.54 V", "OL"."""
        return self.meter.shown_band(self.point.setting, self.least, self.most)


@dataclass(frozen=True)
class ExpectedReadings:
    """All readings of a sound signal, in the order in which to take them, and the cautions that go with them."""

    circuit: BenchCircuit
    meter: Meter
    readings: tuple[ExpectedReading, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[str, ...]

    def __getitem__(self, name: str) -> ExpectedReading:
        return next(each for each in self.readings if each.point.name == name)


def expected_readings(circuit: BenchCircuit, meter: Any = "hand meter") -> ExpectedReadings:
    """What a sound signal reads at every measuring point, for both positions.

    Parameters
    ----------
    meter: a Meter, or its name in `meters`

    Raises UnitError or UnknownNameError for a circuit or meter that is none.
    """
    return _expected(as_bench_circuit(circuit), as_meter(meter))


@lru_cache(maxsize=16)
def _expected(circuit: BenchCircuit, meter: Meter) -> ExpectedReadings:
    """Kept, since most edits of a plan leave its circuit as it was."""
    points = measuring_points(circuit)
    electric = _answers(circuit, meter, _VARIED + (_RELAY if circuit.relay else ("reads high",)))
    hold = _answers(circuit, meter, ("supply", *_TIMER)) if circuit.timer else electric
    apart = {"hold": hold, "pot ohms": hold, "supply AC": _answers(circuit, meter, ("supply", "ripple", "reads high"))}
    readings = [_band(point, meter, apart.get(point.name, electric).at(point)) for point in points.values()]
    wanted = {caution.about for point in points.values() for caution in point.cautions} | {BENCH}
    cautions = tuple(each for each in bench_cautions() if each.about in wanted)
    return ExpectedReadings(circuit, meter, tuple(readings), cautions, _assumptions(circuit, meter))


def _answers(circuit: BenchCircuit, meter: Meter, varied: tuple[str, ...]) -> BenchReadings:
    """The nominal sample first, then all corners of what varies."""
    return BenchReadings(sound(circuit, bench_draws.corners(varied)), meter)


def _band(point: MeasuringPoint, meter: Meter, values: Any) -> ExpectedReading:
    least, most = float(np.min(values)), float(np.max(values))
    down = float(meter.limit(point.setting, least)) if math.isfinite(least) else 0.0
    up = float(meter.limit(point.setting, most)) if math.isfinite(most) else 0.0
    low = least - down if point.signed else max(least - down, 0.0)
    high = most + up if abs(most + up) < meter.most(point.setting) else math.inf
    return ExpectedReading(point, meter, low, float(values[0]), high)


def _assumptions(circuit: BenchCircuit, meter: Meter) -> tuple[str, ...]:
    said = [
        "Every part lies within its printed tolerance, and the supply within its own.",
        f"The {meter.name} errs by no more than its manual allows, in the smallest range that holds the reading.",
        "The parts are at room temperature; a warm LED drops some hundredths of a volt less.",
    ]
    if isinstance(circuit.source, Battery):
        said.append(f"The battery may be used a little, down to {100 * STILL_GOOD:.0f} % of a fresh one's voltage.")
    if circuit.pair.series_diode is None:
        said.append("No LED is driven into reverse breakdown; that is not modelled.")
    if circuit.timer is not None:
        said.append("The timing capacitor is sound: it leaks no more than a tenth of what its data sheet allows.")
    return tuple(said)


def findings(result: ExpectedReadings, readings: Any) -> tuple[Finding, ...]:
    """A verdict on each reading that somebody took, by the names of the points: within its band, or not.

    A reading that cannot be is questioned, and not judged.
    """
    taken = read_measured(result.circuit, result.meter, readings)
    found = [Finding(LOOK, "reading", question, IF_QUESTIONED) for question in taken.questions]
    for name, value in taken.values.items():
        expected = result[name]
        shown = result.meter.shown(expected.point.setting, value)
        reason = f"{name} reads {shown}; {expected.text} is right."
        if expected.allows(value):
            found.append(Finding(FINE, name, reason))
        else:
            found.append(Finding(LOOK, name, reason, "Enter it with what you see, to learn what may be wrong."))
    return tuple(found)

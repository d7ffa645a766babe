"""What should the meter read? Every measuring point of a sound signal, as a band; and what somebody read, taken in."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from ...errors import SigcalcError
from ...parts.meter import AMPERES, OHMS, UNITS, WATCH, Meter, as_meter
from ...parts.source import Adapter, Battery
from ...parts.table import need_name
from ...units import QuantityKind, say
from ...units.plain import need_made, need_mapping
from ...units.reading import quoted
from ...units.record import Shown
from ..caution import Caution, cautions_about
from ..findings import FINE, LOOK, Finding
from ..tolerance import Band
from .circuit import STILL_GOOD, BenchCircuit, at_corners, sound
from .reading import BenchReadings, MeasuringPoint, measuring_points

OVER = ("ol", "over", "open", "1", "never", "infinite")
"""What is typed for a reading beyond the meter's range, in small letters; cheap meters show a lone 1."""
IF_QUESTIONED = "Check what you typed; if it is right, measure again."
_KINDS = {
    "V": QuantityKind("voltage", "V", -1e3, 1e3, "9 V"),
    "A": QuantityKind("current", "A", -10.0, 10.0, "10 mA"),
    "ohm": QuantityKind("resistance", "ohm", -1e9, 1e12, "470 ohm"),
    "s": QuantityKind("time", "s", -1e6, 1e6, "8 s"),
}
_MOST_RISE = 2.2
"""No fault makes a supply rise further, as a share: an unregulated adapter, and a meter that reads high."""


_OVERLOAD = 3.0
"""Times its rated current, that an adapter may give into a short for a moment. Common practice, no source."""


BENCH = "bench"
"""What cautions are about that hold for everything on the bench."""
_VARIED = ("supply", "source", "limit", "red drop", "green drop", "red resistor", "green resistor", "contact")
_RELAY = ("coil", "output", "reads high")
_TIMER = ("pot", "end resistor", "capacitance", "trip", "leakage", "input", "timing")


@dataclass(frozen=True)
class ReadingBand:
    """What a meter reads at one point, in SI: infinite where it shows OL; `nominal` is for parts as printed."""

    point: MeasuringPoint
    meter: Meter
    least: float
    nominal: float
    most: float

    @property
    def unit(self) -> str:
        """SI unit of the three figures."""
        return UNITS[self.point.setting]

    @property
    def text(self) -> str:
        """The band as it is read off the display: "1.62 to 2.54 V", "OL"."""
        return self.meter.shown_band(self.point.setting, self.least, self.most)

    @property
    def widened(self) -> tuple[float, float]:
        """Least and most with the meter's error taken off and added."""
        return tuple(
            end + sign * float(self.meter.limit(self.point.setting, end)) if math.isfinite(end) else end
            for end, sign in ((self.least, -1), (self.most, +1))
        )

    def allows(self, value: float) -> bool:
        """Whether a reading in SI (infinite for OL) lies within the band, to the display's last place."""
        least, shown, most = (self.meter.displayed(self.point.setting, each) for each in (self.least, value, self.most))
        place = 1e-6 * float(self.meter.last_place(self.point.setting, value)) if math.isfinite(value) else 0.0
        return least - place <= shown <= most + place


@dataclass(frozen=True, repr=False)
class ExpectedReadings(Shown):
    """All readings of a sound signal, in the order in which to take them, and the cautions that go with them.

    Each band spans the parts' tolerances, every combination of their ends, and the meter's own error; its nominal is
    for a meter that does not err.
    """

    circuit: BenchCircuit
    meter: Meter
    readings: tuple[ReadingBand, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[str, ...]

    def __repr__(self) -> str:
        return f"What the {self.meter.name} reads on {self.circuit.name}: {len(self.readings)} readings"

    def __getitem__(self, name: str) -> ReadingBand:
        return next(each for each in self.readings if each.point.name == name)

    def judged(self, readings: Any) -> tuple[Finding, ...]:
        """A verdict on each reading that somebody took, by the names of the points: within its band, or not.

        A reading that cannot be is questioned, and not judged.
        """
        taken = read_measured(self.circuit, self.meter, readings)
        found = [Finding(LOOK, "reading", question, IF_QUESTIONED) for question in taken.questions]
        for name, value in taken.values.items():
            right = self[name]
            reason = f"{name} reads {self.meter.shown(right.point.setting, value)}; {right.text} is right."
            if right.allows(value):
                found.append(Finding(FINE, name, reason))
            else:
                found.append(Finding(LOOK, name, reason, "Enter it with what you see, to learn what may be wrong."))
        return tuple(found)


def expected_readings(circuit: BenchCircuit, meter: Any = "hand meter") -> ExpectedReadings:
    """What a sound signal reads at every measuring point, for both positions.

    Parameters
    ----------
    meter: a Meter, or its name in `meters`

    Raises UnitError or UnknownNameError for a circuit or meter that is none.
    """
    return _expected(need_made(circuit, "circuit", BenchCircuit), as_meter(meter))


@lru_cache(maxsize=16)
def _expected(circuit: BenchCircuit, meter: Meter) -> ExpectedReadings:
    """Kept, since most edits of a plan leave its circuit as it was."""
    points = measuring_points(circuit)

    def over_ends(names: tuple[str, ...], chosen: Iterable[str]) -> dict[str, Band]:
        asked = [points[name] for name in chosen if name in points]
        return at_corners(names, lambda draws: BenchReadings(circuit, sound(circuit, draws), meter).at(asked)[0])

    apart = {("supply", "ripple", "reads high"): ["supply AC"]}
    if circuit.timer is not None:
        apart["supply", *_TIMER] = ["hold", "pot ohms"]
    electric = (*_VARIED, *(_RELAY if circuit.relay else ("reads high",)))
    apart[electric] = [name for name in points if not any(name in chosen for chosen in apart.values())]
    bands = {name: band for names, chosen in apart.items() for name, band in over_ends(names, chosen).items()}
    readings = tuple(_band(point, meter, bands[name]) for name, point in points.items())
    wanted = {caution.about for point in points.values() for caution in point.cautions} | {BENCH}
    return ExpectedReadings(circuit, meter, readings, cautions_about(*wanted), _assumptions(circuit, meter))


def _band(point: MeasuringPoint, meter: Meter, parts: Band) -> ReadingBand:
    """What the parts make of a reading, with the meter's own error on top."""
    low, high = ReadingBand(point, meter, *parts).widened
    low = low if point.signed else max(low, 0.0)
    return ReadingBand(point, meter, low, parts.nominal, high if abs(high) < meter.most(point.setting) else math.inf)


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


@dataclass(frozen=True)
class Measured:
    """The readings that can be used, in SI by point's name, infinite for OL; and a question about each other one."""

    values: Mapping[str, float]
    questions: tuple[str, ...]


def read_measured(circuit: BenchCircuit, meter: Meter, readings: Mapping[str, Any] | None) -> Measured:
    """Take in what was read: text or quantities by the names of measuring points, "OL" beyond the range.

    Raises UnknownNameError for a point that the circuit does not have.
    """
    points = measuring_points(circuit)
    values, questions = {}, []
    for name, given in need_mapping(readings, "readings", '{"pair, red": "1.9 V"}').items():
        need_name(name, "measuring point", points)
        try:
            values[name] = _read(circuit, meter, points[name], given)
        except SigcalcError as doubt:
            questions.append(str(doubt) if str(doubt).endswith((".", "?")) else f"{doubt}.")
    return Measured(values, tuple(questions))


def _read(circuit: BenchCircuit, meter: Meter, point: MeasuringPoint, given: Any) -> float:
    if isinstance(given, str) and given.strip().lower() in OVER:
        if not math.isfinite(meter.most(point.setting)):
            raise SigcalcError(
                f"{point.name}: {quoted(given)} in {point.setting} says only that the range is too small; "
                "turn to a higher one and read again"
            )
        return math.inf
    value = _KINDS[UNITS[point.setting]].read(given, point.name, scalar=True)
    doubt = _doubt(circuit, meter, point, value)
    if doubt:
        raise SigcalcError(f"{point.name}: {say(value, UNITS[point.setting])} {doubt}")
    return value if abs(value) < meter.most(point.setting) else math.inf


def _doubt(circuit: BenchCircuit, meter: Meter, point: MeasuringPoint, value: float) -> str:
    """What speaks against a reading; "" if nothing does."""
    if value < 0 and not point.signed:
        if point.setting == OHMS:
            return "cannot be a resistance: there is still a voltage on the part; unplug the supply and read again"
        return "cannot be below zero; read again"
    if point.setting in (OHMS, WATCH):
        return ""
    corners, limit = circuit.source.corners, meter.most(point.setting)
    if point.setting == AMPERES:
        adapter = isinstance(circuit.source, Adapter)
        most = _OVERLOAD * circuit.source.si.max_current if adapter else max(volts / ohms for volts, ohms in corners)
        doubt = f"is more than this supply gives ({say(most, 'A')} at most); look at the unit"
        return doubt if abs(value) > most else ""
    if math.isfinite(limit):
        doubt = f"is more than the {meter.name} shows in its {point.setting}: it says OL; which meter was it?"
        return "" if abs(value) < limit else doubt
    most = _MOST_RISE * max(volts for volts, _ in corners)
    doubt = f"is more than any fault makes of this supply ({say(most, 'V')} at most); look at decimal point and unit"
    return doubt if abs(value) > most else ""

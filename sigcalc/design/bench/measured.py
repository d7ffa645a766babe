"""What somebody read off a meter: taken if it can be, questioned in one sentence if it cannot."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ...errors import SigcalcError, UnknownNameError
from ...parts.meter import AMPERES, OHMS, UNITS, WATCH, Meter
from ...parts.source import Adapter
from ...parts.table import unknown
from ...units import QuantityKind, say
from ...units.plain import need_mapping
from ...units.reading import quoted
from .circuit import BenchCircuit
from .measuring_point import MeasuringPoint, measuring_points

OVER = ("ol", "over", "open", "1", "never", "infinite")
"""What stands for a reading beyond the meter's range, in small letters; cheap meters show a lone 1."""
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
        if not isinstance(name, str) or name not in points:
            raise UnknownNameError(unknown("measuring point", name, points))
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
        return "cannot be below nought; read again"
    if point.setting == AMPERES:
        return _too_much_current(circuit, value)
    if point.setting == WATCH:
        return ""
    if point.setting == OHMS or abs(value) < meter.most(point.setting) < math.inf:
        return ""
    most = _MOST_RISE * max(volts for volts, _ in circuit.source.corners)
    if math.isfinite(meter.most(point.setting)):
        return f"is more than the {meter.name} shows in its {point.setting}: it says OL; which meter was it?"
    if abs(value) > most:
        return (
            f"is more than any fault makes of this supply ({say(most, 'V')} at most); "
            "look at the decimal point and the unit"
        )
    return ""


def _too_much_current(circuit: BenchCircuit, value: float) -> str:
    if isinstance(circuit.source, Adapter):
        most = _OVERLOAD * circuit.source.si.max_current
    else:
        most = max(volts / ohms for volts, ohms in circuit.source.corners)
    if abs(value) > most:
        return f"is more than this supply gives ({say(most, 'A')} at most); look at the unit"
    return ""

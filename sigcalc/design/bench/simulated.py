"""A signal with a hidden fault and a meter to put to it: one sample of every part, drawn by a seed."""

from __future__ import annotations

from functools import cached_property
from typing import Any

import numpy as np

from ...errors import UnitError
from ...parts.meter import as_meter
from ...parts.table import need_name
from ...units.plain import need_made
from ...units.reading import quoted
from .circuit import LAMPS, BenchCircuit, drawn, need_seed
from .fault import Fault, faulty
from .predictions import usual_currents
from .reading import BenchReadings, MeasuringPoint, measuring_points
from .visual_check import SEEN, seen_shares


class SimulatedSignal:
    """One built signal with a fault in it.

    Parameters
    ----------
    circuit: what was meant to be built
    fault: what went wrong, from `faults_of`
    seed: draws the parts within their tolerances, how grave the fault is, and the errors of meter and eye
    meter: a Meter, or its name in `meters`

    Raises UnitError, UnknownNameError or RangeError for what is none.
    """

    def __init__(self, circuit: BenchCircuit, fault: Fault, seed: int, meter: Any = "hand meter"):
        self.circuit, self.fault, self.meter = need_made(circuit, "circuit", BenchCircuit), fault, as_meter(meter)
        if not isinstance(fault, Fault):
            raise UnitError(argument="fault", need="one of faults_of(circuit)", given=quoted(fault))
        seed = need_seed(seed)
        self._random = np.random.default_rng([seed, len(fault.name)])
        readings = BenchReadings(circuit, faulty(circuit, fault, drawn(1, seed)), self.meter)
        self._true, self._light = readings.at(self.points.values())

    @property
    def points(self) -> dict[str, MeasuringPoint]:
        """The measuring points, by name."""
        return measuring_points(self.circuit)

    def read(self, name: str) -> str:
        """What the meter shows at a point, to its last place; "OL" beyond its range. Read again, it may differ a bit.

        Raises UnknownNameError for a point that the circuit does not have.
        """
        point = self.points[need_name(name, "measuring point", self.points)]
        true = float(self._true[name][0])
        if not np.isfinite(true):
            return "OL"
        error = self._random.uniform(-1.0, 1.0) * float(self.meter.limit(point.setting, true))
        shown = true + error if point.signed else max(true + error, 0.0)
        return self.meter.shown(point.setting, shown)

    @cached_property
    def seen(self) -> dict[str, str]:
        """What the eye says in each position: one of `visual_check.SEEN`, as likely as the light makes it."""
        usual = usual_currents(self.circuit, self.meter)
        looks = {}
        for lamp in LAMPS:
            shares = seen_shares(*self._light[lamp], usual)[:, 0]
            looks[lamp] = SEEN[int(self._random.choice(len(SEEN), p=shares))]
        return looks

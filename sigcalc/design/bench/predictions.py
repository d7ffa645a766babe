"""What every fault of the catalogue lets one expect at every measuring point, and to the eye."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from hashlib import blake2b
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...parts.meter import Meter
from ...units.plain import need_plain, need_whole
from . import draws as bench_draws
from .circuit import LAMPS, BenchCircuit
from .draws import Draws, need_seed
from .fault import Fault, faults_of
from .fault_change import with_fault
from .measuring_point import MeasuringPoint, measuring_points
from .reading import BenchReadings
from .state import sound
from .visual_check import seen_shares

Floats = NDArray[np.float64]
DRAWS, SEED = 2000, 20260720
MOST_DRAWS = 5000
"""Of every fault: with two at once these fill 400 MB."""


@dataclass(frozen=True)
class Predictions:
    """Readings and looks of every fault over the same samples of parts.

    Attributes
    ----------
    faults, points: what the first axis of each array means, and the points by name
    values: by point's name, SI readings of shape (faults, samples); infinite where the meter shows OL
    seen: shares with which each of `visual_check.SEEN` is said, shape (faults, 2 positions, 6, samples)
    """

    circuit: BenchCircuit
    meter: Meter
    faults: tuple[Fault, ...]
    points: dict[str, MeasuringPoint]
    values: dict[str, Floats]
    seen: Floats


def predict(
    circuit: BenchCircuit, meter: Meter, pairs: bool = True, draws: int = DRAWS, seed: int = SEED
) -> Predictions:
    """The predictions over random samples; kept, so that asking again costs nothing.

    Raises UnitError or RangeError for `pairs`, `draws` or `seed` that are none.
    """
    return _checked(circuit, meter, pairs, draws, seed)[1]


def nominal_predictions(
    circuit: BenchCircuit, meter: Meter, pairs: bool = False, draws: int = DRAWS, seed: int = SEED
) -> Predictions:
    """The predictions for one sample with every part as printed, and faults of middling gravity.

    Worked out together with those of `predict` for the same arguments: one more sample costs next to nothing.
    """
    return _checked(circuit, meter, pairs, draws, seed)[0]


def _checked(circuit: BenchCircuit, meter: Meter, pairs: Any, draws: Any, seed: Any) -> tuple[Predictions, Predictions]:
    need_plain(bool, pairs, "pairs")
    draws = need_whole(draws, "draws", 1, MOST_DRAWS, DRAWS)
    return _kept(circuit, meter, bool(pairs), draws, need_seed(seed))


@lru_cache(maxsize=12)
def _kept(circuit: BenchCircuit, meter: Meter, pairs: bool, draws: int, seed: int) -> tuple[Predictions, Predictions]:
    printed, random = bench_draws.nominal(), bench_draws.drawn(draws, seed)
    both = {name: np.concatenate((printed[name], random[name])) for name in printed}
    found = predictions_over(circuit, meter, faults_of(circuit, pairs), both)
    return _of_samples(found, slice(None, 1)), _of_samples(found, slice(1, None))


def _of_samples(found: Predictions, samples: slice) -> Predictions:
    values = {name: each[:, samples].copy() for name, each in found.values.items()}
    return replace(found, values=values, seen=found.seen[..., samples].copy())


def predictions_over(circuit: BenchCircuit, meter: Meter, faults: tuple[Fault, ...], draws: Draws) -> Predictions:
    """The predictions of some faults over given samples."""
    points = measuring_points(circuit)
    whole = sound(circuit, draws)
    usual = usual_currents(circuit, meter)
    once = _Once()
    values: dict[str, list[Floats]] = {name: [] for name in points}
    seen = []
    for fault in faults:
        readings = BenchReadings(with_fault(whole, circuit, fault, draws), meter)
        for name, point in points.items():
            values[name].append(once(name, readings.depends_on(point), partial(readings.at, point)))
        seen.append([once(lamp, readings.depends_on(lamp), partial(_look, readings, lamp, usual)) for lamp in LAMPS])
    return Predictions(
        circuit, meter, faults, points, {name: np.stack(each) for name, each in values.items()}, np.array(seen)
    )


def _look(readings: BenchReadings, lamp: str, usual: tuple[float, float]) -> Floats:
    return seen_shares(*readings.light(lamp), usual)


class _Once:
    """Answers, each worked out once for all faults that leave alone what it depends on."""

    def __init__(self) -> None:
        self._answers: dict[Any, Any] = {}
        self._prints: dict[int, tuple[Any, bytes]] = {}

    def __call__(self, name: str, needed: Any, work_out: Callable[[], Any]) -> Any:
        key = name, self._print(needed)
        if key not in self._answers:
            self._answers[key] = work_out()
        return self._answers[key]

    def _print(self, value: Any) -> Any:
        """Something to tell contents by: nested tuples of prints, the same for the same contents."""
        if isinstance(value, tuple):
            return tuple(map(self._print, value))
        if not isinstance(value, np.ndarray):
            return value
        if id(value) not in self._prints:  # the array is kept, so that its id stays its own
            content = np.ascontiguousarray(value)
            digest = blake2b(content, digest_size=16, person=content.dtype.str.encode()).digest()
            self._prints[id(value)] = value, digest
        return value.shape, self._prints[id(value)][1]


def usual_currents(circuit: BenchCircuit, meter: Meter) -> tuple[float, float]:
    """The currents in A of both lamps of a sound circuit with every part as printed, each lit in its turn."""
    readings = BenchReadings(sound(circuit, bench_draws.nominal()), meter)
    red, green = (readings.light(lamp)[place] for place, lamp in enumerate(LAMPS))
    return float(red[0]), float(green[0])

"""Readings on scales on which a meter's doubt is the same everywhere, and faults that no reading tells apart."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from ...parts.meter import OHMS, WATCH, Meter
from .measuring_point import MeasuringPoint
from .predictions import Predictions

Floats = NDArray[np.float64]
_ALIKE = 0.95
"""Share of the samples of two faults that must agree for them to count as one class. Common practice, no source."""
_SEEN_ALIKE = 0.05
_SCALE = {OHMS: 1.0, WATCH: 1.0}  # ohm, s: below it the scale is even, above it logarithmic


def scaled(point: MeasuringPoint, value: Any) -> Any:
    """A reading on its own scale: even for volts and amperes, by ratios for ohms and seconds; OL stays infinite."""
    if point.setting in _SCALE:
        return np.log1p(np.maximum(value, 0.0) / _SCALE[point.setting])
    return value


def doubt(meter: Meter, point: MeasuringPoint, value: Any) -> Any:
    """The standard uncertainty of a reading in SI, on the point's own scale."""
    unsure = meter.uncertainty(point.setting, value)
    return unsure / (np.maximum(value, 0.0) + _SCALE[point.setting]) if point.setting in _SCALE else unsure


def classes(
    predictions: Predictions,
    points: Sequence[str],
    positions: Sequence[int] = (0, 1),
    among: Sequence[int] | None = None,
) -> tuple[int, ...]:
    """For each fault the number of its class: faults that nothing chosen can tell apart share one.

    Two faults are alike where, sample by sample, what they predict lies within the meter's limit of each other in
    nearly all samples, OL against OL, and what is seen does not differ. `points` are names of measuring points,
    `positions` the positions in which the signal is looked at, `among` the places of the faults, if not all.
    """
    places = np.arange(len(predictions.faults)) if among is None else np.asarray(among, int)
    first, second = (places[each] for each in np.triu_indices(len(places), 1))
    if len(positions):
        looks = predictions.seen[:, list(positions)].mean(axis=-1)
        alike = (np.abs(looks[first] - looks[second]) < _SEEN_ALIKE).all(axis=(1, 2))
        first, second = first[alike], second[alike]
    for name in points:
        alike = _alike(predictions, name, first, second)
        first, second = first[alike], second[alike]
    alike = coo_array((np.ones(len(first)), (first, second)), shape=(len(predictions.faults),) * 2)
    groups = connected_components(alike, directed=False)[1]
    return tuple(int(groups[place]) for place in places)


def _alike(predictions: Predictions, name: str, first: Any, second: Any) -> NDArray[np.bool_]:
    """Which of some pairs of faults one point cannot tell apart."""
    values, point = predictions.values[name], predictions.points[name]
    over = np.isinf(values)
    finite = np.where(over, 0.0, values)
    answer = np.empty(len(first), bool)
    for number, (one, other) in enumerate(zip(first, second, strict=True)):
        larger = np.maximum(np.abs(finite[one]), np.abs(finite[other]))
        near = np.abs(finite[one] - finite[other]) <= predictions.meter.limit(point.setting, larger)
        answer[number] = np.mean((over[one] == over[other]) & near) >= _ALIKE
    return answer
